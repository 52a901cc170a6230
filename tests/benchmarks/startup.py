"""Cold start of a check against the imports it cannot do without, measured in turn in one run.

    python tests/benchmarks/startup.py [rounds]

Every command has run once before the first measured round, with its bytecode kept in a folder of
the benchmark's own, as it is on a machine that uses the linter every day. Prints medians in
milliseconds and ratios. Absolute times drift from machine to machine; compare ratios only.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
EXAMPLE = str(ROOT / "examples" / "van-six-modules.yaml")
CHECK = """\
import sys
from wattproof.cli.main import main
sys.argv = ['wattproof', 'check', '{}']
main()
"""

COMMANDS = {
    "bare Python": "pass",
    "floor: import pydantic, ruamel.yaml, typer": "import pydantic, ruamel.yaml, typer",
    "floor with models: from pydantic import BaseModel; import ruamel.yaml, typer": (
        "from pydantic import BaseModel; import ruamel.yaml, typer"
    ),
    "check of the six-module example": CHECK.format(EXAMPLE),
}


def measured(rounds: int, bytecode: str) -> dict[str, float]:
    """Median wall time (s) of each command, run in turn with its bytecode in a folder."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = bytecode

    def run(code: str) -> float:
        start = time.perf_counter()
        command = [sys.executable, "-c", code]
        subprocess.run(command, env=environment, capture_output=True, check=True)
        return time.perf_counter() - start

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
    *floors, check = medians.values()
    for name, seconds in medians.items():
        print(f"{seconds * 1000:8.1f} ms  {name}")
    for name, floor in list(zip(medians, floors, strict=False))[1:]:
        print(f"{check / floor:8.2f} x   check over {name.partition(':')[0]}")


if __name__ == "__main__":
    main()
