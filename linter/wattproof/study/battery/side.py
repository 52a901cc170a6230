"""The battery side: banks, what charges them, and what is drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, NamedTuple, TypeAlias

from wattproof.circuit import Circuit, Conductor, Passage, Terminal
from wattproof.circuit.inside import between_nets
from wattproof.circuit.walk import reached
from wattproof.kept import KeptEach, kept
from wattproof.plan.boxes import PowerBox
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Isolator
from wattproof.plan.terminals import output_port, ports, solar_inputs
from wattproof.quantities import Quantity
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.batteries import (
    LOW_VOLTAGE_PER_12_V,
    NO_LOW_VOLTAGE,
)
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.assumptions.units import (
    ALTERNATOR_LOW_VOLTAGE_PER_12_V,
    ALTERNATOR_VOLTAGE_PER_12_V,
    INVERTER_EFFICIENCY,
    NO_ALTERNATOR_VOLTAGE,
    NO_EFFICIENCY,
    VEHICLE_CHARGER_EFFICIENCY,
)
from wattproof.study.battery.bank import BankStudy as BankStudy
from wattproof.study.battery.series import Wholes
from wattproof.working import Value, declared, largest, smallest, tabled

Source: TypeAlias = Controller | Charger
"""What charges batteries."""

RiseInCold: TypeAlias = Callable[[Controller | Charger, BankStudy], Value | None]
"""What a source raises the voltage of a bank by in its coldest air (V); None where it does not."""

IN_COLD: Final = "highest charge voltage on this net, in the cold"


def in_the_cold(volts: Value) -> str:
    """What a sentence says behind a voltage that charging comes to in the coldest air alone."""
    return " in the cold" if volts.words == IN_COLD else ""


class AtPower(NamedTuple):
    """What draws the same power at whatever voltage is left at its terminals.

    power: what goes in there (W). volts: of the bank when it is low (V).
    """

    power: Value
    volts: Value


class BatterySide:
    """Banks, sources and loads, and the current in each conductor between them."""

    def __init__(self, circuit: Circuit, assume: Assumer, rise_in_cold: RiseInCold) -> None:
        self.circuit = circuit
        self.assume = assume
        self._rise_in_cold = rise_in_cold
        self.components = circuit.components
        self.banks = {
            name: BankStudy(battery, assume) for name, battery in circuit.plan.batteries.items()
        }
        self._wholes = Wholes(circuit, self.banks)
        self._charge_voltages: KeptEach[tuple[Terminal, str], Value | None] = KeptEach()
        self._highest_voltages: KeptEach[tuple[Terminal, str], Value | None] = KeptEach()
        self._feeds: KeptEach[Terminal, tuple[Controller | Charger, ...]] = KeptEach()
        self._draws: KeptEach[tuple[str, str], Value | None] = KeptEach()
        self._ever_joined: KeptEach[Terminal, frozenset[Terminal]] = KeptEach()

    @property
    def wholes(self) -> tuple[BankStudy, ...]:
        """Every bank, those of batteries in series that are declared apart as one."""
        return self._wholes.all

    def banks_of(self, terminal: Terminal) -> list[BankStudy]:
        """The banks whose pole of that name is on the terminal's net, those in series as one."""
        return self._wholes.at(terminal)

    @kept
    def posts(self) -> frozenset[Terminal]:
        """The positives of all banks."""
        return frozenset(Terminal(name, "", "positive") for name in self.banks)

    def beside(self, bank: BankStudy) -> list[BankStudy]:
        """The banks in parallel with one, itself among them."""
        return self.banks_of(Terminal(bank.name, "", "positive"))

    def charges(self, bank: BankStudy) -> list[tuple[Named, Value]]:
        """Every source that charges a bank, with its rated output current (A)."""
        net = self.circuit.nets.net(Terminal(bank.name, "", "positive"))
        feeding = (source for source in self._feeding(net) if self.may_reach(source, bank))
        return [(source, self.output(source)) for source in feeding]

    def may_reach(self, source: Controller | Charger, bank: BankStudy) -> bool:
        """False where a selector that never joins both sides is between a source and a bank."""
        if all(selector.both for selector in self.circuit.plan.selectors.values()):
            return True
        start = Terminal(bank.name, "", "positive")
        plus = Terminal(str(source.name), str(output_port(source)), "positive")
        if self.circuit.nets.net(plus) != self.circuit.nets.net(start):
            return True  # through an isolator, or to a bank in series with it
        return plus in self._ever_joined.of(start, lambda: self.circuit.ever_joined(start))

    def fed_by(self, terminal: Terminal) -> list[BankStudy]:
        """The banks whose positive is on the terminal's net, or behind isolators from there on."""
        nets = sorted(self._onward(self.circuit.nets.net(terminal)))
        return [bank for net in nets for bank in self._wholes.on(net)]

    def feeding(self, terminal: Terminal) -> tuple[Controller | Charger, ...]:
        """The sources that give current to a terminal's net, through isolators too."""
        return self._feeding(self.circuit.nets.net(terminal))

    def _feeding(self, net: Terminal) -> tuple[Controller | Charger, ...]:
        """The sources that give current to a positive net, through isolators too."""
        return self._feeds.of(net, lambda: tuple(self._found_feeding(net)))

    def _found_feeding(self, net: Terminal) -> Iterator[Controller | Charger]:
        for name, component in self.components.items():
            port = output_port(component)
            if port is not None and isinstance(component, Controller | Charger):
                own = self.circuit.nets.net(Terminal(name, port, "positive"))
                if net in self._onward(own) and not self.idle(component):
                    yield component

    def _onward(self, net: Terminal) -> set[Terminal]:
        """A net, and those that current passes on to through isolators."""
        through = self._through_isolators
        if not through:
            return {net}
        return reached([net], lambda at: (end for start, end in through if start == at))

    @kept
    def _through_isolators(self) -> tuple[tuple[Terminal, Terminal], ...]:
        """The nets that each way through an isolator leads from and to."""
        through = (i for i in self.circuit.insides if isinstance(i.component, Isolator))
        return between_nets(through, self.circuit.nets)

    def idle(self, source: Controller | Charger) -> bool:
        """True for a controller to which nothing leads any more: its array was taken away."""
        if not isinstance(source, Controller):
            return False
        inputs = (*solar_inputs(source), "alternator")
        return not any(Terminal(source.name, i, "positive") in self.circuit.around for i in inputs)

    def output(self, source: Controller | Charger) -> Value:
        """Rated or set output current of a source (A)."""
        written = source.limited_to or source.max_output_current
        return declared(written, f"Iout({source.name})", f"output current of {source.name}")

    def voltage_at(self, source: Controller | Charger, twelves: float) -> Value:
        """What a source is set to (V); one that does not tell it as alternators mostly are.

        twelves: how many times 12 V its bank has.
        """
        if source.charge_voltage is not None:
            return _set_to(source)
        usual = ALTERNATOR_VOLTAGE_PER_12_V.value * twelves
        name = str(source.name)
        return self.assume.value(NO_ALTERNATOR_VOLTAGE, name, source.at, number=usual)

    def charge_voltage(self, terminal: Terminal) -> Value | None:
        """Highest voltage (V) that a source on the terminal's net is set to; None without."""
        net = self.circuit.nets.net(terminal)
        key = (net, terminal.pole)
        return self._charge_voltages.of(key, lambda: self._charge_voltage(terminal, net))

    def highest_voltage(self, terminal: Terminal) -> Value | None:
        """The same in whatever air (V): of lead it is higher in the cold where a source says so."""
        net = self.circuit.nets.net(terminal)
        key = (net, terminal.pole)
        return self._highest_voltages.of(key, lambda: self._highest_voltage(terminal, net))

    def _highest_voltage(self, terminal: Terminal, net: Terminal) -> Value | None:
        usual = self.charge_voltage(terminal)
        cold = list(self._in_cold(terminal, net))
        if not cold and not self.banks_of(terminal):
            cold = list(self._handed_on_by_controllers(net, self.highest_voltage))
        if usual is None or not cold:
            return usual
        most = largest(cold)
        return most.named("Ucold", IN_COLD, "V") if most.number > usual.number else usual

    def _in_cold(self, terminal: Terminal, net: Terminal) -> Iterator[Value]:
        """To what each source that follows the temperature of a bank there raises it (V).

        Equalising is done by hand and to the voltage that is told of it.
        """
        behind = self.fed_by(terminal) if terminal.pole == "positive" else []
        banks = {bank.name: bank for bank in (*self.banks_of(terminal), *behind)}
        for source in self._sources_on(terminal, net):
            for bank in banks.values():
                rise = self._rise_in_cold(source, bank)
                if rise is not None:
                    told = source.charge_voltage is not None
                    yield (_set_to(source) if told else bank.charge_setting) + rise

    def _sources_on(self, terminal: Terminal, net: Terminal) -> Iterator[Controller | Charger]:
        """The sources whose output is on a net, or leads there through isolators."""
        for name, component in self.components.items():
            port = output_port(component)
            if port is None or not isinstance(component, Controller | Charger):
                continue
            own = self.circuit.nets.net(Terminal(name, port, terminal.pole))
            if own == net or (terminal.pole == "positive" and net in self._onward(own)):
                yield component

    def _charge_voltage(self, terminal: Terminal, net: Terminal) -> Value | None:
        volts: list[Value] = []
        unsaid = False
        for source in self._sources_on(terminal, net):
            unsaid = unsaid or source.charge_voltage is None
            if source.charge_voltage is not None:
                volts.append(_set_to(source))
            if source.equalise_voltage is not None:
                volts.append(_equalises_at(source))
        banks = self.banks_of(terminal)
        limits = [bank.charge_setting for bank in banks]
        if volts and not unsaid:  # what sources are set to outranks what is assumed of a bank
            limits = [limit for limit in limits if not limit.assumptions]
            most = max(each.number for each in (*volts, *limits))
            rest = [bank.resting_voltage for bank in banks]  # a bank has that whatever is set
            limits += [each for each in rest if each.number > most]
        volts += limits
        if not volts:
            volts += self._handed_on(net)
        if not volts:
            return None
        return largest(volts).named("Ucharge", "highest charge voltage on this net", "V")

    def _handed_on(self, net: Terminal) -> Iterator[Value]:
        """Highest voltages (V) of the batteries whose controllers hand it on to a net.

        What converters and power boxes give without a charge voltage is their nominal one.
        """
        for name, component in self.components.items():
            volts: Quantity | None
            if isinstance(component, Converter):
                here, volts = Terminal(name, "output", net.pole), component.output_nominal
            elif isinstance(component, PowerBox):
                here, volts = Terminal(name, "load", net.pole), component.nominal
            else:
                continue
            at = here in self.circuit.around and self.circuit.nets.net(here) == net
            if at and volts is not None:
                yield declared(volts, f"Unom({name})", f"nominal voltage of {name}")
        yield from self._handed_on_by_controllers(net, self.charge_voltage)

    def _handed_on_by_controllers(
        self, net: Terminal, voltage_of: Callable[[Terminal], Value | None]
    ) -> Iterator[Value]:
        """What controllers hand on from their batteries to a net at their load terminals (V).

        voltage_of: that of their batteries.
        """
        for name, component in self.components.items():
            of_its_own = isinstance(component, PowerBox) and component.nominal is not None
            if of_its_own or not isinstance(component, Controller):
                continue
            here = Terminal(name, "load", net.pole)
            if here not in self.circuit.around or self.circuit.nets.net(here) != net:
                continue
            battery = Terminal(name, "battery", net.pole)
            volts = voltage_of(battery) if self.circuit.nets.net(battery) != net else None
            if volts is not None:
                yield volts

    def next_in_series(self, element: Conductor | Passage) -> BankStudy | None:
        """The bank whose negative a conductor or device leads to from the positive of another.

        None for all that is no such link, and where several banks meet at the joint.
        """
        joint = self._joints.get(self.circuit.nets.net(element.start))
        cut = self.circuit.battery_side.get(element)
        if joint is None or cut is None:
            return None
        below, above = (
            Terminal(joint[0].name, "", "positive"),
            Terminal(joint[1].name, "", "negative"),
        )
        if cut.in_ring:
            return joint[1]
        before = {t for a, b in cut.before.runs for t in cut.before.order[a:b]}
        return joint[1] if (below in before) != (above in before) else None

    @kept
    def _joints(self) -> dict[Terminal, tuple[BankStudy, BankStudy]]:
        """Nets where the positive of one bank meets the negative of another, of no more."""
        net = self.circuit.nets.net
        found: dict[Terminal, tuple[list[BankStudy], list[BankStudy]]] = {}
        for bank in self.banks.values():
            for k, pole in enumerate(("positive", "negative")):
                found.setdefault(net(Terminal(bank.name, "", pole)), ([], []))[k].append(bank)
        return {n: (a[0], b[0]) for n, (a, b) in found.items() if len(a) == len(b) == 1}

    def drawn(self, component: Named, port: str) -> Value | None:
        """Current (A) that a consumer draws at low voltage; None for what draws nothing."""
        key = (str(component.name), port)
        return self._draws.of(key, lambda: self._draw(component, port))

    def at_power(self, component: Named, port: str) -> AtPower | None:
        """What a consumer draws as a power; None for what draws a current of its own.

        An inverter that switches off at a voltage it tells draws its most at that.
        """
        if isinstance(component, Load) and component.power is not None:
            power = declared(component.power, f"P({component.name})", f"power of {component.name}")
            return AtPower(power, self._low_voltage(component, ""))
        if isinstance(component, Inverter) and component.low_voltage is None:
            return AtPower(self._inverter_input(component), self._low_voltage(component, ""))
        given = isinstance(component, Converter) and component.max_input_current is not None
        if isinstance(component, Converter) and port == "input" and not given:
            return AtPower(self._converter_input(component), self._low_voltage(component, "input"))
        return None

    def exchanged(self, component: Named, port: str, drawn: Value | None) -> Value | None:
        """What a source gives or a consumer draws at a port (A); None for what does neither.

        drawn: what it draws there (A).
        """
        if isinstance(component, Charger | Controller) and output_port(component) == port:
            output = self.output(component)
            return output if drawn is None else largest([output, drawn])
        return drawn

    def _draw(self, component: Named, port: str) -> Value | None:
        if isinstance(component, Load):
            return self._load(component)
        if isinstance(component, Inverter):
            return self._inverter(component)
        if isinstance(component, Controller) and port == "alternator":
            if port not in ports(component):
                return None  # a power box, or a controller without
            return self._vehicle_charger_input(component)
        if isinstance(component, Converter) and port == "input":
            return self._converter_current(component)
        return None

    def _converter_current(self, converter: Converter) -> Value:
        """What a converter draws at full power from a low battery (A)."""
        symbol, words = f"Iin({converter.name})", f"input current of {converter.name}"
        most = converter.max_input_current
        if most is not None and converter.limited_to is None:
            return declared(most, symbol, words)
        current = self._converter_input(converter) / self._low_voltage(converter, "input")
        if most is not None:
            most_words = f"largest input current of {converter.name}"
            current = smallest([current, declared(most, f"Imax({converter.name})", most_words)])
        return current.named(symbol, words, "A")

    def _converter_input(self, converter: Converter) -> Value:
        """What goes into a converter at full power (W)."""
        name = str(converter.name)
        out = self.output(converter)
        volts = declared(converter.output_nominal, f"Uout({name})", f"output voltage of {name}")
        efficiency = (
            declared(converter.efficiency, f"η({name})", f"efficiency of {name}")
            if converter.efficiency is not None
            else self.assume.value(
                NO_EFFICIENCY, name, converter.at, number=VEHICLE_CHARGER_EFFICIENCY.value
            )
        )
        words = f"input power of {name}"
        return (out * volts / efficiency).named(f"Pin({name})", words, "W")

    def _load(self, load: Load) -> Value:
        words = f"current of {load.name}"
        if load.current is not None:
            return declared(load.current, f"I({load.name})", words)
        assert load.power is not None
        power = declared(load.power, f"P({load.name})", f"power of {load.name}")
        volts = self._low_voltage(load, "")
        return (power / volts).named(f"I({load.name})", words, "A")

    def _inverter(self, inverter: Inverter) -> Value:
        name = str(inverter.name)
        words = f"input current of {name} at full power and low battery"
        volts = self._switch_off(inverter)
        return (self._inverter_input(inverter) / volts).named(f"I({name})", words, "A")

    def _switch_off(self, inverter: Inverter) -> Value:
        """Voltage (V) at which an inverter draws its most: where it switches off.

        No battery gets as low as one that is told for another system voltage.
        """
        if inverter.low_voltage is None:
            return self._low_voltage(inverter, "")
        words = f"low-voltage cut-off of {inverter.name}"
        told = declared(inverter.low_voltage, f"Ulow({inverter.name})", words)
        banks = self.banks_of(Terminal(inverter.name, "", "positive"))
        least = smallest([bank.least_at_inverters for bank in banks]) if banks else told
        return least if least.number > told.number else told

    def _inverter_input(self, inverter: Inverter) -> Value:
        """What goes into an inverter at full power (W)."""
        name = str(inverter.name)
        power = declared(inverter.power, f"P({name})", f"power of {name}")
        efficiency = (
            declared(inverter.efficiency, f"η({name})", f"efficiency of {name}")
            if inverter.efficiency is not None
            else self.assume.value(
                NO_EFFICIENCY, name, inverter.at, number=INVERTER_EFFICIENCY.value
            )
        )
        return (power / efficiency).named(f"Pin({name})", f"input power of {name}", "W")

    def _vehicle_charger_input(self, charger: Controller) -> Value:
        """What a vehicle charger draws from the alternator side."""
        name = str(charger.name)
        terminal = Terminal(name, "battery", "positive")
        out = self.output(charger)
        volts = self.charge_voltage(terminal) or self._low_voltage(charger, "battery")
        low = self._alternator_voltage(charger)
        efficiency = self.assume.value(
            NO_EFFICIENCY, name, charger.at, number=VEHICLE_CHARGER_EFFICIENCY.value
        )
        words = f"input current of {name}"
        return (out * volts / (efficiency * low)).named(f"Iin({name})", words, "A")

    def _alternator_voltage(self, charger: Controller) -> Value:
        banks = self.banks_of(Terminal(charger.name, "alternator", "positive"))
        twelves = banks[0].twelves if banks else 1.0
        number = ALTERNATOR_LOW_VOLTAGE_PER_12_V.value * twelves
        return tabled(number, "V", "Ualt", "alternator side under load", PRACTICE)

    def _low_voltage(self, component: Named, port: str) -> Value:
        """Voltage of the bank of a consumer when it is low (V)."""
        banks = self.banks_of(Terminal(component.name, port, "positive"))
        if banks:
            return smallest([bank.low_voltage for bank in banks])
        key = "input_nominal" if port == "input" else "nominal"
        nominal = getattr(component, key, None)
        number = LOW_VOLTAGE_PER_12_V.value["agm"] * (nominal.value / 12.0 if nominal else 1.0)
        return self.assume.value(
            NO_LOW_VOLTAGE, str(component.name), component.at, kind="lead", number=number
        )


def _set_to(source: Controller | Charger) -> Value:
    """The charge voltage that a source is set to (V); it tells one."""
    assert source.charge_voltage is not None
    name = source.name
    return declared(source.charge_voltage, f"Ucharge({name})", f"charge voltage of {name}")


def _equalises_at(source: Controller | Charger) -> Value:
    """The voltage to which a source raises a bank now and then (V); it tells one."""
    assert source.equalise_voltage is not None
    name = source.name
    return declared(source.equalise_voltage, f"Uequal({name})", f"equalising voltage of {name}")
