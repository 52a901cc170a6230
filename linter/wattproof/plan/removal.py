"""A plan with removable parts taken away, and what hangs on nothing else taken with them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from wattproof.plan.array import Combiner
from wattproof.plan.devices import Device, Distribution
from wattproof.plan.fields import Named, component_of
from wattproof.plan.references import FAMILIES
from wattproof.plan.root import Plan
from wattproof.plan.terminals import COMMON, by_name
from wattproof.plan.wiring import Wire


def removable(plan: Plan) -> tuple[str, ...]:
    """Names of what comes and goes: portable strings and removable batteries.

    A shore charger comes and goes too, but a bank without it is only charged less.
    """
    strings = [s.name for s in plan.strings.values() if s.portable]
    batteries = [b.name for b in plan.batteries.values() if b.removable]
    return tuple(str(name) for name in (*strings, *batteries))


def without(plan: Plan, names: Iterable[str]) -> Plan:
    """A copy of a plan without some components, without the wires that led to them, and without
    the devices and joints that nothing uses then. What was read, was read of the whole."""
    gone = _gone(plan, set(names))
    updates: dict[str, Any] = {
        family: {name: part for name, part in getattr(plan, family).items() if name not in gone}
        for family in FAMILIES
    }
    updates["combiners"] = {
        name: _unjoined(joint, gone) for name, joint in updates["combiners"].items()
    }
    updates["bonds"] = {
        n: b for n, b in updates["bonds"].items() if component_of(b.start) not in gone
    }
    updates["arresters"] = {
        n: a for n, a in updates["arresters"].items() if component_of(a.across) not in gone
    }
    updates["frame_bonds"] = {
        n: b for n, b in updates["frame_bonds"].items() if not gone.issuperset(b.strings)
    }
    updates["readings"] = {}
    updates["shade"] = {n: _unshaded(case, gone) for n, case in plan.shade.items()}
    return plan.model_copy(update=updates)


def _gone(plan: Plan, gone: set[str]) -> set[str]:
    """What goes with some components: their wires, and what those alone led to."""
    joints = {
        name: part
        for name, part in by_name(plan).items()
        if isinstance(part, Device | Distribution) or name in plan.combiners or name in plan.busbars
    }
    while True:
        wires = [w for w in plan.wires.values() if gone.intersection((*_ends(w), w.name))]
        inline = {str(each.device) for wire in wires for each in wire.inline}
        found = gone | {str(wire.name) for wire in wires} | inline
        kept = [w for w in plan.wires.values() if w.name not in found]
        found |= {n for n, part in joints.items() if _hangs_loose(n, part, wires, kept, gone)}
        if found == gone:
            return gone
        gone = found


def _hangs_loose(
    name: str, joint: Named, wires: list[Wire], kept: list[Wire], gone: set[str]
) -> bool:
    """True for a joint or device that lost a wire, or what is plugged into it, and leads nowhere.

    wires, kept: those that are lost, and those that stay.
    """
    plugged = joint.joined if isinstance(joint, Combiner) else ()
    if not any(name in _ends(wire) for wire in wires) and gone.isdisjoint(plugged):
        return False
    left = sum(name in _ends(wire) for wire in kept)
    lost = gone.union(*(_ends(wire) for wire in wires))
    return left + sum(each not in lost for each in plugged) < 2


def _unjoined(joint: Any, gone: set[str]) -> Any:
    if joint.joins is None:
        return joint
    joins = tuple(reference for reference in joint.joins if component_of(reference) not in gone)
    return joint.model_copy(update={"joins": joins or None})


def _unshaded(case: Any, gone: set[str]) -> Any:
    shadows = [shadow for shadow in case.shadows if shadow.string not in gone]
    return case.model_copy(update={"shadows": shadows})


def _ends(wire: Wire) -> set[str]:
    """The components that a wire joins; the chassis and the like, which are always there, not."""
    return set(wire.components) - set(COMMON)
