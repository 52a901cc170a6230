"""One way to join the modules of a plan, written into its text in the place of what is open."""

from __future__ import annotations

from collections.abc import Collection

from wattproof.amend.changes import data_of
from wattproof.amend.edits import NotWritten, renamed, with_value, without
from wattproof.amend.scalars import Data
from wattproof.choosing.joining import Joining, Share, inputs_of, open_arrays
from wattproof.choosing.laid_out import names_of
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
    for name, string in open_arrays(plan).items():
        shares = joining.of(name)
        if len(shares) == 1:
            [share] = shares
            if string.controllers is not None:
                text = without(text, ("strings", name, "controllers"))
                text = with_value(text, ("strings", name, "feeds"), share.input)
            text = without(text, ("strings", name, "count"))
            if names[share] in apart:
                text = _apart(text, plan, name, share.layout)
            else:
                text = with_value(text, ("strings", name, "arrangement"), share.form)
            continue
        _refuse_named(plan, name)
        kept = _held(text, name)
        kept = {k: v for k, v in kept.items() if k not in ("arrangement", "count", "controllers")}
        for share in shares:
            entry = {**kept, "arrangement": share.form, "feeds": share.input}
            text = with_value(text, ("strings", names[share]), entry)
            if names[share] in apart:
                text = _apart(text, plan, names[share], share.layout)
        text = without(text, ("strings", name))
    for controller in _idle(plan, joining):
        text = without(text, ("controllers", controller))
    return text


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

    The first keeps its place, its name and what is remarked there.
    """
    _refuse_named(plan, name)
    taken = set(by_name(plan)) | set(plan.wires)
    joint = _free(f"{name}-joint", taken)
    held: dict[str, Data] = {"kind": "combiner-box", "rating": "open"}
    kept = _held(text, name)
    if "feeds" in kept:
        held["feeds"] = kept["feeds"]
    text = renamed(text, ("strings", name, "arrangement"), "series", str(layout.in_series))
    text = with_value(text, ("strings", name, "feeds"), joint)
    own = {k: v for k, v in kept.items() if k not in ("arrangement", "feeds")}
    for number in range(2, layout.in_parallel + 1):
        entry: dict[str, Data] = {**own, "series": str(layout.in_series), "feeds": joint}
        text = with_value(text, ("strings", _free(f"{name}-{number}", taken)), entry)
    return with_value(text, ("combiners", joint), held)


def _free(name: str, taken: set[str]) -> str:
    while name in taken:
        name += "-own"
    return name


def _refuse_named(plan: Plan, name: str) -> None:
    """Raise NotWritten where something else of the plan counts the modules of a string."""
    shaded = any(s.string == name for case in plan.shade.values() for s in case.shadows)
    bonded = any(name in bond.strings for bond in plan.frame_bonds.values())
    if shaded or bonded:
        what = "`shade`" if shaded else "`frame_bonds`"
        raise NotWritten(
            f"`{name}` is to be split into several strings, and {what} names it: write its strings "
            "and that by hand"
        )


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
