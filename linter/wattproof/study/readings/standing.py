"""How what was read stands beside what is expected: in its band, under it or over it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from wattproof.record import record
from wattproof.study.limits import exceeds
from wattproof.study.readings.conditions import NOTHING, Band, is_high, is_low
from wattproof.study.readings.expected import Expected
from wattproof.study.readings.taken import Taken
from wattproof.working import Value

DEAD: Final = 0.1
"""Share of what is expected, under which nothing arrives at all."""


@record
class Power:
    """Power in operation (W).

    shown: voltage times current by the meter. most: the same at most. given: what the controller
    should take of the array. voltage: where it should hold it (V). held: what keeps it below the
    array's maximum, empty where nothing does.
    """

    shown: Value
    most: Value
    given: Value
    voltage: Value
    held: str


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
        return self.taken.reading.stage not in ("absorption", "float") and not self.expected.too_dim

    @property
    def _power_unknown(self) -> bool:
        return not (self.taken.conditions.sun_known and self.taken.conditions.temperature_known)

    def beside_best(self, power: Power, away: float) -> Literal["high", "low", "right"]:
        """Where the voltage lies beside that of most power, by more than a share."""
        assert self.taken.voltage is not None
        ratio = self.taken.voltage.number / power.voltage.number
        return "high" if ratio > 1.0 + away else "low" if ratio < 1.0 - away else "right"

    @cached_property
    def power(self) -> Power | None:
        """Power at the solar input; None where not both values were read, or nothing was given."""
        volts, amps = self.taken.reading.voltage, self.taken.reading.current
        if self.taken.voltage is None or self.taken.current is None or self.expected.curves is None:
            return None
        assert volts is not None
        assert amps is not None
        if not self.taken.at_input or self.taken.is_reversed:
            return None
        # A pulse-width controller holds the array at its battery's voltage, which was read.
        tied = self.taken.array.controller.kind == "pwm" and self.taken.voltage.number > NOTHING
        working = self.expected.working(self.taken.voltage if tied else None)
        if working is None:
            return None
        name, at = self.taken.name, f"at {self.taken.where}"
        shown = (self.taken.voltage * self.taken.current).named(
            f"P({name})", f"power read {at}", "W"
        )
        conditions = self.taken.conditions
        most = (
            conditions.volts(self.taken.voltage, volts).high
            * conditions.amps(self.taken.current, amps).high
        )
        return Power(
            shown,
            most.named(f"Pmax({name})", f"power read {at}, at most", "W"),
            working.given,
            working.voltage,
            working.held,
        )

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
