"""Whether a device opens before an overload harms the wire: its conventional tripping current."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage
from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import margin_below
from wattproof.study.protection.answers import Allowed
from wattproof.study.wiring.devices import rated
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 60364-4-43 433.1",
        "2008",
        "two conditions hold for overload: the rating of the device is not above what the "
        "conductor may carry, and the current at which it surely trips within its conventional "
        "time is not above 1.45 times that",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000 2.5.3.1",
        "2018",
        "the current at which a device surely operates is not above 1.45 times what the conductor "
        "may carry; for fuses of AS/NZS 60269 that means a rating of at most 0.9 times it",
        verified=False,
    ),
}

MORE = """\
code: iec
datasheets:
  cables:
    solar-4: {size: 4 mm², kind: pv, insulation_temperature: 120 °C, voltage: 1500 V, outdoor: true}
    core-6: {size: 6 mm², kind: battery, material: copper, insulation_temperature: 90 °C,
             voltage: 450 V}
"""


@rule(
    id="device-trips-late",
    summary="Current at which a device surely trips against 1.45 times what its wire may carry.",
    covers=("A fuse that fits by its rating and opens too late",),
    level="warning",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A fuse does not open at its rating. A general-purpose fuse may carry a quarter "
    "more for ever, and is only sure to open within the hour at 1.6 times it; a breaker at 1.3 or "
    "1.45 times. A wire stands 1.45 times its capacity for such an hour, and not more. So a fuse "
    "that fits the wire by its rating can still be too slow for a lasting overload.",
    caution=warning("An overload that the fuse lets pass for hours ages the insulation unseen."),
    fine="Where the load itself cannot draw between the two currents, as a resistor or a lamp.",
    since="0.2.0",
    sound=plan(
        "van",
        Edit("rating: 30 A", "rating: 32 A"),
        Edit("voltage: 125 V, style: class-t", "voltage: 80 V, style: cartridge"),
        Edit("cable: pv-10", "cable: solar-4"),
        Edit("cable: batt-8, length: 1 m", "cable: core-6, length: 0.5 m"),
        Edit("place: cabin", "place: cabin,\n               run: conduit"),
        less=("datasheets.cables",),
        more=MORE,
    ),
    faulty=Edit("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 50 A"),
)
def device_trips_late(study: Study) -> Iterator[Observation]:
    told: set[str] = set()
    for answer in study.protection.allowed:
        if answer.in_time is not None and answer.wire.name not in told:
            told.add(answer.wire.name)
            yield _observation(answer, answer.in_time)


def _observation(answer: Allowed, most: Value) -> Observation:
    [device], wire = answer.limiting, answer.wire
    rating, may = device_rating(device), wire.carrying
    assert isinstance(may, Carrying)
    return Observation(
        message=(
            f"`{device.name}` ({rating}) trips too late for `{wire.name}` "
            f"({wire.size.name}, {may.value}), though its rating fits: by the current at which "
            f"it is sure to open, {most} is the largest that protects it"
        ),
        on=(wire, device.device),
        values=(rating, most, may.value),
        margin=margin_below(rating, most),
        remedy=_remedy(device, wire, wire.code.previous_rating(most.number)),
    )


def _remedy(device: Passage, wire: WireStudy, amps: float) -> Remedy:
    """A smaller device, where that still carries the lasting current."""
    current = wire.current.number if wire.current is not None else 0.0
    if amps < current * (1.0 - 1e-9):
        return Remedy(f"use larger conductors for `{wire.name}`, or a device that trips earlier")
    return Remedy(
        f"use {amps:g} A in place of `{device.name}`, larger conductors, or a device that trips "
        "earlier",
        ((rated(device, amps),),),
    )
