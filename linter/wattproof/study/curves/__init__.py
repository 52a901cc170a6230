"""Current-voltage curves, and where a controller works on them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wattproof.circuit import Terminal
from wattproof.kept import kept
from wattproof.study.array import ArraySection
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.battery import BatterySection
from wattproof.study.battery.bank import BankStudy
from wattproof.study.curves.window import Window
from wattproof.study.wiring import WiringSection
from wattproof.working import Value, total

if TYPE_CHECKING:
    from wattproof.study.array.module_models import ModuleModel
    from wattproof.study.curves.curves import CurveStudy, Shaded


class CurvesSection:
    """Curves of the arrays, and what their controllers need of them."""

    def __init__(
        self, assume: Assumer, battery: BatterySection, array: ArraySection, wiring: WiringSection
    ) -> None:
        self._assume = assume
        self._battery = battery
        self._array = array
        self._wiring = wiring

    @kept
    def models(self) -> dict[str, ModuleModel]:
        """The datasheets that strings use as curves."""
        return {name: module.model for name, module in self._array.modules.items()}

    @kept
    def curves(self) -> tuple[CurveStudy, ...]:
        """The curves of each array that can be drawn."""
        # Most checks need no curve, so the solver is only imported where one is asked for.
        from wattproof.study.curves.curves import CurveStudy

        wires, models = self._wiring.wires, self.models
        found = [CurveStudy(a, wires, models, self.window_of(a)) for a in self._array.arrays]
        return tuple(curves for curves in found if curves.drawable)

    def curve_of(self, array: ArrayStudy) -> CurveStudy | None:
        """The curves of an array; None where a label of it belongs to no curve."""
        return next((c for c in self.curves if c.array is array), None)

    def shade_not_told(self, array: ArrayStudy) -> Shaded | None:
        """What a shadow on one module may cost an array that something may shade.

        None where the plan tells its shade, or nothing that throws shadows.
        """
        plan = array.plan
        strings = {str(string.name) for string in array.declared_strings}
        told = {str(s.string) for case in plan.shade.values() for s in case.shadows}
        curves = (
            None if not plan.site.obstacles_in_sight or told & strings else self.curve_of(array)
        )
        if curves is None:
            return None
        from wattproof.study.curves.untold_shade import on_one_module

        return curves.shaded(on_one_module(array.declared_strings[0]))

    def window_of(self, array: ArrayStudy) -> Window:
        """What the array's controller needs of it."""
        name = array.controller.name
        ways = [p for p in self._wiring.paths if p.kind == "array" and p.target == name]
        return Window(array, self.bank_of(array), ways[0].drop if ways else None, self._assume)

    def offered_to(self, array: ArrayStudy) -> Value | None:
        """Current that all modules on the array's tracker could charge with (A).

        In full sun with cells at 25 °C, at the voltage that it charges to. None of a pulse-width
        controller, and where that voltage is not known.
        """
        charge, name = self.window_of(array).charge_voltage, array.controller.name
        if array.controller.kind == "pwm" or charge is None or not charge.number:
            return None
        beside = [a for a in self._array.arrays if a.controller.name == name]
        words = f"current that the {array.name} could charge with in full sun, cells at 25 °C"
        power = total([each.power("standard") for each in beside])
        return (power / charge).named(f"Ioffer({name})", words, "A")

    def bank_of(self, array: ArrayStudy) -> BankStudy | None:
        """The bank that the array's controller charges; None where it charges none."""
        name, side = array.controller.name, self._battery.side
        for bank in side.wholes:
            feeding = side.feeding(Terminal(bank.name, "", "positive"))
            if any(source.name == name for source in feeding):
                return bank
        return None
