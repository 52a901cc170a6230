"""The current of a joint, and of each of its legs, against what it is rated for."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, asked, found_beside_all
from wattproof.codes import known
from wattproof.finding import Finding
from wattproof.packs import RuleSet
from wattproof.testing import check_text

RATING = "combiner-over-rating"
TWO = RULES.rules[RATING].sound
"""Two strings of 10.2 A at a branch connector of 30 A."""


def found(plan: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({RATING: RULES.rules[RATING]})).each)


@pytest.mark.parametrize("code", known())
@pytest.mark.parametrize(
    ("rating", "fires"),
    [
        ("25.5 A", False),  # at it: 1.25 × 2 × 10.2 A
        ("25.4 A", True),
        ("25.6 A", False),
    ],
)
def test_the_whole_joint(code: str, rating: str, fires: bool) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), ("rating: 30 A,", f"rating: {rating},"),
                  plan=TWO)  # fmt: skip
    assert [f.level for f in found(plan)] == (["error"] if fires else [])


def test_numbers_margin_and_a_rating_that_holds() -> None:
    plan = edited(("rating: 30 A,", "rating: 20 A,"), plan=TWO)
    [finding] = found(plan)
    assert finding.message == (
        "`roof-joint` carries 25.5 A from 2 branches in bright sun and is rated 20 A"
    )
    assert finding.subjects == ("roof-joint", "port", "starboard")
    assert finding.margin == pytest.approx(1 - 25.5 / 20)
    assert "rated at least 26 A" in finding.remedy
    assert not found(edited(("rating: 20 A,", "rating: 26 A,"), plan=plan))


@pytest.mark.parametrize(
    ("leg", "fires"),
    [
        ("12.75 A", False),  # at it: 1.25 × 10.2 A
        ("12.7 A", True),
    ],
)
def test_each_leg(leg: str, fires: bool) -> None:
    plan = edited(("rating: 30 A,", f"rating: 30 A, leg_rating: {leg},"), plan=TWO)
    findings = found(plan)
    assert [f.subjects for f in findings] == (
        [("roof-joint", "port"), ("roof-joint", "starboard")] if fires else []
    )
    if fires:
        assert "the leg of `roof-joint` from `port` carries 12.8 A" in findings[0].message
        assert "at least 13 A" in findings[0].remedy


@pytest.mark.parametrize(("rating", "fires"), [("12.75 A", False), ("12.7 A", True)])
def test_its_connectors(rating: str, fires: bool) -> None:
    """As the legs: 1.25 × 10.2 A pass each one, whatever the joint as a whole may carry."""
    plan = edited(
        ("rating: 30 A,", f"rating: 30 A, connector: {{style: locking-pv, rating: {rating}}},"),
        plan=TWO,
    )
    findings = found(plan)
    assert [f.subjects for f in findings] == (
        [("roof-joint", "port"), ("roof-joint", "starboard")] if fires else []
    )
    if fires:
        assert findings[0].message.startswith("the connector of `roof-joint` from `port` carries")
        assert not found(edited((f"rating: {rating}", "rating: 13 A"), plan=plan))
        beside = found_beside_all(plan, RATING, tried=True)
        assert [trial.clears for f in beside[:1] for trial in f.trials]


def test_a_rating_that_is_not_stated_is_asked_for() -> None:
    silent = edited((" rating: 30 A,", ""), plan=TWO)
    assert not found(silent)  # 30 A are usual
    assert asked(silent, RATING) == ["rating of a joint"]
    legs = edited((" rating: 30 A,", " leg_rating: 10 A,"), plan=TWO)
    assert [f.verdict for f in found(legs)] == ["certain", "certain"]


def test_short_forms_have_no_joint_of_their_own_but_bring_their_sum() -> None:
    """A string of two in parallel on one leg, and a single one."""
    plan = edited(
        ("port: {module: rigid-200, series: 3,", "port: {module: rigid-200, arrangement: 3s2p,"),
        ("rating: 30 A,", "rating: 38 A, leg_rating: 30 A,"),
        plan=TWO,
    )
    [finding] = found(plan)
    assert "carries 38.2 A" in finding.message  # 1.25 × 3 × 10.2 A


CASCADE = edited(
    ("  starboard: {module: rigid-200, series: 3, mounting: roof-gap}\n", "".join(
        f"  {name}: {{module: rigid-200, series: 3, mounting: roof-gap}}\n"
        for name in ("starboard", "fore", "aft")
    )),
    ("  roof-joint: {joins: [port, starboard], kind: branch-connector, rating: 30 A,",
     "  left-plug: {joins: [port, fore], rating: LEFT}\n"
     "  right-plug: {joins: [starboard, aft], rating: 30 A}\n"
     "  roof-joint: {joins: [left-plug, right-plug], rating: WHOLE, leg_rating: LEG,"),
    plan=TWO,
)  # fmt: skip
"""Two branch connectors plugged straight into a third."""


@pytest.mark.parametrize(
    ("left", "whole", "leg", "found_at"),
    [
        ("25.5 A", "51 A", "25.5 A", []),
        ("25.4 A", "51 A", "25.5 A", ["left-plug"]),
        ("25.5 A", "50.9 A", "25.5 A", ["roof-joint"]),
        ("25.5 A", "51 A", "25.4 A", ["roof-joint", "roof-joint"]),
    ],
)
def test_joints_plugged_into_a_joint(left: str, whole: str, leg: str, found_at: list[str]) -> None:
    plan = CASCADE.replace("LEFT", left).replace("WHOLE", whole).replace("LEG", leg)
    assert [f.subjects[0] for f in found(plan)] == found_at


def test_joints_wired_to_a_joint() -> None:
    plan = edited(
        ("wires:\n", "wires:\n"
                     "  left: {from: left-plug, to: roof-joint, cable: pv-8, length: 1 m}\n"
                     "  right: {from: right-plug, to: roof-joint, cable: pv-8, length: 1 m}\n"),
        plan=CASCADE.replace("LEFT", "20 A").replace("WHOLE", "60 A").replace("LEG", "20 A"),
    )  # fmt: skip
    findings = found(plan)
    assert sorted(f.subjects[0] for f in findings) == ["left-plug", "roof-joint", "roof-joint"]
    assert any("from `left-plug` carries 25.5 A" in f.message for f in findings)


@pytest.mark.parametrize(
    ("arrangement", "asks"),
    [("1s4p", False), ("1s5p", True), ("2s5p", True), ("5p2s", True), ("5s1p", False)],
)
def test_the_joint_of_a_short_form_is_asked_about(arrangement: str, asks: bool) -> None:
    """1.25 × 9.9 A of each branch: 49.5 A of four, and branch connectors end at 50 A."""
    text = f"""
wattproof: 1
setting: vehicle
datasheets:
  modules: {{m: {{pmax: 180 W, voc: 22 V, vmp: 18.4 V, isc: 9.9 A, imp: 9.8 A}}}}
  cables: {{pv: {{size: 35 mm², kind: pv}}, thick: {{size: 35 mm²}}}}
strings: {{roof: {{module: m, arrangement: {arrangement}}}}}
controllers: {{tracker: {{kind: mppt, max_input_voltage: 150 V, max_output_current: 60 A}}}}
batteries: {{bank: {{chemistry: LFP, nominal: 12.8 V, capacity: 400 Ah}}}}
fuses: {{main: {{rating: 80 A, style: class-t}}}}
wires:
  roof-run: {{from: roof, to: tracker.pv, cable: pv, length: 4 m}}
  run: {{from: tracker.battery, to: bank, cable: thick, inline: [{{main: {{from_end: to}}}}]}}
"""
    asked_about = [
        q.subjects for q in check_text(text).questions if any(d.rule == RATING for d in q.decides)
    ]
    assert asked_about == ([("roof",)] if asks else [])
