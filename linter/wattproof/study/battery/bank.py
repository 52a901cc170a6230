"""A bank of batteries: what its label says, and what is taken where it does not."""

from __future__ import annotations

from typing import Literal, TypeAlias

from wattproof.circuit import nominal_class
from wattproof.kept import kept
from wattproof.plan.power import Battery
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.assumptions import Assumer, Silence
from wattproof.study.assumptions.batteries import (
    CHARGE_RATE,
    CHARGE_VOLTAGE_PER_12_V,
    EMPTY_PER_12_V,
    FLAT_AT_REST_PER_12_V,
    FULL_AT_PER_12_V,
    HARMED_BELOW_PER_12_V,
    LEAD,
    LEAST_AT_INVERTERS,
    LOW_VOLTAGE_PER_12_V,
    NO_CHARGE_LIMIT,
    NO_CHARGE_LIMIT_OF_ANY,
    NO_CHARGE_SETTING,
    NO_CHARGE_TEMPERATURE,
    NO_CHARGE_VOLTAGE,
    NO_DEPTH_OF_DISCHARGE,
    NO_LOW_VOLTAGE,
    NOT_FULL_BELOW_PER_12_V,
    RESTING_PER_12_V,
)
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.assumptions.units import LEAD_TAKES, LITHIUM_TAKES
from wattproof.study.limits import SLACK
from wattproof.words import enumerated
from wattproof.working import Supposed, Value, counted, declared, smallest, tabled

EQUALISED_PER_12_V = 16.2
"""Highest equalising voltage of flooded lead, for each 12 V (V)."""
LEAST_SHORT_PER_AH = {"lithium-iron-phosphate": 9.0, "flooded": 3.0, "agm": 3.0, "gel": 3.0}
"""A that a battery drives into a short for each Ah, at the very least (common practice): lead gives
some nine where it is new and much less where it is old; lithium with its management and its leads
in the way more than ten."""
SMALLEST_PACK, LITHIUM_OF_12_V = 12.0, 12.8
"""V: what is less than a pack is cells, of 3.2 V each."""
APPLIANCES_STAND = 16.0
"""V for each 12 V of the bank."""

Way: TypeAlias = Literal["series", "parallel"]


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
    def parts(self) -> tuple[BankStudy, ...]:
        """The batteries in series that are declared apart; itself where there are none."""
        return (self,)

    @property
    def all_names(self) -> str:
        """The names of all its parts, for words."""
        return enumerated(part.name for part in self.parts)

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

    @kept
    def nominal(self) -> Value:
        """Nominal voltage of the bank (V)."""
        one = declared(self.battery.nominal, "Unom", f"nominal voltage of {self.name}")
        return self.times(one, "series")

    @kept
    def capacity_of_one(self) -> Value:
        """Capacity of one of its batteries (C, shown in Ah)."""
        if self.battery.bank_capacity is None:
            return declared(self.battery.capacity, "C", f"capacity of {self.name}")
        if self.in_parallel == 1:
            return self.capacity
        one = self.capacity / self.count("parallel")
        return one.named(f"C({self.name})", f"capacity of one battery of {self.name}", "C")

    @kept
    def capacity(self) -> Value:
        """Capacity of the bank (C, shown in Ah)."""
        if self.battery.bank_capacity is not None:
            return declared(self.battery.bank_capacity, "C", f"capacity of {self.name}")
        return self.times(self.capacity_of_one, "parallel")

    @kept
    def charge_limit(self) -> Value:
        """Largest charge current of the bank (A)."""
        written = self.battery.max_charge_current
        words = f"charge limit of {self.name}"
        if written is not None:
            one = declared(written, "Icharge", words)
            return self.times(one, "parallel")
        told = self.battery.bank_capacity or self.battery.capacity
        silence = NO_CHARGE_LIMIT_OF_ANY if isinstance(told, Supposed) else NO_CHARGE_LIMIT
        rate = self._assumed(silence, CHARGE_RATE.value[self.battery.chemistry] / 3600.0)
        return (rate * self.capacity).named(f"Icharge({self.name})", words, "A")

    @property
    def is_lead(self) -> bool:
        """True for every kind of lead battery, false for lithium."""
        return self.battery.chemistry in LEAD

    @kept
    def charge_voltage_limit(self) -> Value:
        """Highest charge voltage of the bank (V)."""
        written = self.battery.max_charge_voltage
        if written is not None:
            one = declared(written, "Umax", f"highest charge voltage of {self.name}")
            return self.times(one, "series")
        number = CHARGE_VOLTAGE_PER_12_V.value[self.battery.chemistry] * self.twelves
        return self._assumed(NO_CHARGE_VOLTAGE, number)

    @kept
    def equalise_limit(self) -> Value | None:
        """Highest voltage at which it may be equalised (V); None of what never may."""
        if self.battery.chemistry != "flooded":
            return None
        number = EQUALISED_PER_12_V * self.twelves
        return tabled(number, "V", "Ueq", "highest equalising voltage", PRACTICE)

    @property
    def contradicts_itself(self) -> bool:
        """True where its label lets it be charged to less than its nominal voltage: one of the two
        is another battery's, and neither can be gone by."""
        most = self.battery.max_charge_voltage
        return most is not None and most.value < self.battery.nominal.value

    @kept
    def charge_setting(self) -> Value:
        """The voltage (V) that what charges the bank is set to, where nothing tells it."""
        if self.battery.max_charge_voltage is not None:
            return self.charge_voltage_limit
        number = CHARGE_VOLTAGE_PER_12_V.value[self.battery.chemistry] * self.twelves
        return self._assumed(NO_CHARGE_SETTING, number)

    @kept
    def full_at(self) -> Value:
        """The least charge voltage (V) at which it gets full; not over what its label allows."""
        number = FULL_AT_PER_12_V.value[self.battery.chemistry] * self.twelves
        words = f"least charge voltage that fills {self.name}"
        usual = tabled(number, "V", f"Ufull({self.name})", words, PRACTICE)
        if self.battery.max_charge_voltage is None:
            return usual
        least = smallest([usual, self.charge_voltage_limit])
        return least.named(f"Ufull({self.name})", words, "V")

    @property
    def not_full_below(self) -> Value:
        """Voltage (V) while it is charged below which no charger takes it for full."""
        number = NOT_FULL_BELOW_PER_12_V.value[self.battery.chemistry] * self.twelves
        words = f"voltage below which {self.name} is not full"
        return tabled(number, "V", f"Unotfull({self.name})", words, PRACTICE)

    @kept
    def resting_voltage(self) -> Value:
        """Voltage of the bank when charged and at rest (V)."""
        return self._resting(self.twelves)

    @property
    def resting_voltage_of_one(self) -> Value:
        """The same of one of its batteries (V)."""
        return self._resting(self._twelves_of_one)

    def _resting(self, twelves: float) -> Value:
        number = RESTING_PER_12_V.value[self.battery.chemistry] * twelves
        words = f"voltage of {self.name}, charged and at rest"
        return tabled(number, "V", f"Urest({self.name})", words, PRACTICE)

    @kept
    def told_short(self) -> Value | None:
        """What one battery drives into a short by its label (A); None where that tells nothing."""
        short, ohms = self.battery.short_circuit_current, self.battery.internal_resistance
        if short is not None:
            return declared(short, "Ik", f"short circuit of {self.name}")
        if ohms is None:
            return None
        return self.resting_voltage_of_one / declared(
            ohms, "Ri", f"inner resistance of {self.name}"
        )

    @property
    def least_short(self) -> float:
        """The least (A) that one battery of its kind and capacity drives into a short."""
        hours = self.battery.capacity.value / 3600.0
        least = LEAST_SHORT_PER_AH[self.battery.chemistry] * hours
        lasting = self.battery.max_discharge_current
        return least if lasting is None else max(least, lasting.value)

    @property
    def short_is_odd(self) -> bool:
        """True where its label tells less than any battery of its kind drives into a short.

        Many labels give the most that the resistance may be, or what the management lets out. What
        a fuse can break is not judged by such a figure.
        """
        told = self.told_short
        return told is not None and told.number < self.least_short * (1.0 - SLACK)

    @kept
    def depth_of_discharge(self) -> Value:
        """Share of its capacity that may be taken out."""
        written = self.battery.depth_of_discharge
        if written is None:
            return self._assumed(NO_DEPTH_OF_DISCHARGE)
        return declared(written, f"DoD({self.name})", f"depth of discharge of {self.name}")

    @kept
    def lowest_charge(self) -> Value:
        """The lowest temperature (°C) at which it may be charged, of lithium."""
        written = self.battery.min_charge_temperature
        if written is None:
            return self._assumed(NO_CHARGE_TEMPERATURE)
        return declared(written, f"Tmin({self.name})", f"lowest charge temperature of {self.name}")

    @kept
    def low_voltage(self) -> Value:
        """Voltage of the bank at the end of discharge (V)."""
        number = LOW_VOLTAGE_PER_12_V.value[self.battery.chemistry] * self.twelves
        return self._assumed(NO_LOW_VOLTAGE, number)

    @property
    def empty_voltage(self) -> Value:
        """Voltage of the bank when it is empty (V)."""
        number = EMPTY_PER_12_V.value[self.battery.chemistry] * self.twelves
        words = f"voltage of {self.name}, empty"
        return tabled(number, "V", f"Uempty({self.name})", words, PRACTICE)

    @property
    def flat_at_rest(self) -> Value:
        """Voltage at rest (V) below which it is flat; of lithium it is empty then."""
        if not self.is_lead:
            return self.empty_voltage
        words = f"least at rest of {self.name}, not flat"
        number = FLAT_AT_REST_PER_12_V.value * self.twelves
        return tabled(number, "V", f"Urest({self.name})", words, PRACTICE)

    @property
    def least_at_inverters(self) -> Value:
        """Voltage (V) below which an inverter that is set well has switched off."""
        words = f"least of {self.name} at an inverter under full load"
        share = tabled(LEAST_AT_INVERTERS.value, "%", "kleast", "share that is left", PRACTICE)
        return (share * self.empty_voltage).named(f"Uleast({self.name})", words, "V")

    @property
    def harmed_below(self) -> Value:
        """Voltage of the bank (V) below which its cells change for good."""
        number = HARMED_BELOW_PER_12_V.value[self.battery.chemistry] * self.twelves
        words = f"voltage below which {self.name} is harmed"
        return tabled(number, "V", f"Uharm({self.name})", words, PRACTICE)

    @property
    def appliances_stand(self) -> Value:
        """Voltage that the appliances on it stand (V)."""
        volts = APPLIANCES_STAND * max(1.0, round(self.nominal.number / 12.8))
        words = "voltage that appliances stand"
        return tabled(volts, "V", "Uload", words, f"{PRACTICE}, 16 V for each 12 V")

    @property
    def twelves(self) -> float:
        """The bank's voltage in units of 12 V: of six cells of lead, or four of lithium."""
        return self._twelves_of_one * self.in_series

    @property
    def _twelves_of_one(self) -> float:
        """By its own label, since fifteen cells of 3.2 V, 48 V, take less than a pack of 48 V."""
        volts = self.battery.nominal.value
        named = nominal_class(volts)
        if named is None and volts < SMALLEST_PACK and not self.is_lead:
            return volts / LITHIUM_OF_12_V
        return (named or volts) / 12.0

    def _assumed(self, silence: Silence, number: float | None = None) -> Value:
        chemistry = self.battery.chemistry
        return self.assume.value(silence, self.name, self.at, kind=chemistry, number=number)

    def count(self, way: Way) -> Value:
        """How many batteries it has in series, or in parallel."""
        number = self.in_series if way == "series" else self.in_parallel
        layout = self.battery.arrangement
        text, place = (str(number), None) if layout is None else (layout.text, layout.place)
        words = f"batteries in {way} in {self.name}"
        return counted(number, text, place or self.at, "n", words)

    def times(self, one: Value, way: Way) -> Value:
        """What all in series, or in parallel, have together of what one battery has."""
        count = self.count(way)
        if count.number == 1.0:
            return one
        return (count * one).named(f"{one.symbol}({self.name})", one.words, one.unit)


def taken_from_alternator(bank: BankStudy) -> Value:
    """The most that a bank takes at the voltage of an alternator (A), after minutes of it."""
    rate = LEAD_TAKES if bank.is_lead else LITHIUM_TAKES
    hourly = tabled(rate.value / 3600.0, "1/s", "c", rate.words, PRACTICE)
    return hourly * bank.capacity
