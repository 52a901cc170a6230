"""The voltages and currents that a one-line view shows of parts and wires, by operating state."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wattproof.plan.array import String
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller, Inverter, Load
from wattproof.study.site.states import State
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, total

if TYPE_CHECKING:
    from wattproof.study import Study


@dataclass(frozen=True, slots=True)
class Reading:
    """A number of a part or run, with the symbol or words that go before it."""

    words: str
    value: Value


def part_readings(study: Study, component: Named, state: State) -> Iterator[Reading]:
    """The numbers of a component."""
    if isinstance(component, String):
        yield from _of_string(study, component, state)
    elif isinstance(component, Controller):
        yield from _of_controller(study, component, state)
    elif isinstance(component, Battery):
        bank = study.battery.side.banks[component.name]
        yield Reading("", bank.nominal)
        yield Reading("", bank.capacity)
    elif isinstance(component, Load | Inverter):
        drawn = study.wiring.network.drawn(component, "")
        if drawn is not None:
            yield Reading("draws", drawn)


def wire_readings(study: Study, wire: WireStudy, state: State) -> Iterator[Reading]:
    """Voltage (V) and current (A) of a wire, where they are known.

    In an array those at maximum power; in bright sun open-circuit voltage and short-circuit
    current. Elsewhere the highest charge voltage and the largest lasting current, in every state.
    """
    volts, amps = wire.volts, wire.current
    through = study.array.isc_through if state == "bright" else study.array.imp_through
    flowing = [
        (flows, part)
        for c in wire.conductors
        if (part := study.array.part_of(c)) and (flows := through(c, state)) is not None
    ]
    if flowing:
        amps, (array, tree) = max(flowing, key=lambda pair: pair[0].number)
        volts = array.voc("standard", tree) if state == "bright" else array.vmp(state, tree)
    yield from (Reading("", value) for value in (volts, amps) if value is not None)


def _of_string(study: Study, string: String, state: State) -> Iterator[Reading]:
    """Those of one of the strings that a short form makes, and the power of all together."""
    found = [s for a in study.array.arrays for s in a.all_strings if s.source.string is string]
    if not found:
        return
    one = found[0]
    each = " each" if len(found) > 1 else ""
    yield Reading(f"Voc{each}", one.voc(_for_voltage(state)))
    yield Reading(f"Isc{each}", one.isc(state))
    if state != "bright":
        yield Reading(f"Vmp{each}", one.vmp(state))
        yield Reading(f"Imp{each}", one.imp(state))
    power = total([module.pmax for module in one.modules])
    whole = len(found) * power if each else power
    words = f"power of {string.name} by its labels"
    yield Reading("together" if each else "", whole.named(f"P({string.name})", words, "W"))


def _of_controller(study: Study, controller: Controller, state: State) -> Iterator[Reading]:
    """What its array shows it, what it then gives to its battery, and what it draws itself."""
    for array in study.array.arrays:
        if array.controller.name == controller.name:
            yield Reading("Voc", array.voc(_for_voltage(state)))
            yield Reading("Isc", array.isc(state))
            curves = None if state == "bright" else study.curves.curve_of(array)
            point = curves.operating(state) if curves is not None else None
            if point is not None:
                yield (
                    Reading("gives", point.output)
                    if point.output is not None
                    else Reading("takes", point.power)
                )
    drawn = study.wiring.network.drawn(controller, "alternator")
    if controller.kind == "vehicle-charger" and drawn is not None:
        yield Reading("draws", drawn)


def _for_voltage(state: State) -> State:
    """The state for voltages, which brighter sun leaves as they are."""
    return "standard" if state == "bright" else state
