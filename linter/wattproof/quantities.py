"""Quantities as builders write them ("10 AWG", "16 ft", "-0.29 %/°C") as typed SI values.

A quantity remembers how it was written and where. Inside, all values are SI; temperatures are
degrees Celsius, shares are plain numbers (3 % is 0.03), conductor sizes are areas in m².
Factors: BIPM SI Brochure, 9th edition (SI prefixes, hour); international inch and foot of 1959
(0.0254 m, 0.3048 m); American wire gauge by ASTM B258. Each is checked against a units library in
the tests.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import Final, NamedTuple

from wattproof.physics.conductors import gauge_area_mm2, known_gauges
from wattproof.source import Place, Text, without_comma

UNKNOWN: Final = "unknown"
"""The word for a value that nobody knows: the same as leaving the key out, but said."""


class Mistake(ValueError):
    """A value that a plan cannot hold: what is wrong, what to write instead, and its place."""

    def __init__(self, message: str, instead: str = "", place: Place | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.instead = instead
        self.place = place


_AS_PRINTED: Final = 0.003
"""Share by which an area in three digits is off that of its gauge; no metric size is so near."""


class Quantity(NamedTuple):
    """A value with its unit.

    value: in the SI unit of its dimension (see the module's text).
    dimension: one of DIMENSIONS.
    text: as written in the plan.
    place: where it is written.
    resolution: one unit of the last digit written, in the SI unit (10.2 A: 0.1 A).
    """

    value: float
    dimension: str
    text: str
    place: Place
    resolution: float

    def __str__(self) -> str:
        return self.text


class Dimension(NamedTuple):
    """What a field of the plan expects: units by their factor to SI, the sign and the size allowed.

    least, most: what is plausible, as texts in one of the units; empty where only nonsense is
    refused. Of what is signed and has no least, both directions go as far as the most.
    """

    name: str
    units: dict[str, float]
    example: str
    signed: bool = False
    zero: bool = False
    least: str = ""
    most: str = ""

    @property
    def form(self) -> str:
        """How a value is written, without one that could be taken for the true one: `… V`."""
        sign, unit = _NUMBER_BEFORE.fullmatch(self.example).groups()  # type: ignore[union-attr]
        return f"…{sign}{unit}"


_NUMBER_BEFORE: Final = re.compile(r"[-+]?[0-9.]+( ?)(.+)")


_VOLT = {"V": 1.0, "mV": 1e-3, "kV": 1e3}
_AMPERE = {"A": 1.0, "mA": 1e-3, "kA": 1e3}
_WATT = {"W": 1.0, "kW": 1e3, "mW": 1e-3}
_METRE = {"m": 1.0, "cm": 0.01, "mm": 1e-3, "ft": 0.3048, "in": 0.0254}
_PERCENT = {"%": 0.01}
_DEGREES = {"°C": 1.0, "C": 1.0, "°F": 5 / 9, "F": 5 / 9, "K": 1.0}
_DEGREE = {"°": 1.0, "deg": 1.0}

_SI_UNIT: Final = {
    "voltage": "V",
    "voltage difference": "V",
    "current": "A",
    "power": "W",
    "power shown": "W",
    "energy": "J",
    "charge": "C",
    "resistance": "Ω",
    "length": "m",
    "distance": "m",
    "area": "m²",
    "conductor size": "m²",
    "temperature": "°C",
    "temperature of air": "°C",
    "temperature of a place": "°C",
    "temperature of a battery": "°C",
    "time": "s",
    "time a day": "s",
    "time of full sun": "s",
    "angle": "°",
    "latitude": "°",
    "height above the sea": "m",
    "share": "1",
    "measured voltage": "V",
    "measured current": "A",
    "zero drift": "A",
    "irradiance": "W/m²",
    "temperature coefficient": "1/K",
}

DIMENSIONS: Final = {
    d.name: d
    for d in (
        Dimension("voltage", _VOLT, "24.6 V", least="0.0001 mV", most="1000 kV"),
        Dimension("voltage difference", _VOLT, "1 V", zero=True, most="100 kV"),
        Dimension("current", _AMPERE, "10.2 A", least="1 mA", most="1000 kA"),
        Dimension("power", _WATT, "200 W", least="1 mW", most="100000 kW"),
        Dimension("power shown", _WATT, "310 W", zero=True, most="100000 kW"),
        Dimension("energy", {"Wh": 3600.0, "kWh": 3.6e6}, "1.2 kWh", zero=True),
        Dimension("charge", {"Ah": 3600.0}, "200 Ah", least="0.01 Ah", most="100000 Ah"),
        Dimension(
            "resistance",
            {"Ω": 1.0, "ohm": 1.0, "mΩ": 1e-3, "mohm": 1e-3},
            "3 mΩ",
            least="0.0001 mΩ",
            most="1000 Ω",
        ),
        Dimension("length", _METRE, "2.5 m", least="1 mm", most="10000 m"),
        Dimension("distance", _METRE, "15 cm", zero=True, most="10000 m"),
        Dimension(
            "area",
            {"m²": 1.0, "m2": 1.0, "ft²": 0.3048**2, "ft2": 0.3048**2, "cm²": 1e-4, "cm2": 1e-4},
            "0.6 m²",
            least="5 cm²",
            most="20 m²",
        ),
        Dimension(
            "conductor size",
            {"mm²": 1e-6, "mm2": 1e-6},
            "6 mm²",
            least="0.05 mm²",
            most="2500 mm²",
        ),
        Dimension("temperature", _DEGREES, "90 °C", least="-100 °C", most="300 °C"),
        Dimension("temperature of air", _DEGREES, "-18 °C", least="-70 °C", most="60 °C"),
        Dimension("temperature of a place", _DEGREES, "65 °C", least="-70 °C", most="150 °C"),
        Dimension("temperature of a battery", _DEGREES, "0 °C", least="-60 °C", most="100 °C"),
        Dimension("time", {"h": 3600.0, "min": 60.0, "s": 1.0}, "5 h"),
        Dimension("time a day", {"h": 3600.0, "min": 60.0}, "5 h", zero=True, most="24 h"),
        Dimension("time of full sun", {"h": 3600.0, "min": 60.0}, "3.5 h", zero=True, most="14 h"),
        Dimension("angle", _DEGREE, "30°", zero=True, most="90 °"),
        Dimension("latitude", _DEGREE, "47°", signed=True, most="90 °"),
        Dimension(
            "height above the sea",
            {"m": 1.0, "ft": 0.3048},
            "620 m",
            zero=True,
            most="6000 m",
        ),
        Dimension("share", _PERCENT, "3 %", zero=True),
        Dimension("measured voltage", _VOLT, "68.1 V", signed=True),
        Dimension("measured current", _AMPERE, "9.3 A", signed=True),
        Dimension("zero drift", _AMPERE, "0.3 A", zero=True),
        Dimension(
            "irradiance",
            {"W/m²": 1.0, "W/m2": 1.0, "kW/m²": 1e3, "kW/m2": 1e3, "mW/cm²": 10.0, "mW/cm2": 10.0},
            "850 W/m²",
            zero=True,
        ),
        Dimension(
            "relative coefficient",
            {"%/°C": 0.01, "%/K": 0.01, "%/C": 0.01, "%/°F": 0.018, "%/F": 0.018},
            "-0.36 %/°C",
            signed=True,
            most="5 %/°C",
        ),
        Dimension(
            "voltage coefficient",
            {
                "V/°C": 1.0,
                "V/K": 1.0,
                "V/C": 1.0,
                "V/°F": 1.8,
                "V/F": 1.8,
                "mV/°C": 1e-3,
                "mV/K": 1e-3,
                "mV/C": 1e-3,
                "mV/°F": 1.8e-3,
                "mV/F": 1.8e-3,
            },
            "-71 mV/°C",
            signed=True,
            most="1 V/°C",
        ),
        Dimension(
            "current coefficient",
            {
                "A/°C": 1.0,
                "A/K": 1.0,
                "A/C": 1.0,
                "A/°F": 1.8,
                "A/F": 1.8,
                "mA/°C": 1e-3,
                "mA/K": 1e-3,
                "mA/C": 1e-3,
                "mA/°F": 1.8e-3,
                "mA/F": 1.8e-3,
            },
            "5 mA/°C",
            signed=True,
            most="200 mA/°C",
        ),
        Dimension(
            "power coefficient",
            {"W/°C": 1.0, "W/K": 1.0, "W/C": 1.0},
            "-0.7 W/°C",
            signed=True,
            most="10 W/°C",
        ),
    )
}

_OFFSET: Final = {"°F": -32.0, "F": -32.0}  # added before the factor
_ABSOLUTE_ZERO: Final = -273.15
_LARGEST: Final = 1e9

_DC: Final = r"(~([Dd][Cc]|[Dd]\.[Cc]\.))?"
_CELSIUS: Final = r"(°~C|℃|[Dd]eg\.?~C|([Dd]egrees?~)?(C|[Cc]elsius))"
_RATE: Final = r"(~(@~)?[(]?(C~/?~[0-9]+|[0-9]+~h)[)]?)?"  # Ah @ C20, Ah (C20), Ah @ 20 h
OTHER_SPELLINGS: Final = {
    "V": f"([Vv]|[Vv]olts?|VOLTS?){_DC}",
    "mV": f"m[Vv]{_DC}",
    "kV": f"[Kk][Vv]{_DC}",
    "A": f"([Aa]|[Aa]mps?|AMPS?|[Aa]mperes?){_DC}",
    "mA": f"m[Aa]{_DC}",
    "kA": f"[Kk][Aa]{_DC}",
    "W": f"([Ww]~[Pp]|[Ww]~peak|[Ww]atts?|WATTS?|[Ww]{_DC})",
    "kW": f"([Kk][Ww]~[Pp]|[Kk][Ww]~peak|[Kk][Ww]{_DC})",
    "Wh": "([Ww][Hh]|[Ww]att[ -]?hours?)",
    "kWh": "[Kk][Ww][Hh]",
    "Ah": f"([Aa]~/?~[Hh]([Rr][Ss]?)?|[Aa]mp(ere)?[ -]?hours?){_RATE}",
    "Ω": "([Oo]hms?)",
    "mΩ": "(mOhms?|mohms|[Mm]illiohms?)",
    "m": "(meters?|metres?)",
    "ft": "(ft[.]|FT|Ft|feet|foot)",
    "in": "(in[.]|IN|inch|inches)",
    "%": "(percent|per~cent|pct[.]?)",
    "m²": r"(m\^2|sq[.]?~m)",
    "ft²": r"(ft\^2|sq[.]?~ft)",
    "cm²": r"(cm\^2|sq[.]?~cm)",
    "mm²": r"(mm\^2|sq[.]?~mm|mm~sq[.]?|qmm)",
    "°C": f"({_CELSIUS}|c|°c)",
    "°F": "(°~F|℉|[Dd]eg[.]?~F|([Dd]egrees?~)?(F|[Ff]ahrenheit)|f|°f)",
    "h": "(hrs?|hours?)",
    "min": "minutes?",
    "°": "(deg[.]|degrees?)",
    "W/m²": r"W~/~(m\^2|m²|m2|sq[.]?~m)",
    "kW/m²": r"kW~/~(m\^2|m²|m2|sq[.]?~m)",
    "mW/cm²": r"mW~/~(cm\^2|cm²|cm2|sq[.]?~cm)",
    **{
        f"{unit}/°C": f"{unit}~(/|per)~(K|C|{_CELSIUS})"
        for unit in ("%", "V", "mV", "A", "mA", "W")
    },
}
"""How labels and people spell a unit as well, as expressions that JSON Schema programs read too.

In them `~` stands for any space or none.
"""
_TOLERANT: Final = ("voltage", "current", "power", "power shown", "charge")
TOLERANCE: Final = r"(~[(]?(±|[+]~/~-|[+]-|-?0~%?~/~[+]|[+])~[0-9.]+~(%|W|V|A)[)]?)?"
"""What a label prints behind a rated value: how far it may be off. It is read and left at that."""
_EITHER_WAY: Final = ("share", "zero drift")
EITHER_WAY: Final = "(±|[+]~/~-|[+]-)?"
"""What stands before a share or a drift that holds in both directions."""
_ALTERNATING: Final = re.compile(r"[mk]?[VA] ?(AC|ac|Ac|a\.c\.|~)")

_SPACES = re.compile("[\u0020\u00a0\u2009\u200a\u202f]+")
_NUMBER_AND_UNIT = re.compile(
    r"([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(?: |-(?=[A-Za-z]))?(\D.*)?"
)


def gauges(numbered: str) -> str:
    """How sizes of the American series are written, of the numbers that an expression takes.

    `2/0` and `00` are one size, and nothing else is written so: they need no unit.
    """
    unit = "([Aa][Ww][Gg]|[Gg]auge|[Gg]age|[Gg][Aa][.]?)"
    kcmil = "([Kk][Cc][Mm][Ii][Ll]|[Mm][Cc][Mm])"
    return (
        f"((#|[Nn]o[.]?)?~([1-4]/0|0{{2,4}})|{numbered}(-|~){unit}|[Aa][Ww][Gg]~#?~{numbered}"
        f"|(#|[Nn]o[.]?)~{numbered}|[0-9]{{3}}~{kcmil})(~([Ww]ire|[Cc]able))?"
    )


_FEET: Final = "('|\u2032|\u2019|ft[.]?|feet|foot)"
_INCHES: Final = "(\"|\u2033|\u201d|''|in[.]?|inch|inches)"
_PARTS: Final = "([0-9]+[ -][0-9]+/[1-9][0-9]*|[0-9]+/[1-9][0-9]*|[0-9]+[.]?[0-9]*|[.][0-9]+)"
FEET_AND_INCHES: Final = f"({_PARTS}-?~{_FEET}(~{_PARTS}-?~{_INCHES})?|{_PARTS}-?~{_INCHES})"
"""A length as a tape shows it: 16', 6\", 16' 6\", 5 1/2 ft."""


def read_quantity(text: Text, *dimensions: str) -> Quantity:
    """Read one quantity that may be of any of the dimensions named. Raises Mistake."""
    try:
        return _remembered(text, dimensions)._replace(place=text.place)
    except Mistake as mistake:
        mistake.place = text.place
        raise


@lru_cache(maxsize=2048)
def _remembered(text: Text, dimensions: tuple[str, ...]) -> Quantity:
    """Of a text and those alike, whatever their places: a plan writes few of its values once."""
    return _read(text, tuple(DIMENSIONS[name] for name in dimensions))


def _read(text: Text, expected: tuple[Dimension, ...]) -> Quantity:
    written = _normal(text)
    first = expected[0]
    try:
        return _of_any(text, written, expected)
    except _NoValue:
        if _ALTERNATING.search(written):
            raise
        from wattproof.unreadable import explain  # of what is wrong only

        told = explain(text, written, first.name, lambda part: _readable(part, text, expected))
        if told is None:
            raise
        raise Mistake(*told) from None


def _is_added(number: str, unit: str) -> bool:
    """Whether what stands behind a value is another one and no tolerance: `20 A + 20 A`."""
    more = re.search(r"(?<![-/])[+] ?([0-9]+(?:[.][0-9]+)?) ?[WVA][)]?$", unit)
    return more is not None and "±" not in unit and float(more[1]) >= 0.5 * float(number)


def is_quantity(text: Text, *dimensions: str) -> bool:
    """Whether a text is a value of one of some dimensions; of any where none is named."""
    names = dimensions or DIMENSIONS
    return any(_readable(_normal(text), text, (DIMENSIONS[name],)) for name in names)


class _NoValue(Mistake):
    """A text that is no number with a unit of those expected."""


def _readable(part: str, text: Text, expected: tuple[Dimension, ...]) -> bool:
    try:
        _of_any(Text.at(part, text.place), part, expected)
    except Mistake:
        return False
    return True


def _of_any(text: Text, written: str, expected: tuple[Dimension, ...]) -> Quantity:
    first = expected[0]
    if first.name == "conductor size" and _GAUGE.fullmatch(written):
        return _gauge_size(text, _named_gauge(written))
    if first.units is _METRE and (tape := _ON_A_TAPE.fullmatch(written)):
        return _on_a_tape(text, tape, first)
    if first.name in _EITHER_WAY:
        written = re.sub(f"^{_spaced(EITHER_WAY)} ?", "", written)
    if re.match(r"[+-]?\d+([.']\d{3})*,\d+", written):
        _refuse_comma(written, first)
    match = _NUMBER_AND_UNIT.fullmatch(written)
    if not match:
        if re.match(r"[+-]?\.?(nan|inf)", written, re.IGNORECASE):
            raise Mistake(
                f"`{text}` is not a number that can be measured",
                _to_write(first),
            )
        raise _NoValue(f"`{text}` is not {_a(first)}", _to_write(first))
    number, unit = match.group(1), (match.group(2) or "").strip()
    if not unit:
        raise Mistake(f"`{text}` has no unit", _with_a_unit(number, first))
    for dimension in expected:
        known = unit_of(unit, dimension)
        if known is not None and not _is_added(number, unit):
            return _value(text, number, known, dimension)
    raise _NoValue(*_wrong_unit(text, number, unit, expected))


def _to_write(dimension: Dimension) -> str:
    return f"write a number and its unit, `{dimension.form}`"


def unit_of(written: str, dimension: Dimension) -> str | None:
    """The unit that a spelling stands for, of those of a dimension; None where it is none."""
    if written in dimension.units:
        return written
    more = TOLERANCE if dimension.name in _TOLERANT else ""
    for unit in dimension.units:
        spelt = OTHER_SPELLINGS.get(unit, re.escape(unit))
        if re.fullmatch(_spaced(f"({spelt}|{re.escape(unit)}){more}"), written):
            return unit
    return None


def plainly(quantity: Quantity) -> str:
    """A quantity as it was written, its unit as this program spells it: `40amp` is `40 A`.

    Sizes of the American series and lengths as a tape shows them stay as they are.
    """
    return _plainly(str(quantity.text), quantity.dimension)


@lru_cache(maxsize=2048)
def _plainly(text: str, dimension: str) -> str:
    """Remembered, since each reading and trial of a plan declares its numbers anew."""
    plain = _normal(text)
    match = _NUMBER_AND_UNIT.fullmatch(plain)
    unit = (match.group(2) or "").strip() if match else ""
    if match is None or _ON_A_TAPE.fullmatch(plain):
        return text
    known = unit_of(unit, DIMENSIONS[dimension])
    return text if known is None else f"{match.group(1)} {known}"


def _spaced(pattern: str) -> str:
    """A pattern in which `~` is any space, for a text in which runs of them are one."""
    return pattern.replace("~", " ?")


_GAUGE: Final = re.compile(_spaced(gauges(r"(\d/0|\d{1,4})")))
_ON_A_TAPE: Final = re.compile(
    _spaced(
        f"(?P<feet>{_PARTS})-?~{_FEET}(~(?P<more>{_PARTS})-?~{_INCHES})?"
        f"|(?P<inches>{_PARTS})-?~{_INCHES}"
    )
)


def spelt(dimension: Dimension, space: str) -> list[str]:
    """Patterns of everything that may stand behind the number of a dimension, unit by unit.

    space: the pattern that `~` stands for.
    """
    more = TOLERANCE if dimension.name in _TOLERANT else ""
    found = []
    for unit in dimension.units:
        other = OTHER_SPELLINGS.get(unit)
        each = f"({re.escape(unit)}|{other})" if other else re.escape(unit)
        found.append((each + more).replace("~", space))
    return found


def sign_of(dimension: Dimension, space: str) -> str:
    """The pattern of what may stand before the number of a dimension that is never negative."""
    return EITHER_WAY.replace("~", space) + space if dimension.name in _EITHER_WAY else ""


def _normal(text: str) -> str:
    """One kind of space, one kind of minus, one sign for ohm, micro not needed."""
    written = _SPACES.sub(" ", text).strip()
    return (
        written.replace("\u2212", "-")
        .replace("\u2013", "-")
        .replace("\u2126", "Ω")
        .replace("º", "°")
    )


def _value(text: Text, number: str, unit: str, dimension: Dimension) -> Quantity:
    factor = dimension.units[unit]
    exponent = number.lower().partition("e")[2]
    if len(exponent.lstrip("+-0")) > 2:
        size = "smaller" if exponent.startswith("-") else "larger"
        message = f"`{text}` is {size} than anything in such a plan"
        raise Mistake(message, "check the number and its exponent")
    value = _in_si(number, unit, dimension)
    if dimension.units is _DEGREES:
        if value < _ABSOLUTE_ZERO:
            raise Mistake(f"`{text}` is below absolute zero", "check the number and its unit")
    elif value < 0 and not dimension.signed:
        raise Mistake(
            f"`{text}` is negative", f"write it without the sign, `{number.lstrip('-')} {unit}`"
        )
    elif value == 0 and not (dimension.zero or dimension.signed):
        raise Mistake(
            f"`{text}` is zero", "write the value that is printed or measured, or leave the key out"
        )
    if not abs(value) <= _LARGEST:
        raise Mistake(
            f"`{text}` is larger than anything in such a plan", "check the number and its unit"
        )
    _refuse_beyond(text, value, dimension)
    return Quantity(
        value, dimension.name, str(text).strip(), text.place, _last_digit(number) * factor
    )


def _on_a_tape(text: Text, tape: re.Match[str], dimension: Dimension) -> Quantity:
    """A length in feet and inches: 16', 6\", 16' 6\", 5 1/2 ft."""
    feet, inches = tape.group("feet"), tape.group("more") or tape.group("inches")
    value = _parts(feet) * _METRE["ft"] + _parts(inches) * _METRE["in"]
    if value == 0 and not dimension.zero:
        raise Mistake(f"`{text}` is zero", "write the length that was measured")
    _refuse_beyond(text, value, dimension)
    last, unit = (inches, "in") if inches else (feet, "ft")
    step = 1.0 / float(last.rpartition("/")[2]) if "/" in last else _last_digit(last)
    written = str(text).strip()
    return Quantity(value, dimension.name, written, text.place, step * _METRE[unit])


def _parts(number: str | None) -> float:
    """A whole number, a decimal, or one with a fraction: 5, 5.5, 1/2, 5 1/2."""
    if number is None:
        return 0.0
    whole, _, part = number.replace("-", " ").rpartition(" ")
    above, _, below = part.partition("/")
    return float(whole or 0) + float(above) / float(below or 1)


def _in_si(number: str, unit: str, dimension: Dimension) -> float:
    value = (float(number) + _OFFSET.get(unit, 0.0)) * dimension.units[unit]
    return value + _ABSOLUTE_ZERO if unit == "K" else value


def _bound(text: str, dimension: Dimension) -> float:
    number, unit = text.split(" ")
    return _in_si(number, unit, dimension)


def _refuse_beyond(text: Text, value: float, dimension: Dimension) -> None:
    """Raise Mistake where a value is beyond what is plausible of its dimension."""
    if not dimension.most:
        return
    most = _bound(dimension.most, dimension)
    least = _bound(dimension.least, dimension) if dimension.least else -most
    low = value < least and (value != 0.0 or not dimension.zero)
    if not low and value <= most:
        return
    bound = (dimension.least or f"-{dimension.most}").replace("-", "\u2212")
    beyond = f"less than {bound}" if low else f"more than {dimension.most}"
    range_ = f"{_a(dimension)} lies between {bound} and {dimension.most}"
    if not (dimension.least or dimension.signed):
        range_ = f"it is the most that {_a(dimension)} can be"
    message = f"`{text}` is {beyond}; {range_}"
    raise Mistake(message, "check the number, its sign, its decimal point and its unit")


def _last_digit(number: str) -> float:
    """One unit of the last digit written: 10.2 gives 0.1, 200 gives 1."""
    mantissa, _, exponent = number.lower().partition("e")
    decimals = len(mantissa.partition(".")[2])
    return float(10.0 ** (int(exponent or 0) - decimals))


def _named_gauge(written: str) -> str:
    """A size of the American series as tables name it: "10", "1/0", "250 kcmil"."""
    gauge = re.search(r"\d+(/0)?", written).group()  # type: ignore[union-attr]
    if re.search("[Kk][Cc]|[Mm][Cc]", written):
        return f"{gauge} kcmil"
    return f"{len(gauge)}/0" if not gauge.strip("0") else gauge


def _gauge_size(text: Text, gauge: str) -> Quantity:
    try:
        area = gauge_area_mm2(gauge)
    except ValueError:
        raise Mistake(
            f"`{text}` is not an American wire gauge known here",
            "use 24 to 1 AWG, 1/0 to 4/0 AWG, or 250, 300, 350, 400 or 500 kcmil",
        ) from None
    return Quantity(area * 1e-6, "conductor size", str(text).strip(), text.place, 0.0)


def gauge_of(size: Quantity) -> str | None:
    """The name of a size of the American series ("10", "2/0", "250 kcmil"); None for others.

    A gauge may be written as its area, as labels have it beside the gauge: 10 AWG as 5.26 mm².
    """
    written = _normal(size.text)
    if _GAUGE.fullmatch(written):
        return _named_gauge(written)
    if size.text == UNKNOWN:
        return None
    area = size.value * 1e6
    return next((name for name, own in _areas() if abs(area - own) <= _AS_PRINTED * own), None)


@cache
def _areas() -> tuple[tuple[str, float], ...]:
    """The gauges that cables are sold in, with their areas (mm²)."""
    sold = (g for g in known_gauges() if not g.isdecimal() or g == "1" or int(g) % 2 == 0)
    return tuple((gauge, gauge_area_mm2(gauge)) for gauge in sold)


def _a(dimension: Dimension) -> str:
    return ("an " if dimension.name[0] in "aeiou" else "a ") + dimension.name


def _with_a_unit(number: str, dimension: Dimension) -> str:
    """What to write of a number alone: of degrees and lengths nobody can tell which are meant."""
    unit = _likely_unit(dimension)
    if dimension.units is _DEGREES:
        return f"write `{number} °C` or `{number} °F`"
    if dimension.units is _METRE:
        other = "in" if unit == "cm" else "ft"
        return f"write `{number} {unit}` or `{number} {other}`, or in another unit of length"
    if dimension.name == "share" and 0.0 < abs(float(number)) <= 1.0:
        whole = f"{float(number) * 100:.6g} %"
        return f"write `{whole}` if `1` would be the whole, `{number} %` if it is so printed"
    return f"write `{number} {unit}`" + _or_other(dimension)


def _likely_unit(dimension: Dimension) -> str:
    if dimension.name == "conductor size":
        return "AWG"
    return "cm" if dimension.name == "distance" else next(iter(dimension.units))


def _or_other(dimension: Dimension) -> str:
    if dimension.name == "conductor size":
        return " if it is a gauge, `mm²` after it if it is an area"
    others = [unit for unit in dimension.units if unit != _likely_unit(dimension)]
    return f" (or in {', '.join(others)})" if others else ""


def _refuse_comma(written: str, dimension: Dimension) -> None:
    unit = "" if re.search("[^0-9.,'+-]", written) else f" {_likely_unit(dimension)}"
    message, instead, _ = without_comma(written + unit)
    raise Mistake(message.replace(written + unit, written), instead)


def _wrong_unit(
    text: str, number: str, unit: str, expected: tuple[Dimension, ...]
) -> tuple[str, str]:
    first = expected[0]
    if first.name == "conductor size" and unit == "mm":
        return (
            f"`{text}` is a length; a bare `mm` on some vehicle cable is its outside diameter",
            f"find the copper area and write `{number} mm²` if it is that, or the gauge, `… AWG`",
        )
    if first.name == "conductor size" and re.fullmatch("-0|(aught|ought|naught)s?", unit):
        return f"`{text}` is not spelt as a gauge", f"write `{number}/0`"
    if first.units is _METRE and (odd := re.fullmatch(r"m ?(\d{1,2}) ?cm", unit)):
        metres = float(number) + int(odd[1]) / 100.0
        return f"`{text}` is of two units", f"write `{metres:g} m`"
    pair = re.fullmatch(r"[/|] ?(\d+)", unit)
    banks = {"6", "12", "24", "36", "48"}
    if first.name in ("voltage", "current") and pair and not {number, pair[1]} <= banks:
        meant = f"{number} V" if first.name == "voltage" else f"{pair[1]} A"
        return (
            f"`{text}` is two figures; on a controller the first is mostly volts, the second "
            "amperes",
            f"write `{meant}`, if its label says so",
        )
    if re.match(f"({_ALTERNATING.pattern})( |$)", unit):
        return (
            f"`{text}` is of alternating current, and a plan tells direct current",
            f"look for the figure marked DC, and write it as `{first.form}`",
        )
    if first.name == "latitude" and re.fullmatch("°? ?[NS]", unit):
        south = "-" if unit.endswith("S") else ""
        return f"`{text}` tells its half by a letter", f"write `{south}{number}°`"
    if first.name == "charge" and re.fullmatch("[cm]?ca", unit, re.IGNORECASE):
        return (
            f"`{text}` is what the battery gives to an engine for some seconds, and no charge",
            f"look for its ampere-hours and write `{first.form}`, or `unknown`",
        )
    for dimension in expected:
        for known in dimension.units:
            if known.lower() == unit.lower():
                return f"`{unit}` is not spelt as a unit", f"write `{number} {known}`"
    units = ", ".join(unit for dimension in expected for unit in dimension.units)
    if first.name == "conductor size":
        units = "AWG, kcmil, " + units
    owner = next((d.name for d in DIMENSIONS.values() if unit in d.units), None)
    is_what = _a(DIMENSIONS[owner]) if owner else f"in `{unit}`, a unit unknown here"
    return f"`{text}` is {is_what}, not {_a(first)}", f"use one of {units}: `{first.form}`"


def si_unit(dimension: str) -> str:
    """The SI unit in which a dimension's values are kept."""
    if dimension.endswith("coefficient"):
        base = dimension.split()[0]
        return {"relative": "1/K", "voltage": "V/K", "current": "A/K", "power": "W/K"}[base]
    return _SI_UNIT[dimension]
