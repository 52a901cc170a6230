"""Connectors of unlike makes or styles that are plugged into each other."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.array.connectors import Mated, mated

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33(C)",
        "2020-2023",
        "mating connectors are of one maker and type, or listed for each other",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62852; IEC TR 63225",
        "2014 with A1:2020; 2019",
        "connectors are mated only with those of the same maker and type, for which they are "
        "tested together",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2012-2021",
        "only connectors of the same maker and type are mated; unlike ones have started fires",
        verified=True,
    ),
    "common practice": Clause(
        "IEC 62852; IEC TR 63225",
        "2014 with A1:2020; 2019",
        "connectors are mated only with those of the same maker and type",
        verified=False,
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    soft-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
               voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
               pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
               connector: {style: locking-pv, make: A}}
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
                connector: {style: locking-pv, make: A, rating: 30 A}}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {modules: [rigid-100, soft-100], mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="connector-mixed",
    summary="Makes and styles of connectors that are plugged into each other.",
    level="warning",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="Connectors of two makers may click together and still not fit: a tenth of a "
    "millimetre or another plating is enough for a contact whose resistance creeps up over "
    "months. Heat grows with the resistance, and the current is the usual one, so no fuse opens. "
    "Mixed pairs are the best documented cause of charred joints in arrays.",
    caution=warning("A mixed pair can char and burn on the roof under its usual current."),
    sound=SOUND,
    faulty=Edit("make: A}}", "make: B}}"),
)
def connector_mixed(study: Study) -> Iterator[Observation]:
    seen: set[frozenset[str]] = set()
    for array in study.array.arrays:
        for pair in mated(array, study.plan):
            names = frozenset((str(pair.one.name), str(pair.other.name)))
            if not pair.unlike or names in seen:
                continue
            seen.add(names)
            yield Observation(
                message=f"the connectors of `{pair.one.name}` and `{pair.other.name}` are plugged "
                f"into each other and are of unlike {pair.unlike}",
                on=(pair.at, pair.one)
                if pair.at is pair.other
                else (pair.at, pair.one, pair.other),
                remedy=_remedy(pair),
            )


def _remedy(pair: Mated) -> Remedy:
    words = (
        "put connectors of one make and style on both halves, with the tool of their maker, or a "
        "short lead with the right half at each end"
    )
    one, other = pair.one.connector, pair.other.connector
    assert one is not None
    assert other is not None
    owner = "" if pair.at is pair.other else f"modules.{pair.other.name}."
    changes = [
        Change(str(pair.at.name), f"{owner}connector.{key}", str(there))
        for key, here, there in (("make", other.make, one.make), ("style", other.style, one.style))
        if here is not None and there is not None and here.casefold() != there.casefold()
    ]
    return Remedy(words, (tuple(changes),))
