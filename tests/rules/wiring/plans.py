"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, sound

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
