"""Outputs that feed consumers with no battery on their net: converters and power boxes."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Terminal
from wattproof.study.battery.side import BatterySide
from wattproof.working import Value, declared


def outlets(battery_side: BatterySide) -> Iterator[tuple[Terminal, Value]]:
    """The positive of each such output, and the most that it gives (A).

    A power box whose outlet tells no rating is left out: nothing is known of it.
    """
    plan = battery_side.circuit.plan
    for name, converter in plan.converters.items():
        terminal = Terminal(name, "output", "positive")
        if not battery_side.banks_of(terminal):
            yield terminal, battery_side.output(converter)
    for name, box in plan.power_boxes.items():
        if box.load_current is not None:
            words = f"rated current of the outlet of {name}"
            amps = declared(box.load_current, f"Iload({name})", words)
            yield Terminal(name, "load", "positive"), amps
