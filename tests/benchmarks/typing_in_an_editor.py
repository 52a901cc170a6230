"""How long an editor waits after a change of the example of six modules.

    python tests/benchmarks/typing_in_an_editor.py

From the message of a change to what is told of it, over standard input and output, without the
pause in which a text is left alone while somebody types: findings first, then with what is to be
looked up. The aim is 100 ms for the findings, after the first change. Other programs disturb the
clock, so the least and the middle of several are told.
"""

from __future__ import annotations

import asyncio
import sys
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))

from editor.clients import SIX, editor, run
from wattproof.editor.server import PAUSE

CHANGES = 15


async def waits() -> None:
    """Type, and print how long it took until it was told."""
    text = SIX.read_text(encoding="utf-8")
    first, whole = [], []
    async with editor() as client:
        uri = client.open(SIX)
        await client.found(uri, "to-look-up")
        for number in range(CHANGES):
            length = f"length: {16 + number % 3} ft"
            version = client.type(uri, text.replace("length: 16 ft", length))
            start = time.perf_counter()
            for took, stages in ((first, 1), (whole, 2)):
                await client.until(lambda v=version, n=stages: told(client, uri, v) >= n)
                took.append(time.perf_counter() - start - PAUSE)
            await asyncio.sleep(0.05)
    for name, took in (("findings", first[1:]), ("with what is to be looked up", whole[1:])):
        print(f"{name:30} least {min(took) * 1e3:4.0f} ms, middle {median(took) * 1e3:4.0f} ms")


def told(client: object, uri: str, version: int) -> int:
    """How often something was told of a version."""
    return sum(each.version == version for each in client.told.get(uri, ()))  # type: ignore[attr-defined]


if __name__ == "__main__":
    run(waits())
