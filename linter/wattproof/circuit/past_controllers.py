"""What reaches a battery past its controller: strings with none, current into load terminals."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from wattproof.circuit.elements import Element, Passage, Source, Terminal, other_end
from wattproof.circuit.inside import Inside, between_nets
from wattproof.circuit.nets import Nets
from wattproof.circuit.walk import Walk, reached
from wattproof.plan.array import String
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import (
    POLES,
    is_solar_input,
    other_pole,
    output_port,
    solar_inputs,
)
from wattproof.record import record
from wattproof.source import Problem

_FED = (Battery, Charger, Controller, Inverter, Load, Starter)


@record
class Uncontrolled:
    """A string that feeds something with no controller between.

    fed: the nearest battery, or the nearest of anything else where there is none.
    """

    string: String
    fed: Named


@record
class Stranded:
    """A controller or charger whose output leads to no battery.

    output: its terminal. isolator: the one on an output of which it hangs; empty without.
    """

    source: Controller | Charger
    output: str
    isolator: str


def uncontrolled_strings(
    plan: Plan,
    around: dict[Terminal, list[Element]],
    controlled: set[str],
    components: Mapping[str, Named],
    *,
    regulated: bool,
) -> Iterator[Uncontrolled]:
    """Strings that feed something without a controller between.

    controlled: names of the strings on solar inputs. regulated: True for those whose modules have a
    regulator of their own, which need no other; False for the rest.
    """
    for string in plan.strings.values():
        if string.name in controlled or _regulated(string, plan) is not regulated:
            continue
        fed = _first_fed(string, around, components)
        if fed is not None:
            yield Uncontrolled(string, components[fed])


def turned_strings(plan: Plan, nets: Nets, controlled: set[str]) -> Iterator[Problem]:
    """Strings without a controller whose poles are exchanged at what they feed.

    controlled: names of the strings on solar inputs. Where the halves of a bank in series meet both
    poles are right.
    """
    fed = (*plan.batteries, *plan.loads, *plan.inverters)
    posts = {p: {nets.net(Terminal(name, "", p)) for name in fed} for p in POLES}
    banks = {nets.net(Terminal(name, "", p)) for name in plan.batteries for p in POLES}
    for string in plan.strings.values():
        ends = {p: nets.net(Terminal(string.name, "", p)) for p in POLES}
        met = [net for p, net in ends.items() if net in posts[other_pole(p)] - posts[p]]
        if met and string.name not in controlled:
            message = f"the poles are reversed at `{string.name}`: positive meets negative"
            instead = f"swap the two conductors at `{string.name}`"
            hazard = "fire" if banks.intersection(met) else ""
            yield Problem(string.at, message, instead, hazard)


def fed_load_terminals(
    plan: Plan, elements: Sequence[Element], shared: Mapping[Terminal, Terminal]
) -> Iterator[Problem]:
    """Load terminals whose positive is that of something that gives current.

    Where a controller shares its positive inside, its load and battery positives are one. What
    stands on the other side of a selector that never joins both does not feed them.
    """
    sources = [
        (name, Terminal(name, output_port(part) or "", "positive"))
        for family in (plan.batteries, plan.all_chargers, plan.controllers)
        for name, part in family.items()
    ]
    for controller in plan.all_controllers.values():
        if controller.common == "positive":
            continue
        outlet = Terminal(controller.name, "load", "positive")
        nets = _turned_to(outlet, elements, shared)
        for name, terminal in sources:
            if nets.net(terminal) == nets.net(outlet):
                message = f"`{controller.name}.load` is an outlet, and `{name}` feeds it"
                other = f"`{controller.name}.battery`" if name in plan.batteries else "the battery"
                instead = f"lead `{name}` to {other} instead"
                opened = Nets([e for e in elements if not _is_switch(e)], shared)
                if opened.net(terminal) != opened.net(outlet):
                    instead = (
                        "where a switch leads the loads past it, write a selector with `both: "
                        "false`, which leads them to it or to the battery"
                    )
                instead += (
                    "; or write `common: positive` where the manual of "
                    f"`{controller.name}` says that its positives are one"
                )
                yield Problem(controller.at, message, instead)
                break


def _turned_to(
    here: Terminal, elements: Sequence[Element], shared: Mapping[Terminal, Terminal]
) -> Nets:
    """The nets with every selector that never joins both turned to the side of a terminal."""
    apart = [e for e in elements if _never_joins_both(e)]
    bare = Nets([e for e in elements if e not in apart], shared)
    own = [e for e in apart if bare.net(here) in (bare.net(e.start), bare.net(e.end))]
    return Nets([e for e in elements if e not in apart or e in own], shared) if apart else bare


def _is_switch(element: Element) -> bool:
    return isinstance(element, Passage) and isinstance(element.device, Switch)


def _never_joins_both(element: Element) -> bool:
    """True for the way through one side of a selector that has no position for both."""
    device = element.device if isinstance(element, Passage) else None
    return isinstance(device, Selector) and not device.both


def stranded_sources(
    plan: Plan, nets: Nets, around: dict[Terminal, list[Element]], ways: Iterable[Inside]
) -> Iterator[Stranded]:
    """Controllers and chargers that are wired, and whose output leads to no battery.

    Of an alternator the negative may be wired alone, by mistake. ways: through components, of which
    those that charge may lead to one. What is in a power box has a battery of its own.
    """
    onward = between_nets((way for way in ways if way.end.port != "load"), nets)
    batteries = [nets.net(Terminal(n, "", pole)) for n in plan.batteries for pole in POLES]
    batteries += [
        nets.net(Terminal(name, port, "positive"))
        for name, box in plan.power_boxes.items()
        for port in solar_inputs(box)
    ]
    leads_there = reached(batteries, lambda net: (start for start, end in onward if end == net))
    outputs: dict[Terminal, Controller | Charger] = {
        **{Terminal(name, "battery", "positive"): c for name, c in plan.controllers.items()},
        **{Terminal(name, "", "positive"): c for name, c in plan.chargers.items()},
    }
    isolators = {
        nets.net(Terminal(name, output, "positive")): name
        for name, isolator in plan.diode_isolators.items()
        for output in isolator.outputs
    }
    for output, source in outputs.items():
        net = nets.net(output)
        is_wired = output in around or output._replace(pole="negative") in around
        if is_wired and net not in leads_there:
            shown = ".".join(filter(None, output[:2]))
            yield Stranded(source, shown, isolators.get(net, ""))


def _regulated(string: String, plan: Plan) -> bool:
    names = string.modules if string.modules is not None else (string.module,)
    sheets = plan.datasheets.modules
    return all(name is not None and sheets[name].regulated for name in names)


def _first_fed(
    string: String, around: dict[Terminal, list[Element]], components: Mapping[str, Named]
) -> str | None:
    """What the positive of a string leads to first; None to a solar input.

    Through diode isolators too. A battery if any, then what tells no voltage that it stands, or
    the least.
    """

    def ways(here: Terminal) -> Iterator[tuple[Element | None, Terminal]]:
        yield from ((e, other_end(e, here)) for e in around.get(here, ()))
        isolator = components.get(here.component)
        if isinstance(isolator, Isolator) and (here.port, here.pole) == ("input", "positive"):
            yield from ((None, here._replace(port=str(output))) for output in isolator.outputs)

    ends = (
        element.end
        for elements in around.values()
        for element in elements
        if isinstance(element, Source) and element.string is string
    )
    start = next(ends, None)
    if start is None:  # too many modules, which is said elsewhere
        return None
    found: list[tuple[bool, float, str]] = []
    for here in Walk([start], ways):
        component = components.get(here.component)
        if is_solar_input(component, here.port):
            return None
        if isinstance(component, _FED) and here.pole == "positive":
            told = component.max_voltage if isinstance(component, Load) else None
            stands = told.value if told is not None else 0.0
            found.append((not isinstance(component, Battery), stands, here.component))
    return min(found, key=lambda each: each[:2])[2] if found else None
