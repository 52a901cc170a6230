"""What modules on a consumer alone, without a battery, drive into a short behind their wires."""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.plan.terminals import POLES
from wattproof.study.array.uncontrolled import StraightOn
from wattproof.working import Value, total


def by_sun(circuit: Circuit, strings: Iterable[StraightOn]) -> dict[Conductor, Value]:
    """The most that modules drive through each conductor that no fuse of theirs guards (A).

    As everywhere in an array no device opens at what they give, so that their wires bear it. The
    leads of a string carry its own, and what is joined further on that of all.
    """
    found: dict[Conductor, list[Value]] = {}
    for each in strings:
        if each.bank is not None:
            continue  # it is a source among others, and shares in what the wires carry
        name = str(each.string.name)
        near = set(circuit.walk(*(Terminal(name, "", pole) for pole in POLES)))
        for part in circuit.battery_side:
            if isinstance(part, Conductor) and part.start in near:
                others = {part.start.component, part.end.component} - {name}
                if others.isdisjoint(circuit.plan.strings):
                    found.setdefault(part, []).append(each.at_most)
    return {
        part: total(amps).named(f"Isun({part.name})", f"what the sun drives in {part.name}", "A")
        for part, amps in found.items()
    }
