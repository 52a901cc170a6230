"""Currents of which a part runs for minutes only: what they come to for what warms up slowly."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wattproof.physics.conductors import copper_withstand_constant, warming_constant
from wattproof.record import record
from wattproof.study.limits import exceeds
from wattproof.working import Value, function, largest, tabled

BEARS_BRIEFLY = 1.3
"""Times its lasting rating that a switch or busbar bears for some minutes (common practice)."""
SOME_MINUTES = 300.0
"""How long it bears that (s): the time of the intermittent rating of battery switches."""
SLOW = ("bolt-down", "bolt-down-large", "wide-strip", "stud-mounted")
SLOW_HOLDS = 1.25
"""Times its rating that a strip fuse holds for some minutes: at 1.35 times one opens after a minute
at the earliest (ISO 8820-5, from memory; common practice of makers of thrusters)."""
HOLDS = 1.1
"""Times its rating that an overcurrent device holds for the time of a short duty (ISO 8820, UL 248,
IEC 60898; from memory)."""


@record
class Brief:
    """That a part of a current runs for a short time, over and over.

    steady: what lasts of it (A), 0 where nothing does. seconds: how long the rest runs at most (s).
    """

    steady: Value
    seconds: Value

    @property
    def runs(self) -> str:
        """How long it runs, in words."""
        lasts = self.seconds.number
        return f"{lasts / 60.0:g} min" if lasts >= 60.0 else f"{lasts:g} s"

    def in_conductor(
        self, current: Value, carries: Value, area_mm2: float, ambient: Value, insulation: Value
    ) -> Value:
        """The lasting current (A) that makes a conductor as hot as all of a current (A) does.

        carries: what it may carry for good there (A). The conductor alone takes up heat: what its
        insulation takes up as well is left out. Source: heat balance; k of IEC 60364-5-54.
        """
        if not exceeds(current, self.steady) or insulation.number <= ambient.number:
            return current
        k = copper_withstand_constant(ambient.number, insulation.number)
        tau = warming_constant(area_mm2, carries.number, k)
        share = -math.expm1(-self.seconds.number / tau)
        low, high = self.steady.number**2, current.number**2
        amps = math.sqrt(low + share * (high - low))
        found = function(
            "short duty", amps, current, self.steady, self.seconds, carries, ambient, insulation
        )
        words = "lasting current that warms as much as this does in its time"
        return found.named(f"Ieq({current.symbol})", words, "A")

    def in_contacts(self, current: Value) -> Value:
        """The lasting current (A) that a switch or bar has to be rated for."""
        if self.seconds.number > SOME_MINUTES:
            return current
        words = "times its lasting rating for some minutes"
        factor = tabled(BEARS_BRIEFLY, "", "kbrief", words, "common practice")
        return self._or_steady(current / factor, "lasting rating that bears it for minutes")

    def in_overcurrent_device(self, current: Value, style: str | None) -> Value:
        """The least rating (A) that does not open while it runs, of a style if one is told."""
        words = "times its rating that it holds for so long"
        if style in SLOW and self.seconds.number <= SOME_MINUTES:
            factor = tabled(SLOW_HOLDS, "", "khold", words, "ISO 8820-5 (from memory); practice")
        else:
            factor = tabled(HOLDS, "", "khold", words, "ISO 8820, UL 248, IEC 60898 (from memory)")
        return self._or_steady(current / factor, "rating that holds it while it runs")

    def _or_steady(self, amps: Value, words: str) -> Value:
        return largest([amps, self.steady]).named("Iduty", words, "A")


def heaviest(found: Sequence[Brief | None]) -> Brief | None:
    """The largest lasting part and the longest run of some; None where one has no such part."""
    known = [brief for brief in found if brief is not None]
    if not known or len(known) < len(found):
        return None
    return Brief(
        largest([brief.steady for brief in known]), largest([brief.seconds for brief in known])
    )
