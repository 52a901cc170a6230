"""What reaches a battery past its controller: strings with none, current into load terminals."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from wattproof.circuit.elements import Element, Source, Terminal, other_end
from wattproof.circuit.inside import Inside, between_nets
from wattproof.circuit.nets import Nets
from wattproof.circuit.walk import Walk, reached
from wattproof.plan.array import String
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import POLES, is_solar_input, output_port
from wattproof.record import record
from wattproof.source import Problem

_FED = (Battery, Charger, Controller, Inverter, Load, Starter)


@record
class Uncontrolled:
    """A string that feeds something with no controller between. fed: what, a battery first."""

    string: String
    fed: Named


def uncontrolled_strings(
    plan: Plan,
    around: dict[Terminal, list[Element]],
    controlled: set[str],
    components: Mapping[str, Named],
) -> Iterator[Uncontrolled]:
    """Strings that feed something without a controller between.

    controlled: names of the strings on solar inputs. Modules with a regulator of their own need no
    other.
    """
    for string in plan.strings.values():
        if string.name in controlled or _regulated(string, plan):
            continue
        fed = _first_fed(string, around, components)
        if fed is not None:
            yield Uncontrolled(string, components[fed])


def fed_load_terminals(plan: Plan, nets: Nets) -> Iterator[Problem]:
    """Load terminals whose positive is that of something that gives current.

    Where a controller shares its positive inside, its load and battery positives are one.
    """
    sources = [
        (name, Terminal(name, output_port(part) or "", "positive"))
        for family in (plan.batteries, plan.all_chargers, plan.controllers)
        for name, part in family.items()
    ]
    for controller in plan.all_controllers.values():
        if controller.common == "positive":
            continue
        net = nets.net(Terminal(controller.name, "load", "positive"))
        for name, terminal in sources:
            if nets.net(terminal) == net:
                message = f"`{controller.name}.load` is an outlet, and `{name}` feeds it"
                other = f"`{controller.name}.battery`" if name in plan.batteries else "the battery"
                instead = (
                    f"lead `{name}` to {other} instead; or write `common: positive` where the "
                    f"manual of `{controller.name}` says that its positives are one"
                )
                yield Problem(controller.at, message, instead)
                break


def stranded_controllers(
    plan: Plan, nets: Nets, around: dict[Terminal, list[Element]], ways: Iterable[Inside]
) -> Iterator[Controller]:
    """Controllers that are wired, and whose output leads to no battery.

    ways: through components, of which those of isolators and converters may lead to one.
    """
    onward = between_nets((w for w in ways if isinstance(w.component, Isolator | Converter)), nets)
    batteries = [nets.net(Terminal(n, "", pole)) for n in plan.batteries for pole in POLES]
    leads_there = reached(batteries, lambda net: (start for start, end in onward if end == net))
    for name, controller in plan.controllers.items():
        output = Terminal(name, "battery", "positive")
        if output in around and nets.net(output) not in leads_there:
            yield controller


def _regulated(string: String, plan: Plan) -> bool:
    names = string.modules if string.modules is not None else (string.module,)
    sheets = plan.datasheets.modules
    return all(name is not None and sheets[name].regulated for name in names)


def _first_fed(
    string: String, around: dict[Terminal, list[Element]], components: Mapping[str, Named]
) -> str | None:
    """What the positive of a string leads to, a battery before others; None to a solar input."""
    ends = (
        element.end
        for elements in around.values()
        for element in elements
        if isinstance(element, Source) and element.string is string
    )
    start = next(ends, None)
    if start is None:  # too many modules, which is said elsewhere
        return None
    found: list[tuple[bool, str]] = []
    for here in Walk([start], lambda t: ((e, other_end(e, t)) for e in around.get(t, ()))):
        component = components.get(here.component)
        if is_solar_input(component, here.port):
            return None
        if isinstance(component, _FED) and here.pole == "positive":
            found.append((not isinstance(component, Battery), here.component))
    return min(found)[1] if found else None
