"""Readings that say little because something was not written beside them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import LEAST_POWER, exceeds
from wattproof.words import enumerated, quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings import ReadingsSection
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.at_joints import JointReading
    from wattproof.study.readings.branches import Branches
    from wattproof.study.readings.of_charging import ChargeReading


_SHORT_FIRST = (
    "look at the unit and the range on the meter, and whether the switch that shorts it is closed; "
    "if it stands, "
)
_LIKE_STRINGS = "read the like strings within a minute under the same words in `taken`"
BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.4 to 6.7",
        "2016",
        "readings are compared under steady conditions, with the irradiance and the temperature of "
        "the modules written beside them",
        verified=False,
    ),
    "common practice": practice(
        "a reading is as good as what is written beside it: sun, heat, load, and what the "
        "controller was doing"
    ),
}

MORE = """\
readings:
  roof-open: {at: roof-string, voc: 66.9 V, isc: 4.4 A, irradiance: 850 W/m²,
              back_temperature: 48 °C,
              meter: {voltage: 0.5 %, current: 2 %, zero: 0.3 A, irradiance: 5 %}}
"""


@rule(
    id="reading-conditions-missing",
    summary="Readings of which nothing, or little, can be said without what is not written.",
    covers=("A reading without its sun or temperature",),
    level="note",
    hazard="damage",
    part="reading",
    basis=BASIS,
    explanation="A module gives a quarter less voltage when hot, and current in proportion to the "
    "sun. Without temperature and irradiance almost any reading could be right, so none can be "
    "called wrong. The same holds for a drop without its current. What cannot be compared is not "
    "a pass.",
    fine="Where you only want to keep what was read. It proves nothing, and counts as no pass.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit(",\n              back_temperature: 48 °C", ""),
)
def reading_conditions_missing(study: Study) -> Iterator[Observation]:
    for reading in study.readings.loose:
        yield Observation(
            message=f"`{reading.name}` was read at `{reading.at_terminal}`, which feeds no "
            "controller of the plan, so nothing is computed for it",
            on=(reading,),
            level="note",
            remedy="wire it to a controller in the plan, or delete the reading",
        )
    for each in study.readings.at_arrays:
        yield from _of_array(each, study.readings)
    for branches in study.readings.branches:
        if branches.disagree:
            yield _of_branches(branches)
    for day in study.readings.of_days:
        if day.may_be_low:
            keys = quoted(day.lacks)
            yield Observation(
                message=f"`{day.name}` read {day.shown} on a clear day and the plan does not tell "
                f"{keys}, so too little cannot be told",
                on=day.subjects,
                level="note",
                remedy=f"write {keys}{_if_so(day.lacks)}",
            )
    for joint in study.readings.at_joints:
        if joint.too_little_load and not joint.is_hot_by_part_load:
            least = "a quarter" if joint.least_load < 0.5 else "a half"
            yield _of_load(joint, "drop and heat", least)
    both_sides = study.readings.both_sides
    disagree = {both.gave.name for both in both_sides if both.gave_less or both.gave_more}
    for charge in study.readings.of_charging:
        if charge.lost is not None and charge.too_little_load:
            yield _of_load(charge, "voltage lost on the way", "a quarter")
        if charge.is_held_back and charge.tells_of_the_sun:
            yield _tells_nothing(
                charge,
                f"was read in {charge.reading.stage}, where the battery sets the current",
                "read it again in bulk charging, with loads on",
            )
        elif charge.is_little_at_its_setting and charge.name not in disagree:
            yield _tells_nothing(
                charge,
                f"was read at {charge.voltage}, to which `{charge.source.name}` is set, where the "
                "battery sets the current",
                "read it again with loads on, while the voltage is below that",
            )
        elif charge.array is not None and charge.compared is not None:
            if charge.tells_of_the_sun or charge.is_power_alone:
                shown = charge.true_power if charge.is_power_alone else charge.compared
                assert shown is not None
                yield from _of_power(charge.array, shown.expected)
        elif charge.tells_of_the_sun_at_a_battery:
            yield _tells_nothing(
                charge,
                f"read {charge.current} into `{charge.where}`, which is what loads leave",
                "read it at the battery terminals of the controller",
            )


def _of_branches(branches: Branches) -> Observation:
    """Of a joint or input that carries another current than its strings bring."""
    whole, parts = branches.whole, branches.parts
    shown = enumerated(str(part.taken.current) for part in parts)
    return Observation(
        message=f"{quoted(part.where for part in parts)} read {shown}, which make "
        f"{branches.sum_of.expected}, and `{whole.where}` with them {branches.flows}: one of them "
        "is not what was read",
        on=whole.subjects,
        level="note",
        remedy="zero the clamp beside the wires and read all of them again within a minute, around "
        "one lead alone, and around all leads of one pole where several go on together",
    )


def _if_so(keys: tuple[str, ...]) -> str:
    """What is said of a key that tells how it was, and not what an instrument showed."""
    return ", if it was so" if {"sky", "stage"}.intersection(keys) else ""


def _of_array(reading: ArrayReading, readings: ReadingsSection) -> Iterator[Observation]:
    taken, expected, stands = reading.taken, reading.expected, reading.stands
    if taken.is_reversed:
        return  # a reversed pole has a finding of its own
    for key, written, celsius in reading.explained.too_hot:
        yield _undecided(
            reading,
            f"`{reading.name}` tells `{key}: {written}`, and nothing there is so hot, so that "
            "its heat counts as not told",
            f"write {celsius:.0f} °C if the thermometer shows °F, else measure it again",
        )
    if stands.is_brighter_than_told:
        return  # what contradicts the sun has a finding of its own
    if expected.in_the_dark and taken.shows_nothing:
        return  # as it should be
    if expected.no_sun:
        yield _undecided(
            reading,
            f"`{reading.name}` was read when the sun is below the horizon, by its date, its hour "
            "and the latitude",
            "look at `date`, `time` and `latitude`, of which the south has a minus",
        )
        return
    if taken.other_power is not None and not _is_told_as_low(reading):
        assert taken.true_power is not None
        yield _undecided(
            reading,
            f"`{reading.where}` read {taken.voltage} and {taken.current}, which make "
            f"{taken.true_power.expected}, and its display showed {taken.other_power}: one of them "
            "is not what was read",
            "read all three again within a minute, the clamp around one lead of the array alone, "
            "set to direct current and zeroed",
        )
    held = taken.reading.stage in ("absorption", "float", "equalise")
    if held and (taken.current is not None or taken.reading.power is not None):
        yield _undecided(
            reading,
            f"`{reading.name}` was read in {taken.reading.stage}, where the battery sets the "
            "current, so that it tells nothing of too little",
            "read it again in bulk charging, with loads on",
        )
    if stands.voc_is_over_full_sun:
        return  # nor does it need the sun
    if not expected.decidable:
        why = "the sun was too weak" if expected.too_dim else "a label of it belongs to no curve"
        then = "read it again at 200 W/m² or more" if expected.too_dim else "read the label again"
        meant = reading.explained.meant_sun
        if meant is not None:
            why += f" as it is written; {meant} would be right, so the unit was misread"
            then = (
                "look at the unit that the irradiance meter shows, and write `irradiance` with it"
            )
        yield _undecided(reading, f"nothing can be said of `{reading.name}`, since {why}", then)
        return
    if (
        taken.voc is not None
        and not taken.conditions.temperature_known
        and not reading.explained.too_hot
        and not (stands.voc_is_low or stands.voc_is_high)
    ):
        band = expected.voc
        yield _undecided(
            reading,
            f"`{reading.name}` read {taken.voc} open circuit and tells no temperature; anything "
            f"from {band.low} to {band.high} could be right",
            "measure the back of a module behind a cell, and write `back_temperature`",
        )
    if expected.sky_untold:
        yield _undecided(
            reading,
            f"`{reading.name}` was read under a clear sky, and the plan tells no latitude, so its "
            "sun is not known",
            "write `latitude` under `site`, as of where it was read",
        )
    no_sun = taken.isc is not None and not taken.conditions.sun_known and not stands.isc_is_high
    if no_sun and readings.without_partner(reading, "isc"):
        beside = ", and no string like it was read with it" if taken.has_like_string else ""
        yield _undecided(
            reading,
            f"`{reading.name}` read {taken.isc} shorted and tells no irradiance{beside}; "
            + (_as_at_dusk(reading) or "only a current too high for any sun would show"),
            _SHORT_FIRST * reading.explained.is_less_than_a_day
            + (f"write `irradiance`, or {_LIKE_STRINGS}" if beside else "write `irradiance`"),
        )
    in_operation = taken.at_string and taken.current is not None
    compared = stands.power_is_decidable and expected.working_current is not None
    compared = compared or held or readings.is_end_of_a_way(reading)
    compared = compared or readings.is_beside_a_reversed(reading)
    if in_operation and not compared and readings.without_partner(reading, "current"):
        conditions = "write `irradiance`, `back_temperature` and `stage: bulk`"
        like = taken.has_like_string
        yield _undecided(
            reading,
            f"`{reading.name}` read {taken.current} in operation, and "
            + ("no string like it was read with it" if like else "sun and heat are not both told"),
            f"{_LIKE_STRINGS}, or {conditions}" if like else conditions,
        )
    above = taken.voltage is not None and not taken.at_input
    if above and taken.current is None and readings.without_lower_end(reading):
        yield _undecided(
            reading,
            f"`{reading.name}` read {taken.voltage} in operation, and nothing further down was "
            "read with it, so what is lost on the way cannot be told",
            "read `voltage` at the solar input within a minute, under the same words in `taken`",
        )
    alone = (taken.voltage is None) != (taken.current is None)
    alone = alone and all(way.lower is not reading for way in readings.ways)
    if taken.at_input and alone and taken.reading.power is None:
        yield _undecided(
            reading,
            f"`{reading.name}` read only {taken.voltage or taken.current} of what makes power",
            "read `voltage` and `current` at the same moment",
        )
    if stands.power is not None and not stands.contradicts_the_sun:
        yield from _of_power(reading, stands.power.shown)


def _as_at_dusk(reading: ArrayReading) -> str:
    """Of a short-circuit current that is less than any day gives; empty of another."""
    if not reading.explained.is_less_than_a_day:
        return ""
    meant = reading.explained.isc_in_some_sun
    unit = f": {meant} would be right, so the unit was misread" if meant is not None else ""
    return f"that is less than a dull day gives{unit or ', so the short was not closed'}"


def _is_told_as_low(reading: ArrayReading) -> bool:
    """True for a power that is found too little, which tells of its display by itself."""
    stands, power = reading.stands, reading.stands.power
    if power is None or not stands.power_is_decidable:
        return False
    return exceeds(stands.least_told(power.given, power.given_least, LEAST_POWER), power.read.high)


def _of_power(reading: ArrayReading, shown: Value) -> Iterator[Observation]:
    """What a power or charge current lacks that was read while the battery may have taken all."""
    taken, expected = reading.taken, reading.expected
    if reading.stands.power_is_open:
        missing = {
            "irradiance": not expected.sun_is_told,
            "back_temperature": not taken.conditions.temperature_known,
        }
        keys = [f"`{key}`" for key, is_missing in missing.items() if is_missing]
        words = ("irradiance", "temperature")
        lacks = [
            f"no {w}" for w, is_missing in zip(words, missing.values(), strict=True) if is_missing
        ]
        yield _undecided(
            reading,
            f"`{reading.name}` read {shown} and tells {' and '.join(lacks)}, so it "
            f"cannot be told how much there was to take{_in_operation(reading)}",
            f"write {' and '.join(keys)}",
        )


def _in_operation(reading: ArrayReading) -> str:
    """What would be right in operation if a unit was misread; empty where nothing would."""
    meant = reading.explained.meant_in_operation
    return f"; {meant} would be right, if the unit was misread" if meant is not None else ""


def _undecided(reading: ArrayReading, message: str, remedy: str) -> Observation:
    return Observation(message=message, on=reading.subjects, level="note", remedy=remedy)


def _tells_nothing(charge: ChargeReading, why: str, remedy: str) -> Observation:
    return Observation(
        message=f"`{charge.name}` {why}, so it tells nothing of the array",
        on=(charge.reading,),
        level="note",
        remedy=remedy,
    )


def _of_load(reading: JointReading | ChargeReading, what: str, least: str) -> Observation:
    full = reading.full
    load = f"with at least {least} of {full}" if full is not None else "at its usual load"
    so_far = (
        f"was read at {reading.current} only" if reading.current is not None else "tells no current"
    )
    return Observation(
        message=f"`{reading.name}` {so_far}, so {what} at full load cannot be told",
        on=(reading.reading,),
        level="note",
        remedy=f"read it again {load}, and write `current`",
    )
