"""Devices that can spark, in places where gas or petrol vapour can gather."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    danger,
    practice,
    rule,
)
from wattproof.study import Study
from wattproof.study.site.places import NearBy, Placed
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "33 CFR 183.410; ABYC E-11",
        "1977 and later",
        "electrical parts in petrol engine and tank spaces are of a kind that does not ignite "
        "petrol vapour",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 8846; ISO 13297",
        "1990; 2022",
        "electrical devices where gas or petrol vapour can gather are protected against igniting "
        "it",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5601.2",
        "2020",
        "nothing that can light gas is in a locker of gas bottles or near its vents",
        verified=False,
    ),
    "common practice": practice(
        "nothing that can spark is in a gas locker or where petrol vapour can gather, unless it is "
        "marked as protected against ignition"
    ),
}

MORE = """\
setting: boat
code: abyc-e11
site: {coldest: 0 °C, hottest: 40 °C,
       places: {arch: {ambient: 65 °C}, bilge: {ambient: 45 °C, petrol: true}}}
strings:
  arch-string: {module: rigid-100, series: 3, mounting: open-rack}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true,
                ignition_protected: true}
"""


@rule(
    id="spark-in-gas-space",
    summary="Fuses, breakers, switches, controllers and chargers where gas or vapour can gather.",
    covers=("Sparks in gas or petrol vapour",),
    level="error",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="Gas from bottles and petrol vapour are heavier than air and lie in lockers and "
    "bilges like water. A switch, a relay in a controller or a fuse that opens makes a spark that "
    "is far hotter than it takes to light them. Parts marked as protected against ignition are "
    "built so that a spark inside cannot reach the vapour outside.",
    caution=danger("A spark in a space with gas or petrol vapour blows it up, with those in it."),
    since="0.1.0",
    sound=plan(
        "van",
        Edit("kind: battery", "kind: marine"),
        Edit("from: roof-string", "from: arch-string"),
        Edit("place: [roof, cabin]", "place: arch"),
        Edit("place: cabin", "place: bilge"),
        less=("strings.roof-string",),
        more=MORE,
    ),
    faulty=Edit("ignition_protected: true", "ignition_protected: false"),
)
def spark_in_gas_space(study: Study) -> Iterator[Observation]:
    banks = {str(bank.name) for bank in study.battery.banks}
    for placed in study.site.placed:
        place, component = placed.place, placed.component
        if component.name in banks or not (place.gas_locker or place.petrol):
            continue
        if study.plan.setting == "vehicle" and getattr(component, "kind", "") == "alternator":
            continue  # the engine's own, under an open bonnet
        if not study.site.is_ignition_protected(component):
            yield _found(placed)
    for near in study.site.near_by:
        in_petrol = near.place.petrol and study.plan.setting != "vehicle"  # open under a bonnet
        if not (near.place.gas_locker or in_petrol):
            continue
        if not study.site.is_ignition_protected(near.component) and study.site.is_there(near):
            yield _found(near)


def _found(placed: Placed | NearBy) -> Observation:
    place, component = placed.place, placed.component
    kind = "a gas locker" if place.gas_locker else "where petrol vapour can gather"
    return Observation(
        message=f"`{component.name}` is in `{place.name}`, {kind}, and "
        "it is not protected against ignition",
        on=(component, place),
        remedy=Remedy(
            f"move `{component.name}` out of `{place.name}`; or use one that is marked as "
            "protected against ignition, and write `ignition_protected: true`",
            ((Change(component.name, "ignition_protected", "true"),),),
        ),
        cause=str(place.name),
    )
