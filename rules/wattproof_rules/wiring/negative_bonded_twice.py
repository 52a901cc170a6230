"""How often a negative is tied to the chassis or the water."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.42; NEC 250.164",
        "2017-2023",
        "a direct-current system that is grounded is grounded at one point",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11",
        "2003 and later",
        "the negative is tied to the boat's ground at one place, the engine's negative terminal "
        "or its bus",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2022",
        "the negative is tied to the boat's ground at one place, if at all",
        verified=False,
    ),
    "common practice": practice("one negative is tied to the chassis or the water in one place"),
}

MORE = """\
datasheets:
  cables:
    bond-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
bonds:
  chassis-bond: {from: house.negative, to: chassis, cable: bond-8, length: 50 cm}
"""


@rule(
    id="negative-bonded-twice",
    summary="Number of ties between a bank's negative and the chassis or the water.",
    covers=("A negative tied to ground twice",),
    level="error",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="With one tie no working current flows in the chassis. With two, the metal between "
    "them is a second return lead beside the negative cable, and it takes its share of every "
    "load through hinges, bearings and bolts that no one sized for it. If the negative cable "
    "comes loose, all of it goes that way. In a boat such currents also pass through the water "
    "and eat shafts and hull fittings within weeks.",
    caution=warning(
        "Current that returns through thin metal parts can heat them until they set fire to what "
        "touches them."
    ),
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit(
        "bonds:\n",
        "bonds:\n  rear-bond: {from: house.negative, to: chassis, cable: bond-8, length: 2 m}\n",
    ),
)
def negative_bonded_twice(study: Study) -> Iterator[Observation]:
    told = {ground.ties for ground in study.wiring.grounds}
    for ground in study.wiring.likely_grounds:
        if len(ground.ties) < 2:
            continue
        names = quoted(tie.name for tie in ground.ties)
        kept = ground.engines or ground.ties[0]
        others = [tie for tie in ground.ties if tie is not kept]
        inside = "" if ground.ties in told else "; a tracker or charger joins its negatives inside"
        yield Observation(
            message=(
                f"the negative of {quoted(ground.banks)} is tied "
                f"to ground in {len(ground.ties)} places, by {names}{inside}"
            ),
            on=ground.ties,
            remedy=f"keep one tie, for example `{kept.name}`, and take away "
            + quoted(tie.name for tie in others),
            level=None if study.plan.setting == "boat" and not inside else "warning",
        )
