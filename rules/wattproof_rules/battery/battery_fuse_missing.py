"""Whether every way out of a bank meets a fuse or breaker close to the battery."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.fuse_sizes import FuseSizes, fuse_sizes
from wattproof.remedies.proposals import NEAR, distinct, fuse_at, moved, that_breaks_more
from wattproof.rule import (
    Addition,
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Remedy,
    danger,
    rule,
)
from wattproof.study import Study
from wattproof.study.assumptions.devices import NO_DEVICE_PLACE
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.guards import Tie
from wattproof.study.protection.spans import span_of
from wattproof.study.protection.ways import Way
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted
from wattproof.working import largest
from wattproof_rules.plans import plan

TAPS_DRAW = 1.0
"""Most that a display, a sensor or a monitor at a post draws (A)."""

BASIS = {
    "nec-2023": Clause(
        "NEC 240.21(H); NEC 552.10 for trailers",
        "2008-2023",
        "battery conductors are protected as near the battery terminals as practicable, with no "
        "figure; the text for trailers asks for a device within 18 in (460 mm)",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.10); 33 CFR 183.455(b)",
        "2003 and later",
        "the device is within 7 in (178 mm) of the source, 40 in (1016 mm) where the conductor is "
        "sheathed or enclosed; by the marine standard, not by the federal rule, 72 in (1829 mm) "
        "from a battery in a sheath; cranking conductors are exempt",
        verified=True,
    ),
    "iec": Clause(
        "IEC 60364-4-43 433.2 and 434.2; IEC 62485; AS/NZS 3001.2:2022 5.4",
        "2008",
        "the device sits where the conductor begins, at a battery as near as practicable; 200 mm, "
        "or 1.0 m of enclosed cable, is the figure that vehicles are built by",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 clause 8",
        "2022",
        "the device is within 200 mm of the source, up to 1.8 m from a battery where the cable is "
        "sheathed throughout; starter cables are exempt",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3001.2 5.4",
        "2022",
        "every battery has a fuse or breaker, within 200 mm of it, directly outside its "
        "compartment, or within 1.0 m where the cable is enclosed",
        verified=True,
    ),
}


@rule(
    id="battery-fuse-missing",
    summary="Fuse or breaker on every way out of a bank, close to the battery.",
    covers=(
        "No fuse at the battery, or one too far from it",
        "A fuse at the weak end of a wire",
        "A wire that is live from both ends",
        "Display and sense wires without a fuse, drawn as loads",
    ),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="A battery is stiff: into a short it drives thousands of amperes, and nothing "
    "stops it but a fuse. Only what lies behind the fuse is protected, so every centimetre "
    "between the battery and the fuse is not. A controller or charger at the other end is "
    "limited to little more than its rated current: a fuse beside it never sees the current that "
    "burns the wire.",
    caution=danger(
        "A bare battery cable that rubs through on metal glows within seconds and sets fire to "
        "what is around it, with people asleep above it."
    ),
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("from_end: to, distance: 10 cm", "from_end: from, distance: 10 cm"),
)
def battery_fuse_missing(study: Study) -> Iterator[Observation]:
    ways: dict[str, list[Way]] = {}
    for way in study.protection.ways.all:
        if way.exit.conductors:
            ways.setdefault(way.exit.conductors[0].name, []).append(way)
    for leaving in ways.values():
        around = [way for way in leaving if way.exit.around]
        if around:
            yield _bypassed(around[0])
            continue
        seen = [o for way in leaving if (o := _observed(way, leaving, study)) is not None]
        if seen:
            yield max(seen, key=_gravity)


def _gravity(seen: Observation) -> tuple[bool, int, float]:
    """Certain before undecided, errors before warnings before notes, the farthest first."""
    order = {None: 2, "error": 2, "warning": 1, "note": 0}
    return seen.asks is None, order[seen.level], -(seen.margin if seen.margin is not None else -9)


def _observed(way: Way, leaving: list[Way], study: Study) -> Observation | None:
    if way.is_cranking:
        return _cranking(way, study)
    if way.verdict == "not known":
        return _unknown(way)
    if way.reason in ("no device", "only in the other pole"):
        return _unprotected(way, leaving, study)
    if way.reason == "at one end at most":
        return _at_one_end(way, study)
    if way.reason in ("too far", "belongs to another source"):
        return _too_far(way, study)
    return None


def _cranking(way: Way, study: Study) -> Observation | None:
    """The cable from a battery to a starter, or from a lead battery to an alternator."""
    exit_, first = way.exit, _first(way)
    if exit_.tie is not None:
        return _tied(way, exit_.tie)
    leads = f"`{first.name}` leads from `{exit_.bank.name}` to `{exit_.reaches}`"
    assert exit_.end is not None
    on, values = (first, exit_.bank, exit_.end), (exit_.length,)
    if not exit_.to_starter:
        return Observation(
            message=f"{leads} without a fuse; only a maker's own charging cable may do so",
            on=on,
            values=values,
            absent="" if way.may_be_makers else "fuses",
            remedy=_added(way, study),
            level="note" if way.may_be_makers else None if _is_led_away(way, study) else "warning",
        )
    if exit_.enclosed:
        return None  # cranking cables have no fuse anywhere; this one is sheathed all along
    return Observation(
        message=f"{leads} without a fuse; a maker's starting and charging cable may do so",
        on=on,
        values=values,
        remedy=f"keep `{first.name}` short, sheathed and supported all along, and write "
        "`enclosed: true`",
        level="note",
    )


def _tied(way: Way, tie: Tie) -> Observation | None:
    """The cable by which another bank starts the engine, fed by the engine's own one as well."""
    exit_ = way.exit
    if exit_.enclosed:
        return None
    bare = dict.fromkeys(part.name for part in exit_.conductors if not part.wire.enclosed)
    names = quoted(list(bare))
    joined = f"what `{exit_.device.name}` guards" if exit_.device else f"`{exit_.reaches}`"
    return Observation(
        message=f"`{exit_.bank.name}` feeds {names} without a fuse while `{tie.switch.name}` joins "
        f"it to {joined}; a starting cable may be so",
        on=(_first(way), exit_.bank, tie.switch),
        values=(exit_.length,),
        remedy=f"keep {names} short, sheathed and supported all along, and write `enclosed: true`",
        level="note",
        cause="tied",
    )


def _is_led_away(way: Way, study: Study) -> bool:
    """True where an alternator charges another battery than the one that starts its engine."""
    starting = {each.bank.name for each in study.charging.cranking}
    return bool(starting) and way.exit.bank.name not in starting


def _unprotected(way: Way, leaving: list[Way], study: Study) -> Observation:
    """A way that ends without any device, and what hangs on it likewise."""
    exit_ = way.exit
    assert exit_.end is not None
    branches = _branches(way, leaving, study)
    leads = f"`{_first(way).name}` leads from `{exit_.bank.name}` to `{exit_.reaches}`"
    without = "without a fuse or breaker"
    if way.packs is not None:
        without += " of its own"
    if way.in_other_pole:
        names = quoted(device.name for device in way.in_other_pole)
        without += f" in the positive, with {names} in the negative only"
    also = quoted([wire.name for wire in branches])
    on_to = f"; {also} {'hangs' if len(branches) == 1 else 'hang'} on it likewise" if also else ""
    opened = (device.device for device in way.in_other_pole)
    return Observation(
        message=f"{leads} {without}{on_to}{_past_packs(way)}",
        on=(_first(way), exit_.bank, exit_.end, *opened, *branches),
        values=(exit_.length,),
        absent="fuses",
        remedy=_led_behind(way, study) or _added(way, study),
        level="note" if _is_a_tap(way, study) else None,
    )


def _led_behind(way: Way, study: Study) -> Remedy | None:
    """The last wire to the other side of a device that stands where it leaves the battery's."""
    last = way.exit.conductors[-1]
    standing = {**study.plan.fuses, **study.plan.breakers}
    here = [t for t in (last.start, last.end) if t.component in standing]
    if len(way.exit.conductors) < 2 or len(here) != 1:
        return None
    [end] = here
    other = f"{end.component}.{'load' if end.port == 'line' else 'line'}"
    added = _added(way, study)
    words = f"write `{other}` in `{last.name}`, if it is led behind `{end.component}`"
    return Remedy(f"{words}; else {added.words}", added.ways)


def _is_a_tap(way: Way, study: Study) -> bool:
    """True for a display or the like at the post, on no more wire than may be without a fuse."""
    exit_ = way.exit
    drawn = [amps for group in study.wiring.drawn for c, amps in group.consumers if c is exit_.end]
    little = bool(drawn) and not exceeds(largest(drawn), TAPS_DRAW)
    return little and way.most is not None and exit_.span.is_within(way.most.number)


def _branches(way: Way, leaving: list[Way], study: Study) -> list[WireStudy]:
    """The other wires that bare ways by the same first conductor end with, thinner than that."""
    first = study.wiring.wires[way.exit.conductors[0].name]
    ends = [w.exit.conductors[-1].name for w in leaving if w.exit.device is None and w.exit.end]
    wires = [study.wiring.wires[name] for name in dict.fromkeys(ends)]
    own = {part.name for part in way.exit.conductors}
    return [w for w in wires if w.name not in own and w.size.area_mm2 < first.size.area_mm2]


def _bypassed(way: Way) -> Observation:
    """A way around a device, which then protects nothing."""
    exit_ = way.exit
    assert exit_.device is not None
    first = _first(way)
    within = f" within {way.most}" if way.most is not None else ""
    return Observation(
        message=f"`{first.name}` leads from `{exit_.bank.name}` around `{exit_.device.name}`, "
        "without a fuse or breaker of its own",
        on=(first, exit_.device.device, exit_.bank),
        values=(exit_.length,),
        remedy=f"take `{first.name}` away; or put a fuse of its own into it{within} of "
        f"`{exit_.bank.name}`, so small that both together protect what lies behind",
    )


def _unknown(way: Way) -> Observation | None:
    """Where the device sits is not told, and it matters."""
    exit_, most = way.exit, way.most
    if exit_.device is None or most is None:
        return None
    name = exit_.device.name
    return Observation(
        message=(
            f"how far `{name}` sits from `{exit_.bank.name}` is not stated; the wire is "
            f"{exit_.span.most:.4g} m long, and {most} is the most allowed without a fuse"
        ),
        on=(_first(way), exit_.device.device, exit_.bank),
        values=(most,),
        remedy=f"write `{{{name}: {{from_end: …, distance: …}}}}`, counted from the end at "
        f"`{exit_.bank.name}`",
        level="warning",
        asks=NO_DEVICE_PLACE.look_up,
    )


def _at_one_end(way: Way, study: Study) -> Observation:
    """One device in a wire that batteries feed from both ends, and that is too long for one."""
    exit_, most = way.exit, way.most
    assert exit_.device is not None
    assert most is not None
    name, first = exit_.device.name, _first(way)
    added = _added(way, study)
    length = study.wiring.wires[first.name].length
    where = f"`{exit_.bank.name}` or from {quoted(way.owners)}"
    return Observation(
        message=f"wherever `{name}` sits in `{first.name}`, {length.number:.4g} m long, it is too "
        f"far from {where}, which both feed it; {most} is the most allowed without a fuse",
        on=(first, exit_.device.device, exit_.bank),
        values=(length, most),
        absent="fuses",
        remedy=Remedy(f"{added.words}, and `{name}` near {quoted(way.owners)}", added.ways),
    )


def _too_far(way: Way, study: Study) -> Observation:
    exit_, most = way.exit, way.most
    assert exit_.device is not None
    assert most is not None
    name, bank = exit_.device.name, exit_.bank.name
    if way.reason == "belongs to another source":
        owner = quoted(way.owners)
        said = (
            f"only `{name}`, the device of {owner}, guards {exit_.length} of wire that `{bank}` "
            f"feeds; {most} is the most allowed without a fuse of its own"
        )
    else:
        weak = (
            f": it sits at `{exit_.weak_end}`, which cannot blow it, and not at the battery, which "
            "can"
            if exit_.weak_end
            else ""
        )
        begins = f"`{bank}`" if not exit_.branches_off else f"the starting cable of `{bank}`"
        said = f"`{name}` is {exit_.length} from {begins}; {most} is the most allowed{weak}"
    panel = next(
        (d.panel for d in study.wiring.devices.values() if exit_.device in d.passages), None
    )
    if panel is not None and way.reason == "too far":
        said = (
            f"`{_first(way).name}` leads from `{bank}` to `{panel.name}` without a fuse or "
            f"breaker: its ways are the first, {exit_.length} away; {most} is the most allowed"
        )
    elif way.reason == "too far" and not exit_.weak_end and (bar := _bar_before(way, study)):
        said = (
            f"`{_first(way).name}` leads from `{bank}` to `{bar}` without a fuse or breaker; "
            f"`{name}`, behind it, is {exit_.length} away; {most} is the most allowed"
        )
    said += f"{packs} before that" if (packs := _past_packs(way)) else ""
    is_own = way.reason == "too far" and panel is None and _in_one_wire(way)
    is_own &= not exit_.branches_off
    return Observation(
        message=said,
        on=(_first(way), exit_.device.device, exit_.bank),
        values=(exit_.length, most),
        margin=margin_below(exit_.length, most),
        absent="" if is_own else "fuses",  # one before it may be what nobody told
        remedy=_nearer(way, study) if is_own else _in_last_wire(way) or _added(way, study),
    )


def _nearer(way: Way, study: Study) -> Remedy:
    """The device beside the battery; another like it, where it guards the wire at its end too."""
    exit_, most = way.exit, way.most
    assert exit_.device is not None
    assert most is not None
    device, bank, wire = exit_.device, exit_.bank, study.wiring.wires[_first(way).name]
    stays = any(
        device in side.limiting and bank.name not in {each.name for each in side.banks}
        for guard in study.protection.guards
        if guard.wire.name == wire.name
        for side in guard.sides
    )
    if not stays:
        return _moved(way)
    rating = device_rating(device)
    if not wire.is_protected_by(rating):
        return _added(way, study)
    another = distinct([fuse_at(study, wire, bank.name, bank, rating.number, most)])
    words = f"put another fuse of {rating} within {most} of `{bank.name}`"
    return Remedy(words + that_breaks_more(another), (another,))


def _bar_before(way: Way, study: Study) -> str:
    """The bus bar to which the first wire leads, where the device is in a branch behind it."""
    first, device = way.exit.conductors[0].wire, way.exit.device
    assert device is not None
    behind = (device.wire or way.exit.conductors[-1].wire) is not first
    here = {end.component for part in way.exit.conductors for end in (part.start, part.end)}
    ends = [name for name in first.components if name in here]
    return next((name for name in study.plan.busbars if name in ends), "") if behind else ""


def _past_packs(way: Way) -> str:
    """What the fuses of the packs let through together, which protects nothing here."""
    if way.packs is None:
        return ""
    return (
        f"; `{way.packs.device.name}` of each pack lets {way.packs.together} through in all, "
        "which is too much"
    )


def _first(way: Way) -> Located:
    return way.exit.conductors[0].wire


def _in_one_wire(way: Way) -> bool:
    """True where the battery, the device and all that comes before it are in or at one wire."""
    return len({part.wire.name for part in way.exit.conductors}) == 1


def _moved(way: Way) -> Remedy:
    """The device beside the battery; in words alone where another one sits before it."""
    exit_, most = way.exit, way.most
    assert exit_.device is not None
    assert most is not None
    wire, device = exit_.conductors[0].wire, exit_.device.name
    alone = exit_.device.wire is wire and len(exit_.conductors) == 1
    changes = moved(wire, device, exit_.bank.name, most.number) if alone else ()
    return Remedy(f"put `{device}` within {most} of `{exit_.bank.name}`", (changes,))


def _in_last_wire(way: Way) -> Remedy | None:
    """A wire's own device where that wire begins, if what comes before may be bare."""
    exit_, most = way.exit, way.most
    assert exit_.device is not None
    assert most is not None
    last = exit_.device.wire
    before = [part for part in exit_.conductors if part.wire is not last]
    own = [part for part in exit_.conductors if part.wire is last]
    if last is None or len(own) != 1 or way.reason != "too far":
        return None
    room = most.number - span_of(before).most
    joint = sorted({*last.components} & {name for part in before for name in part.wire.components})
    if exit_.branches_off and not before:
        joint = [t.component for t in (own[0].start, own[0].end) if t.component != own[0].name]
    if len(joint) != 1 or room < NEAR:
        return None
    at = joint[0]
    changes = moved(last, exit_.device.name, at, room)
    return Remedy(f"put `{exit_.device.name}` where `{last.name}` leaves `{at}`", (changes,))


def _added(way: Way, study: Study) -> Remedy:
    """A fuse beside the battery, and another beside one that the way leads to.

    A last wire that has a device of its own is protected by that.
    """
    exit_, most = way.exit, way.most
    names = dict.fromkeys(part.name for part in exit_.conductors)
    wires = [study.wiring.wires[name] for name in names]
    if exit_.device is not None and exit_.device.wire is wires[-1].wire and len(wires) > 1:
        del wires[-1]
    sizes = fuse_sizes(wires, study, over=_behind(way, study))
    if sizes is None and (each := _one_each(wires, way, study)) is not None:
        return each
    within = f" within {most}" if most is not None else ""
    put = f"a fuse of {sizes.words}" if sizes is not None else "a fuse that protects the wire"
    begins = _begins(way, study)
    words = f"put {put}{within} of `{begins}`"
    if way.in_other_pole:
        words += ", in the positive"
    if exit_.to_bank:
        words += f", and another{within} of `{exit_.reaches}`"
    if sizes is None:
        return Remedy(words)
    words += _in_no_wire(sizes, study)
    ends = [(wires[0], begins)]
    ends += [(wires[-1], exit_.reaches)] if exit_.to_bank else []
    fuses = (fuse_at(study, wire, end, exit_.bank, sizes.usual, most) for wire, end in ends)
    added = distinct(fuses)
    return Remedy(words + that_breaks_more(added) + sizes.and_stronger, (_with(added, sizes),))


def _in_no_wire(sizes: FuseSizes, study: Study) -> str:
    """The one device of such a rating that is declared and that no wire holds; empty of others."""
    fuses, breakers = study.plan.fuses, study.plan.breakers
    fitting = []
    for each in study.circuit.unused:
        name = str(each.component.name)
        guard = fuses.get(name) or breakers.get(name)
        if guard is not None and guard.rating is not None:
            fitting += [name] if sizes.least <= guard.rating.value <= sizes.most else []
    return f", such as `{fitting[0]}` that no wire holds" if len(fitting) == 1 else ""


def _begins(way: Way, study: Study) -> str:
    """What its first wire leaves: the battery, or the starter behind its cable, which has none."""
    first = way.exit.conductors[0]
    ends = (first.start.component, first.end.component)
    return next((name for name in ends if name in study.plan.starters), way.exit.bank.name)


def _with(added: tuple[Addition, ...], sizes: FuseSizes) -> tuple[Addition | Change, ...]:
    return (*added, *sizes.stronger) if added else ()


def _one_each(wires: list[WireStudy], way: Way, study: Study) -> Remedy | None:
    """A fuse for what all ways share, and one for each thinner wire where it leaves the joint."""
    if len(wires) < 2 or way.exit.to_bank:
        return None
    bank, most, begins = way.exit.bank, way.most, _begins(way, study)
    first = fuse_sizes(wires[:-1], study)
    if first is None:
        return None
    within = f" within {most}" if most is not None else ""
    words = [f"put a fuse of {first.words}{within} of `{begins}`"]
    fuses = [fuse_at(study, wires[0], begins, bank, first.usual, most)]
    for wire in _last_wires(way, first.usual, study):
        sizes, joint = fuse_sizes((wire,), study), _joint(wires[-2], wire)
        if sizes is None or not joint:
            return None
        words.append(f"one of {sizes.words} into `{wire.name}` where it leaves `{joint}`")
        fuses.append(fuse_at(study, wire, joint, bank, sizes.usual, None))
    listed = ", and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
    added = distinct(fuses)
    listed += that_breaks_more(added)
    return Remedy(listed + first.and_stronger, (_with(added, first),))


def _last_wires(way: Way, amps: float, study: Study) -> list[WireStudy]:
    """The last wires of bare ways by the same first conductor that a fuse of that rating is too
    large for (A)."""
    first = way.exit.conductors[0].name
    alike = [
        other.exit
        for other in study.protection.ways.all
        if other.exit.bank.name == way.exit.bank.name
        and other.exit.device is None
        and other.exit.conductors[0].name == first
        and len(other.exit.conductors) > 1
    ]
    wires = dict.fromkeys(e.conductors[-1].name for e in alike)
    found = [study.wiring.wires[name] for name in wires if name != first]
    return [w for w in found if (w.largest_fitting_device or 0.0) < amps]


def _joint(one: WireStudy, other: WireStudy) -> str:
    """The component at which two wires meet; empty where it is not one."""
    shared = sorted({*one.wire.components} & {*other.wire.components})
    return shared[0] if len(shared) == 1 else ""


def _behind(way: Way, study: Study) -> float:
    """The largest device (A) that other ways by the same first conductor come to; 0 where none."""
    first = way.exit.conductors[0].name
    ratings = [
        device_rating(other.exit.device).number
        for other in study.protection.ways.all
        if other.exit.device is not None
        and len(other.exit.conductors) > 1
        and other.exit.bank.name == way.exit.bank.name
        and other.exit.conductors[0].name == first
    ]
    return max(ratings, default=0.0)
