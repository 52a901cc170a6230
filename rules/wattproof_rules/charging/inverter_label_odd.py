"""An inverter's powers against those that inverters have."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.working import declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "inverters for batteries give 50 W and more, and for seconds at least what they give for "
        "long"
    ),
}

LEAST = 50.0  # W


@rule(
    id="inverter-label-odd",
    summary="Powers of an inverter against those that there are, and against each other.",
    covers=("An inverter's power in kW, written as W",),
    level="warning",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="An inverter draws more current than anything else on a battery, and its cable and "
    "fuse are chosen by its power. A power of 2 W that is meant as 2 kW makes the thinnest wire "
    "look thick enough.",
    caution=warning("A cable that is chosen for a thousandth of the current burns at first use."),
    fine="Where the inverter is that small, for one lamp or charger.",
    since="0.2.0",
    sound=plan("van-inverter"),
    faulty=Edit("power: 800 W", "power: 0.8 W"),
)
def inverter_label_odd(study: Study) -> Iterator[Observation]:
    for name, inverter in study.plan.all_inverters.items():
        power = declared(inverter.power, f"P({name})", f"power of {name}")
        if power.number < LEAST:
            kilowatts = f", and {power.number:g} kW may be meant" if power.number <= 10.0 else ""
            yield Observation(
                message=f"`{name}` gives {power} by its label; inverters give {LEAST:g} W and "
                f"more{kilowatts}",
                on=(inverter,),
                values=(power,),
                margin=power.number / LEAST - 1.0,
                remedy="look at its label, and write the power that it gives for long, with its "
                "unit",
                cause="power",
            )
        elif inverter.surge is not None and inverter.surge.value < inverter.power.value:
            surge = declared(inverter.surge, f"Psurge({name})", f"surge power of {name}")
            yield Observation(
                message=f"`{name}` gives {surge} for the seconds of a start and {power} for long, "
                "which is more",
                on=(inverter,),
                values=(surge, power),
                margin=surge.number / power.number - 1.0,
                remedy="look at its label, in which of the two the unit or a digit is wrong",
                cause="surge",
            )
