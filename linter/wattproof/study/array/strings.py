"""Modules and strings of modules by state, from datasheet values and coefficients.

This is where the electrical model of a string lives. Series adds voltage at common current; unlike
members are bounded on the safe side (the largest short-circuit current, the smallest current at
maximum power). A curve model takes this file's place without touching what reads it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wattproof.circuit import Source
from wattproof.codes import NotTabulated
from wattproof.kept import KeptEach, kept
from wattproof.physics import modules as formulas
from wattproof.plan.datasheets import ModuleSheet
from wattproof.quantities import Quantity
from wattproof.source import Place
from wattproof.study.array.label_coefficients import odd_coefficients
from wattproof.study.array.string_fuses import FuseWindow, fuse_window
from wattproof.study.assumptions import Assumer, Silence
from wattproof.study.assumptions.modules import (
    MOUNTING,
    MOUNTING_AT_WORST,
    NO_ISC_COEFFICIENT,
    NO_MOUNTING,
    NO_MOUNTING_IN_LIGHT,
    NO_SERIES_FUSE,
    NO_SYSTEM_VOLTAGE,
    NO_VMP_COEFFICIENT,
    NO_VOC_COEFFICIENT,
    NO_VOC_COEFFICIENT_IN_HEAT,
    SERIES_FUSE,
)
from wattproof.study.site.climate import Climate, from_table
from wattproof.study.site.states import WORDS, State
from wattproof.working import Value, assumed, counted, declared, function, largest, smallest, total

if TYPE_CHECKING:
    from wattproof.study.array.module_models import ModuleModel


class ModuleStudy:
    """A datasheet's values at any cell temperature."""

    def __init__(self, sheet: ModuleSheet, climate: Climate, assume: Assumer) -> None:
        self.sheet = sheet
        self.name = str(sheet.name)
        self.climate = climate
        self.assume = assume

    @kept
    def voc(self) -> Value:
        """Open-circuit voltage on the label (V)."""
        return declared(self.sheet.voc, "Voc", f"open-circuit voltage of {self.name}")

    @kept
    def vmp(self) -> Value:
        """Voltage at maximum power on the label (V)."""
        return declared(self.sheet.vmp, "Vmp", f"voltage at maximum power of {self.name}")

    @kept
    def isc(self) -> Value:
        """Short-circuit current on the label (A)."""
        return declared(self.sheet.isc, "Isc", f"short-circuit current of {self.name}")

    @kept
    def imp(self) -> Value:
        """Current at maximum power on the label, or power over voltage (A)."""
        words = f"current at maximum power of {self.name}"
        if self.sheet.imp is not None:
            return declared(self.sheet.imp, "Imp", words)
        return (self.pmax / self.vmp).named("Imp", words, "A")

    @kept
    def pmax(self) -> Value:
        """Maximum power on the label, or voltage times current (W)."""
        words = f"maximum power of {self.name}"
        if self.sheet.pmax is not None:
            return declared(self.sheet.pmax, "Pmax", words)
        return (self.vmp * self.imp).named("Pmax", words, "W")

    @kept
    def system_voltage(self) -> Value:
        """Highest voltage that any array of it may have (V)."""
        written = self.sheet.max_system_voltage
        if written is None:
            return self.assume.value(
                NO_SYSTEM_VOLTAGE, self.name, self.sheet.at, kind=self.sheet.build
            )
        return declared(written, f"Usys({self.name})", f"maximum system voltage of {self.name}")

    @kept
    def max_series_fuse(self) -> Value:
        """Maximum series fuse on the label (A).

        Without one: 1.56 times its short-circuit current, up to a standard rating, since a fuse of
        the label's rating has to carry the string; and at least what is usual for its build.
        """
        written = self.sheet.max_series_fuse
        if written is not None:
            return declared(written, "Ifuse", f"maximum series fuse of {self.name}")
        isc = self.isc.number
        try:
            usual = self.climate.code.next_rating(1.5625 * isc)
        except NotTabulated:
            usual = 1.5625 * isc
        build = str(self.sheet.build)
        number = max(usual, SERIES_FUSE.value[build])
        return self.assume.value(
            NO_SERIES_FUSE, self.name, self.sheet.at, kind=build, number=number
        )

    @kept
    def believed(self) -> ModuleSheet:
        """The label, without coefficients that no module has: those count as not told."""
        wrong = {odd.key: None for odd in odd_coefficients(self) if odd.certain}
        return self.sheet.model_copy(update=wrong) if wrong else self.sheet

    def cold_voc(self) -> Value:
        """Open-circuit voltage with cells as cold as the coldest air (V).

        By the label's coefficient; else by the body of rules' table factor; else by the
        conservative coefficient.
        """
        cells = self.climate.coldest
        if self.believed.voc_coefficient is None and self.sheet.technology == "crystalline":
            factor = self.climate.code.voltage_factor(cells.number)
            if factor is not None:
                row = from_table(factor, "kcold")
                read = function("table", row.number, cells, row)
                return self.voc * read.named("kcold", f"{factor.what}, read", "")
        return self._at(self.voc, self.believed.voc_coefficient, NO_VOC_COEFFICIENT, cells)

    def hot_voc(self, cells: Value) -> Value:
        """Open-circuit voltage with hot cells (V)."""
        unsaid = NO_VOC_COEFFICIENT_IN_HEAT
        return self._at(self.voc, self.believed.voc_coefficient, unsaid, cells)

    @kept
    def model(self) -> ModuleModel:
        """The label as a curve."""
        # Only what asks for a curve or a hot voltage needs the solver.
        from wattproof.study.array.module_models import ModuleModel

        return ModuleModel(self.believed, self.assume)

    def vmp_at(self, cells: Value) -> Value:
        """Voltage at maximum power at a cell temperature (V), in full sun.

        Read off the label's curve where the label tells the coefficient of power, so that it is
        the voltage at which a curve of the module has its maximum; else by the coefficient of Vmp.
        """
        sheet = self.believed
        if sheet.vmp_coefficient is not None:
            return self._at(self.vmp, sheet.vmp_coefficient, NO_VMP_COEFFICIENT, cells)
        power = sheet.pmax_coefficient
        if power is None:
            return self._at(self.vmp, None, NO_VMP_COEFFICIENT, cells)
        volts = self.model.vmp(cells.number)
        if volts is None:
            return self._vmp_by_power(power, cells)
        inputs = (*self.curve_inputs, cells)
        words = f"voltage at maximum power of {self.name}, off its curve"
        return function("curve", volts, *inputs).named("Vmpcurve", words, "V")

    @kept
    def curve_inputs(self) -> tuple[Value, ...]:
        """What its curve is drawn from: the label, and coefficients told or usual."""
        label = (self.voc, self.isc, self.vmp, self.imp)
        return (*label, self._of_power, self._beta, self._alpha)

    @property
    def _of_power(self) -> Value:
        """The coefficient of Pmax that the curve takes, or the one of Vmp in its place."""
        sheet = self.believed
        if sheet.vmp_coefficient is not None:
            words = f"temperature coefficient of Vmp of {self.name}"
            return declared(sheet.vmp_coefficient, NO_VMP_COEFFICIENT.symbol, words)
        if sheet.pmax_coefficient is None:
            return self.assume.value(NO_VMP_COEFFICIENT, self.name, sheet.at)
        words = f"temperature coefficient of Pmax of {self.name}"
        return declared(sheet.pmax_coefficient, "γ", words)

    @property
    def _beta(self) -> Value:
        """The coefficient of Voc that the curve takes, as the label gives it or as is usual."""
        written = self.believed.voc_coefficient
        if written is None:
            return self.assume.value(NO_VOC_COEFFICIENT, self.name, self.sheet.at)
        return declared(written, "β", f"temperature coefficient of Voc of {self.name}")

    @property
    def _alpha(self) -> Value:
        """The coefficient of Isc that the curve takes, as the label gives it or as is usual."""
        written = self.believed.isc_coefficient
        if written is None:
            return self.assume.value(NO_ISC_COEFFICIENT, self.name, self.sheet.at)
        return declared(written, "α", f"temperature coefficient of Isc of {self.name}")

    def _vmp_by_power(self, power: Quantity, cells: Value) -> Value:
        """By the coefficients of power and current alone (V), of a label that has no curve."""
        gamma = declared(power, "γ", f"temperature coefficient of Pmax of {self.name}")
        if power.dimension == "power coefficient":
            gamma = (gamma / self.pmax).named("γrel", gamma.words, "1/K")
        beta = formulas.voltage_coefficient_at_maximum_power(gamma, self._relative_alpha())
        beta = beta.named("βmp", f"temperature coefficient of Vmp of {self.name}", "1/K")
        return formulas.at_temperature(self.vmp, beta, cells, self.climate.standard)

    def isc_at(self, cells: Value) -> Value:
        """Short-circuit current at a cell temperature, at 1000 W/m² (A)."""
        return self._at(self.isc, self.believed.isc_coefficient, NO_ISC_COEFFICIENT, cells)

    def _relative_alpha(self) -> Value:
        written, alpha = self.believed.isc_coefficient, self._alpha
        if written is not None and written.dimension == "current coefficient":
            return (alpha / self.isc).named("αrel", alpha.words, "1/K")
        return alpha

    def _at(self, value: Value, written: Quantity | None, unsaid: Silence, cells: Value) -> Value:
        standard = self.climate.standard
        if written is None:
            coefficient = self.assume.value(unsaid, self.name, self.sheet.at)
            return formulas.at_temperature(value, coefficient, cells, standard)
        coefficient = declared(written, unsaid.symbol, f"temperature coefficient of {value.symbol}")
        if written.dimension == "relative coefficient":
            return formulas.at_temperature(value, coefficient, cells, standard)
        return formulas.shifted_by_temperature(value, coefficient, cells, standard)


class StringStudy:
    """Modules in series, by state."""

    def __init__(self, source: Source, climate: Climate, modules: dict[str, ModuleStudy]) -> None:
        self.source = source
        self.name = source.name
        self.climate = climate
        self.modules = [modules[sheet.name] for sheet in source.modules]
        self._values: KeptEach[tuple[str, State], Value] = KeptEach()

    @property
    def at(self) -> Place:
        """Where the plan names the string."""
        return self.source.string.at

    @property
    def said(self) -> str:
        """Its name in a sentence; one of a short form has none, and is told as one of it."""
        declared = self.source.string
        one = "" if self.name == declared.name else "one string of "
        return f"{one}`{declared.name}`"

    @kept
    def count(self) -> Value:
        """Number of modules in series."""
        string = self.source.string
        number = len(self.modules)
        if string.arrangement is not None and string.arrangement.place is not None:
            text, place = string.arrangement.text, string.arrangement.place
        elif string.series is not None:
            text, place = string.series.text, string.series.place
        else:
            text, place = str(number), string.at
        return counted(
            number,
            text,
            place,
            "Ns",
            f"modules in series in {self.name}",
        )

    @kept
    def drawn_from(self) -> tuple[Value, ...]:
        """What its curve is drawn from, beside light and warmth."""
        labels = (value for module in self.modules for value in module.curve_inputs)
        diode = self.source.string.blocking_diode
        drop = (
            () if diode is None else (declared(diode, "Ud", f"drop of the diode of {self.name}"),)
        )
        return (*labels, self.count, *drop)

    def cells(self, state: State) -> Value:
        """Cell temperature (°C)."""
        if state == "coldest":
            return self.climate.coldest
        if state == "hottest":
            string = self.source.string
            if string.hottest_cells is not None:
                words = f"hottest cells of {self.name}, as told"
                return declared(string.hottest_cells, f"Tcell({self.name})", words)
            rated = [m.sheet.noct for m in self.modules if m.sheet.noct is not None]
            noct = max(rated, key=lambda t: t.value) if len(rated) == len(self.modules) else None
            if string.mounting is not None:
                return self.climate.hot_cells(string.mounting, noct)
            in_air, unstated = self.climate.assume.is_so(
                NO_MOUNTING, str(string.name), string.at, usual=True
            )
            mounting = MOUNTING.value if in_air else MOUNTING_AT_WORST.value
            return self.climate.hot_cells(mounting, noct, unstated)
        return self.climate.standard

    def voc(self, state: State) -> Value:
        """Open-circuit voltage (V)."""
        return self._in_series("open-circuit voltage", "Voc", state, self._module_voc)

    def vmp(self, state: State) -> Value:
        """Voltage at maximum power (V)."""
        return self._in_series("voltage at maximum power", "Vmp", state, self._module_vmp)

    def isc(self, state: State) -> Value:
        """Short-circuit current: the largest of the members' (A)."""
        return self._common("short-circuit current", "Isc", state)

    def imp(self, state: State) -> Value:
        """Current at maximum power: the smallest of the members' (A), at standard temperature."""
        return self._common("current at maximum power", "Imp", state)

    @kept
    def max_series_fuse(self) -> Value:
        """Maximum series fuse: the smallest of the members' labels (A)."""
        return min((m.max_series_fuse for m in self.modules), key=lambda v: v.number)

    @kept
    def fuse_window(self) -> FuseWindow:
        """Between which ratings its own fuse lies."""
        members = {m.name: m for m in self.modules}.values()
        words = f"short-circuit current of {self.name}, standard conditions"
        isc = largest([self.with_rear_light(m) for m in members])
        isc, label = isc.named(f"Isc({self.name})", words, "A"), self.max_series_fuse
        return fuse_window(self.name, isc, label, self.climate.code)

    def _module_voc(self, module: ModuleStudy, state: State) -> Value:
        if state == "coldest":
            return module.cold_voc()
        if state == "hottest":
            return module.hot_voc(self.cells(state))
        return module.voc

    def _module_vmp(self, module: ModuleStudy, state: State) -> Value:
        if state in ("coldest", "hottest"):
            return module.vmp_at(self.cells(state))
        return module.vmp

    def _module_isc(self, module: ModuleStudy, state: State) -> Value:
        if state == "bright":
            return self.climate.irradiance_factor * self.with_rear_light(module)
        if state in ("coldest", "hottest"):
            return module.isc_at(self.cells(state))
        return module.isc

    def with_rear_light(self, module: ModuleStudy) -> Value:
        """Short-circuit current on the label, with what a back in the light adds (A)."""
        written = module.sheet.bifaciality
        string = self.source.string
        if written is None or string.mounting in ("roof-bonded", "ground"):
            return module.isc
        share = declared(written, "φ", f"bifaciality of {module.name}")
        light = self.climate.rear_light
        if string.mounting is None:
            doubt = self.climate.assume.noted(NO_MOUNTING_IN_LIGHT, str(string.name), string.at)
            light = assumed(light.number, "", light.symbol, light.words, doubt)
        both = module.isc * (1.0 + share * light)
        return both.named(
            "Iboth", f"short-circuit current of {module.name}, lit on both sides", "A"
        )

    def _in_series(self, words: str, symbol: str, state: State, of: object) -> Value:
        def in_series() -> Value:
            assert callable(of)
            by_module = {m.name: of(m, state) for m in self.modules}
            if len(by_module) == 1:
                value = self.count * next(iter(by_module.values()))
            else:
                value = total([by_module[m.name] for m in self.modules])
            return self._named(value, words, symbol, state, "V")

        return self._values.of((symbol, state), in_series)

    def _common(self, words: str, symbol: str, state: State) -> Value:
        def common() -> Value:
            members = {m.name: m for m in self.modules}.values()
            if symbol == "Isc":
                value = largest([self._module_isc(m, state) for m in members])
            else:
                value = smallest([m.imp for m in members])
            return self._named(value, words, symbol, state, "A")

        return self._values.of((symbol, state), common)

    def _named(self, value: Value, words: str, symbol: str, state: State, unit: str) -> Value:
        said = f"{words} of {self.name}, {WORDS[state]}"
        return value.named(f"{symbol}({self.name})", said, unit)
