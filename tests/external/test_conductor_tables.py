"""The package's tables and laws against copies of the published ones, value by value.

The copies under ``tables/`` name the source of every row and say whether it was seen in a
published copy or is from memory; they were made apart from the package's data files.
"""

import csv
import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from wattproof.codes import BodyOfRules, NotTabulated, Surroundings, body, resistance, style
from wattproof.physics.conductors import (
    COPPER_COEFFICIENT,
    COPPER_RESISTIVITY,
    ConductorSize,
    ambient_factor_law,
    conductor_of_gauge,
    conductor_resistance,
    copper_withstand_constant,
    gauge_area_mm2,
    gauge_diameter_mm,
    resistance_at,
    withstand_time,
)

Row = dict[str, str]
close = pytest.approx
NEC, ABYC, IEC, ISO = (body(name) for name in ("nec-2023", "abyc-e11", "iec", "iso-13297"))


@cache
def published(name: str) -> list[Row]:
    path = Path(__file__).parent / "tables" / f"{name}.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def of_type(name: str, kind: str) -> list[Row]:
    return [row for row in published(name) if row["row_type"] == kind]


def seen(row: Row) -> bool:
    return row["verified"].startswith("yes")


# National Electrical Code


@pytest.mark.parametrize("column", [60, 75, 90])
@pytest.mark.parametrize(
    ("name", "free_air"), [("nec_310_16_ampacity", False), ("nec_310_17_free_air", True)]
)
def test_nec_ampacity(name: str, free_air: bool, column: int) -> None:
    place = Surroundings(30, free_air=free_air)
    for row in published(name):
        size = conductor_of_gauge(row["size_awg"])
        figure = row[f"ampacity_{column}C_A"]
        if not figure:
            with pytest.raises(NotTabulated):
                NEC.ampacity(size, column, place, below=False)
            continue
        found = NEC.ampacity(size, column, place)
        assert found.base.value == float(figure)
        assert found.size_used == size
        assert found.corrected == float(figure)
        only_90 = "90 C column only" in row["verified"]
        small = row["size_awg"] in ("18", "16") and not free_air  # seen since, in another copy
        assert found.base.verified == (
            small or (seen(row) and (not only_90 or column == 90 or not free_air))
        )


def test_nec_ambient_factors_hold_over_their_whole_band() -> None:
    for row in published("nec_310_15_b_1_ambient_factor"):
        top = float(row["ambient_max_C"])
        bottom = float(row["ambient_min_C"] or -20)
        for column in (60, 75, 90):
            for ambient in (bottom, bottom - 0.5, top):
                if ambient <= bottom - 0.5 and not row["ambient_min_C"]:
                    continue
                found = NEC.ampacity(conductor_of_gauge("10"), column, Surroundings(ambient))
                if row[f"factor_{column}C"]:
                    assert found.ambient_factor.value == float(row[f"factor_{column}C"])
                else:  # the table ends; its own equation goes on
                    law = ambient_factor_law(column, ambient, 30)
                    assert found.ambient_factor.value <= law + 1e-9


def test_square_root_law_reproduces_the_nec_factors_at_the_top_of_each_band() -> None:
    for row in published("nec_310_15_b_1_ambient_factor"):
        for column in (60, 75, 90):
            if factor := row[f"factor_{column}C"]:
                law = ambient_factor_law(column, float(row["ambient_max_C"]), 30)
                assert law == close(float(factor), abs=0.005 + 1e-9)


def test_nec_bundling() -> None:
    for row in published("nec_310_15_c_1_bundling"):
        if not row["n_min"]:
            continue  # the note on short nipples
        for count in (int(row["n_min"]), int(row["n_max"] or 500)):
            place = Surroundings(30, loaded_conductors=count)
            found = NEC.ampacity(conductor_of_gauge("10"), 90, place)
            assert found.bundling_factor.value == float(row["percent_of_ampacity"]) / 100


def test_nec_small_conductor_caps() -> None:
    for row in published("nec_240_4_d_small_conductor"):
        size = conductor_of_gauge(row["copper_size_awg"])
        limit, why = NEC.largest_device(NEC.ampacity(size, 90, Surroundings(30), 90))
        assert limit == float(row["max_ocpd_A"])
        assert why.verified == seen(row)


def test_nec_standard_ratings() -> None:
    printed = sorted(float(row["rating_A"]) for row in published("nec_240_6_standard_ratings"))
    assert NEC.standard_ratings() == tuple(printed)


@pytest.mark.parametrize("rules", [NEC, IEC, ABYC, ISO], ids=lambda rules: rules.id)
def test_voltage_factors_hold_over_their_whole_band(rules: BodyOfRules) -> None:
    for row in published("nec_690_7_a_voltage_factor"):
        for coldest in (float(row["ambient_min_C"]), float(row["ambient_max_C"])):
            found = rules.voltage_factor(coldest)
            assert found is not None
            assert found.value == float(row["factor"])


def test_nec_resistance() -> None:
    for row in published("nec_chapter9_table8"):
        if row["stranding"] == "solid":
            continue
        found, reference, coefficient = resistance(conductor_of_gauge(row["size_awg"]))
        assert (reference, coefficient) == (75, 0.00323)
        assert found.value * 304.8 == close(float(row["ohm_per_kFT_75C"]))
        assert found.value * 1000 == close(float(row["ohm_per_km_75C_converted"]), abs=6e-5)
        assert found.value * 1000 == close(float(row["ohm_per_km_75C_as_printed"]), rel=0.01)


# Boats


def test_abyc_ampacity_and_engine_space() -> None:
    for row in of_type("abyc_e11_ampacity", "ampacity"):
        size = conductor_of_gauge(row["size_awg_or_conductor_count"])
        column = float(row["insulation_rating_C"])
        outside = ABYC.ampacity(size, column, Surroundings(30))
        inside = ABYC.ampacity(size, column, Surroundings(50, engine_space=True))
        assert outside.value == float(row["amps_outside_engine_space_A"])
        if column < 75:  # the federal table has a factor; ABYC E-11 does not allow it there
            assert inside.value == 0
            continue
        assert inside.ambient_factor.value == float(row["engine_space_factor"])
        printed = float(row["amps_inside_engine_space_A_or_factor"])
        assert inside.value == close(printed, abs=0.0501)
        assert inside.ambient_factor.verified == ("engine-space factor: yes" in row["verified"])


def test_square_root_law_is_behind_the_abyc_engine_factors() -> None:
    """Within 0.006 (rounding) at 50 °C, up to 125 °C; 200 °C insulation is printed as 1.00."""
    printed = {
        float(row["insulation_rating_C"]): float(row["engine_space_factor"])
        for row in of_type("abyc_e11_ampacity", "ampacity")
    }
    assert printed.pop(200) == 1.0
    for column, factor in printed.items():
        assert ambient_factor_law(column, 50, 30) == close(factor, abs=0.0065)


def test_abyc_bundling() -> None:
    """The federal rule asks for it from 50 V on, the standard in its present edition always."""
    for row in of_type("abyc_e11_ampacity", "bundling factor"):
        count = int(row["size_awg_or_conductor_count"].split("-")[0].split()[0])
        factor = float(row["amps_inside_engine_space_A_or_factor"])
        for volts in (50, 49, 12):
            place = Surroundings(30, loaded_conductors=count, circuit_voltage=volts)
            found = ABYC.ampacity(conductor_of_gauge("10"), 90, place)
            assert found.bundling_factor.value == factor


def test_iso_ampacity_and_engine_space() -> None:
    factors = {
        row["insulation_rating_C"]: row["factor_or_value"]
        for row in of_type("iso_13297_ampacity", "engine_space_factor")
    }
    for row in of_type("iso_13297_ampacity", "ampacity"):
        printed = row["insulation_rating_C"]
        factor = 0.0 if factors[printed] == "not permitted" else float(factors[printed])
        for insulation in (float(part) for part in printed.split("-")):
            size = ConductorSize(float(row["area_mm2"]))
            outside = ISO.ampacity(size, insulation, Surroundings(30))
            inside = ISO.ampacity(size, insulation, Surroundings(60, engine_space=True))
            assert outside.value == float(row["ampacity_A"])
            assert outside.base.verified == seen(row)
            assert inside.ambient_factor.value == factor


# International


def test_iec_ampacity_of_the_methods_in_use() -> None:
    for row in of_type("iec_60364_5_52_ampacity", "ampacity"):
        area = float(row["area_mm2"])
        reached = {"B1": True, "C": area < 25, "F": area >= 25}.get(row["method"], False)
        if reached:
            place = Surroundings(30, free_air=row["method"] != "B1")
            found = IEC.ampacity(ConductorSize(area), float(row["conductor_temp_C"]), place)
            assert found.base.value == found.value == float(row["ampacity_A"])
            assert found.base.verified == seen(row)


def test_iec_free_air_reading_is_never_above_the_spaced_method() -> None:
    for row in of_type("iec_60364_5_52_ampacity", "ampacity"):
        if row["method"] == "G":
            size = ConductorSize(float(row["area_mm2"]))
            place = Surroundings(30, free_air=True)
            found = IEC.ampacity(size, float(row["conductor_temp_C"]), place)
            assert found.value < float(row["ampacity_A"])


def test_iec_ambient_and_grouping() -> None:
    for row in of_type("iec_60364_5_52_ampacity", "ambient_factor"):
        column, ambient = float(row["conductor_temp_C"]), float(row["ambient_C"])
        found = IEC.ampacity(ConductorSize(6), column, Surroundings(ambient))
        assert found.ambient_factor.value == float(row["factor"])
        assert ambient_factor_law(column, ambient, 30) == close(float(row["factor"]), abs=0.006)
    for row in of_type("iec_60364_5_52_ampacity", "grouping_factor"):
        if row["arrangement"].startswith("bunched"):
            for loaded in (2 * int(row["circuits"]), 2 * int(row["circuits"]) - 1):
                place = Surroundings(30, loaded_conductors=loaded)
                found = IEC.ampacity(ConductorSize(6), 70, place)
                assert found.bundling_factor.value == float(row["factor"])


def test_photovoltaic_cable() -> None:
    for row in of_type("en_50618_ampacity", "ampacity"):
        size = ConductorSize(float(row["area_mm2"]))
        for free, column in ((True, "single_free_in_air_A"), (False, "two_adjacent_on_surface_A")):
            place = Surroundings(60, free_air=free)
            found = IEC.ampacity(size, 120, place, cable_kind="pv")
            assert found.value == float(row[column])
            assert found.insulation_column == 120


def test_photovoltaic_ambient_factors_are_the_more_careful() -> None:
    less_careful = {
        row["ambient_C"]: float(row["factor"])
        for row in of_type("en_50618_ampacity", "ambient_factor")
    }
    for row in of_type("en_50618_ampacity", "ambient_factor_iec62930"):
        place = Surroundings(float(row["ambient_C"]))
        factor = IEC.ampacity(ConductorSize(6), 120, place, cable_kind="pv").ambient_factor.value
        assert factor == float(row["factor"]) <= less_careful[row["ambient_C"]]


@pytest.mark.parametrize(
    ("class_", "column"),
    [
        ("flexible", "class5_plain_ohm_per_km_20C"),
        ("stranded", "class2_plain_ohm_per_km_20C"),
        ("flexible", "class5_tinned_ohm_per_km_20C"),
        ("stranded", "class2_tinned_ohm_per_km_20C"),
    ],
)
def test_iec_resistance(class_: str, column: str) -> None:
    for row in published("iec_60228_resistance"):
        size = ConductorSize(float(row["area_mm2_nominal"]))
        found, reference, coefficient = resistance(size, class_, tinned="tinned" in column)
        assert found.value * 1000 == close(float(row[column]))
        assert (reference, coefficient) == (20, COPPER_COEFFICIENT)
        assert found.verified == seen(row)


# Geometry and material


def test_gauges_against_the_law_computed_apart() -> None:
    for row in published("awg_metric"):
        assert gauge_diameter_mm(row["awg"]) == close(float(row["diameter_mm"]), abs=6e-5)
        assert gauge_area_mm2(row["awg"]) == close(float(row["area_mm2"]), abs=6e-5)


def test_gauge_areas_against_the_nominal_areas_of_the_code() -> None:
    for row in published("nec_chapter9_table8"):
        area = gauge_area_mm2(row["size_awg"])
        assert area == close(float(row["area_mm2"]), rel=0.002)
        assert area / 5.067e-4 == close(float(row["area_circular_mils"]), rel=0.005)


def test_stranded_gauges_are_at_most_4_percent_above_solid_copper() -> None:
    for row in published("awg_metric"):
        found, reference, coefficient = resistance(conductor_of_gauge(row["awg"]))
        cold = resistance_at(found.value, reference, 20.0, coefficient)
        if found.own:
            continue  # a gauge that the code's table does not hold
        assert 1.0 < cold * 1000 / float(row["ohm_per_km_20C_from_IACS"]) < 1.04


def test_odd_sizes_are_on_the_careful_side_of_the_standard() -> None:
    """The factor for odd sizes is at least the largest that the standard's own rows show."""
    for class_, column in (
        ("flexible", "class5_plain_ohm_per_km_20C"),
        ("stranded", "class2_plain_ohm_per_km_20C"),
    ):
        odd, _, _ = resistance(ConductorSize(8), class_)
        factor = odd.value * 8 / COPPER_RESISTIVITY
        ratios = [
            float(row[column]) / 1000 * float(row["area_mm2_nominal"]) / COPPER_RESISTIVITY
            for row in published("iec_60228_resistance")
        ]
        assert max(ratios) <= factor < max(ratios) + 0.01


def test_copper_constants() -> None:
    constants = {row["name"]: row["value"] for row in published("physical_constants")}
    assert float(constants["copper_resistivity_IACS_20C"]) == COPPER_RESISTIVITY
    assert float(constants["copper_temp_coefficient_20C"]) == COPPER_COEFFICIENT
    for temperature in (50, 60, 70, 90, 120):
        factor = resistance_at(1.0, 20.0, float(temperature), COPPER_COEFFICIENT)
        assert factor == close(float(constants[f"R_factor_20_to_{temperature}C"]), abs=6e-5)


@pytest.mark.parametrize(
    ("name", "initial", "final"),
    [
        ("k_cu_pvc_70_to_160C_up_to_300mm2", 70, 160),
        ("k_cu_pvc_70_to_140C_over_300mm2", 70, 140),
        ("k_cu_xlpe_90_to_250C", 90, 250),
        ("k_cu_pvc_90_to_160C", 90, 160),
        ("k_cu_rubber_60_to_200C", 60, 200),
        ("k_cu_pv_cable_120_to_250C", 120, 250),
    ],
)
def test_withstand_constants_round_to_the_table(name: str, initial: float, final: float) -> None:
    constants = {
        row["name"]: float(row["value"])
        for row in published("physical_constants")
        if row["name"].startswith("k_cu")
    }
    assert copper_withstand_constant(initial, final) == close(constants[name], abs=0.51)


def test_fuse_styles_claim_no_more_than_the_standard() -> None:
    pairs = {
        "blade": "blade, regular (type C, medium)",
        "mini-blade": "blade, miniature (type F)",
        "large-blade": "blade, large (type E, high current)",
        "bolt-down": "bolt-in, small strip (type SF30)",
        "bolt-down-large": "bolt-in, large strip (type SF51)",
    }
    rows = {row["fuse_generic_type"]: row for row in published("iso_8820_fuse")}
    for name, printed in pairs.items():
        found, row = style(name), rows[printed]
        assert found.dc_voltage is not None
        assert found.largest is not None
        assert found.dc_voltage.value == float(row["rated_voltage_V_DC"].split()[0])
        current = found.interrupt_at(found.dc_voltage.value)
        assert current is not None
        assert current.value == float(row["breaking_capacity_A"])
        assert found.largest.value == float(row["rated_current_max_A"])


# Worked examples of public training and government material


def aviation_handbook_drops() -> Iterator[tuple[float, float, float]]:
    """FAA AC 43.13-1B change 1 (2001), tables 11-7 and 11-8, chart example of page 11-26.

    (ohm per foot of tin-plated copper at 20 °C, run in ft, volts at 20 A). The run is the whole
    conductor, with chassis return. The handbook misprints two results: 3.60 V for No. 12, which is
    3.555 V, and .366 V for 19.5 ft of No. 10, which is half of the 39 ft row, 0.491 V.
    """
    yield 0.00044, 107, 0.942
    yield 0.00028, 90, 0.504
    yield 0.00202, 88, 3.555
    yield 0.00306, 100, 6.12
    yield 0.00126, 39, 0.983
    yield 0.00126, 19.5, 0.491
    yield 0.00126, 156, 3.931
    yield 0.00126, 273, 6.880
    yield 0.00070, 50, 0.70
    yield 0.00126, 50, 1.26


@pytest.mark.parametrize(("ohm_per_foot", "feet", "volts"), list(aviation_handbook_drops()))
def test_aviation_handbook_drops(ohm_per_foot: float, feet: float, volts: float) -> None:
    drop = 20.0 * conductor_resistance(ohm_per_foot / 0.3048, feet * 0.3048)
    assert drop == close(volts, abs=0.0006)


def test_free_air_cable_behind_roof_modules_at_68_degrees() -> None:
    """J. Wiles, Suggested Practices, appendix E: 0.58 at 68 °C in free air; 20.3 A needed."""
    place = Surroundings(68, free_air=True)
    for gauge, amps in (("14", 20.3), ("12", 23.2), ("10", 31.9), ("8", 46.4)):
        found = NEC.ampacity(conductor_of_gauge(gauge), 90, place, terminal_temperature=75)
        assert found.corrected == close(amps)
    found = NEC.ampacity(conductor_of_gauge("10"), 90, place, terminal_temperature=75)
    assert found.terminal_limit is not None
    assert found.terminal_limit.value == 35
    assert NEC.largest_device(found)[0] == 30


def test_six_string_conductors_in_a_hot_raceway() -> None:
    """Code forum, 690.8(B) conductor sizing: 15 A strings pass on 10 AWG at 162 °F with six."""
    place = Surroundings((162 - 32) / 1.8, loaded_conductors=6)
    found = NEC.ampacity(conductor_of_gauge("10"), 90, place)
    assert found.corrected == close(16)
    assert found.terminal_limit is not None
    assert found.terminal_limit.value == 30
    assert found.terminal_limit.value >= 1.25 * 15
    assert found.value >= 15


def test_terminal_column_first_then_bundling() -> None:
    """Exam academy, 2016: 20 A with 22 conductors. The source forgets the circuit's own two."""
    place = Surroundings(30, loaded_conductors=22)
    corrected = {
        gauge: NEC.ampacity(conductor_of_gauge(gauge), 90, place).corrected
        for gauge in ("12", "10", "8")
    }
    assert corrected == {"12": close(13.5), "10": close(18), "8": close(24.75)}


def test_which_of_the_two_conductor_tests_governs() -> None:
    """PV course, 2016: up to 50 °C the continuous test governs, from 51 °C the corrected one."""
    for ambient, needed in ((50, 1.524), (51, 1.645)):
        found = NEC.ampacity(conductor_of_gauge("10"), 90, Surroundings(ambient))
        factor = found.ambient_factor.value * found.bundling_factor.value
        assert NEC.irradiance_factor.value / factor == close(needed, abs=0.0006)
    both = NEC.irradiance_factor.value * NEC.continuous_factor.value
    assert 1.524 < both < 1.645


def test_smallest_conductor_in_a_fault() -> None:
    """Mock examination, 17th edition: 650 A for 0.3 s with k 115 needs 3.10 mm² (our result)."""
    assert withstand_time(3.09582, 650, 115) == close(0.3, rel=1e-5)
    assert withstand_time(2.5, 650, 115) < 0.3 < withstand_time(4, 650, 115)


def test_galvanised_steel_earth_conductor() -> None:
    """Teaching article: 20 kA for 0.5 s with k 80 needs 176.8 mm²."""
    assert withstand_time(20e3 * math.sqrt(0.5) / 80, 20e3, 80) == close(0.5)
    assert withstand_time(176.8, 20e3, 80) == close(0.5, rel=1e-3)
