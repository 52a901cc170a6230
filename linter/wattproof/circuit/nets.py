"""Nets: terminals joined by conductors and closed devices; and what is wrong as drawn."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import NamedTuple, TypeAlias

from wattproof.circuit.elements import Conductor, Element, Source, Terminal
from wattproof.circuit.ends import Ends
from wattproof.circuit.exchanged import exchanged_converter
from wattproof.circuit.groups import Groups
from wattproof.circuit.walk import steps
from wattproof.plan.array import Combiner
from wattproof.plan.boxes import PowerBox
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Busbar, Device, Distribution
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import (
    COMMON,
    POLES,
    battery_port,
    is_in_the_way,
    is_solar_input,
    output_port,
    ports,
    solar_inputs,
)
from wattproof.quantities import UNKNOWN, Quantity
from wattproof.source import Problem, Text
from wattproof.words import enumerated, quoted

NOMINALS = (12.0, 24.0, 36.0, 48.0)

Sides = tuple[Terminal, Terminal]
Rated = tuple[Named, Quantity, float]
"""A component, the nominal voltage as written, and that at its terminals (V)."""


class Nets:
    """Which terminals are one net. `net` maps each terminal to the net's first terminal."""

    def __init__(
        self, elements: list[Element], shared: Mapping[Terminal, Terminal] | None = None
    ) -> None:
        """shared: terminals that are one inside a component, each with the one it is."""
        self._groups = Groups(shared)
        for element in elements:
            if isinstance(element, Source):
                self.net(element.start)
                self.net(element.end)
            else:
                self._groups.join(element.start, element.end)

    def net(self, terminal: Terminal) -> Terminal:
        """The terminal that stands for the whole net."""
        return self._groups.of(terminal)

    def members(self) -> dict[Terminal, list[Terminal]]:
        """Every net with its terminals."""
        return self._groups.members()


_ON_A_BANK: TypeAlias = Load | Inverter | Charger | Controller


class Unlike(NamedTuple):
    """A consumer or charger that is made for another voltage than that of the bank it is on.

    bank: or the converter that feeds it. volts: nominal voltage of that (V). instead: how else the
    bank may be meant, if at all. in_series: True where the bank is one of several that have these
    volts together.
    """

    component: _ON_A_BANK
    nominal: Quantity
    bank: Battery | Converter
    volts: float
    instead: str = ""
    in_series: bool = False


def drawn_problems(
    plan: Plan, nets: Nets, elements: list[Element], ends: Ends, *, whole: bool
) -> Iterator[Problem | Unlike]:
    """Open ends, shorts, reversed poles and unlike nominal voltages, as the plan draws them.

    whole: False where parts are taken away, so that their sockets are open ends.
    """
    components = ends.components
    if whole:
        yield from _open_ends(ends, elements, plan)
        yield from _no_way_back(plan, nets, ends)
    for members in nets.members().values():
        yield from _shorts_and_reversals(members, components, plan)
    rings = list(_rings(plan, nets))
    yield from rings
    yield from _shorted_by_chargers(plan, nets)
    yield from _shorted_by_ground(plan, nets, ends)
    chains = list(_unlike_chains(plan, nets, components)) if not rings else []
    across = {str(each.component.name) for each in chains if isinstance(each, Unlike)}
    yield from chains
    yield from _unlike_nominals(plan, nets, ends, across)


def _open_ends(ends: Ends, elements: list[Element], plan: Plan) -> Iterator[Problem]:
    components = ends.components
    touched: dict[str, set[Terminal]] = {}
    for element in elements:
        if isinstance(element, Conductor):
            for terminal in (element.start, element.end):
                touched.setdefault(terminal.component, set()).add(terminal)
    bonded = set(ends.bonds.values())
    for terminal in bonded:  # a battery whose negative is tied to the body, as in every car
        if terminal.component in plan.batteries:
            touched.setdefault(terminal.component, set()).add(terminal)
    wired = _named_by_wires(plan)
    plugged = {name for joint in plan.combiners.values() for name in joint.joined}
    inline = {i.device for wire in plan.wires.values() for i in wire.inline}
    of_one_pole = ends.joint_poles
    for name, component in components.items():
        wanted = [p for p in ports(component) if _must_be_joined(component, p)]
        if name in inline or name in plugged:
            continue
        reached = [t for t in touched.get(name, ()) if not t.port.startswith("#")]
        if not reached and name not in wired:
            continue  # used by nothing, which is a finding
        for port in wanted:
            shown = f"{name}.{port}" if port else name
            poles = {t.pole for t in reached if t.port == port}
            unfed = isinstance(component, Isolator) or is_solar_input(component, port)
            if not poles and shown not in wired and unfed:
                continue  # a controller without an array, and the like, which is a finding
            if poles and all(pole in poles or f"{shown}.{pole}" in wired for pole in POLES):
                continue  # the wire that names the other pole is told by itself
            if not poles and shown not in wired:
                message = f"`{shown}` is an open end: no wire leads to it"
                instead = "wire it, or delete what it belongs to"
                if getattr(component, "polarised", None):
                    instead = (
                        f"name its sides, `{name}.line` and `{name}.load`: it works in one "
                        "direction only"
                    )
                elif is_in_the_way(component) and (other := _other_side(name, shown, plan)):
                    instead = other
                yield Problem(component.at, message, instead)
            elif len(poles) == 1 and _needs_both_poles(component) and name not in of_one_pole:
                missing = "negative" if poles == {"positive"} else "positive"
                message = f"the {missing} of `{shown}` is an open end: only its other pole is wired"
                instead = f"wire `{shown}.{missing}` too"
                if isinstance(component, Combiner):
                    instead += (
                        f"; or, where it joins one pole alone, the {missing} of each thing that it "
                        "joins to another joint"
                    )
                if Terminal(name, port, missing) in bonded:
                    instead += "; its current goes back by a wire (`to: chassis`), not by a bond"
                yield Problem(component.at, message, instead)


def _other_side(name: str, side: str, plan: Plan) -> str:
    """What to write where all wires of a device are drawn to one side; empty for a single one.

    That which leads to the post of a battery is told where there is one alone.
    """
    wires = [wire for wire in plan.wires.values() if name in wire.components]
    at_post = [w for w in wires if any(each in plan.batteries for each in w.components)]
    if len(wires) < 2:
        return ""
    if len(at_post) == 1:
        [wire] = at_post
        return f"write `{side}` in place of `{name}` in `{wire.name}`, which is on its other side"
    return f"write `{side}` in place of `{name}` in the wires on its other side"


def _must_be_joined(component: Named, port: str) -> bool:
    if isinstance(component, PowerBox):
        return port == "pv"
    if isinstance(component, Controller):
        solar = port in solar_inputs(component)[:1] and component.kind != "vehicle-charger"
        return port == "battery" or solar
    if isinstance(component, Isolator | Converter):
        return port == "input"
    return port == "" or not isinstance(component, Distribution)


def _needs_both_poles(component: Named) -> bool:
    """Alternators may return through the engine; bars, panels and devices may be of one pole."""
    if isinstance(component, Charger):
        shared = isinstance(component, Converter) and not component.isolated
        return component.kind != "alternator" and not shared
    return not isinstance(component, Busbar | Device | Distribution | Starter)


def _named_by_wires(plan: Plan) -> set[str]:
    """What wires name at their ends: `tracker.pv.positive` names `tracker` and `tracker.pv` too."""
    named: set[str] = set()
    for wire in plan.wires.values():
        for end in (wire.start, wire.to):
            parts = end.split(".")
            named.update(".".join(parts[:k]) for k in range(1, len(parts) + 1))
    return named


def _shorts_and_reversals(
    members: list[Terminal], components: dict[str, Named], plan: Plan
) -> Iterator[Problem]:
    """Both poles of one port on a net, or poles of unlike sign where they may not meet."""
    poles: dict[tuple[str, str], set[str]] = {}
    for terminal in members:
        if terminal.component in components and terminal.pole in ("positive", "negative"):
            poles.setdefault((terminal.component, terminal.port), set()).add(terminal.pole)
    shorted = [key for key, value in poles.items() if len(value) > 1]
    if shorted:
        name, port = shorted[0]
        shown = f"{name}.{port}" if port else name
        message = f"the wires join the positive and the negative of `{shown}`: a short as drawn"
        hazard = hazard_at(members, components)
        yield Problem(components[name].at, message, "check which pole each wire leads to", hazard)
        return
    fixed = {
        key: next(iter(value))
        for key, value in poles.items()
        if isinstance(components[key[0]], Controller | Inverter | Load | Charger | Starter)
    }
    batteries = {
        key: next(iter(value))
        for key, value in poles.items()
        if isinstance(components[key[0]], Battery)
    }
    signs = set(fixed.values())
    if set(batteries.values()) == set(POLES):
        return  # a joint of batteries in series, where what is on either half meets
    if len(signs) > 1 or (fixed and batteries and signs.isdisjoint(batteries.values())):
        odd = _odd_one_out({**batteries, **fixed}, components)
        wire = _wire_to(odd, plan)
        shown = ".".join(p for p in odd if p)
        message = f"the poles are reversed at `{shown}`: positive meets negative on this net"
        place = wire.at if wire is not None else components[odd[0]].at
        hazard = "" if isinstance(components[odd[0]], Load) else "fire"
        yield Problem(place, message, f"swap the two conductors at `{shown}`", hazard)


def hazard_at(terminals: Iterable[Terminal], components: Mapping[str, Named]) -> str:
    """What threatens people where what should be apart meets at some terminals.

    A battery drives thousands of amperes; what is behind none breaks something at the most.
    """
    banks = any(isinstance(components.get(each.component), Battery) for each in terminals)
    return "fire" if banks else ""


def _rings(plan: Plan, nets: Nets) -> Iterator[Problem]:
    """Batteries of which each begins where another ends, so that they short each other."""
    ends = {
        battery.name: _sides(str(battery.name), "", nets) for battery in plan.batteries.values()
    }
    left = dict(ends)
    while True:  # what begins or ends where no other ends or begins is in no ring
        plus, minus = ({e[k] for e in left.values()} for k in (0, 1))
        ringed = {n: e for n, e in left.items() if e[0] in minus and e[1] in plus}
        if ringed == left:
            break
        left = ringed
    left = {n: e for n, e in left.items() if e[0] != e[1]}  # a short that is said already
    if left:
        last = plan.batteries[list(left)[-1]]
        names = ", ".join(f"`{name}`" for name in left)
        message = f"{names} are joined in a ring, plus to minus all around: a short as drawn"
        yield Problem(last.at, message, f"check the two conductors at `{last.name}`", "fire")


def _odd_one_out(
    poles: dict[tuple[str, str], str], components: Mapping[str, Named]
) -> tuple[str, str]:
    """The terminal whose pole the fewest others on the net share; of equals a load, or the last."""
    values = list(poles.values())

    def shared(key: tuple[str, str]) -> tuple[int, bool]:
        return values.count(poles[key]), not isinstance(components[key[0]], Load)

    return min(reversed(list(poles)), key=shared)


def _wire_to(key: tuple[str, str], plan: Plan) -> Named | None:
    shown = ".".join(part for part in key if part)
    for wire in plan.wires.values():
        if any(end == shown or end.startswith(shown + ".") for end in (wire.start, wire.to)):
            return wire
    return None


def nominal_class(voltage: float) -> float | None:
    """The nominal system voltage (V) that a battery or device voltage belongs to; None if none.

    A lithium iron phosphate pack is named by 3.2 V a cell (12.8, 25.6, 51.2 V), a lead battery by
    2 V a cell (12, 24, 48 V): within 12 % of the nominal (common practice).
    """
    near = min(NOMINALS, key=lambda n: abs(voltage - n))
    return near if abs(voltage - near) <= 0.12 * near else None


NEARLY = 1.2
"""Within so many times the nominal voltage of a bank what hangs on it is made for it: a radio for
13.8 V is one for 12 V (common practice)."""


def _is_for(volts: float, bank: float) -> bool:
    """True where what is made for one nominal voltage (V) works on a bank of another."""
    alike = nominal_class(volts) == nominal_class(bank)
    return alike or max(volts, bank) <= NEARLY * min(volts, bank)


def _unlike_nominals(
    plan: Plan, nets: Nets, ends: Ends, told: Collection[str]
) -> Iterator[Problem | Unlike]:
    """Components of unlike nominal voltage whose positives and negatives are the same nets.

    told: those of which it is said already.
    Negatives that lead back by chassis or water are one, and so is that of an engine's alternator
    or starter where no wire is drawn to it.
    """
    components = ends.components
    joined: dict[Sides, list[Rated]] = {}
    for name, component in components.items():
        nominal = getattr(component, "nominal", None)
        if nominal is None or name in told:
            continue
        at_ports = {battery_port(component): nominal}
        if isinstance(component, Converter):
            at_ports["input"] = component.input_nominal
        for port, volts in at_ports.items():
            each = (component, volts, _bank(component, volts))
            joined.setdefault(_sides(name, port, nets), []).append(each)
    raised = {
        nets.net(Terminal(name, "", "positive"))
        for name, component in components.items()
        if isinstance(component, Battery)
    }  # what has its negative there is in series, above another
    by_body = list(_by_body(joined, raised, plan, nets, ends))
    for beside in _beside_each_other(nets, components):
        whole = [own for s, own in joined.items() if s[0] in beside and s[1] not in raised]
        if whole:
            joined[(min(beside), min(beside))] = [each for own in whole for each in own]
    for load, battery in _load_ports(nets, components):
        if load in joined and battery in joined:
            joined[load][:0] = joined[battery][:1]
    turned = list(_exchanged(joined, nets, components))
    yield from turned
    places = {problem.place for problem in turned}
    odd: dict[Text, Unlike] = {}
    for group in (*joined.values(), *by_body):
        group = [each for each in group if each[0].at not in places]
        for alien in _odd_ones(group, plan, nets):
            odd.setdefault(alien.component.name, alien)
        group = [each for each in group if each[0].name not in odd]
        if not group:
            continue
        first, first_nominal, volts = group[0]
        overcharged = _overcharged(group, nets, components)
        for other, nominal, other_volts in group[1:]:
            both = isinstance(first, Battery) and isinstance(other, Battery)
            unlike = nominal_class(volts) != nominal_class(other_volts)
            if unlike and (both or not _is_for(other_volts, volts)):
                message = (
                    f"`{other.name}` ({_shown(nominal, other_volts)}) is joined to `{first.name}` "
                    f"({_shown(first_nominal, volts)}): unlike nominal voltages{overcharged}"
                )
                otherwise = (
                    _told_of_the_bank(first, other_volts)
                    or _told_of_the_bank(other, volts)
                    or _meant_in_series(first, other_volts, plan, nets)
                    or _meant_in_series(other, volts, plan, nets)
                )
                known = UNKNOWN not in (nominal.text, first_nominal.text)
                hazard = "fire" if overcharged or (known and both) else ""
                yield Problem(nominal.place, message, otherwise + _ONE_VOLTAGE, hazard)
                overcharged = ""
    yield from odd.values()


def _odd_ones(group: list[Rated], plan: Plan, nets: Nets) -> Iterator[Unlike]:
    """Consumers and chargers of a group that its bank, and what else tells of it, do not fit.

    Where several do not fit and nothing agrees with the bank, it may be the bank that is told
    wrongly, and nothing can be reckoned of it.
    """
    told = {each[0].name: each for each in group if each[1].text != UNKNOWN}
    banks = [each for each in told.values() if isinstance(each[0], Battery)]
    banks = banks or [each for each in told.values() if _is_output(each)]
    classes = {nominal_class(volts) for _, _, volts in banks}
    if len(classes) != 1 or classes == {None}:
        return
    bank, _, volts = banks[0]
    assert isinstance(bank, Battery | Converter)
    odd = [
        (component, nominal, own)
        for component, nominal, own in told.values()
        if not _is_for(own, volts)
    ]
    if len(odd) > 1 and len(told) - len(odd) < 2:
        return
    for component, nominal, own in odd:
        if isinstance(component, _ON_A_BANK) and not isinstance(component, Converter):
            instead = _told_of_the_bank(bank, own) or _meant_in_series(bank, own, plan, nets)
            yield Unlike(component, nominal, bank, volts, instead)


def _is_output(rated: Rated) -> bool:
    """True for the side of a converter that gives."""
    component, nominal, _ = rated
    return isinstance(component, Converter) and nominal is not component.input_nominal


OVERCHARGES = 1.5
"""So many times its nominal voltage is more than any battery is ever charged to: one of 12 V is
equalised at 16 V at the very most (common practice)."""


def _overcharged(group: list[Rated], nets: Nets, components: dict[str, Named]) -> str:
    """Words on the source that drives a battery of a group far over its voltage, or none.

    A source counts by the voltage that it is told to charge to, else by its nominal voltage.
    """
    members = [component for component, _, _ in group]
    for battery, nominal, volts in group:
        if not isinstance(battery, Battery) or nominal.text == UNKNOWN:
            continue
        sides = _sides(str(battery.name), "", nets)
        for name, source in components.items():
            if output_port(source) is None:
                continue
            apart = _sides(name, battery_port(source), nets) != sides
            if apart and not any(source is member for member in members):
                continue
            told = getattr(source, "charge_voltage", None) or getattr(source, "nominal", None)
            if told is not None and told.text != UNKNOWN and told.value > OVERCHARGES * volts:
                return f", and `{source.name}` ({told}) drives `{battery.name}` far past full"
    return ""


def _sides(name: str, port: str, nets: Nets) -> Sides:
    """The nets of the two poles of a port."""
    return nets.net(Terminal(name, port, "positive")), nets.net(Terminal(name, port, "negative"))


_ONE_VOLTAGE = "put a converter between them, or use parts of one nominal voltage"


def _told_of_the_bank(component: Named, beside: float) -> str:
    """What to write where the voltage of a whole bank may be told as that of one battery.

    beside: the nominal voltage (V) of what is joined to it.
    """
    layout = component.arrangement if isinstance(component, Battery) else None
    nominal = getattr(component, "nominal", None)
    if layout is None or nominal is None or layout.in_series < 2:
        return ""
    if nominal_class(nominal.value) != nominal_class(beside):
        return ""
    each = nominal.value / layout.in_series
    return (
        f"where the {nominal} of `{component.name}` are those of all in series, write "
        f"`nominal: {each:g} V`, of one; else "
    )


def _meant_in_series(component: Named, beside: float, plan: Plan, nets: Nets) -> str:
    """What to write where batteries are joined side by side, and in series would fit.

    beside: the nominal voltage (V) of what is joined to them.
    """
    if not isinstance(component, Battery):
        return ""
    own = {nets.net(Terminal(component.name, "", pole)) for pole in POLES}
    alike = sorted(
        battery.name
        for battery in plan.batteries.values()
        if own & {nets.net(Terminal(battery.name, "", pole)) for pole in POLES}
        and nominal_class(_volts(battery)) == nominal_class(_volts(component))
    )
    if len(alike) < 2 or nominal_class(len(alike) * _volts(component)) != nominal_class(beside):
        return ""
    return (
        f"where {quoted(alike)} are to be in series, lead the positive of one to the negative of "
        "the next; else "
    )


def _exchanged(
    joined: Mapping[Sides, list[Rated]], nets: Nets, components: dict[str, Named]
) -> Iterator[Problem]:
    """Converters of which each side is on the voltage of the other side."""
    for name, component in components.items():
        if not isinstance(component, Converter):
            continue
        told = {"input": component.input_nominal, "output": component.output_nominal}
        classes = {port: nominal_class(volts.value) for port, volts in told.items()}
        meets: dict[str, str] = {}
        for port, other in (("input", "output"), ("output", "input")):
            plus, minus = (nets.net(Terminal(name, port, pole)) for pole in POLES)
            beside = [each for each in joined.get((plus, minus), ()) if each[0] is not component]
            fits = [nominal_class(volts) == classes[other] for _, _, volts in beside]
            if beside and all(fits) and classes["input"] != classes["output"]:
                meets[port] = str(beside[0][0].name)
        if len(meets) == 2:
            yield exchanged_converter(component, meets["input"], meets["output"])


def _by_body(
    joined: Mapping[Sides, list[Rated]], raised: set[Terminal], plan: Plan, nets: Nets, ends: Ends
) -> Iterator[list[Rated]]:
    """What lies between one positive and the body of a vehicle or boat, its engine included."""
    body = set(_tied(plan, nets, ends, earth=False)) - raised
    wired = {net for net, members in nets.members().items() if len(members) > 1}
    engines = [
        component
        for component in ends.components.values()
        if isinstance(component, Charger | Starter) and not _needs_both_poles(component)
    ]
    alone = {Terminal(str(engine.name), battery_port(engine), "negative") for engine in engines}
    alone -= wired
    for plus in dict.fromkeys(plus for plus, _ in joined):
        minuses = [minus for start, minus in joined if start == plus and minus not in raised]
        if alone.isdisjoint(minuses):
            minuses = [minus for minus in minuses if minus in body]
        if len(minuses) > 1:
            yield [own for minus in minuses for own in joined[plus, minus]]


def _beside_each_other(nets: Nets, components: dict[str, Named]) -> Iterator[set[Terminal]]:
    """The positive nets at each isolator and selector, which are of one nominal voltage."""
    for name, component in components.items():
        if isinstance(component, Isolator | Selector):
            names = {port for port in ports(component) if port}
            yield {nets.net(Terminal(name, port, "positive")) for port in names}


def _load_ports(
    nets: Nets, components: dict[str, Named]
) -> Iterator[tuple[tuple[Terminal, Terminal], tuple[Terminal, Terminal]]]:
    """The nets of each controller's load terminals, which have its battery's voltage, and those of
    the battery. Loads there may lead back to either negative."""
    for name, component in components.items():
        port = battery_port(component)
        if not isinstance(component, Controller) or port != "battery":
            continue
        plus, minus = _sides(name, port, nets)
        load, back = _sides(name, "load", nets)
        if load != plus:
            for negative in dict.fromkeys((back, minus)):
                yield (load, negative), (plus, minus)


def _shown(nominal: Quantity, volts: float) -> str:
    """A voltage as written; that of a bank in series as reckoned."""
    return f"{nominal}" if volts == nominal.value else f"{volts:g} V"


def _bank(component: Named, nominal: Quantity) -> float:
    """Nominal voltage (V) at the component's terminals."""
    if isinstance(component, Battery) and component.arrangement is not None:
        return nominal.value * component.arrangement.in_series
    return nominal.value


def _volts(battery: Battery) -> float:
    """Nominal voltage (V) of a bank."""
    return _bank(battery, battery.nominal)


def _no_way_back(plan: Plan, nets: Nets, ends: Ends) -> Iterator[Problem]:
    """Loads and inverters fed by a battery whose negative leads back to none, bonds counted."""
    fed = {nets.net(Terminal(name, "", "positive")) for name in plan.batteries}
    back = {nets.net(Terminal(name, "", pole)) for name in plan.batteries for pole in POLES}
    for port in ("battery", "load"):
        back |= {nets.net(Terminal(name, port, "negative")) for name in plan.all_controllers}
    back |= {nets.net(Terminal(name, "output", "negative")) for name in plan.converters}
    for earth in (True, False):
        tied = set(_tied(plan, nets, ends, earth=earth))
        back |= tied if tied & back else set()
    astray: dict[Terminal, list[Named]] = {}
    for name, consumer in {**plan.all_loads, **plan.all_inverters}.items():
        plus, minus = (nets.net(Terminal(name, "", pole)) for pole in POLES)
        if plus in fed and minus not in back:
            astray.setdefault(minus, []).append(consumer)
    members = nets.members()
    for minus, consumers in astray.items():
        shared = [t.component for t in members[minus] if t.component in plan.distribution]
        if len(consumers) > 1 and shared:
            names = quoted(str(each.name) for each in consumers)
            message = (
                f"the negative of `{shared[0]}`, by which {names} lead back, leads to no battery: "
                "no current can flow"
            )
            instead = (
                f"lead `{shared[0]}.negative` back to the battery, or to `chassis` where the body "
                "brings it back"
            )
            yield Problem(plan.distribution[shared[0]].at, message, instead)
            continue
        for consumer in consumers:
            grounds = [g for g in COMMON if nets.net(Terminal(g, "", "negative")) == minus]
            to = (
                f"only to the {grounds[0]}, which no battery is tied to"
                if grounds
                else "to no battery"
            )
            message = f"the negative of `{consumer.name}` leads {to}: no current can flow"
            instead = f"lead `{consumer.name}.negative` back to the battery"
            if grounds and grounds[0] == COMMON[0]:
                instead += ", or tie the negative of the battery to the chassis under `bonds`"
            yield Problem(consumer.at, message, instead)


def _tied(plan: Plan, nets: Nets, ends: Ends, *, earth: bool) -> dict[Terminal, Named]:
    """Nets that bonds and wires tie to the earth, or to chassis and water, and the last tie."""
    grounds = [c for c in COMMON if (c == "earth") == earth]
    tied: dict[Terminal, Named] = {}
    for wire in plan.wires.values():
        named = {end.partition(".")[0] for end in (wire.start, wire.to)}
        for ground in named & set(grounds):
            tied[nets.net(Terminal(ground, "", "negative"))] = wire
    for bond in plan.bonds.values():
        if bond.to in grounds:
            tied[nets.net(ends.bonds[bond.name])] = bond
    return tied


def _shorted_by_chargers(plan: Plan, nets: Nets) -> Iterator[Problem]:
    """Batteries whose poles meet over the negative that a vehicle charger's two sides share."""
    inside: Groups[Terminal] = Groups()
    chargers = [
        unit
        for unit in plan.controllers.values()
        if unit.kind == "vehicle-charger" and not unit.isolated
    ]
    for unit in chargers:
        sides = (Terminal(unit.name, port, "negative") for port in ("alternator", "battery"))
        inside.join(*(nets.net(side) for side in sides))
    for battery in plan.batteries.values():
        plus, minus = (nets.net(Terminal(battery.name, "", pole)) for pole in POLES)
        if plus != minus and inside.of(plus) == inside.of(minus):
            names = enumerated(f"`{unit.name}`" for unit in chargers)
            message = (
                f"the positive of `{battery.name}` is led to a negative that is one with its own "
                f"inside {names}: a short as drawn"
            )
            instead = (
                "check which pole each end leads to; where the label says that its two sides share "
                "no pole, write `isolated: true`"
            )
            yield Problem(battery.at, message, instead, "fire")
            break


def _shorted_by_ground(plan: Plan, nets: Nets, ends: Ends) -> Iterator[Problem]:
    """Batteries of which ties to one and the same ground join both poles."""
    for earth in (True, False):
        tied = _tied(plan, nets, ends, earth=earth)
        for battery in plan.batteries.values():
            plus, minus = (nets.net(Terminal(battery.name, "", pole)) for pole in POLES)
            if plus != minus and plus in tied and minus in tied:
                message = (
                    f"`{tied[plus].name}` ties the positive of `{battery.name}` to the ground that "
                    f"`{tied[minus].name}` ties its negative to: a short as drawn"
                )
                instead = f"take `{tied[plus].name}` away; the negative alone is tied to a ground"
                yield Problem(tied[plus].at, message, instead, "fire")
                break


def _unlike_chains(
    plan: Plan, nets: Nets, components: dict[str, Named]
) -> Iterator[Problem | Unlike]:
    """Batteries in series whose sum is not the voltage of what lies across them."""
    potentials: dict[Terminal, tuple[Terminal, float]] = {}
    ends = {
        battery.name: _sides(str(battery.name), "", nets) for battery in plan.batteries.values()
    }
    for battery in plan.batteries.values():
        yield from _levelled(battery, ends, potentials, plan)
    banks = set(ends.values())
    across: list[tuple[Named, Quantity, float]] = []
    for name, component in components.items():
        nominal = getattr(component, "nominal", None)
        if nominal is None or isinstance(component, Battery):
            continue
        sides = _sides(name, battery_port(component), nets)
        plus, minus = (potentials.get(side) for side in sides)
        if plus is None or minus is None or sides in banks or plus[0] != minus[0]:
            continue
        volts = plus[1] - minus[1]
        if volts > 0.0:  # else the wrong way round, which is said elsewhere
            across.append((component, nominal, volts))
    odd = [each for each in across if not _is_for(each[1].value, each[2])]
    alone = len(odd) == 1 or len(odd) < len(across)
    for component, nominal, volts in odd:
        if alone and isinstance(component, _ON_A_BANK) and not isinstance(component, Converter):
            top = _sides(str(component.name), battery_port(component), nets)[0]
            bank = next((b for b in plan.batteries.values() if ends[b.name][0] == top), None)
            if bank is not None:
                yield Unlike(component, nominal, bank, volts, in_series=True)
                continue
        message = (
            f"`{component.name}` ({nominal}) lies across batteries in series of {volts:g} V "
            "together: unlike nominal voltages"
        )
        hazard = ""
        if output_port(component) is not None and nominal.value > OVERCHARGES * volts:
            hazard = "fire"
        yield Problem(nominal.place, message, _ONE_VOLTAGE, hazard)


def _levelled(
    battery: Battery,
    ends: dict[Text, Sides],
    potentials: dict[Terminal, tuple[Terminal, float]],
    plan: Plan,
) -> Iterator[Problem]:
    """Give every net that batteries lead to from one of them its voltage against that one's minus.

    A battery of another voltage than what its nets have joins unlike series in parallel; what lies
    beside another on the same two nets is compared with that one by nominal voltage.
    """
    start = ends[battery.name][1]
    if start in potentials:
        return
    potentials[start] = (start, 0.0)

    def through(here: Terminal) -> Iterator[tuple[Text, Terminal]]:
        for name, (plus, minus) in ends.items():
            if here in (plus, minus) and plus != minus:
                yield name, plus if here == minus else minus

    met = []
    for step in steps([start], through):
        met.append(step.way)
        if step.first:
            sign = 1.0 if step.here == ends[step.way][1] else -1.0
            volts = potentials[step.here][1] + sign * _volts(plan.batteries[step.way])
            potentials[step.there] = (start, volts)
    levels = [volts for root, volts in potentials.values() if root == start]
    apart = 0.12 * (max(levels) - min(levels))  # as far as those of one nominal voltage may be
    for name in dict.fromkeys(met):
        plus, minus = ends[name]
        own, left = _volts(plan.batteries[name]), potentials[plus][1] - potentials[minus][1]
        if abs(own - left) > apart and list(ends.values()).count((plus, minus)) == 1:
            message = (
                f"`{name}` ({own:g} V) closes a loop whose other batteries leave {left:g} V for "
                "it: unlike voltages in parallel"
            )
            instead = "put as many alike in series on every way, or keep the ways apart"
            yield Problem(plan.batteries[name].at, message, instead)
