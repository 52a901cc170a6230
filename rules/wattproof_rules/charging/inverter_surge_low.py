"""The hardest start against the power that an inverter gives for some seconds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "motors and compressors ask for three to six times their running power for a second or "
        "two, and the surge power of the inverter covers the hardest of these starts"
    ),
}

MORE = """\
inverters:
  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V,
          surge: 1600 W, largest_start: 1400 W}
"""


@rule(
    id="inverter-surge-low",
    summary="Power that the hardest start asks of an inverter against its surge power.",
    covers=("A motor that the inverter cannot start",),
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A motor at rest is little more than a coil of wire: until it turns it takes three "
    "to six times what it takes when running. An inverter gives more than its rating for some "
    "seconds, by its surge power, and switches off when that is not enough. Then all that hangs on "
    "it goes dark, and the motor that did not start tries again a minute later.",
    caution=notice("A motor that tries in vain to start again and again burns its windings."),
    fine="Where the motor starts softly by its own electronics, or the pair was tried with a low "
    "battery in the cold.",
    since="0.1.0",
    sound=plan("van-inverter", more=MORE),
    faulty=Edit("largest_start: 1400 W", "largest_start: 2000 W"),
)
def inverter_surge_low(study: Study) -> Iterator[Observation]:
    for start in study.charging.starts:
        inverter, asked, given = start.inverter, start.asked, start.given
        if not exceeds(asked, given):
            continue
        yield Observation(
            message=f"the hardest start asks `{inverter.name}` for {asked}; {given} is its most",
            on=(inverter,),
            values=(asked, given),
            margin=margin_below(asked, given),
            remedy=_remedy(str(inverter.name), f"{math.ceil(asked.number - 1e-9)} W"),
        )


def _remedy(inverter: str, watts: str) -> Remedy:
    return Remedy(
        f"use an inverter with a surge power of at least {watts}, or a soft start on the motor; "
        "start nothing else beside it",
        ((Change(inverter, "surge", watts),),),
    )
