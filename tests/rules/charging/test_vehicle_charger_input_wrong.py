"""Vehicle chargers whose input is on the side that they charge."""

from __future__ import annotations

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
