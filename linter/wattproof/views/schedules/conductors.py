"""The conductor schedule: every wire and bond, what it is, carries and may carry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, TypeAlias

from wattproof.circuit import Conductor
from wattproof.plan.bonding import FrameBond
from wattproof.plan.datasheets import CableSheet
from wattproof.plan.wiring import Bond
from wattproof.record import record
from wattproof.study.assumptions.reading import Reading, chosen_kindly, kind, kind_ends
from wattproof.study.protection.answers import GRAVEST_FIRST, Allowed, worst_of
from wattproof.study.protection.fault_sweep import Fault
from wattproof.study.protection.spans import length_of
from wattproof.study.wiring.size_words import size_words
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.views.schedules.stretches import Stretch, stretches
from wattproof.working import Value, declared

if TYPE_CHECKING:
    from wattproof.study import Study


Sure: TypeAlias = Literal["certain", "likely", "asked"]


@dataclass(frozen=True, slots=True)
class Protection:
    """What protects a stretch of a wire.

    start, end: between what it lies. length: m, None where the place of a device is not stated.
    devices: what opens, with ratings (A). verdict: of the worst that feeds it, or the reason why
    that is not allowed. of_return: True for a negative that takes back more than its own positive
    brings, by the devices in the positives that feed it. sure: whether what is not allowed is so
    with every unknown as kind as can be, or hangs on what is usual, or on a guess alone, so that
    it has to be looked up.
    """

    start: str
    end: str
    length: Value | None
    devices: tuple[tuple[str, Value], ...]
    verdict: str
    of_return: bool = False
    sure: Sure = "certain"


@record
class ConductorRow:
    """A wire or a bond.

    poles: at its start and at its end, for each pole. parallel: alike conductors for each.
    size: as written; other_size: the same in the other system. insulation: °C. length: one way;
    needed: of all its conductors together (m). current: lasting (A), None where none is known.
    ampacity: in its place, on its terminals (A); words where no table says, None for a bond.
    protections: of its stretches that are known to be fed. drop: V.
    plug: the small plug in it, with the rating where it is printed; empty without one.
    """

    name: str
    is_bond: bool
    start: str
    end: str
    poles: tuple[tuple[str, str], ...]
    parallel: int
    size: str
    other_size: str
    cable: str
    kind: str | None
    material: str | None
    insulation: Value | None
    length: Value | None
    needed: Value | None
    places: tuple[str, ...]
    current: Value | None
    ampacity: Value | str | None
    protections: tuple[Protection, ...]
    drop: Value | None
    plug: str


def conductor_rows(study: Study) -> Iterator[ConductorRow]:
    """Every wire, then every bond."""
    ends = study.circuit.ends
    protections = _protections_told(study)
    for wire in study.wiring.wires.values():
        poles = ends.of_wire(wire.wire).poles
        yield _wire_row(wire, poles, protections.get(wire.name, ()))
    for bond in study.plan.bonds.values():
        cable = study.plan.datasheets.cables[bond.cable]
        yield _bond_row(bond, cable, ends.bonds[bond.name].pole)
    for frames in study.plan.frame_bonds.values():
        yield _bond_row(frames, study.plan.datasheets.cables[frames.cable], "frame")


def _wire_row(
    wire: WireStudy, poles: tuple[tuple[str, str], ...], protections: tuple[Protection, ...]
) -> ConductorRow:
    sheet, may = wire.sheet, wire.carrying
    size, other = size_words(sheet)
    needed = float(len(poles) * wire.parallel) * wire.length
    plug = wire.wire.plug or ""
    if wire.wire.plug_rating is not None:
        plug = f"{plug} {wire.wire.plug_rating}".strip()
    return ConductorRow(
        wire.name,
        False,
        str(wire.wire.start),
        str(wire.wire.to),
        poles,
        wire.parallel,
        size,
        other,
        str(sheet.name),
        sheet.kind,
        sheet.material,
        _insulation(sheet),
        wire.length,
        needed.named(f"Lall({wire.name})", f"length of all conductors of {wire.name}", "m"),
        tuple(map(str, wire.wire.place or ())),
        wire.current,
        may.value if isinstance(may, Carrying) else may,
        protections,
        wire.drop,
        str(plug),
    )


def _bond_row(bond: Bond | FrameBond, sheet: CableSheet, pole: str) -> ConductorRow:
    size, other = size_words(sheet)
    name = str(bond.name)
    length = declared(bond.length, f"L({name})", f"length of {name}") if bond.length else None
    return ConductorRow(
        name,
        True,
        str(bond.start),
        str(bond.to),
        ((pole, pole),),
        1,
        size,
        other,
        str(sheet.name),
        sheet.kind,
        sheet.material,
        _insulation(sheet),
        length,
        length,
        (),
        None,
        None,
        (),
        None,
        "",
    )


def _insulation(sheet: CableSheet) -> Value | None:
    written = sheet.insulation_temperature
    if written is None:
        return None
    return declared(written, "Ti", f"insulation temperature of {sheet.name}")


def _protections_told(study: Study) -> dict[str, tuple[Protection, ...]]:
    """What protects each wire, and of what is not allowed, how sure that is.

    By the readings of what the plan does not tell, as findings have their words.
    """
    usual = _protections(study)
    unknowns = study.assume.unknowns
    if not unknowns or not any(_is_amiss(p) for own in usual.values() for p in own):
        return usual
    guesses = frozenset(label for label, a in unknowns.items() if a.look_up and a.guess)
    ends = kind_ends(study.assume.two_ended)
    kindest = _amiss_in(study, [kind(end) for end in ends])
    lucky = _amiss_in(study, [chosen_kindly(guesses, end) for end in ends])

    def told(name: str, protection: Protection) -> Protection:
        known = (name, protection.start, protection.end)
        if not _is_amiss(protection) or known in kindest:
            return protection
        return replace(protection, sure="likely" if known in lucky else "asked")

    return {name: tuple(told(name, each) for each in own) for name, own in usual.items()}


def _is_amiss(protection: Protection) -> bool:
    return protection.verdict in GRAVEST_FIRST


def _amiss_in(study: Study, readings: Iterable[Reading]) -> set[tuple[str, str, str]]:
    """The stretches that are not protected in any of some readings."""
    found = [
        {
            (name, each.start, each.end)
            for name, own in _protections(study.read_as(reading)).items()
            for each in own
            if _is_amiss(each)
        }
        for reading in readings
    ]
    return set.intersection(*found)


def _protections(study: Study) -> dict[str, tuple[Protection, ...]]:
    """For each wire, what protects each stretch that something feeds, from its start on.

    Between a post or a bar and a fuse that is bolted to it there is no stretch.
    Of a wire that the fault sweep does not reach: what sits in it, and that no more is known.
    """
    faults: dict[Conductor | None, Fault] = {f.part: f for f in study.protection.fault_sweep.faults}
    returns: dict[Conductor | None, Allowed] = {
        answer.part: answer for answer in study.protection.allowed if answer.kind == "return"
    }
    names = {id(d.device): key for key, d in study.wiring.devices.items()}
    ratings = {key: d.rating for key, d in study.wiring.devices.items()}
    found: dict[str, list[Protection]] = {}
    for stretch in stretches(study):
        nothing = stretch.conductor is not None and stretch.conductor.length == 0.0
        if (fault := faults.get(stretch.conductor)) is not None and not nothing:
            own = _protection(stretch, fault, names, ratings)
            found.setdefault(stretch.name, []).append(own)
        elif (back := returns.get(stretch.conductor)) is not None and not nothing:
            rated = tuple((names[id(p.device)], ratings[names[id(p.device)]]) for p in back.devices)
            ends, length = (stretch.start.at, stretch.end.at), _length(back.part, back.wire.name)
            said = back.reason or back.verdict
            found.setdefault(stretch.name, []).append(Protection(*ends, length, rated, said, True))
    for wire in study.wiring.wires.values():
        inside = [study.wiring.devices[inline.device] for inline in wire.wire.inline]
        rated = tuple((d.name, d.rating) for d in inside if d.is_overcurrent)
        if wire.name not in found and rated:
            ends = str(wire.wire.start), str(wire.wire.to)
            found[wire.name] = [Protection(*ends, None, rated, "not known")]
    return {name: tuple(own) for name, own in found.items()}


def _protection(
    stretch: Stretch, fault: Fault, names: dict[int, str], ratings: dict[str, Value]
) -> Protection:
    """Of what feeds a stretch, the feeds that are worst protected, with all their devices."""
    decides = worst_of(feed.allowed for feed in fault.feeds)
    assert decides is not None
    verdict = decides.reason or decides.verdict
    worst = [feed for feed in fault.feeds if feed.verdict == verdict]
    devices = list(dict.fromkeys(names[id(p.device)] for feed in worst for p in feed.devices))
    rated = tuple((name, ratings[name]) for name in devices)
    length = _length(fault.part, fault.name)
    return Protection(stretch.start.at, stretch.end.at, length, rated, verdict)


def _length(part: Conductor, name: str) -> Value | None:
    if part.length is None:
        return None
    return length_of((part,), f"L({name})", f"length of {name}")
