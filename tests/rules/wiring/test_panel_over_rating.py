"""What a distribution panel may come to carry, against its rating."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound
from wattproof.testing import check_remedy, check_text

PANEL = "panel-over-rating"


def rated(amps: str, *edits: tuple[str, str]) -> str:
    return edited(
        ("rating: 60 A\n    voltage: 60 V", f"rating: {amps}\n    voltage: 60 V"),
        *edits,
        plan=sound(PANEL),
    )


@pytest.mark.parametrize(
    ("amps", "expected"),
    [("25 A", []), ("24 A", ["warning"]), ("9 A", ["warning"]), ("8.9 A", ["error"])],
)
def test_loads_of_9_amperes_and_fuses_of_25(amps: str, expected: list[str]) -> None:
    assert levels(rated(amps), PANEL) == expected


def test_a_device_before_it_that_is_no_larger_guards_it() -> None:
    [finding] = found(rated("24 A"), PANEL, tried=True)
    assert "up to 25 A can flow in `panel` before anything opens" in finding.message
    assert finding.remedy == (
        "put a fuse or breaker of at most 24 A before `panel`, such as 20 A for `panel-fuse`"
    )
    check_remedy(finding)
    assert not found(
        rated("24 A", ("panel-fuse: {rating: 40 A", "panel-fuse: {rating: 20 A")), PANEL
    )


def test_the_loads_are_told_first() -> None:
    [finding] = found(faulty(PANEL), PANEL)
    assert finding.message == "the loads of `panel` draw 9 A together; it is rated 8 A"
    assert finding.margin == pytest.approx(-0.125)


def test_what_nothing_feeds_carries_nothing() -> None:
    assert levels(rated("8 A"), PANEL) == ["error"]
    assert not found(rated("8 A", ("panel-feed: {from: bar,", "panel-feed: {from: lights,")), PANEL)


def test_without_a_rating_it_is_silent() -> None:
    assert not found(edited(("    rating: 8 A\n", ""), plan=faulty(PANEL)), PANEL)


CONVERTED = """
  step: {input_nominal: 12 V, output_nominal: 12 V, max_output_current: AMPS}
"""


@pytest.mark.parametrize(("amps", "expected"), [("20 A", []), ("60 A", []), ("61 A", ["warning"])])
def test_behind_a_converter_no_more_flows_than_that_gives(amps: str, expected: list[str]) -> None:
    whole = sound(PANEL, ("fridge: {fuse: 15 A, style: blade}", "fridge: {fuse: 60 A}"))
    feed = next(line for line in whole.splitlines() if "to: panel," in line)
    plan = edited(
        (feed.strip(), feed.strip().replace("to: panel,", "to: step.input,")),
        ("wires:\n", f"converters:{CONVERTED.replace('AMPS', amps)}wires:\n"),
        plan=whole,
    )
    cable = feed.partition("cable: ")[2].partition(",")[0]
    plan = edited(
        (
            "wires:\n",
            f"wires:\n  out: {{from: step.output, to: panel, cable: {cable}, length: 1 m}}\n",
        ),
        plan=plan,
    )
    findings = found(plan, PANEL)
    assert [f.level for f in findings] == expected
    assert not [f for f in findings if "no limit" in f.message]
    assert not found(edited(("fridge: {fuse: 60 A}", "fridge: {fuse: 50 A}"), plan=plan), PANEL)


@pytest.mark.parametrize(
    ("amps", "rating", "asks"),
    [
        ("21 A", "", True),
        ("21 A", "rating: unknown, ", True),
        ("21 A", "rating: 100 A, ", False),
        ("20 A", "", False),  # 60 A: any panel carries that
    ],
)
def test_a_panel_of_which_no_rating_is_told(amps: str, rating: str, asks: bool) -> None:
    names = ("pump", "fridge", "heater")
    text = f"""
wattproof: 1
setting: boat
datasheets: {{cables: {{thick: {{size: 1/0 AWG, kind: marine}}, thin: {{size: 8 AWG}}}}}}
batteries: {{bank: {{chemistry: LFP, nominal: 12.8 V, capacity: 400 Ah}}}}
distribution: {{panel: {{{rating}ways: {{{", ".join(f"{n}: {{fuse: 30 A}}" for n in names)}}}}}}}
fuses: {{main: {{rating: 100 A, style: class-t}}}}
loads: {{{", ".join(f"{n}: {{current: {amps}, nominal: 12 V}}" for n in names)}}}
wires:
  run: {{from: bank, to: panel, cable: thick, length: 1 m, inline: [{{main: {{from_end: from}}}}]}}
"""
    wires = (f"  {n}-run: {{from: panel.{n}, to: {n}, cable: thin, length: 2 m}}\n" for n in names)
    result = check_text(text + "".join(wires))
    assert PANEL not in {f.rule for f in result.each}
    assert asks is any(d.rule == PANEL for q in result.questions for d in q.decides)
