"""What an array on a building must have besides, by its voltage."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import TableValue
from wattproof.rule import Clause, Edit, Observation, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds
from wattproof.study.site.climate import from_table
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.11, 690.12, 690.13, 690.31(D), 690.41(B), 690.56",
        "2017-2023",
        "on or in a building an array has a disconnect, falls to a safe voltage by a rapid "
        "shutdown, is cut off by a fault to earth where it has more than 30 V or 8 A, from 80 V on "
        "has protection against arcs, and is labelled where it is cut off and along its cables",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-7-712; IEC 62548",
        "2017; 2016",
        "an array on a building has a disconnect that opens under load, its insulation against "
        "earth is watched, its cables are laid so that a fault does not set the building on fire, "
        "and labels tell of it",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "an array on a building can be cut off, near the array and where it enters the equipment",
        verified=False,
    ),
    "common practice": Clause(
        "building code of the place",
        "",
        "an array on a building falls under the building code, which asks for a disconnect and "
        "often for more",
        verified=False,
    ),
}

EARTH_FROM_VOLTS = 30.0
EARTH_FROM_AMPS = 8.0

MORE = """\
setting: cabin
site: {coldest: -18 °C, hottest: 40 °C,
       places: {rack: {ambient: 65 °C, on_building: false}, hut: {ambient: 35 °C}}}
strings:
  rack-string: {module: rigid-100, series: 2, mounting: open-rack, place: rack}
"""


@rule(
    id="building-rules-apply",
    summary="What building codes ask of an array that is on a building.",
    covers=(
        "An array on a building that leaks to earth",
        "What building codes ask for: disconnect, shutdown, labels",
    ),
    level="note",
    hazard="legal",
    part="plan",
    basis=BASIS,
    local="the building authority and the fire service of the place",
    explanation="An array on a roof that people live under is judged as part of the building. In "
    "sun it cannot be switched off at the source, so fire crews meet live cables, and a bad joint "
    "or a leak to earth can burn on without blowing a fuse. Building codes therefore ask for means "
    "to cut it off, for labels and, from a certain voltage on, for detectors of leaks and arcs. A "
    "rack away from the house is often free of this.",
    fine="Where the array stands away from every building that people live in, or the authority "
    "has agreed in writing to something else.",
    settings=("cabin",),
    elsewhere="building codes hold for buildings",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("from: roof-string", "from: rack-string"),
        Edit("roof, cabin", "rack, hut"),
        Edit("place: cabin", "place: hut"),
        less=("strings.roof-string",),
        more=MORE,
    ),
    faulty=Edit("on_building: false", "on_building: true"),
)
def building_rules_apply(study: Study) -> Iterator[Observation]:
    on_building = {
        array: strings
        for array in study.array.arrays
        if (strings := study.array.on_building(array))
    }
    if not on_building:
        return
    highest = max((array.voc("coldest") for array in on_building), key=lambda v: v.number)
    declared = tuple(string for found in on_building.values() for string in found)
    leaking = [array for array in on_building if _leaks(array)]
    names = ", ".join(f"`{string.name}`" for string in declared)
    wants = [
        demand.asks
        for demand in study.codes.array.building_demands
        if _applies(demand.from_volts, highest) and not demand.against
    ]
    if leaking:
        wants.append("protection against faults to earth")
    wants.append("labels where it is cut off and along its cables")
    unguarded = [a.controller for a in leaking if a.controller.ground_fault_protection is False]
    yield Observation(
        message=f"{names} on a building, up to {highest}: building rules ask for "
        + ", ".join(wants),
        on=(*declared, *unguarded),
        values=(highest, *(array.isc("bright") for array in leaking)),
        remedy="ask the building authority, and show it this list: " + "; ".join(wants),
        level="warning" if unguarded else None,
    )


def _leaks(array: ArrayStudy) -> bool:
    """True where protection against faults to earth is asked for, and not said to be there."""
    if array.controller.ground_fault_protection:
        return False
    volts, amps = array.voc("coldest"), array.isc("bright")
    return exceeds(volts, EARTH_FROM_VOLTS) or exceeds(amps, EARTH_FROM_AMPS)


def _applies(limit: TableValue | None, highest: Value) -> bool:
    return limit is None or not exceeds(from_table(limit, "Uleast"), highest)
