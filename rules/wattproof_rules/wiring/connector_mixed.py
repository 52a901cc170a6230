"""Connectors of unlike makes or styles that are plugged into each other."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.array.connectors import Mated, mated
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33(C)",
        "2020-2023",
        "mating connectors are of one maker and type, or listed for each other",
        verified=True,
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

MORE = """\
datasheets:
  modules:
    soft-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
               voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
               pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
               connector: {style: locking-pv, make: A}}
"""


@rule(
    id="connector-mixed",
    summary="Makes and styles of connectors that are plugged into each other.",
    covers=("Connectors of unlike make mated",),
    level="warning",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="Connectors of two makers may click together and still not fit: a tenth of a "
    "millimetre or another plating is enough for a contact whose resistance creeps up over "
    "months. Heat grows with the resistance, and the current is the usual one, so no fuse opens. "
    "Mixed pairs are the best documented cause of charred joints in arrays.",
    caution=warning("A mixed pair can char and burn on the roof under its usual current."),
    fine="Where both makers state in writing that the pair is approved. *Compatible* on a shop's "
    "page is not that.",
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit(
            "max_system_voltage: 600 V",
            "max_system_voltage: 600 V,\n"
            "                connector: {style: locking-pv, make: A, rating: 30 A}",
        ),
        Edit("module: rigid-100, series: 2", "modules: [rigid-100, soft-100]"),
        more=MORE,
    ),
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
                message=(
                    f"the connectors of `{pair.one.name}` and `{pair.other.name}` are "
                    f"plugged into each other and differ in {pair.unlike}"
                ),
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
