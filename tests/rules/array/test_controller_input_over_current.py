"""The array's current in bright sun against what the controller's input stands."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from plans import array_plan, edited
from rule_runs import BUILDS
from rule_runs import found_beside_all as found
from wattproof.testing import check_text

COLD = "cold-voltage-over-controller"
CURRENT = "controller-input-over-current"
HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


def parallel(number: int, in_series: int = 1, **controller: str) -> str:
    """So many strings side by side at one joint."""
    names = [f"string-{k}" for k in range(number)]
    strings = "".join(
        f"  {n}: {{module: rigid-100, series: {in_series}, mounting: open-rack}}\n" for n in names
    )
    joint = f"  roof-joint: {{joins: [{', '.join(names)}], rating: 60 A, voltage: 600 V}}\n"
    return array_plan(strings, HOME_RUN, joint, **controller)


@pytest.mark.parametrize(("limit", "fires"), [("26.1 A", False), ("26 A", False), ("25.9 A", True)])
def test_input_current_at_the_limit(limit: str, fires: bool) -> None:
    """Four modules of about 5 A side by side: 1.25 × 4 × 5.2 A = 26 A."""
    plan = parallel(4, max_input_current=limit)
    assert bool(found(plan, CURRENT)) is fires


@pytest.mark.parametrize("number", [2, 3, 5, 7])
@pytest.mark.parametrize("isc", ["1.1", "5.3", "8.7", "10.23"])
def test_rounding_never_decides(number: int, isc: str) -> None:
    limit = number * Decimal("1.25") * Decimal(isc)
    plan = parallel(number, max_input_current=f"{limit} A")
    assert not found(plan.replace("isc: 5.2 A", f"isc: {isc} A"), CURRENT)


def test_a_large_array_on_a_tracker_without_a_stated_limit_is_no_fault() -> None:
    assert not found(parallel(8), CURRENT)


def test_modules_in_series_add_no_current() -> None:
    """Four in series are 80 V and 5 A, in parallel 20 V and 20 A."""
    (finding,) = found(parallel(4, max_input_current="20 A"), CURRENT)
    assert finding.values[0].number == pytest.approx(26.0)
    assert "26 A" in finding.message
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.margin == pytest.approx(1 - 26 / 20)
    assert not found(parallel(1, 4, max_input_current="20 A"), CURRENT)


@pytest.mark.parametrize(("rating", "fires"), [("13 A", False), ("12.9 A", True)])
def test_a_pulse_width_controller_passes_all(rating: str, fires: bool) -> None:
    plan = parallel(2).replace("kind: mppt", "kind: pwm").replace("20 A", rating)
    findings = found(plan, CURRENT)
    assert bool(findings) is fires
    if fires:
        assert "rating" in findings[0].message
        assert "in series" not in findings[0].remedy


def test_the_tighter_limit_is_named() -> None:
    plan = parallel(4, max_input_current="15 A").replace("kind: mppt", "kind: pwm")
    (finding,) = found(plan, CURRENT)
    assert "15 A input limit" in finding.message


def test_the_remedies_for_input_current_hold() -> None:
    (finding,) = found(parallel(4, max_input_current="15 A"), CURRENT)
    fit = re.search(r"leave at most (\d+) of 4", finding.remedy)
    longer = re.search(r"put (\d+) in series and (\d+) in parallel", finding.remedy)
    amps = re.search(r"at least (\d+) A", finding.remedy)
    assert fit
    assert longer
    assert amps
    assert not found(parallel(int(fit[1]), max_input_current="15 A"), CURRENT)
    rearranged = parallel(int(longer[2]), int(longer[1]), max_input_current="15 A")
    assert not found(rearranged, CURRENT)
    assert not found(rearranged, COLD)
    assert not found(parallel(4, max_input_current=f"{amps[1]} A"), CURRENT)


def test_one_figure_on_a_box_may_be_what_it_takes_which_is_asked() -> None:
    """Two modules of 5.3 A side by side: 1.25 × 10.6 A = 13.25 A."""
    told = (BUILDS / "portable-two-on-a-box.yaml").read_text()
    box = edited(("max_input_current: 15 A", "max_input_current: 10 A"), plan=told)
    (finding,) = found(box, CURRENT)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert finding.remedy.startswith("look up in its manual whether 10 A is what it takes at most")
    takes = ("max_input_current: 10 A", "usable_input_current: 10 A")
    assert not found(edited(takes, plan=box), CURRENT)
    both = ("max_input_current: 10 A", "max_input_current: 12 A, usable_input_current: 10 A")
    (finding,) = found(edited(both, plan=box), CURRENT)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.remedy.startswith("leave at most 1 of 2")


def test_a_controller_tells_the_limit_for_a_short_circuit() -> None:
    (finding,) = found(parallel(4, max_input_current="20 A", usable_input_current="20 A"), CURRENT)
    assert finding.verdict == "certain"
    assert not found(parallel(4, usable_input_current="20 A"), CURRENT)


@pytest.mark.parametrize(
    ("number", "told", "asks"),
    [
        (5, {}, True),  # 32.5 A, and inputs of trackers of 20 A seldom stand more than 30 A
        (5, {"max_input_current": "60 A"}, False),
        (5, {"usable_input_current": "30 A"}, False),
        (4, {}, False),  # 26 A
    ],
)
def test_an_input_of_which_no_limit_is_told(number: int, told: dict[str, str], asks: bool) -> None:
    result = check_text(parallel(number, **told))
    assert CURRENT not in {f.rule for f in result.each}
    asked = [q for q in result.questions if any(d.rule == CURRENT for d in q.decides)]
    assert bool(asked) is asks
    assert all(q.subjects == ("tracker",) for q in asked)
