// The plan of last time, kept in the browser of this device, so that a closed page loses nothing.

const NAME = "wattproof-last";
const MOST = 2_000_000;

export function keepLast({ plan, files }) {
  try {
    const text = JSON.stringify({ plan, files });
    if (text.length <= MOST) localStorage.setItem(NAME, text);
  } catch {
    // a browser that keeps nothing is no fault: the plan can be saved as a file
  }
}

// The desk of last time; null where none is kept.
export function readLast() {
  try {
    const read = JSON.parse(localStorage.getItem(NAME));
    return typeof read.files[read.plan] === "string" ? read : null;
  } catch {
    return null;
  }
}

export function forgetLast() {
  try {
    localStorage.removeItem(NAME);
  } catch {
    // nothing was kept
  }
}
