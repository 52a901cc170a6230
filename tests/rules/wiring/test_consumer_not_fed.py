"""Loads and inverters on whose positive nothing gives current."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

RULE = "consumer-not-fed"
FED = sound(RULE)
APART = faulty(RULE)


def test_what_leads_to_no_source_is_told() -> None:
    assert not found(FED, RULE)
    (finding,) = found(APART, RULE)
    assert (finding.level, finding.subjects) == ("warning", ("lamp",))


@pytest.mark.parametrize(
    ("family", "source", "end"),
    [
        ("batteries", "{chemistry: agm, nominal: 12 V, capacity: 50 Ah}", "other"),
        ("chargers", "{kind: alternator, max_output_current: 50 A}", "other"),
        (
            "converters",
            "{input_nominal: 12 V, output_nominal: 12 V, max_output_current: 10 A}",
            "other.output",
        ),
    ],
)
def test_each_kind_of_source_feeds(family: str, source: str, end: str) -> None:
    """A converter, where it is fed itself."""
    plan = APART.replace("{from: lamp, to: bar", f"{{from: {end}, to: bar")
    if f"\n{family}:\n" in plan:
        plan = plan.replace(f"\n{family}:\n", f"\n{family}:\n  other: {source}\n")
    else:
        plan = plan.replace("\nloads:\n", f"\n{family}:\n  other: {source}\nloads:\n")
    more = "  in-run: {from: house, to: other.input, cable: batt-8, length: 1 m}\n"
    if family == "converters":
        assert found(plan, RULE)
        plan = plan.replace("  lamp-run:", f"{more}  lamp-run:")
    assert not found(plan, RULE)


def test_an_inverter_does_not_feed_itself() -> None:
    combi = "  combi: {power: 500 W, max_output_current: 20 A, nominal: 12 V}\n"
    plan = APART.replace("{from: lamp, to: bar", "{from: combi, to: bar")
    plan = plan.replace("\nloads:\n", f"\ninverter_chargers:\n{combi}loads:\n")
    assert [f.subjects for f in found(plan, RULE)] == [("combi",)]


STARTING = edited(
    ("chargers:\n", "starters:\n  engine-starter: {current: 200 A, nominal: 12 V}\nchargers:\n"),
    ("wires:\n", "wires:\n  cranking: {from: start, to: engine-starter, cable: starter-50,\n"
     "             length: 1 m, place: bay, enclosed: true}\n"),
    plan=sound("vehicle-charger-input-wrong"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ("from: start.negative, to: engine-starter.negative", True),
        ("from: start.positive, to: engine-starter.positive", False),
        ("from: start, to: engine-starter", False),
    ],
)
def test_a_starter_with_its_negative_alone(ends: str, told: bool) -> None:
    """Its current may come back through the engine; nothing brings it but the positive."""
    plan = edited(("from: start, to: engine-starter", ends), plan=STARTING)
    assert bool(found(plan, RULE)) == told
