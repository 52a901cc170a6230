"""Diode isolators and the banks that are joined behind them."""

from __future__ import annotations

from rule_runs import faulty, found, sound

RULE = "isolator-parts-nothing"


def test_two_banks_on_one_output() -> None:
    [finding] = found(faulty(RULE), RULE)
    assert finding.message == (
        "`splitter` does not keep `house` and `start` apart: they are all on its output "
        "`start-side`"
    )
    assert finding.remedy == "lead one of them to `splitter.house-side`"


LINK = (
    "  back-run:",
    "  link: {from: house.positive, to: start.positive, cable: batt-1-0, length: 3 m,INLINE}\n"
    "  back-run:",
)


def test_a_wire_that_joins_two_outputs_and_a_switch_in_it() -> None:
    joined = sound(RULE, (LINK[0], LINK[1].replace(",INLINE", "")))
    [finding] = found(joined, RULE)
    assert "`splitter.start-side` and `splitter.house-side` are joined behind it" in finding.message
    parted = sound(
        RULE,
        (LINK[0], LINK[1].replace("INLINE", " inline: [emergency]")),
        ("switches:\n", "switches:\n  emergency: {rating: 150 A}\n"),
    )
    assert not found(parted, RULE)


def test_two_batteries_of_one_bank_may_share_an_output() -> None:
    beside = sound(
        RULE,
        (
            "  start: {chemistry",
            "  second: {chemistry: agm, nominal: 12 V, capacity: 200 Ah}\n  start: {chemistry",
        ),
        (
            "  back-run:",
            "  link: {from: house, to: second, cable: batt-1-0, length: 30 cm}\n  back-run:",
        ),
    )
    assert not found(beside, RULE)


EXCHANGED = (
    ("to: splitter.input", "to: splitter.start-side"),
    ("start-run: {from: splitter.start-side", "start-run: {from: splitter.input"),
)


def test_a_battery_on_the_input_and_what_charges_on_an_output() -> None:
    [finding] = found(sound(RULE, *EXCHANGED), RULE, tried=True)
    assert finding.message == (
        "`start` on the input of `splitter` empties into what is on its outputs"
    )
    assert [str(change) for change in finding.ways[0]] == [
        "`to: splitter.input` for `alternator-run`",
        "`from: splitter.start-side` for `start-run`",
    ]
    assert finding.identity in finding.trials[0].clears


def test_a_battery_on_the_input_beside_what_charges() -> None:
    [finding] = found(sound(RULE, EXCHANGED[1]), RULE)
    assert finding.remedy.startswith("lead `start` to an output of `splitter`")
    assert not finding.ways


def test_a_bank_of_two_beside_a_battery_behind_its_main_switch() -> None:
    """Its output leads to none without a switch; it keeps them apart all the same."""
    plan = sound(
        RULE,
        (
            "  start: {chemistry",
            "  second: {chemistry: agm, nominal: 12 V, capacity: 200 Ah}\n  start: {chemistry",
        ),
        (
            "  back-run:",
            "  link: {from: house, to: second, cable: batt-1-0, length: 30 cm}\n  back-run:",
        ),
        ("switches:\n", "switches:\n  start-off: {rating: 200 A, dc: true}\n"),
        ("inline: [{start-fuse", "inline: [start-off, {start-fuse"),
    )
    assert not found(plan, RULE)
    same = plan.replace("from: splitter.start-side", "from: splitter.house-side")
    assert [f.level for f in found(same, RULE)] == ["warning"]
