// Runs the program, away from the page, so that typing never waits.
//
// What it needs comes to it in messages, part by part, so that it begins with the first of them
// while the others are still unpacked. It fetches nothing, and cannot.

import { loadPyodide } from "pyodide";
import createPyodideModule from "pyodide/pyodide.asm.mjs";

const PACKAGES = "/lib/python3.14/site-packages";

const parts = new Map();

let answered = null;

// A part, as its bytes to wait for and what to call when they have come.
function part(name) {
  if (!parts.has(name)) {
    let came;
    const bytes = new Promise((resolve) => (came = resolve));
    parts.set(name, { bytes, came });
  }
  return parts.get(name);
}

// What the runtime asks for by name is handed to it from what the page has sent.
function serve(named) {
  self.fetch = async (address) => {
    const name = String(address).split("/").pop();
    if (!(name in named)) throw new TypeError(`${name} is not among the parts of this page`);
    const type = name.endsWith(".wasm") ? "application/wasm" : "application/octet-stream";
    return new Response(await part(named[name]).bytes, { headers: { "content-type": type } });
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

async function start() {
  serve({ "pyodide.asm.wasm": "runtime", "python_stdlib.zip": "library" });
  const python = await loadPyodide({
    createPyodideModule,
    indexURL: "held:/",
    lockFileContents: { info: LOCK_INFO, packages: {} },
    packageBaseUrl: "held:/",
    env: { HOME: "/home", PYDANTIC_DISABLE_PLUGINS: "__all__" },
    stdout: () => {},
    stderr: () => {},
  });
  layOut(python.FS, await part("packages").bytes);
  parts.clear();
  answered = python.runPython("from wattproof.browser.calls import answered; answered");
  answered("ready", "{}");
  return python;
}

let python = null;

self.onmessage = async ({ data }) => {
  const { id, call, given } = data;
  if (data.part) {
    part(data.part).came(data.bytes);
    return;
  }
  try {
    if (!python) {
      python = await start();
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
