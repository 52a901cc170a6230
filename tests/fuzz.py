"""Inputs changed at random, one after another: whatever is in them, a check ends well.

    python tests/fuzz.py --count 10000 --seed 1

Plans with the datasheets of their parts, settings and acceptances are changed as data (values,
keys, branches moved, doubled, taken away) and as bytes. Each is checked in this process; formats
take turns, written of the same result but for every tenth input, which is checked anew for its
second format; the other commands take turns now and then. What is demanded: no traceback, a status
that fits what is said, an end within five seconds (ten where layouts are compared; more on a
machine that computes slower, by a loop that is timed then), memory under 500 MB, JSON that can be
read, formats of one mind about the findings. A fault is told with the seed and the number that make
its input again; `--keep FOLDER` keeps the input too. Needs nothing but the program.
"""

from __future__ import annotations

import argparse
import contextlib
import copy
import io
import json
import os
import random
import re
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree import ElementTree

from ruamel.yaml import YAML
from typer.main import get_command

import wattproof.cli.app as app
import wattproof.cli.examining as examining
import wattproof.cli.packs as packs
from wattproof.cli.main import run
from wattproof.source import PlanUnusable, read_text

ROOT = Path(__file__).parents[1]
BUILDS = (ROOT / "tests/external/builds", ROOT / "tests/external/typical")
LONGEST = 5.0  # s of the processor, which other programs disturb less than the clock
COMPARES = ("report",)
"""Commands that check up to 32 layouts of an open arrangement, which may take twice as long."""
LOOP, ITS_TIME = 1_000_000, 0.025  # additions, and s that they take where that holds
MOST_MEMORY = 500.0  # MB
FORMATS = ("text", "short", "markdown", "json", "sarif", "junit", "annotations")
OTHERS = ("figures", "questions", "schedule", "curve", "diagram", "settings", "report")
SLOW = ("catamaran-engine-rooms",)
"""Builds whose check takes longer than that as they are, which no change of them tells anew."""
SELDOM = 4
"""How many times as often a plan that tells all is drawn as one that tells little.

One that tells little is checked at many values of what it does not tell, and takes ten to twenty
times as long.
"""
WORDS = (
    "unknown", "", "~", "null", "yes", "no", "0", "-1", "1e999", "nan", ".inf", "-.inf", "0x10",
    "12:30", "2026-02-30", "10 AWG", "2/0 AWG", "6 mm²", "1e-9 mm²", "-18 °C", "250 °C",
    "-36 %/°C", "0 V", "1e308 A", "16 ft", "4s2p", "9999999s9999999p", "a b", "A", "é", "日本",
    "\u202e", "\x1b[31m", "plan", "site", "[", "]", "{", "}", "&a", "*a", "<<", "? x", "|", ">",
    "# x", "'", '"', "\\", "a\x00b",
)  # fmt: skip
SETTINGS = "wattproof-settings: 1\nlevel: warning\nrules:\n  controller-clips: off\n"
ACCEPTED = [
    {"rule": "voltage-drop-high", "where": "home-run", "reason": "short", "margin": "40 %"},
    {"rule": "controller-clips", "where": "tracker", "reason": "dull days", "until": "2030-01-01"},
]


class Input(NamedTuple):
    """One changed input. plan, settings: their bytes; settings empty where there are none."""

    plan: bytes
    settings: bytes = b""


class Said(NamedTuple):
    """What came of a call."""

    status: int
    out: str
    errors: str
    seconds: float


def sources() -> list[dict[str, Any]]:
    """Plans as data: the examples of all rules, and plans as people describe what they have."""
    return [*examples(), *described()]


def examples() -> list[dict[str, Any]]:
    """Plans that tell all, small and many, so that each kind of part is in one."""
    texts = _in_folders(ROOT / "examples", ROOT / "examples" / "faulty")
    for rule in packs.installed_rules().rules.values():
        texts += [(ROOT, rule.sound), (ROOT, rule.faulty.of(rule.sound))]
    return _as_data(texts)


def described() -> list[dict[str, Any]]:
    """Plans as people describe what they have, which tell little."""
    return _as_data(_in_folders(*BUILDS))


def _in_folders(*folders: Path) -> list[tuple[Path, str]]:
    paths = [path for folder in folders for path in sorted(folder.glob("*.yaml"))]
    return [(path.parent, path.read_text("utf-8")) for path in paths if path.stem not in SLOW]


def _as_data(texts: list[tuple[Path, str]]) -> list[dict[str, Any]]:
    """Plans with the datasheets of their parts file in place; what is no plan is left out."""
    yaml = YAML(typ="safe")
    found = []
    for folder, text in texts:
        data = yaml.load(text)
        if not isinstance(data, dict) or "setting" not in data:
            continue
        part = data.pop("parts", None)
        if isinstance(part, str):
            sheets = yaml.load((folder / part).read_text("utf-8"))["datasheets"]
            for family, entries in sheets.items():
                data.setdefault("datasheets", {}).setdefault(family, {}).update(entries)
        found.append(data)
    return found


def places(held: Any) -> Iterator[tuple[Any, Any]]:
    """Every holder in some data with each of its keys."""
    pairs = held.items() if isinstance(held, dict) else enumerate(held)
    for key, value in list(pairs):
        yield held, key
        if isinstance(value, dict | list):
            yield from places(value)


def changed(plan: dict[str, Any], dice: random.Random, pool: list[Any]) -> None:
    """One change of a plan as data. pool: values of all plans."""
    here = list(places(plan))
    if not here:
        return
    holder, key = dice.choice(here)
    kind = dice.randrange(8)
    if kind == 0:
        del holder[key]
    elif kind == 1:
        holder[key] = dice.choice(WORDS)
    elif kind == 2:
        holder[key] = copy.deepcopy(dice.choice(pool))
    elif kind == 3:
        other, at = dice.choice(here)
        holder[key] = copy.deepcopy(other[at]) if at in range(len(other)) or at in other else None
    elif kind == 4 and isinstance(holder, dict):
        holder[dice.choice(WORDS)] = holder.pop(key)
    elif kind == 5 and isinstance(holder, list):
        holder += [copy.deepcopy(holder[key])] * dice.choice((1, 3, 40))
    elif isinstance(holder[key], str):
        holder[key] = _number_changed(holder[key], dice)
    elif kind == 6:
        holder[key] = [holder[key]]


def _number_changed(text: str, dice: random.Random) -> str:
    def other(match: re.Match[str]) -> str:
        number = float(match[0])
        scale = dice.choice((0.0, -1.0, 1e-9, 0.1, 0.5, 2.0, 10.0, 1e3, 1e9, 1e300))
        return f"{number * scale:g}"

    return re.sub(r"\d+(?:\.\d+)?", other, text, count=1)


def as_bytes(data: bytes, dice: random.Random) -> bytes:
    """Some bytes of a file changed, taken away, doubled or moved."""
    held = bytearray(data)
    for _ in range(dice.choice((1, 1, 2, 8))):
        at = dice.randrange(len(held) + 1)
        kind = dice.randrange(5)
        if kind == 0:
            held[at : at + dice.choice((1, 1, 9, 99))] = b""
        elif kind == 1:
            held[at:at] = dice.choice(WORDS).encode("utf-8")
        elif kind == 2:
            held[at:at] = bytes((dice.randrange(256),))
        elif kind == 3:
            held[at:at] = held[at : at + dice.choice((3, 30, 300))] * dice.choice((1, 2, 50))
        else:
            held[at:at] = dice.choice((b"\n", b"  ", b"\t", b": ", b"- ", b"{", b"]", b"\xff\xfe"))
    return bytes(held[:200_000])


def inputs(seed: int) -> Iterator[Callable[[], Input]]:
    """Makers of inputs without end; each makes the same one again for its seed."""
    often, seldom = examples(), described()
    pool = [holder[key] for plan in (*often, *seldom) for holder, key in places(plan)]
    plans = often * SELDOM + seldom

    def made(number: int) -> Input:
        dice = random.Random(f"{seed} {number}")
        plan = copy.deepcopy(dice.choice(plans))
        if dice.random() < 0.2:
            plan["accepted"] = copy.deepcopy(ACCEPTED)
        kind = dice.randrange(10)
        if kind < 7:
            for _ in range(dice.choice((1, 1, 2, 4))):
                changed(plan, dice, pool)
        text = _dumped(plan).encode("utf-8", "surrogatepass")
        if kind >= 6:
            text = as_bytes(text, dice)
        settings = b""
        if dice.random() < 0.1:
            settings = SETTINGS.encode()
            settings = as_bytes(settings, dice) if dice.random() < 0.7 else settings
        return Input(text, settings)

    number = 0
    while True:
        yield lambda n=number: made(n)  # type: ignore[misc]
        number += 1


def _dumped(plan: Any) -> str:
    return json.dumps(plan, ensure_ascii=False, default=str, indent=1)


def call(*arguments: str) -> Said:
    """One call of the program in this process."""
    out = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", errors="surrogateescape")
    errors = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", errors="backslashreplace")
    start = time.process_time()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(errors):
        status = run(list(arguments))
    seconds = time.process_time() - start
    out.flush()
    errors.flush()
    texts = [each.buffer.getvalue().decode("utf-8", "replace") for each in (out, errors)]
    return Said(status, texts[0], texts[1], seconds)


class Kept:
    """The result of the last check, for the second format of the same input.

    With the rules and the commands, which are the same for all inputs.
    """

    def __init__(self) -> None:
        self._examined = examining.examined
        self._last: Any = None
        self._again = False
        rule_set = packs.installed_rules()
        build_app = app.build_app
        examining.examined = self
        packs.installed_rules = lambda: rule_set
        app.build_app = cache(lambda called="": get_command(build_app(called)))

    @contextlib.contextmanager
    def shown_again(self) -> Iterator[None]:
        """What is checked in here is the last input, and answered as it was."""
        self._again = self._last is not None
        yield
        self._again = False

    def forget(self) -> None:
        self._last = None

    def __call__(self, path: str, *arguments: Any, **more: Any) -> Any:
        if not self._again:
            self._last = self._examined(path, *arguments, **more)
        elif more.get("texts") is not None:  # formats with remedies read the plan's text
            with contextlib.suppress(PlanUnusable):
                more["texts"][more["shown_as"]] = read_text(path, shown_as=more["shown_as"])
        return self._last


def longest() -> float:
    """The time (s) in which a call has to end on this machine, as fast as it is just now."""
    times = []
    for _ in range(3):
        begun, whole = time.process_time(), 0
        for number in range(LOOP):
            whole += number
        times.append(time.process_time() - begun)
    return LONGEST * max(1.0, max(times) / ITS_TIME)


def faults(number: int, dice: random.Random, kept: Kept) -> Iterator[str]:
    """What is wrong with the answers to the input that lies in `plan.yaml`."""
    kept.forget()
    first = call("check", "plan.yaml", "--format", "json")
    yield from _of_any(first, "check")
    if first.status not in (0, 1, 2):
        return
    if not first.out:
        if first.status != 2 or not first.errors.strip():
            yield "it says nothing"
        return
    document = json.loads(first.out)
    [plan] = document["plans"]
    if document["status"] != first.status:
        yield f"JSON says status {document['status']}, and it is {first.status}"
    if (first.status == 2) != bool(plan["problems"]):
        yield f"status {first.status} with {len(plan['problems'])} problems"
    count = sum(1 + len(f.get("alike", ())) for f in plan["findings"])
    format = FORMATS[number % len(FORMATS)]
    with contextlib.nullcontext() if number % 10 == 0 else kept.shown_again():
        second = call("check", "plan.yaml", "--format", format)
    yield from _of_any(second, format)
    if second.status != first.status:
        yield f"{format} ends with {second.status}, and JSON with {first.status}"
    elif format == "junit":
        ElementTree.fromstring(second.out)
    elif format == "sarif":
        [ran] = json.loads(second.out)["runs"]
        failed = [r for r in ran["results"] if r.get("kind", "fail") == "fail"]
        if first.status != 2 and len(failed) not in (count, len(plan["findings"])):
            yield f"SARIF has {len(failed)} findings, and JSON {count}"
    if dice.random() < 0.15:
        other = dice.choice(OTHERS)
        more = ("-o", "page.html") if other == "report" else ()
        third = call(other, "plan.yaml", *more)
        yield from _of_any(third, other)
        plan_alone = other in ("figures", "questions", "schedule", "curve")  # reads no settings
        unusable = first.status == 2 and not (
            plan_alone and Path("wattproof-settings.yaml").exists()
        )
        if other != "settings" and unusable and third.status != 2:
            yield f"{other} ends with {third.status} for what cannot be used"


def _of_any(said: Said, what: str) -> Iterator[str]:
    if said.status not in (0, 1, 2):
        yield f"{what} ends with {said.status}: {(said.errors or said.out)[-300:]}"
    if "Traceback" in said.errors or "fault of wattproof" in said.errors + said.out:
        yield f"{what} fails: {said.errors[-300:]}"
    times = 2.0 if what in COMPARES else 1.0
    if said.seconds > times * LONGEST and said.seconds > times * longest():
        yield f"{what} takes {said.seconds:.1f} s"
    if re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", said.errors):
        yield f"{what} writes control characters on the error output"


def memory() -> float:
    """The most that this process has held, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def main() -> int:
    arguments = argparse.ArgumentParser(description="Checks changed inputs, one after another.")
    arguments.add_argument("--count", type=int, default=1000, help="how many (1000)")
    arguments.add_argument("--seed", type=int, default=1, help="of the changes (1)")
    arguments.add_argument("--seconds", type=float, default=1e9, help="end after so many")
    arguments.add_argument("--keep", default="", help="a folder for the inputs that fail")
    told = arguments.parse_args()
    bad = done = 0
    start = time.monotonic()
    folder_of_faults = Path(told.keep).resolve() if told.keep else None
    kept = Kept()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for number, make in zip(range(told.count), inputs(told.seed), strict=False):
            if time.monotonic() - start > told.seconds:
                break
            made = make()
            Path("plan.yaml").write_bytes(made.plan)
            settings = Path("wattproof-settings.yaml")
            settings.write_bytes(made.settings) if made.settings else settings.unlink(True)
            try:
                found = list(faults(number, random.Random(number), kept))
            except Exception as error:  # what cannot be read back is a fault like any other
                found = [f"{type(error).__name__}: {error}"]
            done += 1
            for fault in found:
                print(f"seed {told.seed}, input {number}: {fault}", flush=True)
            bad += bool(found)
            if found and folder_of_faults is not None:
                folder_of_faults.mkdir(parents=True, exist_ok=True)
                (folder_of_faults / f"{told.seed}-{number}.yaml").write_bytes(made.plan)
        os.chdir(ROOT)
    most = memory()
    print(f"{done:,} inputs, {bad} with faults, {time.monotonic() - start:.0f} s, {most:.0f} MB")
    if most > MOST_MEMORY:
        print(f"more than {MOST_MEMORY:.0f} MB were held")
    return 1 if bad or most > MOST_MEMORY else 0


if __name__ == "__main__":
    sys.exit(main())
