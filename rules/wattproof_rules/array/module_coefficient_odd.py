"""The temperature coefficients on a label against those of real modules."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.label_coefficients import OddCoefficient, odd_coefficients
from wattproof.working import digits
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 60891",
        "2021",
        "temperature coefficients of current, voltage and power are measured and stated with "
        "their unit, relative or absolute",
        verified=False,
    ),
    "common practice": practice(
        "open-circuit voltage falls by 0.20 to 0.50 % and power by 0.22 to 0.65 % for each kelvin, "
        "short-circuit current hardly changes; fewer than one in a hundred of 20,946 crystalline "
        "modules in an open set is otherwise"
    ),
}


@rule(
    id="module-coefficient-odd",
    summary="Temperature coefficients on a label: sign, size and unit.",
    covers=("Coefficients of wrong sign, size or unit",),
    level="error",
    hazard="damage",
    part="module",
    basis=BASIS,
    explanation="Warm cells give less voltage and cold cells more; the current hardly changes. "
    "The coefficients on a label say by how much for each degree, and all modules of one kind are "
    "nearly alike in them. A lost minus sign turns the cold morning, when the voltage is highest, "
    "into the mildest hour. A point in the wrong place or another unit does the same by degrees. "
    "One that no module has counts as not told: the usual one stands in for it.",
    caution=notice(
        "With a wrong coefficient the array's cold voltage is unknown, and a controller may be "
        "destroyed on the first clear frost."
    ),
    fine="Hardly ever. Where the label really says so, ask the maker, and leave the value out "
    "until then.",
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("pmax_coefficient: -0.36 %/°C", "pmax_coefficient: 0.36 %/°C"),
)
def module_coefficient_odd(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        for odd in odd_coefficients(module):
            low, high = (f"{digits(end * 100.0)} %/K" for end in odd.band)
            yield Observation(
                message=f"the label of `{module.name}` gives {odd.written.text} for {odd.of}, "
                f"which is {digits(odd.relative.number * 100.0)} %/K or {odd.absolute}; modules "
                f"have {low} to {high}",
                on=(*study.array.users_of(module), module.sheet),
                values=(odd.relative,),
                margin=odd.margin,
                remedy=_remedy(odd),
                level="error" if odd.certain else "warning",
            )


def _remedy(odd: OddCoefficient) -> str:
    """What the label most likely says."""
    ask = "read the datasheet again, its sign and its unit too, or ask the maker"
    return f"perhaps {odd.likely}: {ask}" if odd.likely else ask
