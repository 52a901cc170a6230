"""The voltage that a controller must be given to charge its battery, and what a hot array gives."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from wattproof.record import record
from wattproof.source import Text
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.units import NO_BOOST, NO_RUNNING_MARGIN
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import SLACK, exceeds
from wattproof.working import Value, declared, largest

NEARLY: Final = 0.125
"""Share of the voltage needed (1.5 V of 12 V) that only the hottest hours of a year take away."""
LITTLE: Final = 0.2
"""Share of the power at the hottest hour that too little voltage may take, as no grave matter."""


@record
class Window:
    """A controller's needs against its array.

    bank: what it charges. lost: voltage lost between array and controller (V).
    """

    array: ArrayStudy
    bank: BankStudy | None
    lost: Value | None
    assume: Assumer

    @property
    def name(self) -> str:
        """The controller's name."""
        return str(self.array.controller.name)

    @property
    def known(self) -> bool:
        """False where the controller cannot raise voltage and nothing says what it charges to.

        What a sealed box charges is its own: its least input voltage is all that it needs.
        """
        told = self.array.controller.sealed or self.charge_voltage is not None
        return told or self.raises

    @property
    def raises(self) -> bool:
        """True where the controller can raise voltage. Of a vehicle charger that is asked."""
        controller = self.array.controller
        if controller.boost is not None or controller.kind != "vehicle-charger":
            return bool(controller.boost)
        return self.assume.is_so(NO_BOOST, self.name, controller.at, usual=False)[0]

    @property
    def charge_voltage(self) -> Value | None:
        """Voltage that the controller charges to (V): set in it, else its bank's limit."""
        written = self.array.controller.charge_voltage
        if written is not None:
            return declared(written, f"Ucharge({self.name})", f"charge voltage of {self.name}")
        return self.bank.charge_setting if self.bank is not None else None

    @property
    def needed(self) -> Value | None:
        """The lowest voltage at which it charges to the end (V); None where none is asked."""
        needs = [need for need in (self._above_battery, self._lowest_input) if need is not None]
        return max(needs, key=lambda need: need.number, default=None)

    @property
    def start(self) -> Value | None:
        """The open-circuit voltage at which a tracker starts (V), at a charged battery.

        None where its manual's margin is not stated, or where it can raise voltage.
        """
        controller = self.array.controller
        written = controller.start_above_battery
        if written is None or self.bank is None or self.raises or controller.kind == "pwm":
            return None
        margin = declared(written, f"ΔUstart({self.name})", f"starting margin of {self.name}")
        words = f"array voltage at which {self.name} starts"
        return (self.bank.resting_voltage + margin).named(f"Ustart({self.name})", words, "V")

    @property
    def hot(self) -> Value:
        """Voltage at maximum power with hot cells (V), where a tracker gets it.

        Of the branches with the highest voltage, which a tracker follows. A pulse-width controller
        does not hold the array at maximum power: as the battery fills, less current flows in the
        wires, and their drop goes with it. Wires that would take more than all leave nothing.
        """
        hot, lost = self.array.highest_vmp("hottest"), self._lost_when_hot
        if lost is None:
            return hot
        words = f"hot voltage at {self.name}, less the drop on the way"
        left = hot - lost
        if left.number < 0.0:
            left = largest([left, Value(0.0, "V")])
        return left.named(f"Uhot({self.name})", words, "V")

    @property
    def _lost_when_hot(self) -> Value | None:
        return None if self.array.controller.kind == "pwm" else self.lost

    @property
    def is_missed(self) -> bool:
        """True where hot cells do not give what is needed."""
        return self.needed is not None and exceeds(self.needed, self.hot)

    @property
    def is_missed_by_wires(self) -> bool:
        """True where hot cells would give what is needed, but for what the wires take."""
        needed, lost = self.needed, self._lost_when_hot
        if lost is None or needed is None or not self.is_missed:
            return False
        return not exceeds(needed, self.array.highest_vmp("hottest"))

    @property
    def as_tracker(self) -> Window:
        """The same with a tracker in place of the controller."""
        kind = Text.at("mppt", self.array.controller.at)
        tracker = self.array.controller.model_copy(update={"kind": kind})
        return replace(self, array=self.array.on(tracker))

    @property
    def fewest_in_series(self) -> int:
        """Modules in series of which even hot ones give what is needed; 1 where nothing asks."""
        return self._fewest(1.0)

    @property
    def fewest_nearly(self) -> int:
        """The same of which hot ones give nearly what is needed: enough but for a few hours."""
        return self._fewest(1.0 - NEARLY)

    def _fewest(self, share: float) -> int:
        needed = self.needed
        each = min(s.vmp("hottest").number / len(s.modules) for s in self.array.all_strings)
        if needed is None or each <= 0:
            return 1
        lost = self._lost_when_hot
        volts = share * needed.number + (lost.number if lost is not None else 0.0)
        return math.ceil(volts / each * (1.0 - SLACK))

    @property
    def _above_battery(self) -> Value | None:
        """What a controller needs that cannot raise voltage (V)."""
        controller, charge = self.array.controller, self.charge_voltage
        if self.raises or charge is None:
            return None
        if controller.kind == "pwm":
            return charge
        words = f"array voltage that {self.name} needs"
        return (charge + self._run_margin).named(f"Uneed({self.name})", words, "V")

    @property
    def _run_margin(self) -> Value:
        """Voltage above the battery that a tracker needs to go on (V)."""
        written = self.array.controller.run_above_battery
        if written is None:
            return self.assume.value(NO_RUNNING_MARGIN, self.name, self.array.controller.at)
        return declared(written, f"ΔUrun({self.name})", f"running margin of {self.name}")

    @property
    def _lowest_input(self) -> Value | None:
        """The lowest voltage at which the input works, where stated (V)."""
        written = self.array.controller.min_input_voltage
        if written is None:
            return None
        return declared(written, f"Umin({self.name})", f"lowest input voltage of {self.name}")
