"""Vehicle chargers whose input is on the side that they charge."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from wattproof.testing import check_examples, check_text

INPUT = "vehicle-charger-input-wrong"


def test_a_charger_that_feeds_itself() -> None:
    check_examples(RULES.rules[INPUT], RULES)
    plan = RULES.rules[INPUT].faulty.of(RULES.rules[INPUT].sound)
    [finding] = [f for f in check_text(plan).each if f.rule == INPUT]
    assert finding.message == (
        "`twin` takes its input from what it charges, `house`: it pumps in a circle"
    )


def test_a_charger_with_its_sides_exchanged() -> None:
    plan = edited(
        (
            "input-run: {from: start, to: twin.alternator",
            "input-run: {from: start, to: twin.battery",
        ),
        ("output-run: {from: twin.battery", "output-run: {from: twin.alternator"),
        plan=RULES.rules[INPUT].sound,
    )
    [finding] = [f for f in check_text(plan).each if f.rule == INPUT]
    assert "`twin` charges the side that `alternator` charges" in finding.message
    [changes] = finding.ways
    assert [str(change) for change in changes] == [
        "`to: twin.alternator` for `input-run`",
        "`from: twin.battery` for `output-run`",
    ]
    assert finding.identity in finding.trials[0].clears
    assert not finding.trials[0].brings


def test_a_switch_for_emergencies_is_no_circle() -> None:
    plan = edited(
        ("fuses:\n", "switches:\n  both: {rating: 200 A, voltage: 48 V, dc: true}\nfuses:\n"),
        ("wires:\n", "wires:\n  link: {from: start, to: house, cable: starter-50, length: 3 m, "
         "inline: [both]}\n"),
        plan=RULES.rules[INPUT].sound,
    )  # fmt: skip
    assert not [f for f in check_text(plan).each if f.rule == INPUT]


BACK = """\
converters:
  maintainer: {input_nominal: 12 V, output_nominal: 12 V, max_output_current: 5 A,
               charge_voltage: 13.8 V}
wires:
  there: {from: house, to: maintainer.input, cable: flex-16, length: 1 m}
  back: {from: maintainer.output, to: start, cable: flex-16, length: 5 m}
"""


def test_two_that_feed_each_other() -> None:
    ring = edited(("wires:\n", BACK), plan=RULES.rules[INPUT].sound)
    [finding] = [f for f in check_text(ring).each if f.rule == INPUT]
    assert finding.subjects == ("twin", "maintainer")
    assert "each take from what the other charges" in finding.message
    never = edited(
        ("charge_voltage: 13.8 V", "charge_voltage: 13.8 V, never_with: twin"), plan=ring
    )
    assert not [f for f in check_text(never).each if f.rule == INPUT]


def test_a_converter_on_one_battery_with_both_its_sides() -> None:
    plan = edited(
        ("wires:\n", BACK), ("maintainer.output, to: start", "maintainer.output, to: house"),
        plan=RULES.rules[INPUT].sound,
    )  # fmt: skip
    [finding] = [f for f in check_text(plan).each if f.rule == INPUT]
    assert finding.subjects == ("maintainer",)


@pytest.mark.parametrize(("amps", "told"), [("5 A", False), ("10 A", False), ("30 A", True)])
def test_a_converter_between_two_batteries_with_its_sides_exchanged(amps: str, told: bool) -> None:
    """A few amperes keep a starting battery full; more of them empty the other one into it."""
    plan = edited(
        ("wires:\n", BACK),
        ("max_output_current: 5 A", f"max_output_current: {amps}, never_with: twin"),
        plan=RULES.rules[INPUT].sound,
    )
    findings = [f for f in check_text(plan).each if f.rule == INPUT]
    assert [f.subjects for f in findings] == ([("maintainer", "alternator")] if told else [])
    if told:
        assert findings[0].remedy.startswith("lead `maintainer.input` to the side of the altern")


MAIN = ("fuses:\n", "switches:\n  main: {rating: 200 A, voltage: 48 V, dc: true}\nfuses:\n")
AT_THE_BATTERY = ("house-fuse: {from_end: to, distance: 10 cm}}]", "main, house-fuse]")
FROM_HOUSE = ("input-run: {from: start", "input-run: {from: house")


def test_a_main_switch_between_does_not_part_the_circle() -> None:
    plan = edited(
        MAIN, FROM_HOUSE, ("inline: [{" + AT_THE_BATTERY[0], "inline: [" + AT_THE_BATTERY[1]),
        plan=RULES.rules[INPUT].sound,
    )  # fmt: skip
    [finding] = [f for f in check_text(plan).each if f.rule == INPUT]
    assert finding.message == (
        "`twin` takes its input from what it charges, `house`: it pumps in a circle"
    )


def test_a_main_switch_and_one_for_emergencies_are_told_apart() -> None:
    """The charger's bar reaches the house by its main switch and the starter's by another."""
    plan = edited(
        MAIN,
        ("main: {", "both: {rating: 200 A, voltage: 48 V, dc: true}\n  main: {"),
        ("wires:\n", "busbars:\n  bar: {rating: 200 A}\nwires:\n"
         "  link: {from: start, to: bar, cable: starter-50, length: 3 m, inline: [both]}\n"
         "  rest: {from: bar, to: house, cable: starter-50, length: 50 cm, inline: [main]}\n"),
        ("output-run: {from: twin.battery, to: house", "output-run: {from: twin.battery, to: bar"),
        plan=RULES.rules[INPUT].sound,
    )  # fmt: skip
    assert not [f for f in check_text(plan).each if f.rule == INPUT]


def test_a_converter_on_one_battery_behind_a_main_switch() -> None:
    behind = ("length: 5 m}", "length: 5 m, inline: [main]}")
    plan = edited(
        MAIN, ("wires:\n", BACK), ("maintainer.output, to: start", "maintainer.output, to: house"),
        plan=RULES.rules[INPUT].sound,
    )  # fmt: skip
    [before, after] = plan.split("maintainer.output, to: house", 1)
    plan = before + "maintainer.output, to: house" + after.replace(*behind, 1)
    [finding] = [f for f in check_text(plan).each if f.rule == INPUT]
    assert finding.subjects == ("maintainer",)
