"""Sums that others published for wires, fuses, strings and voltage drop, under every body of rules.

Each example names its source, and keeps the source's own rounding. Where a printed figure is wrong
the test says so and holds the right one. They stand beside those of `test_worked_examples`; the
last test counts that every body of rules and every kind of sum has one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

import pytest

from plans import array_plan, edited
from wattproof.codes import BodyOfRules, NotTabulated, Surroundings, body, known, style
from wattproof.physics.conductors import (
    ConductorSize,
    conductor_of_gauge,
    conductor_resistance,
    gauge_area_mm2,
    power_loss,
)
from wattproof.testing import check_text, study_of

close = pytest.approx
NEC, ABYC, IEC, ISO, AS_NZS = (
    body(name) for name in ("nec-2023", "abyc-e11", "iec", "iso-13297", "as-nzs-3001")
)
BOATS = {"abyc-e11", "iso-13297"}
CIRCULAR_MILS_PER_MM2 = 1 / (3.14159265 / 4 * 0.0254**2)


class Example(NamedTuple):
    """A published sum: who published it, its kind, by which bodies of rules it is run."""

    source: str
    kind: str
    bodies: tuple[str, ...]
    run: Callable[[BodyOfRules], None]


EXAMPLES: list[Example] = []


def example(
    source: str, kind: str, *bodies: str
) -> Callable[[Callable[[BodyOfRules], None]], Callable[[BodyOfRules], None]]:
    def keep(run: Callable[[BodyOfRules], None]) -> Callable[[BodyOfRules], None]:
        EXAMPLES.append(Example(source, kind, bodies, run))
        return run

    return keep


# Wires: what they may carry


def carries(rules: BodyOfRules, size: ConductorSize, column: float, place: Surroundings) -> float:
    return rules.ampacity(size, column, place).corrected


@example("EC&M, Code Q&A 84: nine 12 AWG conductors in a raceway, 30 A x 0.70", "wire", "nec-2023")
def nine_conductors(rules: BodyOfRules) -> None:
    place = Surroundings(30, loaded_conductors=9)
    assert carries(rules, conductor_of_gauge("12"), 90, place) == close(21.0)


@example("EC&M, Code Quiz 6: thirty 12 AWG conductors in a floor raceway", "wire", "nec-2023")
def thirty_conductors(rules: BodyOfRules) -> None:
    place = Surroundings(30, loaded_conductors=30)
    assert carries(rules, conductor_of_gauge("12"), 90, place) == close(13.5)


@example("Engineers' board, thread 27269: 12 AWG, 90 °C, in air of 55 °C, 0.76", "wire", "nec-2023")
def air_of_55(rules: BodyOfRules) -> None:
    found = rules.ampacity(conductor_of_gauge("12"), 90, Surroundings(55))
    assert found.base.value == 30
    assert found.ambient_factor.value == 0.76


@example("Code forum, thread 111900: four 12 AWG in a conduit, 30 A x 0.8", "wire", "nec-2023")
def four_conductors(rules: BodyOfRules) -> None:
    place = Surroundings(30, loaded_conductors=4)
    assert carries(rules, conductor_of_gauge("12"), 90, place) == close(24.0)


@example(
    "Code forum, post 1127497: six 12 AWG over a roof at 94 °F with an adder of 30 °F (2008)",
    "wire",
    "nec-2023",
)
def six_conductors_over_a_roof(rules: BodyOfRules) -> None:
    """The source divides 20 A by 0.76 and multiplies by 0.80, and so passes: 18.2 A do not."""
    place = Surroundings((124 - 32) / 1.8, loaded_conductors=6)
    found = rules.ampacity(conductor_of_gauge("12"), 90, place)
    assert (found.ambient_factor.value, found.bundling_factor.value) == (0.76, 0.80)
    assert found.corrected == close(18.24)
    assert found.corrected < 20


BOAT_CABLE = {  # no more than 2, 3, 4 to 6, 7 to 24 conductors together, outside engine spaces
    "18": (20, 14, 12, 10),
    "16": (25, 17.5, 15, 12.5),
    "14": (35, 24.5, 21, 17.5),
    "12": (45, 31.5, 27, 22.5),
    "10": (60, 42, 36, 30),
    "8": (80, 56, 48, 40),
    "6": (120, 84, 72, 60),
    "4": (160, 112, 96, 80),
    "2": (210, 147, 126, 105),
    "1": (245, 171.5, 147, 122.5),
    "1/0": (285, 199.5, 171, 142.5),
    "2/0": (330, 231, 198, 165),
    "3/0": (385, 269.5, 231, 192.5),
    "4/0": (445, 311.5, 267, 222.5),
}


@example("Cable maker's page on UL 1426 boat cable, 105 °C: 56 cells", "wire", "abyc-e11")
def boat_cable_in_bundles(rules: BodyOfRules) -> None:
    for gauge, printed in BOAT_CABLE.items():
        for counts, amps in zip(((1, 2), (3,), (4, 6), (7, 24)), printed, strict=True):
            for count in counts:
                place = Surroundings(30, loaded_conductors=count)
                assert carries(rules, conductor_of_gauge(gauge), 105, place) == close(amps)


@example("The same page, inside engine spaces: x 0.85, printed to 0.1 A", "wire", "abyc-e11")
def boat_cable_in_an_engine_space(rules: BodyOfRules) -> None:
    inside = {"18": 17, "14": 29.8, "10": 51, "6": 102, "2": 178.5, "1/0": 242.3, "4/0": 378.3}
    for gauge, amps in inside.items():
        place = Surroundings(50, engine_space=True)
        assert carries(rules, conductor_of_gauge(gauge), 105, place) == close(amps, abs=0.06)


@example("Boat builders' training page: 20 A, 105 °C, 18 AWG only in a sheath", "wire", "abyc-e11")
def the_thinnest_on_a_boat(rules: BodyOfRules) -> None:
    assert carries(rules, conductor_of_gauge("18"), 105, Surroundings(30)) == 20
    alone, sheathed = (rules.thinnest_conductor(enclosed=e) for e in (False, True))
    assert alone is not None
    assert sheathed is not None
    assert (alone.size.gauge, sheathed.size.gauge) == ("16", "18")


BOAT_TABLE = {  # mm²: amperes of a single core, and its fuse
    1.5: (12, 10),
    2.5: (17, 16),
    4: (23, 20),
    6: (30, 25),
    10: (41, 36),
    16: (54, 50),
    25: (71, 63),
    35: (86, 80),
}


@example("German boating page on electrics, table of single cores, 60 °C", "wire", "iso-13297")
def single_cores_on_a_boat(rules: BodyOfRules) -> None:
    """The page rounds otherwise: the figures differ by at most 1 A."""
    for area, (amps, _) in BOAT_TABLE.items():
        found = carries(rules, ConductorSize(float(area)), 60, Surroundings(30))
        assert found == close(amps, abs=1.0)


@example(
    "T. Linsley, Basic Electrical Installation Work: 32 A in air of 35 °C, 32/0.94 = 34.04 A",
    "wire",
    "iec",
    "as-nzs-3001",
)
def tabulated_current_for_32_ampere(rules: BodyOfRules) -> None:
    found = rules.ampacity(ConductorSize(6.0), 70, Surroundings(35))
    assert found.ambient_factor.value == 0.94
    assert 32 / found.ambient_factor.value == close(34.04, abs=0.005)
    assert found.base.value >= 34.04
    assert rules.ampacity(ConductorSize(4.0), 70, Surroundings(35)).base.value < 34.04


@example(
    "Compressor manual, method F by IEC 60364-5-52, five air temperatures: 34 cells",
    "wire",
    "iec",
    "as-nzs-3001",
)
def hot_air_around_cables(rules: BodyOfRules) -> None:
    """Its amperes are for three loaded conductors: what is compared is how they fall."""
    printed = {
        70: [(110, 96, 87, 78, 67), (137, 119, 108, 97, 84), (308, 268, 243, 219, 188)],
        90: [(135, 123, 117, 110, 103), (169, 154, 147, 139, 128), (383, 349, 333, 314, 291)],
    }
    for column, rows in printed.items():
        for cool, *hot in rows:
            for ambient, amps in zip((40, 45, 50, 55), hot, strict=True):
                found = rules.ampacity(ConductorSize(25.0), column, Surroundings(ambient))
                assert found.ambient_factor.value == close(amps / cool, abs=0.006)


# Fuses


@example("Trade page on strings: Isc 8.73 A x 1.56 = 13.62 A, a 15 A fuse", "fuse", "nec-2023")
def string_of_8_73_ampere(rules: BodyOfRules) -> None:
    lower, _ = rules.string_fuse_window(8.73)
    assert lower.value * 8.73 == close(13.62, abs=0.03)
    assert rules.next_rating(lower.value * 8.73) == 15


@example(
    "Fuse maker's news page: 8.5 A, 10.625 A in bright sun, 13.28 A lasting", "fuse", "nec-2023"
)
def module_of_8_5_ampere(rules: BodyOfRules) -> None:
    bright = rules.irradiance_factor.value * 8.5
    assert bright == close(10.625)
    assert rules.continuous_factor.value * bright == close(13.28, abs=0.005)


@example("Combiner box manual: behind a 15 A fuse at most 15/1.56 = 9.62 A", "fuse", "nec-2023")
def largest_string_for_a_fuse(rules: BodyOfRules) -> None:
    lower, _ = rules.string_fuse_window(9.6)
    assert 15 / lower.value == close(9.62, abs=0.025)


@example("Solar shop forum: 1.22 A x 1.25 x 1.25 = 1.90 A a thin-film module", "fuse", "nec-2023")
def small_thin_film_module(rules: BodyOfRules) -> None:
    lower, _ = rules.string_fuse_window(1.22)
    assert lower.value * 1.22 == close(1.90, abs=0.007)
    assert rules.irradiance_factor.value * 1.22 == close(1.53, abs=0.006)


@example(
    "Pump maker's manual by AS/NZS 5033: Isc 9.27 A asks for more than 13.91 A, at most 15 A",
    "fuse",
    "as-nzs-3001",
    "iec",
)
def pump_on_three_strings(rules: BodyOfRules) -> None:
    lower, upper = rules.string_fuse_window(9.27)
    assert lower.value * 9.27 == close(13.91, abs=0.01)
    assert upper is not None
    fitting = [r for r in rules.standard_ratings() if lower.value * 9.27 < r <= 15]
    assert fitting == [15]


TWO_STRINGS = array_plan(
    "  one: {module: rigid-100, series: 1}\n  two: {module: rigid-100, series: 1}\n",
    "  lead-one: {from: one, to: joint, cable: pv-10, length: 4 m, place: roof}\n"
    "  lead-two: {from: two, to: joint, cable: pv-10, length: 4 m, place: roof}\n"
    "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: roof}\n",
    "  joint: {joins: [one, two], kind: combiner-box, rating: 60 A, voltage: 600 V}\n",
)


@example(
    "Rooftop designers' training page, example 1: (2 - 1) x 12.28 A is below 20 A, no fuse",
    "fuse",
    "iec",
    "as-nzs-3001",
    "nec-2023",
    "abyc-e11",
    "iso-13297",
)
def two_strings_of_12_ampere(rules: BodyOfRules) -> None:
    one = rules.reverse_current_factor.value * 12.28
    assert one == close(12.28 if rules.reverse_current_factor.value == 1.0 else 15.35)
    assert one < 20
    text = edited(
        ("isc: 5.2 A, imp: 4.9 A, pmax: 100 W", "isc: 12.28 A, imp: 11.5 A, pmax: 234.6 W"),
        ("max_series_fuse: 15 A", "max_series_fuse: 20 A"),
        plan=under(rules, TWO_STRINGS),
    )
    assert "string-fuse-missing" not in {f.rule for f in check_text(text).findings}


@example("German boating page on electrics, fuses of its single cores", "fuse", "iso-13297")
def fuses_of_single_cores(rules: BodyOfRules) -> None:
    for area, (_, fuse) in BOAT_TABLE.items():
        found = rules.ampacity(ConductorSize(float(area)), 60, Surroundings(30))
        assert fuse <= rules.largest_device(found)[0] < 1.25 * fuse


@example("Rigging shop's answers: 10 AWG boat cable behind a breaker of 50 A", "fuse", "abyc-e11")
def breaker_of_50_ampere_on_ten_gauge(rules: BodyOfRules) -> None:
    found = rules.ampacity(conductor_of_gauge("10"), 105, Surroundings(30))
    assert found.value == 60
    assert rules.largest_device(found)[0] >= 50


@example("Australian towing shop on ABYC E-11: 7, 40 and 72 inches", "fuse", "abyc-e11")
def seven_forty_seventy_two(rules: BodyOfRules) -> None:
    for kind, centimetres in (("open", 18), ("enclosed", 101), ("battery-sheathed", 183)):
        limit = rules.source_distance(kind)
        assert limit is not None
        assert limit.value * 100 == close(centimetres, abs=0.7)


@example("Fuse catalogue (Australia): a gG fuse protects where In is within the cable's", "fuse",
         "as-nzs-3001")  # fmt: skip
def gg_fuse_and_cable(rules: BodyOfRules) -> None:
    """By the 1991 wiring rules. The present ones ask for In <= 0.9 Iz besides: 1.45/1.6."""
    found = rules.ampacity(ConductorSize(6.0), 70, Surroundings(30))
    assert rules.largest_device(found)[0] == found.value
    tighter = rules.overload_rating(found.value, style("cartridge"))
    assert tighter is not None
    assert tighter.value == close(0.906 * found.value, rel=1e-3)


# Strings: the voltage of cold modules


def under(rules: BodyOfRules, text: str) -> str:
    """The plan by another body of rules."""
    text = edited(("code: nec-2023", f"code: {rules.id}"), plan=text)
    return edited(("setting: vehicle", "setting: boat"), plan=text) if rules.id in BOATS else text


def cold_voltage(rules: BodyOfRules, sheet: str, coldest: str, series: int = 1) -> float:
    label = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,\n"
    label += "                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,\n"
    label += "                pmax_coefficient: -0.36 %/°C"
    text = edited(
        (label, sheet),
        ("coldest: -18 °C", f"coldest: {coldest}"),
        ("max_input_voltage: 100 V", "max_input_voltage: 1500 V"),
        ("series: 3", f"series: {series}"),
    )
    [array] = study_of(under(rules, text)).array.arrays
    return array.voc("coldest").number


@example("GSES worksheet (2011), third example: 45.8 V + 25 x 0.13 V = 49.05 V", "string", *known())
def module_at_freezing(rules: BodyOfRules) -> None:
    sheet = "voc: 45.8 V, vmp: 37 V, isc: 5 A, imp: 4.6 A, voc_coefficient: -0.13 V/°C"
    assert cold_voltage(rules, sheet, "0 °C") == close(49.05)


@example("Electrical training site, post 69: 49.5 V at -5 °C is 53.66 V, 18 in 1000 V", "string",
         *known())  # fmt: skip
def longest_string(rules: BodyOfRules) -> None:
    sheet = "voc: 49.5 V, vmp: 41.2 V, isc: 9 A, imp: 8.5 A, voc_coefficient: -0.28 %/°C"
    whole = cold_voltage(rules, sheet, "-5 °C", 18)
    assert whole == close(18 * 53.658)
    assert whole <= 1000
    assert cold_voltage(rules, sheet, "-5 °C", 19) > 1000


@example("Installer practice questions, question 3: the table's factor of 1.20, 44.4 V", "string",
         *known())  # fmt: skip
def without_a_coefficient(rules: BodyOfRules) -> None:
    sheet = "voc: 37.0 V, vmp: 29.9 V, isc: 9 A, imp: 8.5 A"
    assert cold_voltage(rules, sheet, "-24 °C") == close(44.4)


@example("Module maker's manual (Australia): N x Voc x (1 + TC x (Tmin - 25))", "string",
         "as-nzs-3001", "iec")  # fmt: skip
def by_the_formula_of_a_manual(rules: BodyOfRules) -> None:
    sheet = "voc: 41.5 V, vmp: 34.5 V, isc: 10.7 A, imp: 10 A, voc_coefficient: -0.27 %/°C"
    expected = 12 * 41.5 * (1 - 0.0027 * (-2 - 25))
    assert cold_voltage(rules, sheet, "-2 °C", 12) == close(expected)


# Voltage drop


def lost(rules: BodyOfRules, size: ConductorSize, amps: float, metres: float) -> float:
    """Volts lost out and back by the body's own formula."""
    per_metre = rules.drop_resistance("critical", size)
    assert per_metre is not None
    return drop_of_pair(amps, per_metre.value, metres)


def smallest_gauge(rules: BodyOfRules, amps: float, feet: float, volts: float) -> str:
    """The thinnest gauge by the body's own formula, ``feet`` out and back together."""
    for gauge in (
        "18",
        "16",
        "14",
        "12",
        "10",
        "8",
        "6",
        "4",
        "2",
        "1",
        "1/0",
        "2/0",
        "3/0",
        "4/0",
    ):
        if lost(rules, conductor_of_gauge(gauge), amps, feet * 0.3048 / 2) <= volts:
            return gauge
    raise AssertionError("none is thick enough")


@example("Marine shop, maintaining three percent: 10 A, 21 ft, 6271 circular mils, 12 AWG", "drop",
         "abyc-e11")  # fmt: skip
def bilge_pump_at_3_percent(rules: BodyOfRules) -> None:
    mils = 10.75 * 10 * 21 / 0.36
    assert mils == close(6271, abs=0.5)
    size = ConductorSize(mils / CIRCULAR_MILS_PER_MM2)
    assert lost(rules, size, 10, 10.5 * 0.3048) == close(0.36, abs=1e-4)
    assert smallest_gauge(rules, 10, 21, 0.36) == "12"


@example("Marine catalogue (Canada), 10 %: the same pump on 16 AWG", "drop", "abyc-e11")
def bilge_pump_at_10_percent(rules: BodyOfRules) -> None:
    assert smallest_gauge(rules, 10, 21, 1.2) == "16"


@example("Battery relay maker's instructions: 12 V, 10 %, 40 ft x 45 A, 8 AWG", "drop", "abyc-e11")
def forty_feet_of_45_ampere(rules: BodyOfRules) -> None:
    assert smallest_gauge(rules, 45, 40, 1.2) == "8"


@example("Refrigeration maker's answers: 24 V, 3 %, 10 ft x 100 A, 6 AWG by its ampacity", "drop",
         "abyc-e11")  # fmt: skip
def a_hundred_ampere_at_24_volts(rules: BodyOfRules) -> None:
    assert smallest_gauge(rules, 100, 10, 0.72) == "8"
    carried = [carries(rules, conductor_of_gauge(g), 105, Surroundings(30)) for g in ("8", "6")]
    assert carried == [80, 120]


CHART = """\
10 18 14 12 12 10 10 8 8 6 6 6 4 4
15 16 12 10 10 8 8 6 6 4 4 4 2 2
20 14 12 10 8 8 6 6 4 4 4 2 2 2
25 14 10 8 8 6 6 4 4 2 2 2 1 1
30 12 10 8 6 6 4 4 2 2 2 1 1/0 1/0
40 12 8 6 6 4 4 2 2 1 1/0 1/0 2/0 2/0
50 10 8 6 4 4 2 2 1 1/0 1/0 2/0 3/0 3/0
60 10 6 6 4 2 2 1 1/0 2/0 2/0 3/0 3/0 4/0
70 10 6 4 2 2 2 1/0 2/0 2/0 3/0 3/0 4/0 4/0
80 8 6 4 2 2 1 1/0 2/0 3/0 3/0 4/0
90 8 4 4 2 1 1/0 2/0 3/0 3/0 4/0
100 8 4 2 2 1 1/0 2/0 3/0 4/0 4/0
110 8 4 2 2 1 1/0 2/0 3/0 4/0
120 6 4 2 1 1/0 2/0 3/0 4/0 4/0
130 6 4 2 1 1/0 2/0 3/0 4/0
140 6 2 2 1/0 2/0 2/0 3/0 4/0
150 6 2 1 1/0 2/0 3/0 4/0
160 6 2 1 1/0 2/0 3/0 4/0
170 6 2 1 2/0 3/0 3/0 4/0
"""
CHART_AMPS = (5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100)


@example("Reprint of the Coast Guard guideline, 3 % at 12 V: 203 cells", "drop", "abyc-e11")
def printed_chart_at_3_percent(rules: BodyOfRules) -> None:
    """All cells hold but four, which the chart rounds down: 3.00 to 3.07 %."""
    shares = []
    for line in CHART.splitlines():
        feet, *gauges = line.split()
        for gauge, amps in zip(gauges, CHART_AMPS, strict=False):
            volts = lost(rules, conductor_of_gauge(gauge), amps, float(feet) * 0.3048 / 2)
            shares.append(volts / 12)
    assert len(shares) == 203
    over = [share for share in shares if share > 0.03]
    assert len(over) == 4
    assert max(over) < 0.0308


@example(
    "Boat owner's page by the small-craft formula: masthead light, 0.38 V", "drop", "iso-13297"
)
def masthead_light(rules: BodyOfRules) -> None:
    """The source rounds 0.385 down on its way."""
    assert lost(rules, ConductorSize(1.5), 1.6, 11.0) == close(0.385, abs=0.0005)


@example("Electrical training site, lesson 135: 16 AWG, 100 ft, 4 A, 4.0 V or 16.7 %", "drop",
         "nec-2023")  # fmt: skip
def sixteen_gauge_over_100_feet(rules: BodyOfRules) -> None:
    drop = table_drop(rules, "16 AWG", 4, 100 * 0.3048)
    assert drop == close(4.0, abs=0.01)
    assert drop / 24 == close(0.167, abs=0.001)


def drop_of_pair(amps: float, per_metre: float, metres: float) -> float:
    """Volts lost out and back along a pair of like conductors, by Ohm's law."""
    return amps * conductor_resistance(per_metre, 2.0 * metres)


def table_drop(rules: BodyOfRules, size: str, amps: float, metres: float) -> float:
    """Volts lost in a wire to a load, as the study finds it: hot, by the tables of conductors."""
    cable = f"    load-cable: {{size: {size}, kind: marine, insulation_temperature: 105 °C}}\n"
    text = edited(
        ("strings:\n", cable + "strings:\n"),
        ("fuses:\n", f"loads:\n  lamp: {{current: {amps:g} A}}\nfuses:\n"),
        ("wires:\n", "wires:\n  load-run: {from: house, to: lamp, cable: load-cable, "
                     f"length: {metres:.6g} m}}\n"),
    )  # fmt: skip
    drop = study_of(under(rules, text)).wiring.wires["load-run"].drop
    assert drop is not None
    return drop.number


COLD_TO_HOT = 1.157 * (1 + 0.00393 * (75 - 20)) * 1.08
"""How far a hot flexible conductor by the tables may lie above a resistivity of 0.0177 or 1/56."""


@example("Module maker's note (Germany): 3 A in 1.5 mm², 3, 8 and 1 m: 0.21, 0.57, 0.07 V", "drop",
         "iec", "as-nzs-3001")  # fmt: skip
def three_sections(rules: BodyOfRules) -> None:
    """By its resistivity, cool solid copper, to the digit; by the tables, hot, up to half more."""
    parts = [drop_of_pair(3.0, 0.0177 / 1.5, metres) for metres in (3.0, 8.0, 1.0)]
    assert [round(part, 2) for part in parts] == [0.21, 0.57, 0.07]
    assert sum(parts) == close(0.85, abs=0.001)
    assert 1 < table_drop(rules, "1.5 mm²", 3, 12) / sum(parts) < COLD_TO_HOT


@example("Chandler's page: 25 W masthead light, 2.1 A, 18 m, 0.6 V, 2.5 mm²", "drop",
         "iec", "as-nzs-3001")  # fmt: skip
def lamp_on_a_mast(rules: BodyOfRules) -> None:
    needed = 2 * 18 * 2.1 / (56 * 0.6)
    assert needed == close(2.25)
    assert drop_of_pair(2.1, 1 / 56 / 2.5, 18.0) < 0.6 < drop_of_pair(2.1, 1 / 56 / 1.5, 18.0)
    assert table_drop(rules, "2.5 mm²", 2.1, 18) < 0.6 * COLD_TO_HOT


@example("Sailor's page: windlass, 80 A, 10 m, 7 %: 34.01 mm² at 12 V, 17.00 at 24 V", "drop",
         "iec", "as-nzs-3001")  # fmt: skip
def windlass(rules: BodyOfRules) -> None:
    for volts, area in ((12, 34.01), (24, 17.00)):
        assert drop_of_pair(80.0, 1 / 56 / area, 10.0) == close(0.07 * volts, abs=0.001)
    assert table_drop(rules, "35 mm²", 80, 10) < 0.07 * 12 * COLD_TO_HOT


@example("Boat battery shop: 50 A, 12 m, 0.25 V: 43.2 mm²; 1 A, 40 m, 0.5 V: 1.44 mm²", "drop",
         "iec", "as-nzs-3001")  # fmt: skip
def main_feed_and_anchor_light(rules: BodyOfRules) -> None:
    """Its lengths count both ways."""
    assert drop_of_pair(50.0, 0.018 / 43.2, 6.0) == close(0.25)
    assert drop_of_pair(1.0, 0.018 / 1.44, 20.0) == close(0.5)
    assert 1 < table_drop(rules, "50 mm²", 50, 6) / (0.25 * 43.2 / 50) < COLD_TO_HOT


@example("Cable maker's page: 20 A, 10 m, 3 % of 12 V", "drop", "iec", "as-nzs-3001")
def area_without_resistivity(rules: BodyOfRules) -> None:
    """The source prints 111.1 mm², without resistivity: it is 19.2 mm², so 25 mm²."""
    needed = 2 * 10 * 20 * 0.0172414 / (12 * 0.03)
    assert needed == close(19.16, abs=0.01)
    sizes = [size.area_mm2 for size in rules.conductor_sizes() if size.area_mm2 >= needed]
    assert min(sizes) == 25
    assert table_drop(rules, "25 mm²", 20, 10) == close(0.36, rel=0.06)  # hot: just over


@example("Installers' forum: 30 ft, 2 ohm a thousand feet, 10 A: 0.6 V, 1.2 V both ways", "drop",
         "nec-2023")  # fmt: skip
def thirty_feet_of_thin_wire(_: BodyOfRules) -> None:
    per_metre = 2 / 304.8
    assert drop_of_pair(10.0, per_metre, 30 * 0.3048) == close(1.2)
    assert power_loss(10.0, 2 * 30 * 0.002) == close(12.0)


def every() -> Iterator[object]:
    for each in EXAMPLES:
        for name in each.bodies:
            yield pytest.param(each, body(name), id=f"{each.run.__name__}-{name}")


@pytest.mark.parametrize(("each", "rules"), list(every()))
def test_published_sum(each: Example, rules: BodyOfRules) -> None:
    each.run(rules)


def test_every_body_has_every_kind_of_sum_and_there_are_thirty() -> None:
    kinds = {(name, each.kind) for each in EXAMPLES for name in each.bodies}
    assert kinds == {(n, kind) for n in known() for kind in ("wire", "fuse", "string", "drop")}
    assert len(EXAMPLES) >= 30
    assert len({each.source for each in EXAMPLES}) == len(EXAMPLES)


def test_sizes_that_no_table_holds_are_not_made_up() -> None:
    with pytest.raises(NotTabulated):
        IEC.ampacity(ConductorSize(400.0), 70, Surroundings(30))
    assert gauge_area_mm2("500 kcmil") * CIRCULAR_MILS_PER_MM2 == close(500_000, rel=1e-6)
