// Runs the program, away from the page, so that typing never waits.
//
// Everything that it needs comes in its first message. It fetches nothing, and cannot.

import { loadPyodide } from "pyodide";
import createPyodideModule from "pyodide/pyodide.asm.mjs";

const PACKAGES = "/lib/python3.14/site-packages";

let answered = null;

// What the runtime asks for by name is handed to it from what the page has sent.
function serveFrom(held) {
  self.fetch = async (address) => {
    const name = String(address).split("/").pop();
    const bytes = held[name];
    if (!bytes) throw new TypeError(`${name} is not among the parts of this page`);
    const type = name.endsWith(".wasm") ? "application/wasm" : "application/octet-stream";
    return new Response(bytes, { headers: { "content-type": type } });
  };
}

// Writes the packages where Python looks for them: names and sizes come first, then the files.
function layOut(files, packed) {
  const size = new DataView(packed.buffer, packed.byteOffset).getUint32(0, true);
  let from = 4 + size;
  const folders = new Set();
  for (const [name, length] of JSON.parse(new TextDecoder().decode(packed.subarray(4, from)))) {
    const path = `${PACKAGES}/${name}`;
    const folder = path.slice(0, path.lastIndexOf("/"));
    if (!folders.has(folder)) files.mkdirTree(folder);
    folders.add(folder);
    files.writeFile(path, packed.subarray(from, from + length), { canOwn: true });
    from += length;
  }
}

async function start(held) {
  serveFrom({ "pyodide.asm.wasm": held.runtime, "python_stdlib.zip": held.library });
  const python = await loadPyodide({
    createPyodideModule,
    indexURL: "held:/",
    lockFileContents: { info: LOCK_INFO, packages: {} },
    packageBaseUrl: "held:/",
    env: { HOME: "/home", PYDANTIC_DISABLE_PLUGINS: "__all__" },
    stdout: () => {},
    stderr: () => {},
  });
  layOut(python.FS, held.packages);
  answered = python.runPython("from wattproof.browser.calls import answered; answered");
  answered("ready", "{}");
  return python;
}

let python = null;

self.onmessage = async ({ data }) => {
  const { id, call, given, held } = data;
  try {
    if (held) {
      python = await start(held);
      self.postMessage({ id, answer: { is: true } });
      return;
    }
    const answer = JSON.parse(answered(call, JSON.stringify(given)));
    self.postMessage({ id, answer, bytes: python._module.HEAPU8.length });
  } catch (error) {
    const lines = String(error.message ?? error).trim().split("\n");
    self.postMessage({ id, fault: lines[lines.length - 1].slice(0, 500) });
  }
};
