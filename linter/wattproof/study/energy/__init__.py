"""A day's energy: what the sun brings, what is used, and for how long a bank lasts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wattproof.circuit import Circuit
from wattproof.kept import kept
from wattproof.study.array import ArraySection
from wattproof.study.assumptions import Assumer
from wattproof.study.battery import BatterySection
from wattproof.study.battery.bank import BankStudy
from wattproof.study.curves import CurvesSection
from wattproof.study.site import SiteSection
from wattproof.study.wiring import WiringSection

if TYPE_CHECKING:
    from wattproof.plan.array import String
    from wattproof.study.energy.balance import EnergyStudy
    from wattproof.study.energy.daily_use import DailyUse, Heavy
    from wattproof.study.energy.in_a_day import TooLong
    from wattproof.study.energy.sun_hours import Lying, Sun, TooMuch, TurnedAway


class EnergySection:
    """Sun and use of a plan that tells of them; all of it empty where the plan does not.

    What computes them is only imported where a plan tells its use.
    """

    def __init__(
        self,
        circuit: Circuit,
        assume: Assumer,
        site: SiteSection,
        battery: BatterySection,
        array: ArraySection,
        wiring: WiringSection,
        curves: CurvesSection,
    ) -> None:
        self._circuit = circuit
        self._assume = assume
        self._site = site
        self._battery = battery
        self._array = array
        self._wiring = wiring
        self._curves = curves

    @kept
    def balances(self) -> tuple[EnergyStudy, ...]:
        """A day's balance of every bank."""
        if self.sun is None or self.use is None:
            return ()
        from wattproof.study.energy.balance import EnergyBalances

        arrays = self._array.arrays
        windows = {str(a.controller.name): self._curves.window_of(a) for a in arrays}
        balances = EnergyBalances(
            self._circuit,
            self._battery.side,
            windows,
            self.sun,
            self.use,
            self._site.climate,
            self._assume,
        )
        return tuple(balances.all())

    @property
    def _strings(self) -> tuple[String, ...]:
        """The strings of all arrays, as the plan declares them."""
        return tuple(s for array in self._array.arrays for s in array.declared_strings)

    @kept
    def too_much_sun(self) -> tuple[TooMuch, ...]:
        """Declared sun hours that no clear sky brings at the latitude."""
        sun = self.sun
        if sun is None:
            return ()
        found = (sun.impossible(s, p) for p in sun.periods for s in self._strings)
        return tuple(each for each in found if each is not None)

    @kept
    def too_long(self) -> tuple[TooLong, ...]:
        """Uses that no day holds: alone, or of what never runs together; by what and when."""
        if self.sun is None or self.use is None:
            return ()
        from wattproof.study.energy.in_a_day import too_long

        lists = self._circuit.plan.together or ()
        return tuple(
            found
            for period in self.sun.periods
            for found in too_long(self.use.running(period), lists, period)
        )

    @property
    def heavy(self) -> tuple[Heavy, ...]:
        """What boils and cooks on inverters; nothing where the plan does not tell its use."""
        return self.use.heavy if self.use is not None else ()

    @kept
    def lying(self) -> tuple[Lying, ...]:
        """Strings that lie level where the winter sun is low."""
        sun = self.sun
        if sun is None:
            return ()
        found = (sun.lying(string) for string in self._strings)
        return tuple(lying for lying in found if lying is not None)

    @kept
    def turned_away(self) -> tuple[TurnedAway, ...]:
        """Raised strings of which the plan tells where they look, and what they lose by it."""
        sun = self.sun
        if sun is None:
            return ()
        found = (sun.turned_away(string) for string in self._strings)
        return tuple(away for away in found if away is not None)

    def is_worked_flooded(self, bank: BankStudy) -> bool:
        """True for a flooded bank that the plan says is used every day."""
        if bank.battery.chemistry != "flooded":
            return False
        return any(bank in each.banks for each in self.balances if each.has_use)

    @kept
    def sun(self) -> Sun | None:
        """Sun hours by period; None where the plan does not tell its use."""
        if self._circuit.plan.energy is None:
            return None
        from wattproof.study.energy.sun_hours import Sun

        return Sun(self._circuit.plan, self._assume)

    @kept
    def use(self) -> DailyUse | None:
        """What is used in a day; None where the plan does not tell."""
        plan = self._circuit.plan
        if plan.energy is None:
            return None
        from wattproof.study.energy.daily_use import DailyUse

        ports, climate = self._wiring.load_ports, self._site.climate
        return DailyUse(plan, self._battery.side, ports, climate, self._assume)
