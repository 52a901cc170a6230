"""What hangs on the load terminals of a controller against their rating."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Located, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.discharging import LoadPort
from wattproof.words import enumerated
from wattproof.working import LookUp, Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "all loads on the load terminals of a controller together stay within the current that "
        "its maker gives for them"
    ),
}

MORE = """\
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, load_current: 15 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
loads:
  lights: {current: 3 A, nominal: 12 V}
  pump: {current: 7 A, nominal: 12 V}
wires:
  lights-run: {from: tracker.load, to: lights, cable: batt-8, length: 3 m, place: cabin}
  pump-run: {from: tracker.load, to: pump, cable: batt-8, length: 2 m, place: cabin}
"""

SMALL_OUTLET = tabled(10.0, "A", "Ismall", "rating of the outlet of many boxes", "common practice")
OUTLET = LookUp(
    "what the outlet of {names} is rated for",
    "beside it or in its manual, in A; write it as `load_current`",
)


@rule(
    id="load-port-over-rating",
    summary="Loads on the load terminals of a controller against their rated current.",
    covers=("Load terminals overloaded",),
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="The load terminals of a controller switch the loads off before the battery is "
    "empty, and the small switch behind them has a rating of its own, often well below the charge "
    "current on the front. When everything runs together the currents add up. A good controller "
    "switches off then; a poor one burns.",
    caution=notice("An overloaded load output fails, and with it all that hangs on it."),
    fine="Where the loads cannot run at once, because something keeps them apart and not good "
    "intent.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("load_current: 15 A", "load_current: 8 A"),
)
def load_port_over_rating(study: Study) -> Iterator[Observation]:
    for port in study.wiring.load_ports:
        for starter, amps in port.starters:
            yield _of_a_starter(port, starter, amps)
        if not port.loads:
            continue
        if port.rating is None:
            yield from _untold(port)
        elif exceeds(port.current, port.rating):
            yield _found(port, port.current, port.rating)


def _untold(port: LoadPort) -> Iterator[Observation]:
    """The outlet of a box of which no rating is told, where the smallest would be overloaded."""
    if exceeds(port.current, SMALL_OUTLET):
        yield Observation(
            message=f"the loads on `{port.controller.name}` draw {port.current} together, and what "
            f"its outlet is rated for is not told; the outlets of many boxes stand {SMALL_OUTLET}",
            on=(port.controller,),
            values=(port.current, SMALL_OUTLET),
            asks=OUTLET,
        )


def _found(port: LoadPort, current: Value, rating: Value) -> Observation:
    told = port.controller.load_current is not None
    listed = ", ".join(f"`{load.name}` {amps}" for load, amps in port.loads)
    return Observation(
        message=(
            f"the loads on `{port.controller.name}` draw {current} together ({listed}); its "
            f"load terminals are {'rated' if told else 'taken as rated'} {rating}"
        ),
        on=(port.controller, *(load for load, _ in port.loads)),
        values=(current, rating),
        margin=margin_below(current, rating),
        remedy=_remedy(port, current, rating),
        level=None if told else "warning",
    )


def _of_a_starter(port: LoadPort, starter: Located, amps: Value) -> Observation:
    name = port.controller.name
    return Observation(
        message=f"`{starter.name}` draws {amps} from the load terminals of `{name}`, and no "
        "starter belongs there",
        on=(port.controller, starter),
        values=(amps,),
        remedy=f"lead `{starter.name}` to the battery, by a cable that bears its current",
        cause="starter",
    )


def _remedy(port: LoadPort, current: Value, rating: Value) -> Remedy:
    """The fewest and largest loads that must go, or the controller that would do."""
    left, moved = current.number, []
    for load, amps in sorted(port.loads, key=lambda pair: -pair[1].number):
        if left <= rating.number * (1.0 + 1e-9):
            break
        left -= amps.number
        moved.append(f"`{load.name}`")
    stands = math.ceil(current.number - 1e-9)
    words = (
        f"wire {enumerated(moved)} to the battery through a fuse; or use a controller whose "
        f"load terminals are rated at least {stands} A"
    )
    if port.controller.load_current is None:
        words = f"write `load_current` if its label says at least {stands} A; else {words}"
    return Remedy(words, ((Change(port.controller.name, "load_current", f"{stands} A"),),))
