"""Ways that are not told yet: a wire for each `feeds`, so that all that reads wires reads these.

Its name is what one would write: `roof-to-tracker`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from wattproof.plan.array import Combiner, String
from wattproof.plan.converting import Converter
from wattproof.plan.feeding import Feeds
from wattproof.plan.fields import Named, component_of
from wattproof.plan.power import Controller
from wattproof.plan.resemblance import nearest
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.terminals import by_name, output_port, resolve, solar_inputs
from wattproof.plan.wiring import Wire
from wattproof.quantities import Mistake
from wattproof.source import Problem, Text
from wattproof.words import quoted

FEEDING: Final = (
    "strings",
    "combiners",
    "controllers",
    "chargers",
    "inverter_chargers",
    "converters",
)
"""Families of what may feed something by wires that are not told."""


class FedWire(Wire):
    """The wire that stands for `feeds`: its cable is open, and devices in it are not told."""


def with_ways(plan: Plan) -> tuple[Plan, list[Problem]]:
    """The plan with a wire for each way that is not told, and what is wrong with them."""
    components = by_name(plan)
    feeding = {
        str(name): part
        for family in FEEDING
        for name, part in getattr(plan, family).items()
        if part.feeds is not None
    }
    problems = [*_open_problems(plan, components)]
    if not feeding:
        return plan, problems
    problems += _circles({name: p for name, p in feeding.items() if name not in plan.strings})
    turning = {problem.place for problem in problems}
    wires: dict[str, Wire] = dict(plan.wires)
    for part in feeding.values():
        if part.feeds.place in turning:
            continue
        wrong = _wrong(part, components, plan)
        if wrong is not None:
            problems.append(wrong)
            continue
        wire = way_of(part, components, wires)
        wires[str(wire.name)] = wire
    return plan.model_copy(update={"wires": wires}), problems


def with_joined_ends(plan: Plan) -> Plan:
    """The plan in which a joint that lists a wire lists what that wire brings to it."""
    components = by_name(plan)
    joints = {}
    for name, joint in plan.combiners.items():
        joins = joint.joins or ()
        if any(each in plan.wires and each not in components for each in joins):
            brought = tuple(_brought(each, joint, plan) for each in joins)
            joints[name] = joint.model_copy(update={"joins": brought})
    return plan.model_copy(update={"combiners": {**plan.combiners, **joints}}) if joints else plan


def _brought(reference: Text, joint: Combiner, plan: Plan) -> Text:
    """What the wire of that name leads to a joint from; else the name as it is."""
    wire = plan.wires.get(reference)
    if wire is None:
        return reference
    ends = [end for end in (wire.start, wire.to) if component_of(end) != joint.name]
    return Text.at(str(ends[0]), reference.place) if len(ends) == 1 else reference


def open_inputs(string: String, plan: Plan) -> tuple[str, ...]:
    """The solar inputs among which the modules of an open arrangement may be split."""
    components = by_name(plan)
    found: list[str] = []
    for reference in string.controllers or ():
        name, _, port = reference.partition(".")
        ports = solar_inputs(components.get(name))
        found += [f"{name}.{each}" for each in ports if port in ("", each)]
    return tuple(dict.fromkeys(found))


def _open_problems(plan: Plan, components: dict[str, Named]) -> Iterator[Problem]:
    """What leads nowhere, or not to solar inputs, of arrangements that are not chosen."""
    inputs = [
        f"{n}.{p}" if len(solar_inputs(c)) > 1 else n
        for n, c in components.items()
        for p in solar_inputs(c)
    ]
    wired = {name: wire for wire in plan.wires.values() for name in wire.components}
    listed = {name: joint for joint in plan.combiners.values() for name in joint.joined}
    for name, string in plan.strings.items():
        if "arrangement" not in string.open:
            continue
        if string.controllers is not None and name in {**wired, **listed}:
            place = string.controllers[0].place
            leads = f"`{ {**wired, **listed}[name].name }` leads on from `{name}` already"
            instead = (
                "keep `controllers` where it may be split among them, or what leads on from it"
            )
            yield Problem(place, leads, instead)
        for reference in string.controllers or ():
            component, _, port = reference.partition(".")
            ports = solar_inputs(components.get(component))
            if not ports or (port and port not in ports):
                near = nearest(reference, inputs)
                instead = (
                    f"write `{near}`"
                    if near
                    else f"write one of {quoted(inputs)}"
                    if inputs
                    else "declare the controller under `controllers`"
                )
                message = f"`{reference}` is no controller with a solar input"
                yield Problem(reference.place, message, instead)
        led = name in wired or name in listed
        if string.feeds is None and string.controllers is None and not led:
            message = f"nothing says which controller the modules of `{name}` feed"
            fed = inputs[0] if inputs else "tracker"
            instead = f"add `feeds: {fed}`"
            if len(inputs) > 1:
                instead += f", or `controllers: [{', '.join(inputs)}]` where they may be split"
            yield Problem(string.open["arrangement"], message, instead)


def way_name(name: str, to: str) -> str:
    """What the wire is called that stands for what a component feeds, if no other has that name."""
    return f"{name}-to-{to.partition('.')[0]}"


def way_of(part: Any, components: Mapping[str, Named], wires: Mapping[str, Wire]) -> FedWire:
    """The wire that stands for what a component feeds. wires: whose names are taken."""
    feeds: Feeds = part.feeds
    name = str(part.name)
    length: Any = feeds.length  # as read, a wire need not tell it
    port = output_port(part)
    start = f"{name}.{port}" if port else name
    own = way_name(name, feeds.to)
    while own in components or own in wires:
        own += "-way"
    unknown = None if length is not None else {"length": feeds.place}
    return FedWire.model_construct(
        name=Text.at(own, feeds.place),
        start=Text.at(start, feeds.place),
        to=_terminal(part, components),
        length=length,
        left_unknown=unknown,
        left_open={"cable": feeds.place},
    )


def _terminal(part: Any, components: Mapping[str, Named]) -> Text:
    """What a component feeds, with the terminal that is meant where only one of it may be."""
    to: Text = part.feeds.to
    fed = _taking(part, components.get(to))
    return Text.at(f"{to}.{fed[0]}", to.place) if len(fed) == 1 else to


def _taking(part: Named, fed: Named | None) -> tuple[str, ...]:
    """The ports at which something takes what a component gives; empty where it has one only."""
    if isinstance(part, String | Combiner):
        return solar_inputs(fed)
    if isinstance(fed, Converter | Isolator):
        return ("input",)
    if isinstance(fed, Selector):
        return ("common",)
    by_engine = isinstance(fed, Controller) and fed.kind == "vehicle-charger"
    return ("alternator",) if by_engine else ()


def _wrong(part: Any, components: dict[str, Named], plan: Plan) -> Problem | None:
    feeds: Feeds = part.feeds
    name, fed = str(part.name), component_of(feeds.to)
    component = components.get(fed)
    if fed in plan.strings:
        instead = "join strings in parallel at a combiner, or in series by wires between them"
        return Problem(feeds.place, f"`{fed}` is a string, and nothing feeds a string", instead)
    inputs = _taking(part, component)
    if fed == feeds.to and len(inputs) > 1:
        named = ", ".join(f"`{fed}.{each}`" for each in inputs)
        message = f"`{fed}` has several solar inputs, and `{name}` feeds one of them"
        instead = f"write one of {named}"
        if name in plan.strings:
            instead += f"; or `controllers: {fed}` with `arrangement: open`, to compare them"
        return Problem(feeds.place, message, instead)
    return next(_told_twice(part, components, plan), None)


def _told_twice(part: Any, components: dict[str, Named], plan: Plan) -> Iterator[Problem]:
    """Where wires join the same pair already.

    part: what feeds something; another one may bear its name, which is told elsewhere.
    """
    name, feeds = str(part.name), part.feeds
    try:
        fed = resolve(_terminal(part, components), components)
    except Mistake:
        return  # a reference to nothing, which is told where all references are
    start = (name, output_port(part) or "")
    for wire in plan.wires.values():
        try:
            ends = [resolve(end, components) for end in (wire.start, wire.to)]
        except Mistake:
            continue
        if {(end.component, end.port) for end in ends} == {start, (fed.component, fed.port)}:
            message = f"`{name}` feeds `{feeds.to}`, and the wire `{wire.name}` joins the two"
            instead = f"delete `feeds` and keep `{wire.name}`, or delete that wire"
            yield Problem(feeds.place, message, instead)


def _circles(feeding: dict[str, Any]) -> Iterator[Problem]:
    """Ways that lead back to where they begin, each told once."""
    told: set[str] = set()
    for name in feeding:
        way = [name]
        while (after := component_of(feeding[way[-1]].feeds.to)) in feeding:
            if after in way:
                circle = way[way.index(after) :]
                if not told.intersection(circle):
                    told.update(circle)
                    yield _circle(circle, feeding)
                break
            way.append(after)


def _circle(circle: list[str], feeding: dict[str, Any]) -> Problem:
    place = feeding[circle[-1]].feeds.place
    if len(circle) == 1:
        return Problem(place, f"`{circle[0]}` feeds itself", "name what it feeds")
    ways = ", ".join(f"`{name}` feeds `{feeding[name].feeds.to}`" for name in circle)
    instead = "delete one of them: current leads from the modules to the battery"
    return Problem(place, f"{ways}: this is a circle", instead)
