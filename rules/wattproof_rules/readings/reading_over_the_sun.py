"""Current and power read in operation against the most that the sun can give."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.of_charging import ChargeReading


BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.5",
        "2016",
        "the current of every string, shorted or in operation, is measured in steady sun and "
        "compared with what is expected or with strings alike",
        verified=False,
    ),
    "common practice": practice(
        "a module gives no more in operation than shorted, and that follows the sun; more on the "
        "display is another wire in the clamp, the other side of the controller, or another array"
    ),
}

MORE = """\
readings:
  noon: {at: tracker.pv, voltage: 55.0 V, current: 4.1 A, irradiance: 850 W/m²,
         back_temperature: 48 °C, stage: bulk,
         meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}}
"""


@rule(
    id="reading-over-the-sun",
    summary="Current and power read in operation, against the most that the sun can give.",
    covers=("A clamp on the wrong wire", "More in operation than the sun can give"),
    level="warning",
    hazard="damage",
    part="reading",
    basis=BASIS,
    explanation="In operation an array gives at most what it gives shorted, and no more power than "
    "the top of its curve. What was read lies above, so it is not what the plan says was read: "
    "the meter is wrong or set to another range, the clamp was around another wire or around "
    "several, or more modules are there than the plan has. Until that is settled nothing else that "
    "this meter showed can be trusted, and the wires may carry more than they were chosen for.",
    caution=warning(
        "Leads of an array are live in daylight and cannot be switched off. Move a clamp without "
        "touching metal, and part no connector that carries current: the arc burns."
    ),
    fine="For some minutes at the edge of bright clouds. Otherwise something that was written is "
    "not what was read.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("current: 4.1 A", "current: 8.6 A"),
)
def reading_over_the_sun(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        if reading.stands.is_brighter_than_told:
            yield _of_told_sun(reading)
        elif reading.stands.current_is_over:
            yield _of_current(reading)
        elif reading.stands.power_is_over:
            yield _of_power(reading)
    for charge in study.readings.of_charging:
        if charge.charge_is_over:
            yield _of_charge(charge)


def _of_current(reading: ArrayReading) -> Observation:
    assert reading.taken.true_current is not None
    read, most = reading.taken.true_current, reading.expected.most_current
    because, remedy = _which(reading)
    return Observation(
        message=f"`{reading.where}` read {read.expected} in operation where {most} is the most "
        f"that the sun can give {_in_what_sun(reading)}{because}",
        on=reading.subjects,
        values=(read.low, most),
        margin=margin_below(read.low, most),
        remedy=remedy,
    )


def _of_told_sun(reading: ArrayReading) -> Observation:
    over = reading.stands.over_the_dimmest
    assert over is not None
    read, most = over
    expected = reading.expected
    if expected.no_sun:
        sun = "the sun is below the horizon"
    elif expected.sun_by_sky:
        sun = f"a clear sky gives {expected.sun.high} at most"
    else:
        sun = f"{expected.sun.expected} is written"
    by_sky = "`date`, `time`, `latitude`, of which the south has a minus, and how the modules lie"
    return Observation(
        message=f"`{reading.where}` read {read.expected}, more than the {most} of 200 W/m² of sun, "
        f"where {sun}{_sun_slip(reading)}",
        on=reading.subjects,
        values=(read.low, most),
        margin=margin_below(read.low, most),
        remedy=f"look at {by_sky if expected.sun_by_sky else 'the unit of `irradiance`'}; if it "
        "stands, read it again with the irradiance in the plane of the modules",
    )


def _of_power(reading: ArrayReading) -> Observation:
    power, most = reading.stands.power, reading.expected.most_power
    assert power is not None
    assert most is not None
    slip = _power_slip(reading)
    return Observation(
        message=f"`{reading.where}` read {power.shown} where {most} is the most that the sun can "
        f"give {_in_what_sun(reading)}{slip}",
        on=reading.subjects,
        values=(power.read.low, most),
        margin=margin_below(power.read.low, most),
        remedy="look at the unit, decimal point and range on the display or meter, and write what "
        "it showed"
        if slip
        else "read voltage and current again at the same moment, each with its own range of the "
        "meter, and the irradiance beside them; if it stays so, count the modules",
    )


def _power_slip(reading: ArrayReading) -> str:
    """What power would be right if its unit or its point was misread; empty where none would."""
    explained = reading.explained
    if explained.meant_power is not None:
        return f"; {explained.meant_power} would be right, so the unit was misread"
    point = explained.power_by_its_point
    return (
        f"; {point} would be right, so the decimal point was misread" if point is not None else ""
    )


def _of_charge(reading: ChargeReading) -> Observation:
    read, most, array = reading.charge, reading.most_charge, reading.array
    assert read is not None
    assert most is not None
    assert array is not None
    return Observation(
        message=f"`{reading.where}` read {read.expected} where {most} is the most that the sun can "
        f"give {_in_what_sun(array)}{_sun_slip(array)}",
        on=(reading.reading, reading.source),
        values=(read.low, most),
        margin=margin_below(read.low, most),
        remedy="put the clamp around the controller's own lead, not one that other chargers share, "
        "and read again; if it stays so, count the modules",
    )


def _in_what_sun(reading: ArrayReading) -> str:
    if reading.taken.conditions.sun_known:
        return reading.expected.sun_words
    return "in the brightest steady sun"


def _sun_slip(reading: ArrayReading) -> str:
    """What sun would be right if its unit was misread; empty where none would."""
    meant = reading.explained.meant_sun
    return f"; {meant} would be right, so the unit was misread" if meant is not None else ""


def _which(reading: ArrayReading) -> tuple[str, str]:
    """What the size points to, and what to do about it."""
    meant = reading.explained.meant_current
    if meant is not None:
        return (
            f"; {meant} would be right, so the unit or the range was misread",
            "look at the unit and the range on the meter, and write what it showed",
        )
    point = reading.explained.current_by_its_point
    if point is not None:
        return (
            f"; {point} would be right, so the decimal point or the range was misread",
            "look at the decimal point and the range on the meter, and write what it showed",
        )
    beside = reading.explained.as_side_by_side
    if beside is not None:
        return (
            f", and its voltage is as low, as with {beside} modules side by side where the plan "
            "has them in series"
            + (
                ", or with voltage and current in each other's place"
                if reading.explained.works_exchanged
                else ""
            ),
            "look how the modules are joined, and check the plan as it is: cables, plugs and fuses "
            "carry more current then",
        )
    if reading.explained.works_exchanged:
        return (
            ", as with voltage and current in each other's place",
            "write each where it belongs, and check again",
        )
    again = "zero the clamp beside the wire, put it around this one alone, and read again"
    name = reading.taken.array.controller.name
    count = reading.explained.times_over
    of_the_battery = reading.explained.is_as_of_the_battery
    sun = reading.explained.sun_that_gives
    if sun is not None:
        return (
            f"; {round(sun.number, -1):.0f} W/m² would give it"
            + (f", or {count} of it in parallel" if count is not None else ""),
            "read the irradiance again in the plane of the modules, within a minute of the "
            f"current; if it stays so, {again}",
        )
    if reading.taken.at_input and of_the_battery:
        return (
            f", as on the battery side of `{name}`",
            f"read at the solar input of `{name}`, or write it `at: {name}.battery`, with the "
            "voltage there",
        )
    if count is not None:
        battery = f", or as on the battery side of `{name}`"
        return (
            f", as with {count} of it in parallel"
            + (battery if of_the_battery and reading.taken.is_whole else ""),
            f"{again}; if it is so, count what is joined in parallel",
        )
    return "", (f"{again}; if it is so, another meter or another array is there than the plan says")
