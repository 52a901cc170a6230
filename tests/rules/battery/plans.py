"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import edited
from rule_runs import sound

DRAWN = "load-over-battery-discharge"
SHORE = """\
chargers:
  shore: {kind: shore, max_output_current: 10 A%s}
wires:
  shore-run: {from: shore, to: house, cable: batt-8, length: 1 m}
"""


def gives(limit: str, *edits: tuple[str, str]) -> str:
    return edited(("max_discharge_current: 100 A", f"max_discharge_current: {limit}"), *edits,
                  plan=sound(DRAWN))  # fmt: skip
