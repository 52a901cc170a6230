"""Quantities: what is accepted, what is refused and with which words."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.quantities import DIMENSIONS, Mistake, gauge_of, plainly, read_quantity
from wattproof.source import Place, Text

HERE = Place("plan.yaml", 3, 7, 3, 12)


def read(text: str, *dimensions: str):  # type: ignore[no-untyped-def]
    return read_quantity(Text.at(text, HERE), *dimensions)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("24.6 V", "voltage", 24.6),
        ("24.6V", "voltage", 24.6),
        ("24.6\u202fV", "voltage", 24.6),
        ("700 mV", "voltage", 0.7),
        ("0 V", "voltage difference", 0.0),
        ("8 kA", "current", 8000.0),
        ("200 Ah", "charge", 720_000.0),
        ("1.2 kWh", "energy", 4.32e6),
        ("3 mΩ", "resistance", 0.003),
        ("3 \u2126", "resistance", 3.0),
        ("0.5 ohm", "resistance", 0.5),
        ("16 ft", "length", 4.8768),
        ("7 in", "length", 0.1778),
        ("15 cm", "length", 0.15),
        ("6 mm²", "conductor size", 6e-6),
        ("6 mm2", "conductor size", 6e-6),
        ("-18 °C", "temperature", -18.0),
        ("\u221218 °C", "temperature", -18.0),
        ("0 °F", "temperature", -160 / 9),
        ("104 F", "temperature", 40.0),
        ("293.15 K", "temperature", 20.0),
        ("-0.29 %/°C", "relative coefficient", -0.0029),
        ("-0.16 %/°F", "relative coefficient", -0.00288),
        ("-40 mV/°F", "voltage coefficient", -0.072),
        ("-0.29 %/K", "relative coefficient", -0.0029),
        ("-71 mV/°C", "voltage coefficient", -0.071),
        ("5 mA/°C", "current coefficient", 0.005),
        ("3 %", "share", 0.03),
        ("5 h", "time", 18_000.0),
        ("1e3 W", "power", 1000.0),
        (".5 A", "current", 0.5),
        ("+5 °C", "temperature", 5.0),
    ],
)
def test_what_labels_and_people_write(text: str, dimension: str, value: float) -> None:
    quantity = read(text, dimension)
    assert quantity.value == pytest.approx(value, rel=1e-12)
    assert quantity.text == text
    assert quantity.place == HERE


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("24 VDC", "voltage", 24.0),
        ("24 V DC", "voltage", 24.0),
        ("24 Vdc", "voltage", 24.0),
        ("24 V d.c.", "voltage", 24.0),
        ("1000VDC", "voltage", 1000.0),
        ("30 A DC", "current", 30.0),
        ("20 kA DC", "current", 20_000.0),
        ("30 amps", "current", 30.0),
        ("200 Wp", "power", 200.0),
        ("0.2 kWp", "power", 200.0),
        ("200 W ±3 %", "power", 200.0),
        ("200 Wp (+/-3%)", "power", 200.0),
        ("200 W (0/+5 W)", "power", 200.0),
        ("-18 ℃", "temperature", -18.0),
        ("-18 deg C", "temperature", -18.0),
        ("-10 Celsius", "temperature", -10.0),
        ("14 degrees Fahrenheit", "temperature", -10.0),
        ("6 qmm", "conductor size", 6e-6),
        ("-18 degC", "temperature", -18.0),
        ("0 deg F", "temperature", -17.777777777777779),
        ("32 ℉", "temperature", 0.0),
        ("6 mm^2", "conductor size", 6e-6),
        ("6 sqmm", "conductor size", 6e-6),
        ("6 sq. mm", "conductor size", 6e-6),
        ("0.6 m^2", "area", 0.6),
        ("-0.29 %/℃", "relative coefficient", -0.0029),
        ("-0.29 %/deg C", "relative coefficient", -0.0029),
        ("-0.29 % / K", "relative coefficient", -0.0029),
        ("-71 mV/degC", "voltage coefficient", -0.071),
        ("100 Ah @ C20", "charge", 360_000.0),
        ("100 Ah (C20)", "charge", 360_000.0),
        ("100 Ah @ 20 h", "charge", 360_000.0),
        ("100Ah C/20", "charge", 360_000.0),
        ("+/-3 %", "share", 0.03),
        ("± 0.5 %", "share", 0.005),
        ("16 feet", "length", 4.8768),
        ("6 inches", "length", 0.1524),
        ("3 ohms", "resistance", 3.0),
        ("3 milliohm", "resistance", 0.003),
        ("850 W/m^2", "irradiance", 850.0),
        ("12v", "voltage", 12.0),
        ("12-volt", "voltage", 12.0),
        ("24v DC", "voltage", 24.0),
        ("30a", "current", 30.0),
        ("30-amp", "current", 30.0),
        ("100w", "power", 100.0),
        ("2kw", "power", 2000.0),
        ("100 watt", "power", 100.0),
        ("100ah", "charge", 360_000.0),
        ("105 amp-hours", "charge", 378_000.0),
        ("1.2kwh", "energy", 4.32e6),
        ("90c", "temperature", 90.0),
        ("3 percent", "share", 0.03),
        ("16'", "length", 4.8768),
        ("10\u2032", "length", 3.048),
        ('6"', "length", 0.1524),
        ("16' 6\"", "length", 5.0292),
        ("6'6\"", "length", 1.9812),
        ("5 1/2 ft", "length", 1.6764),
        ("1/2 in", "length", 0.0127),
        ('7 1/2"', "distance", 0.1905),
        ("3 ft 6 in", "length", 1.0668),
        ("16-foot", "length", 4.8768),
        ("0'", "distance", 0.0),
        ("90.5 mW/cm²", "irradiance", 905.0),
        ("90.5 mW / sq. cm", "irradiance", 905.0),
        ("0.905 kW/m2", "irradiance", 905.0),
    ],
)
def test_units_as_labels_print_them(text: str, dimension: str, value: float) -> None:
    assert read(text, dimension).value == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "resolution"),
    [("16'", 0.3048), ('6.5 "', 0.00254), ("1/2 in", 0.0127), ("6' 3\"", 0.0254)],
)
def test_a_tape_is_read_to_its_last_mark(text: str, resolution: float) -> None:
    assert read(text, "length").resolution == pytest.approx(resolution)


@pytest.mark.parametrize(
    ("dimension", "written"),
    [
        *(("conductor size", t) for t in ("2/0", "00", "#10", "No. 10", "10 gauge", "10ga wire")),
        *(("length", t) for t in ("16'", '6"', "16' 6\"", "5 1/2 ft", "1/2 in", "16-foot")),
        *(("voltage", t) for t in ("12v", "12-volt", "24v DC")),
        *(("current", "30a"), ("charge", "100 amp-hours"), ("share", "3 percent")),
    ],
)
def test_editors_take_what_people_write_too(dimension: str, written: str) -> None:
    from wattproof.plan.fields import quantity

    assert re.match(quantity(dimension).schema()["pattern"], written)


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_the_pattern_for_editors_takes_every_spelling_that_is_read(dimension: str) -> None:
    """Both are made of one list, and neither knows a unit that the other does not."""
    from wattproof.plan.fields import quantity

    pattern = quantity(dimension).schema()["pattern"]
    for unit in DIMENSIONS[dimension].units:
        sample = "0.02" if "coefficient" in dimension else "300" if unit == "K" else "10"
        for written in (f"{sample} {unit}", f"{sample}{unit}"):
            assert re.match(pattern, written), written
            assert read(written, dimension).dimension == dimension


@pytest.mark.parametrize(
    ("text", "dimension", "words"),
    [
        ("250 °C", "temperature of air", "between −70 °C and 60 °C"),
        ("-180 °C", "temperature of air", "between −70 °C and 60 °C"),
        ("200 °C", "temperature of a place", "between −70 °C and 150 °C"),
        ("900 °C", "temperature", "between −100 °C and 300 °C"),
        ("-36 %/°C", "relative coefficient", "between −5 %/°C and 5 %/°C"),
        ("71 V/°C", "voltage coefficient", "between −1 V/°C and 1 V/°C"),
        ("5 A/°C", "current coefficient", "between −200 mA/°C and 200 mA/°C"),
        ("70 W/°C", "power coefficient", "between −10 W/°C and 10 W/°C"),
        ("1e-9 mm²", "conductor size", "between 0.05 mm² and 2500 mm²"),
        ("25000 mm²", "conductor size", "between 0.05 mm² and 2500 mm²"),
        ("0.1 mm", "length", "between 1 mm and 10000 m"),
        ("0.00001 Ah", "charge", "between 0.01 Ah and 100000 Ah"),
        ("0e999 V", "voltage", "larger than anything"),
        ("1e-999 V", "voltage", "smaller than anything"),
        ("1e999999999999 V", "voltage", "larger than anything"),
        ("900 m²", "area", "between 5 cm² and 20 m²"),
    ],
)
def test_what_is_beyond_the_plausible(text: str, dimension: str, words: str) -> None:
    """A lost sign, point or unit would turn off a check without a word."""
    with pytest.raises(Mistake) as caught:
        read(text, dimension)
    assert words in caught.value.message
    assert caught.value.instead.startswith("check the number")


def test_alternating_current_is_told_apart() -> None:
    for text in ("250 VAC", "250 V AC", "250 V a.c."):
        with pytest.raises(Mistake, match="alternating current") as caught:
            read(text, "voltage")
        assert "marked DC" in caught.value.instead


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_no_figure_is_shown_where_none_was_written(dimension: str) -> None:
    """What a builder copies must not pass for what a label says."""
    for text in ("", "about right", "nan V", "x 3"):
        with pytest.raises(Mistake) as caught:
            read(text, dimension)
        assert not re.search("[0-9]", re.sub("[a-z]+[²2]", "", caught.value.instead))


@pytest.mark.parametrize(
    ("text", "gauge", "area"),
    [
        ("10 AWG", "10", 5.261),
        ("10AWG", "10", 5.261),
        ("AWG 10", "10", 5.261),
        ("2/0 AWG", "2/0", 67.43),
        ("0 AWG", "1/0", 53.49),
        ("1/0 awg", "1/0", 53.49),
        ("4/0 AWG", "4/0", 107.2),
        ("18 AWG", "18", 0.823),
        ("250 kcmil", "250 kcmil", 126.7),
        ("500 MCM", "500 kcmil", 253.4),
        ("2/0", "2/0", 67.43),
        ("00", "2/0", 67.43),
        ("0000 AWG", "4/0", 107.2),
        ("#2/0", "2/0", 67.43),
        ("#10", "10", 5.261),
        ("No. 10", "10", 5.261),
        ("AWG #8", "8", 8.366),
        ("10 gauge", "10", 5.261),
        ("10-gauge", "10", 5.261),
        ("10 ga.", "10", 5.261),
        ("10ga wire", "10", 5.261),
        ("0 gauge", "1/0", 53.49),
    ],
)
def test_gauges(text: str, gauge: str, area: float) -> None:
    """Areas as NEC Chapter 9 Table 8 prints them (four digits)."""
    size = read(text, "conductor size")
    assert gauge_of(size) == gauge
    assert size.value * 1e6 == pytest.approx(area, rel=6e-4)


def test_a_size_in_square_millimetres_has_no_gauge() -> None:
    assert gauge_of(read("6 mm²", "conductor size")) is None


@pytest.mark.parametrize(
    ("text", "resolution"), [("10.2 A", 0.1), ("200 A", 1.0), ("5.210 A", 0.001), ("80 mA", 0.001)]
)
def test_the_last_digit_written_is_remembered(text: str, resolution: float) -> None:
    assert read(text, "current").resolution == pytest.approx(resolution)


@pytest.mark.parametrize(
    ("text", "dimension", "message", "instead"),
    [
        ("24.6", "voltage", "has no unit", "24.6 V"),
        ("10", "conductor size", "has no unit", "10 AWG"),
        ("24,6 V", "voltage", "decimal comma", "24.6 V"),
        ("1,000 W", "power", "decimal comma", "1000 W"),
        ("24.6 A", "voltage", "is a current, not a voltage", "`… V`"),
        ("24.6 MV", "voltage", "not spelt", "24.6 mV"),
        ("4 mm", "conductor size", "outside diameter", "4 mm²"),
        ("60 AWG", "conductor size", "not an American wire gauge", "24 to 1"),
        ("260 kcmil", "conductor size", "not an American wire gauge", "250, 300"),
        ("-3 m", "length", "negative", "3 m"),
        ("0 m", "length", "zero", "leave the key out"),
        ("0 V", "voltage", "zero", "leave the key out"),
        ("nan V", "voltage", "not a number", "`… V`"),
        ("inf", "voltage", "not a number", "`… V`"),
        ("1e300 V", "voltage", "larger than anything", "check"),
        ("-300 °C", "temperature", "absolute zero", "check"),
        ("about 3 V", "voltage", "no certain value", "`3 V`"),
        ("~18 V", "voltage", "no certain value", "`18 V`"),
        ("12-14 V", "voltage", "two values", "`12 V` or `14 V`"),
        ("12/24V", "voltage", "two values", "`12 V` or `24V`"),
        ("12 V or 24 V", "voltage", "two values", "`12 V` or `24 V`"),
        ("10\u201316 mm²", "conductor size", "two values", "`10 mm²` or `16 mm²`"),
        ("2 to 3 m", "length", "two values", "`2 m` or `3 m`"),
        ("2x 100Ah", "charge", "a count and a value", "arrangement"),
        ("2 x 6 mm²", "conductor size", "a count and a value", "`6 mm²`"),
        ("10/2", "conductor size", "how many conductors", "`10 AWG`"),
        ("12-3 AWG", "conductor size", "how many conductors", "`12 AWG`"),
        ("4/0 welding cable", "conductor size", "says more", "`4/0`"),
        ("30 A fuse", "current", "says more", "`30 A`"),
        ("12.8V nominal", "voltage", "says more", "`12.8V`"),
        ("30 A at 12 V", "current", "says more", "`30 A`"),
        ("250 V AC 50 Hz", "voltage", "alternating", "marked DC"),
        ("3000 VA", "power", "apparent power", "`… W`"),
        ("75 degrees", "temperature", "no scale", "`75 °C` or `75 °F`"),
        ("-0.29%", "relative coefficient", "how many degrees", "`-0.29%/°C`"),
        ("1.2 kWh", "charge", "is an energy", "ampere-hours from the label"),
        ("", "voltage", "is not a voltage", "`… V`"),
        ("3 furlong", "length", "unknown here", "`… m`"),
        ("a few feet", "length", "is not a length", "`… m`"),
        ("0'", "length", "zero", "measured"),
        ("40000'", "length", "more than 10000 m", "check"),
    ],
)
def test_what_is_refused(text: str, dimension: str, message: str, instead: str) -> None:
    with pytest.raises(Mistake) as caught:
        read(text, dimension)
    assert message in caught.value.message
    assert instead in caught.value.instead
    assert caught.value.place == HERE


def test_a_coefficient_takes_the_dimension_that_its_unit_says() -> None:
    dimensions = ("relative coefficient", "voltage coefficient")
    assert read("-0.29 %/°C", *dimensions).dimension == "relative coefficient"
    assert read("-71 mV/°C", *dimensions).dimension == "voltage coefficient"
    with pytest.raises(Mistake, match="current coefficient"):
        read("5 mA/°C", *dimensions)


@given(st.text(max_size=20), st.sampled_from(sorted(DIMENSIONS)))
def test_any_text_gives_a_quantity_or_a_mistake(text: str, dimension: str) -> None:
    try:
        quantity = read(text, dimension)
    except Mistake as mistake:
        assert mistake.message
        assert mistake.instead
    else:
        assert abs(quantity.value) <= 1e9


@given(st.floats(0.001, 1e6), st.sampled_from(["V", "mV"]))
def test_a_value_is_what_its_text_says(number: float, unit: str) -> None:
    text = f"{number:.6f} {unit}"
    factor = {"V": 1.0, "mV": 1e-3}[unit]
    assert read(text, "voltage").value == pytest.approx(float(text.split()[0]) * factor)


@pytest.mark.parametrize(
    ("written", "gauge"),
    [
        ("5.26 mm²", "10"),
        ("5.2612 mm²", "10"),
        ("8.37 mm²", "8"),
        ("21.2 mm²", "4"),
        ("53.5 mm²", "1/0"),
        ("107 mm²", "4/0"),
        ("127 mm²", "250 kcmil"),
        ("6 mm²", None),
        ("35 mm²", None),
        ("150 mm²", None),
        ("5.3 mm²", None),
    ],
)
def test_a_gauge_written_as_its_area_is_that_gauge(written: str, gauge: str | None) -> None:
    """Areas in three digits as ASTM B258 gives them; metric sizes of IEC 60228 are none."""
    assert gauge_of(read(written, "conductor size")) == gauge


@pytest.mark.parametrize(
    ("written", "dimension", "said"),
    [
        ("40 amp", "current", "40 A"),
        ("6A", "current", "6 A"),
        ("245 watt", "power", "245 W"),
        ("110 amp hour", "charge", "110 Ah"),
        ("14.5 volts", "voltage", "14.5 V"),
        ("16'", "length", "16'"),
        ("6-gauge", "conductor size", "6-gauge"),
        ("-18 °C", "temperature", "-18 °C"),
    ],
)
def test_a_unit_is_shown_as_the_trade_writes_it(written: str, dimension: str, said: str) -> None:
    assert plainly(read(written, dimension)) == said
