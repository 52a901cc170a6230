"""What a controller took and what it gave, read at the same moment: the one follows from the other.

A tracker passes on power, less what it turns into heat; a pulse-width controller passes on current.
No sun and no stage is needed for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from wattproof.kept import kept
from wattproof.record import record
from wattproof.study.assumptions.readings import TRACKER_EFFICIENCY
from wattproof.study.limits import exceeds
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import Band
from wattproof.study.readings.of_charging import ChargeReading
from wattproof.working import tabled

LEAST_PASSED: Final = 0.85
"""Share under which a controller would be too hot to touch; common practice."""
OWN_USE: Final = 20.0
"""W below which what a controller uses itself is no small share."""


@record
class BothSides:
    """A reading at a solar input, and one at the battery terminals of the same controller.

    shared: True where something is drawn from the load terminals too, which the current into the
    battery does not tell.
    """

    took: ArrayReading
    gave: ChargeReading
    shared: bool

    @kept
    def passed_on(self) -> Band | None:
        """Charge current (A) that the solar side brings; None where it does not tell."""
        volts, power = self.gave.voltage, self.took.taken.true_power
        if self.took.taken.array.controller.kind == "pwm":
            amps = self.took.taken.true_current
            band = None if amps is None else Band(LEAST_PASSED * amps.low, amps.expected, amps.high)
        elif volts is None or power is None or not volts.number > 0.0:
            return None
        else:
            share = TRACKER_EFFICIENCY
            usual = tabled(share.value["likely"], "%", "η", share.words, share.source)
            band = Band(
                LEAST_PASSED * power.low / volts, usual * power.expected / volts, power.high / volts
            )
        if band is None or power is None or power.low.number < OWN_USE:
            return None
        where = self.gave.where
        return band.named(f"I({where})", f"charge current by what {self.took.where} took", "A")

    @property
    def gave_less(self) -> bool:
        """True where less arrives than the controller took."""
        band, read = self.passed_on, self.gave.charge
        if band is None or read is None or self.shared or self.gave.flows_back:
            return False
        return exceeds(band.low, read.high)

    @property
    def gave_more(self) -> bool:
        """True where more arrives than it took."""
        band, read = self.passed_on, self.gave.charge
        return band is not None and read is not None and exceeds(read.low, band.high)


def both_sides(
    at_arrays: Iterable[ArrayReading], of_charging: Iterable[ChargeReading], shared: set[str]
) -> Iterator[BothSides]:
    """Every two that were taken together at what the sun alone feeds, by one solar input.

    at_arrays: those of controllers that one array feeds. shared: controllers whose load terminals
    are in use. A vehicle charger may take of its alternator too.
    """
    took = [r for r in at_arrays if r.taken.at_input and r.taken.reading.taken is not None]
    for gave in of_charging:
        for each in took:
            controller = each.taken.array.controller
            by_sun = controller.kind in ("mppt", "pwm")
            if (
                by_sun
                and controller is gave.source
                and each.taken.reading.taken == gave.reading.taken
            ):
                yield BothSides(each, gave, str(controller.name) in shared)
