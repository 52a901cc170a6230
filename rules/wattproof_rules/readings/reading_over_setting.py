"""Voltage read while it charges, against the charge voltage that the plan says is set."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.of_charging import ChargeReading
    from wattproof.working import Value

BASIS = {
    "common practice": practice(
        "a controller holds its terminals at the voltage that is set, within a hundredth, and no "
        "higher; for lead in the cold it adds 4 mV a cell and kelvin. In float it holds the lower "
        "voltage that is set for that"
    ),
}

MORE = """\
readings:
  full: {at: tracker.battery, voltage: 14.2 V, stage: absorption}
"""


@rule(
    id="reading-over-setting",
    summary="Voltage read while it charges, against the charge voltage that the plan tells.",
    covers=("A controller that is set otherwise than the plan says",),
    level="warning",
    hazard="damage",
    part="reading",
    basis=BASIS,
    explanation="What charges a battery holds its own terminals at the voltage that is set in it. "
    "More than every setting of the plan means that one of them is another than was written: a "
    "profile for another chemistry or for 24 V, equalising that nobody switched off, a sense wire "
    "that lost its contact, or a source that the plan does not have. All that was checked with "
    "the voltage of the plan does not hold then. Less, while it says that it holds it, leaves the "
    "battery never quite full, by which lead sulphates; float as high as absorption dries lead "
    "out and ages lithium.",
    caution=warning(
        "A battery that is charged too high gasses or is cut off by its management under load, "
        "which can destroy what hangs on it."
    ),
    fine="Where the display is off: compare it with a meter at the same terminals.",
    since="0.7.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voltage: 14.2 V, stage", "voltage: 15.2 V, stage"),
)
def reading_over_setting(study: Study) -> Iterator[Observation]:
    for reading in study.readings.of_charging:
        if reading.under_its_setting is not None:
            yield _under(reading, *reading.under_its_setting)
        over, limit = reading.over_its_setting, reading.allowed_in_cold or reading.allowed
        if over is None or limit is None or reading.is_overcharged:
            continue
        least, most = over
        beyond = exceeds(least, limit)
        floats = reading.reading.stage == "float"
        stage, key = (" in float", "float_voltage") if floats else ("", "charge_voltage")
        again = "read it again an hour after absorption; if it stays, " if floats else ""
        if reading.is_equalising:
            stage = " while equalising"
            again = "switch equalising off, which only flooded lead stands; "
        may = f", and over the {limit} that its battery may have" if beyond else ""
        yield Observation(
            message=f"`{reading.where}` read {reading.voltage}{stage}, over the {most} that is the "
            f"most that the plan sets{may}: something is set otherwise, or charges it too",
            on=(reading.reading, reading.source),
            values=(least, most, limit),
            margin=margin_below(least, most),
            level=None if beyond else "note",
            remedy=f"{again}look at the profile that is set, and for another source; then set it "
            f"as the plan says, or write what is set as `{key}`",
        )


def _under(reading: ChargeReading, most: Value, least: Value) -> Observation:
    """Of a controller that says it holds its voltage, and has less."""
    return Observation(
        message=f"`{reading.where}` read {reading.voltage} in absorption, under the {least} that "
        "is the least where it holds what the plan sets: something is set otherwise, or loads take "
        "what the sun gives",
        on=(reading.reading, reading.source),
        values=(most, least),
        margin=most.number / least.number - 1.0,
        level="note",
        remedy="switch the loads off and read it again; if it stays, look at the profile that is "
        "set, then set it as the plan says, or write what is set as `charge_voltage`",
    )
