"""The array's open-circuit voltage on the coldest bright morning against the controller's input."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import fewer_in_series, if_borne
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, option, record, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.unjoined import TooMuchAlone
from wattproof.study.limits import margin_below, share_below
from wattproof.working import Value, shown
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.7(A)",
        "2017-2023",
        "the highest voltage of an array is its open-circuit voltage at the lowest expected "
        "ambient temperature, by the maker's coefficient, or by Table 690.7(A) where none is "
        "given; equipment is rated for it",
        verified=True,
    ),
    "iec": Clause(
        "IEC 62548 7.2",
        "2016; IEC 62548-1:2023",
        "the open-circuit voltage is corrected to the lowest expected operating temperature, and "
        "all equipment of the array, the controller's input included, is rated for it",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "the open-circuit voltage is corrected to the lowest expected temperature by the maker's "
        "coefficient, and all equipment of the array, the controller's input included, is rated "
        "for it",
        verified=True,
    ),
    "common practice": Clause(
        "controller's manual",
        "as supplied",
        "the input limit is absolute: one cold, clear morning above it destroys the input",
        verified=True,
    ),
}


@record
class Limits:
    """What a project may set."""

    label_tolerance: float = option(
        0.03, "Share by which a module's open-circuit voltage may lie above its label."
    )


@rule(
    id="cold-voltage-over-controller",
    summary="Cold open-circuit voltage of an array against the controller's input limit.",
    covers=(
        "Cold voltage over the controller's limit",
        "Two modules in series on a small vehicle charger",
    ),
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="Cold cells give more voltage. At sunrise on the coldest clear day the modules "
    "are as cold as the air, the sun is already on them, and nothing draws current yet, so the "
    "full open-circuit voltage stands at the controller. Above its limit the input breaks down, "
    "often at once, and it may fail so that array voltage reaches the battery.",
    caution=warning(
        "A controller that fails shorted can put array voltage on the battery and its loads: "
        "fire. Cover the modules before working on the array."
    ),
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("series: 3", "series: 4"),
    options=Limits,
)
def cold_voltage_over_controller(study: Study, limits: Limits) -> Iterator[Observation]:
    for found in study.array.too_much_alone:
        yield _alone(found, limits.label_tolerance)
    for array in study.array.arrays:
        tolerance = array.label_tolerance(limits.label_tolerance)
        if not array.is_over_input("coldest", 1.0 - tolerance):
            continue
        controller, limit, cold = array.controller, array.input_limit, array.voc("coldest")
        yield Observation(
            message=_message(array, cold, limit),
            on=(controller, *array.declared_strings),
            values=(cold, limit),
            margin=margin_below(cold, limit),
            remedy=_remedy(study, array, limit, tolerance),
            level=None if array.is_over_input("coldest") else "warning",
        )


def _alone(found: TooMuchAlone, tolerance: float) -> Observation:
    """Of modules that nobody joined yet, of which one is too much already."""
    controller, volts = found.controller, math.ceil(found.cold.number / (1.0 - tolerance))
    noun = controller.called
    return Observation(
        message=f"cold open-circuit voltage {found.cold} of one `{found.module.name}` alone is "
        f"over the {found.limit} input limit of `{controller.name}`, however they are joined",
        on=(found.string, controller),
        values=(found.cold, found.limit),
        margin=margin_below(found.cold, found.limit),
        remedy=Remedy(
            f"use a {noun} with an input limit of at least {volts} V, or modules of less voltage",
            ((Change(controller.name, "max_input_voltage", f"{volts} V"),),),
        ),
    )


def _message(array: ArrayStudy, cold: Value, limit: Value) -> str:
    where = f"the {limit} input limit of `{array.controller.name}`{_reached(array, limit)}"
    if array.is_over_input("coldest"):
        return f"cold open-circuit voltage {cold} is over {where}"
    left = share_below(cold, limit)
    return (
        f"cold open-circuit voltage {cold} is only {left} below {where}, within the tolerance of "
        "labels"
    )


def _reached(array: ArrayStudy, limit: Value) -> str:
    """At which temperature the limit is reached."""
    temperature = array.temperature_at_open_circuit(limit)
    return "" if temperature is None else f" (reached at {shown(round(temperature), '°C')})"


def _remedy(study: Study, array: ArrayStudy, limit: Value, tolerance: float) -> Remedy:
    """Fewer modules in series where that is possible, or the input that would do."""
    cold = array.voc("coldest").number
    now = array.in_series()
    fit = array.fitting_in_series(limit.number * (1.0 - tolerance))
    volts = math.ceil(cold / (1.0 - tolerance))
    larger = f"use a {array.controller.called} with an input limit of at least {volts} V"
    other = (Change(array.controller.name, "max_input_voltage", f"{volts} V"),)
    fewest = study.curves.window_of(array).fewest_nearly
    if not fewest <= fit < now:
        return Remedy(larger, (other,))
    fewer = if_borne(fewer_in_series(array, fit, fewest), array, study.array)
    few = f"put at most {fit} in series instead of {now}{fewer.rest}"
    if not fewer.borne:
        return Remedy(f"{larger}; or {few}", (other,))
    return Remedy(f"{few}; or {larger}", (fewer.changes, other))
