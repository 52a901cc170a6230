"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, sound

VOLTAGE = "charge-voltage-wrong"


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


TWICE = "negative-bonded-twice"


def bonded(*bonds: str, wires: str = "", setting: str = "vehicle") -> str:
    """The sound plan with further bonds and wires."""
    return edited(
        ("bonds:\n", "bonds:\n" + "".join(f"  b{n}: {{{b}}}\n" for n, b in enumerate(bonds))),
        ("wires:\n", f"wires:\n{wires}"),
        ("setting: vehicle", f"setting: {setting}"),
        plan=sound(TWICE),
    )


SMALL = "conductor-too-small"
DROP = "voltage-drop-high"
TWO = RULES.rules[SMALL].sound
"""Two strings of 10.2 A at a joint, 8 AWG home run; 40 A tracker on 6 AWG."""
ONE = RULES.rules[DROP].sound
"""One string of 5.2 A on 10 AWG; 30 A tracker on 1 m of 8 AWG."""
LOW = "fuse-interrupt-low"
BANK = RULES.rules[LOW].sound
"""A bank of 8 kA on 1/0 AWG, fuse at 10 cm; a bar, an inverter of 800 W, a tracker of 30 A."""
