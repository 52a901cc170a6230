"""What boils and cooks on an inverter, against the power that it gives."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import enumerated
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.energy.daily_use import Heavy

BASIS = {
    "common practice": practice(
        "a household kettle or one field of a hob takes about 1,500 W, a coffee maker 1,000 W; an "
        "inverter gives its continuous power for more than some seconds, and not its surge"
    ),
}

MORE = """\
energy:
  sun_hours: 4 h
  uses:
    mains: {appliances: [laptop, television], switched_on: 2 h}
"""
STEP = 100.0
"""Steps (W) in which an inverter is proposed."""


@rule(
    id="appliances-over-inverter",
    summary="Power of what boils and cooks on an inverter, against what it gives.",
    covers=("More at its outlets than an inverter gives",),
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="An inverter switches off when more is asked than its continuous power, after "
    "seconds or minutes, and all that hangs on it goes dark. What makes heat asks for most: a "
    "kettle takes as much as thirty laptops. A larger inverter asks for thicker cables, a larger "
    "fuse and a battery that gives as much; an appliance of less power boils the same water with "
    "the same energy in more time.",
    fine="Where the appliance is one of less power, or the two never run at once: tell its own "
    "energy in place of `appliances`.",
    since="0.4.0",
    sound=plan("van-inverter", more=MORE),
    faulty=Edit("[laptop, television]", "[laptop, kettle]"),
)
def appliances_over_inverter(study: Study) -> Iterator[Observation]:
    told: set[str] = set()
    for heavy in study.energy.heavy:
        name = str(heavy.inverter.name)
        if name in told or not exceeds(heavy.asked, heavy.given):
            continue
        told.add(name)
        yield Observation(
            message=_message(name, heavy),
            on=(heavy.inverter,),
            values=(heavy.asked, heavy.given),
            margin=margin_below(heavy.asked, heavy.given),
            remedy=_remedy(heavy),
        )


def _message(name: str, heavy: Heavy) -> str:
    kinds = enumerated(_with_article(kind.replace("-", " ")) for kind in heavy.kinds)
    if len(heavy.kinds) == 1:
        return f"{kinds} usually takes {heavy.asked}; `{name}` gives {heavy.given}"
    return f"{kinds} at once usually take {heavy.asked}; `{name}` gives {heavy.given}"


def _with_article(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _remedy(heavy: Heavy) -> str:
    less = "use one of less power" if len(heavy.kinds) == 1 else "run one at a time"
    watts = f"{math.ceil(heavy.asked.number / STEP - 1e-9) * STEP:.0f} W"
    return (
        f"{less}, and tell its own energy; or use an inverter of at least {watts}, with battery, "
        "fuse and cables for that"
    )
