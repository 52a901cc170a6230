"""What passes the shunt of a battery monitor by."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.words import quoted
from wattproof.working import total
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the shunt of a monitor is the only thing on the negative of the battery; every load and "
        "charger is on its other side"
    ),
}


@rule(
    id="shunt-bypassed",
    summary="Loads and chargers whose negative reaches a battery past the shunt of its monitor.",
    covers=("A monitor that does not see everything",),
    level="note",
    hazard="lost-energy",
    part="battery",
    basis=BASIS,
    explanation="A monitor counts what flows through its shunt, a piece of metal in the negative. "
    "What is tied to the battery's own post, or comes back through the chassis on its side, is not "
    "counted. After some days it shows a full battery that is empty, or an empty one that is full, "
    "and one believes it.",
    fine="For what is so small that it does not matter over a week, or where the monitor is not "
    "relied on.",
    since="0.1.0",
    sound=plan(
        "van-inverter",
        Edit("low_temperature_cutoff: true", "low_temperature_cutoff: true, shunt: bank-run"),
    ),
    faulty=Edit(
        "charge-run: {from: tracker.battery, to: bar,",
        "charge-run: {from: tracker.battery, to: house,",
    ),
)
def shunt_bypassed(study: Study) -> Iterator[Observation]:
    for bank in study.battery.banks:
        past = [each for each in study.wiring.past_shunts if each.bank is bank]
        if not past:
            continue
        uncounted = total([each.current for each in past])
        words = f"current that the monitor of {bank.name} does not count"
        uncounted = uncounted.named(f"Ipast({bank.name})", words, "A")
        names = quoted(each.component.name for each in past)
        yield Observation(
            message=(
                f"the negative of {names} goes around the shunt in `{bank.battery.shunt}`: its "
                f"monitor misses up to {uncounted} of `{bank.name}`"
            ),
            on=(bank, *(each.component for each in past)),
            values=(uncounted,),
            remedy=f"move the negative of {names} to the other side of the shunt in "
            f"`{bank.battery.shunt}`",
        )
