"""Controllers whose output leads to no battery."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

RULE = "controller-battery-missing"


def test_the_one_that_leads_nowhere_is_named_and_the_other_is_not() -> None:
    [finding] = found(faulty(RULE), RULE)
    assert (finding.level, finding.subjects) == ("error", ("second",))
    assert "`second.battery`" in finding.remedy


def test_a_way_through_another_controllers_posts_leads_to_a_battery() -> None:
    assert not found(sound(RULE), RULE)


@pytest.mark.parametrize(
    ("output", "told"),
    [("{from: step.output, to: second-house", False), ("{from: step.output, to: lamp", True)],
)
def test_a_converter_is_no_battery_and_may_lead_to_one(output: str, told: bool) -> None:
    """The controller leads to a converter, which charges a battery or feeds a lamp."""
    plan = edited(
        (
            "charge-run: {from: tracker.battery, to: house,",
            "charge-run: {from: tracker.battery, to: step.input,",
        ),
        (
            "wires:\n",
            "converters:\n"
            "  step: {input_nominal: 24 V, output_nominal: 12 V, max_output_current: 10 A}\n"
            "loads:\n  lamp: {current: 2 A}\nwires:\n"
            f"  step-run: {output}, cable: batt-8, length: 1 m}}\n",
        ),
        ("  house: {", "  second-house: {"),
    )
    assert bool(found(plan, RULE)) is told
