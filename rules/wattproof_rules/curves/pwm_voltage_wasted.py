"""The voltage of an array above its battery on a controller that cannot use it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import if_borne, in_series
from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a pulse-width controller joins array and battery, so the module's voltage at maximum "
        "power should lie little above the charge voltage"
    ),
}


@record
class Limits:
    """What a project may set."""

    wasted: float = option(0.25, "Share of the hot array's voltage that may lie unused.")


@rule(
    id="pwm-voltage-wasted",
    summary="Hot voltage of an array against the charge voltage behind a pulse-width controller.",
    covers=("A pulse-width controller on modules of high voltage",),
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A pulse-width controller is a fast switch: while it charges, the array stands at "
    "the battery's voltage and gives the same current as at its best point. Whatever voltage the "
    "modules could give above that is not turned into current, as a tracker would do, but is "
    "simply not used. With modules made for a higher voltage half of their power is lost.",
    fine="Where the power that is left is enough and a tracker would cost more than another "
    "module.",
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit("series: 2", "series: 1"),
        Edit("kind: mppt, max_input_voltage: 75 V", "kind: pwm, max_input_voltage: 60 V"),
    ),
    faulty=Edit("series: 1", "series: 2"),
    options=Limits,
)
def pwm_voltage_wasted(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        charge = study.curves.window_of(array).charge_voltage
        hot = array.vmp("hottest")
        if array.controller.kind != "pwm" or charge is None or hot.number <= 0.0:
            continue
        words = f"voltage that {array.controller.name} cannot use, as a share"
        wasted = (1.0 - charge / hot).named(f"wasted({array.controller.name})", words, "%")
        if not exceeds(wasted, limits.wasted):
            continue
        yield Observation(
            message=(
                f"even with hot cells the {array.name} gives most at {hot}; "
                f"`{array.controller.name}` holds it at {charge}, and "
                f"{wasted.number * 100.0:.0f} % of its power is lost"
            ),
            on=(array.controller, *array.declared_strings),
            values=(wasted, hot, charge),
            margin=margin_below(wasted, limits.wasted),
            remedy=_remedy(study, array, charge, hot, limits),
        )


def _remedy(study: Study, array: ArrayStudy, charge: Value, hot: Value, limits: Limits) -> Remedy:
    """Fewer in series where that still charges; else a tracker."""
    count, tracker = array.in_series(), _tracker(array, study.curves.bank_of(array))
    for fewer in range(1, count):
        volts = hot.number * fewer / count
        if charge.number < volts <= charge.number / (1.0 - limits.wasted):
            words = (
                f"put {fewer} in series and more in parallel, where the controller's current "
                f"allows it, or {tracker.words}"
            )
            rearranged = if_borne(in_series(array, fewer), array, study.array)
            side_by_side = rearranged.changes if rearranged.rest else ()
            return Remedy(words, (side_by_side, *tracker.ways))
    words = f"{tracker.words}, or modules whose voltage is made for this battery"
    return Remedy(words, tracker.ways)


def _tracker(array: ArrayStudy, bank: BankStudy | None) -> Remedy:
    """A tracker, whose output the bank has to stand now that nothing is wasted."""
    name, output = array.controller.name, array.controller.max_output_current.value
    tracker = Change(name, "kind", "mppt")
    if bank is None or output <= bank.charge_limit.number:
        return Remedy("use a tracker", ((tracker,),))
    most = f"{math.floor(bank.charge_limit.number + 1e-9)} A"
    words = f"use a tracker that is set to at most {most}, the most that `{bank.name}` may get"
    return Remedy(words, ((tracker, Change(name, "limited_to", most)),))
