"""Short-circuit current read against the most that the curve gives."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.remedies.proposals import labelled
from wattproof.rule import Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.words import quoted
from wattproof.working import Value, shown
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_arrays import ArrayReading


BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.5",
        "2016",
        "the current of every string, shorted or in operation, is measured in steady sun and "
        "compared with what is expected or with strings alike",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 690.8(A)",
        "2017-2023",
        "conductors and devices of an array are sized for 125 % of the short-circuit current on "
        "the labels, for sun brighter than the standard; more than that is outside what they were "
        "chosen for",
        verified=True,
    ),
    "common practice": practice(
        "the edge of a white cloud or snow lifts the current for minutes; a high reading that "
        "lasts in steady sun means that the label is wrong"
    ),
}

MORE = """\
readings:
  roof-open: {at: roof-string, voc: 66.9 V, isc: 4.4 A, irradiance: 850 W/m²,
              back_temperature: 48 °C,
              meter: {voltage: 0.5 %, current: 2 %, zero: 0.3 A, irradiance: 5 %}}
"""


@rule(
    id="reading-current-high",
    summary="Short-circuit current read, against the most that the label allows in that sun.",
    covers=("More current than the label allows",),
    level="warning",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="Wires, string fuses and the controller's input were chosen by the short-circuit "
    "current on the label. If the modules give more than that in the same sun, each of them is "
    "nearer to its limit than the plan knows. Bright cloud edges, snow and water lift the current "
    "for minutes without any fault; a steady excess means that the label is wrong, or that there "
    "are more modules in parallel than planned.",
    caution=warning(
        "An array current over the rating of a joint melts it slowly, and no fuse opens. Look for "
        "warm joints with a contactless thermometer or a thermal camera, never with a hand."
    ),
    fine="For some minutes at the edge of bright clouds, beside snow or water. Read it again "
    "under a clear sky.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("isc: 4.4 A", "isc: 5.36 A"),
)
def reading_current_high(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        taken = reading.taken
        if not reading.stands.isc_is_high:
            continue
        assert taken.true_isc is not None
        read = taken.true_isc
        known = taken.conditions.sun_known
        limit = reading.expected.isc.high if known else reading.expected.brightest_isc
        sun = reading.expected.sun_words if known else "in the brightest steady sun"
        label = reading.explained.label_isc
        yield Observation(
            message=f"`{reading.where}` read {read.expected} shorted where {limit} is the most "
            f"that is expected {sun}{_because(reading)}{_all_alike(study, reading)}",
            on=reading.subjects,
            values=(read.low, limit) if label is None else (read.low, limit, label),
            margin=margin_below(read.low, limit),
            remedy=_remedy(study, reading, label),
        )


def _all_alike(study: Study, reading: ArrayReading) -> str:
    """Other strings that read as high by a sun that was told; empty where none does."""
    others = study.readings.as_far_off(reading, "isc")
    if not others or not reading.taken.conditions.sun_measured:
        return ""
    named = quoted(dict.fromkeys(each.where for each in others))
    return f"; {named} read as high: likelier the irradiance is wrong"


def _because(reading: ArrayReading) -> str:
    """More strings side by side, where the size points to them."""
    taken, explained = reading.taken, reading.explained
    if explained.are_exchanged:
        return ": it would be right as the open-circuit voltage, and that as the current"
    if explained.meant_isc is not None:
        return f": {explained.meant_isc} would be right, so the unit or the range was misread"
    point = explained.isc_by_its_point
    if point is not None:
        return f": {point} would be right, so the decimal point or the range was misread"
    count = explained.more_in_parallel
    if count is None or reading.expected.sun_by_sky:
        return ""
    planned = taken.array.in_parallel(taken.tree)
    return f", as with {count} in parallel where the plan has {planned}"


def _remedy(study: Study, reading: ArrayReading, label: Value | None) -> Remedy:
    taken, explained = reading.taken, reading.explained
    if explained.are_exchanged or explained.isc_slip is not None:
        return Remedy(
            "look at the unit, decimal point and range on the meter, and write what it showed"
        )
    if reading.expected.sun_by_sky:
        return Remedy(
            "look at `date`, `time` and `latitude`, of which the south has a minus, and at how the "
            "modules lie; if they are as written, read it again with an irradiance meter in the "
            "plane of the modules"
        )
    words = "read it again in steady sun, away from bright clouds, snow and water"
    if _all_alike(study, reading):
        words = "hold the irradiance meter in the plane of the modules, and " + words
    if not taken.conditions.sun_known:
        return Remedy(f"{words}, with the irradiance in the plane of the modules")
    if explained.more_in_parallel is not None:
        words += ", and count what is joined side by side"
    if label is None or taken.module is None:
        other = "; if it is so, another module is there than the plan says"
        return Remedy(words + ("" if explained.more_in_parallel is not None else other))
    amps = shown(math.ceil(label.number * 100.0) / 100.0, "A")
    return Remedy(
        f"{words}; if it is so, write `isc: {amps}` for `{taken.module.name}` and check the "
        "plan again: wires, string fuses and inputs were chosen by the label",
        (labelled(study.array.users_of(taken.module), taken.module, "isc", amps),),
    )
