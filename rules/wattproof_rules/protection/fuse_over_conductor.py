"""The rating of the device that feeds a conductor against the largest that protects it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.circuit import Passage
from wattproof.remedies.proposals import fuse_at, moved
from wattproof.rule import Clause, Edit, Located, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.side import BankStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.guards import Guard
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.devices import rated
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 240.4",
        "2008-2023",
        "an overcurrent device is not rated above the conductor's ampacity; up to 800 A the next "
        "standard size is allowed where the ampacity lies between two; 14, 12 and 10 AWG are held "
        "to 15, 20 and 30 A",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.10)",
        "2003 and later",
        "a device is not rated above the conductor's ampacity; the next standard size is allowed "
        "up to 150 % of it",
        verified=True,
    ),
    "iec": Clause(
        "IEC 60364-4-43 433.1",
        "2008",
        "design current, device rating and ampacity follow each other: Ib <= In <= Iz",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 clause 8",
        "2022",
        "the rating of a device does not exceed what the smallest conductor behind it may carry",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000 2.5.3",
        "2018",
        "design current, device rating and capacity follow each other: Ib <= In <= Iz",
        verified=False,
    ),
}


@rule(
    id="fuse-over-conductor",
    summary="Rating of the device that feeds a conductor against the largest that protects it.",
    covers=(
        "Many loaded wires in one bundle",
        "A wire that is live from both ends",
        "A fuse too large for its wire",
        "Cable and fuse of an inverter",
    ),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A fuse protects the wire behind it, not the thing at its end. A battery gives "
    "whatever is asked of it: where a wire is pinched or a device fails, the current rises until "
    "the fuse opens. If the wire carries less than the fuse, the wire is the weaker of the two "
    "and glows first. The controller at the far end cannot help, since what it gives by itself "
    "is limited and small.",
    caution=warning(
        "A wire that is thinner than its fuse is itself the fuse: it burns along its whole length."
    ),
    sound=plan("van"),
    faulty=Edit("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A"),
    acceptable=False,
)
def fuse_over_conductor(study: Study) -> Iterator[Observation]:
    seen: dict[str, list[Observation]] = {}
    found = (*_behind_banks(study), *_between_banks(study), *_behind_string_fuses(study))
    for name, observation in found:
        seen.setdefault(name, []).append(observation)
    for same in seen.values():
        yield min(same, key=lambda o: (o.undecided, o.margin))


def _behind_banks(study: Study) -> Iterator[tuple[str, Observation]]:
    """Stretches of wire that battery current reaches through devices."""
    for guard in study.protection.guards:
        wire = guard.wire.in_bearable_air  # that the air is too hot is said elsewhere
        may = wire.carrying
        if isinstance(may, str) or not guard.limiting:
            continue
        if not exceeds(guard.rating, may.device_limit):
            continue
        if not _protected_at_its_end(guard, may):
            yield (
                wire.name,
                _over(wire, guard.limiting, guard.rating, may, guard.fed_at, study, guard.bank),
            )
        elif (observation := _too_long(guard, may, study)) is not None:
            yield wire.name, observation


def _between_banks(study: Study) -> Iterator[tuple[str, Observation]]:
    """Links between batteries in series, which the fuse of the series protects."""
    for guard in study.protection.link_guards:
        wire = guard.wire.in_bearable_air
        may = wire.carrying
        if isinstance(may, str) or not exceeds(guard.rating, may.device_limit):
            continue
        yield wire.name, _over(wire, guard.limiting, guard.rating, may, guard.fed_at, study)


def _behind_string_fuses(study: Study) -> Iterator[tuple[str, Observation]]:
    """Leads of strings that the other strings feed through the string's own fuse."""
    for flow in (flow for array in study.array.arrays for flow in array.backflows):
        if not flow.devices or flow.unlimited is None:
            continue
        device = min(flow.devices, key=lambda d: device_rating(d).number)
        rating = device_rating(device)
        for name in dict.fromkeys(lead.name for lead in flow.leads):
            wire = study.wiring.wires[name].in_bearable_air
            may = wire.carrying
            if isinstance(may, str) or not exceeds(flow.unlimited, may.value):
                continue
            if exceeds(rating, may.device_limit):
                yield name, _over(wire, (device,), rating, may, flow.joint, study)


def _over(
    wire: WireStudy,
    devices: tuple[Passage, ...],
    rating: Value,
    may: Carrying,
    fed_at: str,
    study: Study,
    bank: BankStudy | None = None,
) -> Observation:
    best = wire.device_limit_at_best()
    together = " together" if len(devices) > 1 else ""
    even = ", even in cool air" if wire.cooled else ""
    return Observation(
        message=f"`{wire.name}` ({wire.size.name}) is guarded by {_named(devices)}{together}, "
        f"{rating}; at most {may.device_limit} protects it{even}",
        on=(wire, *_components(devices)),
        values=(rating, may.device_limit),
        margin=margin_below(rating, may.device_limit),
        remedy=_remedy(wire, devices, rating, fed_at, study, bank),
        whatever=best is not None and exceeds(rating, best),
    )


def _protected_at_its_end(guard: Guard, may: Carrying) -> bool:
    """True where all that is behind the stretch is fed through devices small enough for it."""
    ratings = sum(device_rating(device).number for device in guard.into)
    return bool(guard.into) and ratings <= may.device_limit.number * (1.0 + 1e-9)


def _too_long(guard: Guard, may: Carrying, study: Study) -> Observation | None:
    """A stretch before its own device may be short: it cannot be overloaded, only shorted."""
    wire = guard.wire.in_bearable_air
    allowed = wire.code.source_distance("enclosed" if wire.wire.enclosed else "open")
    if allowed is None:
        return None
    limit = from_table(allowed, "dmax")
    own = _named(guard.into)
    if guard.length is None:
        if wire.length.number <= limit.number:
            return None
        return Observation(
            message=f"where {own} sits in `{wire.name}` ({wire.size.name}) is not stated; the wire "
            f"before it is guarded by {_named(guard.limiting)}, {guard.rating}, which is too much",
            on=(wire, *_components(guard.into), *_components(guard.limiting)),
            values=(guard.rating, may.device_limit),
            margin=margin_below(guard.rating, may.device_limit),
            remedy=f"write its distance from the end that is fed; it should be within {limit}",
            level="note",
            undecided=True,
        )
    if not exceeds(guard.length, limit):
        return None
    enclosed = wire.code.source_distance("enclosed")
    grave = enclosed is None or guard.length.number > enclosed.value
    return Observation(
        message=f"{guard.length} of `{wire.name}` ({wire.size.name}) before {own} is guarded only "
        f"by {_named(guard.limiting)}, {guard.rating}; at most {may.device_limit} protects it",
        on=(wire, *_components(guard.into), *_components(guard.limiting)),
        values=(guard.rating, may.device_limit, guard.length, limit),
        margin=margin_below(guard.rating, may.device_limit),
        remedy=_moved(guard, limit)
        if all(device.wire is wire.wire for device in guard.into)
        else _remedy(wire, guard.limiting, guard.rating, guard.fed_at, study, guard.bank),
        level=None if grave else "warning",
    )


def _moved(guard: Guard, limit: Value) -> Remedy:
    """Its own devices beside the end that it is fed from."""
    words = f"put {_named(guard.into)} within {limit} of `{guard.fed_at}`"
    if len(guard.into) > 1:
        return Remedy(words)
    wire, [device] = guard.wire.wire, guard.into
    return Remedy(words, (moved(wire, device.name, guard.fed_at, limit.number),))


def _components(devices: Iterable[Passage]) -> tuple[Located, ...]:
    return tuple({str(d.name): d.device for d in devices}.values())


def _named(devices: Iterable[Passage]) -> str:
    names = [f"`{name}`" for name in dict.fromkeys(d.name for d in devices)]
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _remedy(
    wire: WireStudy,
    devices: tuple[Passage, ...],
    rating: Value,
    fed_at: str,
    study: Study,
    bank: BankStudy | None,
) -> Remedy | str:
    """The largest device that protects it, or the smallest wire that the device protects."""
    thicker = next((w for w in wire.larger_sizes() if _protects(rating, w)), None)
    in_wire = Remedy("")
    if thicker is not None:
        words = f"use {thicker.size.name} for `{wire.name}`"
        in_wire = Remedy(words, ((thicker.as_change,),))
    fitting = wire.largest_fitting_device
    if fitting is None:
        nothing = f"no size in the tables is protected by {rating}: divide the circuit"
        return in_wire if thicker is not None else nothing
    where = f"where it leaves `{fed_at}`" if fed_at else "at both ends"
    added = fuse_at(study, wire, fed_at, bank, fitting, None) if bank is not None else None
    words = f"put a device of at most {fitting:g} A into `{wire.name}` {where}"
    in_device = Remedy(words, ((added,),) if added is not None else ())
    if len(devices) == 1 and _bears(devices[0], fitting, study):
        words = f"use {fitting:g} A in place of `{devices[0].name}`"
        in_device = Remedy(words, ((rated(devices[0], fitting),),))
    words = "; or ".join(way.words for way in (in_device, in_wire) if way.words)
    return Remedy(words, (*in_device.ways, *in_wire.ways))


def _protects(rating: Value, wire: WireStudy) -> bool:
    """True where a device of that rating protects the wire."""
    may = wire.carrying
    return isinstance(may, Carrying) and not exceeds(rating, may.device_limit)


def _bears(device: Passage, rating: float, study: Study) -> bool:
    """True where the device could be of that rating (A) and still carry its own current."""
    found = next(d for d in study.wiring.devices.values() if device in d.passages)
    if found.current is None:
        return True
    return rating >= study.codes.of(found.side).continuous_factor.value * found.current.number * (
        1.0 - 1e-9
    )
