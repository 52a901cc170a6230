"""What consumers of a power draw, by the voltage that is left at their terminals.

With all consumers on and no source, each at the current found before, the network tells what is
lost on the way to each; less voltage takes more current, which loses more, until it stands still.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Final

from wattproof.circuit import Terminal
from wattproof.study.wiring.mesh import Flow, Mesh
from wattproof.study.wiring.ports import Port, at_once
from wattproof.working import Value, function, once

LEAST: Final = 0.8
"""Share of a low bank's voltage below which consumers switch off: common practice, 10 of 12.8 V."""
ROUNDS: Final = 50
ENOUGH: Final = 1e-9
"""Relative change of a current from round to round at which it stands still."""


def settled(
    ports: Iterable[Port], mesh: Mesh, flows: Mapping[Port, Flow], ohms: Mapping[Port, list[Value]]
) -> dict[Port, Value]:
    """The current of each consumer of a power that banks feed (A).

    flows: what one ampere into each port drives. ohms: resistances on the way to each (Ω).
    """
    fed = [p for p in ports if p.kind == "draw" and p in flows and mesh.has_bank(p.plus)]
    counts = at_once([(port.component, port.current.number) for port in fed])
    fed = [port for port, counted in zip(fed, counts, strict=True) if counted]
    moving = [p for p in fed if p.at_power is not None and p.minus is not None and p.minus in mesh]
    amps = {port: port.current.number for port in fed}
    lost: dict[Port, float] = {}
    for _ in range(ROUNDS):
        together = driven({port: -drawn for port, drawn in amps.items()}, mesh)
        before = dict(amps)
        for port in moving:
            assert port.at_power is not None
            power, volts = (value.number for value in port.at_power)
            lost[port] = min(_lost(port, flows[port], together), (1.0 - LEAST) * volts)
            amps[port] = power / (volts - lost[port])
        if all(math.isclose(amps[port], before[port], rel_tol=ENOUGH) for port in moving):
            break
    drawn = once(port.current for port in fed)
    return {
        port: _current(port, lost[port], [*drawn, *ohms[port]])
        for port in moving
        if lost[port] > 0.0
    }


def driven(amps: Mapping[Port, float], mesh: Mesh) -> Flow:
    """What flows where currents (A) go into ports by their positives, and back by the others."""
    given: dict[Terminal, float] = defaultdict(float)
    for port, led in amps.items():
        for end, into in ((port.plus, led), (port.minus, -led)):
            if end is not None and end in mesh:
                given[end] += into
    return mesh.solve(given)


def _lost(port: Port, own: Flow, together: Flow) -> float:
    """Voltage lost between the banks that feed a port and its terminals (V).

    At the posts of several banks the voltage is taken by what each gives of its current.
    """
    assert port.minus is not None
    at_banks = -sum(own.through(cell) * together.across(cell) for cell in own.mesh.cells)
    return at_banks - (together.volts(port.plus) - together.volts(port.minus))


def _current(port: Port, lost: float, inputs: list[Value]) -> Value:
    assert port.at_power is not None
    name = port.current.symbol
    words = f"voltage lost on the way to {port.name}, all consumers on"
    drop = function("network", lost, *inputs).named(f"ΔU({port.name})", words, "V")
    power, volts = port.at_power
    return (power / (volts - drop)).named(name, port.current.words, "A")
