"""Open-circuit voltage read against the most that the curve gives, and the cold margin by it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.remedies.proposals import in_series, labelled, which_is_which
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import shown
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.explained import Explanation
    from wattproof.working import Value


BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.4",
        "2016",
        "the open-circuit voltage of every string is measured before it is joined to others, in "
        "steady sun, and compared with what is expected at that temperature or with strings alike; "
        "what differs points to wrong wiring, failed bypass diodes or failed modules",
        verified=False,
    ),
    "common practice": practice(
        "a reading above what the label allows means that the label or the meter is wrong; until "
        "it is known which, the cold voltage is reckoned from the reading"
    ),
}

MORE = """\
readings:
  roof-open: {at: roof-string, voc: 66.9 V, isc: 4.4 A, irradiance: 850 W/m²,
              back_temperature: 48 °C,
              meter: {voltage: 0.5 %, current: 2 %, zero: 0.3 A, irradiance: 5 %}}
"""


@rule(
    id="reading-voltage-high",
    summary="Open-circuit voltage read, against the plan's curve and the input limit when cold.",
    covers=("Modules above their label, so that the cold margin is gone",),
    level="error",
    hazard="damage",
    part="reading",
    basis=BASIS,
    explanation="A module cannot give more voltage than its cells make, and heat only takes from "
    "it. If the meter shows more than the label allows at that heat, the label or the meter is "
    "wrong, or there is one module more than was planned. The margin to the controller's limit was "
    "reckoned from that label. By the reading, the coldest morning brings more than the plan says.",
    caution=warning(
        "A controller that fails shorted can put array voltage on the battery and its loads: fire. "
        "Keep the array switched off in the cold until this is settled."
    ),
    since="0.1.0",
    sound=plan("van", Edit("max_input_voltage: 100 V", "max_input_voltage: 85 V"), more=MORE),
    faulty=Edit("voc: 66.9 V", "voc: 71.4 V"),
)
def reading_voltage_high(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        stands, decidable = reading.stands, reading.expected.decidable
        told = decidable and reading.taken.true_voc is not None
        if told and (stands.voc_is_high or _newly_fails(reading)):
            yield _observation(study, reading)
        elif decidable and stands.works_over_open:
            yield _at_work(reading)
        elif stands.voc_is_over_full_sun:
            yield _in_dim(reading)
        elif reading.explained.over_limit_now is not None:
            yield _over_now(reading, reading.explained.over_limit_now)


def _at_work(reading: ArrayReading) -> Observation:
    """A voltage under load that the array could not have without any."""
    read, most = reading.taken.voltage, reading.expected.voc.high
    assert read is not None
    words = f"in operation, more than the {most} that it can have with nothing connected"
    then = "; then measure its open-circuit voltage"
    return _of_more(reading, read, most, reading.explained.more_at_work, words, then)


def _in_dim(reading: ArrayReading) -> Observation:
    """An open voltage in weak sun that full sun would not give."""
    read, most = reading.taken.voc, reading.expected.brightest_voc
    assert read is not None
    assert most is not None
    words = f"open circuit in weak sun, more than the {most} that full sun gives"
    return _of_more(reading, read, most, reading.explained.more_in_full_sun, words, "")


def _of_more(
    reading: ArrayReading, read: Value, most: Value, count: int | None, words: str, then: str
) -> Observation:
    """More than the planned modules give, by how many in series they would be, now and in cold.

    then: what to do after the modules were counted.
    """
    taken, limit = reading.taken, reading.explained.input_limit
    controller, over = taken.array.controller, exceeds(read, limit)
    cold = None
    if count is not None and taken.has_whole_length and not over:
        cold = reading.explained.cold_of(count)
    fails = over or (cold is not None and exceeds(cold, limit))
    of_input = f"the {limit} limit of `{controller.name}`"
    comes = f", and over {of_input}" if over else ""
    comes += "" if count is None else f", as with {count} modules in series{_where(reading)}"
    if cold is not None:
        side = "over" if fails else "within"
        comes += f"; the coldest morning brings {cold} then, {side} {of_input}"
    worst = read if over else cold if fails and cold is not None else None
    first = f"leave `{controller.name}` unplugged from the array; " if fails else ""
    return Observation(
        message=f"`{reading.where}` read {read} {words}{comes}",
        on=reading.subjects if taken.at_input else (*reading.subjects, controller),
        values=(read, most, *(v for v in (cold, limit if fails else None) if v is not None)),
        margin=margin_below(read, most) if worst is None else margin_below(worst, limit),
        remedy=f"{first}read it again with another meter and count the modules in series{then}",
        level=None if fails else "warning",
    )


def _over_now(reading: ArrayReading, read: Value) -> Observation:
    """A voltage that the controller does not stand, whatever sun and heat explain it."""
    taken, limit = reading.taken, reading.explained.input_limit
    controller = taken.array.controller
    how = "open circuit" if read is taken.voc else "in operation"
    planned = taken.array.is_over_input("coldest")
    then = (
        "put fewer in series"
        if planned
        else "if it is so, put fewer in series, and write `coldest` as cold as it gets there"
    )
    return Observation(
        message=f"`{reading.where}` read {read} {how}, over the {limit} limit of "
        f"`{controller.name}`" + ("" if planned else ", though the plan's coldest brings less"),
        on=reading.subjects if taken.at_input else (*reading.subjects, controller),
        values=(read, limit),
        margin=margin_below(read, limit),
        remedy=f"leave `{controller.name}` unplugged from the array; read it again with another "
        f"meter; {then}",
    )


def _where(reading: ArrayReading) -> str:
    """How many modules in series the plan has there, for a sentence."""
    count = reading.taken.in_series
    return f" where {'1 is' if count == 1 else f'{count} are'} planned"


def _newly_fails(reading: ArrayReading) -> bool:
    """True where the cold voltage passes by the plan, and surely fails by the reading."""
    planned = reading.taken.array.is_over_input("coldest")
    return reading.explained.cold_fails and not planned


def _observation(study: Study, reading: ArrayReading) -> Observation:
    taken, explained = reading.taken, reading.explained
    assert taken.true_voc is not None
    assert explained.cold is not None
    read = taken.true_voc
    band, cold, limit = reading.expected.voc, explained.cold.expected, explained.input_limit
    controller = taken.array.controller
    already = exceeds(read.expected, limit)
    fails = already or exceeds(cold, limit)
    comes = f"by that, the coldest morning brings {cold}, {'over' if fails else 'within'}"
    if already:
        comes = "that is already over"
    exchanged = study.readings.exchanged_with(reading)
    if exchanged is not None and not already:
        return _exchanged(reading, exchanged)
    count = explained.more_in_series
    more = f", as with {count} modules in series{_where(reading)}"
    more = more if count is not None else ""
    return Observation(
        message=f"`{reading.where}` read {read.expected} open circuit where {band.low} to "
        f"{band.high} is expected{more}; {comes} the {limit} limit of `{controller.name}`"
        f"{_slip(explained)}",
        on=reading.subjects if taken.at_input else (*reading.subjects, controller),
        values=(read.low, band.high, cold, limit),
        margin=margin_below(read.expected if already else cold, limit)
        if fails
        else margin_below(read.low, band.high),
        remedy=_remedy(study, reading, fails),
        level=None if fails else "warning",
    )


def _exchanged(reading: ArrayReading, other: ArrayReading) -> Observation:
    """A voltage that belongs to another string, which has this one's."""
    taken, band = reading.taken, reading.expected.voc
    assert taken.true_voc is not None
    return Observation(
        message=f"`{reading.where}` read {taken.true_voc.expected} open circuit where {band.low} "
        f"to {band.high} is expected: it would be right at `{other.where}`, and what was read "
        "there here",
        on=reading.subjects,
        values=(taken.true_voc.low, band.high),
        margin=margin_below(taken.true_voc.low, band.high),
        remedy=which_is_which(reading.where, other.where),
        level="warning",
    )


def _slip(explained: Explanation) -> str:
    """What would be right if the unit or the point was misread; empty where nothing would."""
    meant = explained.meant_voc or explained.voc_by_its_point
    what = "unit" if explained.meant_voc else "decimal point"
    return f"; {meant} would be right, if the {what} or the range was misread" if meant else ""


def _remedy(study: Study, reading: ArrayReading, fails: bool) -> Remedy:
    """What the plan should say, if the reading stands; while the margin fails, nothing to try."""
    taken, explained = reading.taken, reading.explained
    module, by_reading, count = taken.module, explained.label_voc, explained.more_in_series
    words, ways = "read it again with another meter", []
    if count is not None:
        words += f" and count the modules in series, of which {count} would give it"
        ways.append(_longer(reading, count))
    if module is not None and by_reading is not None:
        volts = shown(math.ceil(by_reading.number * 100.0) / 100.0, "V")
        words += f"; if it is so, write `voc: {volts}` for `{module.name}` and check the plan again"
        ways.append(labelled(study.array.users_of(module), module, "voc", volts))
    elif count is None and _slip(explained):
        words += ", and look at its unit, decimal point and range, and write what it showed"
    elif count is None:
        words += ", and look at what is joined there: no label is that wrong"
    if not fails:
        return Remedy(words, tuple(ways))
    return Remedy(f"leave `{taken.array.controller.name}` unplugged from the array; {words}")


def _longer(reading: ArrayReading, count: int) -> tuple[Change, ...]:
    """The whole array with so many in series; none where only a part of it was read."""
    taken = reading.taken
    return in_series(taken.array, count).changes if taken.has_whole_length else ()
