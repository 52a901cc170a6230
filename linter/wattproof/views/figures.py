"""Every computed quantity of a study, as a list to look at."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.battery.bank import BankStudy
from wattproof.study.curves.curves import CURVE_STATES, CurveStudy
from wattproof.study.energy.balance import EnergyStudy
from wattproof.study.protection.fault_sweep import Fault
from wattproof.study.site.states import STATES
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.words import enumerated
from wattproof.working import Value

if TYPE_CHECKING:
    from wattproof.study import Study
    from wattproof.study.readings import ReadingsSection
    from wattproof.study.readings.conditions import Band


@dataclass(frozen=True, slots=True)
class Figure:
    """A computed quantity: of what, in which state (empty where it holds in all), and its value."""

    subject: str
    state: str
    quantity: str
    value: Value


def figures_of(study: Study) -> Iterator[Figure]:
    """Every computed quantity, in a fixed order."""
    for array in study.array.arrays:
        yield from _array_figures(array)
    for curves in study.curves.curves:
        yield from _curve_figures(curves)
        yield from _shade_figures(curves)
    for bank in study.battery.side.wholes:
        yield from _bank_figures(bank, study)
    for energy in study.energy.balances:
        yield from _energy_figures(energy)
    yield from _bus_figures(study)
    for wire in study.wiring.wires.values():
        yield from _wire_figures(wire)
    for path in study.wiring.paths:
        if path.drop is not None and path.share is not None:
            way = f"{path.origin} to {path.target}"
            yield Figure(way, "", "voltage drop", path.drop)
            yield Figure(way, "", "voltage drop, share", path.share)
    for device in study.wiring.devices.values():
        if device.volts is not None:
            yield Figure(device.name, "", "voltage when open", device.volts)
        if device.current is not None:
            yield Figure(device.name, "", "lasting current", device.current)
    for duty in study.protection.duties:
        yield Figure(duty.name, "", "prospective current through it", duty.prospective)
        if duty.interrupt is not None:
            yield Figure(duty.name, "", "interrupt rating", duty.interrupt)
    for bar in study.wiring.busbars:
        yield Figure(bar.name, "", "largest lasting current through it", bar.through)
    yield from _reading_figures(study.readings)
    for fault in study.protection.fault_sweep.faults:
        yield from _fault_figures(fault)


def _array_figures(array: ArrayStudy) -> Iterator[Figure]:
    for string in array.all_strings:
        for state in STATES:
            yield Figure(string.name, state, "short-circuit current", string.isc(state))
            if state == "bright":
                continue
            yield Figure(string.name, state, "cell temperature", string.cells(state))
            yield Figure(string.name, state, "open-circuit voltage", string.voc(state))
            yield Figure(string.name, state, "voltage at maximum power", string.vmp(state))
    name = str(array.controller.name)
    for state in STATES:
        yield Figure(name, state, "array short-circuit current", array.isc(state))
        if state == "bright":
            continue
        yield Figure(name, state, "array open-circuit voltage", array.voc(state))
        yield Figure(name, state, "array voltage at maximum power", array.vmp(state))
    yield Figure(name, "standard", "array current at maximum power", array.imp("standard"))
    yield Figure(name, "standard", "array power", array.power("standard"))
    for flow in array.backflows:
        if flow.current is not None and math.isfinite(flow.current.number):
            yield Figure(flow.string.name, "", "reverse current", flow.current)


def _curve_figures(curves: CurveStudy) -> Iterator[Figure]:
    """What the curves say of the whole array at the controller's terminals."""
    for state in CURVE_STATES:
        voltage, current, power = curves.maximum(state)
        yield Figure(curves.name, state, "voltage at the curve's maximum", voltage)
        yield Figure(curves.name, state, "current at the curve's maximum", current)
        yield Figure(curves.name, state, "power at the curve's maximum", power)
        yield Figure(curves.name, state, "power lost to mismatch and wires", curves.mismatch(state))
        point = curves.operating(state)
        if point is not None:
            yield Figure(curves.name, state, "operating voltage", point.voltage)
            yield Figure(curves.name, state, "operating current", point.current)
            yield Figure(curves.name, state, "operating power", point.power)
            if point.output is not None:
                yield Figure(curves.name, state, "current into the battery", point.output)
            for string, amps in curves.string_currents(state, point.voltage):
                yield Figure(string, state, "current where the controller works", amps)
        fed = curves.reverse_at_open_circuit(state)
        if fed is not None:
            yield Figure(curves.name, state, "reverse current at open circuit", fed)


def _shade_figures(curves: CurveStudy) -> Iterator[Figure]:
    for shaded in curves.shades:
        yield Figure(shaded.name, shaded.state, "greatest power under shade", shaded.power)
        yield Figure(shaded.name, shaded.state, "power lost to shade, share", shaded.lost)
        yield Figure(
            shaded.name, shaded.state, "heat in the most loaded cells", shaded.hottest_group
        )
        point = shaded.operating
        if point is not None:
            yield Figure(shaded.name, shaded.state, "operating power", point.power)


def _bank_figures(bank: BankStudy, study: Study) -> Iterator[Figure]:
    yield Figure(bank.name, "", "nominal voltage", bank.nominal)
    yield Figure(bank.name, "", "capacity", bank.capacity)
    yield Figure(bank.name, "", "charge limit", bank.charge_limit)
    yield Figure(bank.name, "", "highest charge voltage", bank.charge_voltage_limit)
    at_terminals = study.wiring.network.inside.short_circuit(bank)
    yield Figure(bank.name, "", "short-circuit current at the terminals", at_terminals)


def _energy_figures(energy: EnergyStudy) -> Iterator[Figure]:
    """What comes and goes in a day of each period, and for how long the banks last."""
    for balance in energy.balances:
        yield Figure(energy.name, "", f"{balance.name}: used a day", balance.used)
        for quantity, value in (
            ("harvest a day, at least", balance.least),
            ("harvest a day, at most", balance.most),
            ("harvest, clearest sky", balance.limit),
        ):
            if value is not None:
                yield Figure(energy.name, "", f"{balance.name}: {quantity}", value)
    yield Figure(energy.name, "", "usable energy", energy.usable)
    if energy.autonomy is not None:
        yield Figure(energy.name, "", "days without sun", energy.autonomy)


def _reading_figures(readings: ReadingsSection) -> Iterator[Figure]:
    """What was read, beside what is expected."""
    for reading in readings.at_arrays:
        for finds in readings.finds(reading):
            what = f"smallest loss of {finds.words} that it finds"
            yield Figure(reading.name, "", what, finds.share)
        for what, shown, of in (
            ("open-circuit voltage", reading.taken.voc, "voc"),
            ("short-circuit current", reading.taken.isc, "isc"),
        ):
            if shown is None or not reading.expected.decidable:
                continue
            band: Band = getattr(reading.expected, of)
            yield Figure(reading.name, "", f"{what} read", shown)
            yield Figure(reading.name, "", f"{what} expected", band.expected)
            yield Figure(reading.name, "", f"{what} at least", band.low)
            yield Figure(reading.name, "", f"{what} at most", band.high)
        cold, power = reading.explained.cold, reading.stands.power
        if cold is not None and reading.expected.decidable:
            yield Figure(reading.name, "coldest", "cold voltage by the reading", cold.expected)
        if power is not None:
            yield Figure(reading.name, "", "power read", power.shown)
            yield Figure(reading.name, "", "power expected", power.given)
    for course in readings.courses:
        what = f"{course.words} over its curve"
        if course.quantity == "day":
            what = "yield over that of a clear day"
        yield Figure(course.where, "", f"{what}, in the mean", course.mean)
        yield Figure(course.where, "", f"{what}, at worst", course.worst.share)
        if course.per_year is not None:
            yield Figure(course.where, "", f"{what}, change in a year", course.per_year)
        if course.found is not None:
            words = f"smallest loss of {course.words} that the mean finds"
            yield Figure(course.where, "", words, course.found)
    for joint in readings.at_joints:
        for what, value in (("drop", joint.drop), ("rise over the air", joint.rise)):
            if value is not None:
                yield Figure(joint.name, "", what, value)
    for charge in readings.of_charging:
        if charge.lost is not None:
            yield Figure(charge.name, "", "voltage lost on the way", charge.lost)


def _bus_figures(study: Study) -> Iterator[Figure]:
    """What comes into banks and goes out of them, and what alternators are asked for."""
    for charging in study.charging.of_banks:
        yield Figure(charging.bank.name, "", "charge current, all at once", charging.current)
    for drawn in study.wiring.discharging:
        names = enumerated(bank.name for bank in drawn.banks)
        yield Figure(names, "", "current when everything runs", drawn.current)
        yield Figure(names, "", "discharge limit", drawn.limit)
    for sharing in study.wiring.sharing:
        for bank, share in zip(sharing.banks, sharing.shares, strict=True):
            yield Figure(bank.name, "", "share of the largest current", share)
    for load in study.charging.alternator_loads:
        yield Figure("alternators", "", "drawn by vehicle chargers", load.current)
        yield Figure("alternators", "", "rated current", load.rating)
    for fed in study.charging.lithium_on_alternators:
        names = enumerated(bank.name for bank in fed.banks)
        yield Figure(names, "", "taken from the alternator", fed.current)


def _wire_figures(wire: WireStudy) -> Iterator[Figure]:
    if wire.current is not None:
        yield Figure(wire.name, "", "lasting current", wire.current)
    if isinstance(wire.carrying, Carrying):
        yield Figure(wire.name, "", "ampacity", wire.carrying.value)
        yield Figure(wire.name, "", "largest overcurrent device", wire.carrying.device_limit)
    yield Figure(wire.name, "", "resistance of one pole", wire.resistance)
    if wire.drop is not None and wire.loss is not None:
        yield Figure(wire.name, "", "voltage drop", wire.drop)
        yield Figure(wire.name, "", "power lost", wire.loss)


def _fault_figures(fault: Fault) -> Iterator[Figure]:
    """A short in a stretch of wire: what each source drives, and what lasts and why."""
    for feed in fault.feeds:
        if feed.prospective is not None:
            quantity = f"short, from {feed.source}"
            yield Figure(fault.name, "", quantity, feed.prospective)
        if feed.to_chassis is not None:
            yield Figure(fault.name, "", f"to chassis, from {feed.source}", feed.to_chassis)
        if math.isfinite(feed.sustained.number):
            quantity = f"short, lasting, from {feed.source}: {feed.verdict}"
            yield Figure(fault.name, "", quantity, feed.sustained)
    if fault.prospective is not None:
        yield Figure(fault.name, "", "short, from all sources", fault.prospective)
