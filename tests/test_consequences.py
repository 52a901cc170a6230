"""What follows from a wire that leads to the wrong terminal has the remedy of that."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES
from wattproof.testing import check_text

INPUT = "vehicle-charger-input-wrong"
TOO_MUCH = "charge-current-over-battery"
EXCHANGED = (
    ("input-run: {from: start, to: twin.alternator", "input-run: {from: start, to: twin.battery"),
    ("output-run: {from: twin.battery", "output-run: {from: twin.alternator"),
)


def test_the_remedy_of_the_cause_stands_at_what_follows_from_it() -> None:
    """The starting battery bears what it takes from the alternator, and not 30 A besides."""
    bears = ("max_charge_current: 120 A", "max_charge_current: 70 A")  # it takes half of 90 Ah
    plan = edited(*EXCHANGED, bears, plan=RULES.rules[INPUT].sound)
    findings = {finding.rule: finding for finding in check_text(plan).findings}
    cause, consequence = findings[INPUT], findings[TOO_MUCH]
    assert consequence.remedy == f"{cause.remedy}; with that this is gone too"
    assert consequence.ways == cause.ways
    assert consequence.identity in consequence.trials[0].clears


def test_what_stands_without_it_keeps_its_own_remedy() -> None:
    thin = ("to: start, cable: starter-50", "to: start, cable: flex-16")
    plan = edited(*EXCHANGED, thin, plan=RULES.rules[INPUT].sound)
    [finding] = [f for f in check_text(plan).findings if f.rule == "fuse-over-conductor"]
    assert finding.remedy.startswith("use ")
    assert "with that" not in finding.remedy
