// The program in its worker: one call after another, each bounded in time.
//
// What does not come back in time is stopped with its worker, and the next call gets a new one.

import { part } from "./parts.js";

export const SECONDS = 20;
const START_SECONDS = 120;

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

  async #started() {
    const names = ["runtime", "library", "packages"];
    const [script, ...bytes] = await Promise.all(["worker", ...names].map(part));
    const address = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
    this.worker = new Worker(address);
    this.starts += 1;
    const held = Object.fromEntries(names.map((name, number) => [name, bytes[number]]));
    try {
      await this.#sent({ held }, START_SECONDS, () => {
        throw new Stopped("The program did not start. Load the page again.");
      });
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
      const handed = message.held ? Object.values(message.held).map((each) => each.buffer) : [];
      worker.postMessage({ id, ...message }, handed);
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
