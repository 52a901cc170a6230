"""What can be read where: a short-circuit current at a string, not at a battery."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.plan.array import Combiner, String
from wattproof.plan.devices import Busbar, Device
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller
from wattproof.plan.readings import MEASURED, Reading
from wattproof.plan.root import Plan
from wattproof.plan.terminals import Reached, by_name, is_solar_input, resolve
from wattproof.plan.wiring import Wire
from wattproof.quantities import Mistake
from wattproof.source import Problem

ARRAY: Final = ("voc", "isc", "current")
DEVICE: Final = ("drop", "joint_temperature", "current")
READ_AT: Final = {
    "voc": "a string, a joint or `pv` of a controller",
    "isc": "a string, a joint or `pv` of a controller",
    "voltage": "a string, a joint, `pv` or `battery` of a controller, or a battery",
    "current": "a string, a joint, a device, a controller or a battery",
    "power": "`pv` or `battery` of a controller",
    "day_yield": "`pv` or `battery` of a controller",
    "posts_voltage": "`battery` of a controller",
    "drop": "a fuse, breaker, switch, busbar or joint",
    "joint_temperature": "a fuse, breaker, switch, busbar or joint",
}


def reading_problems(plan: Plan) -> Iterator[Problem]:
    """Every value of a reading that cannot be measured where the reading says."""
    known = by_name(plan)
    for reading in plan.readings.values():
        if reading.at_terminal in plan.wires:
            yield _along_a_wire(reading, plan.wires[reading.at_terminal])
            continue
        try:
            reached = resolve(reading.at_terminal, known)
        except Mistake:
            continue  # told with the other references
        if reached.component not in known:  # the chassis, the water, the earth
            fitting: tuple[str, ...] = ()
        else:
            fitting = _fitting(known[reached.component], reached)
        for key in MEASURED:
            written = getattr(reading, key)
            if written is not None and key not in fitting:
                message = f"`{key}` is not read at `{reading.at_terminal}`"
                yield Problem(written.place, message, f"it is read at {READ_AT[key]}")
        yield from _idle_current(reading, fitting)


def _along_a_wire(reading: Reading, wire: Wire) -> Problem:
    message = f"`{wire.name}` is a wire, and a meter reads at its ends"
    instead = f"write `{wire.start}` or `{wire.to}`, or a device that is in it"
    return Problem(reading.at_terminal.place, message, instead)


def _idle_current(reading: Reading, fitting: tuple[str, ...]) -> Iterator[Problem]:
    """A current that only says under what load something else was read, without that."""
    beside = [key for key in fitting if key not in ("current", "voc", "isc")]
    compared = "isc" in fitting and "drop" not in fitting
    if reading.current is None or "current" not in fitting or compared:
        return
    if all(getattr(reading, key) is None for key in beside):
        message = f"`current` by itself says nothing at `{reading.at_terminal}`"
        instead = f"write beside it {' or '.join(f'`{key}`' for key in beside)}, read at that load"
        yield Problem(reading.current.place, message, instead)


def _fitting(component: Named, reached: Reached) -> tuple[str, ...]:
    """What can be measured at a component."""
    if isinstance(component, String):
        return (*ARRAY, "voltage")
    if isinstance(component, Combiner):
        return (*ARRAY, *DEVICE, "voltage")
    if isinstance(component, Device | Busbar):
        return DEVICE
    if isinstance(component, Battery):
        return ("voltage", "current")
    if isinstance(component, Controller):
        if is_solar_input(component, reached.port):
            return (*ARRAY, "voltage", "power", "day_yield")
        at_battery = ("voltage", "current", "power", "day_yield", "posts_voltage")
        return at_battery if reached.port == "battery" else ()
    return ()
