"""A label whose values no curve of a solar cell passes through."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.array.plans import label
from wattproof.testing import study_of

CURVE = "module-fits-no-curve"
VOC, ISC, PMAX = "voc_coefficient: ", "isc_coefficient: ", "pmax_coefficient: "
WAS = {VOC: "-0.29 %/°C", ISC: "0.05 %/°C", PMAX: "-0.36 %/°C"}


def test_a_label_without_a_curve() -> None:
    """Imp is 0.99 of Isc and Vmp 0.80 of Voc: the bend is sharper than a diode's."""
    plan = label("voc: 24.3 V, vmp: 19.4 V, isc: 5.2 A, imp: 5.15 A, pmax: 100 W")
    (finding,) = found(plan, CURVE)
    assert finding.level == "note"
    assert "a simpler curve is drawn" in finding.message
    assert finding.values[0].number == pytest.approx(5.15 / 5.2)
    assert finding.remedy
    model = study_of(plan).curves.models["rigid-100"]
    assert model.refusal
    assert model.fit is not None
    assert not found(plan.replace("vmp: 19.4 V", "vmp: 20.4 V").replace("5.15 A", "4.9 A"), CURVE)


def test_a_coefficient_that_no_module_has_spoils_no_curve() -> None:
    plan = edited((PMAX + WAS[PMAX], PMAX + "0.36 %/°C"))
    assert not study_of(plan).curves.models["rigid-100"].refusal
    assert not found(plan, CURVE)
