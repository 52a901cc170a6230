"""What stands on controllers, chargers, inverters, loads, starters and arresters."""

from __future__ import annotations

import math
from typing import Any, TypeVar

from wattproof.plan.boxes import PowerBox
from wattproof.plan.datasheets import ModuleSheet
from wattproof.plan.fields import Named
from wattproof.plan.power import Controller, Load, is_alternator
from wattproof.plan.terminals import without_pole
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.completing import copper, voltages
from wattproof.study.assumptions.completing.filling import SQUARE_MM, Figure, Filling

_Part = TypeVar("_Part", bound=Named)


def units(filling: Filling) -> None:
    """What stands on controllers, chargers, inverters, loads, starters and arresters."""
    for family in ("controllers", "power_boxes"):
        parts = getattr(filling.plan, family)
        filling.put(family, {n: _controller(filling, family, c) for n, c in parts.items()})
    for family in ("chargers", "inverter_chargers", "converters"):
        filling.put(
            family,
            {n: _charger(filling, family, c) for n, c in getattr(filling.plan, family).items()},
        )
    turning = ("current", labels.NO_CURRENT, "current", Figure(labels.STARTER_CURRENT.value))
    arresting = ("voltage", labels.NO_ARRESTER_VOLTAGE, "voltage", _arrester(filling))
    for family, wanted in (("starters", turning), ("arresters", arresting)):
        parts = getattr(filling.plan, family)
        filling.put(family, {n: filling.part(family, p, wanted) for n, p in parts.items()})
    for family in ("inverters", "inverter_chargers"):
        parts = getattr(filling.plan, family)
        filling.put(family, {n: _inverter(filling, family, p) for n, p in parts.items()})
    for family in ("loads", "heaters"):
        filling.put(
            family, {n: _load(filling, family, x) for n, x in getattr(filling.plan, family).items()}
        )


def _inverter(filling: Filling, family: str, inverter: _Part) -> _Part:
    """An inverter with a power: what fits the cable and the devices that are told of it."""
    name = str(inverter.name)
    volts = voltages.told_or_usual(filling, name, getattr(inverter, "nominal", None))
    share = labels.AT_FULL_POWER * volts
    fits = _fitting(filling, name, labels.INVERTER_POWER.value / share)
    reach = (labels.SMALL_INVERTER,) if family == "inverters" else ()
    watts = Figure(fits.value * share, fits.why, reach=reach)
    return filling.part(family, inverter, ("power", labels.NO_POWER, "power", watts))


def _load(filling: Filling, family: str, load: Load) -> Load:
    if load.power is not None:
        return load
    amps = _fitting(filling, str(load.name), labels.LOAD_CURRENT.value)
    return filling.part(family, load, ("current", labels.NO_CURRENT, "current", amps))


def _controller(filling: Filling, family: str, unit: Controller) -> Controller:
    if family == "controllers":
        ends = ("pwm", "mppt")
        usual = labels.CONTROLLER.value
        unit = filling.word(unit, "kind", labels.NO_KIND, usual, "as is usual", ends)
    kind = str(unit.kind)
    asked = {*unit.unknown, *unit.open}
    told = unit.inputs and all(i.max_input_voltage is not None for i in unit.inputs.values())
    has_array = kind != "vehicle-charger" or _has_array(filling, unit)
    if not told and (has_array or "max_input_voltage" in asked):
        taken = labels.INPUT_VOLTAGE.value
        high = voltages.at(filling, str(unit.name)) > labels.TO_24_V.value and not unit.boost
        above = f"{kind} above 24 V"
        volts = _above_array(filling, taken[above if high and above in taken else kind])
        silence = labels.NO_INPUT_VOLTAGE
        unit = filling.part(family, unit, ("max_input_voltage", silence, "voltage", volts))
    if isinstance(unit, PowerBox):
        watts = Figure(labels.BOX_POWER.value)
        silence = labels.NO_INPUT_POWER
        return filling.part(family, unit, ("max_input_power", silence, "power", watts))
    amps = _for_array(filling, unit, labels.OUTPUT_CURRENT.value[kind])
    silence = labels.NO_OUTPUT_CURRENT
    return filling.part(family, unit, ("max_output_current", silence, "current", amps))


def _has_array(filling: Filling, unit: Controller) -> bool:
    """True where a wire leads to its solar input."""
    port = f"{unit.name}.pv"
    wires = filling.wires_at(str(unit.name))
    return any(port in (without_pole(wire.start), without_pole(wire.to)) for wire in wires)


def _arrester(filling: Filling) -> Figure:
    """The voltage (V) of a surge arrester: as is bought for the array, or any that is sold."""
    bought = _above_array(filling, labels.ARRESTER.value)
    return bought._replace(reach=labels.SOLD_ARRESTERS)


def _above_array(filling: Filling, least: float) -> Figure:
    """The highest input voltage (V) of a controller that is bought for the array.

    For one whose layout is still compared nothing was bought: by what is there one is chosen.
    """
    sheets = filling.plan.datasheets.modules
    volts = 0.0
    reach: tuple[float, ...] = ()
    for string in filling.plan.strings.values():
        members = [sheets[m] for m in string.modules or (string.module,) if m in sheets]
        layout = string.arrangement
        if layout is not None and layout.tried:
            reach = labels.SOLD_INPUTS
            continue
        count = int(string.series or 1) if layout is None else layout.in_series
        voc = sum(sheet.voc.value for sheet in members)
        volts = max(volts, voc if string.modules else voc * count)
    if volts <= least:
        return Figure(least, reach=reach)
    enough = (size for size in labels.SOLD_INPUTS if size >= labels.SPARE.value * volts)
    return Figure(next(enough, labels.SOLD_INPUTS[-1]), "as is bought for such an array")


def _for_array(filling: Filling, unit: Controller, least: float) -> Figure:
    """The output current (A) of a controller that is bought for the array: its equal share."""
    if unit.kind == "vehicle-charger":
        return Figure(least)
    sheets = filling.plan.datasheets.modules
    amps = watts = 0.0
    for string in filling.plan.strings.values():
        members = [sheets[m] for m in string.modules or (string.module,) if m in sheets]
        layout = string.arrangement
        count = int(string.series or 1) if layout is None else layout.in_series
        beside = 1 if layout is None else layout.in_parallel
        amps += beside * max((sheet.isc.value for sheet in members), default=0.0)
        each = sum(sheet.vmp.value * _imp(sheet) for sheet in members)
        watts += each * (1 if string.modules else count) * beside
    if unit.kind != "pwm":
        amps = watts / voltages.at(filling, str(unit.name))
    share = labels.SPARE.value * amps / len(filling.plan.controllers)
    enough = (size for size in labels.SOLD_CONTROLLERS if size >= max(share, least))
    return Figure(next(enough, labels.SOLD_CONTROLLERS[-1]), "as is bought for such an array")


def _imp(sheet: ModuleSheet) -> float:
    """Current at maximum power (A) of a label that is complete."""
    if sheet.imp is not None:
        return sheet.imp.value
    return sheet.pmax.value / sheet.vmp.value if sheet.pmax is not None else 0.0


def _charger(filling: Filling, family: str, unit: Any) -> Any:
    amps = _fitting(filling, str(unit.name), labels.CHARGER_CURRENT.value[str(unit.kind)])
    turns = is_alternator(unit)
    silence = labels.NO_ALTERNATOR_CURRENT if turns else labels.NO_OUTPUT_CURRENT
    return filling.part(family, unit, ("max_output_current", silence, "current", amps))


def _fitting(filling: Filling, name: str, usual: float) -> Figure:
    """The current (A) of something on wires whose devices or sizes are told: what fits them."""
    plan = filling.plan
    devices = plan.in_the_way
    told = []
    for wire in filling.wires_at(name):
        ratings = [getattr(devices.get(i.device), "rating", None) for i in wire.inline]
        told += [rating.value for rating in ratings if rating is not None]
        sheet = plan.datasheets.cables.get(wire.cable)
        if sheet is not None and sheet.size is not None:
            told.append(copper.fuse_on(sheet.size.value / SQUARE_MM * int(wire.parallel or 1)))
        for end in (without_pole(wire.start), without_pole(wire.to)):
            panel, _, way = end.partition(".")
            held = plan.distribution.get(panel)
            if held is not None and way in held.ways and held.ways[way].fuse is not None:
                told.append(held.ways[way].fuse.value)
    fits = min(told, default=math.inf) / labels.SPARE.value
    return Figure(fits, "as fits the wire on it") if fits < usual else Figure(usual)
