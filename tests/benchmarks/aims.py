"""Figures of speed beside what they should be: cold checks, many plans, large plans, reports.

    PYTHONPATH=tests python tests/benchmarks/aims.py [large]

Whole processes, the processor's time in seconds, bytecode kept: the smallest of several runs in
turn, which other programs disturb least; of many plans, which several processors share, the time
by the clock as well. A cold check is told over a fair floor: a command line of
the same libraries that reads the file and does nothing with it. Many plans are told over a linter
of any YAML that reads the same files, where one is installed (`pip install yamllint`). `large` adds
plans of 4,500 components, which take a minute. Absolute times differ from machine to machine;
compare ratios. Needs Unix.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

from growth import plan_text, text_of_loads

ROOT = Path(__file__).parents[2]
RUNS = 7
FLOOR = """\
import sys
from pathlib import Path
from typing import Annotated
import ruamel.yaml, typer
from pydantic import BaseModel
app = typer.Typer()
@app.callback()
def main() -> None: ...
@app.command()
def check(
    plans: Annotated[list[str], typer.Argument()],
    format: Annotated[str, typer.Option("--format")] = "text",
    level: Annotated[str, typer.Option("--level")] = "warning",
    working: Annotated[bool, typer.Option("--working")] = False,
    settings: Annotated[str, typer.Option("--settings")] = "",
    name: Annotated[str, typer.Option("--name")] = "",
    output: Annotated[str, typer.Option("-o")] = "",
) -> None:
    for plan in plans:
        print(sum(1 for _ in ruamel.yaml.YAML(typ="safe").parse(Path(plan).read_text())))
app()
"""
LINTER = "from yamllint.cli import run; run()"
PROGRAM = "from wattproof.cli.main import main; main()"
COLD = {
    "two modules": ("van-two-modules.yaml", 1.2),
    "six modules, two shade cases": ("van-six-modules.yaml", 1.4),
    "eight modules, energy and readings": ("cabin-eight-modules.yaml", 1.6),
    "a faulty plan with its trials": ("faulty/van-cold-morning.yaml", 1.5),
}


class Spent(NamedTuple):
    """What a process took: s of the processor and by the clock, MB of memory, MB written."""

    seconds: float
    clock: float
    memory: float
    written: float


def run(code: str, *arguments: str, bytecode: str) -> Spent:
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = bytecode
    command = [sys.executable, "-c", code, *arguments]
    begun = time.monotonic()
    process = subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    assert process.stdout is not None
    written = len(process.stdout.read())
    _, _, usage = os.wait4(process.pid, 0)
    seconds = usage.ru_utime + usage.ru_stime
    return Spent(seconds, time.monotonic() - begun, usage.ru_maxrss / 1024.0, written / 1e6)


def cold(bytecode: str) -> None:
    for name, (file, aim) in COLD.items():
        plan = str(ROOT / "examples" / file)
        calls = ((PROGRAM, "check", plan), (FLOOR, "check", plan))
        times: list[list[float]] = [[], []]
        for _ in range(RUNS):
            for taken, call in zip(times, calls, strict=True):
                taken.append(run(*call, bytecode=bytecode).seconds)
        ours, floor = (min(taken) for taken in times)
        print(f"cold check, {name}: {ours / floor:.2f} of the fair floor, aim {aim}", flush=True)


def report_of(bytecode: str, folder: Path) -> None:
    plan, page = str(ROOT / "examples" / "van-six-modules.yaml"), str(folder / "page.html")
    check = min(run(PROGRAM, "check", plan, bytecode=bytecode).seconds for _ in range(RUNS))
    calls = (run(PROGRAM, "report", plan, "-o", page, bytecode=bytecode) for _ in range(RUNS))
    report = min(spent.seconds for spent in calls)
    print(f"report over check, six modules: {report / check:.2f}, aim 1.5", flush=True)


def many(bytecode: str, folder: Path) -> None:
    """Two hundred plans in one call, over a linter of YAML that reads the same files."""
    text = (ROOT / "tests" / "cli" / "plans" / "sound.yaml").read_text(encoding="utf-8")
    for count in (20, 200):
        at = folder / f"many-{count}"
        at.mkdir()
        for number in range(count):
            (at / f"plan-{number}.yaml").write_text(text, encoding="utf-8")
        calls = [(PROGRAM, "check", str(at))]
        if find_spec("yamllint") is not None:
            calls.append((LINTER, str(at)))
        turns = [[run(*call, bytecode=bytecode) for call in calls] for _ in range(3)]
        by_turn = list(zip(*turns, strict=True))
        clock, *clocks = (min(spent.clock for spent in each) for each in by_turn)
        seconds, *others = (min(spent.seconds for spent in each) for each in by_turn)
        memory = min(spent.memory for spent in by_turn[0])
        print(
            f"{count} plans in one call: {clock:.2f} s, {seconds:.2f} s of the processor, "
            f"{memory:.0f} MB; aim flat, 60 MB",
            *(f"; {clock / other:.2f} of a linter, aim 0.9" for other in clocks),
            *(f", {seconds / other:.2f} of the processor's time" for other in others),
            sep="",
            flush=True,
        )


def large(bytecode: str, folder: Path, sizes: tuple[int, ...]) -> None:
    aims = {1000: "2 s, under 1 MB of text", 4500: "10 s, 300 MB (report: 20 s, 500 MB)"}
    for components in sizes:
        plan = folder / f"large-{components}.yaml"
        plan.write_text(plan_text(components // 3 * 2), encoding="utf-8")
        for command, more in (("check", ()), ("report", ("-o", str(folder / "page.html")))):
            spent = run(PROGRAM, command, str(plan), *more, bytecode=bytecode)
            print(
                f"{command} of {components:,} components: {spent.seconds:.1f} s, "
                f"{spent.memory:.0f} MB, {spent.written:.2f} MB of text; aim "
                f"{aims.get(components, 'near linear')}",
                flush=True,
            )


def many_loads(bytecode: str, folder: Path, sizes: tuple[int, ...]) -> None:
    """Loads on one bar, each with its fuse and its wire, in place of strings."""
    for components in sizes:
        plan = folder / f"loads-{components}.yaml"
        plan.write_text(text_of_loads(components // 3), encoding="utf-8")
        spent = run(PROGRAM, "check", str(plan), bytecode=bytecode)
        told = f"{spent.seconds:.1f} s, {spent.memory:.0f} MB, {spent.written:.2f} MB of text"
        print(f"check of {components:,} components, loads on a bar: {told}", flush=True)


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        bytecode = str(folder / "bytecode")
        run(PROGRAM, "check", str(ROOT / "examples" / "van-six-modules.yaml"), bytecode=bytecode)
        cold(bytecode)
        report_of(bytecode, folder)
        many(bytecode, folder)
        sizes = (100, 300, 1000, 4500) if "large" in sys.argv else (100, 300)
        large(bytecode, folder, sizes)
        many_loads(bytecode, folder, sizes)


if __name__ == "__main__":
    main()
