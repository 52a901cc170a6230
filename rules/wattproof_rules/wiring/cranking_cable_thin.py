"""Cables of a starter motor, by what they leave it of the battery's voltage."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the cables of a starter lose at most some 0.5 V in each pole of a 12 V system while it "
        "turns"
    ),
}

LOST = 0.5
"""Most that a pole of a starter's cables loses, for each 12 V (V)."""


@rule(
    id="cranking-cable-thin",
    summary="Voltage lost in the cables of a starter motor while it turns.",
    covers=("Starter cables that starve the starter",),
    level="warning",
    hazard="damage",
    part="conductor",
    basis=BASIS,
    explanation="A starter takes hundreds of amperes for some seconds, most of all in the cold, "
    "when the battery gives least. What the cables lose is missing at the motor: it "
    "turns slower and takes the more, its contacts weld, and electronics on the same "
    "battery restart. Fuses have no place in this cable, so size, length and sheath "
    "are all that there is.",
    caution=notice("A starter that turns too slowly burns its contacts and its battery out."),
    fine="Where the engine starts surely in the coldest weather it will see: measure the voltage "
    "at the motor while it turns.",
    since="0.2.0",
    sound=plan("van-starter"),
    faulty=Edit(
        "to: engine-starter, cable: batt-1-0, length: 1.5 m",
        "to: engine-starter, cable: batt-8, length: 1.5 m",
    ),
)
def cranking_cable_thin(study: Study) -> Iterator[Observation]:
    for each in study.charging.cranking:
        poles = 2.0 if each.both_poles else 1.0
        limit = _limit(poles * max(1.0, round(each.bank.nominal.number / 12.0)))
        if not exceeds(each.lost, limit):
            continue
        name = each.starter.name
        yield Observation(
            message=(
                f"the cables lose {each.lost} between `{each.bank.name}` and `{name}` "
                f"while it draws {each.current}; {limit} is the most"
            ),
            on=(each.starter, each.bank),
            values=(each.lost, limit),
            margin=margin_below(each.lost, limit),
            remedy=f"use cable of {each.lost.number / limit.number:.1f} times the copper at least, "
            f"or a shorter way from `{each.bank.name}` to `{name}`",
        )


def _limit(number: float) -> Value:
    words = "most that the cables of a starter lose"
    return tabled(LOST * number, "V", "ΔUmost", words, "common practice")
