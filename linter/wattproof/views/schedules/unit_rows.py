"""Parts of the battery side that convert, split, start or hold a bank together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.plan.devices import Breaker, Fuse
from wattproof.views.schedules.parts import PartRow
from wattproof.working import Value, counted

if TYPE_CHECKING:
    from wattproof.study import Study


def unit_rows(study: Study) -> Iterator[PartRow]:
    """One row for each such part, and the fuses of packs as often as there are packs."""
    yield from _converting(study)
    yield from _splitting(study)
    for name, starter in study.plan.starters.items():
        yield _one("starters", f"starter motor, {starter.current}", name)
    for name, box in study.plan.power_boxes.items():
        amps = box.usable_input_current or box.max_input_current
        limits = (box.max_input_voltage, amps, box.max_input_power)
        told = ", ".join(str(limit) for limit in limits if limit is not None)
        yield _one("power boxes", f"solar input up to {told}", name)
    for name, bond in study.plan.frame_bonds.items():
        words = f"{bond.start} to {bond.to}, {bond.cable}"
        yield _one("bonds", words, name, "its cable is counted above")
    yield from _fuses_of_packs(study)


def _converting(study: Study) -> Iterator[PartRow]:
    for name, unit in study.plan.inverter_chargers.items():
        words = f"{unit.power}, charges with {unit.max_output_current}"
        note = f"transfer switch {unit.transfer}" if unit.transfer is not None else ""
        yield _one("inverter-chargers", words, name, note)
    for name, converter in study.plan.converters.items():
        volts = f"{converter.input_nominal} to {converter.output_nominal}"
        yield _one("converters", f"{volts}, output {converter.max_output_current}", name)


def _splitting(study: Study) -> Iterator[PartRow]:
    for name, isolator in study.plan.diode_isolators.items():
        words = f"{isolator.rating}, {len(isolator.outputs)} outputs"
        yield _one("diode isolators", words, name)


def _fuses_of_packs(study: Study) -> Iterator[PartRow]:
    """A fuse or breaker that each pack of a bank has is bought once for each."""
    guards: dict[str, Fuse | Breaker] = {**study.plan.fuses, **study.plan.breakers}
    for name, battery in study.plan.batteries.items():
        own, layout = battery.each_pack, battery.arrangement
        if own is None or own.fuse is None or layout is None:
            continue
        device = guards[own.fuse]
        style = device.style or "style not stated"
        group = "fuses" if own.fuse in study.plan.fuses else "breakers"
        words = f"{style}, {device.rating}, {device.voltage or 'voltage not stated'}"
        packs = layout.in_parallel
        place = layout.place or battery.at
        amount = counted(packs, layout.text, place, "n", f"packs in parallel in {name}")
        note = f"one at each pack of {name} ({layout.text})"
        yield PartRow(group, words, amount, group, (str(own.fuse),), note)


def _one(group: str, words: str, name: str, note: str = "") -> PartRow:
    return PartRow(group, words, Value(1.0), group, (str(name),), note)
