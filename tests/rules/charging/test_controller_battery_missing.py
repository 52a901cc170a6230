"""Controllers whose output leads to no battery."""

from __future__ import annotations

from rule_runs import faulty, found, sound

RULE = "controller-battery-missing"


def test_the_one_that_leads_nowhere_is_named_and_the_other_is_not() -> None:
    [finding] = found(faulty(RULE), RULE)
    assert (finding.level, finding.subjects) == ("error", ("second",))
    assert "`second.battery`" in finding.remedy


def test_a_way_through_another_controllers_posts_leads_to_a_battery() -> None:
    assert not found(sound(RULE), RULE)
