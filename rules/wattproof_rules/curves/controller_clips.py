"""The power of an array at a hot noon against what its controller can pass on."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions.labels import SOLD_CONTROLLERS
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, declared, total
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "more module power than a tracker can use is sound, since it serves dull days and hot "
        "cells give a quarter less than their label; far more than that is worth a second look"
    ),
}


LARGEST = SOLD_CONTROLLERS[-1]
"""The largest output current (A) that one controller is sold with."""


@record
class Limits:
    """What a project may set."""

    times: float = option(1.5, "How many times its output current an array may offer a tracker.")


@rule(
    id="controller-clips",
    summary="Current that an array could charge with at noon against the controller's output.",
    covers=("More power than the controller passes on",),
    level="note",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A tracker that is offered more power than it can use moves away from the best "
    "point of the curve and lets the rest go; nothing is harmed. Somewhat too large an array is "
    "sound, since it fills the battery on dull days and in winter. An array far larger than its "
    "controller throws much away on every clear day.",
    fine="Often: a larger array fills the battery on dull days and in winter, and harms nothing "
    "as long as its voltage and its short-circuit current fit.",
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("max_output_current: 20 A", "max_output_current: 6 A"),
    options=Limits,
)
def controller_clips(study: Study, limits: Limits) -> Iterator[Observation]:
    yield from _by_power(study, limits)
    for array in study.array.arrays:
        controller, charge = array.controller, study.curves.window_of(array).charge_voltage
        offered = study.curves.offered_to(array)
        if charge is None or offered is None:
            continue
        written, name = controller.limited_to or controller.max_output_current, controller.name
        if written is None or array is not _first(array, study):
            continue  # several inputs of one controller share what it gives
        output = declared(written, f"Iout({name})", f"most that {name} gives")
        power = total(
            [a.power("standard") for a in study.array.arrays if a.controller.name == name]
        )
        passed = (output * charge).named(f"Pout({name})", f"power that {name} passes on", "W")
        words = f"power that {name} leaves in the array in full sun"
        left = (power - passed).named(f"Pleft({name})", words, "W")
        most = output * limits.times
        if not exceeds(offered, most):
            continue
        larger = math.ceil(offered.number / limits.times - 1e-9)
        lost = _lost_in_a_day(array, study)
        goes = f"{left} of {power} are left unused"
        if lost is not None:
            goes += f", {lost[0]} a day {lost[1]}"
        yield Observation(
            message=f"in full sun on cool cells the {array.name} could charge with {offered}, and "
            f"`{name}` passes on {output} at most: {goes}; is that on purpose?",
            on=(controller, *array.declared_strings),
            values=(offered, output, left, *lost[:1]) if lost else (offered, output, left),
            margin=margin_below(offered, most),
            remedy=_remedy(array, study.curves.bank_of(array), larger),
        )


def _lost_in_a_day(array: ArrayStudy, study: Study) -> tuple[Value, str] | None:
    """What the controller of an array lets go in a day (J) of the period with the most, and when.

    None where no sun hours are known, and where nothing goes.
    """
    name = array.controller.name
    found: list[tuple[Value, str]] = []
    for balance in (b for bank in study.energy.balances for b in bank.balances):
        gone = [h.lost for h in balance.harvests if h.array.controller.name == name]
        if gone:
            words = f"what {name} lets go a day {balance.period.when}"
            found.append((total(gone).named("Wlost", words, "J"), balance.period.when))
    worst = max(found, key=lambda each: each[0].number, default=None)
    return worst if worst is not None and worst[0].number > 0.0 else None


def _first(array: ArrayStudy, study: Study) -> ArrayStudy:
    """The first of the arrays on the inputs of the same controller."""
    name = array.controller.name
    return next(each for each in study.array.arrays if each.controller.name == name)


def _by_power(study: Study, limits: Limits) -> Iterator[Observation]:
    """Inputs that take a power and no more, as those of portable boxes."""
    for array in study.array.arrays:
        controller, name = array.controller, array.controller.name
        if controller.max_input_power is None or array is not _first(array, study):
            continue
        taken = declared(controller.max_input_power, f"Pmax({name})", f"most that {name} takes")
        offers = [a.power("hottest") for a in study.array.arrays if a.controller.name == name]
        words = f"power that the {array.name} could give at the hottest noon"
        offered = total(offers).named(f"Poffer({name})", words, "W")
        most = taken * limits.times
        if exceeds(offered, most):
            yield Observation(
                message=f"even at the hottest noon the {array.name} could give {offered}, and "
                f"`{name}` takes {taken} at most: is that on purpose?",
                on=(controller, *array.declared_strings),
                values=(offered, taken),
                margin=margin_below(offered, most),
                remedy="accept it if it is meant for dull days; else a part of the array is "
                "carried for nothing",
            )


def _remedy(array: ArrayStudy, bank: BankStudy | None, larger: int) -> Remedy:
    """Another controller, without the limit that is set in this one, where the bank stands it."""
    accept = "accept it if it is meant for dull days"
    if bank is not None and larger > bank.charge_limit.number:
        return Remedy(
            f"{accept}; a controller of {larger} A, which would pass it on, is more than the "
            f"{bank.charge_limit} that `{bank.name}` may get"
        )
    words = (
        f"{accept}; else use a controller of at least {larger} A, with fuse and wires for that, or "
        "a second one for a part of the array"
    )
    if larger > LARGEST:
        return Remedy(f"{accept}; else use a second controller for a part of the array")
    name, limited = array.controller.name, array.controller.limited_to
    unset = (Change(name, "limited_to", ""),) if limited is not None else ()
    return Remedy(words, ((Change(name, "max_output_current", f"{larger} A"), *unset),))
