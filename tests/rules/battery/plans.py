"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import edited
from rule_runs import sound

VOLTAGE = "charge-voltage-wrong"
DRAWN = "load-over-battery-discharge"


def in_series(*edits: tuple[str, str]) -> str:
    """Two packs in series across the tracker."""
    plan = sound(VOLTAGE)
    start, end = plan.index("batteries:\n"), plan.index("wires:\n")
    pack = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,\n"
        "        max_charge_current: 50 A, max_charge_voltage: 14.6 V}\n"
    )
    plan = plan[:start] + f"batteries:\n  top: {pack}  low: {pack}" + plan[end:]
    start = plan.index("  charge-run:")
    return edited(
        *edits,
        plan=plan[:start]
        + "  charge-run: {from: tracker.battery.positive, to: top.positive, cable: batt-8,\n"
        "               length: 1 m, inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n"
        "  link: {from: top.negative, to: low.positive, cable: batt-8, length: 20 cm}\n"
        "  back: {from: low.negative, to: tracker.battery.negative, cable: batt-8, length: 1 m}\n",
    )


SHORE = """\
chargers:
  shore: {kind: shore, max_output_current: 10 A%s}
wires:
  shore-run: {from: shore, to: house, cable: batt-8, length: 1 m}
"""


def gives(limit: str, *edits: tuple[str, str]) -> str:
    return edited(("max_discharge_current: 100 A", f"max_discharge_current: {limit}"), *edits,
                  plan=sound(DRAWN))  # fmt: skip
