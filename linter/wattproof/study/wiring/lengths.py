"""How long each stretch of a wire is that devices divide, where the plan leaves a place out.

The parts of a wire add up to its length. What is left over where the place of a device is not told
lies behind that device, seen from the nearest battery: as near to the battery as it may be.
"""

from __future__ import annotations

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.plan.terminals import POLES
from wattproof.plan.wiring import Wire
from wattproof.working import Value, declared


def places_in(wire: Wire) -> list[Value]:
    """How far the devices in a wire are from an end of it (m), where the plan tells it."""
    return [
        declared(i.distance, f"d({i.device})", f"distance of {i.device} from an end of {wire.name}")
        for i in wire.inline
        if i.distance is not None
    ]


def lengths_of(circuit: Circuit) -> dict[Conductor, float]:
    """The length of every conductor outside arrays (m)."""
    runs: dict[tuple[str, str], list[Conductor]] = {}
    for part in circuit.elements:
        if isinstance(part, Conductor) and part in circuit.battery_side:
            runs.setdefault((part.name, part.pole), []).append(part)
    steps = _steps(circuit)
    found: dict[Conductor, float] = {}
    for parts in runs.values():
        whole = parts[0].wire.length.value
        open_parts = [part for part in parts if part.length is None]
        left = max(whole - sum(part.length or 0.0 for part in parts), 0.0)
        found.update({part: part.length or 0.0 for part in parts})
        if open_parts:
            first, last = parts[0].start, parts[-1].end
            backwards = last in steps and steps[last] < steps[first]
            found[open_parts[0] if backwards else open_parts[-1]] = left
    return found


def _steps(circuit: Circuit) -> dict[Terminal, int]:
    """How many conductors and devices each terminal is away from the nearest battery."""
    posts = (Terminal(b, "", pole) for b in circuit.plan.batteries for pole in POLES)
    return circuit.walk(*posts).carried(0, lambda steps, _: steps + 1)
