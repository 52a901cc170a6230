"""Whether a breaker that works in one direction can meet a current in the other."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, asked, found

POLARITY = "breaker-polarity"
FACING = RULES.rules[POLARITY].sound


@pytest.mark.parametrize(("polarised", "fires"), [("true", True), ("false", False)])
def test_between_charger_and_battery_nothing_polarised(polarised: str, fires: bool) -> None:
    plan = edited(("polarised: false", f"polarised: {polarised}"), plan=FACING)
    findings = found(plan, POLARITY)
    assert [f.level for f in findings] == (["error"] if fires else [])
    if fires:
        assert "`house` feeds `mains`" not in findings[0].message
        assert "`tracker` feeds `house`" in findings[0].message
        assert "not polarised" in findings[0].remedy


@pytest.mark.parametrize(("ends", "fires"), [(("line", "load"), False), (("load", "line"), True)])
def test_towards_a_load_the_line_side_faces_the_battery(ends: tuple[str, str], fires: bool) -> None:
    near, far = ends
    plan = edited(
        ("breakers:\n", "breakers:\n  main: {rating: 125 A, voltage: 125 V, interrupt: 10 kA, "
         "dc: true, polarised: true}\n"),
        ("  inverter-run: {from: main-bar, to: mains,",
         f"  to-breaker: {{from: main-bar, to: main.{near}, cable: batt-1-0, length: 0.2 m}}\n"
         f"  inverter-run: {{from: main.{far}, to: mains,"),
        plan=FACING,
    )  # fmt: skip
    findings = found(plan, POLARITY)
    assert [f.subjects for f in findings] == ([("main",)] if fires else [])
    if fires:
        assert "mounted the wrong way round" in findings[0].message
        assert "swap the wires" in findings[0].remedy


def test_a_string_breaker_meets_the_other_strings_current() -> None:
    strings = RULES.rules["string-fuse-too-small"].sound
    plan = edited(
        ("fuses:\n  port-fuse: {rating: 15 A, voltage: 1000 V, style: gpv, interrupt: 10 kA, "
         "dc: true}\n",
         "breakers:\n  port-fuse: {rating: 15 A, voltage: 1000 V, interrupt: 10 kA, dc: true, "
         "polarised: true}\nfuses:\n"),
        plan=strings,
    )  # fmt: skip
    [finding] = found(plan, POLARITY)
    assert finding.subjects == ("port-fuse",)
    assert "the other strings" in finding.message


@pytest.mark.parametrize(("ends", "fires"), [(("line", "load"), False), (("load", "line"), True)])
def test_in_an_array_the_line_side_faces_the_modules(ends: tuple[str, str], fires: bool) -> None:
    near, far = ends
    plan = edited(
        ("breakers:\n", "breakers:\n  array-breaker: {rating: 20 A, voltage: 150 V, dc: true, "
         "poles: 2, polarised: true}\n"),
        ("  home-run: {from: roof-string, to: tracker.pv,",
         f"  down: {{from: array-breaker.{far}, to: tracker.pv, cable: pv-10, length: 0.5 m}}\n"
         f"  home-run: {{from: roof-string, to: array-breaker.{near},"),
        plan=FACING,
    )  # fmt: skip
    findings = found(plan, POLARITY, tried=fires)
    assert [f.subjects for f in findings] == ([("array-breaker",)] if fires else [])
    if fires:
        assert "the array feeds `tracker` from its load side" in findings[0].message
        assert "swap the wires at `array-breaker.line`" in findings[0].remedy
        assert findings[0].identity in findings[0].trials[0].clears


@pytest.mark.parametrize(("polarised", "fires"), [("true", True), ("false", False)])
def test_the_breaker_of_each_pack_in_short_form(polarised: str, fires: bool) -> None:
    plan = edited(
        ("  pack-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
         "dc: true}\n",
         "breakers:\n  pack-fuse: {rating: 100 A, voltage: 125 V, interrupt: 20 kA, dc: true, "
         f"polarised: {polarised}}}\n"),
        plan=RULES.rules["pack-fuse-unfit"].sound,
    )  # fmt: skip
    findings = found(plan, POLARITY)
    assert bool(findings) is fires
    if fires:
        assert "the others feed a short in that pack" in findings[0].message


@pytest.mark.parametrize(("polarised", "asks"), [("true", True), ("false", False)])
def test_in_the_middle_of_a_wire_it_is_asked_which_way_round(polarised: str, asks: bool) -> None:
    breaker = f"{{rating: 20 A, voltage: 150 V, dc: true, poles: 2, polarised: {polarised}}}"
    plan = edited(
        ("breakers:\n", f"breakers:\n  array-breaker: {breaker}\n"),
        ("inline: [pv-off]", "inline: [pv-off, array-breaker]"),
        plan=FACING,
    )  # fmt: skip
    assert not found(plan, POLARITY)
    assert asked(plan, POLARITY) == ["not told"] * asks


BACK = "back: {rating: 30 A, voltage: 125 V, interrupt: 10 kA, dc: true, polarised: true}"
LAMP = "  plus: {from: main-bar.positive, to: lamp.positive, cable: batt-1-0, length: 1 m}\n"


def _in_the_negative(wires: str) -> str:
    return edited(
        ("breakers:\n", f"loads:\n  lamp: {{current: 10 A}}\nbreakers:\n  {BACK}\n"),
        ("wires:\n", f"wires:\n{LAMP}{wires}"),
        plan=FACING,
    )


@pytest.mark.parametrize(("ends", "fires"), [(("line", "load"), False), (("load", "line"), True)])
def test_in_a_negative_the_line_side_faces_the_load(ends: tuple[str, str], fires: bool) -> None:
    near, far = ends
    plan = _in_the_negative(
        f"  one: {{from: lamp.negative, to: back.{near}, cable: batt-1-0, length: 1 m}}\n"
        f"  two: {{from: back.{far}, to: main-bar.negative, cable: batt-1-0, length: 1 m}}\n"
    )
    findings = found(plan, POLARITY)
    assert [f.subjects for f in findings] == ([("back",)] if fires else [])
    if fires:
        assert findings[0].message.endswith("feeds `lamp` and gets its current back through it")


def test_in_the_middle_of_a_negative_it_is_asked_which_way_round_it_is() -> None:
    plan = _in_the_negative(
        "  one: {from: lamp.negative, to: main-bar.negative, cable: batt-1-0, length: 1 m, "
        "inline: [back]}\n"
    )
    assert not found(plan, POLARITY)
    assert asked(plan, POLARITY)
    assert not asked(plan.replace("polarised: true", "polarised: false"), POLARITY)


@pytest.mark.parametrize(("ends", "fires"), [(("line", "load"), False), (("load", "line"), True)])
def test_in_the_negative_of_an_array(ends: tuple[str, str], fires: bool) -> None:
    """What comes back from the controller to the modules enters at the line side."""
    near, far = ends
    plan = edited(
        ("breakers:\n", "breakers:\n  back: {rating: 20 A, voltage: 150 V, dc: true, "
         "polarised: true}\n"),
        ("  home-run: {from: roof-string, to: tracker.pv,",
         f"  one: {{from: tracker.pv.negative, to: back.{near}, cable: pv-10, length: 1 m}}\n"
         f"  two: {{from: back.{far}, to: roof-string.negative, cable: pv-10, length: 4 m}}\n"
         "  home-run: {from: roof-string.positive, to: tracker.pv.positive,"),
        plan=FACING,
    )  # fmt: skip
    assert [f.subjects for f in found(plan, POLARITY)] == ([("back",)] if fires else [])
    low = plan.replace("voltage: 150 V, dc: true, polarised", "voltage: 63 V, dc: true, polarised")
    device = "cold-voltage-over-device"
    assert not [f for f in found(plan, device) if f.subjects == ("back",)]
    assert [f.subjects for f in found(low, device) if "back" in f.subjects] == [("back",)]
