"""Sun, cells and meter of a reading, where it tells no more of them."""

from __future__ import annotations

from wattproof.study.assumptions import energy
from wattproof.study.assumptions.rows import Assumed, Silence

_LABELS = "common practice; EN 50380 asks makers to print a tolerance, and sets none"

METER_VOLTAGE = Assumed(0.005, "%", "error of the voltage shown", "Meter.voltage")
POOR_METER = Assumed(
    0.02, "%", "error of the voltage shown by the worst meter that is worth reading"
)
REGULATED = Assumed(
    0.01, "%", "what a controller's voltage may lie over its setting", source="common practice"
)
METER_CURRENT = Assumed(0.02, "%", "error of the current shown by a clamp", "Meter.current")
METER_ZERO = Assumed(0.3, "A", "what a clamp shows with no current in it", "Meter.zero")
METER_POWER = Assumed(
    0.03, "%", "error of the power that a controller's display shows", "Meter.power"
)
METER_IRRADIANCE = Assumed(
    0.05, "%", "error of the irradiance shown by a small meter", "Meter.irradiance"
)
SUN = Assumed(
    {"least": 700.0, "likely": 850.0, "most": 1000.0},
    "W/m²",
    "sun during a reading, where not even a short-circuit current tells it",
    "Reading.irradiance",
)
HAZIEST_CLEAR_AIR = Assumed(
    5.0, "", "Linke turbidity of haze that still looks clear", source="common practice"
)
CLEAR_SKY_MODEL = Assumed(
    0.05,
    "%",
    "what the model of a clear sky may be off",
    source="Reno, Hansen, Stein, SAND2012-2389 (2012), from memory",
)
CLOCK_AHEAD = Assumed(
    {"least": -0.5, "most": 2.0},
    "h",
    "what a clock is ahead of the sun, by time zones and summer time",
    "Reading.time",
)
TRACKER_EFFICIENCY = Assumed(
    {"least": 0.93, "likely": 0.96, "most": 0.99}, "%", "efficiency of a charge controller"
)
DIMMEST_SUN = Assumed(200.0, "W/m²", "sun below which a reading is not compared")
REPEATED = Assumed(
    0.5,
    "%",
    "part of a meter's error, of irradiance too, that changes from one reading to the next with "
    "the same meters; the rest stays",
)
HEAT_OF_DAYS = Assumed(
    0.05,
    "%",
    "what one clear day's heat and wind change of its yield against another's",
)
SURELY = Assumed(
    1.73,
    "",
    "how many times what readings may differ a fall has to be: three standard deviations of errors "
    "that lie anywhere up to their limits, added as independent ones (ISO/IEC Guide 98-3)",
)
NOTHING_SMALLER = Silence(
    key="what a reading shows",
    says="`{subject}` would not show a loss below {losses}.",
    instead="what a meter is good for, irradiance and back_temperature; or readings of the same "
    "place at other times",
)
THERMOMETER = Assumed(
    3.0, "K", "what one spot on a back differs from the cells of the whole string"
)
ROOF_OVER_AIR = Assumed(
    10.0,
    "K",
    "roof or ground under modules over the air, at most, added to what mounting and calm air make "
    "of cells",
    "Reading.back_temperature",
)
VOC_OF_LABEL = Assumed(
    0.03, "%", "what open-circuit voltage differs from its label", source=_LABELS
)
ISC_OF_LABEL = Assumed(
    {"rigid": 0.05, "flexible": 0.10, "folding": 0.10},
    "%",
    "what short-circuit current differs from its label",
    source=_LABELS,
)


def _shown_by_meter(
    which: str, symbol: str, usual: Assumed[float], kind: Assumed[float] | None = None
) -> Silence:
    return Silence(
        kind=kind,
        key=f"meter, {which}",
        usual=usual,
        says=f"The {which} that the meter shows in `{{subject}}` is assumed to be off by "
        "{percent:g} % at most.",
        instead=f"meter: {which}",
        symbol=symbol,
        words=f"{which} of the meter",
        unit="%",
    )


NO_METER = {
    "voltage": _shown_by_meter("voltage", "tolU", METER_VOLTAGE, POOR_METER),
    "current": _shown_by_meter("current", "tolI", METER_CURRENT),
    "power": _shown_by_meter("power", "tolP", METER_POWER),
    "irradiance": _shown_by_meter("irradiance", "tolG", METER_IRRADIANCE),
    "zero": Silence(
        key="meter, zero",
        usual=METER_ZERO,
        says="The clamp of `{subject}` is assumed to show up to {number:g} A with no current in "
        "it.",
        instead="meter: zero",
        symbol="I0",
        words="zero of the meter",
        unit="A",
    ),
}
"""By key of the plan's meter."""

NO_IRRADIANCE = Silence(
    key="irradiance of a reading",
    usual=SUN,
    says="`{subject}` does not tell the sun; it is assumed to be between "
    f"{SUN.value['least']:g} and {SUN.value['most']:g} W/m².",
    instead="irradiance, in the plane of the modules",
    symbol="G",
    words="irradiance at {subject}",
    unit="W/m²",
)
NO_BACK_TEMPERATURE = Silence(
    key="cells over air",
    says="The cells of `{subject}` are assumed to be between as cool as the air and as hot as its "
    "mounting makes them without wind, over a hot roof where they lie on one.",
    instead="back_temperature, measured behind a cell",
    symbol="{symbol}",
    words="cells over air at {subject}",
    unit="K",
)
LYING_LEVEL = Silence(
    key="tilt under a clear sky",
    usual=energy.TILT,
    says="The modules of `{subject}` are assumed to lie level.",
    instead="tilt, and facing",
    symbol="tilt({subject})",
    words="tilt of {subject}",
    unit="°",
)
LYING_ANYHOW = Silence(
    key="tilt under a clear sky",
    says="The modules of `{subject}` may lie level or be raised to any side.",
    instead="tilt, and facing",
)
NO_TEMPERATURE = Silence(
    key="cells of a reading",
    says="`{subject}` tells no temperature; its cells are assumed to be anything between the "
    "coldest "
    "air and the hottest noon of the site.",
    instead="back_temperature, or air_temperature",
    symbol="Tcell",
    words="cells at {subject}",
    unit="°C",
)
