"""What people call a component by what it is, where the plan gives it a name of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from wattproof.plan.fields import Named

_KINDS: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(
        ("controller", "charge-controller", "solar-controller", "solar-charge-controller"),
        ("Controller",),
    ),
    **dict.fromkeys(("mppt", "pwm", "regulator", "tracker", "solar-charger"), ("Controller",)),
    **dict.fromkeys(
        ("battery", "batteries", "batt", "bank", "battery-bank", "house-battery", "lifepo4", "agm"),
        ("Battery",),
    ),
    **dict.fromkeys(
        ("panels", "solar-panel", "solar-panels", "modules", "module", "array", "pv", "solar"),
        ("String",),
    ),
    **dict.fromkeys(("combiner", "combiner-box", "joint", "string-box"), ("Combiner",)),
    **dict.fromkeys(
        ("fuse-box", "fusebox", "fuse-panel", "fuse-block", "distribution", "dc-panel", "panel"),
        ("Distribution",),
    ),
    **dict.fromkeys(("busbar", "busbars", "bus-bar", "bus"), ("Busbar",)),
    "inverter": ("Inverter", "InverterCharger"),
    **dict.fromkeys(("charger", "mains-charger", "shore-charger"), ("Charger",)),
}
"""The classes of component that a word may mean."""


_FAMILIES: Final = {
    "Controller": "controllers",
    "Battery": "batteries",
    "String": "strings",
    "Combiner": "combiners",
    "Distribution": "distribution",
    "Busbar": "busbars",
    "Inverter": "inverters",
    "Charger": "chargers",
}


def family_of(reference: str) -> str:
    """The family under which what a name tells would stand; empty where it tells none."""
    from wattproof.plan.shapes import family_by_ending  # of what is wrong only

    word = reference.partition(".")[0]
    classes = _KINDS.get(word, ())
    return _FAMILIES[classes[0]] if classes else family_by_ending(word)


def of_kind(word: str, components: Mapping[str, Named]) -> list[str]:
    """The components that a word for what they are may mean, by their names."""
    classes = _KINDS.get(word, ())
    return [name for name, part in components.items() if type(part).__name__ in classes]


def by_kind(reference: str, components: Mapping[str, Named]) -> str:
    """What to write for a name that tells what a component is; empty where none is of that kind.

    What stands behind the name is kept: `controller.pv` is the `pv` of the one controller.
    """
    word, *rest = reference.split(".")
    named = of_kind(word, components)
    written = [f"`{'.'.join([name, *rest])}`" for name in named]
    if len(written) == 1:
        return f"write {written[0]}, the only one here"
    return f"write the one that is meant: {', '.join(written)}" if written else ""
