"""Lengths that no wire of its setting has, or none at all, as when a unit is mistaken."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "no wire of this kind is much longer than what it is in; a length that is, was measured in "
        "another unit or counts the way back"
    ),
}

FOOT = 0.3048  # m


@record
class Limits:
    """What a project may set."""

    vehicle: float = option(20.0, "Longest plausible wire of a vehicle, one way, in m.")
    boat: float = option(40.0, "Longest plausible wire of a boat, one way, in m.")
    portable: float = option(60.0, "Longest plausible wire of a portable set, one way, in m.")
    cabin: float = option(400.0, "Longest plausible wire of a cabin, one way, in m.")
    shortest: float = option(0.02, "Shortest plausible wire between two terminals, in m.")


@rule(
    id="wire-length-odd",
    summary="Length of a wire against what an installation of its setting can have.",
    covers=("Feet written as metres, or the way back counted twice",),
    level="note",
    hazard="lost-energy",
    part="conductor",
    basis=BASIS,
    explanation="The drop in a wire and the current of a fault both follow its length. A foot that "
    "was written as a metre makes the wire three times too long in the reckoning, and a way there "
    "and back counts it twice; then a good wire looks bad, and one buys copper for nothing.",
    fine="Where the way really is so long, one way: measure it with a string along its path.",
    since="0.1.0",
    sound=plan("van", Edit("length: 4 m", "length: 13 ft")),
    faulty=Edit("length: 13 ft", "length: 42 m"),
    options=Limits,
)
def wire_length_odd(study: Study, limits: Limits) -> Iterator[Observation]:
    shortest = tabled(limits.shortest, "m", "Lmin", "shortest plausible wire", "common practice")
    for wire in study.wiring.wires.values():
        if exceeds(shortest, wire.length):
            yield _too_short(wire, shortest)
    longest = getattr(limits, str(study.plan.setting))
    setting = study.plan.setting
    where = "a portable set" if setting == "portable" else f"a {setting}"
    limit = tabled(longest, "m", "Lmax", "longest plausible wire", "common practice")
    for wire in study.wiring.wires.values():
        if not exceeds(wire.length, limit):
            continue
        yield Observation(
            message=f"`{wire.name}` is {wire.length} long one way, in {where}",
            on=(wire,),
            values=(wire.length, limit),
            margin=margin_below(wire.length, limit),
            remedy=_remedy(wire, limit),
        )


def _remedy(wire: WireStudy, limit: Value) -> Remedy:
    """The lengths that it would have, had it been written in feet or there and back."""
    metres = wire.length.number
    there = f"there and back counts once, {metres / 2.0:.3g} m; where it is right, accept it"
    once = metres / 2.0, f"{metres / 2.0:.3g} m"
    text = wire.wire.length.text
    if not text.endswith("m") or text.endswith(("cm", "mm")):
        return Remedy(f"measure it again: the way {there}", _shorter(wire, limit, once))
    feet = metres * FOOT, f"{metres:g} ft"
    return Remedy(
        f"measure it again: {metres:.3g} ft would be {feet[0]:.3g} m, and the way {there}",
        _shorter(wire, limit, feet, once),
    )


def _shorter(
    wire: WireStudy, limit: Value, *lengths: tuple[float, str]
) -> tuple[tuple[Change], ...]:
    return tuple(
        (Change(wire.name, "length", text),) for metres, text in lengths if metres <= limit.number
    )


def _too_short(wire: WireStudy, shortest: Value) -> Observation:
    """A length that two terminals and a hand's breadth of cable do not fit into."""
    thousand = 1000.0 * wire.length.number
    return Observation(
        message=f"`{wire.name}` is {wire.length} long, shorter than its own terminals",
        on=(wire,),
        values=(wire.length, shortest),
        margin=wire.length.number / shortest.number - 1.0,
        remedy=f"measure it again, and check the unit: perhaps {thousand:.3g} m is meant; where it "
        "is right, accept it",
    )
