"""The current that sources can drive into a fault.

A battery or an alternator is stiff: an emf behind a resistance. A module, a tracker or the output
of a converter is limited: it delivers its current up to its highest voltage. Several of them feed
one fault through the resistances on the way, which is a linear network for each pattern of limited
sources that are at their current or at their voltage.

Everything is steady: inductance, which delays the rise, is left out, so that the currents are the
prospective ones. For the greatest fault current take cold conductors and the least resistances.

Source: IEC 61660-1:1997, "Short-circuit currents in d.c. auxiliary installations in power plants
and substations - Part 1: Calculation of short-circuit currents": sources as an emf behind a
resistance, and partial currents that add up.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple, TypeAlias

from wattproof.physics.nodal_network import Branch, current_into, node_voltages


@dataclass(frozen=True, slots=True)
class Stiff:
    """A battery or alternator: emf (V) behind resistance (ohm, above zero), between two nodes."""

    name: str
    positive: str
    negative: str
    emf: float
    resistance: float

    def __post_init__(self) -> None:
        _refuse_loop(self.name, self.positive, self.negative)
        if not 0.0 < self.resistance < math.inf:
            raise ValueError(f"{self.name}: an emf needs a finite resistance above zero")
        if not 0.0 <= self.emf < math.inf:
            raise ValueError(f"{self.name}: the emf must be finite and not negative")


@dataclass(frozen=True, slots=True)
class Limited:
    """A module, tracker or converter output: current (A) up to highest_voltage (V).

    It takes nothing back: where the network holds its terminals above highest_voltage, it stops.
    Over the last thousandth below highest_voltage its current falls in a straight line to zero.
    """

    name: str
    positive: str
    negative: str
    current: float
    highest_voltage: float

    def __post_init__(self) -> None:
        _refuse_loop(self.name, self.positive, self.negative)
        if not 0.0 <= self.current < math.inf:
            raise ValueError(f"{self.name}: the current must be finite and not negative")
        if not 0.0 < self.highest_voltage < math.inf:
            raise ValueError(f"{self.name}: the highest voltage must be finite and above zero")


@dataclass(frozen=True, slots=True)
class Conductor:
    """A resistance (ohm, above zero) between two nodes; its current counts from start to end."""

    name: str
    start: str
    end: str
    resistance: float

    def __post_init__(self) -> None:
        _refuse_loop(self.name, self.start, self.end)
        if not 0.0 < self.resistance < math.inf:
            raise ValueError(f"{self.name}: a conductor needs a finite resistance above zero")


Source: TypeAlias = Stiff | Limited
Mode: TypeAlias = Literal["voltage", "current", "off"]
"""How a source behaves: emf behind a resistance, its limited current, or nothing at all."""

_DROOP = 1e-3  # share of its highest voltage over which a limited source's current falls to zero
_LEAKAGE = 1e-8  # S across a limited source, so that no node is left without a voltage
_BLOCK_ATTEMPTS = 30  # patterns tried with all changes at once, then with one
_MOST_PATTERNS = 10_000


class FaultCurrents(NamedTuple):
    """What flows while the fault lasts.

    fault_current (A) from the first to the second node of the fault; source_currents (A, out of
    the positive terminal; negative where a source is charged) and conductor_currents (A, from
    start to end) by name; voltages (V) by node, against the second node of the fault. Sources,
    conductors and nodes without a way to the fault are not among them.
    """

    fault_current: float
    source_currents: dict[str, float]
    conductor_currents: dict[str, float]
    voltages: dict[str, float]


def bank_resistance(resistance: float, in_series: int, in_parallel: int) -> float:
    """Return the internal resistance (ohm) of equal batteries of `resistance` (ohm) each."""
    if not 0.0 < resistance < math.inf or in_series < 1 or in_parallel < 1:
        raise ValueError("a bank needs a resistance above zero and at least one battery each way")
    return resistance * in_series / in_parallel


def prospective_current(
    emf: float, internal_resistance: float, conductor_resistances: Sequence[float]
) -> float:
    """Return the steady current (A) of a bolted fault at the end of conductors in series.

    `emf` in V; resistances in ohm, the conductors of both poles each counted. ValueError where
    the resistances are negative or their sum is not above zero.
    """
    total = internal_resistance + sum(conductor_resistances)
    if internal_resistance < 0.0 or any(part < 0.0 for part in conductor_resistances):
        raise ValueError("resistances must not be negative")
    if not total > 0.0 or not 0.0 <= emf < math.inf:
        raise ValueError("a prospective current needs a finite emf and a resistance above zero")
    return emf / total


def fault_currents(
    sources: Sequence[Source],
    conductors: Sequence[Conductor],
    fault: tuple[str, str],
    fault_resistance: float = 0.0,
) -> FaultCurrents:
    """Return the currents of all sources into a fault between two nodes.

    `fault_resistance` (ohm) is zero for a bolted fault. Names of sources and of conductors must
    each be distinct. ValueError where they are not, where the fault joins a node with itself, and
    where nothing is connected to one of its nodes.

    Which limited sources are at their current is found by trial: all that are wrong change at
    once, and should that not settle, one at a time, always the first. A pattern that suits every
    source is the only solution, since currents never rise with voltage. ValueError as well where
    none is found.

    Sources: J. J. Judice, F. M. Pires, "A block principal pivoting algorithm for large-scale
    strictly monotone linear complementarity problems", Computers & Operations Research 21 (1994)
    587-596; K. G. Murty, "Note on a Bard-type scheme for solving
    the complementarity problem", Opsearch 11 (1974) 123-130.
    """
    first, second = fault
    if first == second:
        raise ValueError("a fault lies between two different nodes")
    if not 0.0 <= fault_resistance < math.inf:
        raise ValueError("the resistance of a fault must be finite and not negative")
    _refuse_repeated([source.name for source in sources])
    _refuse_repeated([conductor.name for conductor in conductors])
    reached = _reached(sources, conductors, fault)
    sources = [source for source in sources if source.positive in reached]
    conductors = [conductor for conductor in conductors if conductor.start in reached]
    fixed = [Branch(part.start, part.end, 1.0 / part.resistance) for part in conductors]
    if fault_resistance > 0.0:
        path, grounded = [Branch(first, second, 1.0 / fault_resistance)], frozenset({second})
    else:
        path, grounded = [], frozenset(fault)
    modes: dict[str, Mode] = {source.name: "voltage" for source in sources}
    for attempt in range(_MOST_PATTERNS):
        branches = [*fixed, *(_as_branch(source, modes[source.name]) for source in sources)]
        voltages = node_voltages([*branches, *path], grounded)
        changed = _changes(sources, voltages, modes)
        if not changed:
            return FaultCurrents(
                fault_current=current_into(first, branches, voltages),
                source_currents={
                    source.name: _source_current(source, voltages, modes[source.name])
                    for source in sources
                },
                conductor_currents={
                    part.name: (voltages[part.start] - voltages[part.end]) / part.resistance
                    for part in conductors
                },
                voltages=voltages,
            )
        if attempt >= _BLOCK_ATTEMPTS:
            name = next(iter(changed))
            changed = {name: changed[name]}
        modes |= changed
    raise ValueError("the limited sources do not settle between their currents and voltages")


def _changes(
    sources: Sequence[Source], voltages: dict[str, float], modes: dict[str, Mode]
) -> dict[str, Mode]:
    """Return the sources whose mode does not suit their voltage, in order, with one that does."""
    wanted = {source.name: _mode(source, voltages, modes[source.name]) for source in sources}
    return {name: mode for name, mode in wanted.items() if mode != modes[name]}


def _as_branch(source: Source, mode: Mode) -> Branch:
    """Return a source as the branch from its negative to its positive node."""
    emf, resistance = _thevenin(source)
    if isinstance(source, Stiff):
        return Branch(source.negative, source.positive, 1.0 / resistance, emf / resistance)
    if mode == "voltage":
        conductance, pushed = 1.0 / resistance, emf / resistance
    else:
        conductance, pushed = 0.0, source.current if mode == "current" else 0.0
    return Branch(source.negative, source.positive, conductance + _LEAKAGE, pushed)


def _thevenin(source: Source) -> tuple[float, float]:
    """Return the emf (V) and resistance (ohm) that hold while a source is not at its limit."""
    if isinstance(source, Stiff):
        return source.emf, source.resistance
    droop = _DROOP * source.highest_voltage
    return source.highest_voltage, droop / source.current if source.current > 0.0 else 1e8


def _mode(source: Source, voltages: dict[str, float], mode: Mode) -> Mode:
    """Return the mode that the voltage across a source calls for."""
    if isinstance(source, Stiff):
        return "voltage"
    emf, resistance = _thevenin(source)
    missing = emf - (voltages[source.positive] - voltages[source.negative])
    margin = 1e-9 * emf
    if mode == "voltage":  # stay within rounding of the corners
        if missing < -margin:
            return "off"
        return "current" if missing > source.current * resistance + margin else "voltage"
    if mode == "off":
        return "voltage" if missing > margin else "off"
    return "voltage" if missing < source.current * resistance - margin else "current"


def _source_current(source: Source, voltages: dict[str, float], mode: Mode) -> float:
    """Return the current (A) out of the positive terminal of a source."""
    if isinstance(source, Limited) and mode != "voltage":
        return source.current if mode == "current" else 0.0
    emf, resistance = _thevenin(source)
    return (emf - voltages[source.positive] + voltages[source.negative]) / resistance


def _reached(
    sources: Sequence[Source], conductors: Sequence[Conductor], fault: tuple[str, str]
) -> set[str]:
    """Return the nodes that anything connects with the fault."""
    joined: dict[str, set[str]] = {}
    ends = [(source.positive, source.negative) for source in sources]
    ends += [(conductor.start, conductor.end) for conductor in conductors]
    for one, other in ends:
        joined.setdefault(one, set()).add(other)
        joined.setdefault(other, set()).add(one)
    for node in fault:
        if node not in joined:
            raise ValueError(f"{node}: nothing is connected to this node of the fault")
    reached: set[str] = set()
    waiting = list(fault)
    while waiting:
        node = waiting.pop()
        if node not in reached:
            reached.add(node)
            waiting.extend(joined[node])
    return reached


def _refuse_repeated(names: list[str]) -> None:
    """Raise ValueError where a name occurs twice."""
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise ValueError(f"{name}: this name occurs more than once")
        seen.add(name)


def _refuse_loop(name: str, one: str, other: str) -> None:
    """Raise ValueError where both ends are the same node."""
    if one == other:
        raise ValueError(f"{name}: both ends are at the same node")
