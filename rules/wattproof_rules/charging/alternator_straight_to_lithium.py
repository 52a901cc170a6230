"""What a lithium bank takes from an alternator without a vehicle charger in between."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, option, practice, record, rule, warning
from wattproof.study import Study
from wattproof.study.charging.alternators import LithiumOnAlternator
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-13",
        "2022-2025",
        "what charges a lithium battery fits it and stands its disconnecting",
        verified=False,
    ),
    "common practice": practice(
        "how much lithium takes from an alternator is disputed: on the road 0.2 to 0.33 A were "
        "measured for each Ah, as the cables let through; half of the alternator's rating is the "
        "most for long"
    ),
}

MORE = """\
chargers:
  alternator: {kind: alternator, max_output_current: 100 A, charge_voltage: 14.2 V, nominal: 12 V}
arresters:
  alternator-arrester: {across: alternator, voltage: 16 V}
wires:
  alternator-run: {from: alternator, to: house, cable: starter-50, length: 2 m, place: inside,
                   inline: [{house-fuse: {from_end: to, distance: 10 cm}}]}
"""


@record
class Limits:
    """What a project may set."""

    usual: float = option(0.5, "Share of the alternator's rating that the battery may take.")


@rule(
    id="alternator-straight-to-lithium",
    summary="What lithium takes from an alternator through the cables, against its rating.",
    covers=("Lithium on an alternator without a charger",),
    level="warning",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="An alternator holds a fixed voltage, and a lithium battery stays well below it "
    "until it is almost full. So the resistance of the cables decides the current, and it does "
    "not taper as with lead: the alternator gives that current for an hour or more, hot and at "
    "idle too. Whether that is much must be reckoned: thick cables and a large bank load it hard, "
    "long thin ones hardly at all.",
    caution=warning(
        "An overheated alternator can burn; and when the battery disconnects while charging, the "
        "surge can destroy the vehicle's electronics."
    ),
    fine="Where the maker of the alternator says that it bears this current hot and at idle, or "
    "its regulator senses its temperature and turns it down.",
    since="0.1.0",
    sound=plan(
        "alternator",
        Edit(", bay: {engine_space: true, ambient: 60 °C}", ""),
        Edit("rating: 60 A, voltage: 58 V", "rating: 150 A, voltage: 125 V"),
        Edit("max_charge_current: 50 A", "max_charge_current: 100 A"),
        less=(
            "datasheets.cables.flex-16",
            "fuses.alternator-fuse",
            "fuses.start-fuse",
            "controllers",
            "batteries.start",
            "wires.input-run",
            "wires.output-run",
        ),
        more=MORE,
    ),
    faulty=Edit("max_output_current: 100 A", "max_output_current: 60 A"),
    options=Limits,
)
def alternator_straight_to_lithium(study: Study, limits: Limits) -> Iterator[Observation]:
    for fed in study.charging.lithium_on_alternators:
        share = (fed.current / fed.rating).named("s", "share of the alternator's rating", "%")
        if fed.cooled or not exceeds(share, limits.usual):
            continue
        names = quoted(str(alternator.name) for alternator in fed.alternators)
        banks = quoted(bank.name for bank in fed.banks)
        takes = "takes" if len(fed.banks) == 1 else "take"
        yield Observation(
            message=f"{banks} {takes} about {fed.current} straight from {names}, "
            f"{share} of its {fed.rating}, and {limits.usual * 100:g} % is the most for long",
            on=(*fed.alternators, *fed.banks),
            values=(fed.current, fed.rating, share),
            margin=margin_below(share, limits.usual),
            remedy=_remedy(fed, limits),
        )


def _remedy(fed: LithiumOnAlternator, limits: Limits) -> str:
    """The charger that would do."""
    most = math.floor(limits.usual * fed.rating.number + 1e-9)
    return (
        f"put a vehicle charger between them that draws at most {most} A; or an alternator with "
        "temperature control and a regulator made for lithium: write its `regulator: external`, "
        "and `senses_heat: true` or what it is `limited_to`"
    )
