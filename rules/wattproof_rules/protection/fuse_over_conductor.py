"""The rating of the device that feeds a conductor against the largest that protects it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from wattproof.circuit import Passage
from wattproof.remedies.fuse_sizes import FuseSizes, fuse_sizes
from wattproof.remedies.proposals import against_ignition, fuse_at, moved
from wattproof.rule import Clause, Edit, Located, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.assumptions.devices import NO_DEVICE_PLACE
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.answers import Allowed
from wattproof.study.wiring.devices import rated
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted
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
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A"),
)
def fuse_over_conductor(study: Study) -> Iterator[Observation]:
    seen: dict[str, list[tuple[bool, Observation]]] = {}
    banks = {a.part for a in study.protection.allowed if a.kind == "bank" and a.reason}
    for answer in study.protection.allowed:
        if answer.kind == "output" and answer.part in banks:
            continue  # a bank feeds it with more, which is said of the bank
        observation = _observed(answer, study)
        if observation is not None:
            by_output = answer.kind == "output"
            seen.setdefault(answer.wire.name, []).append((by_output, observation))
    for same in seen.values():
        yield min(same, key=lambda s: (s[1].asks is not None, s[0], s[1].margin or 0.0))[1]


def _observed(answer: Allowed, study: Study) -> Observation | None:
    if answer.most is None or answer.way is not None:
        return None  # before the first device of a bank: a missing battery fuse
    if answer.kind in ("bank", "siblings") and answer.reason == "too large":
        return _over(answer, answer.most, study)
    if answer.kind == "bank" and answer.reason == "too far":
        return _too_far(answer, answer.most, study)
    if answer.kind == "bank" and answer.verdict == "not known" and answer.bare is not None:
        return _place_unknown(answer, answer.most)
    if answer.kind == "output" and answer.reason is not None:
        return _over_output(answer, answer.most, study)
    return None


def _over(answer: Allowed, most: Value, study: Study) -> Observation:
    wire, devices = answer.wire, answer.devices
    together = " together" if len(devices) > 1 else ""
    rating = _rating(answer)
    even = ", even in cool air" if wire.cooled else ""
    backs = _backs(answer, study)
    both = f" and its return {quoted(back.name for back in backs)}" if backs else ""
    are, them = ("are", "them") if backs else ("is", "it")
    return Observation(
        message=(
            f"`{wire.name}` ({wire.size.name}){both} {are} guarded by {_named(devices)}{together}, "
            f"{rating}; {most} is the largest that protects {them}{even}"
        ),
        on=(wire, *_components(devices), *backs),
        values=(rating, most),
        margin=margin_below(rating, most),
        remedy=_remedy(answer, rating, study),
        absent="" if any(d.wire is wire.wire for d in devices) else "fuses",
    )


def _backs(answer: Allowed, study: Study) -> tuple[WireStudy, ...]:
    """The negatives that the same device is too large for."""
    return tuple(back.wire for back in study.protection.over_both.get(answer.wire.name, ()))


def _rating(answer: Allowed) -> Value:
    """The rating of the one device that is named, else what all that limit it let through (A)."""
    if len(answer.devices) == 1:
        return device_rating(answer.devices[0])
    return answer.lasting


def _over_output(answer: Allowed, most: Value, study: Study) -> Observation | None:
    """What a charger gives into a wire that is not there to carry it."""
    wire, [source] = answer.wire, answer.sources
    may = wire.carrying
    if isinstance(may, str) or wire.is_overloaded_for_sure:
        return None  # too small for what it carries every day, which is said elsewhere
    what, limit = f"nothing opens; the wire carries {may.value}", may.value
    if answer.devices:
        what = f"{_named(answer.devices)} ({_rating(answer)}) lets it last; {most} is the largest "
        what, limit = f"{what}that protects it", most
    return Observation(
        message=f"a short in `{wire.name}` ({wire.size.name}) is fed with {answer.drives} by "
        f"`{source}`, and {what}",
        on=(wire, *_components(answer.devices)),
        values=tuple(v for v in (answer.drives, limit) if v is not None),
        margin=margin_below(answer.lasting, most),
        remedy=_remedy(answer, answer.lasting, study),
        absent="" if any(d.wire is wire.wire for d in answer.devices) else "fuses",
    )


def _too_far(answer: Allowed, most: Value, study: Study) -> Observation:
    """A stretch before its own device may be short: it cannot be overloaded, only shorted."""
    wire, limit, guard = answer.wire, answer.bare_at_most, answer.guard
    assert limit is not None
    assert guard is not None
    length = answer.bare_length
    return Observation(
        message=(
            f"{length} of `{wire.name}` ({wire.size.name}) before {_named(answer.devices)} "
            f"is guarded only by {_named(guard.limiting)}, {answer.lasting}; {most} is the "
            "largest that protects it"
        ),
        on=(wire, *_components(answer.devices), *_components(guard.limiting)),
        values=(answer.lasting, most, length, limit),
        margin=margin_below(answer.lasting, most),
        remedy=_moved(answer, limit, most, study),
    )


def _place_unknown(answer: Allowed, most: Value) -> Observation:
    wire, limit, guard = answer.wire, answer.bare_at_most, answer.guard
    assert guard is not None
    return Observation(
        message=f"where {_named(answer.devices)} sits in `{wire.name}` ({wire.size.name}) is not "
        f"stated; the wire before it is guarded by {_named(guard.limiting)}, {answer.lasting}, "
        "which is too much",
        on=(wire, *_components(answer.devices), *_components(guard.limiting)),
        values=(answer.lasting, most),
        margin=margin_below(answer.lasting, most),
        remedy=f"write its distance from the end that is fed; it should be within {limit}",
        level="note",
        asks=NO_DEVICE_PLACE.look_up,
    )


def _moved(answer: Allowed, limit: Value, most: Value, study: Study) -> Remedy:
    """Its own devices beside the end that it is fed from, and smaller where they are too large."""
    length = answer.bare_length
    if length is not None and length.number <= limit.number:
        return Remedy(
            f"mend first what comes before `{answer.fed_at}`, which its device does not protect "
            f"either: with that mended, {_named(answer.devices)} is near enough"
        )
    words = f"put {_named(answer.devices)} within {limit} of `{answer.fed_at}`"
    wire = answer.wire.wire
    if len(answer.devices) > 1 or answer.devices[0].wire is not wire:
        return Remedy(words)
    [device] = answer.devices
    there = moved(wire, device.name, answer.fed_at, limit.number)
    smaller = (
        _in_place(answer.wire, answer.devices, study)
        if exceeds(device_rating(device), most)
        else None
    )
    if smaller is None:
        return Remedy(words, (there,))
    return Remedy(f"{words}, of {smaller.words}", ((*there, rated(device, smaller.usual)),))


def _components(devices: Iterable[Passage]) -> tuple[Located, ...]:
    return tuple({str(d.name): d.device for d in devices}.values())


def _named(devices: Iterable[Passage]) -> str:
    return quoted(dict.fromkeys(device.name for device in devices))


def _remedy(answer: Allowed, rating: Value, study: Study) -> Remedy | str:
    """The largest device that protects it, or the smallest wire that the device protects."""
    wire, devices, fed_at = answer.wire, answer.devices, answer.fed_at
    bank = answer.guard.bank if answer.guard is not None else None
    wires = (wire, *_backs(answer, study))
    thicker = [
        next((w for w in each.larger_sizes() if w.is_protected_by(answer.lasting)), None)
        for each in wires
    ]
    larger = [each for each in thicker if each is not None]
    in_wire = Remedy("")
    if len(larger) == len(wires):
        words = f"use {larger[0].size.name} for {quoted(each.name for each in wires)}"
        in_wire = Remedy(words, (tuple(each.as_change for each in larger),))
    fitting = fuse_sizes((wire,), study)
    if fitting is None:
        nothing = f"no size in the tables is protected by {rating}: divide the circuit"
        return in_wire if in_wire.words else nothing
    where = f"where it leaves `{fed_at}`" if fed_at else "at both ends"
    added = fuse_at(study, wire, fed_at, bank, fitting.usual, None) if bank is not None else None
    words = f"put a device of {fitting.words} into `{wire.name}` {where}{fitting.and_stronger}"
    words += against_ignition([added])
    in_device = Remedy(words, ((added, *fitting.stronger),) if added is not None else ())
    smaller = _in_place(wire, devices, study)
    if smaller is not None:
        words = f"use {smaller.words} in place of `{devices[0].name}`"
        in_device = Remedy(words, ((rated(devices[0], smaller.usual),),))
    elif in_wire.words and {d.name for d in devices} & {i.device for i in wire.wire.inline}:
        in_device = Remedy("")  # none beside its own, which carries too much for a smaller one
    words = "; or ".join(way.words for way in (in_device, in_wire) if way.words)
    return Remedy(words, (*in_device.ways, *in_wire.ways))


def _in_place(wire: WireStudy, devices: Sequence[Passage], study: Study) -> FuseSizes | None:
    """What the one device could be of instead, and still carry its own current."""
    if len(devices) != 1:
        return None
    found = next(d for d in study.wiring.devices.values() if devices[0] in d.passages)
    if found.current is None:
        return fuse_sizes((wire,), study)
    own = found.least_rating(found.current, wire.code).number
    return fuse_sizes((wire,), study, bears=found.current.number, at_least=own)
