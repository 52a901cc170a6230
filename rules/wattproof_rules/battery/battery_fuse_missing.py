"""Whether every way out of a bank meets a fuse or breaker close to the battery."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.remedies.proposals import distinct, fuse_at, moved
from wattproof.rule import Clause, Edit, Located, Observation, Remedy, danger, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.guards import Exit
from wattproof.study.site.climate import from_table
from wattproof.working import Value
from wattproof_rules.plans import plan

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

LINK: Final = 1.0
"""Longest link between neighbours of a series that no fuse is asked for (m)."""


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
    sound=plan("van"),
    faulty=Edit("from_end: to, distance: 10 cm", "from_end: from, distance: 10 cm"),
    acceptable=False,
)
def battery_fuse_missing(study: Study) -> Iterator[Observation]:
    ways: dict[str, list[Exit]] = {}
    for way in study.protection.exits:
        if way.conductors:
            ways.setdefault(way.conductors[0].name, []).append(way)
    for leaving in ways.values():
        around = [way for way in leaving if way.around]
        if around:
            yield _bypassed(around[0], _limit(around[0], study))
            continue
        bare = [way for way in leaving if not _guarded_by_packs(way, study)]
        seen = [o for way in bare for o in _checked(way, study)]
        if seen:
            yield max(seen, key=_gravity)


def _guarded_by_packs(way: Exit, study: Study) -> bool:
    """True where the fuses of a bank's packs together are small enough for its wires."""
    fuses = next(
        (each for each in study.protection.pack_fuses if each.bank.name == way.bank.name), None
    )
    if fuses is None:
        return False
    fitting = [study.wiring.wires[part.wire.name].largest_fitting_device for part in way.conductors]
    return all(largest is not None and fuses.together.number <= largest for largest in fitting)


def _gravity(seen: Observation) -> tuple[bool, int, float]:
    """Certain before undecided, errors before warnings before notes, the farthest first."""
    order = {None: 2, "error": 2, "warning": 1, "note": 0}
    return not seen.undecided, order[seen.level], -(seen.margin if seen.margin is not None else -9)


def _checked(way: Exit, study: Study) -> Iterator[Observation]:
    if way.device is None:
        yield from _unprotected(way, study)
        return
    limit = _limit(way, study)
    if limit is None or not way.distance_at_most > limit.number:
        return
    if exceeds(way.length, limit):
        yield _too_far(way, limit, study)
    elif way.distance is None:
        yield Observation(
            message=f"how far `{way.device.name}` sits from `{way.bank.name}` is not stated; the "
            f"wire is {way.distance_at_most:g} m long, and at most {limit} may be without it",
            on=(_first(way), way.device.device, way.bank),
            values=(limit,),
            remedy=f"write `{{{way.device.name}: {{from_end: …, distance: …}}}}`, counted from the "
            f"end at `{way.bank.name}`",
            level="warning",
            undecided=True,
        )


def _unprotected(way: Exit, study: Study) -> Iterator[Observation]:
    """A way that ends without any device."""
    if way.end is None:
        return  # the chassis, the water or the earth
    limit = _limit(way, study)
    if way.to_bank and limit is not None and not exceeds(way.length, limit):
        return  # batteries side by side, joined post to post
    if way.to_starter and way.enclosed:
        return  # cranking cables have no fuse anywhere; this one is sheathed all along
    if way.in_series and way.distance_at_most <= LINK:
        return  # what the fuse of the series protects
    charging = way.to_alternator_of_lead and study.plan.setting in ("vehicle", "boat")
    cranking = charging or way.to_starter
    yield Observation(
        message=f"`{_first(way).name}` leads from `{way.bank.name}` to `{way.reaches}` without a "
        + (
            "fuse; a maker's starting and charging cable may do so"
            if cranking
            else "fuse or breaker"
        ),
        on=(_first(way), way.bank, way.end),
        values=(way.length,),
        remedy=f"keep `{_first(way).name}` short, sheathed and supported all along, and "
        "write `enclosed: true`"
        if way.to_starter
        else _added(way, limit, study),
        level="note" if cranking else None,
    )


def _bypassed(way: Exit, limit: Value | None) -> Observation:
    """A way around a device, which then protects nothing."""
    assert way.device is not None
    first = _first(way)
    within = f" within {limit}" if limit is not None else ""
    return Observation(
        message=f"`{first.name}` leads from `{way.bank.name}` around `{way.device.name}`, without "
        "a fuse or breaker of its own",
        on=(first, way.device.device, way.bank),
        values=(way.length,),
        remedy=f"take `{first.name}` away; or put a fuse of its own into it{within} of "
        f"`{way.bank.name}`, so small that both together protect what lies behind",
    )


def _too_far(way: Exit, limit: Value, study: Study) -> Observation:
    assert way.device is not None
    enclosed = study.codes.battery.source_distance("battery-sheathed")
    grave = enclosed is None or way.distance_at_least > enclosed.value
    weak = (
        f": it sits at `{way.weak_end}`, which cannot blow it, and not at the battery, which can"
        if way.weak_end
        else ""
    )
    return Observation(
        message=f"{way.length} of wire from `{way.bank.name}` comes before `{way.device.name}`, "
        f"and at most {limit} may{weak}",
        on=(_first(way), way.device.device, way.bank),
        values=(way.length, limit),
        margin=margin_below(way.length, limit),
        remedy=_moved(way, limit) if _in_one_wire(way) else _added(way, limit, study),
        level=None if grave else "warning",
    )


def _limit(way: Exit, study: Study) -> Value | None:
    """How much wire may come before the device (m): the most that its place allows."""
    kinds = ["battery-sheathed" if way.enclosed else "open"]
    if _outside_compartment(way, study):
        kinds.append("outside-compartment")
    allowed = [limit for kind in kinds if (limit := study.codes.battery.source_distance(kind))]
    return max((from_table(limit, "dmax") for limit in allowed), default=None)


def _outside_compartment(way: Exit, study: Study) -> bool:
    """True where the battery has a vented place apart from people, and its device another.

    Only the first wire leads out of that place: what sits in a later one is somewhere in the room.
    """
    if way.device is None or len({c.wire.name for c in way.conductors}) > 1:
        return False
    places = {placed.component.name: placed.place for placed in study.site.placed}
    battery, device = places.get(way.bank.battery.name), places.get(way.device.device.name)
    if battery is None or device is None or battery is device:
        return False
    return bool(battery.vented) and not battery.living_space


def _first(way: Exit) -> Located:
    return way.conductors[0].wire


def _in_one_wire(way: Exit) -> bool:
    """True where the battery, the device and all that comes before it are in or at one wire."""
    return len({part.wire.name for part in way.conductors}) == 1


def _moved(way: Exit, limit: Value) -> Remedy:
    """The device beside the battery; in words alone where another one sits before it."""
    assert way.device is not None
    wire, device = way.conductors[0].wire, way.device.name
    alone = way.device.wire is wire and len(way.conductors) == 1
    changes = moved(wire, device, way.bank.name, limit.number) if alone else ()
    return Remedy(f"put `{device}` within {limit} of `{way.bank.name}`", (changes,))


def _added(way: Exit, limit: Value | None, study: Study) -> Remedy:
    """A fuse beside the battery, and another beside one that the way leads to.

    A last wire that has a device of its own is protected by that.
    """
    wires = [
        study.wiring.wires[name] for name in dict.fromkeys(part.name for part in way.conductors)
    ]
    if way.device is not None and way.device.wire is wires[-1].wire and len(wires) > 1:
        del wires[-1]
    ratings = [wire.largest_fitting_device for wire in wires]
    fitting = [rating for rating in ratings if rating is not None]
    rating = min(fitting) if len(fitting) == len(ratings) else None
    within = f" within {limit}" if limit is not None else ""
    put = f"a fuse of {rating:g} A" if rating is not None else "a fuse that protects the wire"
    words = f"put {put}{within} of `{way.bank.name}`"
    if way.to_bank:
        words += f", and another{within} of `{way.reaches}`"
    if rating is None:
        return Remedy(words)
    ends = [(wires[0], way.bank.name), *([(wires[-1], way.reaches)] if way.to_bank else [])]
    fuses = (fuse_at(study, wire, end, way.bank, rating, limit) for wire, end in ends)
    return Remedy(words, (distinct(fuses),))
