"""Controllers whose output leads to no battery."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, sound

RULE = "controller-battery-missing"
ISOLATOR = RULES.rules["isolator-parts-nothing"].sound
ALTERNATOR = RULES.rules["vehicle-charger-input-wrong"].sound


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


TO_START = "start-run: {from: splitter.start-side"


def test_an_alternator_on_an_output_of_an_isolator() -> None:
    """What is led there meets its diodes from behind."""
    plan = edited(
        ("to: splitter.input", "to: splitter.start-side"),
        (TO_START, "start-run: {from: splitter.input"),
        plan=ISOLATOR,
    )
    [finding] = found(plan, RULE)
    assert (finding.level, finding.subjects) == ("error", ("alternator",))
    assert "nothing passes `splitter` from an output to its input" in finding.message


ALONE = """\
chargers:
  source: {kind: KIND, max_output_current: 10 A, charge_voltage: 14.2 V, nominal: 12 V}
loads:
  lamp: {current: 2 A}
wires:
  lamp-run: {from: source, to: lamp, cable: batt-8, length: 1 m}
"""


@pytest.mark.parametrize(("kind", "level"), [("wind", "error"), ("shore", "warning")])
def test_a_charger_that_feeds_a_load_alone(kind: str, level: str) -> None:
    [finding] = found(edited(("wires:\n", ALONE.replace("KIND", kind))), RULE)
    assert (finding.level, finding.subjects) == (level, ("source",))
    assert finding.remedy.startswith("lead `source` to the battery that it is to charge")


def test_a_charger_that_feeds_a_vehicle_charger_leads_to_its_battery() -> None:
    plan = edited(
        ("  alternator-run: {from: alternator, to: start,", "  alternator-run: {from: alternator, "
         "to: twin.alternator,"),
        ("  input-run: {from: start, to: twin.alternator, cable: flex-16, length: 5 m, "
         "place: [bay, inside],\n              inline: [{start-fuse: {from_end: from, "
         "distance: 10 cm}}]}\n", ""),
        plan=ALTERNATOR,
    )  # fmt: skip
    assert not found(plan, RULE)


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ("from: alternator.negative, to: start.negative", True),
        ("from: alternator.positive, to: start.positive", False),
    ],
)
def test_an_alternator_with_its_negative_alone(ends: str, told: bool) -> None:
    plan = edited(("from: alternator, to: start", ends), plan=ALTERNATOR)
    assert bool(found(plan, RULE)) == told
