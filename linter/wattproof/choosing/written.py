"""One way to join the modules of a plan, written into its text in the place of what is open."""

from __future__ import annotations

from wattproof.amend.changes import data_of
from wattproof.amend.edits import NotWritten, with_value, without
from wattproof.choosing.joining import Joining, inputs_of, open_arrays
from wattproof.choosing.laid_out import names_of
from wattproof.plan.fields import component_of
from wattproof.plan.root import Plan
from wattproof.source import Block, Text, parse


def with_joining(text: str, plan: Plan, joining: Joining) -> str:
    """The text with strings joined in one way. Raises NotWritten."""
    names = names_of(plan, joining)
    for name, string in open_arrays(plan).items():
        shares = joining.of(name)
        path = ("strings", name)
        if len(shares) == 1:
            [share] = shares
            text = with_value(text, (*path, "arrangement"), share.form)
            text = without(text, (*path, "count"))
            if string.controllers is not None:
                text = without(text, (*path, "controllers"))
                text = with_value(text, (*path, "feeds"), share.input)
            continue
        _refuse_named(plan, name)
        strings = parse(text, "plan")[Text("strings")]
        kept = data_of(strings[Text(name)] if isinstance(strings, Block) else None)
        kept = {k: v for k, v in kept.items() if k not in ("arrangement", "count", "controllers")}
        for share in shares:
            entry = {**kept, "arrangement": share.form, "feeds": share.input}
            text = with_value(text, ("strings", names[share]), entry)
        text = without(text, path)
    for controller in _idle(plan, joining):
        text = without(text, ("controllers", controller))
    return text


def _refuse_named(plan: Plan, name: str) -> None:
    """Raise NotWritten where something else of the plan counts the modules of a string."""
    shaded = any(s.string == name for case in plan.shade.values() for s in case.shadows)
    bonded = any(name in bond.strings for bond in plan.frame_bonds.values())
    if shaded or bonded:
        what = "`shade`" if shaded else "`frame_bonds`"
        raise NotWritten(
            f"`{name}` is to be split among several inputs, and {what} names it: write its strings "
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
