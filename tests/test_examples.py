"""Every example is run: sound plans have no finding of any rule, faulty ones have theirs."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import EXAMPLES
from wattproof.engine import Result, check_file
from wattproof.packs import discover
from wattproof.testing import A_DAY

SOUND = sorted(EXAMPLES.glob("*.yaml"))
FAULTY = {
    "van-cold-morning.yaml": {
        "array-switch-missing",
        "battery-fuse-missing",
        "charge-below-freezing",
        "cold-voltage-over-controller",
        "conductor-too-small",
        "fuse-over-conductor",
        "fuse-style-confused",
        "voltage-drop-high",
    },
    "cabin-unfused-strings.yaml": {
        "array-switch-missing",
        "charge-below-freezing",
        "charge-current-over-battery",
        "combiner-over-rating",
        "controller-input-over-current",
        "string-fuse-missing",
        "voltage-drop-high",
    },
    "boat-thin-cable.yaml": {
        "battery-switch-strands-controller",
        "battery-fuse-missing",
        "charge-current-over-battery",
        "device-not-for-dc",
        "module-values-impossible",
        "voltage-drop-high",
    },
}


def checked(path: Path) -> Result:
    result = check_file(str(path), discover(), today=A_DAY)
    assert not result.problems, result.problems
    assert not result.failed
    assert result.ran == result.planned
    return result


@pytest.mark.parametrize("path", SOUND, ids=lambda p: p.stem)
def test_every_rule_over_every_sound_example_finds_nothing(path: Path) -> None:
    assert [(f.rule, f.message) for f in checked(path).findings] == []


@pytest.mark.parametrize("name", sorted(FAULTY))
def test_a_faulty_example_has_its_findings(name: str) -> None:
    findings = checked(EXAMPLES / "faulty" / name).findings
    assert {f.rule for f in findings} == FAULTY[name]
    assert all(f.remedy and f.explanation and f.basis for f in findings)


def test_what_rests_on_an_impossible_label_is_a_question() -> None:
    first = checked(EXAMPLES / "faulty" / "boat-thin-cable.yaml").questions[0]
    assert first.line == (
        "the label of `folding-200`, which cannot be right: decides fire in 5 places"
    )


def test_every_faulty_example_is_listed() -> None:
    assert {p.name for p in (EXAMPLES / "faulty").glob("*.yaml")} == set(FAULTY)


def test_the_folding_pair_gives_twice_the_voltage_or_twice_the_current() -> None:
    from wattproof.circuit import build_circuit
    from wattproof.plan import load_plan
    from wattproof.study import Study

    arrays = {}
    for way in ("series", "parallel"):
        plan = load_plan(str(EXAMPLES / f"folding-pair-{way}.yaml"))
        [arrays[way]] = Study(build_circuit(plan)).array.arrays
    series, parallel = arrays["series"], arrays["parallel"]
    assert series.voc("standard").number == pytest.approx(2 * parallel.voc("standard").number)
    assert parallel.isc("standard").number == pytest.approx(2 * series.isc("standard").number)
    assert series.power("standard").number == pytest.approx(parallel.power("standard").number)
