"""Sun and use of a day, where the plan tells no more of them."""

from __future__ import annotations

from wattproof.study.assumptions.rows import ESTIMATE, Assumed, Silence, Times

_TYPICAL_YEARS = (
    "months of two typical years lay at 43 to 82 % on the level and at 35 to 83 % on steep planes "
    "(NREL, TMY3)"
)

TILT = Assumed(0.0, "°", "tilt of modules: level", "String.tilt")
TILT_AT_BEST = Assumed(60.0, "°", "tilt of modules that are set up for winter")
SUN_AT_WORST = Assumed(
    0.30,
    "%",
    "share of a clear day's sun at the latitude, at least",
    "Energy.sun_hours",
    _TYPICAL_YEARS,
)
SUN_AT_BEST = Assumed(
    0.85, "%", "share of a clear day's sun at the latitude, at most", source=_TYPICAL_YEARS
)
SUN_BEYOND = Assumed(
    1.25,
    "",
    "factor on the sun of very clear air at sea level, for mountains, snow and cold cells",
    source=ESTIMATE,
)
AIR_IN_SEASON = Assumed(
    {"winter": 0.25, "spring": 0.5, "summer": 0.75, "autumn": 0.5},
    "%",
    "air while the sun shines, on the way from the coldest to the hottest; in periods of other "
    "names as in summer",
    source=ESTIMATE,
)
WARMING_OVER_THE_DAY = Assumed(
    0.7, "%", "rise of cells over the day's sun, of that at noon", source=ESTIMATE
)
ARRAY_YIELD_AT_WORST = Assumed(
    0.80, "%", "left after wires, dirt, low light and unlike modules, at least"
)
ARRAY_YIELD_AT_BEST = Assumed(
    0.95, "%", "left after wires, dirt, low light and unlike modules, at most"
)
CONVERSION_AT_WORST = Assumed(
    {"mppt": 0.93, "vehicle-charger": 0.88, "pwm": 1.0},
    "%",
    "passed on by a controller, at least",
)
CONVERSION_AT_BEST = Assumed(
    {"mppt": 0.98, "vehicle-charger": 0.95, "pwm": 1.0}, "%", "passed on by a controller, at most"
)
STORED_AT_WORST = Assumed(
    {"lithium-iron-phosphate": 0.92, "flooded": 0.75, "agm": 0.80, "gel": 0.80},
    "%",
    "given back by a battery, at least; lead gasses at the end of each day",
)
STORED_AT_BEST = Assumed(
    {"lithium-iron-phosphate": 0.98, "flooded": 0.90, "agm": 0.95, "gel": 0.95},
    "%",
    "given back by a battery, at most",
)
SWITCHED_ON = Assumed(24.0, "h", "hours a day that an inverter is on", "Use.switched_on")
STANDBY_CURRENT = Assumed(
    0.03,
    "A",
    "current of what is never switched off: a controller and the management of a battery together",
    "Energy.standby",
)

NO_TILT = Silence(
    key="tilt",
    usual=TILT,
    kind=TILT_AT_BEST,
    says="The modules of `{subject}` are assumed to lie level.",
    instead="tilt, and facing",
    symbol="tilt({subject})",
    words="tilt of {subject}",
    unit="°",
)
NO_SUN_HOURS = Silence(
    key="sun hours",
    says="The sun hours of `{subject}` are reckoned from the latitude: "
    f"{SUN_AT_WORST.value * 100:g} % to {SUN_AT_BEST.value * 100:g} % of its clear days'.",
    instead="sun_hours, from a table of the place",
    symbol="kweather",
    words="share of a clear day's sun in {weather} weather",
    unit="%",
)
NO_LATITUDE = Silence(
    key="sun hours",
    says="What the sun brings in a day is not reckoned, since the plan gives neither sun hours "
    "nor a latitude.",
    instead="energy: sun_hours, or site: latitude",
)
NO_SWITCHED_ON = Silence(
    key="hours switched on",
    kind=Times(0.1),
    says="`{subject}` is assumed to be switched on {hours:g} h a day.",
    instead="switched_on",
    symbol="ton({subject})",
    words="hours a day that {subject} is on",
    unit="s",
)
NO_STANDBY = Silence(
    key="standby",
    usual=STANDBY_CURRENT,
    says="What is never switched off at `{subject}` is assumed to draw {milli:g} mA.",
    instead="energy: standby",
    symbol="Istandby",
    words="current of what is never switched off",
    unit="A",
)
NO_USE = Silence(
    key="daily use",
    says="`{subject}` is assumed to need nothing, since no use is declared of it.",
    instead="energy: uses: {subject}",
)
NO_FEED = Silence(
    key="daily use",
    says="The use of `{subject}` is counted nowhere, since no battery feeds it.",
    instead="wires that lead from a battery to it",
)
