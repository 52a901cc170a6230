"""Power read at a solar input against what the curve gives the controller."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import LEAST_POWER, exceeds
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.finding import Level
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.standing import BesideBest, Power


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
    for reading in study.readings.at_arrays:
        stands = reading.stands
        power = stands.power
        if power is None or not stands.power_is_decidable or stands.contradicts_the_sun:
            continue
        limit = limits.least * power.given
        if not reading.taken.conditions.sun_measured and limit > power.given_least:
            limit = power.given_least
        if not exceeds(limit, power.read.high):
            continue
        share = power.shown.number / power.given.number
        beside = stands.beside_best(power, AWAY)
        yield Observation(
            message=f"`{reading.where}` read {power.shown}, {share * 100:.0f} % of the "
            f"{power.given} that `{reading.taken.array.controller.name}` should take{_held(power)} "
            f"{reading.expected.sun_words}{_because(reading, beside)}",
            on=reading.subjects,
            values=(power.shown, power.given),
            margin=power.read.high.number / limit.number - 1.0,
            level=_level(reading, power, beside),
            remedy=_remedy(reading, beside),
        )


def _level(reading: ArrayReading, power: Power, beside: BesideBest) -> Level | None:
    """What no battery that is nearly full explains is more than a note."""
    in_bulk = reading.taken.reading.stage == "bulk"
    return "warning" if beside == "dead" or (in_bulk and power.is_nothing) else None


def _held(power: Power) -> str:
    return f", held back by its {power.held}," if power.held else ""


def _because(reading: ArrayReading, beside: BesideBest) -> str:
    meant = reading.explained.meant_in_operation
    if meant is not None:
        return f"; {meant} would be right, so the unit was misread"
    if reading.explained.is_held_at_the_battery:
        return "; the array stands at the battery's voltage, as where nothing tracks its maximum"
    if reading.taken.reading.stage is None and beside != "dead":
        return "; a battery that is nearly full would explain it, and the reading does not say"
    return {
        "dead": "; hardly any voltage arrives, so the way is open or shorted, or the modules are "
        "covered",
        "idle": "; the voltage is there, so something does not let the current through",
        "high": "; the voltage is above that of most power, so the controller took less than there "
        "was",
        "low": "; the voltage is below that of most power, as with shade or modules passed by",
        "unknown": "",
        "right": "; the voltage is right and the current low, so light is missing, or a string",
    }[beside]


def _remedy(reading: ArrayReading, beside: BesideBest) -> str:
    if reading.explained.meant_in_operation is not None:
        return "look at the unit and the range on the display or meter, and write what it showed"
    if reading.explained.is_held_at_the_battery:
        return (
            "look whether the controller is a tracker and set to track; if it is, read the "
            "open-circuit voltage of each string by itself"
        )
    if reading.taken.reading.stage is None and beside != "dead":
        return "read it again in bulk charging, with loads on, and write `stage: bulk`"
    return {
        "dead": "look for a switch or fuse that is open, a connector that is not home, and a cover "
        "on the modules; then read the open-circuit voltage of each string",
        "idle": "look at what the controller displays, whether its battery is joined and the fuse "
        "whole, and whether the battery's management stops the charge",
        "high": "look whether the controller limits its output or its temperature, and whether the "
        "battery's management holds it back",
        "low": "look for shade, then read the open-circuit voltage of each string by itself",
        "unknown": "clean the glass and look for shade, then read voltage and current at the "
        "solar input",
        "right": "clean the glass, then read the current of each string in the same sun",
    }[beside]
