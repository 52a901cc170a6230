"""A label as a curve: what it leaves out, and its coefficients however they are written.

The label of the plans that tests start from has 20.4 V and 4.9 A at maximum power (99.96 W), 5.2 A
shorted, and for each kelvin -0.36 % of power and +0.05 % of current. The same written otherwise,
worked by hand: 0.05 % of 5.2 A is 2.6 mA; 0.36 % of 99.96 W is 0.359856 W; and since the change of
power is that of voltage and current together, -0.41 % of voltage, 83.64 mV of 20.4 V.
"""

from __future__ import annotations

from itertools import chain
from typing import Any

import pytest

from plans import edited
from wattproof.physics.elements import Bypassed, Cells, Series
from wattproof.physics.single_diode import maximum_power
from wattproof.study.array.module_models import Light, ModuleModel
from wattproof.study.array.strings import ModuleStudy
from wattproof.testing import study_of
from wattproof.working import Value, tabled

POWER = "pmax_coefficient: -0.36 %/°C"
CURRENT = "isc_coefficient: 0.05 %/°C"
LABEL = "vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"
SQUARE = "vmp: 19.4 V, isc: 5.2 A, imp: 5.15 A, pmax: 100 W"
"""A bend that is sharper than any diode's, so that only a simpler curve can be drawn."""
Edits = tuple[tuple[str, str], ...]


def module(*edits: tuple[str, str]) -> ModuleStudy:
    [array] = study_of(edited(*edits)).array.arrays
    return array.modules[0]


def model(*edits: tuple[str, str]) -> ModuleModel:
    return module(*edits).model


def told(found: ModuleModel) -> str:
    return " ".join(assumption.says for assumption in found.assumptions)


def at(number: float) -> Value:
    return tabled(number, "°C", "T", "cells", "as told")


def groups_of(element: Any) -> list[Cells]:
    if isinstance(element, Series):
        return list(chain.from_iterable(groups_of(child) for child in element.children))
    return groups_of(element.child) if isinstance(element, Bypassed) else [element]


class TestCoefficients:
    @pytest.mark.parametrize(
        "edits",
        [
            ((POWER, "pmax_coefficient: -0.359856 W/°C"),),
            ((CURRENT, "isc_coefficient: 2.6 mA/°C"),),
            ((POWER, "vmp_coefficient: -0.41 %/°C"),),
            ((POWER, "vmp_coefficient: -83.64 mV/°C"),),
            ((POWER, "vmp_coefficient: -0.41 %/°C"), (CURRENT, "isc_coefficient: 2.6 mA/°C")),
            (("voc_coefficient: -0.29 %/°C", "voc_coefficient: -70.47 mV/°C"),),
            # The coefficient of voltage goes before one of power that contradicts it.
            ((POWER, "pmax_coefficient: -0.30 %/°C, vmp_coefficient: -0.41 %/°C"),),
        ],
    )
    def test_one_label_written_otherwise_is_the_same_curve(self, edits: Edits) -> None:
        for cells in (0.0, 60.0):
            volts = model().vmp(cells)
            assert volts is not None
            assert model(*edits).vmp(cells) == pytest.approx(volts, rel=1e-6)

    def test_hot_power_is_that_of_the_label(self) -> None:
        """By what the coefficient means (IEC 61215-2 MQT 04, from memory): 0.874 of it at 60 °C."""
        found = model(("max_series_fuse", "bypass_diodes: 2, max_series_fuse"))
        groups = groups_of(found.element((Light(1000.0, 60.0),) * 2))
        watts = sum(maximum_power(group.diode)[2] for group in groups)
        assert watts == pytest.approx((1.0 - 0.0036 * 35.0) * 20.4 * 4.9, rel=1e-4)

    def test_without_one_of_power_it_is_that_of_voltage_and_current(self) -> None:
        """-0.42 % of voltage, as is assumed, and +0.05 % of current: -0.37 % of power."""
        other = model((POWER, "pmax_coefficient: -0.37 %/°C")).vmp(60.0)
        assert other is not None
        unsaid = model((f"{POWER}, ", ""))
        assert unsaid.vmp(60.0) == pytest.approx(other, rel=1e-6)

    def test_of_what_the_label_leaves_out_the_usual_is_taken(self) -> None:
        """-0.32 % of open-circuit voltage and +0.06 % of short-circuit current, as is listed."""
        for left, usual in (
            ("voc_coefficient: -0.29 %/°C, ", "voc_coefficient: -0.32 %/°C, "),
            (f"{CURRENT},", "isc_coefficient: 0.06 %/°C,"),
        ):
            volts = model((left, usual)).vmp(60.0)
            assert volts is not None
            assert model((left, "")).vmp(60.0) == pytest.approx(volts, rel=1e-6)


class TestNoCurve:
    """By the first order of P = U I: 20.4 V would be 19.4 V times 1 - 0.0041 · 35 at 60 °C."""

    BY_HAND = 19.4 * (1.0 - (0.0036 + 0.0005) * 35.0)

    @pytest.mark.parametrize(
        "edits",
        [
            (),
            ((POWER, "pmax_coefficient: -0.36 W/°C"),),  # of the 100 W on the label
            ((CURRENT, "isc_coefficient: 2.6 mA/°C"),),
        ],
    )
    def test_hot_voltage_by_the_coefficients_alone(self, edits: Edits) -> None:
        found = module((LABEL, SQUARE), *edits)
        assert found.model.fit is not None
        assert found.model.refusal
        assert found.model.vmp(60.0) is None
        assert found.vmp_at(at(60.0)).number == pytest.approx(self.BY_HAND, rel=1e-9)

    def test_without_a_coefficient_of_current_the_usual_one(self) -> None:
        found = module((LABEL, SQUARE), (f"{CURRENT},", ""))
        assert found.vmp_at(at(60.0)).number == pytest.approx(19.4 * (1.0 - 0.0042 * 35.0))

    def test_that_of_voltage_goes_before_all(self) -> None:
        found = module((LABEL, SQUARE), (POWER, f"{POWER}, vmp_coefficient: -0.40 %/°C"))
        assert found.vmp_at(at(60.0)).number == pytest.approx(19.4 * (1.0 - 0.0040 * 35.0))

    def test_it_is_told(self) -> None:
        assert "curve" in told(model((LABEL, SQUARE)))
        assert "simpler" not in told(model())


class TestWhatALabelLeavesOut:
    def test_cells_in_series(self) -> None:
        """24.3 V over 0.65 V each are 37 cells."""
        assert "`rigid-100` is assumed to have 37 cells in series." in told(model())
        said = model(("max_series_fuse", "cells_in_series: 40, max_series_fuse"))
        assert "cells in series" not in told(said)
        tiny = model(("voc: 24.3 V", "voc: 0.3 V"), (LABEL, "vmp: 0.24 V, isc: 5.2 A, imp: 4.9 A"))
        assert "to have 1 cells in series." in told(tiny)

    def test_bypass_diodes_of_a_rigid_module_from_100_watts_on(self) -> None:
        """20.4 V and 4.9 A are a little under 100 W, and 20 V and 5 A just that."""
        assert "to have no bypass diodes." in told(model())
        assert model().groups == 1
        just = model((LABEL, "vmp: 20 V, isc: 5.3 A, imp: 5 A, pmax: 100 W"))
        assert just.groups == 2
        assert "to have 2 bypass diodes." in told(just)
        larger = ("vmp: 20 V, isc: 5.4 A, imp: 5.1 A, pmax: 102 W", "build: flexible, ")
        assert model((LABEL, larger[1] + larger[0])).groups == 1
        assert model((LABEL, larger[0])).groups == 2

    def test_current_at_maximum_power_by_the_power(self) -> None:
        """100 W over 20 V are 5 A, which counts for the diodes as for the curve."""
        found = model((LABEL, "vmp: 20 V, isc: 5.3 A, pmax: 100 W"))
        assert found.groups == 2
        volts = model((LABEL, "vmp: 20 V, isc: 5.3 A, imp: 5 A, pmax: 100 W")).vmp(60.0)
        assert volts is not None
        assert found.vmp(60.0) == pytest.approx(volts)

    def test_declared_diodes_are_the_groups_and_clamp_them(self) -> None:
        found = model(("max_series_fuse", "bypass_diodes: 3, max_series_fuse"))
        assert found.groups == 3
        assert "bypass diodes" not in told(found)
        lights = (Light(1000.0, 25.0), Light(1000.0, 25.0), Light(100.0, 25.0))
        assert all(each.bypass_drop == 0.5 for each in groups_of(found.element(lights)))
        none = model(("max_series_fuse", "bypass_diodes: 0, max_series_fuse"))
        assert none.groups == 1
        assert [c.bypass_drop for c in groups_of(none.element((Light(1000.0, 25.0),)))] == [None]

    def test_coefficients_that_contradict_each_other(self) -> None:
        """-0.10 % of power beside -0.29 % of voltage: hot cells would bend like none do."""
        found = told(model((POWER, "pmax_coefficient: -0.10 %/°C")))
        assert "gives maximum power \u22120.10 %/°C" in found
        assert "contradict" not in told(model())
        assert "maximum power" not in told(model())


def test_coefficients_that_no_module_has_together_are_told_with_both_numbers() -> None:
    plan = edited(("pmax_coefficient: -0.36 %/°C", "pmax_coefficient: -0.9 %/°C"))
    told = [a.says for a in study_of(plan).array.arrays[0].modules[0].model.assumptions]
    assert any("maximum power −0.90 %/°C" in says and "takes −0.53 %/°C" in says for says in told)
