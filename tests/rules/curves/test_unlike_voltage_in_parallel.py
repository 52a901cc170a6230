"""The voltages of branches that meet in parallel against each other."""

from __future__ import annotations

import pytest

from plans import array_plan
from rule_runs import RULES
from rule_runs import found_beside_all as found
from rules.array.plans import joined
from rules.curves.plans import with_sheet
from wattproof.engine import check
from wattproof.settings import of_call
from wattproof.testing import A_DAY, check_text, study_of

PARALLEL = "unlike-voltage-in-parallel"
HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"
ALIKE = "{module: rigid-100, series: 2, mounting: roof-gap}"
OTHER = "other: {{voc: {voc} V, vmp: {vmp} V, isc: 5.2 A, imp: 5 A}}"
FIRST = "first: {voc: 24 V, vmp: 20 V, isc: 5.2 A, imp: 5 A}"


def branches(voc: str, vmp: str) -> str:
    """A module of 24 V and 20 V beside another."""
    plan = joined("{module: first, mounting: ground}", "{module: other, mounting: ground}")
    return with_sheet(FIRST, with_sheet(OTHER.format(voc=voc, vmp=vmp), plan))


@pytest.mark.parametrize(
    ("voc", "vmp", "apart"),
    [
        ("24", "20", None),
        ("24", "19", None),  # 5.0 %
        ("24", "18.9", "5.5 %"),
        ("24", "18", "10.0 %"),
        ("24", "17.9", "10.5 %"),
        ("22.8", "20", None),  # 5.0 % at rest
        ("22.7", "20", "5.4 %"),
    ],
)
def test_voltage_spread(voc: str, vmp: str, apart: str | None) -> None:
    findings = found(branches(voc, vmp), PARALLEL)
    assert len(findings) == (1 if apart else 0)
    for finding in findings:
        assert f"{apart}; " in finding.message
        assert ("as much as" in finding.message) is (vmp == "17.9")
        assert finding.level == "warning"
        assert finding.margin is not None
        assert finding.margin < 0


def test_the_loss_in_parallel_is_bounded() -> None:
    """At 18 V both give 5 A: 180 of 190 W are left."""
    (finding,) = found(branches("24", "18"), PARALLEL)
    assert 0.0 < finding.values[1].number < 1 - 180 / 190  # the bound
    assert "2.6 % of the power is lost" in finding.message


def test_an_unequal_count_in_series_is_named() -> None:
    longer = ALIKE.replace("series: 2", "series: 3")
    (finding,) = found(joined(longer, ALIKE), PARALLEL)
    assert "by as much as 33.3 %" in finding.message
    assert "`starboard` has 2 in series and `port` 3" in finding.remedy
    # At 40.8 V both strings give 4.9 A: 399.8 of 499.8 W.
    assert 0.0 < finding.values[1].number < 1 - 4 / 5  # the bound
    assert finding.subjects == ("roof-joint", "starboard", "port")
    assert not found(joined(ALIKE, ALIKE), PARALLEL)


def test_a_weak_branch_may_cost_no_more_than_itself() -> None:
    """Three long strings and one of almost their voltage: at 61.2 V the short one gives nothing,
    its open-circuit voltage being above that: 3 of 3.67 strings are left."""
    sheet = "short: {voc: 62 V, vmp: 50 V, isc: 5.2 A, imp: 4.9 A}"
    strings = (
        "  port: {module: rigid-100, arrangement: 3s3p, mounting: roof-gap}\n"
        "  starboard: {module: short, mounting: roof-gap}\n"
    )
    joint = "  roof-joint: {joins: [port, starboard], rating: 30 A, voltage: 600 V}\n"
    (finding,) = found(with_sheet(sheet, array_plan(strings, HOME_RUN, joint)), PARALLEL)
    whole, low, high = 3 * 61.2 + 50, 4 * 50, 3 * 61.2
    assert 0.0 < finding.values[1].number < 1 - max(low, high) / whole  # the bound


def test_a_project_may_set_the_spread() -> None:
    study = study_of(branches("24", "18.9"))
    settings = of_call({PARALLEL: {"spread": 0.06}})
    result = check(study, RULES, file="plan.yaml", today=A_DAY, settings=settings).result
    assert PARALLEL not in {f.rule for f in result.each}


def test_what_heats_a_shorter_string_while_nothing_is_drawn() -> None:
    """Held over its 24.3 V by two modules that still give 4.9 A at 40.8 V."""
    single = ALIKE.replace("series: 2", "series: 1")
    (finding,) = found(joined(ALIKE, single), PARALLEL)
    *_, current, heat = (value.number for value in finding.values)
    assert 4.9 < current < 5.2
    assert 24.3 * 4.9 < heat < 30 * 5.2
    assert finding.message.endswith(" heats `starboard` while the battery is full")


def test_a_string_that_takes_less_than_its_own_power_is_not_said_to_be_heated() -> None:
    (finding,) = found(branches("22.5", "18.6"), PARALLEL)
    assert "heats" not in finding.message


def test_a_label_open_below_its_own_best_voltage_fails_no_rule() -> None:
    """A point of Voc lost: nothing is left of the power by such labels, and the label is told."""
    result = check_text(branches("2.40", "20"))
    assert not result.failed
    assert "module-values-impossible" in {finding.rule for finding in result.findings}
    loss = study_of(branches("2.40", "20")).array.arrays[0]
    assert loss.loss_at(loss.joints[0]).number == 1.0
