"""Charge current that was read against what the battery takes and the controller gives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.of_charging import ChargeReading

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
    covers=(
        "A battery that takes more current than its label allows",
        "More charge current than the sources of the plan give",
    ),
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
        if limit is not None and exceeds(reading.charge.low, limit[0]):
            yield _observation(
                reading,
                reading.charge.low,
                *limit,
                "if it is so, switch a source off, and set what is left to less",
            )
        elif reading.given_by_all is not None and exceeds(reading.charge.low, reading.given_by_all):
            names = [str(source.name) for source in reading.sources]
            yield _observation(
                reading,
                reading.charge.low,
                reading.given_by_all,
                f"{quoted(names)} {'give together' if len(names) > 1 else 'gives'}",
                "if it is so, look for a source that the plan does not have, and write it there",
            )


def _observation(
    reading: ChargeReading, read: Value, most: Value, whose: str, then: str
) -> Observation:
    assert reading.charge is not None
    return Observation(
        message=f"`{reading.where}` read {reading.charge.expected}; {most} is the most that "
        f"{whose}",
        on=(reading.reading, reading.source),
        values=(read, most),
        margin=margin_below(read, most),
        remedy=f"read again with the clamp around this one wire; {then}",
    )


def _limit(reading: ChargeReading) -> tuple[Value, str] | None:
    """The smaller of what the battery takes and what a controller gives, where they are told."""
    found: list[tuple[Value, str]] = []
    if reading.bank is not None and reading.bank.battery.max_charge_current is not None:
        found.append((reading.bank.charge_limit, f"`{reading.bank.name}` takes"))
    if reading.rated is not None:
        found.append((reading.rated, f"`{reading.source.name}` gives"))
    return min(found, key=lambda pair: pair[0].number, default=None)
