"""Rules on arrays and what they feed: start, clipping, diodes, shade, touch, group leads."""

from __future__ import annotations

import re

import pytest

from plans import array_plan, edited
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.study.array.series import in_series_with
from wattproof.testing import check_examples, check_text, study_of

RULES = discover()
START = "tracker-will-not-start"
CLIPS = "controller-clips"
PWM = "pwm-voltage-wasted"
BYPASS = "bypass-diode-missing"
DIODE = "blocking-diode-misused"
TOUCH = "array-voltage-touchable"
PORTABLE = "portable-joined-to-roof"
SHADE = "shade-series-loss"
GROUP = "group-lead-unprotected"


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


def sound(rule: str, *edits: tuple[str, str]) -> str:
    return edited(*edits, plan=RULES.rules[rule].sound)


@pytest.mark.parametrize("rule", [START, CLIPS, PWM, BYPASS, DIODE, TOUCH, PORTABLE, SHADE, GROUP])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


HOT = 40.0 + 30.0  # °C of cells on an open rack


def hot_voc() -> float:
    (array,) = study_of(RULES.rules[START].sound).array.arrays
    cells = array.all_strings[0].cells("hottest").number
    assert cells == pytest.approx(HOT, abs=5)
    return 24.3 * (1 - 0.0029 * (cells - 25))


@pytest.mark.parametrize(("over", "fires"), [(-0.001, False), (0.001, True)])
def test_start_at_the_limit(over: float, fires: bool) -> None:
    margin = hot_voc() - 13.4 + over  # 13.4 V: a charged lithium battery at rest
    plan = sound(START, ("start_above_battery: 5 V", f"start_above_battery: {margin:.6f} V"))
    assert [f.level for f in found(plan, START)] == (["warning"] if fires else [])


@pytest.mark.parametrize(
    ("chemistry", "margin", "fires"),
    [
        ("flooded", "8.4 V", False),  # rests at 12.7 V: 21.1 V
        ("flooded", "8.6 V", True),
        ("agm", "8.2 V", False),  # rests at 12.9 V: 21.1 V
        ("agm", "8.4 V", True),
    ],
)
def test_start_by_chemistry(chemistry: str, margin: str, fires: bool) -> None:
    plan = sound(
        START,
        ("start_above_battery: 5 V", f"start_above_battery: {margin}"),
        ("lithium-iron-phosphate, nominal: 12.8 V", f"{chemistry}, nominal: 12 V"),
    )
    assert bool(found(plan, START)) == fires


def test_start_never_and_the_number_that_starts() -> None:
    plan = sound(START, ("start_above_battery: 5 V", "start_above_battery: 12 V"))
    (finding,) = found(plan, START)
    assert "even with cells at 25 °C" in finding.message
    assert finding.margin == pytest.approx(hot_voc() / 25.4 - 1)
    assert finding.remedy == "put at least 2 in series"
    assert not found(edited(("series: 1", "series: 2"), plan=plan), START)


@pytest.mark.parametrize(
    "edits",
    [
        (("start_above_battery: 8 V, ", ""),),
        (("kind: mppt", "kind: pwm"),),
        (("blocks_reverse: true", "boost: true, blocks_reverse: true"),),
        (("mounting: open-rack", "mounting: roof-bonded"),),  # does not even keep going
    ],
)
def test_start_is_not_asked(edits: tuple[tuple[str, str], ...]) -> None:
    plan = sound(START, ("start_above_battery: 5 V", "start_above_battery: 8 V"))
    assert not found(edited(*edits, plan=plan), START)


@pytest.mark.parametrize(("amps", "fires"), [("9.39 A", False), ("9.38 A", True)])
def test_clipping_at_the_limit(amps: str, fires: bool) -> None:
    """199.9 W in full sun at 14.2 V are 14.08 A; 1.5 times 9.39 A is 14.085 A."""
    (array,) = study_of(RULES.rules[CLIPS].sound).array.arrays
    assert array.power("standard").number / 14.2 == pytest.approx(14.08, abs=0.005)
    plan = sound(CLIPS, ("max_output_current: 20 A", f"max_output_current: {amps}"))
    assert [f.level for f in found(plan, CLIPS)] == (["note"] if fires else [])


def test_clipping_by_a_limit_that_is_set_and_a_controller_that_is_large_enough() -> None:
    plan = sound(CLIPS, ("max_output_current: 20 A", "max_output_current: 20 A, limited_to: 5 A"))
    (finding,) = found(plan, CLIPS)
    assert "on purpose?" in finding.message
    amps = re.search(r"at least (\d+) A", finding.remedy)
    assert amps
    assert not found(plan.replace("limited_to: 5 A", f"limited_to: {amps[1]} A"), CLIPS)


def test_a_pulse_width_controller_does_not_clip() -> None:
    plan = sound(CLIPS, ("max_output_current: 20 A", "max_output_current: 3 A"))
    assert not found(plan.replace("kind: mppt", "kind: pwm"), CLIPS)


@pytest.mark.parametrize(("vmp", "fires"), [(23.1, False), (23.6, True)])
def test_pwm_at_the_limit(vmp: float, fires: bool) -> None:
    """Hot Vmp is 0.81 of the label's; 14.2 V / 0.75 is 18.93 V, which some 23.3 V give."""
    (array,) = study_of(RULES.rules[PWM].sound).array.arrays
    assert array.vmp("hottest").number / 20.4 == pytest.approx(0.8117, abs=5e-4)
    label = f"voc: 31.0 V, vmp: {vmp} V, isc: 5.2 A, imp: 4.9 A, pmax: {vmp * 4.9:.1f} W"
    plan = sound(PWM, ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", label))
    assert [f.level for f in found(plan, PWM)] == (["warning"] if fires else [])


def test_pwm_remedies() -> None:
    plan = sound(PWM, ("series: 1", "series: 2"))
    (finding,) = found(plan, PWM)
    assert finding.values[0].number == pytest.approx(1 - 14.2 / (2 * 20.4 * 0.8117), abs=1e-3)
    assert finding.remedy.startswith("put 1 in series")
    assert not found(edited(("kind: pwm", "kind: mppt"), plan=plan), PWM)
    wide = "voc: 38.0 V, vmp: 32.0 V, isc: 5.2 A, imp: 4.9 A, pmax: 157 W"
    alone = sound(PWM, ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", wide))
    (finding,) = found(alone, PWM)
    assert finding.remedy.startswith("use a tracker")


@pytest.mark.parametrize(
    ("diodes", "series", "level"),
    [
        ("0", 1, None),
        ("0", 2, "warning"),
        ("0", 3, "error"),
        ("1", 3, None),
    ],
)
def test_bypass_diodes(diodes: str, series: int, level: str | None) -> None:
    plan = sound(
        BYPASS, ("bypass_diodes: 2", f"bypass_diodes: {diodes}"), ("series: 2", f"series: {series}")
    )
    findings = found(plan, BYPASS)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert f"{series} are in series: up to {series * 24.3:.1f} V" in findings[0].message


def test_bypass_diodes_that_are_not_stated_are_not_asked_for() -> None:
    assert not found(sound(BYPASS, (" bypass_diodes: 2,", "")), BYPASS)


def test_modules_in_series_are_counted_through_wires_and_groups() -> None:
    plan = RULES.rules[PORTABLE].sound
    (array,) = study_of(plan).array.arrays
    assert [(s.name, n) for s, n in in_series_with(array)] == [
        ("roof-string", 2),
        ("rear-string", 2),
    ]
    bare = edited(("max_series_fuse: 15 A", "bypass_diodes: 0, max_series_fuse: 15 A"), plan=plan)
    assert [f.subjects for f in found(bare, BYPASS)] == [
        ("roof-string", "rigid-100"),
        ("rear-string", "rigid-100"),
    ]
    parallel = edited(("series: 2", "arrangement: 1s3p"), plan=sound(BYPASS))
    assert not found(parallel.replace("bypass_diodes: 2", "bypass_diodes: 0"), BYPASS)


@pytest.mark.parametrize(
    ("drop", "fires"),
    [
        ("1.224 V", False),  # at it: 2 % of 3 × 20.4 V
        ("1.230 V", True),
    ],
)
def test_blocking_diode_at_the_limit(drop: str, fires: bool) -> None:
    plan = sound(DIODE, ("blocking_diode: 0.9 V", f"blocking_diode: {drop}"))
    assert [f.level for f in found(plan, DIODE)] == (["warning"] if fires else [])


def test_blocking_diode_heat_and_remedy() -> None:
    plan = sound(DIODE, ("series: 3", "series: 2"))
    (finding,) = found(plan, DIODE)
    assert finding.values[1].number == pytest.approx(0.9 * 1.25 * 5.2)
    assert finding.remedy.startswith("leave it out")
    assert not found(edited((", blocking_diode: 0.9 V", ""), plan=plan), DIODE)


@pytest.mark.parametrize("blocks", ["kind: pwm", "kind: pwm, nominal: 12 V"])
def test_a_blocking_diode_before_a_controller_that_may_leak_is_right(blocks: str) -> None:
    plan = sound(DIODE, ("series: 3", "series: 2"), ("kind: mppt", blocks))
    assert found(plan, DIODE)  # the plan says that it blocks
    assert not found(edited((", blocks_reverse: true", ""), plan=plan), DIODE)
    leaking = edited(("blocks_reverse: true", "blocks_reverse: false"), plan=plan)
    assert not found(leaking, DIODE)


@pytest.mark.parametrize(
    ("connector", "series", "portable", "fires"),
    [
        ("style: locking-pv,", 3, "true", False),
        ("style: flat-two-pin,", 3, "true", True),  # 82 V
        ("style: flat-two-pin,", 2, "true", False),  # 54.7 V
        ("style: flat-two-pin,", 3, "false", False),  # on a roof
        ("", 3, "true", True),  # of no stated style
    ],
)
def test_touch(connector: str, series: int, portable: str, fires: bool) -> None:
    plan = sound(
        TOUCH,
        ("style: locking-pv,", connector),
        ("series: 3", f"series: {series}"),
        ("portable: true", f"portable: {portable}"),
    )
    findings = found(plan, TOUCH)
    assert [f.level for f in findings] == (["note"] if fires else [])
    for finding in findings:
        assert finding.values[0].number == pytest.approx(3 * 24.3 * (1 + 0.0029 * 43))
        assert "at most 2 in series" in finding.remedy


def test_portable_in_series_with_the_roof() -> None:
    plan = sound(PORTABLE, ("portable: false", "portable: true"))
    (finding,) = found(plan, PORTABLE)
    assert finding.subjects == ("rear-string", "roof-string")
    assert finding.values[0].number == pytest.approx(20.4 * 4.9)
    both = plan.replace("mounting: roof-gap}", "mounting: roof-gap, portable: true}")
    assert not found(both, PORTABLE)  # nothing is left that could work


def test_portable_in_parallel_leaves_the_roof_working() -> None:
    head, _ = RULES.rules[PORTABLE].sound.split("  link:")
    plan = (
        head.replace("switches:\n", "combiners:\n  joint: {joins: [roof-string, rear-string], "
                     "rating: 30 A, voltage: 600 V}\nswitches:\n")
        + "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, "
        "place: [roof, cabin], inline: [pv-off]}\n"
    ).replace("portable: false", "portable: true")  # fmt: skip
    assert not found(plan, PORTABLE)


def test_shade_by_hand() -> None:
    """Half the light on one of two modules: a quarter is taken, about half is lost."""
    plan = sound(SHADE, ("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"))
    (finding,) = found(plan, SHADE)
    lost, taken, apart = (v.number for v in finding.values)
    assert taken == pytest.approx(0.25)
    assert 0.40 < lost < 0.52
    assert 0.20 < apart < 0.30
    assert finding.level == "note"
    assert "roof-box" in finding.subjects


@pytest.mark.parametrize(
    ("shadow", "fires"),
    [
        ("module: 1, groups: 1, light: 50 %", False),  # an eighth taken, about a quarter lost
        ("light: 50 %", False),  # all alike: half taken, half lost
        ("module: 1, light: 5 %", False),  # nearly all of one taken, half lost
        ("module: 1, light: 50 %", True),
    ],
)
def test_shade(shadow: str, fires: bool) -> None:
    plan = sound(SHADE, ("module: 1, groups: 1, light: 50 %", shadow))
    assert bool(found(plan, SHADE)) == fires


def test_shade_in_parallel_and_without_cases() -> None:
    plan = sound(
        SHADE,
        ("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"),
        ("series: 2", "arrangement: 1s2p"),
    )
    assert not found(plan, SHADE)
    bare = RULES.rules[SHADE].sound.split("shade:\n")[0]
    assert not found(bare, SHADE)


def test_group_lead_by_hand_and_its_remedies() -> None:
    """Two groups of two strings of 5.2 A: 1.25 × 4 × 5.2 A = 26 A; 12 AWG carries 20 A."""
    plan = sound(
        GROUP,
        ("port-lead: {from: port, to: roof-box, cable: pv-10",
         "port-lead: {from: port, to: roof-box, cable: pv-12"),
    )  # fmt: skip
    (finding,) = found(plan, GROUP)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.values[0].number == pytest.approx(26)
    assert finding.margin == pytest.approx(1 - 26 / 20)
    assert finding.subjects == ("port-lead", "port")
    assert "a photovoltaic fuse of 20 A" in finding.remedy
    assert "use 10 AWG" in finding.remedy
    assert not [f for f in check_text(plan, RULES).findings if f.rule == "string-fuse-missing"]


@pytest.mark.parametrize(
    ("amps", "where", "said", "level"),
    [
        ("20 A", "{group-fuse: {from_end: to, distance: 5 cm}}", "", None),
        ("30 A", "{group-fuse: {from_end: to, distance: 5 cm}}", "at most 20 A", "error"),
        # At the wrong end: 95 cm stand before it.
        ("20 A", "{group-fuse: {from_end: from, distance: 5 cm}}", "0.95 m", "warning"),
        ("20 A", "group-fuse", "not stated", "note"),
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


def test_group_lead_of_unknown_make_is_a_warning() -> None:
    plan = sound(
        GROUP,
        ("port-lead: {from: port, to: roof-box, cable: pv-10, length: 1 m, place: roof}",
         "port-lead: {from: port, to: roof-box, cable: pv-12, length: 1 m}"),
    )  # fmt: skip
    (finding,) = found(plan, GROUP)
    assert finding.certainty == "assumed"


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
