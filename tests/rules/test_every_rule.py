"""Every built-in rule: its two examples, and a file of tests of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from rule_runs import RULES
from wattproof.testing import check_examples

OWN = sorted(rule.id for rule in RULES.rules.values() if rule.pack == "wattproof")


@pytest.mark.parametrize("rule", OWN)
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


@pytest.mark.parametrize("rule", OWN)
def test_it_has_a_file_of_tests(rule: str) -> None:
    *_, room, name = RULES.rules[rule].check.__module__.split(".")
    path = Path(__file__).parent / room / f"test_{name}.py"
    assert path.is_file(), f"write tests of {rule} in tests/rules/{room}/test_{name}.py"
    assert "\ndef test_" in path.read_text(encoding="utf-8"), f"{path.name} holds no test"


@pytest.mark.parametrize("rule", OWN)
def test_no_caution_has_a_connector_parted_in_sun(rule: str) -> None:
    """Modules are covered: to unplug them while they carry current draws an arc."""
    caution = RULES.rules[rule].caution
    assert caution is None or "unplug" not in caution.text.lower()
