"""Positives that are tied to the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.grounding import TiedPositive
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11",
        "2003 and later",
        "where a direct-current system is grounded, it is its negative",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2022",
        "a system that is earthed has its negative at the earth",
        verified=False,
    ),
    "common practice": practice(
        "the negative is the grounded pole; alternators, engines and most controllers have it in "
        "common with their housing; one with pulse-width modulation switches one pole and runs "
        "the other straight through"
    ),
}

SHORTED = {"negative": "the array", "positive": "the battery"}
"""What a tie of the array's positive shorts, by the pole that its controller joins."""

MORE = """\
datasheets:
  cables:
    bond-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
bonds:
  chassis-bond: {from: house.negative, to: chassis, cable: bond-8, length: 50 cm}
"""


@rule(
    id="positive-bonded",
    summary="Ties between a positive and the chassis, the water or the earth.",
    covers=("The positive at the chassis",),
    level="error",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="Engines, alternators, radios and nearly all controllers have their negative at "
    "their metal housing. With the positive at the same metal, the first of them that is screwed "
    "on or plugged in shorts the battery through its housing, its shield or its thin negative "
    "lead. A fuse in the positive lead does not see it where the metal is tied to the battery "
    "itself. In a boat the hull fittings are then eaten away as well.",
    caution=warning(
        "A housing that touches the chassis carries the short-circuit current of the battery."
    ),
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("chassis-bond: {from: house.negative", "chassis-bond: {from: house.positive"),
)
def positive_bonded(study: Study) -> Iterator[Observation]:
    for tied in study.wiring.tied_positives:
        of_array = tied.on.name in study.plan.controllers
        whose = f"the array at `{tied.on.name}`" if of_array else f"`{tied.on.name}`"
        why = ""
        if of_array:
            why = "; a second tie, at any negative or by a fault, shorts the array"
        if tied.own:
            why = ", as its negative is: that shorts the array"
        elif tied.joined:
            joins = " or ".join(f"the two {pole}s" for pole in tied.joined)
            shorts = " or ".join(SHORTED[pole] for pole in tied.joined)
            why = (
                f", as the battery's negative is, and `{tied.on.name}` joins {joins}: that shorts "
                f"{shorts}"
            )
        yield Observation(
            message=f"`{tied.tie.name}` ties the positive of {whose} to the {tied.ground}{why}",
            on=(tied.tie, tied.on),
            remedy=Remedy(f"take `{tied.tie.name}` away") if of_array else _moved(tied, study),
            level=None if tied.sure and (of_array or tied.ground != "earth") else "warning",
        )


def _moved(tied: TiedPositive, study: Study) -> Remedy:
    """The tie at the negative instead."""
    words = f"tie the negative to the {tied.ground} instead of the positive"
    bond = study.plan.bonds.get(tied.tie.name)
    if bond is None:
        return Remedy(words)
    start = bond.start.removesuffix(".positive")
    return Remedy(words, ((Change(bond.name, "from", f"{start}.negative"),),))
