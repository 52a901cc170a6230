"""Builds the page that holds the whole linter: `python docs/try/build.py OUT`.

OUT becomes a folder of static files that opens from any server, and from a disk as well. It needs
Python with pip, and node with npm. All that is fetched is pinned with its hash, in
package-lock.json and requirements.txt beside this file; the page itself fetches nothing but its own
files. What was fetched and compiled is kept in a folder for the next time: that of the variable
WATTPROOF_PAGE_CACHE, else one in the user's cache.
"""

from __future__ import annotations

import base64
import gzip
import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
PLATFORMS = ("pyemscripten_2026_0_wasm32", "manylinux_2_28_x86_64", "manylinux2014_x86_64")
PYTHON = "3.14"
LEFT_OUT = (".so", ".c", ".pyi", ".pyx", "/py.typed")
"""Endings of files that are not needed to run; of the packages for WebAssembly `.so` is."""
BUILDERS = ("esbuild", "@esbuild", "@types", "ws")
PACKAGES = "/lib/python3.14/site-packages"
"""The folder of packages in the page's Python, as its worker names it too."""
OLD = (1980, 1, 1, 0, 0, 0)


def main(out: str) -> None:
    """Build all of it into a folder, which is replaced."""
    modules = fetched_modules()
    wheels = fetched_wheels()
    target = Path(out).resolve()
    made = target.with_name(f".{target.name}.new")
    shutil.rmtree(made, ignore_errors=True)
    (made / "parts").mkdir(parents=True)
    for name, data in parts(modules, wheels):
        (made / "parts" / f"{name}.js").write_text(packed(name, data), encoding="ascii")
    bundle(modules, HERE / "page" / "main.js", made / "page.js")
    for name in ("index.html", "style.css"):
        shutil.copyfile(HERE / name, made / name)
    (made / "NOTICE.txt").write_text(notice(modules, wheels), encoding="utf-8")
    write_service_worker(made)
    shutil.rmtree(target, ignore_errors=True)
    made.rename(target)
    size = sum(file.stat().st_size for file in target.rglob("*") if file.is_file())
    print(f"built in {out}: {size / 1e6:.1f} MB; open {Path(out) / 'index.html'}")


def cache() -> Path:
    """Where what was fetched is kept."""
    told = os.environ.get("WATTPROOF_PAGE_CACHE")
    base = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    folder = Path(told) if told else Path(base) / "wattproof-page"
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def kept(name: str, *depends: bytes) -> tuple[Path, bool]:
    """A place in the cache for what follows from some bytes, and whether it is there already."""
    digest = hashlib.sha256(b"\0".join(depends)).hexdigest()[:16]
    place = cache() / f"{name}-{digest}"
    return place, place.exists()


def fetched_modules() -> Path:
    """The folder of the npm packages."""
    locked = [(HERE / name).read_bytes() for name in ("package.json", "package-lock.json")]
    place, there = kept("npm", sys.platform.encode(), *locked)
    if not there:
        with tempfile.TemporaryDirectory(dir=cache()) as folder:
            made = Path(folder) / "npm"
            made.mkdir()
            for name in ("package.json", "package-lock.json"):
                shutil.copyfile(HERE / name, made / name)
            quiet = ("--ignore-scripts", "--no-audit", "--no-fund", "--silent")
            run("npm", "ci", *quiet, cwd=str(made))
            _keep(made, place)
    return place / "node_modules"


def fetched_wheels() -> Path:
    """The folder of the Python packages."""
    place, there = kept("wheels", (HERE / "requirements.txt").read_bytes())
    if not there:
        with tempfile.TemporaryDirectory(dir=cache()) as folder:
            wanted = [f"--platform={name}" for name in PLATFORMS]
            wanted += [f"--python-version={PYTHON}", "--implementation=cp", "--abi=cp314"]
            wanted += ["--no-deps", "--only-binary=:all:", "--require-hashes", "--quiet"]
            wanted += [
                "--dest",
                f"{folder}/wheels",
                "--requirement",
                str(HERE / "requirements.txt"),
            ]
            run(sys.executable, "-m", "pip", "download", *wanted, cwd=folder)
            _keep(Path(folder) / "wheels", place)
    return place


def _keep(made: Path, place: Path) -> None:
    """Move a folder to its place, unless another build was faster."""
    try:
        made.rename(place)
    except OSError:
        if not place.exists():
            raise


def parts(modules: Path, wheels: Path) -> Iterator[tuple[str, bytes]]:
    """What the page loads beside itself, by name."""
    runtime = modules / "pyodide"
    yield "runtime", (runtime / "pyodide.asm.wasm").read_bytes()
    library = (runtime / "python_stdlib.zip").read_bytes()
    yield "library", compiled(modules, library, "/lib/python314.zip")
    yield "packages", laid_out(compiled(modules, archived(packages(wheels)), PACKAGES))
    yield "worker", bundled_worker(modules)
    yield "schema", (ROOT / "schemas" / "plan.schema.json").read_bytes()
    yield "examples", json.dumps(examples(), ensure_ascii=False).encode()


def packages(wheels: Path) -> dict[str, bytes]:
    """All files of the Python packages, and of the program, by path."""
    found: dict[str, bytes] = {}
    for wheel in sorted(wheels.glob("*.whl")):
        native = "wasm32" in wheel.name
        with zipfile.ZipFile(wheel) as opened:
            for name in opened.namelist():
                needed = name.endswith("/METADATA") or ".dist-info/" not in name
                left_out = name.endswith(LEFT_OUT) and not (native and name.endswith(".so"))
                if needed and not left_out and not name.endswith("/"):
                    found[name] = opened.read(name)
    for base, package in ((ROOT / "linter", "wattproof"), (ROOT / "rules", "wattproof_rules")):
        for file in sorted((base / package).rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts and file.name != "py.typed":
                found[file.relative_to(base).as_posix()] = file.read_bytes()
    found.update(described())
    return found


def described() -> Iterator[tuple[str, bytes]]:
    """What an installed program says of itself: by it the rules are found."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    name, version = project["name"], project["version"]
    folder = f"{name}-{version}.dist-info"
    said = f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n"
    yield f"{folder}/METADATA", said.encode()
    points = "".join(
        f"[{group}]\n" + "".join(f"{key} = {value}\n" for key, value in each.items())
        for group, each in project["entry-points"].items()
    )
    yield f"{folder}/entry_points.txt", points.encode()


def archived(files: dict[str, bytes]) -> bytes:
    """Files as one archive, not compressed: the part as a whole is."""
    with tempfile.TemporaryFile() as file:
        with zipfile.ZipFile(file, "w") as archive:
            for name, data in sorted(files.items()):
                archive.writestr(zipfile.ZipInfo(name, OLD), data)
        file.seek(0)
        return file.read()


def compiled(modules: Path, archive: bytes, place: str) -> bytes:
    """The same archive with byte code in the place of Python, which starts in a third of the time.

    place: where it lies in the page.
    """
    script = HERE / "worker" / "compile.mjs"
    locked = (HERE / "package-lock.json").read_bytes()
    cached, there = kept("compiled", archive, place.encode(), script.read_bytes(), locked)
    if not there:
        with tempfile.TemporaryDirectory(dir=cache()) as folder:
            source, made = Path(folder) / "source.zip", Path(folder) / "compiled.zip"
            source.write_bytes(archive)
            runtime = str(modules / "pyodide")
            run("node", str(script), runtime, str(source), place, str(made), cwd=folder)
            made.rename(cached)
    return cached.read_bytes()


def laid_out(archive: bytes) -> bytes:
    """The files of an archive as the worker lays them out, without a Python that unpacks them.

    First the length of a list in four bytes, the lowest first; then the list, as JSON, of names and
    sizes; then the files.
    """
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        files = [(name, opened.read(name)) for name in opened.namelist()]
    listed = json.dumps([(name, len(data)) for name, data in files]).encode()
    return b"".join([len(listed).to_bytes(4, "little"), listed, *(data for _, data in files)])


def bundled_worker(modules: Path) -> bytes:
    """The worker with the runtime in one script, since from a disk no second one can be loaded."""
    lock = json.loads((modules / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory(dir=cache()) as folder:
        made = Path(folder) / "worker.js"
        info = json.dumps(lock["info"])
        here = json.dumps("held:/worker.js")
        defined = (f"--define:LOCK_INFO={info}", f"--define:import.meta.url={here}")
        bundle(modules, HERE / "worker" / "worker.js", made, "--external:node:*", *defined)
        return made.read_bytes()


def bundle(modules: Path, entry: Path, made: Path, *more: str) -> None:
    """One classic script of a script and all that it imports."""
    with tempfile.TemporaryDirectory(dir=cache()) as folder:
        shutil.copytree(entry.parent, Path(folder) / entry.parent.name)
        os.symlink(modules, Path(folder) / "node_modules")
        script = os.path.join(entry.parent.name, entry.name)
        wanted = ["--bundle", "--minify", "--format=iife", "--charset=utf8", "--log-level=error"]
        program = Path(folder) / "node_modules" / ".bin" / "esbuild"
        run(str(program), script, *wanted, f"--outfile={made}", *more, cwd=folder)


def examples() -> list[dict[str, object]]:
    """The examples: name of the plan, and its files by name."""
    return [
        {"plan": plan, "files": dict(_with_parts(plan))}
        for folder in ("", "faulty/")
        for file in sorted((ROOT / "examples" / folder).glob("*.yaml"))
        for plan in [f"examples/{folder}{file.name}"]
    ]


def _with_parts(plan: str) -> Iterator[tuple[str, str]]:
    text = (ROOT / plan).read_text(encoding="utf-8")
    yield plan, text
    for file in sorted((ROOT / "examples").glob("**/parts/*.yaml")):
        if f"parts/{file.name}" in text:
            yield file.relative_to(ROOT).as_posix(), file.read_text(encoding="utf-8")


def packed(name: str, data: bytes) -> str:
    """A part as a script, compressed: a script is all that a page may load from a disk."""
    text = base64.b64encode(gzip.compress(data, 9, mtime=0)).decode("ascii")
    return f'wattproofPart("{name}","{text}");\n'


def write_service_worker(made: Path) -> None:
    """The service worker, told all files and what version of them they are."""
    files = sorted(f.relative_to(made).as_posix() for f in made.rglob("*") if f.is_file())
    digest = hashlib.sha256()
    for name in files:
        digest.update(name.encode() + (made / name).read_bytes())
    text = (HERE / "service-worker.js").read_text(encoding="utf-8")
    text = text.replace('"FILES"', json.dumps(["./", *files]))
    text = text.replace("VERSION", digest.hexdigest()[:16])
    (made / "service-worker.js").write_text(text, encoding="utf-8")


def notice(modules: Path, wheels: Path) -> str:
    """What others wrote that is in here, with versions, hashes and licences."""
    lines = [
        "Wattproof, under the licence at the end of this file, with parts that others wrote:",
        "",
        *_python_notices(wheels),
        *_module_notices(modules),
        "In pyodide: CPython and its standard library (Python Software Foundation License 2),",
        "compiled with Emscripten (MIT License).",
        "",
        "=" * 72,
        "Wattproof",
        "",
        (ROOT / "LICENSE").read_text(encoding="utf-8"),
    ]
    for name, text in (*_wheel_licences(wheels), *_module_licences(modules)):
        lines += ["=" * 72, name, "", text]
    return "\n".join(lines)


def _python_notices(wheels: Path) -> Iterator[str]:
    for wheel in sorted(wheels.glob("*.whl")):
        with zipfile.ZipFile(wheel) as opened:
            [name] = [n for n in opened.namelist() if n.endswith(".dist-info/METADATA")]
            said = _headers(opened.read(name).decode("utf-8"))
        licence = said.get("License-Expression") or said.get("License") or said.get("Classifier")
        digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
        yield f"{said['Name']} {said['Version']} (Python package)"
        yield f"  licence: {licence or 'in its text below'}"
        yield f"  sha256: {digest}"
        yield ""


def _headers(text: str) -> dict[str, str]:
    """The first lines of a package's description; of classifiers the one on its licence."""
    found: dict[str, str] = {}
    for line in text.split("\n\n", 1)[0].splitlines():
        key, _, value = line.partition(": ")
        if key == "Classifier" and not value.startswith("License ::"):
            continue
        found.setdefault(key, value.strip())
    return found


def _shipped(modules: Path) -> Iterator[tuple[str, dict[str, str]]]:
    """The npm packages that end in the page: not what builds it, nor what node alone needs."""
    lock = json.loads((HERE / "package-lock.json").read_text(encoding="utf-8"))
    for path, entry in sorted(lock["packages"].items()):
        name = path.removeprefix("node_modules/")
        if name and (modules / name).is_dir() and not name.startswith(BUILDERS):
            yield name, entry


def _module_notices(modules: Path) -> Iterator[str]:
    for name, entry in _shipped(modules):
        said = json.loads((modules / name / "package.json").read_text(encoding="utf-8"))
        yield f"{name} {entry['version']} (npm package)"
        yield f"  licence: {said.get('license', entry.get('license', 'in its text below'))}"
        home = said.get("homepage") or said.get("repository", {})
        yield f"  source: {home if isinstance(home, str) else home.get('url', '')}"
        yield f"  integrity: {entry['integrity']}"
        yield ""


def _wheel_licences(wheels: Path) -> Iterator[tuple[str, str]]:
    for wheel in sorted(wheels.glob("*.whl")):
        with zipfile.ZipFile(wheel) as opened:
            for name in sorted(opened.namelist()):
                if ".dist-info/" in name and _is_licence(name):
                    yield wheel.name.split("-")[0], opened.read(name).decode("utf-8", "replace")


def _module_licences(modules: Path) -> Iterator[tuple[str, str]]:
    for name, _ in _shipped(modules):
        for file in sorted((modules / name).iterdir()):
            if _is_licence(file.name):
                yield name, file.read_text(encoding="utf-8", errors="replace")


def _is_licence(name: str) -> bool:
    return name.rpartition("/")[2].upper().startswith(("LICENSE", "LICENCE", "COPYING", "NOTICE"))


def run(*command: str, cwd: str) -> None:
    """Run a program. Ends this one, with what to do, where it is missing or fails."""
    try:
        subprocess.run(command, cwd=cwd, check=True)
    except FileNotFoundError:
        name = os.path.basename(command[0])
        sys.exit(f"{name} is missing: install it (on Debian and Ubuntu: apt-get install npm)")
    except subprocess.CalledProcessError as failed:
        sys.exit(f"{os.path.basename(command[0])} failed with status {failed.returncode}")


def _arguments(given: Iterable[str]) -> str:
    [out] = given
    return out


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("python docs/try/build.py OUT: name the folder that becomes the page")
    main(_arguments(sys.argv[1:]))
