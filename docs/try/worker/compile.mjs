// Compiles Python in an archive to the byte code of the Python that the page runs, once, when it is
// built.
//
//     node compile.mjs RUNTIME SOURCE.zip PLACE OUT.zip
//
// PLACE is where the archive lies in the page: the paths that a traceback names begin with it.

import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [runtime, source, place, target] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);
const python = await loadPyodide();
python.FS.writeFile("/source.zip", new Uint8Array(readFileSync(source)));
python.globals.set("place", place);
python.runPython(`
import py_compile, zipfile
UNCHECKED = py_compile.PycInvalidationMode.UNCHECKED_HASH
def compiled(name, text):
    with open("/one.py", "wb") as file:
        file.write(text)
    shown = place + "/" + name
    py_compile.compile("/one.py", "/one.pyc", dfile=shown, doraise=True, invalidation_mode=UNCHECKED)
    with open("/one.pyc", "rb") as file:
        return file.read()

with zipfile.ZipFile("/source.zip") as source, zipfile.ZipFile("/made.zip", "w") as made:
    for name in sorted(name for name in source.namelist() if not name.endswith("/")):
        data = source.read(name)
        if name.endswith(".py"):
            name, data = name + "c", compiled(name, data)
        made.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data)
`);
writeFileSync(target, python.FS.readFile("/made.zip"));
