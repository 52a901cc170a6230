"""Charge current read at a controller's battery terminals against what its array can give."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.words import giving_nothing
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.both_sides import BothSides
    from wattproof.study.readings.of_charging import ChargeReading
    from wattproof.working import Value


BASIS = {
    "common practice": practice(
        "a controller gives its battery some 93 to 99 % of what it takes from the array, at the "
        "battery's voltage; in bulk charging the battery takes all of it"
    ),
}

MORE = """\
readings:
  noon: {at: tracker.battery, voltage: 13.6 V, current: 16 A, irradiance: 850 W/m²,
         back_temperature: 48 °C, stage: bulk,
         meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}}
"""


@rule(
    id="reading-charge-under-array",
    summary="Charge current read at a controller, against what its array can give in that sun.",
    covers=(
        "Less charge than the array could give",
        "Two sides of a controller that do not agree",
    ),
    level="note",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="What a display shows at the battery is what is left of the array after the "
    "controller. In bulk charging the battery takes all of it, and volts and amperes there tell as "
    "much of the array as at its own terminals. In any other stage they tell what the battery "
    "wants.",
    fine="In any stage but bulk, when the battery is nearly full, or when a cloud passed between "
    "the two readings.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("current: 16 A", "current: 9 A"),
)
def reading_charge_under_array(study: Study) -> Iterator[Observation]:
    told = set()
    for both in study.readings.both_sides:
        if both.gave_less or both.gave_more:
            told.add(both.gave.name)
            yield _of_both(both)
    for reading in study.readings.of_charging:
        if reading.charge_is_low and reading.name not in told:
            yield _observation(reading)


def _of_both(both: BothSides) -> Observation:
    """Of the two sides of a controller, read at the same moment, that do not agree."""
    band, read = both.passed_on, both.gave.charge
    assert band is not None
    assert read is not None
    controller, where = both.took.taken.array.controller, both.took.where
    if both.gave_more:
        because = "it cannot give more than it takes: another source was in the clamp, or the two "
        because += "were read at other moments"
        margin = margin_below(read.low, band.high)
    else:
        because = "the rest leaves before the clamp, or the two were read at other moments"
        margin = read.high.number / band.low.number - 1.0
    return Observation(
        message=f"`{both.gave.where}` read {read.expected} where what `{where}` read with it "
        f"brings {band.low} to {band.high}: {because}",
        on=(both.gave.reading, controller),
        values=(read.expected, band.low, band.high),
        margin=margin,
        remedy="read both within a minute, with the clamp set to direct current around the "
        f"controller's own lead, between `{controller.name}` and the first branch",
    )


def _observation(reading: ChargeReading) -> Observation:
    given, read, array, least = (
        reading.given,
        reading.compared,
        reading.array,
        reading.least_charge,
    )
    assert given is not None
    assert read is not None
    assert array is not None
    assert least is not None
    full = reading.may_be_full
    meant = reading.meant_charge
    margin = read.high.number / least.number - 1.0
    if meant is not None:
        return Observation(
            message=f"`{reading.where}` read {read.expected} where the array can give {given.low} "
            f"to {given.high} {array.expected.sun_words}; {meant} would be right, so the unit was "
            "misread",
            on=(reading.reading, reading.source),
            values=(read.high, least, meant),
            margin=margin,
            remedy="look at the unit on the display or meter, and write what it showed",
        )
    share = read.expected.number / given.expected.number
    shown, whole = _as_shown(reading, read.expected, given.expected)
    strings = "" if full else _strings(reading)
    return Observation(
        message=f"`{reading.where}` read {shown}, {share * 100:.0f} % of the {whole} that its "
        f"array should bring {array.expected.sun_words}"
        + ("; a battery that is nearly full would explain it" if full else strings),
        on=(reading.reading, reading.source),
        values=(read.high, least, given.expected),
        margin=margin,
        remedy="read it again in bulk charging, with loads on, and write `stage: bulk`"
        if full
        else "read the current of each string in the same sun, clean the glass and look for shade; "
        "where all give alike, read voltage and current at the solar input"
        if strings
        else "look for shade, clean the glass, then read voltage and current at the solar input: "
        "there it shows whether light is missing or voltage",
    )


def _strings(reading: ChargeReading) -> str:
    """So many strings as explain a charge that is low; empty where none do."""
    array, read, given = reading.array, reading.compared, reading.given
    if array is None or read is None or given is None:
        return ""
    dark = array.explained.dark_by_charge(read, given)
    strings = array.taken.in_parallel
    return "" if dark is None else f", {giving_nothing(dark, strings)}, or light is missing"


def _as_shown(reading: ChargeReading, read: Value, given: Value) -> tuple[Value, Value]:
    """What was read and what should have been, in amperes, or in watts where those alone were."""
    watts, volts = reading.true_power, reading.compared_at
    if not reading.is_power_alone or watts is None or volts is None:
        return read, given
    return watts.expected, (given * volts).named("P", "power expected", "W")
