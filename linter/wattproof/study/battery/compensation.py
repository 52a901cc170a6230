"""Charge voltage and temperature: what a source adds in the cold, or fails to take off in heat."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.plan.power import Charger, Controller
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.site.climate import Climate
from wattproof.study.site.places import coldest_of, hottest_of
from wattproof.working import Value, declared, tabled

PER_12_V = 0.024  # V/K: 4 mV for each of six cells
REFERENCE = 25.0  # °C


@record
class Compensation:
    """A source that says whether its voltage follows temperature, and a bank that it charges.

    in_cold, in_heat: by how much the charge voltage of lead is to rise and to fall there (V).
    coldest, hottest: air around the bank (°C). per_kelvin: V/K.
    """

    bank: BankStudy
    source: Controller | Charger
    follows: bool
    per_kelvin: Value
    coldest: Value
    hottest: Value

    @property
    def told(self) -> Value | None:
        """Change of its charge voltage as it is set (V/K); None where it is not told."""
        return told_per_kelvin(self.source, self.bank)

    @property
    def in_cold(self) -> Value:
        """What is added to the voltage of lead in the coldest air (V)."""
        return rise_of_lead(self.bank, self.coldest)

    @property
    def in_heat(self) -> Value:
        """What is taken off the voltage of lead in the hottest air (V)."""
        fall = self.per_kelvin * (self.hottest - _reference())
        return fall.named("ΔUhot", f"fall for lead at {self.hottest}", "V")

    def mild(self, volts: float) -> tuple[float, float]:
        """Temperatures (°C) between which no more than some volts are missed."""
        width = volts / self.per_kelvin.number
        return REFERENCE - width, REFERENCE + width


def compensations(
    battery_side: BatterySide, plan: Plan, climate: Climate
) -> Iterator[Compensation]:
    """Every bank with every source of it that says so."""
    for bank in battery_side.wholes:
        per = _per_kelvin(bank)
        cold = coldest_of(bank.battery, plan, climate)
        hot = hottest_around(bank, plan, climate)
        for source, _ in battery_side.charges(bank):
            assert isinstance(source, Controller | Charger)
            if source.compensates_temperature is not None:
                yield Compensation(bank, source, source.compensates_temperature, per, cold, hot)


def hottest_around(bank: BankStudy, plan: Plan, climate: Climate) -> Value:
    """Hottest air around a bank (°C)."""
    return hottest_of(bank.battery, plan, climate.assume) or climate.hottest_air


def rise_of_lead(bank: BankStudy, air: Value) -> Value:
    """What the charge voltage of lead is higher by in some air (°C) than at 25 °C (V)."""
    rise = _per_kelvin(bank) * (_reference() - air)
    return rise.named("ΔUcold", f"rise for lead at {air}", "V")


def rise_in(source: Controller | Charger, bank: BankStudy, air: Value) -> Value:
    """What a source raises the voltage of lead by in some air (°C): as it is set, else as usual."""
    told = told_per_kelvin(source, bank)
    if told is None:
        return rise_of_lead(bank, air)
    return (told * (air - _reference())).named("ΔUset", f"rise of {source.name} at {air}", "V")


def told_per_kelvin(source: Controller | Charger, bank: BankStudy) -> Value | None:
    """Change of the charge voltage of a source as it is set (V/K); None where it is not told."""
    written = source.compensation
    if written is None:
        return None
    words = f"compensation of {source.name}"
    told = declared(written, f"kT({source.name})", words)
    if written.dimension != "relative coefficient":
        return told
    volts = source.charge_voltage
    symbol, what = f"U({source.name})", f"charge voltage of {source.name}"
    of = bank.charge_setting if volts is None else declared(volts, symbol, what)
    return (told * of).named(f"kTU({source.name})", words, "V/K")


def _per_kelvin(bank: BankStudy) -> Value:
    number = PER_12_V * bank.twelves
    words = f"change of the charge voltage of lead of {bank.nominal}"
    return tabled(number, "V/K", "kT", words, "common practice: 4 mV for each cell")


def _reference() -> Value:
    return tabled(REFERENCE, "°C", "Tref", "temperature of the set voltage", PRACTICE)
