"""All remedies of one report followed at once, and how that is told."""

from __future__ import annotations

import json

from plans import edited
from rule_runs import RULES
from wattproof.remedies.trials import Trials
from wattproof.reports.findings import brief, json_report, markdown, text
from wattproof.reports.findings.run import Run
from wattproof.testing import check_text, study_of
from wattproof.together import together

TWO_FAULTS = edited(
    ("max_output_current: 20 A", "max_output_current: 20 A, low_temperature_cutoff: true"),
    ("max_input_voltage: 100 V", "max_input_voltage: 75 V"),
    ("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 150 A"),
)
ONE_WIRE = edited(
    ("max_output_current: 20 A", "max_output_current: 20 A, low_temperature_cutoff: true"),
    ("batt-8: {size: 8 AWG", "batt-8: {size: 14 AWG"),
)


def test_remedies_of_different_parts_are_followed_together() -> None:
    result = check_text(TWO_FAULTS, RULES)
    made = result.together
    assert made is not None
    rules = {result.findings[n].rule for n in made.followed}
    assert {"cold-voltage-over-controller", "fuse-over-conductor"} <= rules
    assert not made.apart
    assert not [n for n in made.left if n in made.followed]
    assert not [b for b in made.brings if b.level != "note"]


def test_of_two_that_would_write_one_thing_the_better_is_followed_and_both_are_named() -> None:
    """A wire too small for its current and its drop: two sizes, of which the larger does both."""
    result = check_text(ONE_WIRE, RULES)
    made = result.together
    assert made is not None
    sizes = [c.text for c in made.changes if getattr(c, "key", "") == "cable.size"]
    assert len(sizes) == 1
    assert not [n for n in made.left if n in made.followed]


def test_one_remedy_alone_needs_no_second_trial() -> None:
    plan = edited(("max_input_voltage: 100 V", "max_input_voltage: 75 V"))
    result = check_text(plan, RULES)
    ways = [f for f in result.findings if f.ways]
    assert (result.together is None) == (len(ways) < 2)
    untried = Trials(study_of(plan).plan, [], lambda study: [], 0)
    assert together(result.findings, (), untried) is None


def test_it_is_told_in_every_text_and_in_data() -> None:
    result = check_text(TWO_FAULTS, RULES)
    assert "followed at once, clear them all" in " ".join(text.render([result]).split())
    assert "followed at once" in " ".join(brief.render([result]).split())
    data = json.loads(json_report.render(Run([result], 1, RULES)))["plans"][0]["together"]
    assert set(data) == {"changes", "followed", "left", "apart", "brings"}
    assert all(0 <= n < len(result.findings) for n in data["followed"])
    assert markdown.render(Run([result], 1, RULES))  # the table stays as short as it was
