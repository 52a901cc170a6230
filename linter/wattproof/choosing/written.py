"""One way to join the modules of a plan, written into its text in the place of what is open."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from wattproof.amend.changes import data_of
from wattproof.amend.edits import renamed, with_value, without
from wattproof.amend.scalars import Data
from wattproof.choosing.following import Piece, with_pieces
from wattproof.choosing.joining import Joining, Share, inputs_of, open_arrays
from wattproof.choosing.laid_out import names_of
from wattproof.choosing.ways import AMONG, near
from wattproof.finding import Addition
from wattproof.plan.fields import component_of
from wattproof.plan.layouts import Layout
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name
from wattproof.source import Block, Text, parse


def with_joining(
    text: str, plan: Plan, joining: Joining, apart: Collection[str] = frozenset()
) -> str:
    """The text with strings joined in one way. Raises NotWritten.

    apart: those, by the names that they get, of which each string in parallel is to have a lead of
    its own to a joint, where a fuse can sit.
    """
    names = names_of(plan, joining)
    for name in open_arrays(plan):
        shares = joining.of(name)
        pieces = [piece for s in shares for piece in _pieces(plan, s, names[s], apart)]
        text = with_pieces(text, plan, name, pieces, _met_at(plan, name, shares, names, apart))
        kept = _held(text, name)
        kept = {k: v for k, v in kept.items() if k not in ("arrangement", "count", "controllers")}
        first, *others = shares
        if others:  # the first keeps the place, and what is remarked there
            text = renamed(text, ("strings", name), names[first])
        text = _with_share(text, plan, first, names[first], apart)
        for share in others:
            entry = {**kept, "arrangement": share.form, "feeds": share.input}
            text = with_value(text, ("strings", names[share]), entry)
            if names[share] in apart:
                text = _apart(text, plan, names[share], share.layout)
    for controller in _idle(plan, joining):
        text = without(text, ("controllers", controller), remarked=True)
    return text


def _with_share(text: str, plan: Plan, share: Share, name: str, apart: Collection[str]) -> str:
    """A string, under its new name, that joins the modules of one share in place of an open one."""
    if share.input:
        text = without(text, ("strings", name, "controllers"))
        text = with_value(text, ("strings", name, "feeds"), share.input)
    text = without(text, ("strings", name, "count"))
    if name in apart:
        return _apart(text, plan, name, share.layout)
    return with_value(text, ("strings", name, "arrangement"), share.form)


def can_be_apart(share: Share) -> bool:
    """Whether strings in parallel, and no modules in parallel within one, are what it joins."""
    layout = share.layout
    return layout.in_parallel > 1 and (layout.series_first or layout.in_series == 1)


def _held(text: str, name: str) -> dict[str, Data]:
    """What is written of a string."""
    strings = parse(text, "plan")[Text("strings")]
    return data_of(strings[Text(name)] if isinstance(strings, Block) else None)


def _apart(text: str, plan: Plan, name: str, layout: Layout) -> str:
    """The text with a string for each in parallel, and a joint that feeds what they all do.

    The first keeps its place, its name and what is remarked there. A joint that lists it already is
    that joint.
    """
    joint = _joint_of(plan, name)
    lead: dict[str, Data] = {"to": joint, "length": near(plan, *AMONG)}
    held: dict[str, Data] = {"kind": "combiner-box", "rating": "open"}
    kept = _held(text, name)
    if "feeds" in kept:
        held["feeds"] = kept["feeds"]
    text = renamed(text, ("strings", name, "arrangement"), "series", str(layout.in_series))
    text = with_value(text, ("strings", name, "feeds"), lead)
    own = {k: v for k, v in kept.items() if k not in ("arrangement", "feeds")}
    for each in _apart_names(plan, name, layout)[1:]:
        entry: dict[str, Data] = {**own, "series": str(layout.in_series), "feeds": lead}
        text = with_value(text, ("strings", each), entry)
    return text if joint in plan.combiners else with_value(text, ("combiners", joint), held)


def _joint_of(plan: Plan, name: str) -> str:
    """The joint that lists a string, or the name of one that is put there for its pieces."""
    listing = next((str(n) for n, c in plan.combiners.items() if name in c.joined), None)
    return listing or _free(f"{name}-joint", set(by_name(plan)) | set(plan.wires))


def _met_at(
    plan: Plan,
    name: str,
    shares: Sequence[Share],
    names: Mapping[Share, str],
    apart: Collection[str],
) -> str:
    """Where the wires end that ended at a string: at itself, at the joint of its pieces, or "".

    Its pieces on several inputs have no such place.
    """
    if len(shares) > 1:
        return ""
    return _joint_of(plan, name) if names[shares[0]] in apart else names[shares[0]]


def _apart_names(plan: Plan, name: str, layout: Layout) -> list[str]:
    """What each string in parallel is called where it stands alone; the first keeps its name."""
    taken = set(by_name(plan)) | set(plan.wires)
    return [name, *(_free(f"{name}-{n}", taken) for n in range(2, layout.in_parallel + 1))]


def _free(name: str, taken: set[str]) -> str:
    while name in taken:
        name += "-own"
    return name


def _pieces(plan: Plan, share: Share, name: str, apart: Collection[str]) -> list[Piece]:
    """The strings that a share becomes, in the order in which its modules are counted."""
    if name not in apart:
        return [Piece(name, share.modules)]
    layout = share.layout
    return [Piece(each, layout.in_series) for each in _apart_names(plan, name, layout)]


def in_both_poles(text: str, plan: Plan, fuse: Addition) -> tuple[str, Addition] | None:
    """The text with a conductor for each pole of a fuse's wire, and the fuse for the other pole.

    None where the wire names its poles already. Raises NotWritten.
    """
    wire = plan.wires[fuse.wire]
    if wire.pole is not None or "." in wire.start or "." in wire.to:
        return None
    name = f"{wire.name}-negative"
    taken = set(by_name(plan)) | set(plan.wires)
    length = wire.length.text if wire.length is not None else "unknown"
    entry = {"cable": str(wire.cable), "length": length}
    for end, reference in (("from", str(wire.start)), ("to", str(wire.to))):
        text = with_value(text, ("wires", str(wire.name), end), f"{reference}.positive")
    ends = {"from": f"{wire.start}.negative", "to": f"{wire.to}.negative"}
    text = with_value(text, ("wires", _free(name, taken)), {**ends, **entry})
    other = fuse._replace(name=_free(f"{fuse.name}-negative", taken), wire=_free(name, taken))
    return text, other


def _idle(plan: Plan, joining: Joining) -> list[str]:
    """Controllers that are there for these modules alone, and that none of them feeds."""
    arrays = open_arrays(plan).values()
    offered = {component_of(i) for string in arrays for i in inputs_of(string, plan)}
    used = {component_of(share.input) for share in joining.shares}
    told = {
        component_of(reference)
        for wire in plan.wires.values()
        for reference in (wire.start, wire.to)
        if not reference.endswith(("battery", "load"))
    }
    return sorted(name for name in offered - used - told if name in plan.controllers)
