"""What loads and inverters take out of the battery in a day, by period."""

from __future__ import annotations

import itertools

from wattproof.circuit import Terminal
from wattproof.kept import kept
from wattproof.plan.energy import Use
from wattproof.plan.power import Inverter, Load
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.energy import (
    AIR_IN_SEASON,
    APPLIANCE_HOURS,
    APPLIANCE_POWER,
    BY_HEAT,
    HEATED_IN,
    LIVED_IN,
    NO_MEASURED_USE,
    NO_SWITCHED_ON,
    REFRIGERATOR_DUTY,
    SWITCHED_ON,
)
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.assumptions.units import INVERTER_EFFICIENCY, NO_EFFICIENCY, NO_IDLE_POWER
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.energy.sun_hours import Period
from wattproof.study.site.climate import Climate
from wattproof.study.wiring.discharging import LoadPort
from wattproof.working import Value, declared, tabled, total

DAY = 24.0 * 3600.0  # s


def duty(air: float) -> float:
    """Share of the time that a compressor refrigerator runs in some air (°C); common practice."""
    points = sorted(REFRIGERATOR_DUTY.items())
    if air <= points[0][0]:
        return points[0][1]
    for (cool, less), (warm, more) in itertools.pairwise(points):
        if air <= warm:
            return less + (more - less) * (air - cool) / (warm - cool)
    return points[-1][1]


@record
class Taken:
    """What one consumer takes in a day (J).

    idle: the part of it that an inverter takes for itself; None of loads. idle_power: in W.
    """

    consumer: Load | Inverter
    whole: Value
    idle: Value | None = None
    idle_power: Value | None = None


@record
class Heavy:
    """What boils and cooks on an inverter, by common practice, against what it gives (W).

    kinds: the appliances, that which takes most first. asked: what they take together.
    """

    inverter: Inverter
    kinds: tuple[str, ...]
    asked: Value
    given: Value


class DailyUse:
    """The uses of a plan."""

    def __init__(
        self,
        plan: Plan,
        battery_side: BatterySide,
        ports: tuple[LoadPort, ...],
        climate: Climate,
        assume: Assumer,
    ) -> None:
        self.plan = plan
        self.climate = climate
        self.battery_side = battery_side
        self.ports = ports
        self.assume = assume

    @kept
    def unsaid(self) -> tuple[Load | Inverter, ...]:
        """Consumers that no use is declared of."""
        assert self.plan.energy is not None
        uses = self.plan.energy.uses
        return tuple(consumer for consumer in self._consumers if consumer.name not in uses)

    @kept
    def unfed(self) -> tuple[Load | Inverter, ...]:
        """Consumers with a use that no battery feeds."""
        assert self.plan.energy is not None
        fed = {str(consumer.name) for uses in self._uses_of.values() for _, consumer in uses}
        used = self.plan.energy.uses
        return tuple(c for c in self._consumers if c.name in used and c.name not in fed)

    @kept
    def heavy(self) -> tuple[Heavy, ...]:
        """For each inverter on which something boils or cooks, the one that takes most alone.

        And all of them together, where there are several.
        """
        assert self.plan.energy is not None
        found: list[Heavy] = []
        for name, inverter in self.plan.all_inverters.items():
            use = self.plan.energy.uses.get(name)
            kinds = sorted(
                {str(k) for k in (use.appliances or () if use is not None else ())} & {*BY_HEAT},
                key=lambda kind: (-APPLIANCE_POWER.value[kind], kind),
            )
            given = declared(inverter.power, f"P({name})", f"power of {name}")
            for some in dict.fromkeys((tuple(kinds[:1]), tuple(kinds))):
                if some:
                    words = f"what boils and cooks on {name} takes at once"
                    asked = total([_power_of(kind) for kind in some]).named("Pheat", words, "W")
                    found.append(Heavy(inverter, some, asked, given))
        return tuple(found)

    def taken(self, bank: BankStudy, period: Period) -> tuple[Taken, ...]:
        """What each consumer takes out of a bank, and of those beside it."""
        uses = self._uses_of.get(bank.name, [])
        return tuple(self._taken(use, consumer, bank, period) for use, consumer in uses)

    def running(self, period: Period) -> dict[str, tuple[Load | Inverter, Value]]:
        """For how long each consumer with a measured use has to run in a day at least (s).

        Its hours, or its energy over its power, by its name; what no battery feeds is left out.
        """
        found: dict[str, tuple[Load | Inverter, Value]] = {}
        for bank in self.battery_side.banks.values():
            for use, consumer in self._uses_of.get(bank.name, ()):
                name, time = str(use.name), self._time(use, consumer, bank, period)
                if time is not None:
                    found.setdefault(name, (consumer, time))
        return found

    def _time(
        self, use: Use, consumer: Load | Inverter, bank: BankStudy, period: Period
    ) -> Value | None:
        name = str(use.name)
        if use.hours is not None:
            return declared(use.hours.of(period.name), f"t({name})", f"hours a day of {name}")
        if use.energy is None:
            return None
        drawn = declared(use.energy.of(period.name), f"Wout({name})", f"energy a day of {name}")
        power = self._power(consumer, bank)
        if not power.number > 0.0:
            return None
        words = f"hours a day that {name} takes for it at its rated power"
        return (drawn / power).named(f"t({name})", words, "s")

    @kept
    def _uses_of(self) -> dict[str, list[tuple[Use, Load | Inverter]]]:
        """What each bank feeds and is used, by the bank's name."""
        assert self.plan.energy is not None
        found: dict[str, list[tuple[Use, Load | Inverter]]] = {}
        for consumer in self._consumers:
            use = self.plan.energy.uses.get(str(consumer.name))
            if use is not None:
                for bank in self._fed_by(str(consumer.name)):
                    found.setdefault(bank, []).append((use, consumer))
        return found

    @property
    def _consumers(self) -> tuple[Load | Inverter, ...]:
        return (*self.plan.all_loads.values(), *self.plan.all_inverters.values())

    def _fed_by(self, name: str) -> set[str]:
        """The banks that feed a consumer."""
        return {b.name for t in self.taken_at(name) for b in self.battery_side.banks_of(t)}

    def taken_at(self, name: str) -> list[Terminal]:
        """Where a consumer takes from the batteries: its own positive, or its controller's."""
        terminals = [Terminal(name, "", "positive")]
        terminals += [
            Terminal(port.controller.name, "battery", "positive")
            for port in self.ports
            if any(c.name == name for c, _ in (*port.loads, *port.inverters))
        ]
        return terminals

    def _taken(self, use: Use, consumer: Load | Inverter, bank: BankStudy, period: Period) -> Taken:
        name = str(use.name)
        words = f"taken by {name} a day {period.when}"
        power = self._power(consumer, bank)
        drawn: Value | None = None
        if use.hours is not None:
            hours = declared(use.hours.of(period.name), f"t({name})", f"hours a day of {name}")
            drawn = power * hours
        elif use.energy is not None:
            drawn = declared(use.energy.of(period.name), f"Wout({name})", f"energy a day of {name}")
        elif use.appliances is not None:
            drawn = total([self._usual(kind, use, power, period) for kind in use.appliances])
        if isinstance(consumer, Load):
            assert drawn is not None
            return Taken(consumer, drawn.named(f"W({name})", words, "J"))
        idle_power = (
            declared(consumer.idle_power, f"Pidle({name})", f"idle power of {name}")
            if consumer.idle_power is not None
            else self._idle_power(consumer, power)
        )
        on = (
            declared(
                use.switched_on.of(period.name), f"ton({name})", f"hours a day that {name} is on"
            )
            if use.switched_on is not None
            else self.assume.value(
                NO_SWITCHED_ON, name, consumer.at, number=SWITCHED_ON.value * 3600.0
            )
        )
        idle = (idle_power * on).named(f"Widle({name})", f"idle energy of {name} a day", "J")
        whole = idle if drawn is None else drawn / self._efficiency(consumer) + idle
        return Taken(consumer, whole.named(f"W({name})", words, "J"), idle, idle_power)

    def _usual(self, kind: str, use: Use, power: Value, period: Period) -> Value:
        """What an appliance takes in a day by common practice (J).

        power: of the load that it is, or of the inverter that it runs on.
        """
        name, season = str(use.name), period.season or "summer"
        hours = APPLIANCE_HOURS.value[kind]
        if kind == "compressor-refrigerator":
            hours = 24.0 * duty(self._around(season))
        elif kind == "air-heater":
            hours *= HEATED_IN.value[season]
        time = self.assume.value(NO_MEASURED_USE, name, use.at, kind=kind, number=hours * 3600.0)
        on_inverter = name in self.plan.all_inverters
        if on_inverter or kind in BY_HEAT:
            power = _power_of(kind)
        return (power * time).named(f"W({kind})", f"{kind} a day {period.when}", "J")

    def _around(self, season: str) -> float:
        """Air around a refrigerator (°C): of the season, and no colder than people live in."""
        cold, hot = self.climate.coldest.number, self.climate.hottest_air.number
        return max(cold + AIR_IN_SEASON.value[season] * (hot - cold), LIVED_IN.value)

    def _idle_power(self, inverter: Inverter, power: Value) -> Value:
        """What an inverter is taken to need when it is on and nothing runs (W)."""
        name = str(inverter.name)
        share = self.assume.value(NO_IDLE_POWER, name, inverter.at)
        return (share * power).named(f"Pidle({name})", f"idle power of {name}", "W")

    def _power(self, consumer: Load | Inverter, bank: BankStudy) -> Value:
        name = str(consumer.name)
        words = f"power of {name}"
        if consumer.power is not None:
            return declared(consumer.power, f"P({name})", words)
        assert isinstance(consumer, Load)
        assert consumer.current is not None
        current = declared(consumer.current, f"I({name})", f"current of {name}")
        return (current * bank.nominal).named(f"P({name})", words, "W")

    def _efficiency(self, inverter: Inverter) -> Value:
        name = str(inverter.name)
        if inverter.efficiency is None:
            return self.assume.value(
                NO_EFFICIENCY, name, inverter.at, number=INVERTER_EFFICIENCY.value
            )
        return declared(inverter.efficiency, f"η({name})", f"efficiency of {name}")


def _power_of(kind: str) -> Value:
    """What an appliance takes while it runs (W), by common practice."""
    return tabled(APPLIANCE_POWER.value[kind], "W", f"P({kind})", f"power of a {kind}", PRACTICE)
