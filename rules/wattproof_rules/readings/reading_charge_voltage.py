"""Voltage at the controller against that at the posts of its battery while it charges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.battery.bank import BankStudy
    from wattproof.study.readings.of_charging import ChargeReading

BASIS = {
    "common practice": practice(
        "between the controller and the posts of a 12 V battery not more than 0.2 V is lost at "
        "full charge current, and in proportion at 24 V and 48 V"
    ),
}

HOT = 10.0
"""W in fuse holder, switch and lugs together from which one of them burns (from memory)."""

MORE = """\
readings:
  charging: {at: tracker.battery, voltage: 14.20 V, posts_voltage: 14.08 V, current: 24 A,
             stage: bulk}
"""


@record
class Limits:
    """What a project may set."""

    lost_per_12_v: float = option(
        0.2, "Voltage lost between controller and battery at full current, for each 12 V (V)."
    )
    wires_share: float = option(0.6, "Share of the loss from which the wires are blamed for it.")


@rule(
    id="reading-charge-voltage",
    summary="Voltage at the controller, against that at the battery's posts, while charging.",
    covers=("Voltage lost between charger and battery",),
    level="warning",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="The controller judges the battery by the voltage at its own terminals. What the "
    "wires, the fuse and the joints take on the way it counts as charge: it believes the battery "
    "full, cuts the current back, and stops too early every day. Lead batteries that are never "
    "quite full sulphate and die young. The loss also makes heat where it happens.",
    fine="Where the controller senses the voltage at the posts by wires of its own.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("posts_voltage: 14.08 V", "posts_voltage: 13.75 V"),
    options=Limits,
)
def reading_charge_voltage(study: Study, limits: Limits) -> Iterator[Observation]:
    for reading in study.readings.to_posts:
        lost = reading.lost
        if reading.is_parted and reading.bank is not None:
            yield _parted(reading, reading.bank)
        if reading.posts_are_over and reading.bank is not None:
            yield Observation(
                message=f"the posts of `{reading.bank.name}` read {reading.posts}, more than the "
                f"{reading.voltage} of `{reading.source.name}` that charges them: the two were "
                "exchanged, or read at other moments",
                on=(reading.reading, reading.source),
                values=(),
                level="note",
                remedy="read both with one meter within a minute, while it charges",
            )
        if lost is None or reading.bank is None:
            continue
        limit = _limit(reading, limits.lost_per_12_v)
        if exceeds(lost, limit):
            burning = _burning(reading, limits.wires_share)
            heat = f", and {burning} of heat is made beside them" if burning is not None else ""
            yield Observation(
                message=f"between `{reading.source.name}` and the posts of `{reading.bank.name}` "
                f"at least {lost} is lost{_load(reading)}, where {limit} is the most that is usual"
                f"{_wires(reading)}{heat}",
                on=(reading.reading, reading.source),
                values=tuple(v for v in (lost, limit, reading.by_wires, burning) if v is not None),
                hazard="fire" if burning is not None else None,
                margin=margin_below(lost, limit),
                remedy=_remedy(reading, limit, limits.wires_share),
            )


def _parted(reading: ChargeReading, bank: BankStudy) -> Observation:
    """Of a controller whose battery is not joined to it, and that gives its own voltage."""
    assert reading.voltage is not None
    assert reading.posts is not None
    return Observation(
        message=f"`{reading.where}` read {reading.voltage} and the posts of `{bank.name}` "
        f"{reading.posts}: a fuse, breaker or switch between them is open, or a lead is off",
        on=(reading.reading, reading.source),
        values=(reading.voltage, reading.posts),
        remedy="part the array from the controller before anything else, since what hangs on its "
        "side gets what the array gives; then find on the way from the posts what is open, and why",
    )


def _limit(reading: ChargeReading, per_12_v: float) -> Value:
    assert reading.bank is not None
    twelves = max(1, round(reading.bank.nominal.number / 12.8))
    return tabled(per_12_v * twelves, "V", "ΔUmax", "most that is usual", "common practice")


def _burning(reading: ChargeReading, share: float) -> Value | None:
    """Heat beside the wires that makes a joint burn (W); None where there is no such heat."""
    heat = reading.heat_at_joints
    if heat is None or not _is_at_joints(reading, share):
        return None
    return None if exceeds(tabled(HOT, "W", "Phot", "a hot joint", "from memory"), heat) else heat


def _is_at_joints(reading: ChargeReading, share: float) -> bool:
    """Whether the wires alone lose less than a share of it."""
    by_wires, lost = reading.by_wires, reading.lost
    return by_wires is not None and lost is not None and by_wires.number < share * lost.number


def _load(reading: ChargeReading) -> str:
    current, full = reading.current, reading.full
    if current is None:
        return ""
    if reading.too_little_load or full is None or full.number <= abs(current.number):
        return f" at {current}"
    return f" at the full {full}, reckoned from {current}"


def _wires(reading: ChargeReading) -> str:
    by_wires = reading.by_wires
    return "" if by_wires is None else f"; the wires alone would lose {by_wires}"


def _remedy(reading: ChargeReading, limit: Value, share: float) -> str:
    if _is_at_joints(reading, share):
        return (
            "read the drop over the fuse, its holder, the switch and each lug under load: a joint "
            "takes what the wires do not"
        )
    larger = reading.larger_wire(limit)
    wire = f"use {larger[1]} for `{larger[0]}`" if larger is not None else "use larger wires"
    return f"{wire}, shorten it, or connect the controller's voltage sense to the posts"
