"""The array's current in bright sun against what the controller's input stands."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import in_series
from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    practice,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import LookUp, Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.8(A)(1)",
        "2014-2023",
        "the highest current of an array circuit is 125 % of the sum of the short-circuit "
        "currents in parallel; equipment is used within its ratings",
        verified=True,
    ),
    "iec": Clause(
        "IEC 62548-1, factor K_I",
        "2023",
        "the design current is 1.25 times the short-circuit current, more where the site makes it "
        "so, and equipment is rated for it",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "the design current is 1.25 times the short-circuit current, and equipment is rated for it",
        verified=True,
    ),
    "common practice": practice(
        "a stated short-circuit limit of an input holds at 1.25 times the array's short-circuit "
        "current; a pulse-width controller passes all that the array gives"
    ),
}

MORE = """\
strings:
  port: {module: rigid-100, series: 2, mounting: roof-gap}
  starboard: {module: rigid-100, series: 2, mounting: roof-gap}
combiners:
  roof-joint: {joins: [port, starboard], kind: branch-connector, rating: 30 A, voltage: 600 V}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_input_current: 30 A,
            max_output_current: 30 A, charge_voltage: 14.2 V, blocks_reverse: true}
"""

TIMES_OUTPUT = 1.5
"""The largest limit of an input, as a multiple of the rated output of its tracker."""
SMALL_BOX = tabled(20.0, "A", "Ismall", "input current of most power boxes", "common practice")
LIMIT = LookUp(
    "the largest short-circuit current that the solar input of {names} stands",
    "in its manual, in A; write it as `max_input_current`",
)

INPUT_SHARE = 0.97  # of an input limit, so that the tolerance of labels stays inside it
KEYS = {"input limit": "max_input_current", "rating": "max_output_current"}


@rule(
    id="controller-input-over-current",
    summary="Bright short-circuit current of an array against the limit of its controller's input.",
    covers=(
        "More current than the input stands",
        "Light on the backs of modules, which adds current",
    ),
    level="error",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="Snow and thin cold air make the sun up to a quarter brighter than the label's "
    "test for hours, and the edges of clouds up to half for minutes; the current grows with it, "
    "and the quarter is what is reckoned with here. A tracker takes only the current it wants, "
    "so a large array on it is no fault by itself; but where its maker states a short-circuit "
    "limit, that is what its parts carry when a fault shorts the input. A pulse-width controller "
    "cannot limit at all: it is a switch between array and battery, and all passes through it.",
    caution=warning(
        "A controller that carries more than its rating overheats inside and can set fire to what "
        "it is mounted on."
    ),
    since="0.1.0",
    sound=plan(
        "van",
        Edit("from: roof-string", "from: roof-joint"),
        less=("strings.roof-string",),
        more=MORE,
    ),
    faulty=Edit("max_input_current: 30 A", "max_input_current: 12 A"),
)
def controller_input_over_current(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        limits = list(study.array.input_currents(array))
        if not limits:
            yield from _untold(array)
            continue
        limit, said = min(limits, key=lambda pair: pair[0].number)
        bright = array.isc("bright")
        if not exceeds(bright, limit):
            continue
        yield Observation(
            message=f"the {array.name} gives up to {bright} in bright sun, over the {limit} {said} "
            f"of `{array.controller.name}`",
            on=(array.controller, *array.declared_strings),
            values=(bright, limit),
            margin=margin_below(bright, limit),
            remedy=_remedy(study, array, bright, limit),
        )


def _untold(array: ArrayStudy) -> Iterator[Observation]:
    """An input of which no limit is told, where its array gives far more than it can use."""
    controller, bright = array.controller, array.isc("bright")
    if controller.max_input_current is not None or controller.usable_input_current is not None:
        return
    name, written = controller.name, controller.max_output_current
    if written is None:
        usual, of = SMALL_BOX, "inputs of most such boxes stand"
    else:
        output = declared(written, f"Iout({name})", f"rated output of {name}")
        usual = (TIMES_OUTPUT * output).named(
            f"Iusual({name})", f"what inputs of trackers like {name} stand at most", "A"
        )
        of = f"inputs of trackers of {output} seldom stand more than"
    if exceeds(bright, usual):
        yield Observation(
            message=f"the {array.name} gives up to {bright} in bright sun, and what the input of "
            f"`{name}` stands is not told; {of} {usual}",
            on=(controller,),
            values=(bright, usual),
            asks=LIMIT,
        )


def _remedy(study: Study, array: ArrayStudy, bright: Value, limit: Value) -> Remedy:
    """What a smaller current or a larger input takes, after what the label may mean."""
    remedy, controller = _smaller(study, array, bright, limit), array.controller
    if not controller.one_input_current:
        return remedy
    asked = (
        f"look up in its manual whether {controller.max_input_current} is what it takes at most: "
        "then write it as `usable_input_current`; if it is the limit for a short circuit, "
    )
    return remedy._replace(words=asked + remedy.words)


def _smaller(study: Study, array: ArrayStudy, bright: Value, limit: Value) -> Remedy:
    """Fewer side by side, longer strings where the input stands them, or another controller."""
    stands = f"{math.ceil(bright.number - 1e-9)} A"
    larger = f"use a {array.controller.called} whose input takes at least {stands}"
    other = tuple(
        Change(array.controller.name, KEYS[said], stands)
        for each, said in study.array.input_currents(array)
        if exceeds(bright, each)
    )
    now = array.in_parallel()
    each = max(string.isc("bright").number for string in array.all_strings)
    fit = math.floor(limit.number / each + 1e-9)
    if not 1 <= fit < now:
        return Remedy(larger, (other,))
    fewer = f"leave at most {fit} of {now} in parallel on it, the rest on a controller of its own"
    longer = array.in_series() * math.ceil(now / fit)
    volts = array.controller.input_limit.value * INPUT_SHARE
    if array.controller.kind != "pwm" and longer <= array.fitting_in_series(volts):
        words = f"put {longer} in series and {fit} in parallel; or {fewer}; or {larger}"
        rearranged = in_series(array, longer)
        return Remedy(words, (rearranged.changes if rearranged.rest else (), other))
    return Remedy(f"{fewer}; or {larger}", (other,))
