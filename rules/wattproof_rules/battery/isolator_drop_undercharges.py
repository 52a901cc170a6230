"""Batteries behind a diode isolator, by what it leaves of the charge voltage."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "where diodes split the charge, the source senses behind them or is set higher by them"
    ),
}


@rule(
    id="isolator-drop-undercharges",
    summary="Charge voltage behind a diode isolator against what fills the battery.",
    covers=("A diode that keeps a battery from getting full",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A diode takes some 0.7 V for itself. What is set to 14.4 V at the alternator "
    "then reaches the battery as 13.7 V, at which lead takes months to get full and "
    "hardens in the meantime. Sources for such isolators sense the voltage behind "
    "them and make up for it; isolators with transistors lose next to nothing.",
    caution=notice("Lead that never gets full loses its capacity within a year or two."),
    fine="Where the source senses the voltage behind the isolator, or another charger fills the "
    "battery regularly.",
    since="0.2.0",
    sound=plan("van-isolator"),
    faulty=Edit(
        "outputs: [start-side, house-side], sensed: true", "outputs: [start-side, house-side]"
    ),
)
def isolator_drop_undercharges(study: Study) -> Iterator[Observation]:
    for each in study.charging.behind_diodes:
        if each.sensed:
            continue
        least = each.bank.full_at
        if not exceeds(least, each.left) or each.filled or not each.bank.is_lead:
            continue
        yield Observation(
            message=(
                f"`{each.isolator.name}` drops {each.drop} between `{each.source.name}` and "
                f"`{each.bank.name}`, which gets {each.left}; it takes {least} to fill it"
            ),
            on=(each.isolator, each.source, each.bank),
            values=(each.left, least),
            margin=each.left.number / least.number - 1.0,
            remedy=Remedy(
                f"let `{each.source.name}` sense the voltage behind `{each.isolator.name}`, and "
                "write `sensed: true` there; or use an isolator with transistors, and write its "
                "`drop`",
                ((Change(str(each.isolator.name), "sensed", "true"),),),
            ),
        )
