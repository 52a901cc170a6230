"""Rules on arrays: what the cold voltage meets, and unlike branches and strings."""

from __future__ import annotations

import re

import pytest

from plans import BASE, array_plan, edited
from wattproof.engine import check
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.settings import of_call
from wattproof.testing import A_DAY, check_examples, check_text, study_of

RULES = discover()
MODULE = "cold-voltage-over-module"
DEVICE = "cold-voltage-over-device"
PARALLEL = "unlike-voltage-in-parallel"
SERIES = "unlike-current-in-series"
WARM = ("coldest: -18 °C", "coldest: 25 °C")  # 3 × 24.3 V = 72.9 V, as on the label
COLD = 3 * 24.3 * (1 + 0.0029 * 43)  # 82.0 V
SWITCH = "switches:\n  pv-off: {{rating: 30 A, dc: true, poles: 2, load_break: true{}}}\nfuses:\n"
INLINE = ("place: [roof, cabin]}", "place: [roof, cabin], inline: [pv-off]}")
HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"
ALIKE = "{module: rigid-100, series: 2, mounting: roof-gap}"


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


def with_switch(voltage: str, *edits: tuple[str, str]) -> str:
    """The base plan with a switch in the home run."""
    rated = f", voltage: {voltage}" if voltage else ""
    return edited(INLINE, ("fuses:\n", SWITCH.format(rated)), *edits)


def with_fuse(fuse: str, *edits: tuple[str, str]) -> str:
    """The base plan with a fuse in the home run."""
    inline = ("place: [roof, cabin]}", "place: [roof, cabin], inline: [pv-fuse]}")
    return edited(inline, ("fuses:\n", f"fuses:\n  pv-fuse: {{rating: 15 A{fuse}}}\n"), *edits)


def with_sheet(sheet: str, plan: str) -> str:
    """A plan with one more module label."""
    return edited(("  cables:\n", f"    {sheet}\n  cables:\n"), plan=plan)


def joined(one: str, other: str, joint: str = "rating: 30 A, voltage: 600 V") -> str:
    """Two strings that meet at a joint."""
    strings = f"  port: {one}\n  starboard: {other}\n"
    return array_plan(strings, HOME_RUN, f"  roof-joint: {{joins: [port, starboard], {joint}}}\n")


def in_series(one: str, other: str) -> str:
    """Two groups that a wire puts in series."""
    wires = """\
  link: {from: left.positive, to: right.negative, cable: pv-10, length: 1 m}
  plus: {from: right.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}
  minus: {from: left.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}
"""
    return array_plan(f"  left: {one}\n  right: {other}\n", wires)


@pytest.mark.parametrize("rule", [MODULE, DEVICE, PARALLEL, SERIES])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Cold voltage over the modules' system voltage.


@pytest.mark.parametrize(("limit", "fires"), [("73 V", False), ("72.9 V", False), ("72.8 V", True)])
def test_system_voltage_at_the_limit(limit: str, fires: bool) -> None:
    assert (
        bool(
            found(
                edited(WARM, ("max_system_voltage: 600 V", f"max_system_voltage: {limit}")), MODULE
            )
        )
        is fires
    )


def test_system_voltage_by_hand() -> None:
    (finding,) = found(edited(("max_system_voltage: 600 V", "max_system_voltage: 60 V")), MODULE)
    assert finding.values[0].number == pytest.approx(COLD)
    assert "81.99 V" in finding.message
    assert finding.margin == pytest.approx(1 - COLD / 60)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.subjects == ("roof-string", "rigid-100")


@pytest.mark.parametrize(
    ("build", "series", "level"),
    [
        ("rigid", 3, None),  # 600 V is assumed
        ("flexible", 2, None),  # 54.7 V under 60 V
        ("flexible", 3, "warning"),
        ("folding", 3, "warning"),
        ("folding", 62, "error"),  # 1507 V at 25 °C: over any module that is built
    ],
)
def test_system_voltage_where_the_label_is_silent(
    build: str, series: int, level: str | None
) -> None:
    plan = edited(
        (", max_system_voltage: 600 V", f", build: {build}"), ("series: 3", f"series: {series}")
    )
    findings = found(plan, MODULE)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert {a.key for a in findings[0].assumptions} == {"maximum system voltage"}
        assert "`max_system_voltage`" in findings[0].remedy


def test_only_the_weak_module_of_a_mixed_string_is_named() -> None:
    sheet = "fold-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, max_system_voltage: 60 V}"
    plan = edited(("module: rigid-100, series: 3", "modules: [rigid-100, rigid-100, fold-100]"))
    (finding,) = found(with_sheet(sheet, plan), MODULE)
    assert finding.subjects == ("roof-string", "fold-100")


def test_the_remedies_for_system_voltage_hold() -> None:
    plan = edited(("max_system_voltage: 600 V", "max_system_voltage: 60 V"))
    (finding,) = found(plan, MODULE)
    fit = re.search(r"at most (\d+) in series", finding.remedy)
    volts = re.search(r"modules rated (\d+) V", finding.remedy)
    assert fit
    assert volts
    assert not found(plan.replace("series: 3", f"series: {fit[1]}"), MODULE)
    assert not found(plan.replace("voltage: 60 V", f"voltage: {volts[1]} V"), MODULE)


@pytest.mark.parametrize(("form", "fires"), [("3s2p", True), ("2p3s", True), ("3p2s", False)])
def test_short_forms_add_only_what_is_in_series(form: str, fires: bool) -> None:
    plan = edited(
        ("max_system_voltage: 600 V", "max_system_voltage: 60 V"),
        ("series: 3", f"arrangement: {form}"),
    )
    findings = found(plan, MODULE)
    assert bool(findings) is fires
    assert all(f.subjects == ("roof-string", "rigid-100") for f in findings)


# Cold voltage over what lies on the way.


@pytest.mark.parametrize(("rated", "fires"), [("73 V", False), ("72.9 V", False), ("72.8 V", True)])
def test_device_voltage_at_the_limit(rated: str, fires: bool) -> None:
    assert bool(found(with_switch(rated, WARM), DEVICE)) is fires


def test_device_voltage_by_hand() -> None:
    (finding,) = found(with_switch("48 V"), DEVICE)
    assert finding.values[0].number == pytest.approx(COLD)
    assert finding.margin == pytest.approx(1 - COLD / 48)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.subjects == ("pv-off",)
    volts = re.search(r"at least (\d+) V", finding.remedy)
    assert volts
    assert not found(with_switch(f"{volts[1]} V"), DEVICE)
    assert found(with_switch(f"{int(volts[1]) - 1} V"), DEVICE)


def test_a_device_of_unknown_voltage_is_not_passed() -> None:
    (finding,) = found(with_switch(""), DEVICE)
    assert (finding.level, finding.certainty) == ("warning", "undecided")
    assert finding.remedy == "write its `voltage` from the label: at least 82 V DC"


@pytest.mark.parametrize(
    ("fuse", "series", "level"),
    [
        (", style: gpv", 3, None),  # 600 V
        (", style: gpv, voltage: 75 V", 3, "error"),  # what is printed wins
        (", style: blade", 1, None),  # 27.3 V under 32 V
        (", style: blade", 2, "warning"),  # 54.7 V; some are printed 58 V
        (", style: blade", 4, "error"),  # 97 V at 25 °C: none is made for it
        (", style: class-t", 3, None),  # 125 V
        (", style: glass", 3, "undecided"),
    ],
)
def test_fuses_by_style(fuse: str, series: int, level: str | None) -> None:
    findings = found(with_fuse(fuse, ("series: 3", f"series: {series}")), DEVICE)
    told = [f.certainty if f.certainty == "undecided" else f.level for f in findings]
    assert told == ([level] if level else [])


def test_the_remedy_for_a_fuse_is_a_photovoltaic_one() -> None:
    (finding,) = found(with_fuse(", style: blade, voltage: 32 V"), DEVICE)
    assert "(gPV)" in finding.remedy
    assert not found(with_fuse(", style: gpv"), DEVICE)


@pytest.mark.parametrize(
    ("edits", "level"),
    [
        ((("voltage: 600 V}\n    batt", "voltage: 82 V}\n    batt"),), None),
        ((("voltage: 600 V}\n    batt", "voltage: 60 V}\n    batt"),), "error"),
        (((", voltage: 600 V}\n    batt", "}\n    batt"),), None),  # sold as pv: 600 V
        (
            (("kind: pv", "kind: automotive"), (", voltage: 600 V}\n    batt", "}\n    batt")),
            "warning",
        ),
    ],
)
def test_cables(edits: tuple[tuple[str, str], ...], level: str | None) -> None:
    findings = found(edited(*edits), DEVICE)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(f.subjects == ("home-run", "pv-10") for f in findings)


def test_a_cable_is_told_once_for_all_its_wires() -> None:
    plan = in_series(ALIKE, ALIKE).replace("voltage: 600 V}\n    batt", "voltage: 60 V}\n    batt")
    (finding,) = found(plan, DEVICE)
    assert finding.subjects == ("link", "pv-10", "plus", "minus")


@pytest.mark.parametrize(
    ("joint", "told"),
    [
        ("rating: 30 A, voltage: 55 V", []),
        ("rating: 30 A, voltage: 54 V", ["error"]),
        ("rating: 30 A", ["undecided"]),
        ("kind: branch-connector, rating: 30 A, voltage: 48 V", ["error"]),
    ],
)
def test_joints(joint: str, told: list[str]) -> None:
    """Two in series reach 54.7 V."""
    findings = found(joined(ALIKE, ALIKE, joint), DEVICE)
    assert [f.certainty if f.certainty == "undecided" else f.level for f in findings] == told
    assert all(f.subjects == ("roof-joint",) for f in findings)


@pytest.mark.parametrize(("voltage", "fires"), [("1000 V", False), ("60 V", True)])
def test_connectors_with_a_voltage_of_their_own(voltage: str, fires: bool) -> None:
    connector = f"max_system_voltage: 600 V, connector: {{style: locking-pv, voltage: {voltage}}}"
    findings = found(edited(("max_system_voltage: 600 V", connector)), DEVICE)
    assert bool(findings) is fires
    assert all(f.subjects == ("roof-string", "rigid-100") for f in findings)


@pytest.mark.parametrize(
    ("across", "voltage", "fires"),
    [
        ("tracker.pv", "75 V", True),
        ("tracker.pv", "150 V", False),
        ("roof-string", "75 V", True),
        ("tracker.battery", "20 V", False),
    ],
)
def test_arresters(across: str, voltage: str, fires: bool) -> None:
    arrester = f"arresters:\n  surge: {{across: {across}, voltage: {voltage}}}\nwires:\n"
    assert bool(found(edited(("wires:\n", arrester)), DEVICE)) is fires


def test_the_battery_side_is_left_alone() -> None:
    """The 58 V charge fuse never sees the array's 82 V."""
    assert not found(BASE, DEVICE)


# Unlike voltages in parallel.

OTHER = "other: {{voc: {voc} V, vmp: {vmp} V, isc: 5.2 A, imp: 5 A}}"
FIRST = "first: {voc: 24 V, vmp: 20 V, isc: 5.2 A, imp: 5 A}"


def branches(voc: str, vmp: str) -> str:
    """A module of 24 V and 20 V beside another."""
    plan = joined("{module: first, mounting: ground}", "{module: other, mounting: ground}")
    return with_sheet(FIRST, with_sheet(OTHER.format(voc=voc, vmp=vmp), plan))


@pytest.mark.parametrize(
    ("voc", "vmp", "apart"),
    [
        ("24", "20", None),
        ("24", "19", None),  # 5.0 %
        ("24", "18.9", "5.5 %"),
        ("24", "18", "10.0 %"),
        ("24", "17.9", "10.5 %"),
        ("22.8", "20", None),  # 5.0 % at rest
        ("22.7", "20", "5.4 %"),
    ],
)
def test_voltage_spread(voc: str, vmp: str, apart: str | None) -> None:
    findings = found(branches(voc, vmp), PARALLEL)
    assert len(findings) == (1 if apart else 0)
    for finding in findings:
        assert f"{apart} less" in finding.message
        assert ("far apart" in finding.message) is (vmp == "17.9")
        assert finding.level == "warning"
        assert finding.margin is not None
        assert finding.margin < 0


def test_the_loss_in_parallel_is_bounded() -> None:
    """At 18 V both give 5 A: 180 of 190 W are left."""
    (finding,) = found(branches("24", "18"), PARALLEL)
    assert 0.0 < finding.values[1].number < 1 - 180 / 190  # the bound
    assert "2.6 % of the power is lost" in finding.message


def test_an_unequal_count_in_series_is_named() -> None:
    longer = ALIKE.replace("series: 2", "series: 3")
    (finding,) = found(joined(longer, ALIKE), PARALLEL)
    assert "33.3 % less" in finding.message
    assert "`starboard` has 2 in series and `port` 3" in finding.remedy
    # At 40.8 V both strings give 4.9 A: 399.8 of 499.8 W.
    assert 0.0 < finding.values[1].number < 1 - 4 / 5  # the bound
    assert finding.subjects == ("roof-joint", "starboard", "port")
    assert not found(joined(ALIKE, ALIKE), PARALLEL)


def test_a_weak_branch_may_cost_no_more_than_itself() -> None:
    """Three long strings and one of almost their voltage: at 61.2 V the short one gives nothing,
    its open-circuit voltage being above that: 3 of 3.67 strings are left."""
    sheet = "short: {voc: 62 V, vmp: 50 V, isc: 5.2 A, imp: 4.9 A}"
    strings = (
        "  port: {module: rigid-100, arrangement: 3s3p, mounting: roof-gap}\n"
        "  starboard: {module: short, mounting: roof-gap}\n"
    )
    joint = "  roof-joint: {joins: [port, starboard], rating: 30 A, voltage: 600 V}\n"
    (finding,) = found(with_sheet(sheet, array_plan(strings, HOME_RUN, joint)), PARALLEL)
    whole, low, high = 3 * 61.2 + 50, 4 * 50, 3 * 61.2
    assert 0.0 < finding.values[1].number < 1 - max(low, high) / whole  # the bound


@pytest.mark.parametrize("form", ["4s2p", "4p2s", "2p"])
def test_short_forms_are_alike(form: str) -> None:
    plan = edited(("series: 3", f"arrangement: {form}"))
    assert not found(plan, PARALLEL)
    assert not found(plan, SERIES)


def test_a_project_may_set_the_spread() -> None:
    study = study_of(branches("24", "18.9"))
    settings = of_call({PARALLEL: {"spread": 0.06}})
    result = check(study, RULES, file="plan.yaml", today=A_DAY, settings=settings)
    assert PARALLEL not in {f.rule for f in result.findings}


# Unlike currents in series.


def mixed(imp: str) -> str:
    """Two modules of 5 A and one of another current in one string."""
    other = f"other: {{voc: 24 V, vmp: 20 V, isc: 5.3 A, imp: {imp} A}}"
    plan = edited(("module: rigid-100, series: 3", "modules: [first, first, other]"))
    return with_sheet(FIRST, with_sheet(other, plan))


@pytest.mark.parametrize(
    ("imp", "apart"),
    [("5", None), ("4.75", None), ("4.7", "6.0 %"), ("4.5", "10.0 %"), ("4.4", "12.0 %")],
)
def test_current_spread(imp: str, apart: str | None) -> None:
    findings = found(mixed(imp), SERIES)
    assert len(findings) == (1 if apart else 0)
    for finding in findings:
        assert f"{apart} less" in finding.message
        assert ("far apart" in finding.message) is (imp == "4.4")
        assert finding.level == "warning"
        assert finding.subjects == ("roof-string",)


def test_the_loss_in_series_is_bounded() -> None:
    """At 4.5 A all three give 20 V: 270 of 290 W are left."""
    (finding,) = found(mixed("4.5"), SERIES)
    assert 0.0 < finding.values[1].number < 1 - 270 / 290  # the bound
    assert finding.margin == pytest.approx(1 - 0.1 / 0.05)
    assert "`other`" in finding.remedy
    assert not found(mixed("5"), SERIES)


def test_current_by_power_where_the_label_gives_none() -> None:
    other = "other: {voc: 24 V, vmp: 20 V, isc: 5.3 A, pmax: 80 W}"
    plan = edited(("module: rigid-100, series: 3", "modules: [first, other]"))
    (finding,) = found(with_sheet(FIRST, with_sheet(other, plan)), SERIES)
    assert "20.0 % less" in finding.message


def test_groups_of_unequal_number_in_series() -> None:
    """Two beside each other, in series with three: 9.8 A and 14.7 A; four fifths are left."""
    (finding,) = found(
        in_series(
            "{module: rigid-100, arrangement: 2p, mounting: roof-gap}",
            "{module: rigid-100, arrangement: 3p, mounting: roof-gap}",
        ),
        SERIES,
    )
    assert "33.3 % less" in finding.message
    assert 0.0 < finding.values[1].number < 1 - 4 / 5  # the bound
    assert "`left` has 2 side by side and `right` 3" in finding.remedy
    assert finding.subjects == ("left", "right")


def test_alike_groups_in_series_are_sound() -> None:
    group = "{module: rigid-100, arrangement: 4p, mounting: roof-gap}"
    assert not found(in_series(group, group), SERIES)
