"""The order of connecting a plan: batteries before arrays, all named, measured on the way."""

from __future__ import annotations

import pytest

from plans import EXAMPLES, array_plan, edited
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.study import Study
from wattproof.testing import study_of
from wattproof.views.connection_order import Stage, Work, connection_order


def steps(stages: tuple[Stage, ...]) -> list[Work]:
    return [step for stage in stages for step in stage.steps]


def words(plan: str) -> list[str]:
    return [step.words for step in steps(connection_order(study_of(plan)))]


def where(found: list[str], start: str) -> int:
    return next(i for i, text in enumerate(found) if text.startswith(start))


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda p: p.stem)
def test_everything_that_is_joined_or_closed_is_named(path: object) -> None:
    study = Study(build_circuit(load_plan(str(path))))
    named = {name for step in steps(connection_order(study)) for name in step.names}
    plan = study.plan
    wanted = [*plan.strings, *plan.controllers, *plan.batteries, *plan.chargers]
    assert named >= {
        *wanted,
        *plan.inverters,
        *plan.loads,
        *(d.name for d in study.wiring.devices.values()),
    }


def test_the_battery_comes_before_the_array_and_its_switch_last() -> None:
    plan = edited(
        ("fuses:\n", "switches:\n  pv-off: {rating: 20 A, voltage: 150 V, poles: 2}\nfuses:\n"),
        ("place: [roof, cabin]}", "place: [roof, cabin], inline: [pv-off]}"),
    )
    found = words(plan)
    order = [
        where(found, "Take every fuse out: `charge-fuse`"),
        where(found, "Open every switch and breaker: `pv-off`"),
        where(found, "Measure `house` at its posts"),
        where(found, "Put in `charge-fuse`: `tracker` wakes"),
        where(found, "Set `tracker` for its battery (lithium-iron-phosphate): at most 14.2 V"),
        where(found, "Uncover `roof-string`"),
        where(found, "With `pv-off` open"),
        where(found, "Close `pv-off` last"),
    ]
    assert order == sorted(order)
    assert found[-2].startswith("Open `pv-off`, before anything of the battery is opened")


def test_without_a_switch_it_is_plugged_in_covered() -> None:
    found = words(edited())
    assert any(text.startswith("With the modules covered, plug the array") for text in found)


def test_the_band_of_a_string_is_that_of_the_study() -> None:
    study = study_of(edited())
    [array] = study.array.arrays
    [string] = array.all_strings
    [measured] = [s for s in steps(connection_order(study)) if s.names == (string.name,) and s.stop]
    assert measured.values == tuple(string.voc(s) for s in ("hottest", "standard", "coldest"))
    assert str(string.voc("coldest")) in measured.words


def test_only_branches_are_compared_before_they_are_joined() -> None:
    one = "  a: {module: rigid-100, series: 1}\n  b: {module: rigid-100, series: 1}\n"
    in_series = array_plan(
        one,
        "  link: {from: a.negative, to: b.positive, cable: pv-10, length: 1 m}\n"
        "  plus: {from: a.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
        "  minus: {from: b.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}\n",
    )
    in_parallel = array_plan(
        one,
        "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        "  joint: {joins: [a, b], kind: branch-connector, rating: 30 A}\n",
    )
    said = "Join in parallel only what agrees"
    assert not any(text.startswith(said) for text in words(in_series))
    assert any(text.startswith(said) for text in words(in_parallel))


def test_a_switch_towards_the_battery_is_closed_before_the_array_comes() -> None:
    plan = edited(
        ("fuses:\n", "switches:\n  main: {rating: 100 A, voltage: 48 V}\nfuses:\n"),
        ("inline: [{charge-fuse", "inline: [main, {charge-fuse"),
    )
    found = words(plan)
    assert where(found, "Close `main`.") < where(found, "Uncover `roof-string`")
