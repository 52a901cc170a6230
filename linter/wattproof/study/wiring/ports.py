"""Where current enters and leaves the battery side: sources that charge, and consumers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import compress, product
from typing import Final, Literal, TypeAlias

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Isolator
from wattproof.plan.terminals import COMMON, input_port, output_port, ports
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.uncontrolled import RegulatedOn, StraightOn
from wattproof.study.assumptions.supposed import label_of
from wattproof.study.battery.side import AtPower, BatterySide
from wattproof.working import Supposed, Value, declared, largest, smallest, total

Flow: TypeAlias = Literal["charge", "draw"]

MOST_EXCLUSIVE = 12
"""Sources with `never_with` of which every combination is tried; with more, all count at once."""


_ENGINES: Final = COMMON[:2]
"""Bodies that an engine stands in."""


@record
class Port:
    """What gives or draws a current at a pair of terminals.

    kind: "charge" for what gives it, "draw" for what takes it. current: the most of it (A).
    rated: what the part is rated to give (A), where that is more than its array can give; else
    the same. minus: None where no conductor leads back. at_power: of what draws a power, whatever
    the voltage that is left there. lasts: how long at most (s), of what runs for minutes.
    """

    component: Named
    name: str
    kind: Flow
    current: Value
    rated: Value
    plus: Terminal
    minus: Terminal | None
    at_power: AtPower | None = None
    lasts: Value | None = None


def ports_of(
    circuit: Circuit,
    battery_side: BatterySide,
    arrays: Iterable[ArrayStudy],
    past: Iterable[StraightOn | RegulatedOn],
) -> Iterator[Port]:
    """Every port of the battery side that something gives or takes current at.

    past: strings that no controller stands before.
    """
    by_controller: dict[str, list[ArrayStudy]] = {}
    for array in arrays:
        by_controller.setdefault(str(array.controller.name), []).append(array)
    known: dict[str, tuple[Value, Value]] = {}
    for name, component in battery_side.components.items():
        for port in ports(component):
            plus = Terminal(name, port, "positive")
            if plus not in circuit.around:
                continue
            minus = _minus(component, port, circuit)
            if (
                isinstance(component, Charger | Controller)
                and output_port(component) == port
                and not battery_side.idle(component)
            ):
                rated = battery_side.output(component)
                inputs = by_controller.get(name, [])
                given = given_by(component, rated, inputs, battery_side, circuit)
                rated = given if _is_guessed(component, battery_side) else rated
                known[name] = (given, rated)
                back = minus or _through_tie(plus, battery_side, circuit)
                back = back or _through_engine(plus, battery_side, circuit)
                yield Port(component, name, "charge", given, rated, plus, back)
            drawn = battery_side.drawn(component, port)
            if drawn is not None:
                power = battery_side.at_power(component, port)
                lasts = _lasts(component)
                yield Port(component, name, "draw", drawn, drawn, plus, minus, power, lasts)
    yield from _through_isolators(circuit, battery_side, known)
    yield from _passed_on(circuit, battery_side)
    yield from _past_controllers(circuit, past)


def _past_controllers(circuit: Circuit, past: Iterable[StraightOn | RegulatedOn]) -> Iterator[Port]:
    """Strings on a battery or consumer, which give what the sun drives through them."""
    for each in past:
        name = str(each.string.name)
        plus = Terminal(name, "", "positive")
        if plus in circuit.around:
            minus = _minus(each.string, "", circuit)
            yield Port(each.string, name, "charge", each.at_most, each.at_most, plus, minus)


def _lasts(component: Named) -> Value | None:
    """How long at most (s) a load of short duty runs; None for all else."""
    if not isinstance(component, Load) or component.short_duty is None:
        return None
    name = component.name
    return declared(component.short_duty, f"t({name})", f"longest run of {name}")


def is_isolated(component: Named) -> bool:
    """True where no pole of one port is joined inside to that of another."""
    return isinstance(component, Controller | Converter) and component.isolated


def negative_of(component: Named, port: str, circuit: Circuit) -> Terminal | None:
    """The negative at a port of a component: its own, or the one that it shares inside."""
    others = () if is_isolated(component) else ("battery", *ports(component))
    ends = (Terminal(str(component.name), each, "negative") for each in (port, *others))
    return next((end for end in ends if end in circuit.around), None)


def _minus(component: Named, port: str, circuit: Circuit) -> Terminal | None:
    """Where its current comes back: by a negative, or the body."""
    chassis = Terminal(COMMON[0], "", "negative")
    return negative_of(component, port, circuit) or (chassis if chassis in circuit.around else None)


def _through_tie(source: Terminal, battery_side: BatterySide, circuit: Circuit) -> Terminal | None:
    """The body that a battery which something charges is tied to; else None.

    At its post, or by one tie only, which then carries all of it.
    """
    body = COMMON[0]
    bonds = circuit.ends.bonds.items()
    tied = {at for name, at in bonds if circuit.plan.bonds[name].to == body}
    parts = [part for bank in battery_side.banks_of(source) for part in bank.parts]
    posts = [Terminal(part.name, "", "negative") for part in parts]
    if not tied.isdisjoint(posts):
        return Terminal(body, "", "negative")
    ties = {tie for post in posts if post in circuit.around for tie in _ties_of(post, circuit)}
    return Terminal(ties.pop()[1], "", "negative") if len(ties) == 1 else None


def _through_engine(
    source: Terminal, battery_side: BatterySide, circuit: Circuit
) -> Terminal | None:
    """Where what returns through an engine comes back: by the tie of what it charges.

    Of several batteries by that which no switch parts from it, which stands with the engine.
    """
    net = circuit.nets.net
    bonded = {net(tied) for tied in circuit.ends.bonds.values()}
    near = circuit.joined_for_good(source)
    banks = sorted(
        battery_side.fed_by(source),
        key=lambda bank: Terminal(bank.name, "", "positive") not in near,
    )
    posts = [Terminal(part.name, "", "negative") for bank in banks for part in bank.parts]
    drawn = [post for post in posts if post in circuit.around]
    tied = next((post for post in drawn if net(post) in bonded), None)
    if tied is not None:
        return nearest_tie(tied, circuit) or tied
    return drawn[-1] if drawn else None


def nearest_tie(post: Terminal, circuit: Circuit) -> Terminal | None:
    """Where the tie begins by which an engine's current comes back to a post; None without."""
    near = {at for at, _ in _ties_of(post, circuit)}
    return next((here for here in circuit.walk(post) if here in near), None)


def bonds_to_engines(post: Terminal, circuit: Circuit) -> list[str]:
    """Names of the bonds that tie a post's negative to a body that an engine stands in."""
    net, bonds = circuit.nets.net, circuit.plan.bonds
    tied = ((name, at) for name, at in circuit.ends.bonds.items() if bonds[name].to in _ENGINES)
    return [name for name, at in tied if net(at) == net(post)]


def _ties_of(post: Terminal, circuit: Circuit) -> list[tuple[Terminal, str]]:
    """Where a post's negative is tied to a body that an engine stands in, and to which."""
    net, bonds = circuit.nets.net, circuit.plan.bonds
    tied = ((at, str(bonds[name].to)) for name, at in circuit.ends.bonds.items())
    return [(at, to) for at, to in tied if to in _ENGINES and net(at) == net(post)]


def _through_isolators(
    circuit: Circuit, battery_side: BatterySide, known: dict[str, tuple[Value, Value]]
) -> Iterator[Port]:
    """Isolators: each takes all that its sources give, and each output may pass all of it on.

    Without a negative of its own, as most are, what it passes on comes back to the source.
    """
    for name, isolator in circuit.plan.diode_isolators.items():
        start = Terminal(name, "input", "positive")
        sources = battery_side.feeding(start)
        if battery_side.fed_by(start):
            for source in sources:
                given, rated = _given_and_rated(source, battery_side, known)
                back = _way_back(source, isolator, start, battery_side, circuit)
                yield Port(source, str(source.name), "draw", given, rated, start, back)
        for output in isolator.outputs:
            end = Terminal(name, output, "positive")
            for source in sources if end in circuit.around else ():
                given, rated = _given_and_rated(source, battery_side, known)
                back = _way_back(source, isolator, end, battery_side, circuit)
                yield Port(source, str(source.name), "charge", given, rated, end, back)


def _way_back(
    source: Controller | Charger,
    isolator: Isolator,
    at: Terminal,
    battery_side: BatterySide,
    circuit: Circuit,
) -> Terminal | None:
    """Where the current of a source comes back that passes a terminal of an isolator."""
    own = negative_of(isolator, at.port, circuit)
    back = own or negative_of(source, str(output_port(source)), circuit)
    return back or _minus(isolator, at.port, circuit) or _through_engine(at, battery_side, circuit)


def _given_and_rated(
    source: Controller | Charger, battery_side: BatterySide, known: dict[str, tuple[Value, Value]]
) -> tuple[Value, Value]:
    """What a source gives and is rated for (A); one that nothing is known of gives its output."""
    output = battery_side.output(source)
    return known.get(str(source.name), (output, output))


def _passed_on(circuit: Circuit, battery_side: BatterySide) -> Iterator[Port]:
    """What controllers hand on from the battery to what hangs on their load terminals."""
    net = circuit.nets.net
    for name, controller in circuit.plan.all_controllers.items():
        plus, battery = (Terminal(name, port, "positive") for port in ("load", "battery"))
        if net(plus) == net(battery):
            continue
        drawn = [
            amps
            for other, component in battery_side.components.items()
            if isinstance(component, Load | Inverter | Converter)
            and net(Terminal(other, input_port(component), "positive")) == net(plus)
            and (amps := battery_side.drawn(component, input_port(component))) is not None
        ]
        if not drawn:
            continue
        words = f"current of what hangs on the load terminals of {name}"
        amps = total(drawn).named(f"I({name}.load)", words, "A")
        minus = _minus(controller, "load", circuit)
        yield Port(controller, f"{name}.load", "charge", amps, amps, plus, minus)
        if battery in circuit.around:
            back = _minus(controller, "battery", circuit)
            yield Port(controller, f"{name}.load", "draw", amps, amps, battery, back)


def _is_guessed(source: Controller | Charger, battery_side: BatterySide) -> bool:
    """True where no label tells what it is rated for, and none is taken to be large."""
    output = source.max_output_current
    if not isinstance(output, Supposed):
        return False
    return battery_side.assume.figure_of(label_of(output)) != "harsh"


def given_by(
    source: Controller | Charger,
    rated: Value,
    arrays: list[ArrayStudy],
    battery_side: BatterySide,
    circuit: Circuit,
) -> Value:
    """The most that a source gives (A): its output, or less where its arrays give less.

    An array is taken at its best: as cold as it gets and in sun brighter than the standard. A
    vehicle charger gives its output from the alternator as well.
    """
    if not arrays:
        return rated
    if Terminal(source.name, "alternator", "positive") in circuit.around:
        return rated
    if source.kind == "pwm":
        given = total([array.isc("bright") for array in arrays])
    else:
        banks = battery_side.banks_of(Terminal(source.name, "battery", "positive"))
        if not banks:
            return rated
        volts = min((bank.nominal for bank in banks), key=lambda v: v.number)
        given = total([_best_power(array) for array in arrays]) / volts
    if given.number >= rated.number:
        return rated
    words = f"the most that the array gives {source.name}"
    given = given.named(f"Iarray({source.name})", words, "A")
    return smallest([rated, given]).named(f"I({source.name})", f"current of {source.name}", "A")


def _best_power(array: ArrayStudy) -> Value:
    """No less than what an array can give, coldest and in sun brighter than the standard (W).

    Each string at its own maximum, with the current of its best module.
    """
    found = []
    for string in array.all_strings:
        imp = largest([module.imp for module in {m.name: m for m in string.modules}.values()])
        brighter = string.isc("bright") / string.isc("standard")
        found.append(string.vmp("coldest") * imp * brighter)
    words = f"most power of the {array.name}, coldest and in bright sun"
    return total(found).named(f"Pbest({array.name})", words, "W")


def at_once(weighed: list[tuple[Named, float]]) -> list[bool]:
    """Which of some sources count, so that those that can work together weigh the most."""
    if len(weighed) < 2:
        return [True] * len(weighed)
    names = {str(source.name) for source, _ in weighed}
    pairs = {
        frozenset((str(source.name), str(other)))
        for source, _ in weighed
        if (other := getattr(source, "never_with", None)) in names - {str(source.name)}
    }
    bound = sorted({name for pair in pairs for name in pair})
    if not bound or len(bound) > MOST_EXCLUSIVE:
        return [True] * len(weighed)
    weights = {
        name: sum(amps for source, amps in weighed if str(source.name) == name) for name in bound
    }
    sets = (
        frozenset(compress(bound, taken)) for taken in product((True, False), repeat=len(bound))
    )
    may_be = (names for names in sets if not any(pair <= names for pair in pairs))
    most = max(may_be, key=lambda names: sum(weights[name] for name in names))
    left_out = set(bound) - most
    return [str(source.name) not in left_out for source, _ in weighed]
