"""Current in operation read at a string or joint against what its curve gives there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.words import giving_nothing
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
    "common practice": practice(
        "a clamp around one lead of each string, in bulk charging near noon, shows within minutes "
        "which string gives too little; it is the reading that needs no connector parted"
    ),
}

MORE = """\
readings:
  noon: {at: roof-string, current: 4.1 A, irradiance: 850 W/m², back_temperature: 48 °C,
         stage: bulk, meter: {current: 2 %, zero: 0.1 A, irradiance: 5 %}}
"""


@rule(
    id="reading-string-current-low",
    summary="Current in operation read at a string, against what its curve gives there.",
    covers=("A string that gives too little in operation",),
    level="note",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="Where the controller takes all that there is, each string gives the current that "
    "its curve has at that voltage, in proportion to the sun. One that gives less is shaded or "
    "dirty, aimed another way, or badly joined. A battery that is nearly full takes less of all "
    "of them, which is no fault.",
    fine="Where the battery was nearly full, or a shadow lay on this string at that hour.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("current: 4.1 A", "current: 3.0 A"),
)
def reading_string_current_low(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        if reading.stands.working_current_is_low:
            yield _observation(reading)


def _observation(reading: ArrayReading) -> Observation:
    band, read = reading.expected.working_current, reading.taken.true_current
    assert band is not None
    assert read is not None
    less = 1.0 - read.expected.number / band.expected.number
    full = reading.taken.may_be_full
    meant = reading.explained.meant_current
    if meant is not None:
        return Observation(
            message=f"`{reading.where}` read {read.expected} in operation where {band.low} to "
            f"{band.high} is expected {reading.expected.sun_words}; {meant} would be right, so the "
            "unit or the range was misread",
            on=reading.subjects,
            values=(read.high, band.low, meant),
            margin=read.high.number / band.low.number - 1.0,
            remedy="look at the unit and the range on the meter, and write what it showed; if it "
            "stands, nothing flows: look for a fuse or switch that is open",
        )
    if reading.taken.nothing_flows:
        return Observation(
            message=f"`{reading.where}` read {read.expected} in operation where {band.low} to "
            f"{band.high} is expected {reading.expected.sun_words}: nothing flows, or the clamp "
            "was around both leads, of which the one undoes the other",
            on=reading.subjects,
            values=(read.high, band.low, band.expected),
            margin=read.high.number / band.low.number - 1.0,
            remedy="put the clamp around one lead alone; if still nothing flows, look for a fuse "
            "or switch that is open, with the current of the array stopped",
        )
    return Observation(
        message=f"`{reading.where}` read {read.expected} in operation where {band.low} to "
        f"{band.high} is expected {reading.expected.sun_words}, {less * 100:.0f} % less than likely"
        + ("; a battery that is nearly full would explain it" if full else _strings(reading)),
        on=reading.subjects,
        values=(read.high, band.low, band.expected),
        margin=read.high.number / band.low.number - 1.0,
        remedy="read it again in bulk charging, with loads on, and write `stage: bulk`"
        if full
        else "clean the glass and look for shade, then read all strings within a minute; if one "
        "stays low, its open-circuit voltage by itself",
    )


def _strings(reading: ArrayReading) -> str:
    """How many strings of a joint would explain it by giving nothing; empty where none would."""
    dark, strings = reading.explained.dark_in_operation, reading.taken.in_parallel
    if dark is None:
        return ""
    return f", {giving_nothing(dark, strings)}"
