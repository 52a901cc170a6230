"""How what was read stands beside what is expected: in its band, under it or over it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from wattproof.kept import kept
from wattproof.plan.readings import HELD_BACK
from wattproof.record import record
from wattproof.study.limits import LEAST_POWER, exceeds
from wattproof.study.readings.conditions import NOTHING, Band, high, is_high, is_low, low
from wattproof.study.readings.expected import Expected
from wattproof.study.readings.explained import AT_THE_BATTERY
from wattproof.study.readings.taken import Taken
from wattproof.working import Value, smallest, tabled

DEAD: Final = 0.1
"""Share of what is expected, under which nothing arrives at all."""

OF_ANY_LABEL: Final = 0.35
"""Share of the open voltage taken for a label, under which no heat and no other label leaves it.

One for half the battery has half of it, and heat takes a fifth (common practice).
"""
PULLED_DOWN: Final = 0.93
"""Share of the least open voltage, under which a voltage is that of a module that gives current."""

BesideBest = Literal["dead", "idle", "pulled", "high", "low", "right", "unknown"]


@record
class Power:
    """Power in operation (W).

    read: what was read and may truly be. given: what the controller should take of the array.
    given_least: the same in the dullest sun and the hottest cells that may have been. voltage:
    where it should hold it (V). held: what keeps it below the array's maximum, empty where nothing
    does.
    """

    read: Band
    given: Value
    given_least: Value
    voltage: Value
    held: str

    @property
    def shown(self) -> Value:
        """What the meter showed."""
        return self.read.expected

    @property
    def is_nothing(self) -> bool:
        """True where hardly any of it is taken, whatever the meter's error."""
        return self.read.high.number < DEAD * self.given.number

    @property
    def shows_nothing(self) -> bool:
        """True where the meter showed hardly any of it."""
        return self.shown.number < DEAD * self.given.number


@dataclass(eq=False)
class Standing:
    """Two bands of each quantity, compared: what the meter's value may truly be, and the curve's.

    Nothing is low or high that is not decidable.
    """

    taken: Taken
    expected: Expected

    @property
    def is_dead(self) -> bool:
        """True where hardly any voltage arrives."""
        return (
            self.taken.voc is not None
            and self.taken.voc.number < DEAD * self.expected.voc.low.number
        )

    @property
    def is_unlit(self) -> bool:
        """True where hardly any current arrives."""
        return (
            self.taken.isc is not None
            and self.taken.isc.number < DEAD * self.expected.isc.low.number
        )

    @property
    def voc_is_low(self) -> bool:
        """True where the most that the voltage may be lies under the least that is expected."""
        return self._compared(self.taken.true_voc) and is_low(self._voc_read, self.expected.voc)

    @property
    def voc_is_high(self) -> bool:
        """True where the least that the voltage may be lies over the most that is expected."""
        return self._compared(self.taken.true_voc) and is_high(self._voc_read, self.expected.voc)

    @property
    def voc_under_label(self) -> Value | None:
        """The least open voltage (V) of any such label, where no curve is and less was read.

        None where there is a curve, where the sun was too dim, and where no less was read.
        """
        true, expected = self.taken.true_voc, self.expected
        if true is None or expected.too_dim or expected.decidable:
            return None
        share = tabled(OF_ANY_LABEL, "%", "kleast", "left of any label, hot", "common practice")
        least = self.taken.array.voc("standard", self.taken.tree) * share
        least = least.named(f"Vleast({self.taken.where})", "open-circuit voltage, at least", "V")
        return least if exceeds(least, true.high) else None

    @property
    def voc_is_over_full_sun(self) -> bool:
        """True where the sun was too dim to compare, and more was read than full sun gives."""
        true = self.taken.true_voc
        most = self.expected.brightest_voc if self.expected.too_dim else None
        return true is not None and most is not None and exceeds(true.low, most)

    @property
    def works_over_open(self) -> bool:
        """True where it works at more than the most that nothing connected could give."""
        written, shown = self.taken.reading.voltage, self.taken.voltage
        if written is None or shown is None or shown in self.taken.reversed_voltages:
            return False
        return exceeds(self.taken.conditions.volts(shown, written).low, self.expected.voc.high)

    @property
    def isc_is_low(self) -> bool:
        """The same of the current, where the sun is known."""
        known = self.taken.conditions.sun_known and self._compared(self.taken.true_isc)
        return known and is_low(self._isc_read, self.expected.isc)

    @property
    def isc_is_high(self) -> bool:
        """The same of the current; in unknown sun, over what the brightest gives."""
        if not self._compared(self.taken.true_isc):
            return False
        if self.taken.conditions.sun_known:
            return is_high(self._isc_read, self.expected.isc)
        return exceeds(self._isc_read.low, self.expected.brightest_isc)

    @property
    def power_is_decidable(self) -> bool:
        """True where sun and heat are known, and the battery is not said to take less."""
        return self._power_matters and not self._power_unknown

    @property
    def power_is_open(self) -> bool:
        """True where power would tell something if sun and heat were known."""
        return self._power_matters and self._power_unknown

    @property
    def _power_matters(self) -> bool:
        return self.taken.reading.stage not in HELD_BACK and not self.expected.too_dim

    @property
    def _power_unknown(self) -> bool:
        return not (self.expected.sun_is_told and self.taken.conditions.temperature_known)

    def least_told(self, likely: Value, dullest: Value, share: float = LEAST_POWER) -> Value:
        """Under what power or charge current too little is told (W or A), at the input or behind.

        A share of the likeliest: labels, dirt and a meter take the rest. In a sun that nobody
        measured no more than what the dullest gives where the label promises too much.
        """
        words = "share under which too little power is told"
        limit = tabled(share, "%", "kleast", words, "common practice") * likely
        measured = self.taken.conditions.sun_measured
        least = dullest * (1.0 - self.expected.isc_tolerance)
        return limit if measured else smallest([limit, least])

    def beside_best(self, power: Power, away: float) -> BesideBest:
        """Where the voltage lies beside that of most power, by more than a share.

        dead: hardly any voltage arrives. idle: it does, and hardly any power is taken. pulled: the
        same, at a voltage below that of nothing connected, where something has to flow. unknown:
        the voltage was not read.
        """
        volts = self.taken.voltage
        if volts is None:
            return "unknown"
        if abs(volts.number) < DEAD * self.expected.voc.low.number:
            return "dead"
        idle = self.taken.nothing_flows and power.shows_nothing
        if idle or power.is_nothing:
            return "pulled" if self._is_pulled_down else "idle"
        ratio = volts.number / power.voltage.number
        return "high" if ratio > 1.0 + away else "low" if ratio < 1.0 - away else "right"

    @kept
    def power(self) -> Power | None:
        """Power at the solar input; None where it was not read, or nothing can be said of it."""
        taken, curves = self.taken, self.expected.curves
        read = taken.true_power
        if read is None or curves is None or not taken.at_input:
            return None
        charge = taken.voltage if self._is_tied_to_its_battery else None
        likely, dull = self.expected.working(charge), self.expected.working(charge, low, high)
        if likely is None or dull is None:
            return None
        least = dull.given.named(
            f"Pleast({taken.where})", f"least power expected at {taken.where}", "W"
        )
        return Power(read, likely.given, least, likely.voltage, likely.held)

    @property
    def _is_tied_to_its_battery(self) -> bool:
        """True where a pulse-width controller held the array at its battery's voltage, as read.

        Far above all charge voltage it was not: then it let nothing through.
        """
        volts, curves = self.taken.voltage, self.expected.curves
        if volts is None or curves is None or self.taken.array.controller.kind != "pwm":
            return False
        charge = curves.window.charge_voltage
        far = charge is not None and exceeds(volts, charge * (1.0 + AT_THE_BATTERY))
        return volts.number > NOTHING and not far

    @property
    def _is_pulled_down(self) -> bool:
        """True where the voltage in operation is well below that with nothing connected."""
        written, shown = self.taken.reading.voltage, self.taken.voltage
        if written is None or shown is None or self.taken.current is None:
            return False
        volts = self.taken.conditions.volts(shown, written)
        return exceeds(PULLED_DOWN * self.expected.voc.low, volts.high)

    @property
    def current_is_over(self) -> bool:
        """True where the least that a current in operation may be is more than the sun can give."""
        true = self.taken.true_current
        return (
            self._compared(true)
            and true is not None
            and (exceeds(true.low, self.expected.most_current))
        )

    @property
    def is_brighter_than_told(self) -> bool:
        """True where the sun told is too dim to compare, and more flowed than it can give."""
        if not self.expected.too_dim:
            return False
        return self.over_the_dimmest is not None

    @property
    def over_the_dimmest(self) -> tuple[Band, Value] | None:
        """A current or power that takes more sun than the least to compare: it, and the most then.

        None where nothing was read that does.
        """
        watts = self.expected.dimmest_power
        for true, most in (
            (self.taken.true_isc, self.expected.dimmest_isc),
            (self.taken.true_current, self.expected.dimmest_isc),
            (self.taken.true_power if self.taken.at_input else None, watts),
        ):
            if true is not None and most is not None and exceeds(true.low, most):
                return true, most
        return None

    @property
    def power_is_over(self) -> bool:
        """The same of power at the solar input."""
        most, power = self.expected.most_power, self.power
        if most is None or power is None or self.expected.too_dim:
            return False
        return exceeds(power.read.low, most)

    @property
    def contradicts_the_sun(self) -> bool:
        """True where something was read that the sun cannot give: nothing is low beside that."""
        over = self.current_is_over or self.power_is_over or self._open_is_over
        return over or self.is_brighter_than_told

    @property
    def _open_is_over(self) -> bool:
        return self.expected.decidable and self.works_over_open

    @property
    def working_current_is_low(self) -> bool:
        """True where a current in operation is under the curve's, and the battery took all."""
        true = self.taken.true_current
        if true is None or self.taken.at_input or not self.power_is_decidable:
            return False
        if self.contradicts_the_sun:
            return False
        band = self.expected.working_current if self.expected.decidable else None
        return band is not None and is_low(true, band)

    def _compared(self, true: Band | None) -> bool:
        return true is not None and self.expected.decidable

    @property
    def _voc_read(self) -> Band:
        assert self.taken.true_voc is not None
        return self.taken.true_voc

    @property
    def _isc_read(self) -> Band:
        assert self.taken.true_isc is not None
        return self.taken.true_isc
