"""Open-circuit voltage on the coldest morning against what the modules are built for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import fewer_in_series, if_borne, labelled
from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds, margin_below, share_below
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.7(A) with 110.3(B)",
        "2017-2023",
        "the highest voltage of an array is its open-circuit voltage at the lowest expected "
        "ambient temperature, and modules are used within the system voltage of their listing",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548 7.2; IEC 61730-1, marking",
        "2016; IEC 62548-1:2023",
        "all equipment is rated for the open-circuit voltage at the lowest expected operating "
        "temperature; the module's plate states its maximum system voltage",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; IEC 61730-1, marking",
        "2021; 2016",
        "all equipment is rated for the open-circuit voltage at the lowest expected temperature; "
        "the module's plate states its maximum system voltage",
        verified=True,
    ),
    "common practice": practice(
        "modules, folding ones above all, go into strings no longer than their label allows"
    ),
}


@record
class Limits:
    """What a project may set."""

    label_tolerance: float = option(
        0.03, "Share by which a module's open-circuit voltage may lie above its label."
    )


USUAL = (600, 1000, 1500)  # V, the classes that modules are sold in


@rule(
    id="cold-voltage-over-module",
    summary="Cold open-circuit voltage of an array against its modules' maximum system voltage.",
    covers=("Cold voltage over what modules stand",),
    level="error",
    hazard="fire",
    part="module",
    basis=BASIS,
    explanation="In a string the voltages of all modules add up, and any of them may stand at the "
    "whole voltage against its frame or the skin it lies on. The sheets and glue that keep cells "
    "apart from the outside are made for the system voltage on the label; cold raises the string "
    "above its usual voltage. Where the insulation gives way, an arc burns that the sun keeps "
    "feeding, and frame or roof may become live.",
    caution=warning(
        "An arc in a module can set the roof on fire, and a frame that has become live can shock."
    ),
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("max_system_voltage: 600 V", "max_system_voltage: 50 V"),
    options=Limits,
)
def cold_voltage_over_module(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        cold = array.voc("coldest")
        tolerance = array.label_tolerance(limits.label_tolerance)
        for module in array.modules:
            limit = module.system_voltage
            stated = module.sheet.max_system_voltage is not None
            if not exceeds(cold, limit if not stated else (1.0 - tolerance) * limit.number):
                continue
            users = [s for s in study.array.users_of(module) if s in array.declared_strings]
            yield Observation(
                message=_message(array, module, cold, limit),
                on=(users[0], module.sheet, *users[1:]),
                values=(cold, limit),
                margin=margin_below(cold, limit),
                remedy=_remedy(study, array, module, tolerance if stated else 0.0),
                level=None if exceeds(cold, limit) else "warning",
            )


def _message(array: ArrayStudy, module: ModuleStudy, cold: Value, limit: Value) -> str:
    stated = module.sheet.max_system_voltage is not None
    on = f"the {limit} system voltage {'of' if stated else 'taken for'} `{module.name}`"
    starts = f"cold open-circuit voltage {cold} of the {array.name} is"
    if exceeds(cold, limit):
        return f"{starts} over {on}"
    left = share_below(cold, limit)
    return f"{starts} only {left} below {on}, within the tolerance of labels"


def _remedy(study: Study, array: ArrayStudy, module: ModuleStudy, tolerance: float) -> Remedy:
    """Fewer modules in series where that is possible, or the class of module that would do."""
    cold = array.voc("coldest").number / (1.0 - tolerance)
    needed = next((volts for volts in USUAL if volts >= cold), None)
    larger = f"use modules rated {needed} V" if needed else "use shorter strings"
    if module.sheet.max_system_voltage is None:
        ask = f"write `max_system_voltage` from the label if it is at least {math.ceil(cold)} V"
        larger = f"{ask}, else {larger}"
    others: tuple[Change, ...] = ()
    if needed is not None:
        users = [s for s in study.array.users_of(module) if s in array.declared_strings]
        others = labelled(users, module, "max_system_voltage", f"{needed:g} V")
    fit = array.fitting_in_series(module.system_voltage.number * (1.0 - tolerance))
    fewest = study.curves.window_of(array).fewest_nearly
    if fewest <= fit < array.in_series():
        fewer = if_borne(fewer_in_series(array, fit, fewest), array, study.array)
        few = f"put at most {fit} in series instead of {array.in_series()}{fewer.rest}"
        if not fewer.borne:
            return Remedy(f"{larger}; or {few}", (others,))
        return Remedy(f"{few}; or {larger}", (fewer.changes, others))
    return Remedy(larger, (others,))
