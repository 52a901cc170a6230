"""A kind of battery or controller that nobody told: asked for, shown as unknown, and no finding."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from wattproof.engine import check_file
from wattproof.loading import load_study
from wattproof.study.assumptions.reading import harsh_at
from wattproof.study.assumptions.supposed import label_of
from wattproof.testing import A_DAY
from wattproof.working import SupposedWord, told_word

KIND = edited(("kind: mppt", "kind: unknown"))
CHEMISTRY = edited(("chemistry: lithium-iron-phosphate", "chemistry: unknown"))


@pytest.mark.parametrize("text", [KIND, CHEMISTRY, CHEMISTRY.replace("chemistry: unknown, ", "")])
def test_what_is_not_told_is_no_problem_and_no_certain_error(text: str) -> None:
    result = check_file("plan.yaml", RULES, today=A_DAY, text=text, try_remedies=False)
    assert not result.problems
    assert not result.failed
    before = check_file("plan.yaml", RULES, today=A_DAY, text=edited(), try_remedies=False)
    assert {f.rule for f in result.findings} <= {f.rule for f in before.findings}


def test_each_plausible_word_is_tried() -> None:
    study = load_study("plan.yaml", text=KIND)
    kind = study.plan.controllers["tracker"].kind
    assert isinstance(kind, SupposedWord)
    assert kind == "mppt"
    assert told_word(kind) == "unknown"
    low = study.read_as(harsh_at(label_of(kind), "low")).plan.controllers["tracker"].kind
    assert low == "pwm"
    assert told_word(low) == "unknown"


@pytest.mark.parametrize(
    ("nominal", "word"),
    [
        ("12.8 V", "lithium-iron-phosphate"),
        ("51.2 V", "lithium-iron-phosphate"),
        ("12 V", "agm"),
        ("6 V", "flooded"),
    ],
)
def test_a_nominal_voltage_tells_the_kind_of_battery(nominal: str, word: str) -> None:
    text = CHEMISTRY.replace("nominal: 12.8 V", f"nominal: {nominal}")
    study = load_study("plan.yaml", text=text)
    assert study.plan.batteries["house"].chemistry == word


@pytest.mark.parametrize(
    ("written", "word"), [("LiFePO4", "lithium-iron-phosphate"), ("AGM", "agm")]
)
def test_kinds_as_labels_print_them(written: str, word: str) -> None:
    text = CHEMISTRY.replace("chemistry: unknown", f"chemistry: {written}")
    assert load_study("plan.yaml", text=text).plan.batteries["house"].chemistry == word


def test_sizes_in_square_millimetres_are_read_by_the_tables_that_list_them() -> None:
    metric = edited(("code: nec-2023\n", "")).replace("10 AWG", "6 mm²").replace("8 AWG", "10 mm²")
    assert load_study("plan.yaml", text=metric).codes.battery.id == "iec"
    gauges = edited(("code: nec-2023\n", ""))
    assert load_study("plan.yaml", text=gauges).codes.battery.id == "nec-2023"
