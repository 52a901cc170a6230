// The program in its worker: one call after another, each bounded in time.
//
// What does not come back in time is stopped with its worker, and the next call gets a new one.

import { part } from "./parts.js";

export const SECONDS = 20;
const START_SECONDS = 120;
const PARTS = ["runtime", "library", "packages"];

export class Stopped extends Error {}
export class Refused extends Error {}

export class Engine {
  constructor(seconds = SECONDS) {
    this.seconds = seconds;
    this.worker = null;
    this.last = Promise.resolve();
    this.count = 0;
    this.bytes = 0;
    this.starts = 0;
  }

  // The answer to a call. Throws Refused with the program's words, Stopped, or Error for a fault.
  call(name, given) {
    const answer = this.last.then(() => this.#called(name, given));
    this.last = answer.catch(() => {});
    return answer;
  }

  start() {
    return this.call("ready", {});
  }

  async #called(name, given) {
    if (!this.worker) await this.#started();
    const { answer, bytes } = await this.#sent({ call: name, given }, this.seconds, () => {
      throw new Stopped(
        `This took more than ${this.seconds} seconds and was stopped: the plan asks for more work ` +
          "than a page does. Make it smaller, or check it with the program on a computer.",
      );
    });
    this.bytes = bytes;
    if ("refused" in answer) throw new Refused(answer.refused);
    return answer.is;
  }

  // Starts a worker, which begins with the first part while the others are still unpacked.
  async #started() {
    const program = part("worker");
    const parts = PARTS.map(async (name) => ({ part: name, bytes: await part(name) }));
    const script = new Blob([await program], { type: "text/javascript" });
    const address = URL.createObjectURL(script);
    const worker = new Worker(address);
    this.worker = worker;
    this.starts += 1;
    const handed = parts.map(async (coming) => {
      const come = await coming;
      worker.postMessage(come, [come.bytes.buffer]);
    });
    try {
      const begun = this.#sent({}, START_SECONDS, () => {
        throw new Stopped("The program did not start. Load the page again.");
      });
      await Promise.all([begun, ...handed]);
    } catch (error) {
      worker.terminate();
      this.worker = null;
      throw error;
    } finally {
      URL.revokeObjectURL(address);
    }
  }

  async #sent(message, seconds, late) {
    const id = ++this.count;
    const worker = this.worker;
    let timer;
    const answer = await new Promise((resolve) => {
      timer = setTimeout(() => resolve(null), seconds * 1000);
      worker.onmessage = ({ data }) => data.id === id && resolve(data);
      worker.onerror = (event) => resolve({ fault: event.message || "the worker ended" });
      worker.postMessage({ id, ...message });
    });
    clearTimeout(timer);
    if (answer === null || answer.fault) {
      worker.terminate();
      this.worker = null;
    }
    if (answer === null) late();
    if (answer.fault) {
      throw new Error(`This is a fault of Wattproof, not of your plan: ${answer.fault}`);
    }
    return answer;
  }
}
