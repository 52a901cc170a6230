"""What flows backwards into a string that fails short, against what its modules and leads stand."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import RULES, found, found_beside_all, levels
from rules.protection.plans import CHARGE, FUSED
from wattproof.testing import check_remedy

MISSING = "string-fuse-missing"
SMALL = "string-fuse-too-small"
LARGE = "string-fuse-over-module"
THREE = RULES.rules[MISSING].sound
"""Three strings at a joint, 5.2 A each, label 15 A, no fuses."""


@pytest.mark.parametrize(
    ("code", "label", "level"),
    [
        ("nec-2023", "13 A", None),  # at it: 1.25 × 2 × 5.2 A = 13 A
        ("nec-2023", "12.9 A", "error"),
        ("abyc-e11", "13 A", None),
        ("abyc-e11", "12.9 A", "error"),
        ("iso-13297", "12.9 A", "error"),
        ("iec", "10.4 A", None),  # at it: 2 × 5.2 A
        ("iec", "10.3 A", "error"),
        ("as-nzs-3001", "10.4 A", None),
        ("as-nzs-3001", "10.3 A", "error"),
    ],
)
def test_reverse_current_by_body_of_rules(code: str, label: str, level: str | None) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), ("fuse: 15 A", f"fuse: {label}"), plan=THREE)
    assert levels(plan, MISSING) == ([level] if level else [])


def test_three_in_parallel_need_none_where_the_label_is_large_and_two_do_where_it_is_small() -> (
    None
):
    assert not found(THREE, MISSING)
    two = edited(
        ("  middle: {module: rigid-100, series: 2, mounting: roof-gap}\n", ""),
        ("[port, middle, starboard]", "[port, starboard]"),
        ("max_series_fuse: 15 A", "max_series_fuse: 6 A"),
        plan=THREE,
    )
    [finding] = found(two, MISSING)
    assert "6.5 A backwards" in finding.message  # 1.25 × 1 × 5.2 A


def test_one_finding_for_all_strings_of_a_joint_with_numbers_margin_and_certainty() -> None:
    [finding] = found(edited(("fuse: 15 A", "fuse: 10 A"), plan=THREE), MISSING)
    assert finding.subjects == ("middle", "port", "starboard")
    assert "13 A" in finding.message
    assert "10 A" in finding.message
    assert finding.margin == pytest.approx(-0.3)
    assert finding.verdict == "certain"
    assert not finding.acceptable


def arranged(form: str) -> str:
    return edited(
        ("  port: {module: rigid-100, series: 2, mounting: roof-gap}\n", ""),
        ("  middle: {module: rigid-100, series: 2, mounting: roof-gap}\n", ""),
        ("starboard: {module: rigid-100, series: 2,",
         f"roof: {{module: rigid-100, arrangement: {form},"),
        ("  roof-joint: {joins: [port, middle, starboard], kind: combiner-box, rating: 30 A, "
         "voltage: 600 V}\n", ""),
        ("combiners:\n", ""),
        ("from: roof-joint", "from: roof"),
        plan=THREE,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("form", "amps"),
    [
        ("2s2p", None),  # 1 × 6.5 A
        ("2s3p", None),  # 2 × 6.5 A = 13 A
        ("2s4p", "19.5 A"),
        ("4p2s", "19.5 A"),  # in each group three others
        ("4p", "19.5 A"),  # each module has leads of its own
        ("3p2s", None),
        ("3s", None),
    ],
)
def test_short_forms(form: str, amps: str | None) -> None:
    findings = found(arranged(form), MISSING)
    assert len(findings) == (1 if amps else 0)
    for finding in findings:
        assert amps is not None
        assert f"{amps} backwards" in finding.message
        assert finding.subjects == ("roof",)
        assert ("fuse in the leads of each module" in finding.remedy) == (form == "4p2s")


@pytest.mark.parametrize(
    ("build", "form", "level"),
    [
        ("rigid", "2s3p", None),  # 13 A; taken as 15 A
        ("rigid", "2s4p", "warning"),  # 19.5 A; labels go up to 30 A
        ("rigid", "2s6p", "error"),  # 32.5 A, whatever the label says
        ("folding", "2s2p", None),  # 6.5 A: one alike neighbour is always stood
        ("folding", "2s3p", "warning"),
        ("flexible", "2s3p", "warning"),
    ],
)
def test_without_a_label(build: str, form: str, level: str | None) -> None:
    plan = edited(("max_series_fuse: 15 A", f"build: {build}"), plan=arranged(form))
    findings = found(plan, MISSING)
    assert [f.level for f in findings] == ([level] if level else [])
    for finding in findings:
        assert (finding.verdict == "certain") == (level == "error")
        assert [a.key for a in finding.assumptions] == ["maximum series fuse"]


def without_fuses(plan: str) -> str:
    """The plan with fuses in its string leads taken out again."""
    plan = re.sub(r",\n +inline: \[\{(port|middle|starboard)-fuse: [^]]*\]", "", plan)
    return re.sub(r"  (port|middle|starboard)-fuse: .*\n", "", plan)


def test_a_thin_lead_counts_besides_the_label() -> None:
    plan = edited(("max_series_fuse: 15 A", "max_series_fuse: 30 A"), plan=without_fuses(FUSED))
    assert not found(plan, MISSING)  # 15 A against the 30 A of 10 AWG on 60 °C terminals
    thin = edited(
        (
            "    pv-8:",
            "    thin: {size: 18 AWG, kind: pv, insulation_temperature: 90 °C}\n    pv-8:",
        ),
        ("middle, to: roof-joint, cable: pv-10", "middle, to: roof-joint, cable: thin"),
        plan=plan,
    )
    [finding] = found(thin, MISSING)
    assert finding.subjects == ("middle",)
    assert "its lead `middle-lead` may carry" in finding.message
    assert "make its lead" in finding.remedy  # none that carries the string protects so thin a one
    check_remedy(found_beside_all(thin, MISSING, tried=True)[0])


def test_a_fuse_in_the_lead_of_a_group_limits_what_comes_from_outside_it() -> None:
    """Two strings on each of two joints: 1 × 6.5 A inside, and 13 A or the fuse from outside."""
    plan = edited(
        ("  middle: {module: rigid-100, series: 2, mounting: roof-gap}\n",
         "  left: {module: rigid-100, series: 2, mounting: roof-gap}\n"
         "  right: {module: rigid-100, series: 2, mounting: roof-gap}\n"),
        ("  roof-joint: {joins: [port, middle, starboard],",
         "  fore: {joins: [port, left], rating: 30 A}\n"
         "  aft: {joins: [starboard, right], rating: 30 A}\n"
         "  roof-joint: {joins: [fore, aft],"),
        ("wires:\n",
         "wires:\n"
         "  fore-lead: {from: fore, to: roof-joint, cable: pv-10, length: 1 m, place: roof}\n"
         "  aft-lead: {from: aft, to: roof-joint, cable: pv-10, length: 1 m, place: roof}\n"),
        plan=THREE,
    )  # fmt: skip
    fore, aft = found(plan, MISSING)
    assert "19.5 A backwards" in fore.message
    assert (fore.subjects, aft.subjects) == (("left", "port"), ("right", "starboard"))
    fused = edited(
        ("fuses:\n", "fuses:\n  fore-fuse: {rating: 8 A, voltage: 600 V, style: gpv}\n"),
        ("fore, to: roof-joint, cable: pv-10, length: 1 m, place: roof",
         "fore, to: roof-joint, cable: pv-10, length: 1 m, place: roof, inline: [fore-fuse]"),
        plan=plan,
    )  # fmt: skip
    [left] = found(fused, MISSING)
    assert left.subjects == ("right", "starboard")  # 6.5 A + 8 A = 14.5 A in the other group


def test_the_remedy_holds_when_applied() -> None:
    bare = edited(("max_series_fuse: 15 A", "max_series_fuse: 12 A"), plan=without_fuses(FUSED))
    [finding] = found(bare, MISSING)
    assert "a photovoltaic fuse of 10 A in each string's lead" in finding.remedy
    assert "at most 2 in parallel" in finding.remedy  # 12 A / 7.5 A = 1.6 others
    applied = edited(
        ("max_series_fuse: 15 A", "max_series_fuse: 12 A"),
        ("port-fuse: {rating: 15 A", "port-fuse: {rating: 10 A"),
        plan=FUSED,
    )
    assert not any(found(applied, rule) for rule in (MISSING, SMALL, LARGE))


PWM = edited(
    ("kind: mppt,", "kind: pwm,"),
    (", blocks_reverse: true", ""),
    ("series: 3", "series: 1"),
    plan=CHARGE,
)


@pytest.mark.parametrize(
    ("kind", "blocks", "level"),
    [
        ("pwm", ", blocks_reverse: true", None),
        ("pwm", ", blocks_reverse: false", "error"),
        ("pwm", "", None),  # asked
        ("mppt", "", None),
        ("mppt", ", blocks_reverse: false", "error"),
        ("vehicle-charger", "", None),
    ],
)
def test_battery_current_through_the_controller(kind: str, blocks: str, level: str | None) -> None:
    plan = edited(
        ("kind: pwm,", f"kind: {kind},"),
        ("charge_voltage: 14.2 V", f"charge_voltage: 14.2 V{blocks}"),
        plan=PWM,
    )
    findings = found(plan, MISSING)
    assert [f.level for f in findings] == ([level] if level else [])
    for finding in findings:
        assert "40 A" in finding.message  # what the fuse at the bank lets through


def test_a_fuse_on_the_way_to_the_array_is_enough_against_the_battery() -> None:
    leaking = edited(("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, blocks_reverse: false"),
                     plan=PWM)  # fmt: skip
    [finding] = found(leaking, MISSING)
    assert "a photovoltaic fuse of 10 A between `roof-string` and `tracker`" in finding.remedy
    fused = edited(
        ("fuses:\n", "fuses:\n  array-fuse: {rating: 10 A, voltage: 600 V, style: gpv}\n"),
        ("inline: [pv-off]", "inline: [pv-off, array-fuse]"),
        plan=leaking,
    )
    assert not found(fused, MISSING)


def test_without_any_device_battery_current_has_no_limit_and_no_number_is_shown() -> None:
    leaking = edited(
        ("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, blocks_reverse: false"),
        ("  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
         "dc: true}\n", ""),
        ("fuses:\n", ""),
        (",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", ""),
        plan=PWM,
    )  # fmt: skip
    [finding] = found(leaking, MISSING)
    assert finding.level == "error"
    assert "the battery can drive thousands of amperes" in finding.message
    assert finding.margin is None
    assert [str(v) for v in finding.values] == ["15 A"]


def test_a_blocking_diode_in_each_string_makes_it_a_warning() -> None:
    """Common practice: a diode lets nothing back, and fails short without a sign of it."""
    plan = RULES.rules[MISSING].faulty.of(RULES.rules[MISSING].sound)
    assert "error" in [f.level for f in found(plan, MISSING)]
    diodes = plan.replace("mounting: roof-gap", "blocking_diode: 0.5 V, mounting: roof-gap")
    assert diodes != plan
    [finding] = found(diodes, MISSING)
    assert finding.level == "warning"
    assert "only the blocking diodes" in finding.message


def test_a_label_of_power_and_current_is_no_contradiction() -> None:
    """What stands in for its voltages, at its lowest, would ask for more than its current."""
    whole = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"
    assert whole in THREE
    sparse = edited((whole, "isc: 5.2 A, pmax: 100 W"), ("fuse: 15 A", "fuse: 9 A"), plan=THREE)
    assert [f.level for f in found_beside_all(sparse, MISSING)] == ["error"]
