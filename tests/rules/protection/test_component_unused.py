"""Components that a plan declares, and that nothing in it uses."""

from __future__ import annotations

from plans import edited
from rule_runs import all_found, found

UNUSED = "component-unused"


def test_a_part_that_nothing_uses_leaves_the_rest_of_the_plan_checked() -> None:
    plan = edited(("fuses:\n", "loads:\n  lamp: {current: 2 A}\nfuses:\n  spare: {rating: 10 A}\n"))
    spare, lamp = found(plan, UNUSED)
    assert {spare.subjects, lamp.subjects} == {("spare",), ("lamp",)}
    levels = {f.subjects[0]: f.level for f in (spare, lamp)}
    assert levels == {"spare": "warning", "lamp": "note"}
    assert (spare.hazard, lamp.hazard) == ("fire", "lost-energy")
    assert set(all_found(edited())) <= set(all_found(plan))
