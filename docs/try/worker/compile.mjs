// Compiles the packages to the byte code of the Python that the page runs, once, when it is built.
//
//     node compile.mjs RUNTIME PACKAGES.zip OUT.zip

import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [runtime, source, target] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);
const python = await loadPyodide();
python.unpackArchive(new Uint8Array(readFileSync(source)), "zip", { extractDir: "/packages" });
python.runPython(`
import os, py_compile, zipfile
UNCHECKED = py_compile.PycInvalidationMode.UNCHECKED_HASH
with zipfile.ZipFile("/made.zip", "w") as made:
    for folder, folders, names in os.walk("/packages"):
        folders.sort()
        for name in sorted(names):
            path = os.path.join(folder, name)
            kept = os.path.relpath(path, "/packages")
            if name.endswith(".py"):
                shown = "/lib/python3.14/site-packages/" + kept
                py_compile.compile(path, "/one.pyc", dfile=shown, doraise=True, invalidation_mode=UNCHECKED)
                path, kept = "/one.pyc", kept + "c"
            with open(path, "rb") as file:
                made.writestr(zipfile.ZipInfo(kept, (1980, 1, 1, 0, 0, 0)), file.read())
`);
writeFileSync(target, python.FS.readFile("/made.zip"));
