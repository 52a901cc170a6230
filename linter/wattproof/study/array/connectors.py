"""Which connectors are plugged straight into each other, and in what they are unlike."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from wattproof.plan.array import Combiner, String
from wattproof.plan.datasheets import Connector, ModuleSheet
from wattproof.plan.root import Plan
from wattproof.plan.wiring import PLUGS
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.series import broken_without_portable
from wattproof.study.array.strings import StringStudy
from wattproof.words import enumerated
from wattproof.working import Value

GUARDED = "locking-pv"  # its contacts lie deep in both halves, apart and mated


BARE = frozenset(
    {
        *PLUGS, "banana", "bare-ends", "bare-wire", "barrel", "clamps", "clips", "crocodile-clips",
        "alligator-clips", "flat-plug", "ring", "ring-terminal", "screw", "screw-terminal", "spade",
        "terminal-block", "wire-nut", "lever-nut",
    }
)  # fmt: skip
"""Words for plugs and ends whose contacts can be touched; what other words mean is not known."""


LIVE_PINS = ("flat-two-pin", "cigar", "trailer-7", "trailer-13")
"""Plugs of which one half shows a pin."""


def is_guarded(string: StringStudy) -> bool:
    """True where all its modules state a connector whose contacts cannot be touched."""
    connectors = [m.sheet.connector for m in string.modules]
    return all(c is not None and c.style == GUARDED for c in connectors)


def is_told_nothing_of(string: StringStudy) -> bool:
    """True where nothing says what plugs one of its modules has, and none is said to be bare."""
    connectors = [m.sheet.connector for m in string.modules]
    return not has_bare(string) and any(c is None or c.style != GUARDED for c in connectors)


def has_bare(string: StringStudy) -> bool:
    """True where a module's connector is said to be of a kind whose contacts can be touched."""
    told = [m.sheet.connector for m in string.modules if m.sheet.connector is not None]
    return any(c.style is not None and _plain(c.style) in BARE for c in told)


def _plain(words: str) -> str:
    return "-".join(words.lower().replace("_", " ").replace("-", " ").split())


def within_reach(string: StringStudy, plan: Plan, *, bare: bool) -> bool:
    """True for one set up by hand, one on the ground, and for bare contacts where it is wet."""
    declared = string.source.string
    if declared.portable or declared.mounting == "ground":
        return True
    place = plan.site.places.get(str(declared.place)) if declared.place else None
    return place is not None and bool(place.wet) and bare


@record
class Touched:
    """What of an array hands can come to.

    bare: strings of which contacts can be touched, where plugs are apart or a joint is open.
    unsaid: strings of which nobody says so or the contrary, and which are taken as guarded.
    near: those of both that are set up by hand or on the ground, and of the bare those in the wet.
    """

    bare: tuple[StringStudy, ...]
    unsaid: tuple[StringStudy, ...]
    near: tuple[StringStudy, ...]


@record
class LivePlug:
    """Plugs of portable strings that fixed ones beside them keep live when these are away.

    volts: what stands at them at most (V). bare: True where their contacts are said to be bare;
    else nothing says that they are guarded.
    """

    portable: tuple[String, ...]
    fixed: tuple[String, ...]
    volts: Value
    bare: bool


def live_plug(array: ArrayStudy, touched: Touched, plan: Plan) -> LivePlug | None:
    """That of an array whose portable strings are joined side by side with fixed ones.

    None where all are guarded, or a switch in the lead of each parts it first.
    """
    fixed = tuple(s for s in array.declared_strings if not s.portable)
    portable = [s for s in array.declared_strings if s.portable]
    if not fixed or not portable or broken_without_portable(array):
        return None
    bare = {s.source.string.name for s in touched.bare}
    unsaid = {s.source.string.name for s in touched.unsaid}
    own: list[String] = []
    any_bare = False
    for string in portable:
        leads = [w for w in plan.wires.values() if string.name in w.components]
        if any(inline.device in plan.switches for lead in leads for inline in lead.inline):
            continue
        is_bare = string.name in bare or any(lead.plug in LIVE_PINS for lead in leads)
        if is_bare or string.name in unsaid:
            own.append(string)
            any_bare = any_bare or is_bare
    if not own:
        return None
    return LivePlug(tuple(own), fixed, array.voc("coldest"), any_bare)


@record
class Mated:
    """Two connectors that are plugged into each other.

    at: the string or the joint where. one, other: the parts that they are on. unlike: what differs
    of what both declare, in words; empty where nothing does.
    """

    at: String | Combiner
    one: ModuleSheet
    other: ModuleSheet | Combiner
    unlike: str


def mated(array: ArrayStudy, plan: Plan) -> Iterator[Mated]:
    """Where both connectors are declared: within strings, and where these plug into joints."""
    joints = _plugged_into(plan)
    for string in array.all_strings:
        for one, other in pairwise(string.modules):
            yield from _pair(string.source.string, one.sheet, other.sheet)
        for combiner in joints.get(str(string.source.string.name), ()):
            for module in (string.modules[0], string.modules[-1]):
                yield from _pair(combiner, module.sheet, combiner)


def _pair(
    at: String | Combiner, one: ModuleSheet, other: ModuleSheet | Combiner
) -> Iterator[Mated]:
    if one.connector is not None and other.connector is not None:
        yield Mated(at, one, other, _unlike(one.connector, other.connector))


def _plugged_into(plan: Plan) -> dict[str, list[Combiner]]:
    """By name of what is plugged in without a wire, the joints that it is plugged into."""
    wired = {name for wire in plan.wires.values() for name in wire.components}
    found: dict[str, list[Combiner]] = {}
    for combiner in plan.combiners.values():
        for name in dict.fromkeys(map(str, combiner.joined)):
            if name not in wired:
                found.setdefault(name, []).append(combiner)
    return found


def _unlike(one: Connector, other: Connector) -> str:
    found = [
        f"{word} ({first} and {second})"
        for word, first, second in (
            ("make", one.make, other.make),
            ("style", one.style, other.style),
        )
        if first is not None and second is not None and first.casefold() != second.casefold()
    ]
    return enumerated(found)
