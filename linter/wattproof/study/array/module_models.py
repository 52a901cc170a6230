"""The single-diode model of each datasheet, and its cells as groups with bypass diodes."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from wattproof.kept import kept
from wattproof.physics import extraction
from wattproof.physics.conditions import Module, at_conditions, module
from wattproof.physics.extraction import STANDARD_IRRADIANCE, CannotFit, Datasheet, Fit
from wattproof.physics.single_diode import Diode, maximum_power
from wattproof.plan.datasheets import ModuleSheet
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.assumptions import Assumer, Silence
from wattproof.study.assumptions.modules import (
    BYPASS_GROUPS,
    BYPASS_GROUPS_FROM,
    COEFFICIENTS_APART,
    ISC_COEFFICIENT,
    NO_BYPASS_DIODES,
    NO_CELLS_IN_SERIES,
    NO_CURVE,
    VMP_COEFFICIENT,
    VOC_COEFFICIENT,
    VOC_PER_CELL,
)
from wattproof.working import Assumption

if TYPE_CHECKING:
    from wattproof.physics.elements import Element


class Light(NamedTuple):
    """What reaches a group of cells: irradiance (W/m²) at a cell temperature (°C)."""

    irradiance: float
    cells: float


@record
class ModuleModel:
    """A datasheet as a curve.

    fit: None where no curve passes through the label's values; `refusal` then says why.
    assumptions: what the label leaves out and the curve needs.
    """

    sheet: ModuleSheet
    assume: Assumer

    @property
    def name(self) -> str:
        """The datasheet's name."""
        return str(self.sheet.name)

    @kept
    def fit(self) -> Fit | None:
        """The fitted model; a simpler curve where the label fits no single diode."""
        return self._fitted[0]

    @property
    def refusal(self) -> str:
        """Why the label fits no single diode; empty where it does."""
        return self._fitted[1]

    @kept
    def assumptions(self) -> tuple[Assumption, ...]:
        """What the label leaves out and the curve needs."""
        found: list[Assumption] = []
        sheet = self.sheet
        if sheet.cells_in_series is None:
            found.append(self._left_out(NO_CELLS_IN_SERIES, count=self._cells_in_series))
        if sheet.bypass_diodes is None:
            found.append(self._left_out(NO_BYPASS_DIODES, count=self._bypass_diodes or "no"))
        if self.refusal:
            found.append(self._left_out(NO_CURVE, why=self.refusal))
        if self._model is not None and not self._model.coefficients_agree:
            declared, taken = self._datasheet.pmax_coefficient, self._model.pmax_coefficient
            told = {"declared": (declared or 0.0) * 100.0, "taken": taken * 100.0}
            found.append(self._left_out(COEFFICIENTS_APART, **told))
        return tuple(found)

    @property
    def groups(self) -> int:
        """Groups of cells, each with a bypass diode where it has any."""
        return self._bypass_diodes or 1

    def vmp(self, cells: float) -> float | None:
        """Voltage at maximum power (V) in full sun with cells at a temperature (°C).

        None without a curve there: no single diode passes through the label's values, or its
        coefficients leave no voltage.
        """
        diode = None if self.refusal else self._in_full_sun(cells)
        return maximum_power(diode)[0] if diode is not None else None

    def has_curve_at(self, cells: float) -> bool:
        """False with cells at a temperature (°C) at which the coefficients leave no curve."""
        return self._in_full_sun(cells) is not None

    def element(self, lights: tuple[Light, ...]) -> Element | None:
        """The module with each group of cells in its own light; None without a curve."""
        from wattproof.physics.elements import DEFAULT_BYPASS_DROP
        from wattproof.physics.elements import module as module_of_groups

        model = self._model
        if model is None:
            return None
        drop = DEFAULT_BYPASS_DROP if self._bypass_diodes else None
        diodes = [at_conditions(model, light.cells, light.irradiance) for light in lights]
        return module_of_groups(diodes, drop)

    def _in_full_sun(self, cells: float) -> Diode | None:
        """The single diode in full sun with cells at a temperature (°C); None without a curve."""
        if self._model is None:
            return None
        try:
            return at_conditions(self._model, cells, STANDARD_IRRADIANCE)
        except ValueError:
            return None

    @property
    def _bypass_diodes(self) -> int:
        if self.sheet.bypass_diodes is not None:
            return int(self.sheet.bypass_diodes)
        power = self.sheet.vmp.value * self._imp
        rigid = self.sheet.build == "rigid" and power >= BYPASS_GROUPS_FROM.value
        return BYPASS_GROUPS.value if rigid else 0

    @property
    def _imp(self) -> float:
        sheet = self.sheet
        if sheet.imp is not None:
            return sheet.imp.value
        assert sheet.pmax is not None
        return sheet.pmax.value / sheet.vmp.value

    @property
    def _cells_in_series(self) -> int:
        if self.sheet.cells_in_series is not None:
            return int(self.sheet.cells_in_series)
        return max(1, round(self.sheet.voc.value / VOC_PER_CELL.value))

    @kept
    def _datasheet(self) -> Datasheet:
        sheet = self.sheet
        return Datasheet(
            voc=sheet.voc.value,
            isc=sheet.isc.value,
            vmp=sheet.vmp.value,
            imp=self._imp,
            cells_in_series=self._cells_in_series,
            voc_coefficient=_absolute(
                sheet.voc_coefficient, sheet.voc.value, VOC_COEFFICIENT.value
            ),
            isc_coefficient=_absolute(
                sheet.isc_coefficient, sheet.isc.value, ISC_COEFFICIENT.value
            ),
            pmax_coefficient=self._pmax_coefficient,
        )

    @property
    def _pmax_coefficient(self) -> float:
        """The relative coefficient of maximum power (1/K): that of voltage and current together.

        Where the label tells none of power, that of the voltage at maximum power is what the label
        says or what is assumed, the same as wherever a hot voltage is reckoned.
        """
        sheet = self.sheet
        written = _relative(sheet.pmax_coefficient, sheet.vmp.value * self._imp)
        if written is not None and sheet.vmp_coefficient is None:
            return written
        volts, amps = sheet.vmp.value, sheet.isc.value
        of_voltage = _absolute(sheet.vmp_coefficient, volts, VMP_COEFFICIENT.value) / volts
        return of_voltage + _absolute(sheet.isc_coefficient, amps, ISC_COEFFICIENT.value) / amps

    @kept
    def _fitted(self) -> tuple[Fit | None, str]:
        try:
            return extraction.fit(self._datasheet), ""
        except CannotFit as refusal:
            try:
                return extraction.fallback(self._datasheet), str(refusal)
            except CannotFit:
                return None, str(refusal)

    @kept
    def _model(self) -> Module | None:
        if self.fit is None:
            return None
        try:
            return module(self.fit, self._datasheet)
        except ValueError:
            return None

    def _left_out(self, silence: Silence, **told: object) -> Assumption:
        return self.assume.noted(silence, self.name, self.sheet.at, **told)


def _absolute(written: Quantity | None, value: float, otherwise: float) -> float:
    """A coefficient in the unit of its quantity per kelvin; an assumed relative one without."""
    if written is None:
        return value * otherwise
    return written.value * value if written.dimension == "relative coefficient" else written.value


def _relative(written: Quantity | None, power: float) -> float | None:
    """The coefficient of maximum power (1/K); None where the label gives none."""
    if written is None:
        return None
    return written.value if written.dimension == "relative coefficient" else written.value / power
