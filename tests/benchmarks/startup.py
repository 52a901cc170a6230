"""Cold start of a check against the imports it cannot do without, measured in turn in one run.

    python tests/benchmarks/startup.py [rounds]

Every command has run once before the first measured round, with its bytecode kept in a folder of
the benchmark's own, as it is on a machine that uses the linter every day. Prints medians of the
processor's time, which other programs disturb less than the clock's, in milliseconds, and ratios.
Absolute times drift from machine to machine; compare ratios only. Needs Unix.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
from itertools import product
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
CHECK = """\
import sys
from wattproof.cli.main import main
sys.argv = ['wattproof', 'check', '{}']
main()
"""

BARE = {"bare Python": "pass"}
FLOORS = {
    "floor: import pydantic, ruamel.yaml, typer": "import pydantic, ruamel.yaml, typer",
    "floor with models: from pydantic import BaseModel; import ruamel.yaml, typer": (
        "from pydantic import BaseModel; import ruamel.yaml, typer"
    ),
}
CHECKS = {
    f"check of the {size}-module example": CHECK.format(EXAMPLES / f"van-{size}-modules.yaml")
    for size in ("two", "six")
}
COMMANDS = BARE | FLOORS | CHECKS


def measured(rounds: int, bytecode: str) -> dict[str, float]:
    """Median processor time (s) of each command, run in turn with its bytecode in a folder."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = bytecode

    def run(code: str) -> float:
        before = getrusage(RUSAGE_CHILDREN)
        command = [sys.executable, "-c", code]
        subprocess.run(command, env=environment, capture_output=True, check=True)
        after = getrusage(RUSAGE_CHILDREN)
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    for code in COMMANDS.values():
        run(code)
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(rounds):
        for name, code in COMMANDS.items():
            times[name].append(run(code))
    return {name: statistics.median(values) for name, values in times.items()}


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    with tempfile.TemporaryDirectory() as bytecode:
        medians = measured(rounds, bytecode)
    for name, seconds in medians.items():
        print(f"{seconds * 1000:8.1f} ms  {name}")
    for check, floor in product(CHECKS, FLOORS):
        ratio = medians[check] / medians[floor]
        print(f"{ratio:8.2f} x   {check} over {floor.partition(':')[0]}")


if __name__ == "__main__":
    main()
