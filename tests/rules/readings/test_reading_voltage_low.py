"""Open-circuit voltage read against the least that the curve gives."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, first, read, strings, voc_by_hand

LOW = "reading-voltage-low"
HIGH = "reading-voltage-high"
MISSING = "reading-conditions-missing"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


def test_the_band_of_voltage_by_hand() -> None:
    """Cells 51 °C ± 3 K by the label's coefficient, labels ± 3 %; full sun needs no curve."""
    band = first(read(f"at: roof-string, voc: 60 V, {FULL_SUN}")).expected.voc
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
    band = first(read(f"at: roof-string, voc: 60 V, {FULL_SUN}")).expected.voc
    plan = read(f"at: roof-string, voc: {getattr(band, end).number + aside:.4f} V, {FULL_SUN}")
    assert bool(found(plan, LOW)) is low
    assert bool(found(plan, HIGH)) is high


def test_the_meter_widens_what_was_read() -> None:
    band = first(read(f"at: roof-string, voc: 60 V, {FULL_SUN}")).expected.voc
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
    assert float(low) == pytest.approx(voc_by_hand(54) * 0.97 / 3, abs=0.05)
    assert float(high) == pytest.approx(voc_by_hand(48) * 1.03 / 3, abs=0.05)


def test_a_low_joint_asks_for_its_strings() -> None:
    plan = read(f"at: roof-joint, voc: 44 V, {FULL_SUN}", plan=strings(2))
    (finding,) = found(plan, LOW)
    assert "at least one of the strings" in finding.message
    assert "each string of `roof-joint` by itself" in finding.remedy


def test_from_air_the_cells_may_be_as_cool_as_it_and_hot_as_the_mounting_makes_them() -> None:
    air = f"irradiance: 1000 W/m², air_temperature: 25 °C, {EXACT}"
    reading = first(read(f"at: roof-string, voc: 60 V, {air}"))
    cells = reading.expected.cells(reading.taken.strings[0])
    assert cells.low.number == 25.0
    # Over a roof with a gap, calm: 25 + 1000 exp(-3.3287) + 3 K, and the roof's 10 K.
    assert cells.high.number == pytest.approx(25 + 35.84 + 3 + 10, abs=0.05)
    assert reading.expected.voc.high.number == pytest.approx(72.9 * 1.03, rel=1e-4)
    (finding,) = found(read(f"at: roof-string, voc: 50 V, {air}"), LOW)
    assert finding.level == "warning"


def test_an_open_rack_has_no_roof_under_it() -> None:
    air = f"irradiance: 1000 W/m², air_temperature: 25 °C, {EXACT}"
    plan = read(f"at: roof-string, voc: 60 V, {air}", plan=edited(("roof-gap", "open-rack")))
    reading = first(plan)
    high = reading.expected.cells(reading.taken.strings[0]).high.number
    assert high == pytest.approx(25 + 28.44 + 3, abs=0.05)


def test_the_current_tells_the_sun_where_nothing_else_does() -> None:
    """2.6 A of 5.2 A is about half the sun, for the voltage of the same string."""
    dim = first(read(f"at: roof-string, voc: 64 V, isc: 2.6 A, back_temperature: 48 °C, {EXACT}"))
    known = first(
        read(f"at: roof-string, voc: 64 V, irradiance: 500 W/m², back_temperature: 48 °C, {EXACT}")
    )
    ours, theirs = dim.expected.voc.expected.number, known.expected.voc.expected.number
    assert ours == pytest.approx(theirs, rel=1e-3)


@pytest.mark.parametrize("voc", ["0 V", "-0.02 V", "0.4 V"])
def test_a_string_that_gives_nothing_is_low(voc: str) -> None:
    (finding,) = found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}"), LOW)
    assert "nothing arrives" in finding.message


def test_a_missing_module_shows_even_without_a_temperature() -> None:
    plan = read("at: roof-string, voc: 45 V, irradiance: 900 W/m²")
    (finding,) = found(plan, LOW)
    assert "one module missing" in finding.message


@pytest.mark.parametrize(("sun", "is_dim"), [("199 W/m²", True), ("200 W/m²", False)])
def test_dim_sun_is_not_compared(sun: str, is_dim: bool) -> None:
    plan = read(f"at: roof-string, voc: 30 V, irradiance: {sun}, back_temperature: 20 °C, {EXACT}")
    assert bool(found(plan, LOW)) is not is_dim
    assert any("too weak" in f.message for f in found(plan, MISSING)) is is_dim


def test_a_label_of_no_curve_is_undecided() -> None:
    plan = read(
        f"at: roof-string, voc: 40 V, {FULL_SUN}",
        plan=edited(("voc: 24.3 V, vmp: 20.4 V", "voc: 20.4 V, vmp: 24.3 V")),
    )
    assert not found(plan, LOW)
    assert any("belongs to no curve" in f.message for f in found(plan, MISSING))


@pytest.mark.parametrize("arrangement", ["3s2p", "2p3s"])
def test_a_short_form_is_read_as_a_whole(arrangement: str) -> None:
    plan = read(
        f"at: roof-string, voc: 68 V, isc: 10.4 A, {FULL_SUN}",
        plan=edited(("series: 3", f"arrangement: {arrangement}")),
    )
    reading = first(plan)
    assert reading.expected.voc.expected.number == pytest.approx(voc_by_hand(51), rel=1e-3)
    assert reading.expected.isc.expected.number == pytest.approx(2 * 5.2676, rel=1e-3)


@pytest.mark.parametrize("share", [0.06, 0.07, 0.08])
def test_six_to_eight_per_cent_low_is_no_diode_and_is_left_open(share: float) -> None:
    """A third of one of three modules is 11 %: two thirds of that may as well be a hot string."""
    plan = read(
        f"at: roof-string, voc: {(1.0 - share) * voc_by_hand(51):.2f} V, {FULL_SUN}",
        plan=edited(("max_series_fuse: 15 A", "bypass_diodes: 3, max_series_fuse: 15 A")),
    )
    for finding in found(plan, LOW):
        assert "bypass diode" not in finding.message
        assert "what takes it is open" in finding.message or "would explain it" in finding.message


def test_a_group_that_is_named_has_heat_beside_it_as_another_way() -> None:
    """10 % under, in air of 20 °C: a group of cells, or cells that are very hot."""
    plan = read(
        f"at: roof-string, voc: {0.9 * voc_by_hand(55):.2f} V, irradiance: 1000 W/m², "
        f"air_temperature: 20 °C, {EXACT}",
        plan=edited(("max_series_fuse: 15 A", "bypass_diodes: 3, max_series_fuse: 15 A")),
    )
    for finding in found(plan, LOW):
        assert finding.message.count("; or cells at") == 1


@pytest.mark.parametrize(
    ("other", "alike"), [("62 V", True), ("67 V", False), ("40 V", False), ("0 V", False)]
)
def test_strings_that_are_low_alike_point_to_what_they_share(other: str, alike: bool) -> None:
    """Three of 24.3 V at 49 °C give 67.8 V: no fault of one string makes 62 V of both."""
    plan = read(
        f"at: string-1, voc: 62 V, {FULL_SUN}",
        f"at: string-2, voc: {other}, {FULL_SUN}",
        plan=strings(2),
    )
    first_ = next(f for f in found(plan, LOW) if "string-1" in f.subjects)
    assert ("`string-2` read as low" in first_.message) is alike
    assert first_.remedy.startswith("prove the meter") is alike


def test_nothing_at_a_joint_is_a_string_that_shorts_the_others() -> None:
    """Two strings of one polarity each: 0 V, and the current of both in the wires between."""
    (finding,) = found(read(f"at: roof-joint, voc: 1.4 V, {FULL_SUN}", plan=strings(2)), LOW)
    assert "one of its strings is joined the wrong way round" in finding.message
    assert finding.remedy.startswith("cover the modules, prove with a clamp that nothing flows")
    (finding,) = found(read(f"at: tracker.pv, voc: 1.4 V, {FULL_SUN}", plan=strings(2)), LOW)
    assert "the way is open, one of its strings is joined the wrong way round" in finding.message


@pytest.mark.parametrize(("count", "is_told"), [(1, False), (2, True), (3, False)])
def test_one_of_two_modules_may_be_the_wrong_way_round(count: int, is_told: bool) -> None:
    plan = edited(("series: 3", f"series: {count}"))
    (finding,) = found(read(f"at: roof-string, voc: 0.4 V, {FULL_SUN}", plan=plan), LOW)
    assert ("one of its two modules" in finding.message) is is_told


@pytest.mark.parametrize(
    ("diodes", "share", "said"),
    [
        (3, 2 / 3, "one group of cells shorted, by a failed bypass diode"),
        (3, 1 / 3, "two groups of cells shorted, by failed bypass diodes"),
        (2, 1 / 2, "one group of cells shorted, by a failed bypass diode"),
        (2, 2 / 3, "too little for a group of cells"),
    ],
)
def test_a_module_alone_is_looked_at_by_its_groups(diodes: int, share: float, said: str) -> None:
    """There is no module in it left to read by itself."""
    plan = edited(
        ("max_series_fuse: 15 A", f"bypass_diodes: {diodes}, max_series_fuse: 15 A"),
        ("series: 3", "series: 1"),
    )
    voc = f"{share * voc_by_hand(51) / 3:.2f} V"
    (finding,) = found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}", plan=plan), LOW)
    assert said in finding.message
    assert "each module" not in finding.remedy
    assert "cover the cells" in finding.remedy


@pytest.mark.parametrize(
    ("in_series", "said"),
    [
        (1, "or there is 1 module in series where 3 are planned"),
        (2, None),  # nine modules do not go into pairs
        (1.5, None),
    ],
)
def test_so_few_in_series_may_be_another_layout_than_planned(
    in_series: float, said: str | None
) -> None:
    """Nine modules side by side have a third of the voltage of three by three."""
    plan = strings(3)
    voc = f"{in_series / 3 * voc_by_hand(51):.2f} V"
    (finding,) = found(read(f"at: tracker.pv, voc: {voc}, {FULL_SUN}", plan=plan), LOW)
    assert "at least one of the strings in it is low" in finding.message
    assert ("in series where" in finding.message) is bool(said)
    assert said is None or said in finding.message
    assert ("count its modules" in finding.remedy) is bool(said)


@pytest.mark.parametrize(
    ("told", "share", "named"),
    [
        ("", 2 / 3, True),
        ("", 1 / 2, True),
        (", bypass_diodes: 2", 1 / 2, True),
        (", bypass_diodes: 2", 2 / 3, False),
        (", bypass_diodes: 3", 2 / 3, True),
    ],
)
def test_a_module_that_does_not_tell_its_bypass_diodes_has_two_or_three(
    told: str, share: float, named: bool
) -> None:
    """Common practice: two on 36 cells, three on 60 and more; many labels tell none."""
    plan = edited(("pmax: 100 W,", f"pmax: 100 W{told},"), ("series: 3", "series: 1"))
    volts = share * voc_by_hand(51) / 3
    (finding,) = found(read(f"at: roof-string, voc: {volts:.2f} V, {FULL_SUN}", plan=plan), LOW)
    assert ("as with one group of cells shorted" in finding.message) is named
    assert finding.message.count("one group of cells") <= 1


@pytest.mark.parametrize(
    ("volts", "is_told"), [("0.02 V", True), ("3 V", True), ("13 V", False), ("21 V", False)]
)
def test_nothing_of_a_module_that_tells_its_power_alone_is_told(volts: str, is_told: bool) -> None:
    """300 W may be 38 V or half of it; at the ends of two guesses together there is no curve."""
    label = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,"
    power = edited((label, "pmax: 300 W,"), ("series: 3", "series: 1"))
    sun = "irradiance: 910 W/m², back_temperature: 40 °C"
    assert bool(found(read(f"at: roof-string, voc: {volts}, {sun}", plan=power), LOW)) is is_told
