// Files from the disk of the person, and back to it.

import { isName } from "./address.js";

export const MOST_BYTES = 1_000_000;

// The desk that some opened files make: which of them is the plan, and where each stands beside it.
export async function opened(list) {
  const read = [];
  for (const file of list) {
    if (file.size > MOST_BYTES) throw new Error(`${file.name} is larger than 1,000,000 bytes.`);
    const bytes = new Uint8Array(await file.arrayBuffer());
    let text;
    try {
      text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    } catch {
      throw new Error(`${file.name} is not UTF-8 text: save it as UTF-8 and open it again.`);
    }
    if (!isName(file.name)) throw new Error("One of these files has a name that cannot be shown.");
    read.push({ name: file.name, text });
  }
  return arranged(read);
}

// A parts file goes where the plan looks for it, which may be a folder.
export function arranged(read) {
  const isPlan = ({ text }) => /^(setting|strings|batteries|wires)\s*:/m.test(text);
  const plan = read.find(isPlan) ?? read[0];
  const files = {};
  for (const { name, text } of read) {
    files[name === plan.name ? name : placeOf(name, plan.text)] = text;
  }
  return { plan: plan.name, files };
}

function placeOf(name, plan) {
  const own = name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  const found = plan.match(new RegExp(`(?:^|[\\s\\[,"'])((?:[\\w-]+/)+${own})(?=$|[\\s\\],"'#])`, "m"));
  return found && isName(found[1]) ? found[1] : name;
}

export function save(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name.split("/").pop();
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
