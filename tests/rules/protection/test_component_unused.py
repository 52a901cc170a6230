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


def test_a_plan_of_parts_that_nothing_joins_is_not_found_sound() -> None:
    """Four in series at a controller of 75 V: no rule can see it before they are joined."""
    parts = """\
wattproof: 1
setting: vehicle
datasheets: {modules: {m: {voc: 24 V, isc: 6 A}}}
strings: {roof: {module: m, series: 4}}
controllers: {tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
"""
    findings = found(parts, UNUSED)
    assert [f.subjects[0] for f in findings] == ["roof", "tracker", "house"]
    assert {f.level for f in findings} == {"warning"}
    assert all("nothing tells whether it fits" in f.message for f in findings)
    joined = parts.replace("series: 4", "series: 4, feeds: tracker").replace(
        "15 A}", "15 A, feeds: house}"
    )
    assert not found(joined, UNUSED)
    assert "cold-voltage-over-controller" in all_found(joined)
