"""What runs at once, for the currents of what consumers share."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from wattproof.plan import load_plan
from wattproof.plan.together import on_at_once
from wattproof.source import PlanUnusable
from wattproof.study import Study
from wattproof.testing import study_of

CONSUMERS = """\
busbars:
  bar: {rating: 300 A}
loads:
  refrigerator: {current: 4 A}
  windlass: {current: 80 A}
  mains: {current: 100 A}
wires:
  bar-run: {from: house, to: bar, cable: batt-8, length: 1 m}
  load-run: {from: bar, to: refrigerator, cable: batt-8, length: 1 m}
  windlass-run: {from: bar, to: windlass, cable: batt-8, length: 1 m}
  mains-run: {from: bar, to: mains, cable: batt-8, length: 1 m}
"""


def study(together: str = "") -> Study:
    return study_of(edited(("wires:\n", CONSUMERS), plan=BASE) + together)


def current(found: Study, wire: str) -> float:
    amps = found.wiring.wires[wire].current
    assert amps is not None
    return amps.number


@pytest.mark.parametrize(
    ("together", "amps"),
    [
        ("", 184.0),
        ("together: [[mains, refrigerator], [windlass, refrigerator]]\n", 104.0),
        ("together: [[mains], [windlass]]\n", 104.0),  # the refrigerator runs with all
        ("together: [[mains, windlass, refrigerator]]\n", 184.0),
        ("together: [mains, windlass]\n", 184.0),
    ],
)
def test_what_never_runs_at_once_is_not_added_up(together: str, amps: float) -> None:
    found = study(together)
    assert current(found, "bar-run") == pytest.approx(amps)
    [drawn] = found.wiring.discharging
    assert drawn.current.number == pytest.approx(amps)


def test_each_keeps_its_own_current() -> None:
    found = study("together: [[mains], [windlass]]\n")
    assert current(found, "mains-run") == pytest.approx(100.0)
    assert current(found, "windlass-run") == pytest.approx(80.0)


@pytest.mark.parametrize(
    ("together", "message"),
    [
        ("together: [[mains, windlas]]\n", "windlas"),
        ("together: mains\n", "no list of what runs at once"),
        ("together: []\n", "empty"),
        ("together: [[]]\n", "empty"),
        ("together: [[house]]\n", "house"),
    ],
)
def test_mistakes_are_told(together: str, message: str) -> None:
    text = edited(("wires:\n", CONSUMERS), plan=BASE) + together
    with pytest.raises(PlanUnusable) as unusable:
        load_plan("plan.yaml", text=text)
    assert any(message in problem.message for problem in unusable.value.problems)


def test_without_lists_all_are_on() -> None:
    assert on_at_once((), [("a", 1.0), ("b", 2.0)]) == [True, True]


def test_the_heaviest_list_and_what_stands_in_none() -> None:
    lists = (("a", "b"), ("b", "c"))
    assert on_at_once(lists, [("a", 5.0), ("b", 1.0), ("c", 4.0), ("d", 9.0)]) == [
        True,
        True,
        False,
        True,
    ]
