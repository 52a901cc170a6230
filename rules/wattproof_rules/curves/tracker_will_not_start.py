"""The open-circuit voltage of a hot array against what its tracker needs to start."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import in_series
from wattproof.rule import Edit, Observation, Remedy, practice, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.curves.window import LITTLE
from wattproof.study.limits import exceeds
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a tracker starts when the array stands above the battery by the margin in its manual, "
        "often 5 V; this is checked with hot cells"
    ),
}

MORE = """\
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            start_above_battery: 5 V, charge_voltage: 14.2 V, blocks_reverse: true}
"""

INPUT_SHARE = 0.97  # of an input limit, so that the tolerance of labels stays inside it


@rule(
    id="tracker-will-not-start",
    summary="Hot open-circuit voltage of an array against the start threshold of its tracker.",
    covers=("A tracker that never starts in heat",),
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A tracker wakes only when the array, with nothing connected, stands some volts "
    "above the battery; to go on it needs less. In the cool of the morning that is easily met. "
    "But after a stop at noon, by a switch, a fault or a full battery, the cells are hot and give "
    "less voltage, and the tracker may then sleep in full sun until evening.",
    fine="Where the tracker's maker says that it starts with less, or the array never stops at "
    "noon.",
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit("series: 2, mounting: roof-gap", "series: 1, mounting: open-rack"),
        more=MORE,
    ),
    faulty=Edit("start_above_battery: 5 V", "start_above_battery: 8 V"),
)
def tracker_will_not_start(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        window = study.curves.window_of(array)
        start, hot = window.start, array.voc("hottest")
        if start is None or not exceeds(start, hot) or _gets_too_little(array, study):
            continue
        cool = array.voc("standard")
        never = exceeds(start, cool)
        when = "even with cells at 25 °C" if never else "with hot cells"
        only = "" if never else "; it starts in the cool of the morning, not again at noon"
        yield Observation(
            message=f"{when} the {array.name} gives {cool if never else hot} at open circuit, and "
            f"`{array.controller.name}` needs {start} to start{only}",
            on=(array.controller, *array.declared_strings),
            values=(cool if never else hot, start),
            margin=hot.number / start.number - 1.0,
            remedy=_remedy(array, start),
        )


def _gets_too_little(array: ArrayStudy, study: Study) -> bool:
    """True where it could not go on either with hot cells, which is told of by itself."""
    if not study.curves.window_of(array).is_missed:
        return False
    curves = study.curves.curve_of(array)
    lost = curves.lost_to_voltage("hottest") if curves is not None else None
    return lost is None or exceeds(lost, LITTLE)


def _remedy(array: ArrayStudy, start: Value) -> Remedy | str:
    """How many in series would do, where the input stands them."""
    hot = array.voc("hottest").number
    if hot <= 0.0:
        return "read the labels again: by their values hot modules give no voltage at all"
    count = math.ceil(start.number / (hot / array.in_series()) * (1.0 - 1e-9))
    limit = array.controller.input_limit.value * INPUT_SHARE
    if count <= array.fitting_in_series(limit):
        longer = in_series(array, count)
        return Remedy(f"put at least {count} in series{longer.rest}", (longer.changes,))
    return (
        f"put {count} in series on a controller with a higher input limit, or use one with a "
        "lower start threshold"
    )
