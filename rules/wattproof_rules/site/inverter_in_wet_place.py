"""Inverters where rain or spray reaches them."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC A-31",
        "2020",
        "inverters and battery chargers are in a dry and ventilated place",
        verified=False,
    ),
    "common practice": practice(
        "an inverter stands dry and aired, as its manual asks: the slots that cool it let water in"
    ),
}


@rule(
    id="inverter-in-wet-place",
    summary="Inverters in places that rain or spray reaches.",
    covers=("An inverter that gets wet",),
    level="warning",
    hazard="shock",
    part="plan",
    basis=BASIS,
    explanation="An inverter makes mains voltage, and the slots through which a fan cools it let "
    "water in as well. Salt and dirt then lead that voltage to its case and to what stands beside "
    "it, and at its terminals hundreds of amperes of the battery wait for a drop that bridges "
    "them. Nearly all are made for dry rooms.",
    caution=warning("The case of a wet inverter can be at mains voltage: it kills who touches it."),
    fine="Where its label says that it stands jets of water, as IP65 or higher.",
    since="0.5.0",
    sound=plan("van-inverter", Edit("mains: {", "mains: {place: cabin, ")),
    faulty=Edit("cabin: {", "cabin: {wet: true, "),
)
def inverter_in_wet_place(study: Study) -> Iterator[Observation]:
    for placed in study.site.placed:
        unit, place = placed.component, placed.place
        if not (place.wet and str(unit.name) in study.plan.all_inverters):
            continue
        yield Observation(
            message=f"`{unit.name}` makes mains voltage in `{place.name}`, where rain or spray "
            "reaches it",
            on=(unit, place),
            remedy=f"move `{unit.name}` to a dry place with air; or lead the water away from "
            f"`{place.name}` for good, and write that as `wet: false`",
            cause=str(place.name),
        )
