"""Put small mistakes into the code, one at a time, and see whether a test finds each of them.

    python tests/mutations/of_code.py map MAP.json [TESTS...]
    python tests/mutations/of_code.py run MAP.json --sample 200 --seed 1 [--kind boundary] [FILE...]

The first writes down which tests run through which statements: all of them in some minutes, or
those named into a map that exists. The second draws mistakes (`code_changes.py`) in the rooms below
and runs, for each, the tests that go through its statement until one fails: first those that found
most in its file, then the quickest. Each is tried in a fork of one process that has read everything
already; a mistake is put into the functions as they are in memory, so no file is written. It prints
those that no test found; `survivors.yaml` holds those that may stay, each with its reason: they
are not tried, and count as not found. The exit status is 1 where there is one more.

A statement that no test runs through counts as not found.
"""

from __future__ import annotations

import argparse
import ast
import builtins
import functools
import gc
import importlib.machinery
import json
import os
import random
import signal
import sys
import time
import types
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest
from _pytest.runner import runtestprotocol
from ruamel.yaml import YAML

TESTS: Final = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS))
os.environ.setdefault("WATTPROOF_WHOLE", "1")  # whatever the repository keeps may find a mistake
ROOT: Final = TESTS.parent / "linter" / "wattproof"

from mutations.code_changes import Change, changed, changes_of  # noqa: E402

ROOMS: Final = ("physics", "study/protection", "study/wiring", "study/array", "codes")
LOOKED_AT: Final = (
    "physics",
    "codes",
    "circuit",
    "study",
    "rules",
    "external",
    "test_sound_plans.py",
    "test_examples.py",
    "test_every_working.py",
    "test_figures_of_sources.py",
    "test_what_workings_name.py",
    "mutations/test_mutations.py",
    "mutations/test_part_mutations.py",
    "mutations/test_plan_mutations.py",
)
"""Tests that find mistakes in numbers and verdicts; those of pages and pictures find words."""
OF_CONSTANTS: Final = "tests/test_figures_of_sources.py"
"""Tests of the constants of files, which run through no statement of theirs."""
SLOW: Final = 20.0
"""Tests that take longer alone are left out (s)."""
MOST: Final = 60.0
"""What the tests of one mistake may take together (s); beyond, the quickest alone are run."""
NOT_PUT_IN: Final = "not put in"
DONE: Final = "none of them failed"
SURVIVORS: Final = Path(__file__).with_name("survivors.yaml")


class Key(NamedTuple):
    """What tells a mistake, whichever line it has today."""

    file: str
    scope: str
    before: str
    after: str


def key_of(path: Path, change: Change) -> Key:
    return Key(name_of(path), change.scope, change.before, change.after)


def files() -> Iterator[Path]:
    """The files of the rooms."""
    for room in ROOMS:
        yield from sorted((ROOT / room).rglob("*.py"))


@functools.cache
def text_of(path: Path) -> str:
    """The text of a file as it was when it was read first: it may be changed while this runs."""
    return path.read_text()


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def known() -> dict[Key, str]:
    """The mistakes that may stay, each with its reason; without texts all of a function."""
    return {
        Key(e["file"], e["in"], str(e.get("before", "")), str(e.get("after", ""))): e["reason"]
        for e in YAML(typ="safe").load(SURVIVORS.read_text())
    }


def reason_of(path: Path, change: Change, reasons: dict[Key, str]) -> str | None:
    """Why a mistake may stay; None where it may not."""
    key = key_of(path, change)
    return reasons.get(key) or reasons.get(key._replace(before="", after=""))


# Which tests run through what.


class _Marked(ast.NodeTransformer):
    """Puts a mark before every statement of every function."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.above: list[str] = []
        self.first = 0

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        self.above.append(node.name)
        self.generic_visit(node)
        self.above.pop()
        return node

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        outermost = not self.first
        if outermost:
            self.above.append(node.name)
            self.first = node.lineno
        self.generic_visit(node)
        node.body = self._marked(node.body)
        if outermost:
            self.above.pop()
            self.first = 0
        return node

    def generic_visit(self, node: ast.AST) -> ast.AST:
        super().generic_visit(node)
        for name in ("body", "orelse", "finalbody"):
            inner = getattr(node, name, None)
            if isinstance(inner, list) and isinstance(
                node, ast.If | ast.For | ast.While | ast.With | ast.Try | ast.ExceptHandler
            ):
                setattr(node, name, self._marked(inner))
        return node

    def _marked(self, body: list[ast.stmt]) -> list[ast.stmt]:
        found: list[ast.stmt] = []
        for statement in body:
            where = place_of(self.file, ".".join(self.above), statement.lineno - self.first)
            call = ast.Call(ast.Name("__hit__", ast.Load()), [ast.Constant(where)], [])
            mark = ast.copy_location(ast.Expr(call), statement)
            found += [mark, statement]
        return found


def place_of(file: str, scope: str, line: int) -> str:
    """What tells a statement: its function, and how many lines below the head of that it is.

    A map stays good for all functions that nobody changes.
    """
    return f"{file}:{scope}:{line}"


def _marking() -> set[str]:
    """From now on, files of the rooms are read with marks; what they mark."""
    hits: set[str] = set()
    builtins.__hit__ = hits.add  # type: ignore[attr-defined]
    own = {str(path): name_of(path) for path in files()}
    read = importlib.machinery.SourceFileLoader.get_code

    def get_code(self: Any, fullname: str) -> Any:
        path = self.get_filename(fullname)
        if path not in own:
            return read(self, fullname)
        tree = _Marked(own[path]).visit(ast.parse(Path(path).read_text()))
        return compile(ast.fix_missing_locations(tree), path, "exec", dont_inherit=True)

    importlib.machinery.SourceFileLoader.get_code = get_code  # type: ignore[method-assign]
    return hits


class Mapping:
    """Runs every test once and writes down what it ran through, and how long it took (s).

    What a map knows of the tests of other files stays in it.
    """

    def __init__(self, hits: set[str], into: Path) -> None:
        self.hits = hits
        self.into = into
        self.found: dict[str, dict[str, Any]] = {}

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.hits.clear()
        start = time.perf_counter()
        yield
        entry = self.found.setdefault(item.nodeid, {"failed": False})
        entry["took"] = time.perf_counter() - start
        entry["through"] = sorted(self.hits)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if not report.passed:
            self.found.setdefault(report.nodeid, {})["failed"] = True

    def pytest_sessionfinish(self) -> None:
        kept = {
            name: entry
            for name, entry in self.found.items()
            if not entry["failed"] and entry["through"] and entry["took"] <= SLOW
        }
        here = {name.partition("::")[0] for name in self.found}
        old = read_map(self.into) if self.into.exists() else {}
        others = {n: entry for n, entry in old.items() if n.partition("::")[0] not in here}
        write_map(self.into, {**others, **kept})


def write_map(path: Path, tests: dict[str, dict[str, Any]]) -> None:
    """Each place is written once, and tests by its number."""
    number: dict[str, int] = {}
    found = {
        name: {
            "took": round(entry["took"], 4),
            "through": [number.setdefault(place, len(number)) for place in entry["through"]],
        }
        for name, entry in tests.items()
    }
    path.write_text(json.dumps({"places": list(number), "tests": found}))


def read_map(path: Path) -> dict[str, dict[str, Any]]:
    """Of each test how long it took (s) and the places that it ran through."""
    whole = json.loads(path.read_text())
    places = whole["places"]
    return {
        name: {"took": entry["took"], "through": [places[k] for k in entry["through"]]}
        for name, entry in whole["tests"].items()
    }


# Mistakes, one fork each.


class Log:
    """Mistakes that were found before, each with the test that did: they are not tried again.

    A file for the time of writing tests. Where code changes, what was found there stands for
    nothing: a sample that counts is drawn without. new: neither are those that none found.
    """

    def __init__(self, path: Path | None, *, new: bool = False) -> None:
        self.path = path
        lines = path.read_text().splitlines() if path is not None and path.exists() else []
        entries = [json.loads(line) for line in lines]
        self.found = {self._key(e): e for e in entries if e["by"] or new}

    def has(self, path: Path, change: Change) -> bool:
        return self._key(self._entry(path, change)) in self.found

    def write(self, path: Path, change: Change, by: str = "") -> None:
        if self.path is not None:
            with self.path.open("a") as file:
                file.write(json.dumps({**self._entry(path, change), "by": by}) + "\n")

    @staticmethod
    def _entry(path: Path, change: Change) -> dict[str, Any]:
        return {
            "file": name_of(path),
            "in": change.scope,
            "below": change.line - change.head,
            "before": change.before,
            "after": change.after,
        }

    @staticmethod
    def _key(entry: dict[str, Any]) -> tuple[Any, ...]:
        return tuple(value for name, value in entry.items() if name != "by")


class Trying:
    """Tries mistakes when pytest has collected all tests."""

    def __init__(
        self, chosen: list[tuple[Path, Change]], through: dict[str, Any], most: float, log: Log
    ) -> None:
        self.chosen = chosen
        self.most = most
        self.log = log
        self.survived: list[tuple[Path, Change, str]] = []
        self.tests_of: dict[str, list[str]] = {}
        self.took = {name: entry["took"] for name, entry in through.items()}
        self.finds: Counter[tuple[str, str]] = Counter()
        self.sound: dict[str, bool] = {}
        for name in sorted(through, key=lambda n: (self.took[n], n)):
            for place in through[name]["through"]:
                self.tests_of.setdefault(place, []).append(name)
        for entry in log.found.values():
            if entry["by"]:
                self._count(entry["file"], entry["in"], entry["by"])

    def _count(self, file: str, scope: str, test: str) -> None:
        """A test that found one mistake may find another in that function, or file.

        So may those beside it.
        """
        self.finds[f"{file}:{scope}:", test] += 1
        self.finds[f"{file}:", test] += 1
        self.finds[f"{file}:", test.partition("::")[0]] += 1

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        gc.unfreeze()  # what is frozen after the collection of tests is not looked through
        self.memory = _Memory()
        gc.freeze()
        reasons = known()
        for number, (path, change) in enumerate(self.chosen, start=1):
            start = time.perf_counter()
            if self.log.has(path, change):
                continue
            own = self._tests(path, change)
            is_known = reason_of(path, change, reasons) is not None
            outcome = "not tried" if is_known else self._outcome(path, change, own)
            if outcome != "found":
                self.log.write(path, change)
                self.survived.append((path, change, outcome))
            sys.__stderr__.write(
                f"{number}/{len(self.chosen)} {name_of(path)}:{change.line} {change.kind}: "
                f"{outcome} ({len(own)} tests, {time.perf_counter() - start:.1f} s)\n"
            )
        return True

    def _tests(self, path: Path, change: Change) -> list[str]:
        """Those that run through its statement, within the time allowed.

        First those that found most in this function and file, then the quickest of those that run
        through what few do in this function, or lie beside tests that found much. A constant of a
        file is read by its functions; of a statement that the map does not know, any in its
        function.
        """
        file = f"{name_of(path)}:"
        start = f"{file}{change.scope}:" if change.head else file
        few = self._few(start) or self._few(file)
        names = self.tests_of.get(f"{start}{change.first - change.head}") or few
        near = {
            name: few[name] * self.took[name] / (1 + self.finds[file, name.partition("::")[0]]) ** 2
            for name in names
        }
        left = self.most
        found = [] if change.head else [n for n in self.items if n.startswith(OF_CONSTANTS)]
        own = {n: (-self.finds[start, n], -self.finds[file, n], near[n], n) for n in names}
        for name in sorted(names, key=own.__getitem__):
            left -= self.took[name]
            if left < 0.0:
                break
            if name in self.items:
                found.append(name)
        return found

    @functools.cache  # noqa: B019
    def _few(self, start: str) -> dict[str, int]:
        """Tests that run through some places, with how many run through the rarest of them."""
        found: dict[str, int] = {}
        for place, own in self.tests_of.items():
            if place.startswith(start):
                found.update({n: min(len(own), found.get(n, len(own))) for n in own})
        return found

    def _outcome(self, path: Path, change: Change, names: list[str]) -> str:
        """`found`, or why not. A test that fails without a mistake too finds nothing."""
        names = [name for name in names if self.sound.get(name, True)]
        if not names:
            return "no test runs through it"
        failed = self._failing(names, lambda: self.memory.put_in(path, change))
        if failed in (NOT_PUT_IN, None):
            return failed or "not found"
        if failed not in self.sound:
            self.sound[failed] = self._failing([failed], lambda: True) is None
            if not self.sound[failed]:
                return self._outcome(path, change, names)
        self._count(name_of(path), change.scope, failed)
        self.log.write(path, change, failed)
        return "found"

    def _failing(self, names: list[str], put_in: Callable[[], bool]) -> str | None:
        """The first of the tests that fails in a fork where a mistake is put in."""
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                os.setpgid(0, 0)
                null = os.open(os.devnull, os.O_WRONLY)
                os.dup2(null, 1)
                os.dup2(null, 2)
                self._run(names, put_in, writing)
            finally:
                os._exit(0)
        os.close(writing)
        with os.fdopen(reading) as pipe:
            begun = pipe.read().splitlines()
        os.waitpid(child, 0)
        return None if begun[-1] == DONE else begun[-1]

    def _run(self, names: list[str], put_in: Callable[[], bool], into: int) -> None:
        """Writes the name of each test before it runs; a last one where none failed."""
        os.write(into, f"{NOT_PUT_IN}\n".encode())
        if not put_in():
            return
        self.memory.forget()
        for name in names:
            os.write(into, f"{name}\n".encode())
            most = 10.0 + 10.0 * self.took.get(name, 0.0)
            signal.setitimer(signal.ITIMER_REAL, most)  # an endless loop
            reports = runtestprotocol(self.items[name], log=False, nextitem=None)
            if any(report.failed for report in reports):
                return
        os.write(into, f"{DONE}\n".encode())


class _Memory:
    """The functions and caches of the program as they are in memory."""

    def __init__(self) -> None:
        own = {str(path) for path in files()}
        self.functions: dict[str, list[types.FunctionType]] = {}
        self.caches = []
        for each in gc.get_objects():
            if isinstance(each, types.FunctionType) and each.__code__.co_filename in own:
                self.functions.setdefault(each.__code__.co_filename, []).append(each)
            elif isinstance(each, functools._lru_cache_wrapper):
                self.caches.append(each)

    def forget(self) -> None:
        for cache in self.caches:
            cache.cache_clear()

    def put_in(self, path: Path, change: Change) -> bool:
        """Change the functions; True where there were any."""
        tree = changed(text_of(path), change)
        module = next(
            m for m in list(sys.modules.values()) if getattr(m, "__file__", "") == str(path)
        )
        if change.scope in vars(module) and not callable(vars(module)[change.scope]):
            return _put_constant(module, change.scope, tree)
        code = compile(tree, str(path), "exec", dont_inherit=True)
        new = {(c.co_qualname, c.co_firstlineno): c for c in _codes(code)}
        found = False
        for each in self.functions.get(str(path), ()):
            old = each.__code__
            other = new.get((old.co_qualname, old.co_firstlineno))
            if other is None or old.co_freevars != other.co_freevars:
                continue
            each.__code__ = other
            found = found or (old.co_firstlineno <= change.line and old != other)
        return found


def _put_constant(module: types.ModuleType, name: str, tree: ast.Module) -> bool:
    old = vars(module)[name]
    space: dict[str, Any] = {"Final": Final}
    for statement in tree.body:
        if isinstance(statement, ast.Assign | ast.AnnAssign) and statement.value is not None:
            target = statement.targets[0] if isinstance(statement, ast.Assign) else statement.target
            if isinstance(target, ast.Name) and target.id == name:
                space[name] = ast.literal_eval(statement.value)
    for each in list(sys.modules.values()):
        own = vars(each) if getattr(each, "__name__", "").startswith("wattproof") else {}
        if name in own and own[name] == old:
            setattr(each, name, space[name])
    return bool(space[name] != old)


def _codes(code: types.CodeType) -> Iterator[types.CodeType]:
    yield code
    for constant in code.co_consts:
        if isinstance(constant, types.CodeType):
            yield from _codes(constant)


# The command.


def chosen(sample: int, seed: int, kinds: set[str], only: list[str]) -> list[tuple[Path, Change]]:
    """Mistakes drawn at random, the same for the same seed; the first of them are a sample too."""
    every = [
        (path, change)
        for path in files()
        if not only or any(name_of(path).startswith(start) for start in only)
        for change in changes_of(text_of(path))
        if not kinds or change.kind in kinds
    ]
    drawn = random.Random(seed).sample(range(len(every)), min(sample, len(every)))
    return [every[i] for i in drawn]


def told(tried: Trying) -> int:
    """Prints what no test found; how many of these have no reason."""
    reasons, open_ones = known(), 0
    for path, change, outcome in tried.survived:
        key = key_of(path, change)
        reason = reason_of(path, change, reasons)
        open_ones += reason is None
        print(f"{key.file}:{change.line} in {key.scope} [{change.kind}] {outcome}")
        print(f"    {key.before}\n    {key.after}\n    {reason or 'NO REASON GIVEN'}")
    by_kind = Counter(change.kind for _, change in tried.chosen)
    lost = Counter(change.kind for _, change, _ in tried.survived)
    print(", ".join(f"{kind} {lost[kind]} of {n}" for kind, n in sorted(by_kind.items())))
    total, left = len(tried.chosen), len(tried.survived)
    print(f"{left} of {total} not found ({100 * left / max(total, 1):.1f} %), {open_ones} open")
    return open_ones


def main(arguments: Iterable[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=("map", "run"))
    parser.add_argument("map", type=Path)
    parser.add_argument("only", nargs="*", help="files or rooms, as study/wiring; of a map tests")
    parser.add_argument("--sample", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--skip", type=int, default=0, help="the first of the sample, tried before")
    parser.add_argument("--most", type=float, default=MOST, help="seconds of tests a mistake")
    parser.add_argument("--kind", action="append", default=[])
    parser.add_argument("--by", action="append", default=[], help="tests to run, as study/wiring")
    parser.add_argument("--log", type=Path, help="where to note what was found, and not try again")
    parser.add_argument("--new", action="store_true", help="try only what is not noted there")
    given = parser.parse_intermixed_args(list(arguments))
    os.chdir(TESTS.parent)
    looked_at = [str(TESTS / name) for name in given.by or LOOKED_AT]
    common = ["-q", "-p", "no:cacheprovider", "--no-header", "--rootdir", str(TESTS.parent)]
    if given.what == "map":
        tests = given.only or looked_at
        return int(pytest.main([*common, *tests], [Mapping(_marking(), given.map)]))
    through = read_map(given.map)
    drawn = chosen(given.sample, given.seed, set(given.kind), given.only)
    tried = Trying(drawn[given.skip :], through, given.most, Log(given.log, new=given.new))
    pytest.main([*common, *looked_at], [tried])
    return 1 if told(tried) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
