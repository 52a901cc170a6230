"""The array's voltage at the hottest noon against what its controller needs to charge."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.finding import Level
from wattproof.remedies.proposals import in_series
from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.curves.window import LITTLE, NEARLY, Window
from wattproof.study.limits import exceeds
from wattproof.working import Value, shown
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a controller that cannot raise voltage works only while the array stands above the "
        "battery, a tracker by the margin in its manual; this is checked with hot cells"
    ),
}

MORE = """\
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            start_above_battery: 5 V, run_above_battery: 4 V, charge_voltage: 14.2 V,
            blocks_reverse: true}
"""

NOTHING_LEFT = 0.9  # of the power with cool cells; what is left fills no battery

INPUT_SHARE = 0.97  # of an input limit, so that the tolerance of labels stays inside it


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.05, "Share of power or current that may be lost at the hottest noon.")


@rule(
    id="hot-voltage-under-battery",
    summary="Hot voltage of an array at maximum power against the charge voltage of its battery.",
    covers=("Hot voltage too low to charge",),
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="Hot cells give less voltage: on a roof in summer a module loses about a quarter "
    "of what its label says. A tracker turns surplus voltage into current but cannot make voltage, "
    "unless it is built to; a pulse-width controller simply joins the array to the battery. When "
    "the array sinks to the battery's charge voltage, charging fades just when the sun is "
    "strongest, and the battery may never become full.",
    fine="With a controller that raises voltage as well: write that down. Otherwise where little "
    "charge at noon in summer is enough.",
    since="0.1.0",
    sound=plan("van-two-modules", Edit("mounting: roof-gap", "mounting: roof-bonded"), more=MORE),
    faulty=Edit("series: 2", "series: 1"),
    options=Limits,
)
def hot_voltage_under_battery(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        window = study.curves.window_of(array)
        if not window.known:
            yield _not_known(array)
            continue
        needed, hot = window.needed, window.hot
        if needed is None or not window.is_missed:
            continue
        curves = study.curves.curve_of(array)
        lost = curves.lost_to_voltage("hottest") if curves is not None else None
        if lost is not None and not exceeds(lost, limits.lost):
            continue
        cool = curves.lost_to_voltage("standard") if curves is not None else None
        never = cool is not None and cool.number >= NOTHING_LEFT
        yield Observation(
            message=_never(array, needed) if never else _when_hot(array, hot, needed, lost),
            on=(array.controller, *array.declared_strings),
            values=(
                array.highest_vmp("standard") if never else hot,
                needed,
                *(() if lost is None else (lost,)),
            ),
            margin=hot.number / needed.number - 1.0,
            remedy=_remedy(array, window, needed),
            level="error" if never else _level(hot, window, lost),
        )


def _level(hot: Value, window: Window, lost: Value | None) -> Level:
    """A little too low at the hottest hour of the year costs no battery its full charge.

    So it is near what is needed, and near the charge voltage where little is lost by it.
    """
    assert window.needed is not None
    charge = window.charge_voltage
    near_charge = charge is not None and hot.number >= charge.number * (1.0 - NEARLY)
    if near_charge and lost is not None and lost.number <= LITTLE:
        return "note"
    return "note" if hot.number >= window.needed.number * (1.0 - NEARLY) else "warning"


def _not_known(array: ArrayStudy) -> Observation:
    name = array.controller.name
    return Observation(
        message=f"neither `{name}` nor a battery behind it says what voltage it charges to",
        on=(array.controller,),
        values=(array.vmp("hottest"),),
        level="note",
        remedy=f"write `charge_voltage` of `{name}`",
    )


def _when_hot(array: ArrayStudy, hot: Value, needed: Value, lost: Value | None) -> str:
    cells = max((s.cells("hottest") for s in array.all_strings), key=lambda cell: cell.number)
    said = (
        f"at the hottest noon, with cells at {shown(round(cells.number), '°C')}, "
        f"`{array.controller.name}` gets {hot} at maximum power and needs {needed} to charge"
    )
    if not hot.number > 0.0:
        return (
            f"at the hottest noon the wires would take all of the "
            f"{array.highest_vmp('hottest')} that the {array.name} gives at maximum power, and "
            f"`{array.controller.name}` needs {needed} to charge"
        )
    if lost is None:
        return said
    what = "current" if array.controller.kind == "pwm" else "power"
    return f"{said}: {lost.number * 100.0:.0f} % of the {what} is lost"


def _never(array: ArrayStudy, needed: Value) -> str:
    """In words, what happens with cells at 25 °C, which is cool for sun."""
    said = (
        f"even with cells at 25 °C the {array.name} gives {array.highest_vmp('standard')} at "
        f"maximum power, and `{array.controller.name}` needs {needed} to charge"
    )
    at_rest = array.voc("standard")
    return f"{said}; with no load at all it gives {at_rest}" if exceeds(needed, at_rest) else said


def _remedy(array: ArrayStudy, window: Window, needed: Value) -> Remedy | str:
    """How many in series would do, where the input stands them; else another controller."""
    if array.vmp("hottest").number <= 0.0:
        return "read the labels again: by their values hot modules give no voltage at all"
    controller, count = array.controller, window.fewest_in_series
    if window.is_missed_by_wires and window.lost is not None:
        return (
            f"use larger or shorter wires to `{controller.name}`: they take {window.lost}, and "
            f"without that its modules give {array.highest_vmp('hottest')} when hot"
        )
    if controller.kind == "pwm":
        share = array.vmp("hottest").number / array.vmp("standard").number
        volts = math.ceil(needed.number / share * 10.0) / 10.0
        tracker = _tracker(array, window.as_tracker.fewest_in_series)
        modules = f"use modules with at least {volts:g} V at maximum power in each string"
        return Remedy(f"{modules}, or {tracker.words}", tracker.ways)
    longer = in_series(array, count)
    if count <= array.fitting_in_series(controller.input_limit.value * INPUT_SHARE):
        return Remedy(f"put at least {count} in series{longer.rest}", (longer.changes,))
    volts = _input_limit(array, count)
    words = (
        f"put {count} in series{longer.rest}, on a controller with an input limit of at least "
        f"{volts} V"
    )
    other = Change(controller.name, "max_input_voltage", f"{volts} V")
    way = (*longer.changes, other) if longer.changes else ()
    if window.raises:
        return Remedy(words, (way,))
    raised = (Change(controller.name, "boost", "true"),)
    return Remedy(f"{words}, or use one that can raise the voltage of the array", (way, raised))


def _tracker(array: ArrayStudy, count: int) -> Remedy:
    """A tracker with enough in series, and an input that stands them."""
    name, longer = array.controller.name, in_series(array, count)
    words = f"a tracker with {count} modules in series{longer.rest}"
    changes = [*longer.changes, Change(name, "kind", "mppt")]
    if count > array.fitting_in_series(array.controller.input_limit.value * INPUT_SHARE):
        volts = _input_limit(array, count)
        words += f" and an input limit of at least {volts} V"
        changes.append(Change(name, "max_input_voltage", f"{volts} V"))
    return Remedy(words, (tuple(changes) if longer.changes else (),))


def _input_limit(array: ArrayStudy, count: int) -> int:
    """What an input must stand for that many in series on the coldest morning (V)."""
    return math.ceil(count * max(m.cold_voc().number for m in array.modules) / INPUT_SHARE)
