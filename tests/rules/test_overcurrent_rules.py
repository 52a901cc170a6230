"""Rules on fuses and breakers: limits, levels, numbers by hand, remedies that hold when applied."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterable
from itertools import combinations

import pytest

from plans import edited
from wattproof.circuit import Conductor, Passage, Source, Terminal
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.testing import check_examples, check_text, study_of

RULES = discover()
MISSING = "string-fuse-missing"
SMALL = "string-fuse-too-small"
LARGE = "string-fuse-over-module"
CONDUCTOR = "fuse-over-conductor"
DC = "device-not-for-dc"

THREE = RULES.rules[MISSING].sound
"""Three strings at a joint, 5.2 A each, label 15 A, no fuses."""
FUSED = RULES.rules[SMALL].sound
"""Three strings at a joint, 6 A each, label 15 A, a fuse in each."""
CHARGE = RULES.rules[CONDUCTOR].sound
"""One string, a tracker, a 40 A fuse at the bank, 8 AWG."""


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


def levels(plan: str, rule: str) -> list[str]:
    return [f.level for f in found(plan, rule)]


@pytest.mark.parametrize("rule", [MISSING, SMALL, LARGE, CONDUCTOR, DC])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# A string without a fuse.


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
    assert finding.subjects == ("port", "middle", "starboard")
    assert "13 A" in finding.message
    assert "10 A" in finding.message
    assert finding.margin == pytest.approx(-0.3)
    assert finding.certainty == "computed"
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
        assert ("no place for a fuse" in finding.remedy) == (form == "4p2s")


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
        assert finding.certainty == "assumed"
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
    assert "its lead `middle-lead` carries" in finding.message


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
    assert (fore.subjects, aft.subjects) == (("port", "left"), ("right", "starboard"))
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
        ("pwm", "", "note"),
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
        assert (finding.certainty == "undecided") == (blocks == "")


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


# A string fuse that is too small.


@pytest.mark.parametrize(
    ("code", "isc", "rating", "fires"),
    [
        ("nec-2023", "6.4 A", "10 A", False),  # at it: 1.5625 × 6.4 A = 10 A may be met
        ("nec-2023", "6.41 A", "10 A", True),
        ("iec", "6 A", "9 A", True),  # at it: 1.5 × 6 A must be exceeded
        ("iec", "6 A", "9.1 A", False),
        ("abyc-e11", "6 A", "9 A", True),
        ("iso-13297", "6 A", "9.1 A", False),
        ("as-nzs-3001", "6 A", "9 A", True),
        ("as-nzs-3001", "6 A", "9.1 A", False),
    ],
)
def test_lower_end_of_the_window(code: str, isc: str, rating: str, fires: bool) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("isc: 6 A", f"isc: {isc}"),
        ("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 15 A"),
        ("starboard-fuse: {rating: 10 A", "starboard-fuse: {rating: 15 A"),
        ("port-fuse: {rating: 15 A", f"port-fuse: {{rating: {rating}"),
        plan=FUSED,
    )
    findings = found(plan, SMALL)
    assert [f.subjects for f in findings] == ([("port-fuse", "port")] if fires else [])
    assert all(f.level == "warning" for f in findings)


def test_too_small_shows_numbers_margin_and_a_rating_that_passes() -> None:
    plan = edited(("port-fuse: {rating: 15 A", "port-fuse: {rating: 6 A"), plan=FUSED)
    [finding] = found(plan, SMALL)
    assert "`port-fuse` (6 A)" in finding.message
    assert "9.375 A" in finding.message
    assert finding.margin == pytest.approx(6 / 9.375 - 1)
    assert finding.remedy == "use a rating of 10 or 15 A"
    for rating in ("10 A", "15 A"):
        applied = edited(("port-fuse: {rating: 6 A", f"port-fuse: {{rating: {rating}"), plan=plan)
        assert not found(applied, SMALL)


def test_no_standard_rating_between_the_string_and_its_label() -> None:
    plan = edited(
        ("isc: 6 A", "isc: 7 A"),
        ("max_series_fuse: 15 A", "max_series_fuse: 12 A"),
        ("port-fuse: {rating: 15 A", "port-fuse: {rating: 10 A"),
        plan=FUSED,
    )
    findings = found(plan, SMALL)
    assert len(findings) == 3
    assert findings[0].remedy.startswith("no standard rating lies between 10.94 A and 12 A")


def test_a_breaker_in_both_poles_is_one_device() -> None:
    plan = edited(
        ("fuses:\n", "breakers:\n  array-breaker: {rating: 8 A, dc: true, poles: 2}\nfuses:\n"),
        ("inline: [pv-off]", "inline: [pv-off, array-breaker]"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, SMALL)
    assert finding.subjects == ("array-breaker", "roof-string")  # 1.5625 × 5.2 A = 8.125 A


# A string fuse over the module's label.


@pytest.mark.parametrize(
    ("code", "rating", "level"),
    [
        ("nec-2023", "15 A", None),  # at the label
        ("nec-2023", "15.1 A", "note"),  # 1.25 × 2 × 6 A = 15 A: others cannot exceed the label
        ("iec", "14.3 A", None),
        ("iec", "14.4 A", "warning"),  # at 2.4 × 6 A, to be stayed under; the label allows it
        ("iec", "15.1 A", "warning"),
        ("as-nzs-3001", "14.3 A", None),
        ("as-nzs-3001", "14.4 A", "warning"),
    ],
)
def test_upper_end_of_the_window(code: str, rating: str, level: str | None) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("port-fuse: {rating: 15 A", f"port-fuse: {{rating: {rating}"),
        plan=FUSED,
    )
    assert levels(plan, LARGE) == ([level] if level else [])


def test_over_the_label_where_others_can_push_more_than_it() -> None:
    plan = edited(
        ("max_series_fuse: 15 A", "max_series_fuse: 10 A"),
        ("port-fuse: {rating: 15 A", "port-fuse: {rating: 10 A"),
        ("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 20 A"),
        plan=FUSED,
    )
    [finding] = found(plan, LARGE)
    assert finding.level == "error"
    assert "`middle-fuse` (20 A) is over the 10 A" in finding.message
    assert "15 A backwards" in finding.message  # 1.25 × 2 × 6 A
    assert finding.margin == pytest.approx(-1.0)
    assert finding.remedy == "use a rating of 10 A"
    applied = edited(("middle-fuse: {rating: 20 A", "middle-fuse: {rating: 10 A"), plan=plan)
    assert not found(applied, LARGE)


@pytest.mark.parametrize(("rating", "level"), [("20 A", "warning"), ("35 A", "warning")])
def test_over_an_assumed_label(rating: str, level: str) -> None:
    """15 A taken; 18.75 A can flow, less than the 30 A that a label might say."""
    plan = edited(
        ("isc: 6 A", "isc: 7.5 A"),
        (", max_series_fuse: 15 A", ""),
        ("port-fuse: {rating: 15 A", f"port-fuse: {{rating: {rating}"),
        plan=FUSED,
    )
    [finding] = found(plan, LARGE)
    assert (finding.level, finding.certainty) == (level, "assumed")


def test_a_breaker_used_as_a_switch_for_a_single_string_is_no_string_fuse() -> None:
    plan = edited(
        (
            "fuses:\n",
            "breakers:\n  array-breaker: {rating: 32 A, voltage: 150 V, dc: true}\nfuses:\n",
        ),
        ("inline: [pv-off]", "inline: [pv-off, array-breaker]"),
        plan=CHARGE,
    )
    assert not found(plan, LARGE)


# A device over the conductor behind it.


@pytest.mark.parametrize(
    ("code", "rating", "fires"),
    [
        ("nec-2023", "40 A", False),  # 8 AWG on 60 °C terminals: 40 A
        ("nec-2023", "41 A", True),
        # 80 A in 30 °C air, × sqrt((105 − 35)/75) = 77.29 A; the next size is 80 A
        ("abyc-e11", "80 A", False),
        ("abyc-e11", "81 A", True),
    ],
)
def test_largest_device_by_body_of_rules(code: str, rating: str, fires: bool) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), ("rating: 40 A", f"rating: {rating}"),
                  plan=CHARGE)  # fmt: skip
    assert levels(plan, CONDUCTOR) == (["error"] if fires else [])


def test_small_conductors_are_held_to_their_cap() -> None:
    plan = edited(("8 AWG", "14 AWG"), ("rating: 40 A", "rating: 20 A"), plan=CHARGE)  # fmt: skip
    [finding] = found(plan, CONDUCTOR)
    assert "at most 15 A protects it" in finding.message


def test_over_conductor_shows_numbers_margin_and_remedies_that_hold() -> None:
    plan = edited(("rating: 40 A", "rating: 60 A"), plan=CHARGE)
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("charge-run", "charge-fuse")
    assert "`charge-run` (8 AWG) is guarded by `charge-fuse`, 60 A; at most 40 A" in finding.message
    assert finding.margin == pytest.approx(-0.5)
    assert finding.certainty == "computed"
    assert finding.remedy == "use 40 A in place of `charge-fuse`; or use 6 AWG for `charge-run`"
    assert not found(CHARGE, CONDUCTOR)
    assert not found(edited(("batt-8: {size: 8 AWG", "batt-8: {size: 6 AWG"), plan=plan), CONDUCTOR)


def test_where_the_smaller_device_would_not_carry_the_current_the_wire_is_what_changes() -> None:
    plan = edited(("batt-8: {size: 8 AWG", "batt-8: {size: 10 AWG"), plan=CHARGE)
    [finding] = found(plan, CONDUCTOR)
    assert finding.remedy == "use 8 AWG for `charge-run`"  # 30 A, and 1.25 × 30 A flow


def test_assumed_heat_makes_a_warning_unless_it_fails_in_any_case() -> None:
    hot = edited(("cabin: {ambient: 35 °C}", "cabin: {}"), ("105 °C", "75 °C"),
                 ("rating: 40 A", "rating: 60 A"), plan=CHARGE)  # fmt: skip
    [finding] = found(hot, CONDUCTOR)
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    [worse] = found(edited(("rating: 60 A", "rating: 150 A"), plan=hot), CONDUCTOR)
    assert (worse.level, worse.certainty) == ("error", "assumed")


def test_a_metal_that_is_not_stated_counts_as_copper_clad_aluminium() -> None:
    plan = edited(("kind: battery, material: copper,", "kind: battery,"), plan=CHARGE)
    [finding] = found(plan, CONDUCTOR)
    assert (finding.level, finding.certainty) == ("warning", "assumed")


def packs(number: int, rating: int, cable: str, rest: str, families: str = "") -> str:
    """Lithium packs in parallel on a bar, each with a fuse at its post; and what hangs on it."""
    numbers = range(1, number + 1)
    battery = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
        "max_charge_current: 50 A, max_charge_voltage: 14.6 V}"
    )
    fuse = f"{{rating: {rating} A, voltage: 125 V, style: class-t, dc: true}}"
    banks = "".join(f"  pack-{n}: {battery}\n" for n in numbers)
    fuses = "".join(f"  fuse-{n}: {fuse}\n" for n in numbers)
    leads = "".join(
        f"  pack-run-{n}: {{from: pack-{n}, to: bar, cable: {cable}, length: 1 m, place: cabin, "
        f"inline: [{{fuse-{n}: {{from_end: from, distance: 10 cm}}}}]}}\n"
        for n in numbers
    )
    kind = "kind: battery, material: copper, insulation_temperature: 105 °C, voltage: 600 V"
    return f"""\
wattproof: 1
setting: vehicle
code: nec-2023
site: {{places: {{cabin: {{ambient: 30 °C}}}}}}
datasheets:
  cables:
    b-2-0: {{size: 2/0 AWG, {kind}}}
    b-4: {{size: 4 AWG, {kind}}}
    b-8: {{size: 8 AWG, {kind}}}
    b-14: {{size: 14 AWG, {kind}}}
batteries:
{banks}busbars:
  bar: {{rating: 300 A}}
{families}loads:
  lamp: {{current: 5 A}}
fuses:
{fuses}  lamp-fuse: {{rating: 10 A, voltage: 32 V, style: blade}}
wires:
{leads}{rest}"""


LAMP = "  lamp-run: {from: bar, to: lamp, cable: b-14, length: 2 m, place: cabin, inline: [LAMP]}\n"


def lamp(place: str, cable: str = "b-14") -> str:
    return LAMP.replace("LAMP", place).replace("b-14", cable)


AT_BAR = "{lamp-fuse: {from_end: from, distance: 10 cm}}"
FAR = "{lamp-fuse: {from_end: to, distance: 10 cm}}"


def test_parallel_packs_feed_what_lies_behind_them_with_the_sum_of_their_fuses() -> None:
    bare = LAMP.replace(", inline: [LAMP]", "").replace("b-14", "b-4")
    plan = packs(2, 60, "b-2-0", bare).replace(
        "  lamp-fuse: {rating: 10 A, voltage: 32 V, style: blade}\n", ""
    )
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("lamp-run", "fuse-1", "fuse-2")
    assert "`fuse-1` and `fuse-2` together, 120 A; at most 70 A protects it" in finding.message
    assert "put a device of at most 70 A into `lamp-run` where it leaves `bar`" in finding.remedy
    assert not found(plan.replace("rating: 60 A", "rating: 30 A"), CONDUCTOR)


def test_three_packs_feed_the_lead_of_each_from_its_far_end_too() -> None:
    assert not found(packs(2, 70, "b-4", lamp(AT_BAR)), CONDUCTOR)
    findings = found(packs(3, 70, "b-4", lamp(AT_BAR)), CONDUCTOR)
    assert [f.subjects[0] for f in findings] == ["pack-run-1", "pack-run-2", "pack-run-3"]
    assert findings[0].subjects == ("pack-run-1", "fuse-2", "fuse-3")
    assert "140 A; at most 70 A" in findings[0].message
    assert "into `pack-run-1` where it leaves `bar`" in findings[0].remedy


@pytest.mark.parametrize(
    ("inline", "length", "level", "certainty"),
    [
        (AT_BAR, "2 m", None, ""),
        ("{lamp-fuse: {from_end: from, distance: 46 cm}}", "2 m", None, ""),  # at the limit
        ("{lamp-fuse: {from_end: from, distance: 47 cm}}", "2 m", "error", "computed"),
        (FAR, "2 m", "error", "computed"),
        ("lamp-fuse", "2 m", "note", "undecided"),
        ("lamp-fuse", "46 cm", None, ""),
    ],
)
def test_the_wire_before_its_own_fuse(
    inline: str, length: str, level: str | None, certainty: str
) -> None:
    plan = packs(2, 60, "b-2-0", lamp(inline).replace("2 m", length))
    findings = found(plan, CONDUCTOR)
    assert [(f.level, f.certainty) for f in findings] == ([(level, certainty)] if level else [])


def test_the_wire_before_its_own_fuse_tells_how_much_and_what_to_do() -> None:
    [finding] = found(packs(2, 60, "b-2-0", lamp(FAR)), CONDUCTOR)
    assert finding.message.startswith("1.9 m of `lamp-run` (14 AWG) before `lamp-fuse` is guarded")
    assert "only by `fuse-1` and `fuse-2`, 120 A; at most 15 A protects it" in finding.message
    assert finding.remedy == "put `lamp-fuse` within 0.46 m of `bar`"


PANEL = """\
distribution:
  panel: {rating: 100 A, voltage: 32 V, ways: {lights: {fuse: 10 A}, pump: {fuse: 30 A}}}
"""
PANEL_WIRES = """\
  feed: {from: bar, to: panel, cable: b-8, length: 40 cm, place: cabin}
  lamp-run: {from: panel.lights, to: lamp, cable: b-14, length: 2 m, place: cabin}
  spare-run: {from: panel.pump, to: lamp, cable: b-14, length: 2 m, place: cabin}
"""


def panel(*edits: tuple[str, str]) -> str:
    plan = packs(2, 60, "b-2-0", PANEL_WIRES, PANEL)
    plan = plan.replace("  lamp-fuse: {rating: 10 A, voltage: 32 V, style: blade}\n", "")
    plan = plan.replace("loads:\n", "loads:\n  pump: {current: 8 A}\n")
    return edited(("panel.pump, to: lamp", "panel.pump, to: pump"), *edits, plan=plan)


def test_a_way_of_a_panel_guards_its_wire_and_the_short_feed_is_guarded_by_the_ways() -> None:
    [finding] = found(panel(), CONDUCTOR)
    assert finding.subjects == ("spare-run", "pump")
    assert "`spare-run` (14 AWG) is guarded by `pump`, 30 A; at most 15 A" in finding.message
    assert finding.remedy == "use 15 A in place of `pump`; or use 10 AWG for `spare-run`"


def test_the_long_feed_of_a_panel_needs_a_device_of_its_own() -> None:
    feed, way = found(panel(("length: 40 cm", "length: 3 m")), CONDUCTOR)
    assert feed.subjects[0] == "feed"
    assert "put a device of at most 40 A into `feed` where it leaves `bar`" in feed.remedy
    assert way.subjects == ("spare-run", "pump")


def test_two_fused_cables_between_the_same_ends_add_up_behind_them() -> None:
    rest = (
        "  second-run: {from: pack-1, to: bar, cable: b-4, length: 1 m, place: cabin, "
        "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}\n"
        "  lamp-run: {from: bar, to: lamp, cable: b-4, length: 2 m, place: cabin}\n"
    )
    plan = packs(1, 60, "b-4", rest)
    assert not found(plan, CONDUCTOR)  # 60 A + 10 A on 4 AWG, 70 A
    [finding] = found(plan.replace("rating: 10 A", "rating: 20 A"), CONDUCTOR)
    assert finding.subjects == ("lamp-run", "fuse-1", "lamp-fuse")
    assert "80 A; at most 70 A" in finding.message


def test_only_the_positive_pole_of_a_single_pole_pair_is_guarded() -> None:
    plan = edited(
        ("from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,",
         "from: tracker.battery.positive, to: house.positive, cable: batt-8, length: 1 m, "
         "place: cabin,"),
        ("wires:\n", "wires:\n  return: {from: tracker.battery.negative, to: house.negative, "
                     "cable: batt-8, length: 1 m, place: cabin}\n"),
        ("rating: 40 A", "rating: 60 A"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("charge-run", "charge-fuse")


def test_a_string_fuse_that_its_own_lead_does_not_stand() -> None:
    plan = edited(
        ("isc: 6 A, imp: 5.6 A, pmax: 114 W", "isc: 12 A, imp: 11.2 A, pmax: 228 W"),
        ("max_series_fuse: 15 A", "max_series_fuse: 30 A"),
        (
            "    pv-8:",
            "    thin: {size: 14 AWG, kind: pv, insulation_temperature: 90 °C}\n    pv-8:",
        ),
        ("middle, to: roof-joint, cable: pv-10", "middle, to: roof-joint, cable: thin"),
        ("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 25 A"),
        plan=FUSED,
    )
    [finding] = found(plan, CONDUCTOR)
    assert finding.subjects == ("middle-lead", "middle-fuse")
    assert "25 A; at most 15 A protects it" in finding.message


# A device that is not for direct current.


@pytest.mark.parametrize(
    ("marks", "level", "certainty"),
    [
        (", dc: false", "error", "computed"),
        (", voltage: 250 V, dc: false", "error", "computed"),
        (", voltage: 14.6 V", None, ""),  # at the highest charge voltage
        (", voltage: 14.5 V", "error", "computed"),
        (", dc: true", "note", "undecided"),
        ("", "warning", "undecided"),
        (", style: blade", None, ""),  # 32 V at least
        (", style: cartridge", "warning", "undecided"),
        (", style: cartridge, voltage: 80 V", "warning", "undecided"),  # of which current?
        (", style: cartridge, voltage: 80 V, dc: true", None, ""),
        (", style: cartridge, voltage: 12 V, dc: true", "error", "computed"),
    ],
)
def test_marks_of_a_fuse_on_the_battery_side(marks: str, level: str | None, certainty: str) -> None:
    plan = edited((", voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", marks),
                  plan=CHARGE)  # fmt: skip
    findings = found(plan, DC)
    assert [(f.level, f.certainty) for f in findings] == ([(level, certainty)] if level else [])


def test_style_of_a_fuse_on_a_48_v_bank_is_too_low_until_its_label_says_more() -> None:
    plan = edited(
        ("nominal: 12.8 V", "nominal: 51.2 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 58.4 V"),
        ("charge_voltage: 14.2 V, b", "charge_voltage: 57 V, b"),
        ("voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", "style: bolt-down"),
        plan=CHARGE,
    )
    [finding] = found(plan, DC)
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    assert "is rated 32 V DC, and charging brings its circuit to 58.4 V" in finding.message
    assert finding.margin == pytest.approx(1 - 58.4 / 32)
    assert "125 V DC is usual" in finding.remedy
    assert not found(
        edited(("style: bolt-down", "style: bolt-down, voltage: 58.4 V"), plan=plan), DC
    )
    printed = edited(("style: bolt-down", "style: bolt-down, voltage: 32 V"), plan=plan)
    assert levels(printed, DC) == ["error"]


@pytest.mark.parametrize(("printed", "level"), [("12 V", "error"), ("13 V", "warning")])
def test_an_assumed_charge_voltage_is_surely_above_the_nominal_one(
    printed: str, level: str
) -> None:
    plan = edited(
        (", max_charge_voltage: 14.6 V", ""),
        ("charge_voltage: 14.2 V, ", ""),
        ("voltage: 125 V, style", f"voltage: {printed}, style"),
        plan=CHARGE,
    )
    [finding] = found(plan, DC)
    assert (finding.level, finding.certainty) == (level, "assumed")


def test_on_the_array_side_only_what_is_for_alternating_current() -> None:
    plan = edited(("voltage: 150 V, dc: true, poles: 2", "voltage: 30 V, poles: 2"), plan=CHARGE)
    assert not found(plan, DC)
    [finding] = found(edited(("voltage: 30 V, poles: 2", "dc: false, poles: 2"), plan=plan), DC)
    assert finding.subjects == ("pv-off",)
    assert "switch `pv-off` is for alternating current only" in finding.message


def test_ways_of_a_panel_take_its_voltage_and_are_asked_for_once() -> None:
    assert not found(panel(), DC)
    [finding] = found(panel((" voltage: 32 V,", "")), DC)
    assert (finding.subjects, finding.certainty) == (("panel",), "undecided")
    assert not found(panel((" voltage: 32 V,", ""), ("{fuse: 10 A}", "{fuse: 10 A, style: blade}"),
                           ("{fuse: 30 A}", "{fuse: 30 A, style: blade}")), DC)  # fmt: skip


def test_a_remedy_for_alternating_current_holds_when_applied() -> None:
    plan = edited(("voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", "dc: false"),
                  plan=CHARGE)  # fmt: skip
    [finding] = found(plan, DC)
    assert finding.remedy == "use a fuse that is marked for DC at 14.6 V or more: 32 V DC is usual"
    assert not found(edited(("dc: false", "dc: true, voltage: 32 V"), plan=plan), DC)


# What the study says of guards and feeds.


def test_every_stretch_is_fed_from_its_worse_end() -> None:
    guards = {
        (g.wire.name, g.part.start.port, g.part.end.port): [d.name for d in g.limiting]
        for g in study_of(packs(3, 70, "b-4", lamp(AT_BAR))).protection.guards
    }
    assert guards["pack-run-1", "", "#0a"] == []  # the post itself
    assert guards["pack-run-1", "#0b", ""] == ["fuse-2", "fuse-3"]
    assert guards["lamp-run", "", "#0a"] == ["fuse-1", "fuse-2", "fuse-3"]
    assert guards["lamp-run", "#0b", ""] == ["lamp-fuse"]


def random_net(rng: random.Random) -> str:
    """Banks and bars joined at random, with fuses in some of the wires; a lamp somewhere."""
    banks = [f"bank-{n}" for n in range(rng.randint(1, 3))]
    bars = [f"bar-{n}" for n in range(rng.randint(1, 3))]
    nodes = rng.sample(banks + bars, len(banks) + len(bars))
    ends = [(nodes[n], nodes[rng.randrange(n)]) for n in range(1, len(nodes))]
    ends += [tuple(rng.sample(nodes, 2)) for _ in range(rng.randint(0, 3))]  # type: ignore[misc]
    fuses, wires = [], []
    for number, (start, end) in enumerate((*ends, (rng.choice(nodes), "lamp"))):
        here = [f"f-{number}-{k}" for k in range(rng.choice((0, 1, 1, 2)))]
        fuses += [f"  {f}: {{rating: {rng.choice((10, 20, 30, 50, 70))} A}}\n" for f in here]
        inline = f", inline: [{', '.join(here)}]" if here else ""
        wires.append(f"  w-{number}: {{from: {start}, to: {end}, cable: c, length: 1 m{inline}}}\n")
    bank = "{chemistry: agm, nominal: 12 V, capacity: 100 Ah}"
    return (
        "wattproof: 1\nsetting: vehicle\ncode: nec-2023\n"
        "datasheets: {cables: {c: {size: 4 AWG, kind: marine}}}\n"
        f"batteries:\n{''.join(f'  {b}: {bank}{chr(10)}' for b in banks)}"
        f"busbars:\n{''.join(f'  {b}: {{}}{chr(10)}' for b in bars)}"
        f"{'fuses:' + chr(10) if fuses else ''}{''.join(fuses)}"
        f"loads: {{lamp: {{current: 1 A}}}}\nwires:\n{''.join(wires)}"
    )


def flooded(elements: Iterable[Conductor | Passage], sources: list[Terminal]) -> set[Terminal]:
    seen, grown = set(sources), True
    while grown:
        grown = False
        for e in elements:
            if (e.start in seen) != (e.end in seen):
                seen |= {e.start, e.end}
                grown = True
    return seen


def least_sum(study: Study, part: Conductor) -> float:
    """By trying every set of devices: the least ratings that keep banks off the worse end."""
    positive = [
        e
        for e in study.circuit.elements
        if not isinstance(e, Source) and e.pole == "positive" and e is not part
    ]
    devices = [e for e in positive if isinstance(e, Passage)]
    sources = [Terminal(bank.name, "", "positive") for bank in study.battery.banks]
    sums = []
    for end in {part.start, part.end} & flooded(positive, sources):
        cuts = (c for n in range(len(devices) + 1) for c in combinations(devices, n))
        sums.append(
            min(
                (
                    sum(device_rating(d).number for d in cut)
                    for cut in cuts
                    if end not in flooded([e for e in positive if e not in cut], sources)
                ),
                default=math.inf,
            )
        )
    return max(sums)


@pytest.mark.parametrize("seed", range(40))
def test_guards_against_trying_every_cut(seed: int) -> None:
    rng = random.Random(seed)
    plan = random_net(rng)
    while plan.count("rating") > 7:  # of which every subset is tried
        plan = random_net(rng)
    study = study_of(plan)
    guarded = {guard.part: guard.rating.number for guard in study.protection.guards}
    positive = [
        c for c in study.circuit.elements if isinstance(c, Conductor) and c.pole == "positive"
    ]
    assert set(guarded) == set(positive)
    assert guarded == {part: least_sum(study, part) for part in positive}


# A device that is made for alternating current, with a voltage typed.


@pytest.mark.parametrize("made", ["rail-breaker", "moulded-case-breaker"])
@pytest.mark.parametrize("volts", [60, 250, 600])
def test_a_breaker_made_for_alternating_current_is_good_for_dc_only_where_it_says_so(
    made: str, volts: float
) -> None:
    plan = edited(
        ("fuses:\n  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
         "dc: true}\n",
         f"breakers:\n  charge-fuse: {{rating: 40 A, voltage: {volts} V, style: {made}, "
         "interrupt: 20 kA}\n"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, DC)
    assert (finding.level, finding.certainty) == ("warning", "undecided")
    assert "made for alternating current" in finding.message
    assert f"its {volts} V hold for direct current" in finding.message
    assert not found(edited(("interrupt: 20 kA}", "interrupt: 20 kA, dc: true}"), plan=plan), DC)
    marked_low = edited(
        (f"voltage: {volts} V, style", "voltage: 12 V, style"),
        ("interrupt: 20 kA}", "interrupt: 20 kA, dc: true}"),
        plan=plan,
    )
    assert levels(marked_low, DC) == ["error"]


@pytest.mark.parametrize(("volts", "fires"), [(60, False), (150, True), (400, True)])
def test_an_isolator_of_a_mains_voltage_says_for_which_current(volts: float, fires: bool) -> None:
    plan = edited(("voltage: 150 V, dc: true, poles: 2", f"voltage: {volts} V, poles: 2"),
                  plan=CHARGE)  # fmt: skip
    findings = [f for f in found(plan, DC) if f.subjects == ("pv-off",)]
    assert bool(findings) == fires
