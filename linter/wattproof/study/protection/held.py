"""Devices and joints held to the fuse before them, as wires are.

A switch, relay, plug or bar in the way of the current is no wire, and burns like one: whatever the
fuse before it lets through for long, it has to stand. What lies behind it may be fused so small
that no more can be drawn through it; then that counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wattproof.circuit import (
    Circuit,
    Conductor,
    Element,
    Passage,
    Terminal,
    is_overcurrent,
    other_end,
)
from wattproof.plan.devices import Busbar, Distribution, Switch
from wattproof.plan.fields import Named
from wattproof.plan.wiring import Wire
from wattproof.record import record
from wattproof.study.assumptions.cables import PLUG_BEHIND_FUSE
from wattproof.study.battery.positive_net import (
    Devices,
    PositiveNet,
    rating_of,
    sum_of_ratings,
)
from wattproof.study.limits import exceeds
from wattproof.study.protection.answers import Allowed, Reason
from wattproof.study.protection.guards import first_devices, let_through
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import enumerated
from wattproof.working import Value, declared, total


@record
class Held:
    """A device or joint and what may flow through it for long.

    what: in a word. part: the component, or the wire of a plug. rating: as printed, or of a plug
    that prints none what its kind stands (A). devices: those that let through the
    most that can last (A). reason: None where it stands that. source: the converter or power box
    that gives no more than that, where no device lets through less.
    """

    name: str
    what: str
    part: Named | WireStudy
    rating: Value
    devices: Devices
    through: Value
    source: str = ""

    @property
    def reason(self) -> Reason | None:
        """Why it is not allowed; None where it is."""
        over = exceeds(self.through, self.rating)
        return "would open a switch rated below" if over else None


def held(
    circuit: Circuit,
    net: PositiveNet,
    wires: dict[str, WireStudy],
    allowed: Sequence[Allowed],
    outlets: Iterable[tuple[Terminal, Value]],
) -> Iterator[Held]:
    """Every switch, relay, plug, bar and panel of known rating that banks feed.

    allowed: what the one judge says, of which what comes back through negatives is read. outlets:
    positives that no bank reaches, each with the most that it gives (A).
    """
    for reached in net.reached:
        element = reached.element
        if isinstance(element, Passage) and not is_overcurrent(element):
            rating = _switch_rating(element)
            sides = [side for side in reached.sides if side.limiting]
            if rating is None or len(sides) < len(reached.sides):
                continue
            most = max(
                (_least(side.limiting, element, side.end, circuit) for side in sides),
                key=sum_of_ratings,
            )
            through = rating_of(most, f"what may last through {element.name}", element.name)
            yield Held(element.name, "switch", element.device, rating, most, through)
    outlets = list(outlets)
    yield from _behind_outlets(circuit, wires, outlets)
    yield from _in_negatives(circuit, allowed, wires)
    yield from _plugs(circuit, net, wires)
    given = _given(circuit, outlets)
    yield from _bars(circuit, net, given)
    yield from _panels(circuit, net, given)


def _behind_outlets(
    circuit: Circuit, wires: dict[str, WireStudy], outlets: Iterable[tuple[Terminal, Value]]
) -> Iterator[Held]:
    """Switches and plugs that no bank reaches, by what feeds them and what is fused behind."""
    for start, amps in outlets:
        walk = circuit.walk(start)
        for step in (walk.last(terminal) for terminal in walk):
            if step is None:
                continue
            part = step.way
            before = [(p,) for p in walk.passed(step.here) if is_overcurrent(p)]
            least = _least(min(before, key=sum_of_ratings, default=()), part, step.here, circuit)
            fused = least if sum_of_ratings(least) < amps.number else ()
            source, words = "" if fused else start.component, f"what may last through {part.name}"
            if isinstance(part, Conductor) and has_plug(part.wire):
                wire, words = wires[part.name], f"what may last through the plug in {part.name}"
                through = rating_of(fused, words, part.name) if fused else amps
                yield Held(part.name, "plug", wire, plug_rating(wire), fused, through, source)
            elif (
                isinstance(part, Passage)
                and not is_overcurrent(part)
                and (rating := _switch_rating(part)) is not None
            ):
                through = rating_of(fused, words, part.name) if fused else amps
                yield Held(part.name, "switch", part.device, rating, fused, through, source)


def _in_negatives(
    circuit: Circuit, allowed: Sequence[Allowed], wires: dict[str, WireStudy]
) -> Iterator[Held]:
    """Switches, plugs and bars of a negative alone, by what may come back through them for long."""
    back: dict[str, Allowed] = {}
    for answer in allowed:
        if answer.kind == "return" and answer.limiting:
            ends = {answer.part.start.component, answer.part.end.component}
            for name in (answer.wire.name, *ends):
                known = back.get(name)
                if known is None or answer.lasting.number > known.lasting.number:
                    back[name] = answer
    for wire in circuit.plan.wires.values():
        answer_of = back.get(str(wire.name))
        if answer_of is None:
            continue
        for inline in wire.inline:
            switch = circuit.plan.switches.get(str(inline.device))
            if switch is not None:
                yield _returned(str(switch.name), "switch", switch, answer_of)
        alone = wires[str(wire.name)]
        if has_plug(wire) and all(part.start.pole == "negative" for part in alone.conductors):
            rating, limiting = plug_rating(alone), answer_of.limiting
            yield Held(alone.name, "plug", alone, rating, limiting, answer_of.lasting)
    for bar in circuit.plan.busbars.values():
        name = str(bar.name)
        poles = {t.pole for t in circuit.around if t.component == name}
        if name in back and poles == {"negative"} and bar.rating is not None:
            yield _returned(name, "bar", bar, back[name])


def _returned(name: str, what: str, part: Switch | Busbar, answer: Allowed) -> Held:
    assert part.rating is not None
    rating = declared(part.rating, f"In({name})", f"rating of {name}")
    own, every = (answer.limiting, answer.lasting), answer.in_all
    return Held(name, what, part, rating, *min(own, every, key=lambda each: each[1].number))


def _plugs(circuit: Circuit, net: PositiveNet, wires: dict[str, WireStudy]) -> Iterator[Held]:
    """Plugs, by the least that guards a stretch of their wire."""
    found: dict[str, list[Devices]] = {}
    for reached in net.reached:
        element = reached.element
        if isinstance(element, Conductor) and has_plug(element.wire):
            ways = [_least(side.limiting, element, side.end, circuit) for side in reached.sides]
            found.setdefault(element.name, []).append(max(ways, key=sum_of_ratings))
    for name, ways in found.items():
        least, wire = min(ways, key=sum_of_ratings), wires[name]
        if least:
            rating = plug_rating(wire)
            through = rating_of(least, f"what may last through the plug in {name}", name)
            yield Held(name, "plug", wire, rating, least, through)


def _switch_rating(passage: Passage) -> Value | None:
    """Rated current of a switch or relay (A); None where the plan does not tell it."""
    written = getattr(passage.device, "rating", None)
    if written is None:
        return None
    return declared(written, f"In({passage.name})", f"rating of {passage.name}")


def has_plug(wire: Wire) -> bool:
    """True for a wire with a small plug in it."""
    return wire.plug is not None or wire.plug_rating is not None


def plug_rating(wire: WireStudy) -> Value:
    """Rated current of the plug in a wire (A), beside the fuse before it."""
    written, name = wire.wire.plug_rating, wire.name
    if written is None:
        return wire.assume.value(PLUG_BEHIND_FUSE, name, wire.at, kind=str(wire.wire.plug))
    return declared(written, f"In({name} plug)", f"rating of the plug in {name}")


class _Given(NamedTuple):
    """What reaches a terminal that no bank reaches.

    sources: what gives it. amps: the most of it (A). before: the devices on its ways, one for each
    source; none where a source has none. elements: those that bring it there.
    """

    sources: tuple[str, ...]
    amps: Value
    before: Devices
    elements: frozenset[Element]


def _given(circuit: Circuit, outlets: Iterable[tuple[Terminal, Value]]) -> dict[Terminal, _Given]:
    """What converters and boxes give at each terminal that they reach; several add up."""
    found: dict[Terminal, _Given] = {}
    for start, amps in outlets:
        walk = circuit.walk(start)
        for terminal in walk:
            step = walk.last(terminal)
            opens = [(p,) for p in walk.passed(terminal) if is_overcurrent(p)]
            before: Devices = min(opens, key=sum_of_ratings, default=())
            brings = frozenset([step.way] if step is not None else [])
            own = _Given((start.component,), amps, before, brings)
            known = found.get(terminal)
            found[terminal] = own if known is None else _both(known, own)
    return found


def _both(one: _Given, other: _Given) -> _Given:
    before = (*one.before, *other.before) if one.before and other.before else ()
    return _Given(
        (*one.sources, *other.sources),
        total([one.amps, other.amps]),
        before,
        one.elements | other.elements,
    )


def _from_outlets(
    part: Busbar | Distribution, what: str, rating: Value, given: _Given, circuit: Circuit
) -> Held:
    """A bar or panel that no bank reaches: it gets no more than its sources give."""
    name = str(part.name)
    terminal = Terminal(name, "", "positive")
    words = f"what may last through {name}"
    least = _behind(part, terminal, given.before, circuit, given.elements)
    if least and sum_of_ratings(least) < given.amps.number:
        return Held(name, what, part, rating, least, rating_of(least, words, name))
    amps = given.amps.named(f"Imax({name})", words, "A")
    return Held(name, what, part, rating, (), amps, enumerated(given.sources))


def _bars(circuit: Circuit, net: PositiveNet, given: dict[Terminal, _Given]) -> Iterator[Held]:
    """Bars of known rating: what feeds them, or all that is fused behind them."""
    for bar in circuit.plan.busbars.values():
        terminal = Terminal(str(bar.name), "", "positive")
        fed = net.at.get(terminal, ())
        if bar.rating is None:
            continue
        rating = declared(bar.rating, f"In({bar.name})", f"rating of {bar.name}")
        if terminal in given:
            yield _from_outlets(bar, "bar", rating, given[terminal], circuit)
        if not fed:
            continue
        most = _behind(bar, terminal, fed, circuit, _from_banks(terminal, circuit, net))
        through = rating_of(most, f"what may last through {bar.name}", str(bar.name))
        yield Held(str(bar.name), "bar", bar, rating, most, through)


def _panels(circuit: Circuit, net: PositiveNet, given: dict[Terminal, _Given]) -> Iterator[Held]:
    """Panels of known rating: what feeds them, or all their ways together.

    One that no bank reaches gets no more than what feeds it gives, and one that nothing feeds gets
    nothing.
    """
    for panel in circuit.plan.distribution.values():
        terminal = Terminal(str(panel.name), "", "positive")
        if panel.rating is None:
            continue
        rating = declared(panel.rating, f"In({panel.name})", f"rating of {panel.name}")
        words = f"what can flow in {panel.name} before anything opens"
        if terminal in given:
            yield _from_outlets(panel, "panel", rating, given[terminal], circuit)
        if terminal not in net.at:
            continue
        most = _behind(panel, terminal, net.at[terminal], circuit, net.feeding(terminal))
        through = rating_of(most, words, str(panel.name))
        named = through.named(f"Imax({panel.name})", words, "A")
        yield Held(str(panel.name), "panel", panel, rating, most, named)


def _from_banks(terminal: Terminal, circuit: Circuit, net: PositiveNet) -> frozenset[Element]:
    """What leads from a bar to a bank, past nothing of the bar itself: current comes by it."""

    def reaches(element: Element) -> bool:
        far = other_end(element, terminal)
        beyond = circuit.walk(far, passes=lambda part: terminal not in (part.start, part.end))
        return any(bank in beyond for bank in net.banks)

    return frozenset(filter(reaches, circuit.around.get(terminal, ())))


def _behind(
    bar: Named,
    terminal: Terminal,
    fed: Devices,
    circuit: Circuit,
    feeding: frozenset[Element] = frozenset(),
) -> Devices:
    """The smaller of what feeds a bar or panel and what its branches let through together.

    feeding: what is known to feed it, where no device of that is in `fed`.
    """
    branches: list[Passage] = []
    for element in circuit.around.get(terminal, ()):
        if element in feeding:
            continue
        ahead = [device for device, _ in first_devices(element, terminal, circuit)]
        if any(_on_one_way(one, other) for one in ahead for other in fed):
            continue  # a way that feeds it
        if not ahead:
            return fed
        branches += ahead
    return min((fed, let_through(branches, terminal, circuit)), key=sum_of_ratings)


def _on_one_way(one: Passage, other: Passage) -> bool:
    """True for a device itself, and for two that sit in one wire."""
    return one.device is other.device or (one.wire is not None and one.wire is other.wire)


def _least(limiting: Devices, element: Conductor | Passage, end: Terminal, c: Circuit) -> Devices:
    """The smaller of what feeds an element and what all behind it is fused with."""
    ahead = tuple(device for device, _ in first_devices(element, end, c))
    return min((limiting, let_through(ahead, end, c)), key=sum_of_ratings) if ahead else limiting
