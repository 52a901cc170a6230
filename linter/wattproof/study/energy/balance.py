"""A day's balance of each bank: what arrays harvest, what is used, and for how long it lasts.

What is harvested has a range: its lower end is what a cautious builder counts on, its upper end
what a good installation gives. Both follow from the sun hours, the power of the array with its
cells as warm as the season has them, what the controller passes on and what the battery gives back.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from wattproof.circuit import Circuit, Terminal
from wattproof.kept import kept
from wattproof.physics import clear_sky
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.energy import (
    AIR_IN_SEASON,
    ARRAY_YIELD_AT_BEST,
    ARRAY_YIELD_AT_WORST,
    CONVERSION_AT_BEST,
    CONVERSION_AT_WORST,
    NO_STANDBY,
    STORED_AT_BEST,
    STORED_AT_WORST,
    WARMING_OVER_THE_DAY,
)
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.curves.window import Window
from wattproof.study.energy.daily_use import DAY, DailyUse, Taken
from wattproof.study.energy.sun_hours import Period, Sun
from wattproof.study.limits import exceeds
from wattproof.study.site.climate import Climate
from wattproof.study.wiring.partings import Alone, alone
from wattproof.working import Value, declared, function, largest, smallest, tabled, total


@record
class Harvest:
    """What one array brings in a day (J): at least, at most.

    limit: more than a period without a cloud brings; None where latitude or months are not known.
    unclipped: the least, if its controller passed everything on. noon: current that it would have
    to pass on then (A). output: what it does pass on (A).
    """

    array: ArrayStudy
    least: Value
    most: Value
    limit: Value | None
    unclipped: Value
    noon: Value
    output: Value

    @property
    def lost(self) -> Value:
        """What its controller lets go (J a day), of the least that it brings."""
        return self.unclipped - self.least


@record
class Balance:
    """A bank's day in one period.

    harvests: of each array; empty where no sun hours are known. taken: what each consumer takes.
    used: all of it, with what is never switched off (J). skies: the kinds of sky that the harvests
    are for; empty where sun hours are declared. told: True where the plan declares them, or a sky.
    """

    period: Period
    harvests: tuple[Harvest, ...]
    taken: tuple[Taken, ...]
    used: Value
    skies: tuple[str, ...] = ()
    told: bool = True

    @property
    def name(self) -> str:
        """The period's name."""
        return self.period.name

    @kept
    def least(self) -> Value | None:
        """What all arrays bring at least (J); None where that is not known."""
        return self._sum([h.least for h in self.harvests], "at least")

    @kept
    def most(self) -> Value | None:
        """What all arrays bring at most (J); None where that is not known."""
        return self._sum([h.most for h in self.harvests], "at most")

    @kept
    def limit(self) -> Value | None:
        """More than a period without a cloud brings (J a day); None where that is not known."""
        limits = [h.limit for h in self.harvests if h.limit is not None]
        complete = len(limits) == len(self.harvests)
        return self._sum(limits, "under the clearest sky") if complete else None

    @property
    def covered(self) -> float:
        """Share of the use that is surely harvested; without limit where nothing is used."""
        assert self.least is not None
        used = self.used.number
        return self.least.number / used if used else float("inf")

    @kept
    def ceiling(self) -> Value | None:
        """What the sun brings at most by what the plan tells of it (J a day).

        Where it tells neither sun hours nor a sky: more than any sky brings. None where nothing is
        known.
        """
        return self.most if self.told else self.limit

    def _sum(self, parts: list[Value], how: str) -> Value | None:
        if not parts:
            return None
        words = f"harvested a day {self.period.when}, {how}"
        return total(parts).named(f"Wsun({self.name})", words, "J")


@record
class EnergyStudy:
    """Banks in parallel, the arrays that charge them, and their days.

    serving: those of them from which most is used with relays and ties between banks open, as they
    are without sun. others: what else charges them: alternators, shore chargers, vehicle chargers.
    balances: one for each period of the plan.
    """

    banks: tuple[BankStudy, ...]
    serving: tuple[BankStudy, ...]
    arrays: tuple[ArrayStudy, ...]
    others: tuple[Named, ...]
    balances: tuple[Balance, ...]

    @property
    def name(self) -> str:
        """The name of the first bank from which most is used."""
        return self.serving[0].name

    @property
    def has_use(self) -> bool:
        """True where anything is used from them, beside what is never switched off."""
        return any(balance.taken for balance in self.balances)

    @kept
    def usable(self) -> Value:
        """Energy (J) that the banks which serve may give from full."""
        parts = [b.capacity * b.nominal * b.depth_of_discharge for b in self.serving]
        return total(parts).named(f"Wusable({self.name})", f"usable energy of {self.name}", "J")

    @kept
    def most_used(self) -> Balance:
        """The period in which most is used."""
        return max(self.balances, key=lambda balance: balance.used.number)

    @kept
    def autonomy(self) -> Value | None:
        """Days for which the banks last without sun; None where nothing is used."""
        used = self.most_used.used
        if not used.number:
            return None
        words = f"days that {self.name} lasts without sun"
        return (self.usable / used).named(f"days({self.name})", words, "d")

    def lasts(self, balance: Balance) -> Value | None:
        """Days from full until the banks are empty, where the sun brings the most that it can.

        None where that covers the use, or is not known.
        """
        most, used = balance.ceiling, balance.used
        if most is None or not exceeds(used, most):
            return None
        words = f"days until {self.name} is empty, {balance.period.when}"
        return (self.usable / (used - most)).named(f"dempty({balance.name})", words, "d")

    @property
    def darkest(self) -> Balance | None:
        """The period in which the sun covers least of the use; None where that is not known."""
        known = [balance for balance in self.balances if balance.least is not None]
        return min(known, key=lambda balance: balance.covered, default=None)


class EnergyBalances:
    """The day's balance of every bank of a plan."""

    def __init__(
        self,
        circuit: Circuit,
        battery_side: BatterySide,
        windows: dict[str, Window],
        sun: Sun,
        use: DailyUse,
        climate: Climate,
        assume: Assumer,
    ) -> None:
        """windows: what the controller of each array needs, by the controller's name."""
        self.circuit = circuit
        self.plan = circuit.plan
        self.battery_side = battery_side
        self.windows = windows
        self.sun = sun
        self.use = use
        self.climate = climate
        self.assume = assume

    def all(self) -> Iterator[EnergyStudy]:
        """Every group of banks in parallel that arrays charge or that something is used from."""
        seen: set[str] = set()
        for bank in self.battery_side.banks.values():
            if bank.name in seen:
                continue
            banks = tuple(self.battery_side.beside(bank))
            bank = next(b for b in banks if b.name == bank.name)
            seen.update(b.name for b in banks)
            sources: list[Named] = [source for source, _ in self.battery_side.charges(bank)]
            arrays = tuple(
                window.array
                for window in self.windows.values()
                if any(source.name == window.name for source in sources)
            )
            balances = tuple(self._balance(bank, arrays, p) for p in self.sun.periods)
            if arrays or any(balance.taken for balance in balances):
                others = tuple(source for source in sources if self._not_by_sun(source))
                serving = self._serving(banks, balances)
                yield EnergyStudy(banks, serving, arrays, others, balances)

    def _serving(
        self, banks: tuple[BankStudy, ...], balances: tuple[Balance, ...]
    ) -> tuple[BankStudy, ...]:
        """The banks of the side from which most is used, relays and ties between sides open."""
        sides = [each for b in banks if (each := alone(b, self.battery_side, turned=False))]
        if not sides:
            return banks

        def used(side: Alone) -> float:
            return max(
                sum(
                    taken.whole.number
                    for taken in balance.taken
                    if not side.joined.isdisjoint(self.use.taken_at(str(taken.consumer.name)))
                )
                for balance in balances
            )

        most = max(sides, key=used)
        return most.banks if used(most) else banks

    def _not_by_sun(self, source: Named) -> bool:
        """True for a charger, and for a controller that an alternator feeds too."""
        alternator = Terminal(str(source.name), "alternator", "positive")
        return isinstance(source, Charger) or alternator in self.circuit.around

    def _balance(self, bank: BankStudy, arrays: tuple[ArrayStudy, ...], period: Period) -> Balance:
        taken = self.use.taken(bank, period)
        parts = [each.whole for each in taken]
        if arrays:
            parts.append(self._standby(bank))
        words = f"used from {bank.name} a day {period.when}"
        used = total(parts) if parts else tabled(0.0, "J", "W0", "no use", "nothing is declared")
        used = used.named(f"Wuse({period.name})", words, "J")
        found = [self._harvest(array, bank, period) for array in arrays]
        harvests = tuple(harvest for harvest in found if harvest is not None)
        if len(harvests) < len(found):
            return Balance(period, (), taken, used)
        strings = [string for array in arrays for string in array.declared_strings]
        hours = [each for s in strings if (each := self.sun.of(s, period)) is not None]
        skies = tuple(dict.fromkeys(each.sky for each in hours if each.sky))
        return Balance(period, harvests, taken, used, skies, all(each.told for each in hours))

    def _standby(self, bank: BankStudy) -> Value:
        """What is never switched off (J a day)."""
        assert self.plan.energy is not None
        written = self.plan.energy.standby
        words = "what is never switched off"
        day = tabled(DAY, "s", "day", "a day", "definition")
        if written is not None:
            return (declared(written, "Pstandby", words) * day).named("Wstandby", words, "J")
        current = self.assume.value(NO_STANDBY, bank.name, bank.at)
        return (current * bank.nominal * day).named("Wstandby", words, "J")

    def _harvest(self, array: ArrayStudy, bank: BankStudy, period: Period) -> Harvest | None:
        by_string = [self.sun.of(string, period) for string in array.declared_strings]
        hours = [each for each in by_string if each is not None]
        if not hours:
            return None
        kind, chemistry = array.controller.kind, bank.battery.chemistry
        least, most = self._powers(array, bank, period)
        dirty, worst, poor = _left(kind, chemistry, "least")
        clean, best, rich = _left(kind, chemistry, "most")
        brightest = [each.brightest for each in hours if each.brightest is not None]
        bright = largest(brightest) if len(brightest) == len(hours) else 1.0
        noon = (most * bright * best / bank.nominal).named(
            f"Inoon({array.controller.name})", "what the array would charge with at noon", "A"
        )
        output = self.battery_side.output(array.controller)
        kept = self._kept(array, noon, output)
        sun = smallest([each.least for each in hours])
        before = least * sun * dirty * worst
        words = f"harvest of the {array.name} a day {period.when}"
        whole = (before * poor).named("Wunclipped", f"{words}, if all were passed on", "J")
        lower = (before * kept * poor).named("Wleast", f"{words}, at least", "J")
        sun = largest([each.most for each in hours])
        upper = (most * sun * clean * best * kept * rich).named("Wmost", f"{words}, at most", "J")
        clearest = [each.clearest for each in hours if each.clearest is not None]
        limit = None
        if len(clearest) == len(hours):
            words = f"{words}, under the clearest sky"
            limit = (self._label_power(array, bank) * largest(clearest)).named("Wlimit", words, "J")
        return Harvest(array, lower, upper, limit, whole, noon, output)

    def _kept(self, array: ArrayStudy, noon: Value, output: Value) -> Value:
        """Share of a clear day's energy that the controller's output current lets pass."""
        ratio = output.number / noon.number if noon.number else 1.0
        share = function("kept of half a sine", clear_sky.kept_under_limit(ratio), output, noon)
        return share.named("kclip", f"share that {array.controller.name} passes on", "")

    def _powers(self, array: ArrayStudy, bank: BankStudy, period: Period) -> tuple[Value, Value]:
        """Power (W) in full sun with the cells of the season, at least and at most.

        A pulse-width controller ties the array to the battery, so that its current counts alone:
        between that at maximum power and that of a short, at a voltage between nominal and charge.
        """
        name = array.controller.name
        if array.controller.kind == "pwm":
            tied = array.imp("standard") * bank.nominal
            words = f"power of the {array.name} at the battery's voltage"
            return tied.named(f"P({name})", words, "W"), self._label_power(array, bank)
        power = array.power("standard")
        hot = largest([string.cells("hottest") for string in array.all_strings])
        standard = self.climate.standard
        if hot.number == standard.number:
            return power, power
        words = f"power of the {array.name}, cells at their hottest"
        hottest = array.power("hottest").named(f"Phot({name})", words, "W")
        change = (hottest / power - 1.0) / (hot - standard)
        warm = power * (1.0 + change * (self._cells(hot, period) - standard))
        warm = warm.named(f"Pwarm({name})", f"power of the {array.name} {period.when}", "W")
        return warm, warm

    def _label_power(self, array: ArrayStudy, bank: BankStudy) -> Value:
        """The most that an array gives in full sun (W), cells at standard temperature."""
        if array.controller.kind != "pwm":
            return array.power("standard")
        volts = self.windows[str(array.controller.name)].charge_voltage or bank.nominal
        words = f"power of the {array.name} at the charge voltage"
        power = array.isc("standard") * volts
        return power.named(f"Pmost({array.controller.name})", words, "W")

    def _cells(self, hot: Value, period: Period) -> Value:
        """Cells over a day's sun (°C): the season's air, and a part of the rise at noon."""
        season = period.season or "summer"
        share = tabled(
            AIR_IN_SEASON.value[season], "", "kair", f"air in {season}", AIR_IN_SEASON.source
        )
        coldest, hottest = self.climate.coldest, self.climate.hottest_air
        air = (coldest + share * (hottest - coldest)).named("Tair", f"air in {season}", "°C")
        over_day = tabled(
            WARMING_OVER_THE_DAY.value,
            "",
            "kday",
            "of the rise at noon",
            WARMING_OVER_THE_DAY.source,
        )
        cells = air + over_day * (hot - hottest)
        return cells.named("Tcells", f"cells in {season}, over the day", "°C")


def _left(kind: str, chemistry: str, end: Literal["least", "most"]) -> tuple[Value, Value, Value]:
    """Shares that are left by an array, a controller and a battery, at one end of the range."""
    shares = {
        "least": (
            ARRAY_YIELD_AT_WORST.value,
            CONVERSION_AT_WORST.value[kind],
            STORED_AT_WORST.value[chemistry],
        ),
        "most": (
            ARRAY_YIELD_AT_BEST.value,
            CONVERSION_AT_BEST.value[kind],
            STORED_AT_BEST.value[chemistry],
        ),
    }
    of_array, of_controller, of_battery = shares[end]
    return (
        tabled(of_array, "", f"k{end}", f"left after wires, dirt, low light, at {end}", PRACTICE),
        tabled(of_controller, "", f"η{end}", f"conversion, at {end}", PRACTICE),
        tabled(of_battery, "", f"s{end}", f"given back by the battery, at {end}", PRACTICE),
    )
