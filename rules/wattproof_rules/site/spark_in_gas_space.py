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
from wattproof.study.site.places import Placed

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

SOUND = """\
wattproof: 1
setting: boat
code: abyc-e11
site: {coldest: 0 °C, hottest: 40 °C,
       places: {arch: {ambient: 65 °C}, bilge: {ambient: 45 °C, petrol: true}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: marine, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  arch-string: {module: rigid-100, series: 3, mounting: open-rack}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true,
                ignition_protected: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: arch-string, to: tracker.pv, cable: pv-10, length: 4 m, place: arch,
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: bilge,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="spark-in-gas-space",
    summary="Fuses, breakers, switches, controllers and chargers where gas or vapour can gather.",
    level="error",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="Gas from bottles and petrol vapour are heavier than air and lie in lockers and "
    "bilges like water. A switch, a relay in a controller or a fuse that opens makes a spark that "
    "is far hotter than it takes to light them. Parts marked as protected against ignition are "
    "built so that a spark inside cannot reach the vapour outside.",
    caution=danger("A spark in a space with gas or petrol vapour blows it up, with those in it."),
    sound=SOUND,
    faulty=Edit("ignition_protected: true", "ignition_protected: false"),
    acceptable=False,
)
def spark_in_gas_space(study: Study) -> Iterator[Observation]:
    banks = {str(bank.name) for bank in study.battery.banks}
    for placed in study.site.placed:
        place, component = placed.place, placed.component
        if component.name in banks or not (place.gas_locker or place.petrol):
            continue
        if study.plan.setting == "vehicle" and getattr(component, "kind", "") == "alternator":
            continue  # the engine's own, under an open bonnet
        if not getattr(component, "ignition_protected", None):
            yield _found(placed)


def _found(placed: Placed) -> Observation:
    place, component = placed.place, placed.component
    unsaid = getattr(component, "ignition_protected", None) is None
    kind = "a gas locker" if place.gas_locker else "where petrol vapour can gather"
    return Observation(
        message=f"`{component.name}` is in `{place.name}`, {kind}, and "
        + (
            "whether it is protected against ignition is not stated"
            if unsaid
            else "it is not protected against ignition"
        ),
        on=(component, place),
        remedy=Remedy(
            f"move `{component.name}` out of `{place.name}`; or use one that is marked as "
            "protected against ignition, and write `ignition_protected: true`",
            ((Change(component.name, "ignition_protected", "true"),),),
        ),
        level="warning" if unsaid else None,
        undecided=unsaid,
    )
