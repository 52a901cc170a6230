"""What a wire or a device meets: its currents and the voltage there, worked out when asked for.

Most of what is asked of a wire is what it is made of and where it leads, and stays what it is when
its current is another.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, TypeAlias

from wattproof.kept import kept
from wattproof.record import record
from wattproof.study.wiring.brief import Brief
from wattproof.working import Value


class Currents(NamedTuple):
    """What flows; each None where nothing does.

    largest: the largest lasting current (A), with the allowance for bright sun on the array side.
    operating: the current (A) at which drop is reckoned. brief: what of the largest lasts, where
    the rest runs for minutes.
    """

    largest: Value | None = None
    operating: Value | None = None
    brief: Brief | None = None


FindCurrents: TypeAlias = Callable[[], Currents]
"""Works them out."""


@record
class Loading:
    """Currents and voltage of one wire or device, each by what works it out."""

    find_volts: Callable[[], Value | None]
    find_currents: FindCurrents = Currents

    @kept
    def volts(self) -> Value | None:
        """The highest voltage there (V); None where nothing is known to drive it."""
        return self.find_volts()

    @kept
    def currents(self) -> Currents:
        """What flows."""
        return self.find_currents()

    def with_currents(self, find_currents: FindCurrents) -> Loading:
        """The same voltage with other currents."""
        return Loading(lambda: self.volts, find_currents)

    def at_operating(self, amps: Value | None) -> Loading:
        """The same with another operating current (A)."""
        return self.with_currents(lambda: self.currents._replace(operating=amps))
