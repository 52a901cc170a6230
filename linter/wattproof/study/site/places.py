"""What stands where: the surroundings of banks, and of what can make a spark."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.circuit import Circuit
from wattproof.plan.devices import Device
from wattproof.plan.fields import Named, component_of
from wattproof.plan.heating import Heater
from wattproof.plan.power import Battery, Charger, Controller, Inverter
from wattproof.plan.root import Plan
from wattproof.plan.site import Surroundings as Surroundings
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import by_name
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.site.climate import Climate
from wattproof.working import Value, declared


@record
class Placed:
    """A component and the place that it is in."""

    component: Device | Controller | Charger | Inverter | Starter | Battery
    place: Surroundings


@record
class NearBy:
    """A device a hand's breadth of wire from a part, and the place that this is in."""

    component: Device
    place: Surroundings
    part: str
    distance: Quantity


HAND: Final = 0.3
"""Length (m) of wire within which a device is in the place of the part that the wire leads to."""


def near_by(plan: Plan) -> Iterator[NearBy]:
    """Devices so near to a part of a known place, where nothing names theirs.

    A wire that names several places, that of the part among them, does not.
    """
    components = by_name(plan)
    for wire in plan.wires.values():
        ways = wire.place or ()
        for inline in wire.inline if len(ways) != 1 else ():
            device = components.get(inline.device)
            length = inline.distance
            if not isinstance(device, Device) or device.place is not None or length is None:
                continue
            end = component_of(wire.start if inline.from_end == "from" else wire.to)
            place = getattr(components.get(end), "place", None)
            if place in (ways or (place,)) and place is not None and 0.0 < length.value <= HAND:
                yield NearBy(device, plan.site.places[place], end, length)


def placed(plan: Plan) -> Iterator[Placed]:
    """Banks and all that can make a spark, where the plan says in what place they are.

    A device in a wire that names one place only is in that place, one that is bolted to a part or
    that each pack of a bank has in the place of that.
    """
    on_the_way = {**dict(_on_the_way(plan)), **dict(_at_a_part(plan))}
    families = (
        "fuses",
        "breakers",
        "switches",
        "selectors",
        "arc_fault_devices",
        "diode_isolators",
        "controllers",
        "power_boxes",
        "inverters",
        "chargers",
        "inverter_chargers",
        "converters",
        "starters",
        "batteries",
    )
    for family in families:
        for name, component in getattr(plan, family).items():
            place = component.place or on_the_way.get(name)
            if place is not None:
                yield Placed(component, plan.site.places[place])


def coldest_of(component: Named, plan: Plan, climate: Climate) -> Value:
    """Coldest air around a component (°C): of its place, where that is warmer than outside."""
    name = getattr(component, "place", None)
    place = plan.site.places[name] if name is not None else None
    if place is None or place.coldest is None:
        return climate.coldest
    return declared(place.coldest, f"Tcold({place.name})", f"coldest air in {place.name}")


def coldest_cells_of(battery: Battery, circuit: Circuit, climate: Climate) -> Value:
    """How cold a battery gets (°C): as the air around it, or as its heater keeps it."""
    air = coldest_of(battery, circuit.plan, climate)
    kept = (kept for _, kept in heated(battery, circuit) if kept.number > air.number)
    return next(kept, air)


def heated(battery: Battery, circuit: Circuit) -> Iterator[tuple[Heater, Value]]:
    """Every heater of a battery that something feeds, with the temperature that it keeps (°C)."""
    cold = {*(each.component.name for each in circuit.unused), *(c.name for c in circuit.unfed)}
    for name, heater in circuit.plan.heaters.items():
        if heater.warms == battery.name and heater.keeps is not None and name not in cold:
            yield heater, declared(heater.keeps, f"Tkeep({name})", f"what {name} keeps")


def hottest_of(component: Named, plan: Plan, assume: Assumer) -> Value | None:
    """Hottest air around a component (°C); None where neither the plan nor its place tells."""
    name = getattr(component, "place", None)
    place = plan.site.places[name] if name is not None else None
    if place is None:
        return None
    if place.ambient is not None:
        return declared(place.ambient, f"Ta({place.name})", f"hottest air in {place.name}")
    if place.engine_space:
        return assume.ambient(False, True, str(place.name), place.at)
    return None


def in_sun(component: Named, plan: Plan) -> bool:
    """True where the sun reaches a device or joint: in its place, or by what is joined in it.

    A device in a wire counts where all of the wire's places are in the sun.
    """
    at_it = [w for w in plan.wires.values() if component.name in (w.start, w.to)]
    through = [w for w in plan.wires.values() if component.name in {i.device for i in w.inline}]
    own = getattr(component, "place", None)
    if own is not None:
        names = [own]
    elif through:
        names = [name for wire in through for name in wire.place or ()]
    else:
        names = [w.place[0] for w in at_it if w.place is not None and len(w.place) == 1]
    return bool(names) and all(plan.site.places[name].sunlight for name in names)


def _at_a_part(plan: Plan) -> Iterator[tuple[str, str]]:
    """Devices that are bolted to something of a known place, or to each pack of it."""
    components = by_name(plan)
    for wire in plan.wires.values():
        for inline in wire.inline:
            if inline.distance is not None and inline.distance.value == 0.0:
                end = wire.start if inline.from_end == "from" else wire.to
                place = getattr(components.get(component_of(end)), "place", None)
                yield from [(inline.device, place)] if place is not None else []
    for battery in plan.batteries.values():
        own = battery.each_pack
        if own is not None and own.fuse is not None and battery.place is not None:
            yield own.fuse, battery.place


def _on_the_way(plan: Plan) -> Iterator[tuple[str, str]]:
    """Devices in wires of one place only, and between wires that are all in the same."""
    around: dict[str, set[str]] = {}
    for wire in plan.wires.values():
        places = [str(place) for place in wire.place or ()] or [""]
        for end in wire.components:
            around.setdefault(end, set()).update(places)
        for inline in wire.inline if len(places) == 1 and places[0] else ():
            yield inline.device, places[0]
    for name in plan.in_the_way:
        [place, *others] = around.get(name, {""})
        if place and not others:
            yield name, place
