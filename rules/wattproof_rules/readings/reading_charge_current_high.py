"""Charge current that was read against what the battery takes and the controller gives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.in_service import ChargeReading

BASIS = {
    "common practice": practice(
        "the charge current on a battery's label holds whatever charges it, and a controller gives "
        "no more than its rating"
    ),
}

MORE = """\
readings:
  noon: {at: house, voltage: 13.9 V, current: 20 A}
"""


@rule(
    id="reading-charge-current-high",
    summary="Charge current that was read, against the labels of battery and controller.",
    covers=("A battery that takes more current than its label allows",),
    level="warning",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="What flows into a battery heats it, with the square of the current. Above the "
    "label a lead battery gasses and a lithium battery plates metal inside, and both can get so "
    "hot that they burn. More than a controller is rated for comes from another source beside it, "
    "or it is overloaded, or the clamp was around more than one wire.",
    caution=warning("A battery that is charged too hard heats up, gasses, and can burn."),
    fine="Where the clamp was around more than the one wire.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("current: 20 A", "current: 70 A"),
)
def reading_charge_current_high(study: Study) -> Iterator[Observation]:
    for reading in study.readings.of_charging:
        if reading.charge is None or not reading.is_charging:
            continue
        limit = _limit(reading)
        if limit is None or not exceeds(reading.charge.low, limit[0]):
            continue
        most, whose = limit
        yield Observation(
            message=(
                f"`{reading.where}` read {reading.charge.expected}; {most} is the most that {whose}"
            ),
            on=(reading.reading, reading.source),
            values=(reading.charge.low, most),
            margin=margin_below(reading.charge.low, most),
            remedy=(
                "read again with the clamp around this one wire; if it is so, switch a "
                "source off, and set what is left to less"
            ),
        )


def _limit(reading: ChargeReading) -> tuple[Value, str] | None:
    """The smaller of what the battery takes and what a controller gives, where they are told."""
    found: list[tuple[Value, str]] = []
    if reading.bank is not None and reading.bank.battery.max_charge_current is not None:
        found.append((reading.bank.charge_limit, f"`{reading.bank.name}` takes"))
    if reading.rated is not None:
        found.append((reading.rated, f"`{reading.source.name}` gives"))
    return min(found, key=lambda pair: pair[0].number, default=None)
