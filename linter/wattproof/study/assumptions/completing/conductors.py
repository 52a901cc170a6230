"""Sizes and lengths of wires, by the devices in them, by what they carry and by where they lead."""

from __future__ import annotations

import math
from collections.abc import Iterable

from wattproof.physics.conductors import gauge_area_mm2
from wattproof.plan.datasheets import CableSheet
from wattproof.plan.terminals import pole_of, without_pole
from wattproof.plan.wiring import TRAILER_PLUGS, Inline, Wire
from wattproof.quantities import Quantity
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.completing import copper, voltages
from wattproof.study.assumptions.completing.filling import SQUARE_MM, Figure, Filling
from wattproof.working import Assumption, Supposed


def sizes(filling: Filling) -> None:
    wires_of: dict[str, list[Wire]] = {}
    for wire in filling.plan.wires.values():
        wires_of.setdefault(wire.cable, []).append(wire)
    sheets = dict(filling.plan.datasheets.cables)
    bonding = {bond.cable for bond in filling.plan.bonds.values()}
    bonding |= {bond.cable for bond in filling.plan.frame_bonds.values()}
    for name in sorted(sheets, key=bonding.__contains__):
        largest = _largest(filling, sheets, wires_of) if name in bonding else None
        sheets[name] = _cable(filling, sheets[name], wires_of.get(name, []), largest)
    filling.put_sheets("cables", sheets)


def _largest(
    filling: Filling, sheets: dict[str, CableSheet], wires_of: dict[str, list[Wire]]
) -> Figure | None:
    """The size (mm²) of a bond: that of the largest conductor, as is asked for at the most."""
    areas = [
        sheet.size.value / SQUARE_MM * int(wire.parallel or 1)
        for name, sheet in sheets.items()
        if sheet.size is not None
        for wire in wires_of.get(name, ())
    ]
    if not areas:
        return None
    return Figure(max(areas), "as large as the largest conductor", reach=(labels.THIN_BOND,))


def _cable(
    filling: Filling, sheet: CableSheet, wires: Iterable[Wire], bond: Figure | None = None
) -> CableSheet:
    """A cable with a size. bond: that of one which bonds something, if only that."""
    if sheet.size is not None:
        return sheet
    sizes = [_size(filling, wire) for wire in wires] or [bond or Figure(labels.OTHER_CABLE.value)]
    largest = max(sizes, key=lambda size: size.value)
    reaches = (*largest.reach, *((*bond.reach, bond.value) if bond is not None else ()))
    reach = tuple(end * SQUARE_MM for end in reaches)
    thickest = gauge_area_mm2(labels.THICKEST)
    bound = thickest * SQUARE_MM if largest.value < thickest else math.inf
    size = Figure(largest.value * SQUARE_MM, largest.why, reach=reach, bound=bound)
    return filling.part("cables", sheet, ("size", labels.NO_SIZE, "conductor size", size))


def _size(filling: Filling, wire: Wire) -> Figure:
    """A usual size (mm²): behind the fuse in the wire, for what its device draws, or by place.

    Several conductors in parallel share what is drawn. A negative is as large as its positive.
    """
    count = int(wire.parallel or 1)
    if told := _ratings_in(filling, wire):
        return Figure(copper.sold_for(max(told) / count), "behind the device in it")
    beside = _positives_beside(filling, wire)
    if areas := [area for each in beside if (area := copper_of(filling, each)) is not None]:
        return Figure(max(areas) / count, "as large as its positive")
    if told := [amps for each in beside for amps in _ratings_in(filling, each)]:
        return Figure(copper.sold_for(max(told) / count), "behind the device in its positive")
    if told := _ratings_before(filling, wire):
        return Figure(copper.sold_for(max(told) / count), "behind the device before it")
    drawn = [
        amps
        for end in wire.components
        if (amps := drawn_by(filling, end) or _passed(filling, end, {str(wire.name)})) is not None
    ]
    if drawn:
        return Figure(
            copper.sold_for(labels.SPARE.value * min(drawn) / count), "by what it carries"
        )
    if _on_array(filling, wire):
        return Figure(labels.ARRAY_CABLE.value)
    if started := _between_engines(filling, wire):
        return Figure(copper.sold_for(labels.SPARE.value * started), "by what starts the engines")
    if _is_link(filling, wire):
        return Figure(labels.LINK_CABLE.value)
    return Figure(labels.OTHER_CABLE.value)


def _between_engines(filling: Filling, wire: Wire) -> float:
    """What a starter draws (A) where a wire joins the batteries of two engines; else 0 A."""
    if not all(end in filling.plan.batteries for end in wire.components):
        return 0.0
    starters = filling.plan.starters
    drawn = [
        max((starters[e].current.value for e in ends if e in starters), default=0.0)
        for end in wire.components
        if (ends := [e for each in filling.wires_at(end) for e in each.components])
    ]
    return max(drawn) if min(drawn, default=0.0) else 0.0


def _ratings_in(filling: Filling, wire: Wire) -> list[float]:
    """The ratings (A) of the fuses and breakers in a wire that tell one, else of its switches.

    The copper goes by what opens; a switch may be far larger.
    """
    plan = filling.plan
    names = [str(inline.device) for inline in wire.inline]
    opening = [plan.fuses.get(name) or plan.breakers.get(name) for name in names]
    others = [plan.in_the_way.get(name) for name in names]
    for devices in (opening, others):
        ratings = [getattr(device, "rating", None) for device in devices]
        if told := [rating.value for rating in ratings if rating is not None]:
            return told
    return []


def _ratings_before(filling: Filling, wire: Wire) -> list[float]:
    """The ratings (A) before a bar of one consumer alone, where nobody tells what that draws.

    They were chosen for that consumer, and say more of it than what is usual.
    """
    if not any(_draws_untold(filling, name) for name in wire.components):
        return []
    others = _others_at_bar(filling, wire)
    if any(filling.plan.batteries.keys().isdisjoint(other.components) for other in others):
        return []
    return [rating for other in others for rating in _ratings_in(filling, other)]


def _others_at_bar(filling: Filling, wire: Wire) -> list[Wire]:
    """The other wires at the bar that a wire leads to; none where it leads to none."""
    bar = next((name for name in wire.components if name in filling.plan.busbars), None)
    return [w for w in filling.wires_at(bar) if w.name != wire.name] if bar is not None else []


def _draws_untold(filling: Filling, name: str) -> bool:
    """True for a consumer of which neither current nor power is told."""
    load, inverter = filling.plan.all_loads.get(name), filling.plan.all_inverters.get(name)
    told = inverter.power if inverter is not None else load and (load.current or load.power)
    return isinstance(told, Supposed)


def _positives_beside(filling: Filling, wire: Wire) -> list[Wire]:
    """The positives of a negative alone: those at the end where the fewest of them are.

    At a bar those of others are too.
    """
    if pole_of(wire) != "negative":
        return []
    at_ends = (filling.wires_at(n) for n in wire.components if n not in filling.plan.busbars)
    found = ([each for each in at_end if pole_of(each) == "positive"] for at_end in at_ends)
    return min(filter(None, found), key=len, default=[])


def copper_of(filling: Filling, wire: Wire) -> float | None:
    """All conductors of a wire together (mm²); None where the size of its cable is not told."""
    sheet = filling.plan.datasheets.cables.get(wire.cable)
    if sheet is None or sheet.size is None:
        return None
    return sheet.size.value / SQUARE_MM * int(wire.parallel or 1)


def _passed(filling: Filling, name: str, seen: set[str]) -> float | None:
    """The most (A) that one thing draws or gives through a selector or an isolator."""
    if name not in filling.plan.selectors and name not in filling.plan.diode_isolators:
        return None
    found: list[float] = []
    for wire in filling.wires_at(name):
        if str(wire.name) in seen:
            continue
        seen.add(str(wire.name))
        for end in wire.components:
            amps = None if end == name else drawn_by(filling, end) or _passed(filling, end, seen)
            found += [amps] if amps is not None else []
    return max(found, default=None)


def drawn_by(filling: Filling, name: str) -> float | None:
    """Current (A) that the component at an end of a wire draws or gives; None for joints."""
    plan = filling.plan
    if (load := plan.all_loads.get(name)) is not None:
        if load.current is not None:
            return load.current.value
        assert load.power is not None
        return load.power.value / voltages.told_or_usual(filling, name, load.nominal)
    if (inverter := plan.all_inverters.get(name)) is not None:
        return (
            inverter.power.value
            / labels.AT_FULL_POWER
            / voltages.told_or_usual(filling, name, inverter.nominal)
        )
    if (controller := plan.controllers.get(name)) is not None:
        return controller.max_output_current.value
    if (charger := plan.all_chargers.get(name)) is not None:
        return charger.max_output_current.value
    starter = plan.starters.get(name)
    return starter.current.value if starter is not None else None


def _is_link(filling: Filling, wire: Wire) -> bool:
    """True for a short bar or cable beside a battery, with nothing in it or in its positive."""
    plan = filling.plan
    if wire.inline or any(each.inline for each in _positives_beside(filling, wire)):
        return False
    ends = [end in plan.batteries for end in wire.components]
    bars = [end in plan.busbars or end in plan.batteries for end in wire.components]
    return any(ends) and all(bars)


def _on_array(filling: Filling, wire: Wire) -> bool:
    plan = filling.plan
    return any(
        end in plan.strings or end in plan.combiners or port.endswith(".pv")
        for end, port in zip(
            wire.components, (without_pole(wire.start), without_pole(wire.to)), strict=True
        )
    )


def lengths(filling: Filling) -> None:
    filling.put("wires", {n: _measured(filling, w) for n, w in filling.plan.wires.items()})


def _measured(filling: Filling, wire: Wire) -> Wire:
    wire = _placed(filling, wire)
    if wire.length is not None:
        return wire
    if _on_array(filling, wire):
        usual = Figure(labels.ARRAY_LENGTH.value)
    elif told := [w.length.value for w in _positives_beside(filling, wire) if w.length is not None]:
        usual = Figure(max(told), "as long as its positive")
    elif told := _beside_at_bar(filling, wire):
        usual = Figure(max(sorted(told), key=told.count), "as long as those beside it")
    elif wire.plug in TRAILER_PLUGS:
        usual = Figure(labels.TRAILER_LENGTH.value, "as through the plug of a trailer")
    else:
        link = _is_link(filling, wire)
        usual = Figure(labels.LINK_LENGTH.value if link else labels.LENGTH.value)
    room = sum(_farthest(i.distance) for i in wire.inline if i.distance is not None)
    if wire.plug in TRAILER_PLUGS:
        room = max(room, labels.SHORT_TRAILER_LENGTH.value)
    figure = usual._replace(value=max(usual.value, room), least=room)
    return filling.part("wires", wire, ("length", labels.NO_LENGTH, "length", figure))


def _beside_at_bar(filling: Filling, wire: Wire) -> list[float]:
    """The lengths (m) told of the leads from other batteries to the bar that a battery's leads to.

    Leads of batteries in parallel are made alike.
    """
    batteries = filling.plan.batteries.keys()
    if batteries.isdisjoint(wire.components):
        return []
    return [
        each.length.value
        for each in _others_at_bar(filling, wire)
        if each.length is not None
        and each.cable == wire.cable
        and pole_of(each) == pole_of(wire)
        and not batteries.isdisjoint(each.components)
    ]


def _placed(filling: Filling, wire: Wire) -> Wire:
    """The wire with its devices near the ends that the plan tells of them."""
    if all(i.from_end is None or i.distance is not None for i in wire.inline):
        return wire
    most = wire.length.value / len(wire.inline) if wire.length is not None else math.inf
    return wire.model_copy(update={"inline": [_near(filling, i, most) for i in wire.inline]})


def _near(filling: Filling, inline: Inline, most: float) -> Inline:
    """The device with a distance of at most so many metres from its end."""
    if inline.from_end is None or inline.distance is not None:
        return inline
    place = inline.unknown.get("distance") or inline.device.place
    metres, subject = min(labels.NEAR_AN_END.value, most), str(inline.device)
    silence = labels.NO_DISTANCE
    amount = filling.amount(metres, "m")
    says = silence.says.format(subject=subject, shown=amount)
    assumption = Assumption(
        silence.key, subject, says, silence.instead, place, silence.look_up, guess=silence.guess
    )
    ends = (silence.figure("kind", "", metres), min(silence.figure("harsh", "", metres), most))
    distance = Supposed.of(metres, "length", place, assumption, ends)
    return inline.model_copy(update={"distance": distance})


def _farthest(distance: Quantity) -> float:
    """A distance (m) from an end, at the most where it is not told."""
    return distance.ends[1] if isinstance(distance, Supposed) else distance.value
