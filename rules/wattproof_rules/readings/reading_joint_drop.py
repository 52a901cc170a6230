"""What a fuse, a switch or a joint drops and how warm it is, under load."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, option, practice, record, rule, warning
from wattproof.study import Study
from wattproof.study.limits import ELEMENT_RISE, JOINT_RISE, exceeds, margin_below
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_joints import JointReading

BASIS = {
    "iec": Clause(
        "IEC 60947-1 7.2.2",
        "2007",
        "terminals and accessible parts of switchgear stay within limits of temperature rise over "
        "the air; the limits of the text are higher than the signs of a bad joint used here",
        verified=False,
    ),
    "common practice": practice(
        "a sound joint or switch under load drops well under a tenth of a volt and is hardly "
        "warmer than the air; a fuse or breaker has an element that drops a little by itself"
    ),
}

MORE = """\
readings:
  charge-fuse-warm: {at: charge-fuse, drop: 60 mV, current: 24 A, joint_temperature: 48 °C,
                     air_temperature: 27 °C}
"""

SOURCE = "common practice"


MILLIVOLTS_READ_AS_VOLTS = 2.0  # V; a joint that drops so much under load burns at once
_OPEN = {
    "fuse": (
        "it is blown, or its holder has no contact",
        "switch off and cover what feeds it, prove with a clamp that nothing flows, and find why "
        "it opened, such as a short or poles that were confused, before a like one is put in",
    ),
    "breaker": (
        "it is off or has tripped",
        "find why it tripped before it is closed; if it is closed, replace it",
    ),
    "switch": (
        "it is off, or a contact of it is gone",
        "close it and read it again with the current that flows; if it is closed, replace it",
    ),
}


@record
class Limits:
    """What a project may set."""

    joint_drop: float = option(0.10, "Drop over a joint or switch at full load (V).")
    element_drop: float = option(0.20, "Drop over a fuse or breaker at full load (V).")
    joint_rise: float = option(
        JOINT_RISE, "Rise of a joint or switch over the air at full load (K)."
    )
    element_rise: float = option(
        ELEMENT_RISE, "Rise of a fuse or breaker over the air at full load (K)."
    )


@rule(
    id="reading-joint-drop",
    summary="Drop and heat that were read at devices and joints, taken to full load.",
    covers=("Joints that warm up under load",),
    level="warning",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="A joint that is loose or corroded resists, and resistance turns current into "
    "heat: the drop times the current, all of it in one small place. Drop grows with the current "
    "and heat with its square, so what is lukewarm at half load is hot at full load. Heat "
    "loosens and corrodes the joint further. No fuse opens, because the current is the right one.",
    caution=warning(
        "A joint that warms by itself gets worse by itself, until what it is fixed to burns. "
        "Switch the current off before touching it; some surfaces burn the skin."
    ),
    fine="Where the place is hot for another reason, beside an engine or a heater, and the drop "
    "itself is small.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("drop: 60 mV", "drop: 220 mV"),
    options=Limits,
)
def reading_joint_drop(study: Study, limits: Limits) -> Iterator[Observation]:
    for reading in study.readings.at_joints:
        if reading.is_open:
            yield _of_open(reading)
            continue
        element = reading.has_element
        for read, most, unit, what in (
            (reading.drop, limits.element_drop if element else limits.joint_drop, "V", "drops"),
            (reading.rise, limits.element_rise if element else limits.joint_rise, "K", "is hotter"),
        ):
            limit = tabled(most, unit, "limit", "most that is usual at full load", SOURCE)
            if read is not None and exceeds(read, limit):
                yield _observation(reading, read, limit, what)


def _observation(reading: JointReading, read: Value, limit: Value, what: str) -> Observation:
    heat = reading.heat if what == "drops" else None
    warm = f", {heat} of heat in one place" if heat is not None else ""
    cause = "the air and the sun make it" if reading.in_sun else "the air"
    over = f"drops at least {read}" if what == "drops" else f"is {read} hotter than {cause}"
    return Observation(
        message=f"`{reading.part.name}` {over}{_load(reading, what)}, where {limit} is the most "
        f"that is usual{warm}{_slip(reading, what)}",
        on=(reading.part, reading.reading),
        values=(read, limit) if heat is None else (read, limit, heat),
        margin=margin_below(read, limit),
        remedy=_remedy(reading),
    )


def _of_open(reading: JointReading) -> Observation:
    """Of a device that parts what it should join."""
    assert reading.reading.drop is not None
    drop, name = reading.reading.drop, reading.part.name
    kind = type(reading.part).__name__.lower()
    because, remedy = _OPEN[kind]
    flows = "tells no current" if reading.current is None else "nothing flows"
    return Observation(
        message=f"`{name}` has {drop.text} over it and {flows}: {because}"
        f"{_slip(reading, 'drops') if reading.current is None else ''}",
        on=(reading.part, reading.reading),
        values=(),
        level="note" if kind == "switch" else None,
        remedy=remedy,
    )


def _slip(reading: JointReading, what: str) -> str:
    """Where so many volts were read that nobody would have read them, and millivolts are usual."""
    drop = reading.reading.drop
    if what != "drops" or drop is None or drop.value < MILLIVOLTS_READ_AS_VOLTS:
        return ""
    return f"; if the meter showed {drop.value:g} mV, write it so"


def _load(reading: JointReading, what: str) -> str:
    if what == "is hotter" and reading.is_hot_by_part_load:
        return f" at its full {reading.full} at least, reckoned from {reading.current}"
    if reading.too_little_load:
        return f" at {reading.current}" if reading.current is not None else " as read"
    assert reading.current is not None
    full = reading.full
    if full is None or full.number <= abs(reading.current.number):
        return f" at {reading.current}"
    return f" at its full {full}, reckoned from {reading.current}"


def _remedy(reading: JointReading) -> str:
    made = "take it apart without current, clean it bright, and make it again to its torque"
    return f"{made}; replace {reading.replaced} if it stays" if reading.replaced else made
