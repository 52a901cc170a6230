"""Voltage drop along whole paths: from a string to its controller, from a source to a bank."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Final, Literal, NamedTuple, TypeAlias

from wattproof.circuit import Circuit, Conductor, Leaf, Part, Series, Terminal, Tree, is_of
from wattproof.circuit import Source as ArraySource
from wattproof.circuit.walk import Step
from wattproof.kept import KeptEach, kept
from wattproof.physics.conductors import ConductorSize
from wattproof.plan.array import String
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, Inverter, Load
from wattproof.plan.terminals import POLES, output_port
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.uncontrolled import RegulatedOn
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import chains
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.partings import joining, ties
from wattproof.study.wiring.ports import Flow, negative_of
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import enumerated
from wattproof.working import Value, declared, total

NOTHING: Final[tuple[str, ...]] = ()
PathKind: TypeAlias = Literal["array", "charge", "critical", "other"]


class HeldBack(NamedTuple):
    """What a source could give (A), and what long thin wires leave it of that (A)."""

    given: Value
    left: Value


@record
class Path:
    """A way of the current and what is lost on it.

    kind: which limit holds for it. origin, target: the components at its ends.
    volts: the voltage that the drop is a share of (V). public: True where the public grid feeds
    the installation through a shore charger. held_back: what the source could give (A) and what the
    wires leave it of that (A), where that is less.
    """

    kind: PathKind
    origin: str
    target: str
    wires: tuple[WireStudy, ...]
    volts: Value
    public: bool = False
    held_back: HeldBack | None = None

    def in_size(self, changed: Collection[WireStudy], size: ConductorSize) -> Path:
        """The same way with some of its wires in another size."""
        names = {wire.name for wire in changed}
        larger = (w.in_size(size) if w.name in names else w for w in self.wires)
        return replace(self, wires=tuple(larger))

    @property
    def in_full(self) -> Path:
        """The same way as wires that leave the source all its current would have to carry it."""
        if self.held_back is None:
            return self
        more = self.held_back.given / self.held_back.left
        wires = (w.carrying_current(w.operating * more) if w.operating else w for w in self.wires)
        return replace(self, wires=tuple(wires))

    def with_return(self, wire: WireStudy) -> tuple[WireStudy, ...]:
        """A wire and, where it is drawn for one pole, those of the other that run beside it."""
        own = {part.pole for part in wire.conductors}
        beside = (
            other
            for other in self.wires
            if own.isdisjoint(part.pole for part in other.conductors)
            and other.size == wire.size
            and _metres(other) == _metres(wire)
        )
        return wire, *beside

    @property
    def drop(self) -> Value | None:
        """Voltage lost on the way (V); None where nothing flows."""
        drops = [w.drop for w in self.wires if w.drop is not None]
        if not drops:
            return None
        words = f"voltage drop from {self.origin} to {self.target}"
        return total(drops).named(f"ΔU({self.origin}→{self.target})", words, "V")

    @property
    def share(self) -> Value | None:
        """Drop as a share of the voltage."""
        drop = self.drop
        if drop is None:
            return None
        words = f"voltage drop from {self.origin} to {self.target}, as a share"
        return (drop / self.volts).named(f"ΔU/U({self.origin}→{self.target})", words, "%")

    @property
    def drop_by_body(self) -> Value | None:
        """Voltage lost on the way by the body's own formula (V); None where it has none."""
        drops = [w.drop_by_body(self.kind) for w in self.wires if w.drop is not None]
        known = [drop for drop in drops if drop is not None]
        if not known or len(known) < len(drops):
            return None
        words = f"voltage drop from {self.origin} to {self.target} by the body's own formula"
        return total(known).named(f"ΔUbody({self.origin}→{self.target})", words, "V")

    @property
    def judged_drop(self) -> Value | None:
        """The drop (V) that the body's limit is for: by its own formula, else the hot one."""
        return self.drop_by_body or self.drop

    @property
    def judged_share(self) -> Value | None:
        """That drop as a share of the voltage."""
        drop = self.drop_by_body
        if drop is None:
            return self.share
        words = f"drop from {self.origin} to {self.target} by the body's own formula, as a share"
        return (drop / self.volts).named(f"ΔUbody/U({self.origin}→{self.target})", words, "%")


def _metres(wire: WireStudy) -> float | None:
    """The length of a wire (m); None of a bond that does not tell it."""
    length: Quantity | None = wire.wire.length
    return None if length is None else length.value


def array_path(array: ArrayStudy, wires: dict[str, WireStudy]) -> Path | None:
    """The path with the most drop from any string of an array to its controller."""
    paths = [
        Path(
            "array",
            name,
            str(array.controller.name),
            tuple(wires[w] for w in names),
            array.vmp("standard"),
        )
        for name, names in _string_paths(array.tree, array, ())
        if names
    ]
    return max(paths, key=lambda p: p.drop.number if p.drop is not None else 0.0, default=None)


def _string_paths(
    tree: Tree, array: ArrayStudy, passed: tuple[str, ...]
) -> Iterable[tuple[str, tuple[str, ...]]]:
    """Each string with the names of the wires between it and the controller."""
    if isinstance(tree, Leaf):
        if isinstance(tree.element, ArraySource):
            yield str(tree.element.string.name), passed
        return
    if isinstance(tree, Series):
        here = [
            m.element.name
            for m in tree.members
            if isinstance(m, Leaf) and isinstance(m.element, Conductor)
        ]
        passed = tuple(dict.fromkeys((*passed, *here)))
    for member in tree.members:
        yield from _string_paths(member, array, passed)


def battery_paths(circuit: Circuit, network: Network, wires: dict[str, WireStudy]) -> list[Path]:
    """Paths from each source to the bank it charges, and from a bank to each consumer.

    On the one count what is charged, on the other what is drawn: a cable that both share does not
    carry both at once. Of a link that sources charge through from both its ends, the way of the
    source at hand counts. No way leads over a tie by hand where another bank is charged, or feeds,
    without it, nor over a relay where another bank feeds: these are open then.
    """
    paths: list[Path] = []
    plan = circuit.plan
    shore = any(charger.kind == "shore" for charger in plan.chargers.values())
    public = shore or bool(plan.inverter_chargers)
    battery_side = network.battery_side
    every = {name: _ways_from(bank, circuit) for name, bank in battery_side.banks.items()}
    usual = _Usual(circuit, battery_side)
    regulated = {str(r.string.name): r for r in network.past if isinstance(r, RegulatedOn)}
    for bank in battery_side.banks.values():
        ways = every[bank.name]
        for name, component in battery_side.components.items():
            if isinstance(component, String) and name not in regulated:
                continue  # without a regulator what is lost is the least of it
            for port, kind in _ports(component):
                flow: Flow = "charge" if kind == "charge" else "draw"
                if Terminal(name, port, "positive") not in ways:
                    continue
                if not usual.leads(bank, Terminal(name, port, "positive"), flow):
                    continue
                plus, minus = (
                    Terminal(name, port, "positive"),
                    negative_of(component, port, circuit),
                )
                minus = minus or plus._replace(pole="negative")
                series = _series(bank, minus, battery_side, circuit)
                names = dict.fromkeys(_on_the_way(series, plus, minus, every))
                if names:
                    ends = (name, bank.name) if kind == "charge" else (bank.name, name)
                    studies = tuple(_at_flow(wires[w], flow, network, name) for w in names)
                    if name in regulated:
                        studies = _in_standard_sun(studies, regulated[name])
                    held = _held_back(component, studies, network)
                    paths.append(Path(kind, *ends, studies, _over(series), public, held))
    return [*paths, *_converted(network, wires)]


class _Usual:
    """What banks reach with the switches open that join them, as they mostly stand."""

    def __init__(self, circuit: Circuit, battery_side: BatterySide) -> None:
        self.circuit = circuit
        self.battery_side = battery_side
        self.open: dict[Flow, tuple[Switch, ...]] = {
            "charge": ties(battery_side),  # a relay closes while something charges
            "draw": joining(battery_side),
        }
        self._reached: KeptEach[tuple[str, Flow], frozenset[Terminal]] = KeptEach()

    def leads(self, bank: BankStudy, end: Terminal, flow: Flow) -> bool:
        """True where a bank is on a positive as the switches stand, or must be joined to it.

        Of what is drawn, where no other bank feeds it; of what charges, where nothing else charges
        the bank.
        """
        if not self.open[flow] or end in self._of(bank.name, flow):
            return True
        if flow == "draw":
            return all(end not in self._of(name, flow) for name in self.battery_side.banks)
        return self._of(bank.name, flow).isdisjoint(self._outputs)

    @kept
    def _outputs(self) -> frozenset[Terminal]:
        """The positives at which something charges."""
        return frozenset(
            Terminal(name, port, "positive")
            for name, component in self.battery_side.components.items()
            for port, kind in _ports(component)
            if kind == "charge"
        )

    def _of(self, name: str, flow: Flow) -> frozenset[Terminal]:
        return self._reached.of((name, flow), lambda: self._reach(name, flow))

    def _reach(self, name: str, flow: Flow) -> frozenset[Terminal]:
        bank, shut = self.battery_side.banks[name], self.open[flow]
        return frozenset(_ways_from(bank, self.circuit, lambda part: not is_of(part, shut)))


def _converted(network: Network, wires: dict[str, WireStudy]) -> Iterator[Path]:
    """Paths from each converter with no battery behind it to the consumers that it feeds."""
    circuit, battery_side = network.circuit, network.battery_side
    for name, converter in circuit.plan.converters.items():
        output, back = (
            Terminal(name, "output", "positive"),
            negative_of(converter, "output", circuit),
        )
        if battery_side.banks_of(output):
            continue
        ways = circuit.walk(output, back or output).carried(NOTHING, _names_on)
        words = f"nominal voltage at the output of {name}"
        volts = declared(converter.output_nominal, f"Unom({name})", words)
        for consumer, component in battery_side.components.items():
            for port, kind in _ports(component):
                there = [Terminal(consumer, port, pole) for pole in POLES]
                if kind == "charge" or there[0] not in ways:
                    continue
                names = dict.fromkeys(wire for end in there for wire in ways.get(end, ()))
                studies = tuple(_at_flow(wires[wire], "draw", network) for wire in names)
                yield Path(kind, name, consumer, studies, volts)


def _ports(component: Named) -> Iterator[tuple[str, PathKind]]:
    """The ports at which a component gives to a bank or draws from it, and what each way is."""
    output = "" if isinstance(component, String) else output_port(component)
    if output is not None:
        yield output, "charge"
    if isinstance(component, Load):
        yield "", "critical" if component.critical else "other"
    if isinstance(component, Inverter):
        yield "", "critical"
    if isinstance(component, Converter):
        yield "input", "other"
    if isinstance(component, Controller):
        yield "alternator", "other"


def _series(
    bank: BankStudy, end: Terminal, battery_side: BatterySide, circuit: Circuit
) -> tuple[BankStudy, ...]:
    """The banks in series from one down to a component's negative; the one alone if it is none."""
    beyond, end = (circuit.nets.net(t) for t in (Terminal(bank.name, "", "negative"), end))
    if beyond == end:
        return (bank,)
    return next(chains(beyond, end, (bank,), battery_side, circuit), (bank,))


def _on_the_way(
    series: tuple[BankStudy, ...],
    plus: Terminal,
    minus: Terminal,
    every: dict[str, dict[Terminal, tuple[str, ...]]],
) -> Iterable[str]:
    """Wires between a component and the first and last bank of a series, and between its banks."""
    yield from every[series[0].name].get(plus, ())
    for upper, lower in pairwise(series):
        yield from every[lower.name].get(Terminal(upper.name, "", "negative"), ())
    yield from every[series[-1].name].get(minus, ())


def _over(series: tuple[BankStudy, ...]) -> Value:
    """Nominal voltage over a series of banks (V)."""
    if len(series) == 1:
        return series[0].nominal
    names = enumerated(bank.name for bank in series)
    volts = total([bank.nominal for bank in series])
    return volts.named(f"Unom({series[0].name}…)", f"nominal voltage over {names}", "V")


def _at_flow(wire: WireStudy, flow: Flow, network: Network, along: str = "") -> WireStudy:
    """The wire with the current of one kind, in the way in which that of a component passes."""
    positive = [c for c in wire.conductors if c.pole == "positive"]
    flows = [network.lasting_of(c, flow, along=along) for c in positive or wire.conductors]
    currents = [f for f in flows if f is not None]
    return wire.carrying_current(max(currents, key=lambda v: v.number, default=None))


def _in_standard_sun(wires: Iterable[WireStudy], given: RegulatedOn) -> tuple[WireStudy, ...]:
    """Wires with the share of their current that modules give in the sun of their label."""
    share = given.current / given.at_most
    return tuple(w.carrying_current(w.operating * share) if w.operating else w for w in wires)


def _held_back(component: Named, wires: Iterable[WireStudy], network: Network) -> HeldBack | None:
    """What wires on the way leave a source; None where they leave it all."""
    if not isinstance(component, Controller | Charger) or not network.held_back(component):
        return None
    given, amps = network.output(component), [w.operating for w in wires if w.operating]
    left = min(amps, key=lambda v: v.number, default=given)
    return HeldBack(given, left) if left.number < given.number else None


def _names_on(names: tuple[str, ...], step: Step[Terminal, Part]) -> tuple[str, ...]:
    """The wires on a way, with that of one more part."""
    part = step.way
    known = not isinstance(part, Conductor) or part.name in names
    return names if known else (*names, part.name)


def _ways_from(
    bank: BankStudy, circuit: Circuit, passes: Callable[[Part], bool] | None = None
) -> dict[Terminal, tuple[str, ...]]:
    """For each terminal on the bank's two nets, the wires between the bank and it.

    What hangs on the load terminals of a controller is on its battery's voltage all the same.
    passes: which parts ways may lead through; all if it is left out.
    """
    poles = (Terminal(bank.name, "", pole) for pole in ("positive", "negative"))
    walked = circuit.walk(*poles, passes=passes)
    found: dict[Terminal, tuple[str, ...]] = walked.carried(NOTHING, _names_on)
    for inside in circuit.insides:
        for pole in POLES if not inside.converts else ():
            before, behind = (t._replace(pole=pole) for t in (inside.start, inside.end))
            if before in found and behind in circuit.around and behind not in found:
                beyond = circuit.walk(behind, passes=passes).carried(found[before], _names_on)
                found = {**beyond, **found}
    return found
