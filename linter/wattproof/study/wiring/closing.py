"""Whether every consumer and source has a way out and back, over conductors and batteries."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence, Set
from dataclasses import replace
from functools import cache, partial
from itertools import combinations
from typing import Final

from wattproof.circuit import Circuit, Source, Terminal
from wattproof.circuit.groups import Groups
from wattproof.circuit.walk import reached
from wattproof.kept import kept
from wattproof.plan.array import String
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import COMMON, ports, solar_inputs
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.ports import is_isolated
from wattproof.working import Value, declared, total

_FAR_SIDES: Final = ("alternator", "output")
"""Of a vehicle charger and of a converter, the side that its other one shares a pole with."""
BODY: Final = ("chassis", "water")
"""What a craft's metal and the water around it join."""


@record
class NotClosed:
    """A consumer or source whose current finds no way back over conductors.

    port: of the component, empty where it has one only. feeding: the banks on its positive, or
    where there is none the converters and load terminals that feed it. home: their negative.
    others: the banks on its negative. through: the chassis, water or earth over which alone the
    current comes back. entered: the controller through whose solar input alone; cased: the
    converter or vehicle charger through whose case alone, which is made for less. All are empty
    where it has no way at all. current: what it draws or gives (A). together: other consumers that
    come back through the same case, whose currents count with it: each alone is not too much.
    """

    component: Named
    port: str
    feeding: tuple[BankStudy | Controller | Converter, ...]
    home: Terminal
    others: tuple[BankStudy, ...]
    through: str
    entered: str
    current: Value | None
    cased: str = ""
    together: tuple[Named, ...] = ()


@record
class HalfJoined:
    """Two banks whose positives conductors join, and whose negatives no conductor does.

    Batteries in series that are declared apart are one bank.

    through: the chassis, water or earth in which alone these meet; empty where they do not.
    """

    first: BankStudy
    second: BankStudy
    through: str


@record
class HalfWired:
    """A string beside others of which one pole is wired and the other leads nowhere.

    open: the pole that leads nowhere.
    """

    string: String
    name: str
    open: str


class _Ways:
    """What is joined to what, with or without chassis, water and earth.

    inputs: False where what a controller joins inside to its solar inputs counts as no way. cases:
    False where what converters and vehicle chargers join between their two sides counts as none,
    nor what a source gives: of the way back to a battery.
    """

    def __init__(
        self,
        circuit: Circuit,
        battery_side: BatterySide,
        *,
        over: tuple[str, ...],
        inputs: bool = False,
        cases: bool = True,
    ):
        self._beside: Groups[Terminal] = Groups()
        self._onward: list[tuple[Terminal, Terminal]] = []
        shut = set(COMMON) - set(over)
        for element in circuit.elements:
            start, end = element.start, element.end
            if not isinstance(element, Source) and shut.isdisjoint(
                (start.component, end.component)
            ):
                self._beside.join(start, end)
        for bond in circuit.plan.bonds.values():
            if bond.to in over:
                self._beside.join(circuit.ends.bonds[bond.name], Terminal(bond.to, "", "negative"))
        if set(BODY) <= set(over):
            self._beside.join(*(Terminal(each, "", "negative") for each in BODY))
        for inside in circuit.insides:
            if not inside.converts:
                self._beside.join(inside.start, inside.end)
        for name, component in battery_side.components.items():
            self._through(name, component, inputs, cases)

    def _through(self, name: str, component: Named, inputs: bool, cases: bool) -> None:
        """A battery drives current through itself; converters and controllers share a pole."""
        if isinstance(component, Controller | Converter) and not component.isolated:
            pole = getattr(component, "common", None) or "negative"
            shut = () if inputs else solar_inputs(component)
            shut = shut if cases else (*shut, *_FAR_SIDES)
            first, *rest = (port for port in ports(component) if port not in shut)
            for port in rest:
                self._beside.join(Terminal(name, first, pole), Terminal(name, port, pole))
        if isinstance(component, Battery):
            self._onward.append((Terminal(name, "", "positive"), Terminal(name, "", "negative")))
        elif cases and isinstance(component, Controller | Charger):
            for port in ports(component):
                if port in ("", "output", "load"):
                    plus, minus = (Terminal(name, port, p) for p in ("positive", "negative"))
                    self._onward.append((plus, minus))

    @kept
    def _members(self) -> dict[Terminal, frozenset[Terminal]]:
        """What is joined, by the terminal that stands for it."""
        return {group: frozenset(held) for group, held in self._beside.members().items()}

    @kept
    def _sources(self) -> dict[Terminal, list[tuple[str, Terminal]]]:
        """Batteries and other sources by the group of their positive, each with its negative's."""
        found: dict[Terminal, list[tuple[str, Terminal]]] = {}
        for plus, minus in self._onward:
            led = (plus.component, self._beside.of(minus))
            found.setdefault(self._beside.of(plus), []).append(led)
        return found

    def joined(self, start: Terminal) -> frozenset[Terminal]:
        """What conductors join to a terminal, itself among it."""
        return self._members.get(self._beside.of(start)) or frozenset((start,))

    def lead(self, start: Terminal, end: Terminal, *, without: str) -> bool:
        """Whether conductors, and sources from plus to minus, lead from one terminal to another.

        without: a component that is no source on the way.
        """

        def onward(here: Terminal) -> Iterator[Terminal]:
            return (minus for name, minus in self._sources.get(here, ()) if name != without)

        return self._beside.of(end) in reached([self._beside.of(start)], onward)


def _ways(circuit: Circuit, battery_side: BatterySide) -> Callable[..., _Ways]:
    """Makes each kind of ways when it is first asked for, which most plans ask for one of."""
    return cache(partial(_Ways, circuit, battery_side))


def not_closed(circuit: Circuit, battery_side: BatterySide) -> Iterator[NotClosed]:
    """Every consumer and source on a battery that has no way back, or one over the body only.

    One whose own negative is led to the chassis, and one without a negative that shares none
    inside, as of engines, is no matter of this.
    """
    if not battery_side.banks:
        return
    ways = _ways(circuit, battery_side)
    wired = ways(over=())
    cases = [
        each
        for each in battery_side.components.values()
        if isinstance(each, Converter | Controller)
        and not each.isolated
        and {*_FAR_SIDES}.intersection(ports(each))
    ]
    through_cases: list[NotClosed] = []
    for name, component in battery_side.components.items():
        for port in _ports(component):
            plus, minus = (Terminal(name, port, pole) for pole in ("positive", "negative"))
            if plus not in circuit.around:
                continue
            if minus not in circuit.around and not _asks_for_negative(component, port):
                continue
            beside = wired.joined(plus)
            banks = _on(beside, "positive", battery_side)
            fed = [] if banks else _outputs(beside, battery_side, without=name)
            if not (banks or fed):
                continue
            if wired.lead(plus, minus, without=name):
                through_cases += _through_a_case(component, banks, cases, ways, battery_side)
                continue
            home = Terminal(banks[0].name, "", "negative") if banks else fed[0][1]
            back = wired.joined(minus)
            through = entered = ""
            if ways(over=BODY).lead(plus, minus, without=name):
                through = "water" if circuit.plan.setting == "boat" else "chassis"
            elif ways(over=COMMON).lead(plus, minus, without=name):
                through = "earth"
            elif ways(over=COMMON, inputs=True).lead(plus, minus, without=name):
                entered = _entered(back | wired.joined(home), battery_side)
            if through and _led_to_the_body(back, circuit):
                through_cases += _through_a_case(
                    component, banks, cases, ways, battery_side, over=COMMON
                )
                continue
            others = _on(back, "negative", battery_side)
            amps = battery_side.exchanged(component, port, battery_side.drawn(component, port))
            feeding = (*banks, *(source for source, _ in fed))
            yield NotClosed(component, port, feeding, home, others, through, entered, amps)
    yield from _too_much(through_cases, cases)


def _through_a_case(
    component: Named,
    banks: tuple[BankStudy, ...],
    cases: Sequence[Converter | Controller],
    ways: Callable[..., _Ways],
    battery_side: BatterySide,
    *,
    over: tuple[str, ...] = (),
) -> Iterator[NotClosed]:
    """What comes back through the case of a converter or vehicle charger alone.

    That joins the negatives of its two sides, for its own current. over: what besides wires leads
    to it, of what is led to the body. Several where its negative is beside several of them.
    """
    if not (banks and cases) or not isinstance(component, Load | Inverter | Charger | Starter):
        return
    name = str(component.name)
    plus, minus = (Terminal(name, "", pole) for pole in ("positive", "negative"))
    if ways(over=COMMON, cases=False).lead(plus, minus, without=name):
        return
    amps = battery_side.exchanged(component, "", battery_side.drawn(component, ""))
    if isinstance(component, Starter):
        amps = declared(component.current, f"I({name})", f"current of {name}")
    strict = ways(over=over, cases=False)
    back = strict.joined(minus)
    for case in cases:
        beside = any(Terminal(str(case.name), port, "negative") in back for port in ports(case))
        if beside and amps is not None:
            home = Terminal(banks[0].name, "", "negative")
            others = _on(back, "negative", battery_side)
            yield NotClosed(component, "", banks, home, others, "", "", amps, str(case.name))


def _too_much(
    through_cases: Sequence[NotClosed], cases: Sequence[Converter | Controller]
) -> Iterator[NotClosed]:
    """Of what comes back through cases, that of each which is more than the case is made for.

    Alone; or of several consumers of one bank together, where none is it alone, told of the
    largest.
    """
    told: set[str] = set()
    for case in cases:
        most = case.max_output_current.value
        here = [each for each in through_cases if each.cased == case.name]
        alone = [each for each in here if _amps(each) > most]
        yield from (each for each in alone if str(each.component.name) not in told)
        told.update(str(each.component.name) for each in alone)
        for home in () if alone else dict.fromkeys(each.home for each in here):
            drawing = [
                e for e in here if e.home == home and isinstance(e.component, Load | Inverter)
            ]
            if sum(map(_amps, drawing)) > most:
                yield _of_all(sorted(drawing, key=_amps, reverse=True))


def _amps(each: NotClosed) -> float:
    return each.current.number if each.current is not None else 0.0


def _of_all(drawing: Sequence[NotClosed]) -> NotClosed:
    """What comes back through one case, the largest first, as one."""
    first, *rest = drawing
    whole = total([each.current for each in drawing if each.current is not None])
    words = f"what comes back through the case of {first.cased}"
    together = tuple(each.component for each in rest)
    return replace(
        first, current=whole.named(f"Iback({first.cased})", words, "A"), together=together
    )


def half_joined(circuit: Circuit, battery_side: BatterySide) -> Iterator[HalfJoined]:
    """Every two such banks. What passes from one to the other comes back as it may."""
    if len(battery_side.banks) < 2:
        return
    ways = _ways(circuit, battery_side)
    wired = ways(over=())
    for first, second in combinations(battery_side.wholes, 2):
        plus, minus = _posts(first)
        other, back = _posts(second)
        joined = other in wired.joined(plus) or circuit.nets.net(other) == circuit.nets.net(plus)
        if not joined or back in wired.joined(minus):
            continue
        through = ""
        if back in ways(over=BODY).joined(minus):
            through = "water" if circuit.plan.setting == "boat" else "chassis"
        elif back in ways(over=COMMON).joined(minus):
            through = "earth"
        yield HalfJoined(first, second, through)


def half_wired(circuit: Circuit) -> Iterator[HalfWired]:
    """Every such string."""
    met = Counter(end for element in circuit.elements for end in (element.start, element.end))
    for element in circuit.elements:
        if isinstance(element, Source):
            bare = [end for end in (element.start, element.end) if met[end] == 1]
            if len(bare) == 1:
                yield HalfWired(element.string, element.name, bare[0].pole)


def _posts(bank: BankStudy) -> tuple[Terminal, Terminal]:
    """The outer posts of a bank, of batteries in series those of the first and the last."""
    top, bottom = bank.parts[0].name, bank.parts[-1].name
    return Terminal(top, "", "positive"), Terminal(bottom, "", "negative")


def _entered(terminals: Set[Terminal], battery_side: BatterySide) -> str:
    """The controller whose solar input is on one of some terminals; empty where none is."""
    entered = (
        name
        for name, component in battery_side.components.items()
        if not terminals.isdisjoint(
            Terminal(name, port, "negative") for port in solar_inputs(component)
        )
    )
    return next(entered, "")


def _ports(component: Named) -> tuple[str, ...]:
    if isinstance(component, Controller):
        return tuple(p for p in ports(component) if p in ("battery", "alternator"))
    if isinstance(component, Converter):
        return ("input", "output")
    return ("",) if isinstance(component, Load | Inverter | Charger | Starter) else ()


def _asks_for_negative(component: Named, port: str) -> bool:
    """True for an input whose current comes back by the negative that it shares inside.

    And for each side of what shares none, and stands in no engine: without its own nothing flows.
    """
    return port == "alternator" or is_isolated(component)


def _led_to_the_body(back: Set[Terminal], circuit: Circuit) -> bool:
    """True where a wire leads it to chassis, water or earth before any battery or source."""
    if any(terminal.component in circuit.plan.batteries for terminal in back):
        return False
    ends = {(e.start, e.end) for t in back for e in circuit.around.get(t, ())}
    return any(end.component in COMMON for pair in ends for end in pair)


def _outputs(
    terminals: Iterable[Terminal], battery_side: BatterySide, *, without: str
) -> list[tuple[Controller | Converter, Terminal]]:
    """Converters and controllers but one that feed some terminals, each with its negative."""
    found = [
        (
            battery_side.components.get(each.component),
            Terminal(each.component, each.port, "negative"),
        )
        for each in sorted(t for t in terminals if t.port in ("output", "load"))
        if each.pole == "positive" and each.component != without
    ]
    return [(s, minus) for s, minus in found if isinstance(s, Controller | Converter)]


def _on(terminals: Set[Terminal], pole: str, battery_side: BatterySide) -> tuple[BankStudy, ...]:
    banks = battery_side.banks.items()
    return tuple(bank for name, bank in banks if Terminal(name, "", pole) in terminals)
