"""The plan with its modules joined in one way, as somebody would write it by hand."""

from __future__ import annotations

from typing import Any

from wattproof.choosing.joining import Joining, Share, inputs_of, open_arrays
from wattproof.plan.array import String
from wattproof.plan.feeding import Feeds
from wattproof.plan.fields import component_of, counted_as
from wattproof.plan.layouts import Layout
from wattproof.plan.removal import without
from wattproof.plan.root import Plan
from wattproof.plan.shade import ShadeCase, Shadow
from wattproof.plan.terminals import by_name
from wattproof.plan.ways import way_of
from wattproof.source import Text


def laid_out(plan: Plan, joining: Joining) -> Plan:
    """The plan as read, with strings and ways of one way to join its modules."""
    arrays = open_arrays(plan)
    names = names_of(plan, joining)
    strings: dict[str, String] = {}
    for name, string in plan.strings.items():
        if name not in arrays:
            strings[str(name)] = string
            continue
        for share in joining.of(str(name)):
            own = _joined(string, names[share], share)
            strings[str(own.name)] = own
    wires = dict(plan.wires)
    components = {**by_name(plan), **strings}
    for share, name in names.items():
        string = strings[name]
        if share.input:
            wire = way_of(string, components, wires)
            wires[str(wire.name)] = wire
    update: dict[str, Any] = {
        "strings": strings,
        "wires": wires,
        "shade": {n: _shaded(case, joining, names) for n, case in plan.shade.items()},
        "frame_bonds": {n: _bonded(b, joining, names) for n, b in plan.frame_bonds.items()},
        "bonds": _named(plan.bonds, "start", joining, names),
        "arresters": _named(plan.arresters, "across", joining, names),
        "readings": _still_taken(plan, joining),
        "accepted": [each for a in plan.accepted for each in _accepted(a, joining, names)],
    }
    made = plan.model_copy(update=update)
    unused = _unused(plan, joining)
    return without(made, unused) if unused else made


def _unused(plan: Plan, joining: Joining) -> list[str]:
    """Controllers that are there for these modules alone, and that none of them feeds."""
    arrays = open_arrays(plan).values()
    offered = {component_of(i) for string in arrays for i in inputs_of(string, plan)}
    used = {component_of(share.input) for share in joining.shares}
    for wire in plan.wires.values():
        for reference in (wire.start, wire.to):
            port = reference.removeprefix(f"{component_of(reference)}.")
            if port not in (reference, "battery", "load"):
                used.add(component_of(reference))
    return sorted(offered - used)


def names_of(plan: Plan, joining: Joining) -> dict[Share, str]:
    """The name of the string that each share becomes: `roof`, or `roof-left` and `roof-right`."""
    taken = set(by_name(plan)) | set(plan.wires)
    found: dict[Share, str] = {}
    for share in joining.shares:
        name = share.string
        if len(joining.of(share.string)) > 1:
            name = f"{share.string}-{share.input.replace('.', '-')}"
            while name in taken:
                name += "-part"
        taken.add(name)
        found[share] = name
    return found


def _joined(string: String, name: str, share: Share) -> String:
    place = string.open["arrangement"]
    form = share.layout
    layout = Layout(form.inner, form.outer, form.series_first, form.text, place, tried=True)
    left = {key: at for key, at in string.open.items() if key != "arrangement"} or None
    update: dict[str, Any] = {
        "name": Text.at(name, string.at),
        "arrangement": layout,
        "count": None,
        "controllers": None,
        "left_open": left,
    }
    if share.input:
        to = next(c for c in string.controllers or () if _means(c, share.input))
        update["feeds"] = Feeds(Text.at(share.input, to.place), None, to.place)
    return string.model_copy(update=update)


def _means(reference: str, of: str) -> bool:
    return reference == of or of.startswith(f"{reference}.") or reference.startswith(f"{of}.")


def _shaded(case: ShadeCase, joining: Joining, names: dict[Share, str]) -> ShadeCase:
    """The case with its shadows on the same modules, counted through the shares in their order."""
    shadows: list[Shadow] = []
    for shadow in case.shadows:
        shares = joining.of(str(shadow.string))
        if not shares:
            shadows.append(shadow)
            continue
        before = 0
        for share in shares:
            own = Text.at(names[share], shadow.string.place)
            if shadow.module is None:
                shadows.append(shadow.model_copy(update={"string": own}))
            elif before < shadow.module <= before + share.modules:
                module = counted_as(shadow.module, shadow.module - before)
                shadows.append(shadow.model_copy(update={"string": own, "module": module}))
            before += share.modules
    return case.model_copy(update={"shadows": shadows})


def _bonded(bond: Any, joining: Joining, names: dict[Share, str]) -> Any:
    """The bond of frames with the names of the strings that a split one becomes."""
    strings: list[Text] = []
    for name in bond.strings:
        shares = joining.of(str(name))
        strings += [Text.at(names[s], name.place) for s in shares] if shares else [name]
    return bond.model_copy(update={"strings": tuple(strings)})


def _accepted(accepted: Any, joining: Joining, names: dict[Share, str]) -> list[Any]:
    """What is accepted of a string, of each of those that a split one becomes."""
    shares = joining.of(str(accepted.where))
    where = [Text.at(names[share], accepted.where.place) for share in shares]
    return [accepted.model_copy(update={"where": each}) for each in where] or [accepted]


def _named(
    parts: dict[str, Any], key: str, joining: Joining, names: dict[Share, str]
) -> dict[str, Any]:
    """Bonds or arresters at a terminal of a string, one for each of those that a split one becomes.

    key: under which they name the terminal.
    """
    found: dict[str, Any] = {}
    for name, part in parts.items():
        reference: Text = getattr(part, key)
        string = component_of(reference)
        shares = joining.of(string)
        if len(shares) < 2:
            found[name] = part
            continue
        for share in shares:
            at = Text.at(names[share] + reference[len(string) :], reference.place)
            own = Text.at(name if share is shares[0] else f"{name}-{names[share]}", part.name.place)
            found[str(own)] = part.model_copy(update={key: at, "name": own})
    return found


def _still_taken(plan: Plan, joining: Joining) -> dict[str, Any]:
    """The readings but those of strings that are split: they were taken of them as a whole."""
    return {
        name: reading
        for name, reading in plan.readings.items()
        if len(joining.of(component_of(reading.at_terminal))) < 2
    }
