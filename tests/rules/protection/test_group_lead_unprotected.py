"""What other groups of strings drive into a shorted lead of a group, against what it carries."""

from __future__ import annotations

import pytest

from plans import array_plan, edited
from rule_runs import RULES, sound
from rule_runs import found_beside_all as found
from wattproof.testing import check_text

GROUP = "group-lead-unprotected"


def test_group_lead_by_hand_and_its_remedies() -> None:
    """Two groups of two strings of 5.2 A: 1.25 × 4 × 5.2 A = 26 A; 12 AWG carries 20 A."""
    plan = sound(
        GROUP,
        ("port-lead: {from: port, to: roof-box, cable: pv-10",
         "port-lead: {from: port, to: roof-box, cable: pv-12"),
    )  # fmt: skip
    (finding,) = found(plan, GROUP)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.values[0].number == pytest.approx(26)
    assert finding.margin == pytest.approx(1 - 26 / 20)
    assert finding.subjects == ("port-lead", "port")
    assert "a photovoltaic fuse of 20 A" in finding.remedy
    assert "use 10 AWG" in finding.remedy
    assert not [f for f in check_text(plan, RULES).each if f.rule == "string-fuse-missing"]


@pytest.mark.parametrize(
    ("amps", "where", "said", "level"),
    [
        ("20 A", "{group-fuse: {from_end: to, distance: 5 cm}}", "", None),
        ("30 A", "{group-fuse: {from_end: to, distance: 5 cm}}", "at most 20 A", "error"),
        # At the wrong end: 95 cm stand before it.
        ("20 A", "{group-fuse: {from_end: from, distance: 5 cm}}", "0.95 m", "warning"),
        ("20 A", "group-fuse", "", None),  # asked, and taken as at the right end
    ],
)
def test_group_lead_with_a_fuse(amps: str, where: str, said: str, level: str | None) -> None:
    plan = sound(
        GROUP,
        ("port-lead: {from: port, to: roof-box, cable: pv-10, length: 1 m, place: roof}",
         "port-lead: {from: port, to: roof-box, cable: pv-12, length: 1 m, place: roof, "
         f"inline: [{where}]}}"),
        ("fuses:\n", f"fuses:\n  group-fuse: {{rating: {amps}, voltage: 600 V, style: gpv}}\n"),
    )  # fmt: skip
    findings = found(plan, GROUP)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(said in f.message for f in findings)


def test_leads_of_single_strings_are_left_to_their_own_rule() -> None:
    plan = sound(GROUP).replace("2s2p", "2s").replace("cable: pv-10", "cable: pv-12")
    assert not found(plan, GROUP)


@pytest.mark.parametrize(("end", "n"), [("to", 0), ("from", 1)])
def test_the_fuse_of_a_single_string_at_its_wrong_end(end: str, n: int) -> None:
    """Two strings of 5.2 A beside it drive 1.25 × 2 × 5.2 A = 13 A into 95 cm before its fuse."""
    plan = sound(
        GROUP,
        ("port-lead: {from: port, to: roof-box, cable: pv-10, length: 1 m, place: roof}",
         "port-lead: {from: port, to: roof-box, cable: pv-18, length: 1 m, place: roof, "
         f"inline: [{{own: {{from_end: {end}, distance: 5 cm}}}}]}}"),
        ("fuses:\n", "fuses:\n  own: {rating: 8 A, voltage: 600 V, style: gpv}\n"),
        ("  cables:\n", "  cables:\n    pv-18: {size: 18 AWG, kind: pv, voltage: 600 V}\n"),
    ).replace("2s2p", "2s")  # fmt: skip
    findings = found(plan, GROUP)
    assert [f.level for f in findings] == ["warning"] * n
    assert all("between `roof-box` and its own device" in f.message for f in findings)


def test_group_lead_of_unknown_place_is_too_thin_anywhere() -> None:
    plan = sound(
        GROUP,
        ("port-lead: {from: port, to: roof-box, cable: pv-10, length: 1 m, place: roof}",
         "port-lead: {from: port, to: roof-box, cable: pv-12, length: 1 m}"),
    )  # fmt: skip
    (finding,) = found(plan, GROUP)
    assert finding.verdict == "certain"


def test_a_home_run_that_the_battery_feeds_through_its_controller() -> None:
    """A pulse-width controller that does not block: the charge fuse of 40 A is all there is."""
    plan = array_plan(
        "  port: {module: rigid-100, series: 1}\n  starboard: {module: rigid-100, series: 1}\n",
        "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 1 m, place: [roof, cabin]}"
        "\n",
        "  joint: {joins: [port, starboard], rating: 30 A, voltage: 600 V}\n",
    )
    leaking = edited(("kind: mppt", "kind: pwm"), ("reverse: true", "reverse: false"), plan=plan)
    (finding,) = found(leaking, GROUP)
    assert "the battery can drive 40 A into it through `tracker`" in finding.message
    assert finding.remedy.startswith("use a controller that lets no battery current back")
    assert not found(leaking.replace("reverse: false", "reverse: true"), GROUP)
