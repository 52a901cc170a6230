"""Rules on what is plugged: connectors, small plugs, fuse styles, regulators."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.testing import check_examples, check_text

RULES = discover()
MIXED = "connector-mixed"
PLUG = "small-plug-overloaded"
STYLE = "string-fuse-not-pv"
TWICE = "controller-feeds-controller"
PLUGGED = RULES.rules[PLUG].sound
FUSED = RULES.rules[STYLE].sound
PAIR = RULES.rules[MIXED].sound


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


@pytest.mark.parametrize("rule", [MIXED, PLUG, STYLE, TWICE])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


@pytest.mark.parametrize(
    ("plug", "level"),
    [
        # Two of 5.2 A in series: 1.25 × 5.2 A = 6.5 A.
        ("flat-two-pin, plug_rating: 6.5 A", None),
        ("flat-two-pin, plug_rating: 6.4 A", "error"),
        ("cigar, plug_rating: 6 A", "error"),  # what is printed wins
        ("genderless-50, plug_rating: 5 A", "error"),
        ("flat-two-pin", None),  # 10 A
        ("cigar", None),  # 8 A
        ("genderless-50", None),
    ],
)
def test_small_plugs(plug: str, level: str | None) -> None:
    plan = edited(("flat-two-pin, plug_rating: 15 A", plug), plan=PLUGGED)
    assert [f.level for f in found(plan, PLUG)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("isc", "plug", "level"),
    [
        ("8.0 A", "flat-two-pin", None),  # 10.0 A
        ("8.1 A", "flat-two-pin", "warning"),  # heavy ones exist
        ("16.1 A", "flat-two-pin", "error"),  # 20.1 A: none is that heavy
        ("6.4 A", "cigar", None),  # 8.0 A
        ("6.5 A", "cigar", "warning"),
        ("16.1 A", "genderless-50", None),
    ],
)
def test_plugs_without_a_rating(isc: str, plug: str, level: str | None) -> None:
    amps = float(isc.split()[0]) * 0.94
    plan = edited(
        ("flat-two-pin, plug_rating: 15 A", plug),
        ("isc: 5.2 A, imp: 4.9 A, pmax: 100 W", f"isc: {isc}, imp: {amps:.2f} A"),
        plan=PLUGGED,
    )
    findings = found(plan, PLUG)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(f.certainty == "assumed" for f in findings)


def test_a_plug_that_carries_it() -> None:
    plan = edited(("plug_rating: 15 A", "plug_rating: 5 A"), plan=PLUGGED)
    (finding,) = found(plan, PLUG)
    assert finding.margin == pytest.approx(1 - 6.5 / 5)
    assert "rated at least 7 A" in finding.remedy
    assert not found(edited(("plug_rating: 5 A", "plug_rating: 7 A"), plan=plan), PLUG)
    assert not found(edited((", plug: flat-two-pin, plug_rating: 15 A", ""), plan=PLUGGED), PLUG)


@pytest.mark.parametrize(
    ("fuse", "series", "level"),
    [
        ("voltage: 80 V, style: gpv", 2, None),
        ("voltage: 80 V, style: blade", 2, "warning"),
        ("voltage: 80 V, style: bolt-down", 2, "warning"),
        ("voltage: 250 V, style: glass", 2, "warning"),
        ("voltage: 125 V, style: class-t", 2, "warning"),
        ("voltage: 32 V, style: blade", 1, "note"),  # 27.3 V
        ("voltage: 32 V, style: blade", 2, None),  # its voltage has a finding of its own
        ("voltage: 80 V", 2, None),  # of no stated style
        ("style: glass", 2, None),  # of no stated voltage, which is asked for
    ],
)
def test_fuses_for_strings(fuse: str, series: int, level: str | None) -> None:
    plan = edited(
        ("voltage: 80 V, style: gpv", fuse), ("series: 2", f"series: {series}"), plan=FUSED
    )
    assert [f.level for f in found(plan, STYLE)] == ([level] if level else [])


def test_one_for_alternating_current_only_is_told_once() -> None:
    plan = edited(
        ("voltage: 80 V, style: gpv, dc: true", "voltage: 250 V, style: glass, dc: false"),
        plan=FUSED,
    )
    assert not found(plan, STYLE)
    assert found(plan, "device-not-for-dc")


def test_the_battery_side_may_have_any_style() -> None:
    assert not found(FUSED.replace("style: class-t", "style: stud-mounted"), STYLE)


def test_the_remedy_is_a_style_that_is_silent() -> None:
    plan = edited(("voltage: 80 V, style: gpv", "voltage: 80 V, style: blade"), plan=FUSED)
    (finding,) = found(plan, STYLE)
    assert "gPV) of 10 A" in finding.remedy
    assert not found(plan.replace("style: blade", "style: gpv"), STYLE)


@pytest.mark.parametrize(
    ("connector", "said"),
    [
        ("{style: locking-pv, make: A}", ""),
        ("{style: LOCKING-PV, make: a}", ""),
        ("{style: locking-pv, make: B}", "unlike make (A and B)"),
        ("{style: flat-two-pin, make: A}", "unlike style (locking-pv and flat-two-pin)"),
        ("{style: flat-two-pin, make: B}", "unlike make (A and B) and style"),
        ("{style: locking-pv}", ""),  # of no stated make
        ("{make: B}", "unlike make"),
        ("{rating: 30 A}", ""),
    ],
)
def test_connectors_in_a_string(connector: str, said: str) -> None:
    plan = edited(("{style: locking-pv, make: A}}", f"{connector}}}"), plan=PAIR)
    findings = found(plan, MIXED)
    assert len(findings) == (1 if said else 0)
    for finding in findings:
        assert finding.level == "warning"
        assert said in finding.message
        assert finding.subjects == ("roof-string", "rigid-100", "soft-100")


JOINED = edited(
    ("modules: [rigid-100, soft-100]", "module: rigid-100, series: 2"),
    (
        "switches:\n",
        "  other-string: {module: rigid-100, series: 2, mounting: roof-gap}\n"
        "combiners:\n"
        "  branch: {joins: [roof-string, other-string], kind: branch-connector, rating: 30 A,\n"
        "           voltage: 600 V, connector: {style: locking-pv, make: A}}\n"
        "switches:\n",
    ),
    ("from: roof-string, to", "from: branch, to"),
    plan=PAIR,
)


def test_connectors_at_a_branch() -> None:
    assert not found(JOINED, MIXED)
    mixed = JOINED.replace(
        "voltage: 600 V, connector: {style: locking-pv, make: A}",
        "voltage: 600 V, connector: {style: locking-pv, make: B}",
    )
    (finding,) = found(mixed, MIXED)
    assert finding.subjects == ("branch", "rigid-100")
    wired = mixed.replace(
        "wires:\n",
        "wires:\n  one: {from: roof-string, to: branch, cable: pv-10, length: 1 m}\n"
        "  two: {from: other-string, to: branch, cable: pv-10, length: 1 m}\n",
    )
    assert not found(wired, MIXED)  # whose plugs are at the wires' ends


def test_a_regulator_before_a_controller() -> None:
    sound = RULES.rules[TWICE].sound
    (finding,) = found(edited(("regulated: false", "regulated: true"), plan=sound), TWICE)
    assert finding.level == "error"
    assert finding.subjects == ("tracker", "roof-string")
    assert "bypass the regulator" in finding.remedy
    assert not found(edited((",\n                regulated: false", ""), plan=sound), TWICE)
