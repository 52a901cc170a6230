"""What a meter showed of joints and devices under load.

Of a drop that is a small difference, what the display may hide is taken off first.
"""

from __future__ import annotations

from typing import Final

from wattproof.kept import kept
from wattproof.plan.array import Combiner
from wattproof.plan.devices import Breaker, Busbar, Fuse, Switch
from wattproof.plan.readings import Reading
from wattproof.record import record
from wattproof.study.assumptions.climate import SUN_ON_BOX
from wattproof.study.limits import ELEMENT_RISE, JOINT_RISE
from wattproof.study.readings.conditions import NOTHING, half_digit
from wattproof.study.readings.part_load import (
    LEAST_LOAD,
    larger_of,
    share_to_full,
    too_little_flows,
)
from wattproof.study.readings.read_at import ReadAt
from wattproof.working import Value, declared, tabled

LEAST_LOAD_FOR_HEAT: Final = 0.5
"""As `LEAST_LOAD` of a drop, of a temperature, whose errors grow with the square."""
AMISS: Final = 5.0
"""K by which two temperatures beside a joint may be off together."""
OVER_AN_OPEN_DEVICE: Final = 2.0
"""Volts that are over a device only where nothing passes it, since it would burn at once."""


@record
class JointReading(ReadAt):
    """A drop or a temperature read at a device or joint.

    full: the largest current (A) that it carries in operation; None where nothing is known to.
    zero_drift: what the clamp may show with no current in it (A).
    in_sun: True where the plan has it in a place that the sun reaches.
    """

    reading: Reading
    part: Fuse | Breaker | Switch | Busbar | Combiner
    full: Value | None
    zero_drift: Value
    in_sun: bool = False

    @property
    def has_element(self) -> bool:
        """True for a fuse or breaker, which has an element that drops voltage by itself."""
        return isinstance(self.part, Fuse | Breaker)

    @property
    def replaced(self) -> str:
        """What is replaced where cleaning does not help; empty of a joint, which is made anew."""
        words = {Fuse: "the fuse or its holder", Breaker: "the breaker", Switch: "the switch"}
        return words.get(type(self.part), "")

    @property
    def is_open(self) -> bool:
        """True where a device parts what it should join: much voltage over it, and no current.

        So much that no current could pass it without burning it, where none was read.
        """
        drop = self.reading.drop
        if drop is None or not isinstance(self.part, Fuse | Breaker | Switch):
            return False
        if self.current is None:
            return abs(drop.value) > OVER_AN_OPEN_DEVICE
        return abs(drop.value) > NOTHING and abs(self.current.number) <= self.zero_drift.number

    @property
    def least_load(self) -> float:
        """Share of the full current from which all that was read can be taken to it."""
        return LEAST_LOAD if self.reading.joint_temperature is None else LEAST_LOAD_FOR_HEAT

    @property
    def too_little_load(self) -> bool:
        """True where something cannot be taken to full load: no current written, or too little."""
        return not self.is_open and too_little_flows(self.current, self.full, self.least_load)

    @kept
    def drop(self) -> Value | None:
        """Drop at full load (V), or as read where that is not known."""
        if self.reading.drop is None:
            return None
        words = f"drop read over {self.part.name}"
        read = declared(self.reading.drop, f"ΔU({self.name})", words)
        words = f"drop over {self.part.name}, at least"
        shown = (read - half_digit(self.reading.drop)).named(f"ΔUmin({self.name})", words, "V")
        ratio = self._ratio(LEAST_LOAD)
        if ratio is None:
            return shown
        return (shown * ratio).named(f"ΔUfull({self.name})", f"{words}, at full load", "V")

    @kept
    def rise(self) -> Value | None:
        """How much hotter than the air it is at full load (K), or as read.

        In a place in the sun, what that may heat it by is taken off.
        """
        reading = self.reading
        if reading.joint_temperature is None or reading.air_temperature is None:
            return None
        surface = declared(reading.joint_temperature, f"T({self.name})", "surface")
        air = declared(reading.air_temperature, "Tair", "air beside it")
        words = f"{self.part.name} over the air"
        shown = (surface - air).named(f"ΔT({self.name})", f"{words}, as read", "K")
        if self.in_sun:
            sun = tabled(
                SUN_ON_BOX.value, "K", "ΔTsun", "what full sun heats a box by", SUN_ON_BOX.source
            )
            shown = (shown - sun).named("ΔTload", f"{words}, without the sun", "K")
        ratio = self._ratio(LEAST_LOAD_FOR_HEAT)
        if self.is_hot_by_part_load and self.full is not None and self.current is not None:
            least = self._at_least(shown, self.full, self.current)
            words = f"{self.part.name} over the air at full load, at least"
            return least.named(f"ΔTfull({self.name})", words, "K")
        if ratio is None:
            return shown
        return (shown * ratio * ratio).named(f"ΔTfull({self.name})", f"{words} at full load", "K")

    @property
    def is_hot_by_part_load(self) -> bool:
        """True where part of the load makes it so hot that the whole is told for sure.

        Heat grows with the square of the current; with the current alone it is too much already.
        """
        reading, full, amps = self.reading, self.full, self.current
        if reading.joint_temperature is None or reading.air_temperature is None:
            return False
        part = not too_little_flows(amps, full, LEAST_LOAD) and too_little_flows(
            amps, full, LEAST_LOAD_FOR_HEAT
        )
        if not part or full is None or amps is None:
            return False
        shown = reading.joint_temperature.value - reading.air_temperature.value
        shown -= SUN_ON_BOX.value if self.in_sun else 0.0
        return (shown - AMISS) * full.number / abs(amps.number) > self.usual_rise

    @property
    def usual_rise(self) -> float:
        """The most (K) that such a part is usually hotter than the air at full load."""
        return ELEMENT_RISE if self.has_element else JOINT_RISE

    @kept
    def heat(self) -> Value | None:
        """Heat that the drop makes at full load (W); None without a current."""
        current = larger_of(self.current, self.full)
        if self.drop is None or current is None:
            return None
        words = f"heat in {self.part.name}"
        return (self.drop * current).named(f"P({self.name})", words, "W")

    @staticmethod
    def _at_least(shown: Value, full: Value, amps: Value) -> Value:
        """A rise (K) at full load by the current alone, what thermometers may hide taken off."""
        off = tabled(AMISS, "K", "tolT", "two temperatures off together", "common practice")
        return (shown - off) * (full / amps)

    def _ratio(self, least: float) -> Value | None:
        """By how much the load can grow; None where it cannot, or too little flowed to tell."""
        too_little = too_little_flows(self.current, self.full, least)
        return None if too_little else share_to_full(self.current, self.full)
