"""The rating of a fuse or breaker against the current that it carries for hours."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import NotTabulated
from wattproof.rule import Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.guards import Guard
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.devices import DeviceStudy, rated
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BLADES = ("blade", "mini-blade", "large-blade")

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B), 215.3",
        "2014-2023",
        "a device is rated at least 125 % of the lasting current, unless it is listed for all of "
        "its rating",
        verified=False,
    ),
    "common practice": Clause(
        "makers of fuses; ISO 8820-2",
        "as supplied; 2014",
        "a fuse carries its rated current only in cool air; blade fuses are run at 80 % of it or "
        "less, any device at its rating or less",
        verified=False,
    ),
}


@rule(
    id="fuse-under-load",
    summary="Rating of a fuse or breaker against its lasting current.",
    covers=(
        "A fuse that opens without a fault",
        "Cable and fuse of an inverter",
    ),
    level="warning",
    hazard="lost-energy",
    part="overcurrent",
    basis=BASIS,
    explanation="A fuse is a thin piece of metal that melts when it gets hot, and it is warm "
    "already when it carries its rating for hours, in a closed box on a summer day more so. Then "
    "it opens without any fault, or its holder browns and loosens. A quarter more than the lasting "
    "current keeps it cool, as long as the wire behind it is thick enough for that.",
    sound=plan("van-in-sun"),
    faulty=Edit("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 35 A"),
)
def fuse_under_load(study: Study) -> Iterator[Observation]:
    of_strings = {d.name for a in study.array.arrays for flow in a.backflows for d in flow.devices}
    for name, device in study.wiring.devices.items():
        if not device.is_overcurrent or device.current is None:
            continue
        if device.side == "array" and name in of_strings:
            continue  # string fuses have a rule of their own
        needed = _needed(device, device.current, study)
        if exceeds(needed, device.rating):
            yield Observation(
                message=f"{device.kind} `{name}` ({device.rating}) carries {device.current} for "
                f"long, and should be rated at least {needed}",
                on=(device,),
                values=(needed, device.rating),
                margin=margin_below(needed, device.rating),
                remedy=_remedy(device, needed, study),
            )


def _needed(device: DeviceStudy, current: Value, study: Study) -> Value:
    """The rating that bears its lasting current (A)."""
    factor = from_table(study.codes.of(device.side).continuous_factor, "kcontinuous")
    made = device.style
    if made is not None and made.name in BLADES and factor.number < 1.25:
        source = "common practice of makers: at most 80 % of the rating"
        factor = tabled(1.25, "", "kblade", "allowance for a blade fuse", source)
    return (factor * current).named(f"Inmin({device.name})", f"least rating of {device.name}", "A")


def _remedy(device: DeviceStudy, needed: Value, study: Study) -> Remedy | str:
    """The next standard rating, and the wires that it would no longer protect made thicker."""
    try:
        rating = study.codes.of(device.side).next_rating(needed.number)
    except NotTabulated:
        return f"divide the circuit: no standard rating reaches {needed}"
    own, words = rated(device.passages[0], rating), f"use {rating:g} A"
    wires = {g.wire.name: g for g in study.protection.guards if _is_too_thin(g, device, rating)}
    thicker = [_thicker(guard, device, rating) for guard in wires.values()]
    sizes = [wire for wire in thicker if wire is not None]
    if len(sizes) < len(thicker):
        return f"{words}, with wires that it protects"
    listed = " and ".join(f"{wire.size.name} for `{wire.name}`" for wire in sizes)
    with_it = f", and {listed}, which {rating:g} A does not protect as it is" if sizes else ""
    return Remedy(f"{words}{with_it}", ((own, *(wire.as_change for wire in sizes)),))


def _is_too_thin(guard: Guard, device: DeviceStudy, rating: float) -> bool:
    """True for a stretch of wire behind it that the proposed rating (A) does not protect."""
    may = guard.wire.carrying
    if not set(device.passages) & set(guard.limiting) or isinstance(may, str):
        return False
    into = [device_rating(passage).number for passage in guard.into]
    through = _through(guard, device, rating)
    least = min(through, sum(into)) if into else through
    return not guard.wire.too_hot and least > may.device_limit.number * (1.0 + 1e-9)


def _through(guard: Guard, device: DeviceStudy, rating: float) -> float:
    """What can flow for long into the stretch with the proposed rating (A)."""
    return guard.rating.number - device.rating.number + rating


def _thicker(guard: Guard, device: DeviceStudy, rating: float) -> WireStudy | None:
    """The smallest size of the wire that is protected then."""
    through = _through(guard, device, rating)
    for proposed in guard.wire.larger_sizes():
        may = proposed.carrying
        if isinstance(may, Carrying) and through <= may.device_limit.number * (1.0 + 1e-9):
            return proposed
    return None
