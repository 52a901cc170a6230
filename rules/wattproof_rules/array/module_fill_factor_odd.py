"""The fill factor of a label, which no real module has."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.array.labels import FILL_FACTORS, is_nominal, odd_fill_factor, usual_vmp
from wattproof.study.array.strings import ModuleStudy
from wattproof.working import Value, shown
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "maximum power is 0.65 to 0.83 of open-circuit voltage times short-circuit current, in "
        "thin film from 0.55; fewer than one in a hundred of 20,946 crystalline modules in an "
        "open set lies outside"
    ),
}


NONE_HAS = 0.4
"""Fill factor under which no module lies: a value is wrong by a digit or more."""


@rule(
    id="module-fill-factor-odd",
    summary="Power on a label as a share of its open-circuit voltage times short-circuit current.",
    covers=("A nominal voltage copied in place of the one at maximum power",),
    level="warning",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="The curve of a module runs flat from its short-circuit current and then bends "
    "down to its open-circuit voltage. How square that bend is, is the fill factor: power as a "
    "share of the two end values multiplied. It is a property of the cells and hardly differs "
    "between modules, so one that lies outside says that a value on the label is wrong. Often the "
    "voltage of the battery that a module is meant for, 12 V or 24 V, was written as its own.",
    fine="Where all four values were read on the label again; some modules of other techniques "
    "lie a little outside.",
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit(
        "vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W",
        "vmp: 12 V, isc: 5.2 A, imp: 4.9 A, pmax: 58.8 W",
    ),
)
def module_fill_factor_odd(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        odd = odd_fill_factor(module)
        if odd is None:
            continue
        low, high = FILL_FACTORS[module.sheet.technology]
        nominal = ""
        if is_nominal(module):
            nominal = f"; Vmp {module.vmp} is the class of a battery, hardly this module's voltage"
        yield Observation(
            message=f"the label of `{module.name}` gives a fill factor of {odd}: {module.pmax} of "
            f"{module.voc} times {module.isc}; modules have {low:g} to {high:g}{nominal}",
            on=(*study.array.users_of(module), module.sheet),
            values=(odd, module.pmax),
            margin=_margin(odd, low, high),
            remedy=_remedy(module, odd, low),
            level="error" if odd.number < NONE_HAS else None,
        )


def _margin(odd: Value, low: float, high: float) -> float:
    return odd.number / low - 1.0 if odd.number < low else 1.0 - odd.number / high


def _remedy(module: ModuleStudy, odd: Value, low: float) -> str:
    """Which value to look at first."""
    ask = "read the label on the back of the module, ask its maker, or measure Voc and Isc in sun"
    if is_nominal(module):
        return f"write the Vmp of the label, about {shown(usual_vmp(module), 'V')} here: {ask}"
    if odd.number < low:
        return f"Voc or Isc is too high, or Vmp, Imp or Pmax too low: {ask}"
    return f"Voc or Isc is too low, or Vmp, Imp or Pmax too high: {ask}"
