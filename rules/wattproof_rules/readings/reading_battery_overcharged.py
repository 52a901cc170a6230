"""Voltage read at the posts of a battery against the highest that it may be charged with."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.of_charging import ChargeReading

BASIS = {
    "common practice": practice(
        "the highest charge voltage on a battery's label holds at its posts, whatever charges it "
        "and whatever the controller is set to; that of lead holds at 25 °C, and rises in the cold "
        "by 3 to 5 mV for each degree and cell"
    ),
}

MORE = """\
readings:
  at-the-posts: {at: house, voltage: 14.2 V, stage: absorption}
"""


@rule(
    id="reading-battery-overcharged",
    summary="Voltage read at a battery or its controller, against the highest of its label.",
    covers=("A battery charged over its limit",),
    level="error",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="The voltage at the posts is what the cells really get. Above the label a lead "
    "battery boils its acid away and gives off hydrogen, and a lithium battery is pushed until its "
    "management cuts it off, if that works. The setting of the controller proves nothing: another "
    "source may be charging too, a sensor may be off, or a profile for another chemistry may be "
    "in use.",
    caution=warning(
        "An overcharged lead battery gives off hydrogen, which explodes at a spark. Air the place, "
        "and switch the charging off before anything is disconnected."
    ),
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voltage: 14.2 V, stage", "voltage: 15.1 V, stage"),
)
def reading_battery_overcharged(study: Study) -> Iterator[Observation]:
    for reading in study.readings.of_charging:
        at_controller, at_posts = reading.over_all_that_is_lost, reading.posts_over_allowed
        if at_controller is not None:
            yield _at_controller(reading, *at_controller)
        if at_posts is not None:
            yield _observation(reading, *at_posts)


def _at_controller(reading: ChargeReading, read: Value, most: Value) -> Observation:
    assert reading.bank is not None
    bank, source = reading.bank, reading.source
    remedy = (
        "part the array from the controller, then read the posts of the battery; look at the "
        "profile that is set, and whether the battery is cut off"
    )
    message = (
        f"`{reading.where}` read {reading.voltage}, more than all that may be lost on the way over "
        f"the {reading.allowed_in_cold or reading.allowed} that `{bank.name}` may be charged with"
    )
    if reading.is_as_of_the_array:
        message += f"; it would be right at the solar input of `{source.name}`"
        remedy = f"write it `at: {source.name}.pv` if it was read there; else {remedy}"
    message, remedy = _as_another(reading, message, remedy)
    return Observation(
        message=message,
        on=(reading.reading, bank.battery),
        values=(read, most),
        margin=margin_below(read, most),
        remedy=remedy,
    )


def _as_another(reading: ChargeReading, message: str, remedy: str) -> tuple[str, str]:
    """Of a voltage that a bank of another nominal voltage has: that, before anything else."""
    other = reading.over_as_bank_of
    if other is None or reading.bank is None:
        return message, remedy
    return (
        f"{message}; a bank of {other} would have so much",
        f"part from it what is made for {reading.bank.nominal}, then look at its label and at how "
        f"its batteries are joined: if it is one of {other}, say so in the plan; if not, "
        f"{remedy}",
    )


def _observation(reading: ChargeReading, read: Value, limit: Value) -> Observation:
    assert reading.bank is not None
    bank, in_cold = reading.bank, reading.allowed_in_cold
    may_be_cold = in_cold is not None and not exceeds(read, in_cold)
    remedy = (
        "switch the charging off; then look which source does it, at the profile that is set in "
        f"it, and set at most {limit}"
    )
    message = f"the posts of `{bank.name}` read {reading.posts}, over the {limit} that it may be "
    message += "charged with"
    if may_be_cold:
        message += f" at 25 °C; in the coldest air, {in_cold} would be right"
        remedy = f"write the air beside it as `air_temperature`; unless it was cold, {remedy}"
    message, remedy = _as_another(reading, message, remedy)
    return Observation(
        message=message,
        on=(reading.reading, bank.battery),
        values=(read, limit),
        margin=margin_below(read, limit),
        remedy=remedy,
        level="warning" if may_be_cold else None,
    )
