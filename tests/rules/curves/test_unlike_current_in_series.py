"""The currents of what is joined in series against each other."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked
from rule_runs import found_beside_all as found
from rules.curves.plans import in_series, with_sheet

PARALLEL = "unlike-voltage-in-parallel"
SERIES = "unlike-current-in-series"
FIRST = "first: {voc: 24 V, vmp: 20 V, isc: 5.2 A, imp: 5 A}"


@pytest.mark.parametrize("form", ["4s2p", "4p2s", "2p"])
def test_short_forms_are_alike(form: str) -> None:
    plan = edited(("series: 3", f"arrangement: {form}"))
    assert not found(plan, PARALLEL)
    assert not found(plan, SERIES)


def mixed(imp: str) -> str:
    """Two modules of 5 A and one of another current in one string."""
    other = f"other: {{voc: 24 V, vmp: 20 V, isc: 5.3 A, imp: {imp} A}}"
    plan = edited(("module: rigid-100, series: 3", "modules: [first, first, other]"))
    return with_sheet(FIRST, with_sheet(other, plan))


@pytest.mark.parametrize(
    ("imp", "apart"),
    [("5", None), ("4.75", None), ("4.7", "6.0 %"), ("4.5", "10.0 %"), ("4.4", "12.0 %")],
)
def test_current_spread(imp: str, apart: str | None) -> None:
    findings = found(mixed(imp), SERIES)
    assert len(findings) == (1 if apart else 0)
    for finding in findings:
        assert f"{apart}; " in finding.message
        assert ("as much as" in finding.message) is (imp == "4.4")
        assert finding.level == "warning"
        assert finding.subjects == ("roof-string",)


def test_the_loss_in_series_is_bounded() -> None:
    """At 4.5 A all three give 20 V: 270 of 290 W are left."""
    (finding,) = found(mixed("4.5"), SERIES)
    assert 0.0 < finding.values[1].number < 1 - 270 / 290  # the bound
    assert finding.margin == pytest.approx(1 - 0.1 / 0.05)
    assert "`other`" in finding.remedy
    assert not found(mixed("5"), SERIES)


def test_current_by_power_where_the_label_gives_none() -> None:
    other = "other: {voc: 24 V, vmp: 20 V, isc: 5.3 A, pmax: 80 W}"
    plan = edited(("module: rigid-100, series: 3", "modules: [first, other]"))
    (finding,) = found(with_sheet(FIRST, with_sheet(other, plan)), SERIES)
    assert "by as much as 20.0 %" in finding.message


def test_groups_of_unequal_number_in_series() -> None:
    """Two beside each other, in series with three: 9.8 A and 14.7 A; four fifths are left."""
    (finding,) = found(
        in_series(
            "{module: rigid-100, arrangement: 2p, mounting: roof-gap}",
            "{module: rigid-100, arrangement: 3p, mounting: roof-gap}",
        ),
        SERIES,
    )
    assert "by as much as 33.3 %" in finding.message
    assert 0.0 < finding.values[1].number < 1 - 4 / 5  # the bound
    assert "`left` has 2 side by side and `right` 3" in finding.remedy
    assert finding.subjects == ("left", "right")


def test_alike_groups_in_series_are_sound() -> None:
    group = "{module: rigid-100, arrangement: 4p, mounting: roof-gap}"
    assert not found(in_series(group, group), SERIES)


HALF_TOLD = """\
wattproof: 1
title: A module with a label and one without in series
setting: cabin
datasheets:
  modules:
    told: {pmax: 75 W, voc: 22.5 V, vmp: 18.7 V, isc: 4.3 A}
    untold: {technology: unknown}
  cables:
    sun: {size: 4 mm², kind: pv}
    thick: {size: 16 mm², kind: battery}
strings:
  roof: {modules: [told, untold], mounting: roof-gap}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A, charge_voltage: 14.4 V}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
fuses:
  charge-fuse: {rating: 30 A, style: class-t, voltage: 125 V}
wires:
  home-run: {from: roof, to: tracker.pv, cable: sun, length: 4 m}
  charge-run: {from: tracker.battery, to: house, cable: thick, length: 1 m,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


def test_a_module_without_a_label_may_give_what_the_one_before_it_gives() -> None:
    """4.01 A of one; 0.5 to 19 A of the other, which fail at either end and pass between them."""
    assert not found(HALF_TOLD, SERIES)
    assert "current at maximum power" in asked(HALF_TOLD, SERIES)
    other = "untold: {pmax: 100 W, voc: 22.5 V, vmp: 18.7 V, isc: 5.7 A}"
    told = edited(("untold: {technology: unknown}", other), plan=HALF_TOLD)
    assert [finding.verdict for finding in found(told, SERIES)] == ["certain"]
