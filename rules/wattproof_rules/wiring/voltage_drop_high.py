"""The voltage lost on whole ways of the current against what is usual."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.drops import Path
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 210.19 and 215.2, informational notes; common practice on the array side",
        "all editions",
        "advice, not a rule: at most 3 % in a branch circuit and 5 % in all; practice keeps 3 % "
        "between array and controller and 2 % between controller and battery",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11; common practice for charging circuits",
        "2003 and later",
        "3 % for feeders, bilge blowers, electronics and navigation lights, 10 % for other "
        "circuits, the length counted out and back; practice keeps 3 % between array and "
        "controller and 2 % between controller and battery",
        verified=True,
    ),
    "iec": Clause(
        "IEC 60364-5-52 Table G.52.1; common practice for charging circuits",
        "2009",
        "advice: from a supply of one's own, as off the grid, 6 % for lighting and 8 % for other "
        "uses; where the public grid feeds it, 3 and 5 %; practice keeps 3 % between array and "
        "controller and 2 % between controller and battery",
        verified=True,
    ),
    "iso-13297": Clause(
        "ISO 13297 (from ISO 10133 4.8); common practice for charging circuits",
        "2022",
        "3 % for circuits that matter for safety, 10 % for others; practice keeps 3 % between "
        "array and controller and 2 % between controller and battery",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3001.2; AS/NZS 5033; common practice for charging circuits",
        "2022; 2021",
        "5 % of extra-low voltage from source to load, as advice 3 % in an array; practice keeps "
        "2 % between controller and battery",
        verified=False,
    ),
}


SMALL = 0.04
"""A drop up to which it costs some energy and no more (common practice)."""
GREAT = 0.15
"""A drop past which a consumer may not work: most want 10.5 V of 12 V (common practice)."""
AT_MOST_TO_A_BATTERY = 0.25
"""A drop past which the current cannot flow: a charger gives 14.4 V, and an empty battery has over
11 V (common practice)."""

HANDY = 95.0
"""The largest conductor that is laid where a charger far off would do as well (mm²; practice)."""
HANDY_ON_MODULES = 10.0
"""The same to modules with a regulator, where one at the battery would do (mm²; practice)."""


@rule(
    id="voltage-drop-high",
    summary="Voltage lost between array, controller, battery and loads against what is usual.",
    covers=(
        "Voltage lost on the way",
        "Cable and fuse of an inverter",
    ),
    level="warning",
    hazard="lost-energy",
    part="conductor",
    basis=BASIS,
    explanation="Every wire takes its share of the voltage, in proportion to its current and its "
    "length, out and back. At 12 V a share that nobody would notice at mains voltage is a tenth "
    "of all there is. On the way from the roof it is energy lost; between controller and battery "
    "it also makes the controller believe the battery full too early; on the way to a load it "
    "is a refrigerator that will not start.",
    fine="Where the loss is known and small in energy, and the far end works at its lowest "
    "voltage. Between controller and battery rather not: the battery is then never full.",
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("cable: batt-8, length: 1 m", "cable: batt-8, length: 4 m"),
)
def voltage_drop_high(study: Study) -> Iterator[Observation]:
    over = [path for path in study.wiring.paths if _is_over(path, study)]
    blamed = {path: max(path.wires, key=lambda w: _drop(w, path).number) for path in over}
    for name in dict.fromkeys(wire.name for wire in blamed.values()):
        paths = [path for path in over if blamed[path].name == name]
        worst = min(paths, key=lambda path: (path.kind == "other", _margin(path, study)))
        yield _observation(worst, blamed[worst], len(paths) - 1, study)


def _observation(path: Path, wire: WireStudy, others: int, study: Study) -> Observation:
    share, drop = path.judged_share, path.judged_drop
    assert share is not None
    limit = _limit(path, study)
    rest = [w for w in path.wires if w is not wire and w.drop is not None]
    also = (
        f" ({others} more {'way' if others == 1 else 'ways'} through it as well)" if others else ""
    )
    mostly = f", {_drop(wire, path)} of it in `{wire.name}` ({wire.size.name})" if rest else ""
    own = path.drop_by_body is not None
    hot = f" by {wire.code.title}'s own formula, {path.drop} hot" if own else ""
    between = f"between `{path.origin}` and `{path.target}`{hot}"
    said = f"{drop} is lost {between}, {share} of {path.volts} where {limit} is usual"
    held = ""
    if path.held_back is not None:
        given, left = path.held_back
        held = f"; of the {given} of `{path.origin}` no more than {left} comes through"
    elif share.number >= (AT_MOST_TO_A_BATTERY if path.kind == "charge" else 1.0):
        said = f"full current would lose {drop} {between}, of {path.volts}: it cannot flow"
    return Observation(
        message=f"{said}{mostly}{also}{held}",
        on=(wire, *rest),
        values=(share, limit),
        margin=margin_below(share, limit),
        remedy=_remedy(path, wire, study),
        level="note" if _is_small(path, study) else None,
    )


def _is_small(path: Path, study: Study) -> bool:
    """True for a loss that costs little, or with which the consumer at its end still works.

    No body of rules limits what is lost before a battery, so there it is small by whichever. A
    body that is named and reckons a drop by its own formula means its limit as more than advice.
    """
    share = path.share.number if path.share is not None else 0.0
    if path.kind == "other":
        ruled = study.plan.code is not None and path.drop_by_body is not None
        return share <= GREAT and not ruled
    practice = study.plan.code is None or path.kind in ("array", "charge")
    return practice and share <= SMALL


def _limit(path: Path, study: Study) -> Value:
    limit = path.wires[0].code.drop_limit(path.kind, public=path.public)
    return tabled(limit.value, "%", "ΔUmax", limit.what, limit.cited)


def _is_over(path: Path, study: Study) -> bool:
    share = path.judged_share
    return share is not None and exceeds(share, _limit(path, study))


def _margin(path: Path, study: Study) -> float:
    share = path.judged_share
    return margin_below(share, _limit(path, study)) if share is not None else 0.0


def _drop(wire: WireStudy, path: Path) -> Value:
    return wire.drop_by_body(path.kind) or wire.drop or Value(0.0, "V")


def _remedy(path: Path, wire: WireStudy, study: Study) -> Remedy | str:
    """The smallest size of the worst wire, and of its return, that brings the way within the
    limit."""
    place = path.wires.index(wire)
    path = path.in_full
    wire = path.wires[place]
    best, both = path, path.with_return(wire)
    names = quoted(str(each.name) for each in both)
    charger = study.plan.chargers.get(path.origin)
    by_alternator = charger is not None and charger.kind == "alternator"
    by_modules = path.kind == "charge" and path.origin in study.plan.strings
    handy = HANDY if by_alternator or path.held_back is not None else math.inf
    if by_modules:
        handy = HANDY_ON_MODULES
    for proposed in wire.larger_sizes():
        if proposed.size.area_mm2 > handy:
            break
        best = path.in_size(both, proposed.size)
        if not _is_over(best, study):
            changes = tuple(each.in_size(proposed.size).as_change for each in both)
            shorter = _shorter(path, wire, study) if len(both) == 1 else Remedy("")
            words = f"use {proposed.size.name} for {names}{shorter.words}"
            return Remedy(words, (changes, *shorter.ways))
    near = f"charge `{path.target}` by a charger near it, which makes up for what is lost"
    if path.held_back is not None:
        return (
            f"{near}; larger wire lets up to {path.held_back.given} through, which all on the way "
            "has to carry"
        )
    if by_alternator:
        return near
    if by_modules:
        return (
            f"shorten {names}, or put a controller near `{path.target}`, which sees its voltage, "
            f"in place of the regulator on the modules of `{path.origin}`"
        )
    if best is path:
        return f"shorten {names}, or raise the voltage"
    return (
        f"even {best.wires[place].size.name} for {names} leaves "
        f"{best.judged_share}: use larger wire all the way, shorten it, or raise the voltage"
    )


def _shorter(path: Path, wire: WireStudy, study: Study) -> Remedy:
    """How long the wire may be in its present size, if that is any use."""
    whole, own = path.judged_drop, _drop(wire, path).number
    assert whole is not None
    room = _limit(path, study).number * path.volts.number - (whole.number - own)
    metres = wire.length.number * room / own
    taken = sum(i.distance.value for i in wire.wire.inline if i.distance is not None)
    if metres < max(0.1, taken):
        return Remedy("")
    fits = f"{int(metres * 10) / 10:g} m"
    return Remedy(f", or make it at most {fits} long", ((Change(wire.name, "length", fits),),))
