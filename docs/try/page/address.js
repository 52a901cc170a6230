// A plan in the address of the page, after the sign that browsers never send to a server.
//
// It may come from a stranger: what is unpacked is bounded while it is unpacked, and its form is
// looked at before anything is done with it.

const KEY = "plan=";
export const MOST_PACKED = 400_000;
export const MOST_UNPACKED = 2_000_000;
export const MOST_FILES = 40;

export class NotReadable extends Error {}

// The part of an address after `#` for a desk of files.
export async function packed({ plan, files }) {
  const stream = new Blob([JSON.stringify({ plan, files })])
    .stream()
    .pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return KEY + btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

// The desk that an address holds; null where it holds none. Throws NotReadable.
export async function unpacked(hash) {
  const text = hash.replace(/^#/, "");
  if (!text.startsWith(KEY)) return null;
  if (text.length > MOST_PACKED) throw new NotReadable("it is too long");
  let read;
  try {
    const plain = atob(text.slice(KEY.length).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(plain, (sign) => sign.charCodeAt(0));
    read = JSON.parse(await inflated(bytes));
  } catch (error) {
    if (error instanceof NotReadable) throw error;
    throw new NotReadable("it is not whole");
  }
  return asDesk(read);
}

async function inflated(bytes) {
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const reader = stream.getReader();
  const pieces = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > MOST_UNPACKED) {
      await reader.cancel();
      throw new NotReadable("what it holds is too large");
    }
    pieces.push(value);
  }
  return new TextDecoder("utf-8", { fatal: true }).decode(
    new Uint8Array(await new Blob(pieces).arrayBuffer()),
  );
}

function asDesk(read) {
  const files = read && typeof read === "object" && !Array.isArray(read) ? read.files : null;
  const isMap = files && typeof files === "object" && !Array.isArray(files);
  const names = isMap ? Object.keys(files) : [];
  if (!names.length || names.length > MOST_FILES) throw new NotReadable("it holds no plan");
  if (!names.every((name) => typeof files[name] === "string" && isName(name))) {
    throw new NotReadable("its files are not texts with plain names");
  }
  if (typeof read.plan !== "string" || !names.includes(read.plan)) {
    throw new NotReadable("it does not say which file is the plan");
  }
  return { plan: read.plan, files: Object.fromEntries(names.map((name) => [name, files[name]])) };
}

// A name that leads nowhere else, and that shows as what it is.
export function isName(name) {
  const parts = name.split("/");
  return (
    name.length <= 200 &&
    !/[\p{Cc}\p{Cf}\p{Co}\p{Cs}\p{Zl}\p{Zp}\\]/u.test(name) &&
    parts.every((part) => part && part !== "." && part !== ".." && part !== "__proto__")
  );
}
