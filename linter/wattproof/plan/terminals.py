"""Which terminals each component has, and which of them a reference in the plan means."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Final, NamedTuple

from wattproof.plan.arc_faults import ArcFaultDevice
from wattproof.plan.array import Combiner, String
from wattproof.plan.boxes import PowerBox
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Breaker, Busbar, Distribution, Fuse, Switch
from wattproof.plan.families import CONNECTED
from wattproof.plan.fields import POLE_WORDS, Named, component_of
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.resemblance import nearest
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.wiring import Wire
from wattproof.quantities import Mistake
from wattproof.source import Problem, Text

POLES = ("positive", "negative")
COMMON = ("chassis", "water", "earth")  # conductors that are there without being declared
SIDES = ("1", "2")  # of a selector switch, as they are marked on it
_TAKES = ("in", "input", "vin", "supply", "source", "starter", "engine", "vehicle", "car")
_GIVES = ("out", "output", "vout", "house", "leisure", "service", "aux", "bank")
"""How people call the sides of a vehicle charger, by the engine's battery and by its own."""


class Reached(NamedTuple):
    """A reference resolved: component, port ("" where it has one only) and pole where named."""

    component: str
    port: str
    pole: str | None


def other_pole(pole: str) -> str:
    """The other of the two poles."""
    return "negative" if pole == "positive" else "positive"


def ports(component: Named) -> tuple[str, ...]:
    """The ports of a component; ("",) where it has one only."""
    if isinstance(component, PowerBox):
        return ("pv", "load")
    if isinstance(component, Controller):
        names = (*solar_inputs(component), "battery", "load")
        return (*names, "alternator") if component.kind == "vehicle-charger" else names
    if isinstance(component, Converter):
        return ("input", "output")
    if isinstance(component, Distribution):
        return ("", *component.ways)
    if isinstance(component, Isolator):
        return ("input", *component.outputs)
    if isinstance(component, Selector):
        return ("common", *SIDES)
    if is_in_the_way(component):
        return ("line", "load")
    return ("",)


def is_in_the_way(component: Named) -> bool:
    """True for a device of two ends, which may sit in a wire."""
    in_a_wire = isinstance(component, Fuse | Breaker | Switch | ArcFaultDevice)
    return in_a_wire and not isinstance(component, Selector)


def solar_inputs(component: Named | None) -> tuple[str, ...]:
    """The ports to which arrays are led; none for what is no controller."""
    if not isinstance(component, Controller):
        return ()
    return tuple(component.inputs) or ("pv",)


def is_solar_input(component: Named | None, port: str) -> bool:
    """True where an array is led to this port."""
    return component is not None and port in solar_inputs(component)


def output_port(component: Named) -> str | None:
    """The port at which a source gives current to a battery; None for what is no such source."""
    if isinstance(component, PowerBox):
        return None
    if isinstance(component, Controller):
        return "battery"
    if isinstance(component, Converter):
        return "output"
    return "" if isinstance(component, Charger) else None


def input_port(component: Named) -> str:
    """The port at which a consumer takes its current."""
    return "input" if isinstance(component, Converter) else ""


def battery_port(component: Named) -> str:
    """The port that lies on the battery's voltage, of what has one."""
    return output_port(component) or ""


def by_name(plan: Plan) -> dict[str, Named]:
    """Every component that has terminals, by name."""
    return {name: c for family in CONNECTED for name, c in getattr(plan, family).items()}


def resolve(reference: Text, components: dict[str, Named], *, arriving: bool = True) -> Reached:
    """What a reference means. Raises Mistake.

    arriving: for the two ends of a fuse, breaker or switch, whether the wire ends at it (its line
    side) or begins there (its load side), where the reference names neither.
    """
    name, *rest = reference.split(".")
    pole = rest.pop() if rest and rest[-1] in POLES else None
    if name in COMMON:
        if rest:
            raise Mistake(f"`{name}` has no ports", f"write `{name}`", reference.place)
        return Reached(name, "", "negative")
    if name not in components:
        from wattproof.plan.hints.values import common_meant  # of what is wrong only
        from wattproof.plan.kind_words import by_kind, family_of

        meant = _meant(reference, components)
        instead = common_meant(name) or (f"write `{meant}`" if meant else "")
        family = family_of(reference)
        declared = f"declare it under `{family}`" if family else "declare it"
        instead = instead or by_kind(reference, components) or f"{declared}, or check the name"
        raise Mistake(f"there is no component `{name}`", instead, reference.place)
    component = components[name]
    known = ports(component)
    port = rest[0] if rest else ""
    if len(rest) <= 1 and port in known:
        return Reached(name, port, pole)
    if not rest and is_in_the_way(component):
        return Reached(name, "line" if arriving else "load", pole)
    named = [f"`{'.'.join(filter(None, (name, p, pole)))}`" for p in known]
    if not rest:
        instead = f"write one of {', '.join(named)}"
        if pole == "negative" and isinstance(component, Controller):
            instead = (
                f"write `{name}.battery.negative` where one terminal is the negative of both "
                "sides, as it mostly is"
            )
        raise Mistake(f"`{name}` has several terminals", instead, reference.place)
    instead = _instead_of(reference, rest, pole, named, components)
    raise Mistake(f"`{name}` has no terminal `{'.'.join(rest)}`", instead, reference.place)


def _instead_of(
    reference: str,
    rest: list[str],
    pole: str | None,
    named: list[str],
    components: Mapping[str, Named],
) -> str:
    """What to write for a terminal that a component has not.

    rest, pole: what is written behind its name. named: those that it has.
    """
    from wattproof.plan.hints.in_wires import (  # of what is wrong only
        mains_meant,
        solar_input_meant,
    )

    name = component_of(reference)
    if isinstance(components[name], Inverter | Charger) and (outside := mains_meant(rest[0])):
        return outside
    if isinstance(components[name], Inverter) and (solar := solar_input_meant(rest[0])):
        return solar
    if meant := _meant(reference, components):
        return f"write `{meant}`"
    if pole and {POLE_WORDS.get(word, pole) for word in rest} != {pole}:
        return f"write {' or '.join(f'`{name}.{each}`' for each in POLES)}: it is of one pole"
    if len(named) > 1:
        return f"write one of {', '.join(named)}"
    if pole or _SAYS_NOTHING.fullmatch(rest[0]):
        return f"write {named[0]}"
    return f"write {named[0]}, or `{name}.positive` or `{name}.negative` for one pole of it"


_SAYS_NOTHING: Final = re.compile(
    "in|out|input|output|terminals?|batt?|battery|dc|posts?|supply|feed|pv|dc-in|dc-out|[0-9]+v?"
)
"""Words behind the name of what has one pair of terminals, which tell no pole."""


def _meant(reference: str, components: Mapping[str, Named]) -> str:
    """The terminal that a reference to none stands for; empty where nobody can tell."""
    from wattproof.plan.terminal_words import terminal_meant  # of what is wrong only

    known = {name: ports(component) for name, component in components.items()}
    return terminal_meant(reference, {**dict.fromkeys(COMMON, ("",)), **known})


def by_names(problem: Problem, written: str, plan: Plan) -> Problem:
    """What is said of a text that names nothing as it is spelt, with what the names tell."""
    words = written.replace(" - ", " ").split()  # a hyphen of a list that is indented otherwise
    known = {**dict.fromkeys(COMMON, ("",)), **{n: ports(c) for n, c in by_name(plan).items()}}
    if len(words) == 2 and words[1] in known.get(words[0], ()):
        return problem._replace(instead=f"write `{words[0]}.{words[1]}`")
    if len(words) > 1 and set(words) <= set(by_name(plan)):
        return problem._replace(instead=f"write `[{', '.join(words)}]`, where it may be several")
    meant = _meant(written, by_name(plan))
    return problem._replace(instead=f"write `{meant}`") if meant else problem


def wire_poles(wire: Wire, start: Reached, end: Reached) -> list[tuple[str, str]]:
    """The pairs of poles that a wire joins: (at its start, at its end). Raises Mistake."""
    if start.pole is None and end.pole is None and wire.pole is None:
        return [("positive", "positive"), ("negative", "negative")]
    for reached, reference in ((start, wire.start), (end, wire.to)):
        if (
            wire.pole
            and reached.pole
            and reached.pole != wire.pole
            and reached.component not in COMMON
        ):
            message = f"`pole: {wire.pole}` contradicts `{reference}`"
            poles = {start.pole, end.pole}
            instead = "keep one of the two"
            if poles == {"positive", "negative"}:
                instead = f"leave `pole` out: `{wire.start}` and `{wire.to}` name both"
            raise Mistake(message, instead, wire.pole.place)
    first = start.pole or wire.pole or end.pole
    last = end.pole or wire.pole or start.pole
    assert first is not None
    assert last is not None
    return [(first, last)]


def terminal_problems(plan: Plan, unreadable: set[str]) -> Iterator[tuple[str, Problem]]:
    """References of wires, joints, bonds, arresters and readings that lead to nothing.

    Each with the name that nothing has, empty where another thing is wrong. unreadable: names of
    components that are declared but could not be read.
    """
    known = by_name(plan)
    for reference, arriving in _references(plan):
        name = component_of(reference)
        if name in unreadable or _way_of(reference, known) in unreadable:
            continue
        try:
            resolve(reference, known, arriving=arriving)
        except Mistake as mistake:
            instead = _by_the_other_end(plan, reference, reference, known)
            instead = instead or _of_another_name(plan, reference, known) or mistake.instead
            missing = "" if name in known or name in COMMON else name
            place = mistake.place or reference.place
            yield missing, Problem(place, mistake.message, instead)
    placed: dict[str, Wire] = {}
    for wire in plan.wires.values():
        for inline in wire.inline:
            yield from _inline_problems(inline.device, wire, known, placed, unreadable)
    for combiner in plan.combiners.values():
        joins = combiner.joins or ()
        for twice in sorted({r for r in joins if joins.count(r) > 1}):
            last = [r for r in joins if r == twice][-1]
            message = f"`{combiner.name}` names `{twice}` twice"
            yield "", Problem(last.place, message, "name each once; delete it, or name another")
    for reference, _ in _joined(plan):
        device = component_of(reference)
        if device in placed:
            inside = placed[device].name
            message = f"`{device}` sits in wire `{inside}`, so nothing else can end at it"
            instead = (
                f"end `{inside}` at it and begin another wire there, or branch off at a busbar"
            )
            yield "", Problem(reference.place, message, instead)


def _way_of(reference: str, known: dict[str, Named]) -> str:
    """The way of a panel that a reference names; empty of anything else."""
    name, _, rest = reference.partition(".")
    return rest.partition(".")[0] if isinstance(known.get(name), Distribution) else ""


def _of_another_name(plan: Plan, reference: Text, known: dict[str, Named]) -> str:
    """The terminal that is meant by a name of no component, where it is to be told which."""
    if len(known) > _MOST_NAMES:
        return ""
    ends = {name: c for name, c in known.items() if not _sits_in_a_wire(name, plan)}
    meant = _meant(reference, ends) if component_of(reference) not in known else ""
    if not meant:
        return ""
    try:
        resolve(Text.at(meant, reference.place), known)
    except Mistake as mistake:
        return _by_the_other_end(plan, reference, meant, known) or mistake.instead
    return f"write `{meant}`"


_MOST_NAMES: Final = 100
"""Components up to which the other end is asked for what a misspelt name means."""


def _sits_in_a_wire(name: str, plan: Plan) -> bool:
    return any(inline.device == name for wire in plan.wires.values() for inline in wire.inline)


def _by_the_other_end(plan: Plan, reference: Text, meant: str, known: dict[str, Named]) -> str:
    """The terminal that a wire must mean by what its other end is; empty where that is not one.

    meant: what the reference stands for, as far as it is known.
    """
    ends = (w for w in plan.wires.values() if reference is w.start or reference is w.to)
    name, *rest = meant.split(".")
    poles = {each if each in POLES else POLE_WORDS.get(each, "") for each in rest} - {""}
    if len(poles) > 1:
        return ""
    pole = "".join(f".{each}" for each in poles)
    port = ".".join(each for each in rest if each not in POLES and each not in POLE_WORDS)
    wire, named = next(ends, None), known.get(name)
    if wire is None or named is None or (port and _is_near_a_port(port, named)):
        return ""
    if port == "alternator" and _may_have_an_engine(named):
        return f"write `kind: vehicle-charger` for `{name}`, which then has it"
    other = _behind(wire, reference, plan, known)
    if other is None:
        return ""
    fitting: tuple[str, ...] = ()
    if isinstance(other, String | Combiner):
        fitting = solar_inputs(named)
    elif isinstance(other, Battery | Busbar | Distribution) and _may_have_an_engine(named):
        sides = _sides_of_vehicle_charger(port.lower(), arriving=reference is wire.to)
        if len(sides) > 1:
            takes, gives = (f"`{name}.{side}{pole}`" for side in sides)
            return f"write {takes} where `{other.name}` feeds it, {gives} where it charges that"
        fitting = sides
    elif isinstance(other, Battery | Busbar) and "battery" in ports(named):
        fitting = ("battery",)
    elif isinstance(other, Charger) and _may_have_an_engine(named):
        fitting = ("alternator",)
    elif isinstance(other, Load) and "load" in ports(named):
        fitting = ("load",)
    return f"write `{name}.{fitting[0]}{pole}`, for `{other.name}`" if len(fitting) == 1 else ""


def _behind(wire: Wire, end: Text, plan: Plan, known: dict[str, Named]) -> Named | None:
    """What a wire leads to from one of its ends, behind fuses and switches that it meets."""
    passed = {component_of(end)}
    while True:
        name = next((each for each in wire.components if each not in passed), "")
        other = known.get(name) or _of_a_word(name, plan, known)
        if other is None or not is_in_the_way(other):
            return other
        passed.add(name)
        beyond = [w for w in plan.wires.values() if w is not wire and name in w.components]
        if len(beyond) != 1:
            return None
        [wire] = beyond


def _of_a_word(name: str, plan: Plan, known: dict[str, Named]) -> Named | None:
    """A part that is named by what it is, or a string by its module; None where nobody can tell."""
    from wattproof.plan.kind_words import of_kind  # of what is wrong only

    named = of_kind(name, known)
    made = [string for string in plan.strings.values() if string.module == name]
    return known[named[0]] if named else made[0] if made else None


def _may_have_an_engine(component: Named) -> bool:
    """True for a vehicle charger, and for a controller whose kind could not be read."""
    return isinstance(component, Controller) and component.kind not in ("mppt", "pwm")


def _sides_of_vehicle_charger(word: str, *, arriving: bool) -> tuple[str, ...]:
    """Which of its two battery sides a word for a terminal means, or the direction of the wire.

    A wire that arrives may be drawn from either battery: a fuse sits at each.
    """
    if word in _TAKES:
        return ("alternator",)
    return ("battery",) if word in _GIVES or not arriving else ("alternator", "battery")


def _is_near_a_port(written: str, component: Named) -> bool:
    """True for what can only be one of its ports misspelt, or names a pole by another word."""
    first, *_, last = (*written.split("."), "")[:2]
    return last in POLE_WORDS or first in POLE_WORDS or nearest(first, ports(component)) is not None


def _references(plan: Plan) -> Iterator[tuple[Text, bool]]:
    """What the plan names as a terminal, and whether a wire arrives there."""
    yield from _joined(plan)
    for reading in plan.readings.values():
        if reading.at_terminal not in plan.wires:  # which has words of its own
            yield reading.at_terminal, True


def _joined(plan: Plan) -> Iterator[tuple[Text, bool]]:
    """The terminals that wires, joints, bonds and arresters are joined to."""
    for wire in plan.wires.values():
        yield wire.start, False
        yield wire.to, True
    for combiner in plan.combiners.values():
        for joined in combiner.joins or ():
            yield joined, True
    for bond in plan.bonds.values():
        yield bond.start, False
    for arrester in plan.arresters.values():
        yield arrester.across, True


def _inline_problems(
    device: Text, wire: Wire, known: dict[str, Named], placed: dict[str, Wire], unreadable: set[str]
) -> Iterator[tuple[str, Problem]]:
    if device in unreadable:
        return
    component = known.get(device)
    if component is None:
        near = nearest(device, [n for n, c in known.items() if is_in_the_way(c)])
        from wattproof.plan.hints.in_wires import device_meant  # of what is wrong only

        instead = f"write `{near}`" if near else device_meant(device)
        instead = instead or "declare it under `fuses`, `breakers` or `switches`"
        yield device, Problem(device.place, f"there is no device `{device}`", instead)
    elif not is_in_the_way(component):
        message = f"`{device}` is not a fuse, breaker or switch and cannot sit in a wire"
        yield "", Problem(device.place, message, "end one wire at it and begin another there")
    elif device in placed:
        first = placed[device]
        message = f"`{device}` already sits in wire `{first.name}`"
        instead = _of_both_poles(component, first, wire) or "declare a device for each place"
        yield "", Problem(device.place, message, instead)
    else:
        placed[device] = wire


def _of_both_poles(device: Named, first: Wire, second: Wire) -> str:
    """What to write of a device of several poles that each pole's own wire names; empty of others.

    It opens the other pole of a wire by its poles.
    """
    several = (getattr(device, "poles", None) or 1) > 1
    if not several or {pole_of(first), pole_of(second)} != set(POLES):
        return ""
    return (
        f"take it out of `{second.name}`: by its `poles` it opens the other pole of "
        f"`{first.name}` as well"
    )


def without_pole(reference: str) -> str:
    """A reference to a terminal without its pole."""
    return reference.removesuffix(".positive").removesuffix(".negative")


def pole_of(wire: Wire) -> str:
    """The pole of a single wire, by its key or its ends; empty of a pair."""
    ends = (end.rpartition(".")[2] for end in (wire.start, wire.to))
    return wire.pole or next((end for end in ends if end in POLES), "")
