"""The battery side: banks, what charges them, and what is drawn."""

from __future__ import annotations

from functools import cached_property

from wattproof.circuit import Circuit, Conductor, Passage, Terminal, nominal_class
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Isolator
from wattproof.plan.terminals import by_name, output_port
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.assumptions import Assumer, Silence
from wattproof.study.assumptions.batteries import (
    CHARGE_RATE,
    CHARGE_RATE_AT_BEST,
    CHARGE_VOLTAGE_AT_BEST_PER_12_V,
    CHARGE_VOLTAGE_PER_12_V,
    FULL_AT_PER_12_V,
    LEAD,
    LOW_VOLTAGE_PER_12_V,
    NO_CHARGE_LIMIT,
    NO_CHARGE_TEMPERATURE,
    NO_CHARGE_VOLTAGE,
    NO_DEPTH_OF_DISCHARGE,
    NO_LOW_VOLTAGE,
    RESTING_PER_12_V,
)
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.assumptions.units import (
    ALTERNATOR_LOW_VOLTAGE_PER_12_V,
    INVERTER_EFFICIENCY,
    NO_EFFICIENCY,
    VEHICLE_CHARGER_EFFICIENCY,
)
from wattproof.working import Value, counted, declared, largest, smallest, tabled


@record
class BankStudy:
    """A bank of identical batteries, by the values of one battery's label."""

    battery: Battery
    assume: Assumer

    @property
    def name(self) -> str:
        """The bank's name."""
        return str(self.battery.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.battery.at

    @property
    def in_series(self) -> int:
        """Batteries in series."""
        layout = self.battery.arrangement
        return layout.in_series if layout else 1

    @property
    def in_parallel(self) -> int:
        """Batteries, or series of them, in parallel."""
        layout = self.battery.arrangement
        return layout.in_parallel if layout else 1

    @cached_property
    def nominal(self) -> Value:
        """Nominal voltage of the bank (V)."""
        one = declared(self.battery.nominal, "Unom", f"nominal voltage of {self.name}")
        return self._times(one, self.in_series, "in series")

    @cached_property
    def capacity(self) -> Value:
        """Capacity of the bank (C, shown in Ah)."""
        one = declared(self.battery.capacity, "C", f"capacity of {self.name}")
        return self._times(one, self.in_parallel, "in parallel")

    @cached_property
    def charge_limit(self) -> Value:
        """Largest charge current of the bank (A)."""
        written = self.battery.max_charge_current
        words = f"charge limit of {self.name}"
        if written is not None:
            one = declared(written, "Icharge", words)
            return self._times(one, self.in_parallel, "in parallel")
        rate = self._assumed(NO_CHARGE_LIMIT, CHARGE_RATE.value[self.battery.chemistry] / 3600.0)
        return (rate * self.capacity).named(f"Icharge({self.name})", words, "A")

    @property
    def is_lead(self) -> bool:
        """True for every kind of lead battery, false for lithium."""
        return self.battery.chemistry in LEAD

    @property
    def charge_limit_at_best(self) -> float:
        """The largest charge current that it could stand (A), where the label does not say."""
        if self.battery.max_charge_current is not None:
            return self.charge_limit.number
        return CHARGE_RATE_AT_BEST.value[self.battery.chemistry] * self.capacity.number / 3600.0

    @cached_property
    def charge_voltage_limit(self) -> Value:
        """Highest charge voltage of the bank (V)."""
        written = self.battery.max_charge_voltage
        if written is not None:
            one = declared(written, "Umax", f"highest charge voltage of {self.name}")
            return self._times(one, self.in_series, "in series")
        number = CHARGE_VOLTAGE_PER_12_V.value[self.battery.chemistry] * self._twelves
        return self._assumed(NO_CHARGE_VOLTAGE, number)

    @property
    def charge_voltage_at_best(self) -> float:
        """The highest charge voltage that it could stand (V), where the label does not say."""
        if self.battery.max_charge_voltage is not None:
            return self.charge_voltage_limit.number
        return CHARGE_VOLTAGE_AT_BEST_PER_12_V.value[self.battery.chemistry] * self._twelves

    @cached_property
    def full_at(self) -> Value:
        """The least charge voltage (V) at which it gets full; not over what its label allows."""
        number = FULL_AT_PER_12_V.value[self.battery.chemistry] * self._twelves
        words = f"least charge voltage that fills {self.name}"
        usual = tabled(number, "V", f"Ufull({self.name})", words, PRACTICE)
        if self.battery.max_charge_voltage is None:
            return usual
        least = smallest([usual, self.charge_voltage_limit])
        return least.named(f"Ufull({self.name})", words, "V")

    @cached_property
    def resting_voltage(self) -> Value:
        """Voltage of the bank when charged and at rest (V)."""
        return self._resting(self._twelves)

    @property
    def resting_voltage_of_one(self) -> Value:
        """The same of one of its batteries (V)."""
        volts = self.battery.nominal.value
        return self._resting((nominal_class(volts) or volts) / 12.0)

    def _resting(self, twelves: float) -> Value:
        number = RESTING_PER_12_V.value[self.battery.chemistry] * twelves
        words = f"voltage of {self.name}, charged and at rest"
        return tabled(number, "V", f"Urest({self.name})", words, PRACTICE)

    @cached_property
    def depth_of_discharge(self) -> Value:
        """Share of its capacity that may be taken out."""
        written = self.battery.depth_of_discharge
        if written is None:
            return self._assumed(NO_DEPTH_OF_DISCHARGE)
        return declared(written, f"DoD({self.name})", f"depth of discharge of {self.name}")

    @cached_property
    def lowest_charge(self) -> Value:
        """The lowest temperature (°C) at which it may be charged, of lithium."""
        written = self.battery.min_charge_temperature
        if written is None:
            return self._assumed(NO_CHARGE_TEMPERATURE)
        return declared(written, f"Tmin({self.name})", f"lowest charge temperature of {self.name}")

    @cached_property
    def low_voltage(self) -> Value:
        """Voltage of the bank at the end of discharge (V)."""
        number = LOW_VOLTAGE_PER_12_V.value[self.battery.chemistry] * self._twelves
        return self._assumed(NO_LOW_VOLTAGE, number)

    @property
    def _twelves(self) -> float:
        """The bank's nominal voltage in units of 12 V."""
        volts = self.battery.nominal.value * self.in_series
        return (nominal_class(volts) or volts) / 12.0

    def _assumed(self, silence: Silence, number: float | None = None) -> Value:
        chemistry = self.battery.chemistry
        return self.assume.value(silence, self.name, self.at, kind=chemistry, number=number)

    def _times(self, one: Value, number: int, words: str) -> Value:
        layout = self.battery.arrangement
        if number == 1 or layout is None or layout.place is None:
            return one
        count = counted(number, layout.text, layout.place, "n", f"batteries {words}")
        return (count * one).named(f"{one.symbol}({self.name})", one.words, one.unit)


class BatterySide:
    """Banks, sources and loads, and the current in each conductor between them."""

    def __init__(self, circuit: Circuit, assume: Assumer) -> None:
        self.circuit = circuit
        self.assume = assume
        self.components = by_name(circuit.plan)
        self.banks = {
            name: BankStudy(battery, assume) for name, battery in circuit.plan.batteries.items()
        }
        self._charge_voltages: dict[tuple[Terminal, str], Value | None] = {}
        self._draws: dict[tuple[str, str], Value | None] = {}

    def banks_of(self, terminal: Terminal) -> list[BankStudy]:
        """The banks whose pole of that name is on the terminal's net."""
        net = self.circuit.nets.net(terminal)
        return [
            bank
            for name, bank in self.banks.items()
            if self.circuit.nets.net(Terminal(name, "", terminal.pole)) == net
        ]

    def beside(self, bank: BankStudy) -> list[BankStudy]:
        """The banks in parallel with one, itself among them."""
        return self.banks_of(Terminal(bank.name, "", "positive"))

    def charges(self, bank: BankStudy) -> list[tuple[Named, Value]]:
        """Every source that charges a bank, with its rated output current (A)."""
        net = self.circuit.nets.net(Terminal(bank.name, "", "positive"))
        return [(source, self.output(source)) for source in self._feeding(net)]

    def fed_by(self, terminal: Terminal) -> list[BankStudy]:
        """The banks whose positive is on the terminal's net, or behind isolators from there on."""
        nets = self._onward(self.circuit.nets.net(terminal))
        return [
            bank
            for name, bank in self.banks.items()
            if self.circuit.nets.net(Terminal(name, "", "positive")) in nets
        ]

    def feeding(self, terminal: Terminal) -> list[Controller | Charger]:
        """The sources that give current to a terminal's net, through isolators too."""
        return self._feeding(self.circuit.nets.net(terminal))

    def _feeding(self, net: Terminal) -> list[Controller | Charger]:
        """The sources that give current to a positive net, through isolators too."""
        found: list[Controller | Charger] = []
        for name, component in self.components.items():
            port = output_port(component)
            if port is not None and isinstance(component, Controller | Charger):
                own = self.circuit.nets.net(Terminal(name, port, "positive"))
                if net in self._onward(own):
                    found.append(component)
        return found

    def _onward(self, net: Terminal) -> set[Terminal]:
        """A net, and those that current passes on to through isolators."""
        reached, waiting = {net}, [net]
        while waiting:
            here = waiting.pop()
            for inside in self.circuit.insides:
                through = isinstance(inside.component, Isolator)
                if through and self.circuit.nets.net(inside.start) == here:
                    there = self.circuit.nets.net(inside.end)
                    if there not in reached:
                        reached.add(there)
                        waiting.append(there)
        return reached

    def output(self, source: Controller | Charger) -> Value:
        """Rated or set output current of a source (A)."""
        written = source.limited_to or source.max_output_current
        return declared(written, f"Iout({source.name})", f"output current of {source.name}")

    def charge_voltage(self, terminal: Terminal) -> Value | None:
        """Highest voltage (V) that a source on the terminal's net charges to; None without."""
        net = self.circuit.nets.net(terminal)
        key = (net, terminal.pole)
        if key not in self._charge_voltages:
            self._charge_voltages[key] = self._charge_voltage(terminal, net)
        return self._charge_voltages[key]

    def _charge_voltage(self, terminal: Terminal, net: Terminal) -> Value | None:
        volts: list[Value] = []
        unsaid = False
        for name, component in self.components.items():
            port = output_port(component)
            if port is None or not isinstance(component, Controller | Charger):
                continue
            own = self.circuit.nets.net(Terminal(name, port, terminal.pole))
            if own != net and not (terminal.pole == "positive" and net in self._onward(own)):
                continue
            written = component.charge_voltage
            unsaid = unsaid or written is None
            if written is not None:
                volts.append(declared(written, f"Ucharge({name})", f"charge voltage of {name}"))
        limits = [bank.charge_voltage_limit for bank in self.banks_of(terminal)]
        if volts and not unsaid:  # what sources are set to outranks what is assumed of a bank
            limits = [limit for limit in limits if not limit.assumptions]
        volts += limits
        if not volts:
            return None
        return largest(volts).named("Ucharge", "highest charge voltage on this net", "V")

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

    @cached_property
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
        if key not in self._draws:
            self._draws[key] = self._draw(component, port)
        return self._draws[key]

    def exchanged(self, component: Named, port: str) -> Value | None:
        """What a source gives or a consumer draws at a port (A); None for what does neither."""
        drawn = self.drawn(component, port)
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
            return self._vehicle_charger_input(component)
        if isinstance(component, Converter) and port == "input":
            return self._converter_input(component)
        return None

    def _converter_input(self, converter: Converter) -> Value:
        """What a converter draws at full power from a low battery (A)."""
        name = str(converter.name)
        words = f"input current of {name}"
        if converter.max_input_current is not None:
            return declared(converter.max_input_current, f"Iin({name})", words)
        out = self.output(converter)
        volts = declared(converter.output_nominal, f"Uout({name})", f"output voltage of {name}")
        efficiency = (
            declared(converter.efficiency, f"η({name})", f"efficiency of {name}")
            if converter.efficiency is not None
            else self.assume.value(
                NO_EFFICIENCY, name, converter.at, number=VEHICLE_CHARGER_EFFICIENCY.value
            )
        )
        low = self._low_voltage(converter, "input")
        return (out * volts / (efficiency * low)).named(f"Iin({name})", words, "A")

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
        power = declared(inverter.power, f"P({name})", f"power of {name}")
        efficiency = (
            declared(inverter.efficiency, f"η({name})", f"efficiency of {name}")
            if inverter.efficiency is not None
            else self.assume.value(
                NO_EFFICIENCY, name, inverter.at, number=INVERTER_EFFICIENCY.value
            )
        )
        volts = (
            declared(inverter.low_voltage, f"Ulow({name})", f"low-voltage cut-off of {name}")
            if inverter.low_voltage is not None
            else self._low_voltage(inverter, "")
        )
        words = f"input current of {name} at full power and low battery"
        return (power / (efficiency * volts)).named(f"I({name})", words, "A")

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
        twelves = banks[0].nominal.number / 12.0 if banks else 1.0
        number = ALTERNATOR_LOW_VOLTAGE_PER_12_V.value * round(twelves)
        return tabled(number, "V", "Ualt", "alternator side under load", PRACTICE)

    def _low_voltage(self, component: Named, port: str) -> Value:
        """Voltage at a consumer when the bank is low (V)."""
        banks = self.banks_of(Terminal(component.name, port, "positive"))
        if banks:
            return smallest([bank.low_voltage for bank in banks])
        key = "input_nominal" if port == "input" else "nominal"
        nominal = getattr(component, key, None)
        number = LOW_VOLTAGE_PER_12_V.value["agm"] * (nominal.value / 12.0 if nominal else 1.0)
        return self.assume.value(
            NO_LOW_VOLTAGE, str(component.name), component.at, kind="lead", number=number
        )
