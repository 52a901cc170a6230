"""Power read at a solar input against what the curve gives the controller."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import LEAST_POWER, exceeds
from wattproof.words import giving_nothing
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.finding import Level
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.standing import BesideBest, Power
    from wattproof.working import Value


BASIS = {
    "common practice": practice(
        "at noon, well aimed and in bulk charging, about 90 % of the plate arrives; under 80 % of "
        "what sun and heat allow is looked into, once a full battery is ruled out"
    ),
}

MORE = """\
readings:
  noon: {at: tracker.pv, voltage: 55.0 V, current: 4.1 A, irradiance: 850 W/m²,
         back_temperature: 48 °C, stage: bulk,
         meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}}
"""

_CLAMP = (
    "set the clamp to direct current, zero it beside the wire, and read again with it around one "
    "lead alone"
)
_EACH_STRING = (
    "read the current of each string in the same sun; where one gives nothing, look for its fuse, "
    "switch or connector that is open; if all give alike, clean the glass and look for shade"
)
AWAY = 0.08  # share by which the voltage may lie beside that of most power


@record
class Limits:
    """What a project may set."""

    least: float = option(LEAST_POWER, "Share of the expected power under which it is told.")


@rule(
    id="reading-power-under-curve",
    summary="Power read at a solar input, against what sun, heat and the controller allow.",
    covers=("Less power than the curve gives",),
    level="note",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="The curve gives the most that the array can deliver in that sun and heat, and the "
    "controller takes it as long as the battery wants it. The commonest reason for little power is "
    "a good one: the battery is nearly full and takes no more, or the controller is at its rated "
    "output. Only in bulk charging does little power tell of the array: the voltage is then right "
    "and the current low where light is missing, and the voltage is low where modules are passed "
    "by.",
    fine="Mostly: a battery that is nearly full takes no more. Read again in bulk charging, with "
    "loads on.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("current: 4.1 A", "current: 2.9 A"),
    options=Limits,
)
def reading_power_under_curve(study: Study, limits: Limits) -> Iterator[Observation]:
    beside_strings = {b.whole.name for b in study.readings.branches if b.disagree}
    for reading in study.readings.at_arrays:
        stands = reading.stands
        power = stands.power
        if power is None or not stands.power_is_decidable or stands.contradicts_the_sun:
            continue
        limit = stands.least_told(power.given, power.given_least, limits.least)
        if not exceeds(limit, power.read.high):
            continue
        share = power.shown.number / power.given.number
        beside = stands.beside_best(power, AWAY)
        why, remedy = _because(reading, beside), _remedy(reading, beside)
        if beside == "right" and reading.name in beside_strings:
            why = "; what its strings read with it makes another current"
            remedy = f"{_CLAMP}, within a minute of the strings"
        yield Observation(
            message=f"`{reading.where}` read {power.shown}, {share * 100:.0f} % of the "
            f"{power.given} that `{reading.taken.array.controller.name}` should take{_held(power)} "
            f"{reading.expected.sun_words}{why}",
            on=reading.subjects,
            values=(power.shown, power.given),
            margin=power.read.high.number / limit.number - 1.0,
            level=_level(reading, power, beside),
            remedy=remedy,
        )


def _level(reading: ArrayReading, power: Power, beside: BesideBest) -> Level | None:
    """What no battery that is nearly full explains is more than a note."""
    in_bulk = reading.taken.takes_all
    if beside == "pulled" and _is_pulsing(reading):
        return None
    return "warning" if beside == "dead" or (in_bulk and power.is_nothing) else None


def _held(power: Power) -> str:
    return f", held back by its {power.held}," if power.held else ""


def _because(reading: ArrayReading, beside: BesideBest) -> str:
    meant = reading.explained.meant_in_operation
    if meant is not None:
        return f"; {meant} would be right, so the unit was misread"
    if (other := _on_display(reading, beside)) is not None:
        return f"; its display showed {other}, so that voltage or current was not what was read"
    if reading.explained.is_held_at_the_battery:
        return "; the array stands at the battery's voltage, as where nothing tracks its maximum"
    if reading.taken.may_be_full and beside != "dead":
        return "; a battery that is nearly full would explain it, and the reading does not say"
    return {
        "dead": "; hardly any voltage arrives, so the way is open or shorted, or the modules are "
        "covered",
        "idle": "; the voltage is there, so something does not let the current through",
        "pulled": _pulled_down(reading),
        "high": "; the voltage is above that of most power, so the controller took less than there "
        "was",
        "low": "; the voltage is below that of most power, as with shade or modules passed by",
        "unknown": "; so little is no dust: the way is open, the modules are covered, or the "
        "controller does not take it"
        if _is_nothing(reading)
        else _strings_by_power(reading),
        "right": f"; the voltage is right and the current low{_what_is_missing(reading)}",
    }[beside]


def _pulled_down(reading: ArrayReading) -> str:
    if _is_pulsing(reading):
        name = reading.taken.array.controller.name
        return (
            f"; the voltage is above any battery's, so `{name}` parts the modules from it in "
            "pulses, as where it is full, and a meter shows the mean"
        )
    return (
        "; the voltage is pulled down, which nothing but a current does: the clamp was around both "
        "leads, zeroed wrongly or set to alternating current, or nothing comes from the modules, "
        "which are covered or parted from it"
    )


def _is_pulsing(reading: ArrayReading) -> bool:
    """Whether a pulse-width controller lets the modules go in between, by their mean voltage."""
    is_pwm = reading.taken.array.controller.kind == "pwm"
    return is_pwm and reading.explained.is_above_the_battery


def _is_nothing(reading: ArrayReading) -> bool:
    power = reading.stands.power
    return power is not None and power.is_nothing


def _on_display(reading: ArrayReading, beside: BesideBest) -> Value | None:
    """Power that the display showed (W), and the meter did not; None where it did, or none came."""
    return None if beside == "dead" else reading.taken.other_power


def _strings_by_power(reading: ArrayReading) -> str:
    """So many strings as explain a power that a display shows alone; empty where none do."""
    dark = _dark_by_power(reading)
    if dark is None:
        return ""
    return f"; {giving_nothing(dark, reading.taken.in_parallel)}, or light is missing"


def _dark_by_power(reading: ArrayReading) -> int | None:
    power = reading.stands.power
    if power is None or power.held:
        return None
    return reading.explained.dark_by_power(power.given, power.given_least)


def _what_is_missing(reading: ArrayReading) -> str:
    """Light, or so many strings as explain a low current."""
    strings, dark = reading.taken.in_parallel, reading.explained.dark_in_operation
    if dark is not None:
        return f", {giving_nothing(dark, strings)}, or light is missing"
    return ", so light is missing, or a string" if strings > 1 else ", so light is missing"


def _remedy(reading: ArrayReading, beside: BesideBest) -> str:
    if reading.explained.meant_in_operation is not None:
        return "look at the unit and the range on the display or meter, and write what it showed"
    if _on_display(reading, beside) is not None:
        return f"{_CLAMP}, at the same moment as the display"
    if reading.explained.is_held_at_the_battery:
        return (
            "look whether the controller is a tracker and set to track; if it is, read the "
            "open-circuit voltage of each string by itself"
        )
    if reading.taken.may_be_full and beside != "dead":
        return "read it again in bulk charging, with loads on, and write `stage: bulk`"
    return {
        "dead": "look for a switch or fuse that is open, a connector that is not home, and a cover "
        "on the modules; then read the open-circuit voltage of each string",
        "idle": "look at what the controller displays, whether its battery is joined and the fuse "
        "whole, and whether the battery's management stops the charge",
        "pulled": "look at what the controller displays, and read it again with loads on, while "
        "the battery is not full"
        if _is_pulsing(reading)
        else f"{_CLAMP}; if still nothing flows, look for covers on the modules and for what is "
        "open on the way, and read the open-circuit voltage of each string by itself",
        "high": "look whether the controller limits its output or its temperature, and whether the "
        "battery's management holds it back",
        "low": "look for shade, then read the open-circuit voltage of each string by itself",
        "unknown": "read the voltage at the solar input: where hardly any is, look for a switch, "
        "fuse or connector that is open, and for covers; where it is that of nothing connected, "
        "look at what the controller displays and whether its battery is joined"
        if _is_nothing(reading)
        else _look_at_strings(reading),
        "right": _look_for_light(reading),
    }[beside]


def _look_at_strings(reading: ArrayReading) -> str:
    """What to do about a power alone that is low: strings first where some would explain it."""
    if _dark_by_power(reading) is not None:
        return _EACH_STRING
    return "clean the glass and look for shade, then read voltage and current at the solar input"


def _look_for_light(reading: ArrayReading) -> str:
    """Where light, or a string, is to be looked for, the likelier first."""
    if reading.explained.dark_in_operation is not None:
        return _EACH_STRING
    if reading.taken.in_parallel > 1:
        return "clean the glass, then read the current of each string in the same sun"
    return "clean the glass, look for shade, and read it again"
