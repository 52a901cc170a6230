"""Rules on readings: at the limits, with what is missing, causes by size, and remedies applied."""

from __future__ import annotations

import re

import pytest

from plans import array_plan, edited
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.testing import check_examples, check_remedy, check_text, study_of

RULES = discover()
LOW = "reading-voltage-low"
HIGH = "reading-voltage-high"
CURRENT_LOW = "reading-current-low"
CURRENT_HIGH = "reading-current-high"
UNEQUAL = "reading-strings-unequal"
POWER = "reading-power-under-curve"
POLARITY = "reading-polarity"
JOINT = "reading-joint-drop"
CHARGE = "reading-charge-voltage"
OVERCHARGED = "reading-battery-overcharged"
MISSING = "reading-conditions-missing"
EVERY = sorted(rule.id for rule in RULES.rules.values() if rule.part == "reading")

EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"
FULL_SUN = f"irradiance: 1000 W/m², back_temperature: 48 °C, {EXACT}"
"""Where the curve meets the label's own values: cells at 49 °C, one kelvin over the back."""


def read(*readings: str, plan: str | None = None) -> str:
    """The base plan, or another, with readings."""
    lines = "".join(f"  r{number}: {{{text}}}\n" for number, text in enumerate(readings, start=1))
    return (plan if plan is not None else edited()) + f"readings:\n{lines}"


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


def first(plan: str) -> ArrayReading:
    return study_of(plan).readings.at_arrays[0]


def strings(count: int, **controller: str) -> str:
    """So many strings of three side by side at one joint."""
    names = [f"string-{number}" for number in range(1, count + 1)]
    each = "{module: rigid-100, series: 3, mounting: roof-gap}"
    return array_plan(
        "".join(f"  {name}: {each}\n" for name in names),
        "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        f"  roof-joint: {{joins: [{', '.join(names)}], rating: 60 A, voltage: 600 V}}\n",
        **controller,
    )


@pytest.mark.parametrize("rule", EVERY)
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


def test_a_plan_without_readings_has_no_finding_of_them() -> None:
    assert not {f.rule for f in check_text(edited(), RULES).findings} & set(EVERY)


# Open-circuit voltage.


def voc_by_hand(cells: float) -> float:
    return 3 * 24.3 * (1 - 0.0029 * (cells - 25))


def test_the_band_of_voltage_by_hand() -> None:
    """Cells 51 °C ± 3 K by the label's coefficient, labels ± 3 %; full sun needs no curve."""
    band = first(read(f"at: roof-string, voc: 60 V, {FULL_SUN}")).expected_voc
    assert band.expected.number == pytest.approx(voc_by_hand(51), rel=1e-4)
    assert band.low.number == pytest.approx(voc_by_hand(54) * 0.97, rel=1e-4)
    assert band.high.number == pytest.approx(voc_by_hand(48) * 1.03, rel=1e-4)


@pytest.mark.parametrize(
    ("offset", "low", "high"),
    [
        (("low", -0.01), True, False),
        (("low", +0.01), False, False),
        (("expected", 0.0), False, False),
        (("high", -0.01), False, False),
        (("high", +0.01), False, True),
    ],
)
def test_voltage_at_both_ends_of_the_band(offset: tuple[str, float], low: bool, high: bool) -> None:
    end, aside = offset
    band = first(read(f"at: roof-string, voc: 60 V, {FULL_SUN}")).expected_voc
    plan = read(f"at: roof-string, voc: {getattr(band, end).number + aside:.4f} V, {FULL_SUN}")
    assert bool(found(plan, LOW)) is low
    assert bool(found(plan, HIGH)) is high


def test_the_meter_widens_what_was_read() -> None:
    band = first(read(f"at: roof-string, voc: 60 V, {FULL_SUN}")).expected_voc
    plan = read(f"at: roof-string, voc: {band.low.number - 0.2:.4f} V, {FULL_SUN}")
    assert found(plan, LOW)
    assert not found(plan.replace("voltage: 0 %", "voltage: 0.5 %"), LOW)
    assert not found(plan.replace(f", {EXACT}", ""), LOW)  # half a per cent is assumed


def test_nineteen_volts_on_a_hot_module_is_right() -> None:
    """A module of 22 V on its label gives less than 20 V when it is hot."""
    plan = read(
        "at: roof-string, voc: 19.6 V, irradiance: 950 W/m², back_temperature: 55 °C",
        plan=edited(
            ("voc: 24.3 V, vmp: 20.4 V", "voc: 21.6 V, vmp: 18.1 V"),
            (", pmax: 100 W", ""),
            ("series: 3", "series: 1"),
        ),
    )
    assert not found(plan, LOW)
    assert not found(plan, HIGH)


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (5 / 6, "one group of cells shorted, by a failed bypass diode"),
        (2 / 3, "one module missing or shorted"),
        (1 / 3, "one module connected the wrong way round, or two modules missing or shorted"),
        (0.02, "nothing arrives"),
    ],
)
def test_the_size_of_the_deficit_tells_its_cause(share: float, said: str) -> None:
    diodes = edited(("max_series_fuse: 15 A", "bypass_diodes: 2, max_series_fuse: 15 A"))
    voc = f"{share * voc_by_hand(51):.2f} V"
    (finding,) = found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}", plan=diodes), LOW)
    assert said in finding.message
    others = ("group of cells", "one module missing", "wrong way round", "nothing arrives")
    assert sum(other in finding.message for other in others) == 1
    assert finding.subjects == ("r1", "roof-string")


def test_a_group_is_a_third_of_a_module_with_three_diodes() -> None:
    plan = read(
        f"at: roof-string, voc: {8 / 9 * voc_by_hand(51):.2f} V, {FULL_SUN}",
        plan=edited(("max_series_fuse: 15 A", "bypass_diodes: 3, max_series_fuse: 15 A")),
    )
    (finding,) = found(plan, LOW)
    assert "one group of cells shorted" in finding.message


def test_without_diodes_no_group_is_blamed() -> None:
    plan = read(
        f"at: roof-string, voc: {5 / 6 * voc_by_hand(51):.2f} V, {FULL_SUN}",
        plan=edited(("max_series_fuse: 15 A", "bypass_diodes: 0, max_series_fuse: 15 A")),
    )
    (finding,) = found(plan, LOW)
    assert "group" not in finding.message


@pytest.mark.parametrize(
    ("cells", "beside", "said"),
    [
        (63.7, "back_temperature: 48 °C", "cells at 64 °C would explain it"),
        (72.0, "back_temperature: 48 °C", ""),  # a back is not misread by so much
        (93.0, "air_temperature: 20 °C", "cells at 93 °C would explain it"),
        (99.0, "air_temperature: 20 °C", ""),  # no cells in the sun are as hot
    ],
)
def test_heat_is_named_where_it_would_explain_the_voltage(
    cells: float, beside: str, said: str
) -> None:
    sun = f"irradiance: 1000 W/m², {beside}, {EXACT}"
    (finding,) = found(read(f"at: roof-string, voc: {voc_by_hand(cells):.2f} V, {sun}"), LOW)
    assert ("would explain it" in finding.message) is bool(said)
    assert said in finding.message


def test_each_module_of_the_remedy_gives_its_share() -> None:
    plan = read(f"at: roof-string, voc: 44 V, {FULL_SUN}")
    (finding,) = found(plan, LOW)
    low, high = re.findall(r"([\d.]+) V", finding.remedy)
    assert float(low) == pytest.approx(voc_by_hand(54) * 0.97 / 3, abs=0.02)
    assert float(high) == pytest.approx(voc_by_hand(48) * 1.03 / 3, abs=0.02)


def test_a_low_joint_asks_for_its_strings() -> None:
    plan = read(f"at: roof-joint, voc: 44 V, {FULL_SUN}", plan=strings(2))
    (finding,) = found(plan, LOW)
    assert "at least one of the strings" in finding.message
    assert "each string of `roof-joint` by itself" in finding.remedy


def test_from_air_the_cells_may_be_as_cool_as_it_and_hot_as_the_mounting_makes_them() -> None:
    air = f"irradiance: 1000 W/m², air_temperature: 25 °C, {EXACT}"
    reading = first(read(f"at: roof-string, voc: 60 V, {air}"))
    cells = reading.cells(reading.strings[0])
    assert cells.low.number == 25.0
    # Over a roof with a gap, calm: 25 + 1000 exp(-3.3287) + 3 K, and the roof's 10 K.
    assert cells.high.number == pytest.approx(25 + 35.84 + 3 + 10, abs=0.05)
    assert reading.expected_voc.high.number == pytest.approx(72.9 * 1.03, rel=1e-4)
    (finding,) = found(read(f"at: roof-string, voc: 50 V, {air}"), LOW)
    assert (finding.level, finding.certainty) == ("warning", "assumed")


def test_an_open_rack_has_no_roof_under_it() -> None:
    air = f"irradiance: 1000 W/m², air_temperature: 25 °C, {EXACT}"
    plan = read(f"at: roof-string, voc: 60 V, {air}", plan=edited(("roof-gap", "open-rack")))
    reading = first(plan)
    high = reading.cells(reading.strings[0]).high.number
    assert high == pytest.approx(25 + 28.44 + 3, abs=0.05)


def test_the_current_tells_the_sun_where_nothing_else_does() -> None:
    """2.6 A of 5.2 A is about half the sun, for the voltage of the same string."""
    dim = first(read(f"at: roof-string, voc: 64 V, isc: 2.6 A, back_temperature: 48 °C, {EXACT}"))
    known = first(
        read(f"at: roof-string, voc: 64 V, irradiance: 500 W/m², back_temperature: 48 °C, {EXACT}")
    )
    ours, theirs = dim.expected_voc.expected.number, known.expected_voc.expected.number
    assert ours == pytest.approx(theirs, rel=1e-3)


# Voltage above the label, and the cold margin by it.


def test_the_cold_voltage_by_the_reading() -> None:
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", "max_input_voltage: 86 V")),
    )
    (finding,) = found(plan, HIGH)
    cold = 3 * 24.3 * (1 + 0.0029 * 43) * 72 / voc_by_hand(51)
    assert finding.values[2].number == pytest.approx(cold, rel=1e-4)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.margin == pytest.approx(1 - cold / 86, abs=1e-4)
    assert not finding.acceptable


@pytest.mark.parametrize(("limit", "level"), [("86 V", "error"), ("89 V", "warning")])
def test_it_is_an_error_where_the_cold_margin_then_fails(limit: str, level: str) -> None:
    """72 V for 67.8 V takes the cold voltage from 82 V to 87.1 V."""
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", f"max_input_voltage: {limit}")),
    )
    assert [f.level for f in found(plan, HIGH)] == [level]


def test_inside_the_tolerance_it_is_told_only_where_the_cold_margin_surely_fails() -> None:
    """2 % over the label passes; but not before an input that had 1 % left."""
    voc = f"{voc_by_hand(51) * 1.025:.2f} V"
    near = edited(("max_input_voltage: 100 V", "max_input_voltage: 82.5 V"))
    wide = edited(("max_input_voltage: 100 V", "max_input_voltage: 90 V"))
    assert found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}", plan=near), HIGH)
    assert not found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}", plan=wide), HIGH)


def test_a_plan_that_fails_by_itself_is_told_once() -> None:
    plan = read(
        f"at: roof-string, voc: {voc_by_hand(51):.2f} V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", "max_input_voltage: 80 V")),
    )
    assert found(plan, "cold-voltage-over-controller")
    assert not found(plan, HIGH)


@pytest.mark.parametrize(("voc", "level"), [("103 V", "error"), ("101 V", "warning")])
def test_a_reading_over_the_input_fails_whatever_else_is_unknown(voc: str, level: str) -> None:
    """A poor meter is off by 2 %."""
    (finding,) = found(read(f"at: roof-string, voc: {voc}"), HIGH)
    assert finding.level == level
    assert "that is already over the 100 V limit of `tracker`" in finding.message


def test_an_assumed_coldest_air_makes_no_error_by_itself() -> None:
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(
            ("  coldest: -18 °C\n", ""), ("max_input_voltage: 100 V", "max_input_voltage: 86 V")
        ),
    )
    assert [f.level for f in found(plan, HIGH)] == ["warning"]


def test_the_value_of_the_remedy_settles_it_and_wakes_the_cold_margin() -> None:
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", "max_input_voltage: 86 V")),
    )
    (finding,) = found(plan, HIGH)
    volts = re.search(r"write `voc: ([\d.]+ V)`", finding.remedy)
    assert volts
    settled = plan.replace("voc: 24.3 V", f"voc: {volts[1]}")
    assert not found(settled, HIGH)
    assert not found(settled, LOW)
    assert [f.level for f in found(settled, "cold-voltage-over-controller")] == ["error"]


def test_one_module_more_is_recognised() -> None:
    plan = read(f"at: roof-string, voc: {4 / 3 * voc_by_hand(51):.2f} V, {FULL_SUN}")
    (finding,) = found(plan, HIGH)
    assert "as of 4 modules in series where 3 are planned" in finding.message
    assert "count the modules in series, of which 4 would give it" in finding.remedy
    assert "write `voc" not in finding.remedy  # no label is a third off
    assert not finding.ways  # while the input may fail


def test_more_modules_and_a_wrong_label_are_both_tried_where_the_input_stands_them() -> None:
    wide = edited(("max_input_voltage: 100 V", "max_input_voltage: 250 V"))
    (more,) = found(
        read(f"at: roof-string, voc: {4 / 3 * voc_by_hand(51):.2f} V, {FULL_SUN}", plan=wide), HIGH
    )
    assert [str(c) for way in more.ways for c in way] == ["`series: 4` for `roof-string`"]
    check_remedy(more)
    (label,) = found(read(f"at: roof-string, voc: 72 V, {FULL_SUN}", plan=wide), HIGH)
    assert [c.key for way in label.ways for c in way] == ["modules.rigid-100.voc"]
    check_remedy(label)
    (neither,) = found(read(f"at: roof-string, voc: 82 V, {FULL_SUN}", plan=wide), HIGH)
    assert "no label is that wrong" in neither.remedy
    assert not neither.ways


@pytest.mark.parametrize(
    ("isc", "said", "ways"),
    [
        ("16 A", "as of 3 side by side where the plan has 2", 0),
        ("11.5 A", "write `isc: 5.68 A` for `rigid-100`", 1),
        ("18.3 A", "another module is there", 0),
    ],
)
def test_more_strings_than_planned_are_recognised(isc: str, said: str, ways: int) -> None:
    plan = strings(2)
    (finding,) = found(read(f"at: tracker.pv, isc: {isc}, {FULL_SUN}", plan=plan), CURRENT_HIGH)
    assert said in f"{finding.message} {finding.remedy}"
    assert len(finding.ways) == ways


# Short-circuit current.


def test_the_band_of_current_by_hand() -> None:
    band = first(read(f"at: roof-string, isc: 4 A, {FULL_SUN}")).expected_isc
    assert band.expected.number == pytest.approx(5.2 * (1 + 0.0005 * 24), rel=1e-3)
    assert band.low.number == pytest.approx(5.2 * (1 + 0.0005 * 21) * 0.95, rel=1e-3)
    assert band.high.number == pytest.approx(5.2 * (1 + 0.0005 * 27) * 1.05, rel=1e-3)


@pytest.mark.parametrize(
    ("end", "aside", "rule"),
    [
        ("low", -0.01, CURRENT_LOW),
        ("low", +0.01, None),
        ("high", -0.01, None),
        ("high", +0.01, CURRENT_HIGH),
    ],
)
def test_current_at_both_ends_of_the_band(end: str, aside: float, rule: str | None) -> None:
    band = first(read(f"at: roof-string, isc: 4 A, {FULL_SUN}")).expected_isc
    plan = read(f"at: roof-string, isc: {getattr(band, end).number + aside:.4f} A, {FULL_SUN}")
    assert [r for r in (CURRENT_LOW, CURRENT_HIGH) if found(plan, r)] == ([rule] if rule else [])


def test_the_drift_of_the_clamp_is_allowed_for() -> None:
    plan = read(f"at: roof-string, isc: 4.8 A, {FULL_SUN}")
    assert found(plan, CURRENT_LOW)
    assert not found(plan.replace("zero: 0 A", "zero: 0.3 A"), CURRENT_LOW)


def test_current_follows_the_sun() -> None:
    half = f"irradiance: 500 W/m², back_temperature: 35 °C, {EXACT}"
    assert not found(read(f"at: roof-string, isc: 2.6 A, {half}"), CURRENT_LOW)
    assert found(read(f"at: roof-string, isc: 2.6 A, {FULL_SUN}"), CURRENT_LOW)


def test_without_the_sun_a_low_current_says_nothing_by_itself() -> None:
    plan = read("at: roof-string, isc: 1.2 A")
    assert not found(plan, CURRENT_LOW)
    (finding,) = found(plan, MISSING)
    assert "no irradiance" in finding.message
    assert (finding.level, finding.certainty) == ("note", "undecided")


@pytest.mark.parametrize(("isc", "is_told"), [("6.8 A", False), ("6.9 A", True)])
def test_without_the_sun_a_current_over_any_sun_is_told(isc: str, is_told: bool) -> None:
    """1.25 × 5.2 A and the label's 5 % are 6.825 A."""
    assert bool(found(read(f"at: roof-string, isc: {isc}, {EXACT}"), CURRENT_HIGH)) is is_told


@pytest.mark.parametrize(
    ("amps", "said"),
    [(10.6, "1 of 3 strings open"), (5.3, "2 of 3 strings open"), (0.1, "nothing arrives")],
)
def test_strings_that_give_nothing_are_counted(amps: float, said: str) -> None:
    plan = read(f"at: roof-joint, isc: {amps} A, {FULL_SUN}", plan=strings(3))
    (finding,) = found(plan, CURRENT_LOW)
    assert said in finding.message


@pytest.mark.parametrize("amps", [3.2, 7.5])
def test_no_strings_are_blamed_that_do_not_explain_it(amps: float) -> None:
    """One of two dark gives 5.2 A of 10.4 A, within a twentieth."""
    plan = read(f"at: roof-joint, isc: {amps} A, {FULL_SUN}", plan=strings(2))
    (finding,) = found(plan, CURRENT_LOW)
    assert "open or dark" not in finding.message


def test_the_value_of_the_remedy_settles_the_current() -> None:
    plan = read(f"at: roof-string, isc: 6.1 A, {FULL_SUN}")
    (finding,) = found(plan, CURRENT_HIGH)
    amps = re.search(r"write `isc: ([\d.]+ A)`", finding.remedy)
    assert amps
    settled = plan.replace("isc: 5.2 A", f"isc: {amps[1]}")
    assert not found(settled, CURRENT_HIGH)
    assert not found(settled, CURRENT_LOW)


@pytest.mark.parametrize(("mounting", "rule"), [("open-rack", None), ("roof-bonded", CURRENT_HIGH)])
def test_light_on_the_back_of_a_module_raises_its_current(mounting: str, rule: str | None) -> None:
    """80 % of 13.5 % of the light: 5.2 A and a tenth, where nothing covers the back."""
    plan = edited(
        ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, bifaciality: 80 %}"),
        ("mounting: roof-gap", f"mounting: {mounting}"),
    )
    plan = read(f"at: roof-string, isc: 5.7 A, {FULL_SUN}", plan=plan)
    assert bool(found(plan, CURRENT_HIGH)) is (rule is not None)


def test_folding_modules_may_lie_further_from_their_label() -> None:
    folding = edited(("max_series_fuse: 15 A", "build: folding, max_series_fuse: 15 A"))
    text = f"at: roof-string, isc: 4.85 A, {FULL_SUN}"
    assert found(read(text), CURRENT_LOW)
    assert not found(read(text, plan=folding), CURRENT_LOW)


# Strings against each other.


def pair(first_isc: str, second_isc: str, more: str = ", taken: noon") -> str:
    return read(
        f"at: string-1, isc: {first_isc}, {EXACT}{more}",
        f"at: string-2, isc: {second_isc}, {EXACT}{more}",
        plan=strings(2),
    )


@pytest.mark.parametrize(
    ("weak", "is_told"),
    [("4.74 A", True), ("4.75 A", False), ("4.76 A", False), ("5.00 A", False)],
)
def test_strings_more_than_a_twentieth_apart(weak: str, is_told: bool) -> None:
    assert bool(found(pair("5.00 A", weak), UNEQUAL)) is is_told
    assert bool(found(pair(weak, "5.00 A"), UNEQUAL)) is is_told


def test_the_weak_string_is_named() -> None:
    (finding,) = found(pair("5.0 A", "4.0 A"), UNEQUAL)
    assert finding.subjects == ("r2", "string-2", "r1", "string-1")
    assert "20 % apart" in finding.message
    assert not found(pair("5.0 A", "4.0 A"), MISSING)


@pytest.mark.parametrize("nothing", ["0 A", "-0.1 A"])
def test_a_dead_string_shows_beside_its_neighbour(nothing: str) -> None:
    plan = pair("4.0 A", nothing).replace("zero: 0 A", "zero: 0.2 A")
    (finding,) = found(plan, UNEQUAL)
    assert finding.subjects[0] == "r2"
    assert not found(pair("0 A", "0 A"), UNEQUAL)


def test_readings_not_taken_together_are_not_compared_without_the_sun() -> None:
    plan = read(
        f'at: string-1, isc: 5 A, taken: "noon", {EXACT}',
        f'at: string-2, isc: 4 A, taken: "four", {EXACT}',
        plan=strings(2),
    )
    assert not found(plan, UNEQUAL)
    assert len(found(plan, MISSING)) == 2


def test_readings_that_do_not_say_when_are_not_taken_together() -> None:
    plan = pair("5.0 A", "4.0 A", more="")
    assert not found(plan, UNEQUAL)
    assert len(found(plan, MISSING)) == 2


@pytest.mark.parametrize("lies", ["tilt: 20°, facing: east", "mounting: open-rack", "place: roof"])
def test_strings_that_lie_otherwise_see_other_sun_and_heat(lies: str) -> None:
    other = "module: rigid-100, series: 3, mounting: roof-gap"
    key = lies.split(":")[0]
    changed = other.replace("mounting: roof-gap", lies) if key == "mounting" else f"{other}, {lies}"
    plan = pair("5.0 A", "4.0 A").replace(f"string-2: {{{other}}}", f"string-2: {{{changed}}}")
    assert changed in plan
    assert not found(plan, UNEQUAL)
    assert len(found(plan, MISSING)) == 2


def test_only_what_was_allowed_for_is_said() -> None:
    (raw,) = found(pair("5.0 A", "4.0 A"), UNEQUAL)
    assert raw.message.endswith("20 % apart, the meter's drift allowed for")
    known = pair("5.3 A", "5.0 A", more=", irradiance: 1000 W/m², back_temperature: 40 °C")
    (scaled,) = found(known, UNEQUAL)
    assert scaled.message.endswith("6 % apart, the meter's drift and other sun allowed for")


def test_with_the_sun_known_they_are_compared_as_shares_of_it() -> None:
    plan = read(
        f"at: string-1, isc: 5.2 A, irradiance: 1000 W/m², back_temperature: 40 °C, {EXACT}",
        f"at: string-2, isc: 2.6 A, irradiance: 500 W/m², back_temperature: 40 °C, {EXACT}",
        plan=strings(2),
    )
    assert not found(plan, UNEQUAL)
    apart = plan.replace("isc: 5.2 A, irradiance", "isc: 5.4 A, irradiance")
    assert found(apart.replace("isc: 2.6 A", "isc: 2.5 A"), UNEQUAL)


def test_a_string_out_of_its_band_is_told_once() -> None:
    plan = read(
        f"at: string-1, isc: 5.2 A, {FULL_SUN}",
        f"at: string-2, isc: 3.0 A, {FULL_SUN}",
        plan=strings(2),
    )
    assert found(plan, CURRENT_LOW)
    assert not found(plan, UNEQUAL)


def test_currents_in_operation_are_compared_too() -> None:
    plan = read(
        f"at: string-1, current: 4.6 A, taken: noon, {EXACT}",
        f"at: string-2, current: 3.9 A, taken: noon, {EXACT}",
        plan=strings(2),
    )
    (finding,) = found(plan, UNEQUAL)
    assert "current in operation" in finding.message


def test_unlike_strings_are_not_compared() -> None:
    plan = pair("5.0 A", "4.0 A").replace(
        "string-2: {module: rigid-100, series: 3", "string-2: {module: rigid-100, series: 2"
    )
    assert not found(plan, UNEQUAL)


# Power.

NOON = f"irradiance: 1000 W/m², back_temperature: 48 °C, {EXACT}"


def noon(share: float, more: str = "", plan: str | None = None, volts: float = 55.0) -> str:
    """A reading of a share of the power that is expected, at some voltage."""
    given = first(read(f"at: tracker.pv, voltage: 55 V, current: 4 A, {NOON}", plan=plan)).power
    assert given is not None
    amps = share * given.given.number / volts
    return read(
        f"at: tracker.pv, voltage: {volts:g} V, current: {amps:.4f} A, {NOON}{more}", plan=plan
    )


def test_power_that_is_expected_by_hand() -> None:
    """Three modules of 100 W at 49 °C by their coefficient, less a little in the wire."""
    power = first(noon(1.0)).power
    assert power is not None
    assert power.given.number == pytest.approx(3 * 100 * (1 - 0.0036 * 24), rel=0.02)


@pytest.mark.parametrize(("share", "is_told"), [(0.79, True), (0.81, False), (1.0, False)])
def test_power_under_four_fifths(share: float, is_told: bool) -> None:
    assert bool(found(noon(share, ", stage: bulk"), POWER)) is is_told


@pytest.mark.parametrize("stage", ["absorption", "float"])
def test_a_full_battery_is_no_fault(stage: str) -> None:
    assert not found(noon(0.3, f", stage: {stage}"), POWER)
    assert not found(noon(0.3, f", stage: {stage}"), MISSING)


def test_without_the_stage_the_full_battery_is_named_first() -> None:
    (finding,) = found(noon(0.5), POWER)
    assert "nearly full" in finding.message
    assert "stage: bulk" in finding.remedy
    assert (finding.level, finding.certainty) == ("note", "undecided")


def test_a_controller_at_its_rated_output_is_no_fault() -> None:
    """10 A at 14.2 V are 142 W of about 270 W."""
    small = edited(("max_output_current: 20 A", "max_output_current: 10 A"))
    plan = read(f"at: tracker.pv, voltage: 62 V, current: 2.28 A, {NOON}, stage: bulk", plan=small)
    assert not found(plan, POWER)
    assert found(plan.replace("max_output_current: 10 A", "max_output_current: 20 A"), POWER)


@pytest.mark.parametrize(
    ("volts", "said"),
    [(65.0, "took less than there was"), (55.0, "light is missing"), (38.0, "passed by")],
)
def test_the_voltage_tells_what_kind_of_power_is_missing(volts: float, said: str) -> None:
    (finding,) = found(noon(0.6, ", stage: bulk", volts=volts), POWER)
    assert said in finding.message


def test_a_pulse_width_controller_is_judged_at_the_voltage_that_was_read() -> None:
    """It ties one module to the battery: about 5 A at any battery voltage."""
    tied = edited(("kind: mppt", "kind: pwm"), ("series: 3", "series: 1"))
    for volts in (12.6, 14.2):
        plan = read(
            f"at: tracker.pv, voltage: {volts} V, current: 5.1 A, {NOON}, stage: bulk", plan=tied
        )
        assert not found(plan, POWER)
        assert found(plan.replace("current: 5.1 A", "current: 3.6 A"), POWER)


@pytest.mark.parametrize("left_out", ["irradiance: 1000 W/m², ", "back_temperature: 48 °C, "])
def test_power_without_sun_or_heat_is_undecided(left_out: str) -> None:
    plan = noon(0.3, ", stage: bulk").replace(left_out, "")
    assert not found(plan, POWER)
    assert any("how much there was to take" in f.message for f in found(plan, MISSING))


# Polarity.


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("at: roof-string, voc: -65 V", "error"),
        ("at: tracker.pv, voltage: -50 V, current: 4 A", "error"),
        ("at: house, voltage: −13.2 V", "error"),
        ("at: tracker.battery, voltage: 14.2 V, posts_voltage: -13.9 V", "error"),
        ("at: roof-string, isc: -4.5 A", "warning"),
        ("at: roof-string, voc: 65 V", None),
        ("at: roof-string, voc: -0.3 V", None),  # of nothing, a meter shows either sign
        ("at: roof-string, isc: -0.2 A", None),
        ("at: roof-string, isc: -0.4 A", "warning"),
        ("at: house, voltage: 13.2 V, current: -4 A", None),
    ],
)
def test_the_sign_of_a_reading(text: str, level: str | None) -> None:
    assert [f.level for f in found(read(text), POLARITY)] == ([level] if level else [])


@pytest.mark.parametrize("voc", ["0 V", "-0.02 V", "0.4 V"])
def test_a_string_that_gives_nothing_is_low(voc: str) -> None:
    (finding,) = found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}"), LOW)
    assert "nothing arrives" in finding.message


def test_no_current_at_all_is_low() -> None:
    (finding,) = found(read(f"at: roof-string, isc: 0 A, {FULL_SUN}"), CURRENT_LOW)
    assert "nothing arrives" in finding.message


def test_no_power_at_all_is_told() -> None:
    plan = read(f"at: tracker.pv, voltage: 0 V, current: 0 A, {NOON}, stage: bulk")
    assert found(plan, POWER)


def test_a_reversed_post_is_no_loss_on_the_way() -> None:
    plan = read("at: tracker.battery, voltage: 14.2 V, posts_voltage: -13.9 V, current: 20 A")
    assert not found(plan, CHARGE)


def test_a_reversed_reading_is_told_once() -> None:
    rules = {f.rule for f in check_text(read("at: roof-string, voc: -65 V"), RULES).findings}
    assert rules & set(EVERY) == {POLARITY}


# Joints.


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        # The charge fuse carries 20 A: 100 mV at 10 A are 200 mV.
        ("drop: 100 mV, current: 10 A", None),
        ("drop: 101 mV, current: 10 A", JOINT),
        ("drop: 0.11 V, current: 10 A", JOINT),
        ("drop: 0.1 V, current: 10 A", None),
        ("drop: 200 mV, current: 20 A", None),
        ("drop: 205 mV, current: 25 A", JOINT),
        # Rise with the square: 12.5 K at half the current are 50 K.
        ("joint_temperature: 37.5 °C, air_temperature: 25 °C, current: 10 A", None),
        ("joint_temperature: 37.6 °C, air_temperature: 25 °C, current: 10 A", JOINT),
        # Under a quarter of the load, or without it, nothing is multiplied.
        ("drop: 90 mV, current: 4 A", MISSING),
        ("drop: 90 mV", MISSING),
        ("drop: 90 mV, current: 5 A", JOINT),
        # A thermometer's error grows with the square, so heat needs half the load.
        ("joint_temperature: 30 °C, air_temperature: 25 °C, current: 9.9 A", MISSING),
        ("joint_temperature: 30 °C, air_temperature: 25 °C, current: 10 A", None),
    ],
)
def test_drop_and_heat_at_full_load(text: str, rule: str | None) -> None:
    plan = read(f"at: charge-fuse, {text}")
    assert [r for r in (JOINT, MISSING) if found(plan, r)] == ([rule] if rule else [])


def test_a_drop_that_is_large_anyhow_needs_no_current() -> None:
    (finding,) = found(read("at: charge-fuse, drop: 300 mV"), JOINT)
    assert "as read" in finding.message


def test_heat_by_hand() -> None:
    (finding,) = found(read("at: charge-fuse, drop: 150 mV, current: 10 A"), JOINT)
    assert finding.values[0].number == pytest.approx(2 * 0.1495)
    assert finding.values[2].number == pytest.approx(2 * 0.1495 * 20)
    assert "20 A, reckoned from 10 A" in finding.message


@pytest.mark.parametrize(
    ("surface", "sunny", "is_told"),
    [
        ("75 °C", False, False),
        ("75.1 °C", False, True),
        ("100 °C", True, False),
        ("100.1 °C", True, True),
    ],
)
def test_what_the_sun_heats_is_no_sign_of_a_bad_joint(
    surface: str, sunny: bool, is_told: bool
) -> None:
    """A fuse in the sun may be 25 K over the air by that alone, and 50 K by its load."""
    plan = edited(
        ("cabin: {ambient: 35 °C", f"cabin: {{ambient: 35 °C, sunlight: {str(sunny).lower()}")
    )
    text = f"at: charge-fuse, joint_temperature: {surface}, air_temperature: 25 °C, current: 20 A"
    findings = found(read(text, plan=plan), JOINT)
    assert bool(findings) is is_told
    assert all(("and the sun make it" in f.message) is sunny for f in findings)


@pytest.mark.parametrize(("drop", "is_told"), [("100 mV", False), ("101 mV", True)])
def test_a_joint_has_no_element_and_drops_less(drop: str, is_told: bool) -> None:
    """Two strings at 4.9 A each are 9.8 A."""
    plan = read(f"at: roof-joint, drop: {drop}, current: 9.8 A", plan=strings(2))
    assert bool(found(plan, JOINT)) is is_told


# Charging.


@pytest.mark.parametrize(
    ("posts", "current", "rule"),
    [
        ("13.99 V", "20 A", None),
        ("13.98 V", "20 A", CHARGE),
        ("14.09 V", "10 A", None),
        ("14.08 V", "10 A", CHARGE),
        ("14.15 V", "3 A", MISSING),
        ("13.9 V", "20 A", CHARGE),
        ("14.0 V", "20 A", None),  # the last digits may hide half of it
    ],
)
def test_voltage_lost_on_the_way(posts: str, current: str, rule: str | None) -> None:
    """0.2 V at the full 20 A; less current is taken to it, last digits off."""
    plan = read(
        f"at: tracker.battery, voltage: 14.20 V, posts_voltage: {posts}, current: {current}"
    )
    assert [r for r in (CHARGE, MISSING) if found(plan, r)] == ([rule] if rule else [])


@pytest.mark.parametrize(("posts", "rule"), [("14.07 V", None), ("13.98 V", CHARGE)])
def test_a_controller_larger_than_its_array_is_never_at_its_rating(
    posts: str, rule: str | None
) -> None:
    """0.1 V at 12 A; the array gives 299.9 W, 23.4 A, and not the 100 A of the controller."""
    large = edited(("max_output_current: 20 A", "max_output_current: 100 A"))
    text = f"at: tracker.battery, voltage: 14.18 V, posts_voltage: {posts}, current: 12 A"
    plan = read(text, plan=large)
    assert [r for r in (CHARGE, MISSING) if found(plan, r)] == ([rule] if rule else [])


def test_nor_is_the_fuse_after_it() -> None:
    """100 mV at 12 A are 195 mV at 23.4 A, and would be 0.8 V at 100 A."""
    large = edited(("max_output_current: 20 A", "max_output_current: 100 A"))
    assert not found(read("at: charge-fuse, drop: 100 mV, current: 12 A", plan=large), JOINT)
    (hot,) = found(read("at: charge-fuse, drop: 110 mV, current: 12 A", plan=large), JOINT)
    assert "at its full 23.43 A" in hot.message


def test_a_bank_of_twice_the_voltage_may_lose_twice_as_much() -> None:
    plan = read(
        "at: tracker.battery, voltage: 28.20 V, posts_voltage: 27.85 V, current: 20 A",
        plan=edited(
            ("nominal: 12.8 V", "nominal: 25.6 V"),
            ("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
            ("charge_voltage: 14.2 V,", "charge_voltage: 28.4 V,"),
        ),
    )
    assert not found(plan, CHARGE)
    assert found(plan.replace("27.85 V", "27.78 V"), CHARGE)


def test_joints_are_blamed_where_the_wires_do_not_explain_it() -> None:
    lost = "at: tracker.battery, voltage: 14.20 V, posts_voltage: 13.80 V, current: 20 A"
    (finding,) = found(read(lost), CHARGE)
    assert "a joint takes what the wires do not" in finding.remedy


def test_the_size_of_the_remedy_brings_the_wires_within_the_limit() -> None:
    lost = "at: tracker.battery, voltage: 14.20 V, posts_voltage: 13.80 V, current: 20 A"
    plan = read(lost, plan=edited(("length: 1 m", "length: 4 m")))
    (finding,) = found(plan, CHARGE)
    size = re.search(r"use ([\d/]+ AWG) for `charge-run`", finding.remedy)
    assert size
    better = plan.replace("batt-8: {size: 8 AWG", f"batt-8: {{size: {size[1]}")
    [reading] = study_of(better).readings.of_charging
    assert reading.by_wires is not None
    assert reading.by_wires.number <= 0.2


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("at: house, voltage: 14.6 V", None),
        ("at: house, voltage: 14.67 V", None),  # half a per cent of the meter
        ("at: house, voltage: 14.68 V", "warning"),  # which is assumed
        (f"at: house, voltage: 14.61 V, {EXACT}", "error"),
        ("at: tracker.battery, voltage: 15.2 V, posts_voltage: 15.1 V, current: 20 A", "error"),
        ("at: tracker.battery, voltage: 15.2 V", None),  # not at the posts
    ],
)
def test_posts_over_what_the_label_allows(text: str, level: str | None) -> None:
    assert [f.level for f in found(read(text), OVERCHARGED)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("volts", "air", "follows", "level"),
    [
        # 14.8 V and 25 K of 24 mV: 15.4 V, whatever the source says of itself.
        ("15.35 V", ", air_temperature: 0 °C", ", compensates_temperature: true", None),
        ("15.35 V", ", air_temperature: 0 °C", "", None),
        ("15.35 V", ", air_temperature: 0 °C", ", compensates_temperature: false", None),
        ("15.45 V", ", air_temperature: 0 °C", ", compensates_temperature: true", "error"),
        ("14.85 V", ", air_temperature: 30 °C", ", compensates_temperature: true", "error"),
        # As cold as the site gets: 15.83 V.
        ("15.8 V", "", ", compensates_temperature: true", "warning"),
        ("15.8 V", "", "", "warning"),
        ("15.8 V", "", ", compensates_temperature: false", "error"),
        ("15.9 V", "", "", "error"),
    ],
)
def test_lead_in_the_cold_is_charged_higher(
    volts: str, air: str, follows: str, level: str | None
) -> None:
    sound = RULES.rules[OVERCHARGED].sound
    plan = edited(
        (
            "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            "chemistry: flooded, nominal: 12 V",
        ),
        ("max_charge_voltage: 14.6 V, low_temperature_cutoff: true", "max_charge_voltage: 14.8 V"),
        ("charge_voltage: 14.2 V", f"charge_voltage: 14.4 V{follows}"),
        ("voltage: 14.2 V, stage: absorption", f"voltage: {volts}{air}, {EXACT}"),
        plan=sound,
    )
    assert [f.level for f in found(plan, OVERCHARGED)] == ([level] if level else [])


# What is missing.


def test_a_voltage_without_temperature_is_undecided() -> None:
    (finding,) = found(read("at: roof-string, voc: 65 V, irradiance: 900 W/m²"), MISSING)
    assert "could be right" in finding.message
    assert finding.certainty == "undecided"


def test_a_missing_module_shows_even_without_a_temperature() -> None:
    plan = read("at: roof-string, voc: 45 V, irradiance: 900 W/m²")
    (finding,) = found(plan, LOW)
    assert "one module missing" in finding.message
    assert finding.certainty == "assumed"


@pytest.mark.parametrize(("sun", "is_dim"), [("199 W/m²", True), ("200 W/m²", False)])
def test_dim_sun_is_not_compared(sun: str, is_dim: bool) -> None:
    plan = read(f"at: roof-string, voc: 30 V, irradiance: {sun}, back_temperature: 20 °C, {EXACT}")
    assert bool(found(plan, LOW)) is not is_dim
    assert any("too weak" in f.message for f in found(plan, MISSING)) is is_dim


def test_a_string_without_a_controller_is_undecided() -> None:
    plan = read(
        "at: spare, voc: 20 V",
        plan=edited(
            ("fuses:\n", "  spare: {module: rigid-100}\nfuses:\n"),
            ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, regulated: true}"),
            (
                "wires:\n",
                "wires:\n  spare-run: {from: spare, to: house, cable: pv-10, length: 1 m}\n",
            ),
        ),
    )
    (finding,) = found(plan, MISSING)
    assert "feeds no controller" in finding.message


def test_a_label_of_no_curve_is_undecided() -> None:
    plan = read(
        f"at: roof-string, voc: 40 V, {FULL_SUN}",
        plan=edited(("voc: 24.3 V, vmp: 20.4 V", "voc: 20.4 V, vmp: 24.3 V")),
    )
    assert not found(plan, LOW)
    assert any("belongs to no curve" in f.message for f in found(plan, MISSING))


def test_half_a_power_is_undecided() -> None:
    (finding,) = found(read(f"at: tracker.pv, voltage: 55 V, {FULL_SUN}"), MISSING)
    assert "only 55 V of what makes power" in finding.message


def test_one_string_in_operation_is_undecided() -> None:
    (finding,) = found(read(f"at: roof-string, current: 4 A, {FULL_SUN}"), MISSING)
    assert "no string like it" in finding.message


@pytest.mark.parametrize("arrangement", ["3s2p", "2p3s"])
def test_a_short_form_is_read_as_a_whole(arrangement: str) -> None:
    plan = read(
        f"at: roof-string, voc: 68 V, isc: 10.4 A, {FULL_SUN}",
        plan=edited(("series: 3", f"arrangement: {arrangement}")),
    )
    reading = first(plan)
    assert reading.expected_voc.expected.number == pytest.approx(voc_by_hand(51), rel=1e-3)
    assert reading.expected_isc.expected.number == pytest.approx(2 * 5.2676, rel=1e-3)


# Voltage in operation.


@pytest.mark.parametrize(
    ("volts", "level"), [("60 V", None), ("69 V", None), ("88 V", "warning"), ("168.9 V", "error")]
)
def test_no_array_works_at_more_than_it_has_with_nothing_connected(
    volts: str, level: str | None
) -> None:
    plan = read(f"at: tracker.pv, voltage: {volts}, current: 4 A, stage: bulk, {FULL_SUN}")
    assert [f.level for f in found(plan, HIGH)] == ([level] if level else [])
    if level == "error":
        assert "over the 100 V limit of `tracker`" in found(plan, HIGH)[0].message
