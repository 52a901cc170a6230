"""Sun and use of a day, where the plan tells no more of them."""

from __future__ import annotations

from wattproof.study.assumptions.rows import ESTIMATE, Assumed, Silence, Times

_MONTHS = (
    "monthly means of fourteen places over the sun of our clear day on the level (TMY2 and TMY3 of "
    "NREL, IWEC of ASHRAE, CWEC of Environment Canada, SSE of NASA), and of two of them on steep "
    "planes, widened by a few per cent for single years"
)

TILT = Assumed(0.0, "°", "tilt of modules: level", "String.tilt")
TILT_AT_BEST = Assumed(60.0, "°", "tilt of modules that are set up for winter")
SUN_AT_WORST = Assumed(
    {"sunny": 0.72, "mixed": 0.50, "dull": 0.30},
    "%",
    "share of a clear day's sun that a month brings, at least, by the sky",
    "Energy.sky",
    _MONTHS,
)
SUN_AT_BEST = Assumed(
    {"sunny": 1.0, "mixed": 0.90, "dull": 0.72},
    "%",
    "share of a clear day's sun that a month brings, at most, by the sky",
    source=_MONTHS,
)
DULL_WINTERS = Assumed(
    45.0,
    "°",
    "latitude, north or south, from which the sky of winter is assumed to be dull, and any other "
    "mixed",
    source=ESTIMATE,
)
SUN_BEYOND = Assumed(
    {"told": 1.15, "unknown": 1.25},
    "",
    "factor on the sun of very clear air, for snow, cold cells and, where no height above the sea "
    "is told, mountains",
    source=ESTIMATE,
)
BRIGHTEST_DAY = Assumed(
    12.0,
    "h",
    "sun hours of the clearest day on the best plane anywhere on earth, up to 5,000 m",
    "Site.latitude",
    source="largest of the clear-sky model over latitudes, days and tilts: 11.9 h",
)
TWILIGHT = Assumed(
    0.2,
    "h",
    "sun hours a day beyond those of the middle of a month where the sun hardly rises, the less "
    "the nearer a clear day comes to an hour: twilight, bent light, the longer half of the month",
    source="monthly means at 62° and 65° north (CWEC and TMY3) in November to January",
)
HEIGHT = Assumed(0.0, "m", "height of the place above the sea", "Site.height")
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
APPLIANCE_POWER = Assumed(
    {
        "compressor-refrigerator": 45.0,
        "absorption-refrigerator": 120.0,
        "satellite-terminal": 60.0,
        "laptop": 50.0,
        "kettle": 1500.0,
        "coffee-maker": 1000.0,
        "induction-hob": 1500.0,
        "television": 40.0,
        "lights": 10.0,
        "fan": 20.0,
        "water-pump": 60.0,
        "air-heater": 25.0,
    },
    "W",
    "power of what travellers run, while it runs",
)
APPLIANCE_HOURS = Assumed(
    {
        "compressor-refrigerator": 8.0,
        "absorption-refrigerator": 18.0,
        "satellite-terminal": 8.0,
        "laptop": 4.0,
        "kettle": 0.15,
        "coffee-maker": 0.12,
        "induction-hob": 0.5,
        "television": 3.0,
        "lights": 5.0,
        "fan": 6.0,
        "water-pump": 0.25,
        "air-heater": 10.0,
    },
    "h",
    "hours a day at that power; of a compressor refrigerator at 25 °C around it, of an air heater "
    "in winter",
    "Use.appliances",
)
APPLIANCE_AT_BEST = Times(
    {
        "compressor-refrigerator": 0.7,
        "absorption-refrigerator": 0.6,
        "satellite-terminal": 0.4,
        "laptop": 0.5,
        "kettle": 0.5,
        "coffee-maker": 0.5,
        "induction-hob": 0.5,
        "television": 0.5,
        "lights": 0.5,
        "fan": 0.3,
        "water-pump": 0.5,
        "air-heater": 0.5,
    }
)
APPLIANCE_AT_WORST = Times(
    {
        "compressor-refrigerator": 1.5,
        "absorption-refrigerator": 1.33,
        "satellite-terminal": 3.0,
        "laptop": 2.0,
        "kettle": 3.0,
        "coffee-maker": 2.5,
        "induction-hob": 2.5,
        "television": 2.0,
        "lights": 2.0,
        "fan": 3.0,
        "water-pump": 3.0,
        "air-heater": 2.0,
    }
)
BY_HEAT = ("kettle", "coffee-maker", "induction-hob")
"""What takes the same energy whatever its power: half of the power takes twice the time."""
REFRIGERATOR_DUTY = {10.0: 0.15, 20.0: 0.25, 25.0: 1.0 / 3.0, 32.0: 0.50, 38.0: 0.75, 43.0: 1.0}
"""Share of the time that a compressor refrigerator runs, by the air around it (°C); practice."""
LIVED_IN = Assumed(18.0, "°C", "air around a refrigerator, at least, where people live")
HEATED_IN = Assumed(
    {"winter": 1.0, "spring": 0.4, "summer": 0.0, "autumn": 0.4},
    "%",
    "hours of an air heater in a season, of those in winter",
)
SWITCHED_ON = Assumed(24.0, "h", "hours a day that an inverter is on", "Use.switched_on")
STANDBY_CURRENT = Assumed(
    0.03,
    "A",
    "current of what is never switched off: a controller and the management of a battery together",
    "Energy.standby",
)


def _of_sky(sky: str) -> Assumed[dict[str, float]]:
    """The share of one sky, whichever was taken."""
    share = SUN_AT_WORST.value[sky]
    return SUN_AT_WORST._replace(value=dict.fromkeys(SUN_AT_WORST.value, share))


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
    usual=SUN_AT_WORST,
    kind=_of_sky("sunny"),
    harsh=_of_sky("dull"),
    says="The sun hours of `{subject}` are reckoned from the latitude under a {kind} sky, of which "
    "a dull month brings {percent:.0f} % of its clear days' sun.",
    instead="sun_hours, from a table of the place, or sky",
    symbol="kdull",
    words="share of a clear day's sun in a dull month",
    unit="%",
)
NO_HEIGHT = Silence(
    key="height above the sea",
    usual=HEIGHT,
    says="The place is assumed to lie at the sea: the sun of a clear day grows by some 5 % for "
    "each 1000 m.",
    instead="site: height",
    symbol="z",
    words="height above the sea",
    unit="m",
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
NO_MEASURED_USE = Silence(
    key="use of appliances",
    usual=APPLIANCE_HOURS._replace(
        value={kind: hours * 3600.0 for kind, hours in APPLIANCE_HOURS.value.items()}, unit="s"
    ),
    kind=APPLIANCE_AT_BEST,
    harsh=APPLIANCE_AT_WORST,
    says="`{subject}` is assumed to run {hours:.2g} h a day, as is usual of what is called "
    "`{kind}`.",
    instead="hours or energy, as measured over a day",
    symbol="t({subject})",
    words="hours a day of {subject}",
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
