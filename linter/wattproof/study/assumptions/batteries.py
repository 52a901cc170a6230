"""Batteries, where a label is silent: by chemistry."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence, Times
from wattproof.working import LookUp

LEAD = ("flooded", "agm", "gel")

CHARGE_VOLTAGE_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 14.6, "flooded": 14.8, "agm": 14.7, "gel": 14.4},
    "V",
    "highest charge voltage, for each 12 V",
    "Battery.max_charge_voltage",
)
CHARGE_VOLTAGE_AT_BEST = Times(
    {
        "lithium-iron-phosphate": 14.8 / 14.6,
        "flooded": 16.2 / 14.8,
        "agm": 15.0 / 14.7,
        "gel": 14.8 / 14.4,
    }
)
CHARGE_VOLTAGE_AT_WORST = Times(
    {
        "lithium-iron-phosphate": 14.2 / 14.6,
        "flooded": 14.4 / 14.8,
        "agm": 14.4 / 14.7,
        "gel": 14.1 / 14.4,
    }
)
CHARGE_SETTING_AT_BEST = Times(0.965)
CHARGE_SETTING_AT_WORST = Times(1.02)
LOWEST_CHARGE_TEMPERATURE = Assumed(
    0.0,
    "°C",
    "lowest temperature at which lithium is charged",
    "Battery.min_charge_temperature",
)
HIGHEST_TEMPERATURE = Assumed(
    45.0,
    "°C",
    "highest temperature of the air around lithium that is charged (labels say 45 to 60)",
    "Battery.max_temperature",
)
HIGHEST_TEMPERATURE_OF_LEAD = Assumed(
    50.0, "°C", "highest temperature of lead batteries (makers say 45 to 60)"
)
HIGHEST_TEMPERATURE_OF_LEAD_AT_BEST = Assumed(
    60.0, "°C", "highest temperature that makers of lead batteries give"
)
HIGHEST_TEMPERATURE_AT_BEST = Assumed(60.0, "°C", "highest temperature that labels of lithium give")
PACKS_IN_SERIES = Assumed(
    4.0, "", "packs of lithium with a management of their own in series", "Battery.max_series"
)
PACKS_IN_SERIES_AT_BEST = Assumed(16.0, "", "such packs in series that some makers allow")
PACKS_IN_SERIES_AT_WORST = Assumed(1.0, "", "such packs in series that other makers allow: none")
LEAD_IN_PARALLEL = Assumed(
    5.0, "", "lead batteries in parallel that share alike", "Battery.max_parallel"
)
LEAD_IN_PARALLEL_AT_BEST = Assumed(10.0, "", "lead batteries in parallel that some makers allow")
MANAGED_FROM = Assumed(
    10.0, "V", "nominal voltage from which lithium is a pack with a management of its own"
)
LOWEST_CHARGE_TEMPERATURE_AT_BEST = Assumed(
    -10.0, "°C", "lowest temperature at which some lithium may be charged slowly"
)
LOWEST_CHARGE_TEMPERATURE_AT_WORST = Assumed(
    5.0, "°C", "lowest temperature at which some lithium may be charged"
)
RESTING_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 13.4, "flooded": 12.7, "agm": 12.9, "gel": 12.9},
    "V",
    "voltage of a charged battery at rest, for each 12 V",
)
NOT_FULL_BELOW_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 13.0, "flooded": 12.7, "agm": 12.8, "gel": 12.8},
    "V",
    "voltage while it is charged below which nothing takes it for full, for each 12 V",
)
FULL_AT_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 13.8, "flooded": 14.2, "agm": 14.0, "gel": 13.8},
    "V",
    "voltage below which it does not get full in a day, for each 12 V",
)
EMPTY_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 11.5, "flooded": 10.5, "agm": 10.5, "gel": 10.5},
    "V",
    "voltage of an empty battery, for each 12 V",
)
FLAT_AT_REST_PER_12_V = Assumed(
    11.8, "V", "voltage at rest below which a lead battery is flat, for each 12 V"
)
LEAST_AT_INVERTERS = Assumed(
    0.85,
    "%",
    "of the voltage of an empty battery, what an inverter gets of it at least under full load",
)
HARMED_BELOW_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 10.0, "flooded": 10.5, "agm": 10.5, "gel": 10.5},
    "V",
    "voltage below which a battery is harmed, for each 12 V",
)
LOW_VOLTAGE_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 12.8, "flooded": 12.0, "agm": 12.0, "gel": 12.0},
    "V",
    "voltage under load, for each 12 V",
    "Inverter.low_voltage",
)
LOW_VOLTAGE_AT_BEST = Times(
    {
        "lithium-iron-phosphate": 13.2 / 12.8,
        "flooded": 12.4 / 12.0,
        "agm": 12.5 / 12.0,
        "gel": 12.5 / 12.0,
        "lead": 12.5 / 12.0,
    }
)
LOW_VOLTAGE_AT_WORST = Times(
    {
        "lithium-iron-phosphate": 11.5 / 12.8,
        "flooded": 10.5 / 12.0,
        "agm": 10.5 / 12.0,
        "gel": 10.5 / 12.0,
        "lead": 10.5 / 12.0,
    }
)
CHARGE_RATE = Assumed(
    {"lithium-iron-phosphate": 1.0, "flooded": 0.2, "agm": 0.4, "gel": 0.2},
    "A",
    "charge current that a battery stands, for each Ah (labels of AGM say 0.2 to 1 A)",
    "Battery.max_charge_current",
)
CHARGE_RATE_AT_BEST = Times(
    {"lithium-iron-phosphate": 1.0, "flooded": 1.75, "agm": 2.5, "gel": 1.75}
)
CHARGE_RATE_AT_WORST = Times(
    {"lithium-iron-phosphate": 0.5, "flooded": 0.65, "agm": 0.5, "gel": 0.75}
)
CHARGE_RATE_OF_ANY = Times({"lithium-iron-phosphate": 4.0, "flooded": 7.0, "agm": 10.0, "gel": 7.0})
"""The same of a bank of untold capacity, with the largest that stands in for it: some 1,000 Ah,
which are drawn as one battery as well as a small one is."""
DISCHARGE_RATE = Assumed(
    1.0,
    "A",
    "discharge current that the management of a lithium battery lets out, for each Ah",
    "Battery.max_discharge_current",
)
UNEQUAL_SHARE = Assumed(
    0.8, "%", "what packs in parallel stand of their limits together, never sharing equally"
)
SHORT_CIRCUIT_PER_AH = Assumed(
    {"lithium-iron-phosphate": 35.0, "flooded": 15.0, "agm": 30.0, "gel": 15.0},
    "A",
    "short-circuit current of one battery, for each Ah (bare lithium cells were seen at 35 to "
    "80 A, thin-plate AGM at 50 A)",
    "Battery.short_circuit_current",
)
SHORT_CIRCUIT_AT_BEST = Times(
    {"lithium-iron-phosphate": 0.5, "flooded": 0.6, "agm": 0.5, "gel": 0.6}
)
SHORT_CIRCUIT_AT_WORST = Times(
    {"lithium-iron-phosphate": 80.0 / 35.0, "flooded": 1.7, "agm": 1.7, "gel": 1.7}
)
DEPTH_OF_DISCHARGE = Assumed(
    {"lithium-iron-phosphate": 0.8, "flooded": 0.5, "agm": 0.5, "gel": 0.5},
    "%",
    "share of the capacity that is taken out",
    "Battery.depth_of_discharge",
)

NO_CHARGE_VOLTAGE = Silence(
    key="charge voltage",
    kind=CHARGE_VOLTAGE_AT_BEST,
    harsh=CHARGE_VOLTAGE_AT_WORST,
    look_up=LookUp(
        "the charge voltage of {names}",
        "on its case, or in the menu of what charges it",
        "rarely",
    ),
    says="The charge voltage of `{subject}` is assumed to be {number:g} V, the upper end for "
    "{kind}.",
    instead="charge_voltage of the controller, or max_charge_voltage of the battery",
    symbol="Ucharge",
    words="charge voltage of {subject}",
    unit="V",
)
NO_CHARGE_SETTING = Silence(
    key="setting of the charge voltage",
    kind=CHARGE_SETTING_AT_BEST,
    harsh=CHARGE_SETTING_AT_WORST,
    says="What charges `{subject}` is assumed to be set to {number:g} V, as is usual for {kind}.",
    instead="charge_voltage of the controller, or max_charge_voltage of the battery",
    symbol="Ucharge",
    words="charge voltage of {subject}",
    unit="V",
    look_up=LookUp(
        "the voltage to which {names} is charged", "in the menu of what charges it", "rarely"
    ),
)
NO_LOW_VOLTAGE = Silence(
    key="low voltage",
    kind=LOW_VOLTAGE_AT_BEST,
    harsh=LOW_VOLTAGE_AT_WORST,
    says="`{subject}` is assumed to fall to {number:g} V under load, as {kind} does.",
    instead="nothing, unless an inverter is meant: its low_voltage then counts for it",
    symbol="Ulow",
    words="voltage of {subject} when low",
    unit="V",
)
NO_CHARGE_LIMIT = Silence(
    key="charge limit",
    kind=CHARGE_RATE_AT_BEST,
    harsh=CHARGE_RATE_AT_WORST,
    look_up=LookUp("the largest charge current of {names}", "on its case or datasheet"),
    says="`{subject}` ({kind}) is assumed to take {per_hour:g} A of charge for each Ah, since its "
    "label gives no limit.",
    instead="max_charge_current",
    symbol="c",
    words="charge rate of {subject}",
    unit="1/s",
)
NO_CHARGE_LIMIT_OF_ANY = NO_CHARGE_LIMIT._replace(kind=CHARGE_RATE_OF_ANY, guess=True)
NO_DISCHARGE_LIMIT = Silence(
    key="discharge limit",
    kind=Times(2.0),
    harsh=Times(0.5),
    look_up=LookUp("the largest lasting discharge current of {names}", "on its case or datasheet"),
    says="`{subject}` is assumed to give {per_hour:g} A for each Ah before its management cuts it "
    "off, since its label gives no limit.",
    instead="max_discharge_current",
    symbol="c",
    words="discharge rate of {subject}",
    unit="1/s",
)
NO_CHARGE_TEMPERATURE = Silence(
    key="charge temperature",
    usual=LOWEST_CHARGE_TEMPERATURE,
    kind=LOWEST_CHARGE_TEMPERATURE_AT_BEST,
    harsh=LOWEST_CHARGE_TEMPERATURE_AT_WORST,
    look_up=LookUp(
        "the lowest temperature at which {names} may be charged",
        "on its case or datasheet",
        "rarely",
    ),
    says="`{subject}` is assumed not to be chargeable below {number:g} °C, since its "
    "label gives no "
    "limit.",
    instead="min_charge_temperature",
    symbol="Tmin",
    words="lowest charge temperature of {subject}",
    unit="°C",
)
NO_HIGHEST_TEMPERATURE = Silence(
    key="highest temperature",
    usual=HIGHEST_TEMPERATURE,
    kind=HIGHEST_TEMPERATURE_AT_BEST,
    look_up=LookUp(
        "the highest temperature that {names} stands", "on its case or datasheet", "rarely"
    ),
    says="`{subject}` is assumed to bear {number:g} °C while it is charged, as most labels of "
    "lithium say, since its own gives no limit.",
    instead="max_temperature",
    symbol="Tmax({subject})",
    words="highest temperature of {subject}",
    unit="°C",
)
NO_HIGHEST_TEMPERATURE_OF_LEAD = Silence(
    key="highest temperature of lead",
    usual=HIGHEST_TEMPERATURE_OF_LEAD,
    kind=HIGHEST_TEMPERATURE_OF_LEAD_AT_BEST,
    look_up=LookUp(
        "the highest temperature that {names} stands", "on its case or datasheet", "rarely"
    ),
    says="`{subject}` is assumed to bear {number:g} °C, as most makers of lead batteries say, "
    "since its own label gives no limit.",
    instead="max_temperature",
    symbol="Tmax({subject})",
    words="highest temperature of {subject}",
    unit="°C",
)
NO_MOST_IN_SERIES = Silence(
    key="most in series",
    usual=PACKS_IN_SERIES,
    kind=PACKS_IN_SERIES_AT_BEST,
    harsh=PACKS_IN_SERIES_AT_WORST,
    look_up=LookUp(
        "how many of {names} their maker lets be joined in series",
        "in their manual, as series connection",
    ),
    says="Not more than {number:g} packs as `{subject}` are assumed to be allowed in series, since "
    "the plan does not tell what their maker allows.",
    instead="max_series",
    symbol="nmax({subject})",
    words="most in series of {subject}",
    unit="",
)
NO_MOST_IN_PARALLEL = Silence(
    key="most in parallel",
    usual=LEAD_IN_PARALLEL,
    kind=LEAD_IN_PARALLEL_AT_BEST,
    says="Not more than {number:g} lead batteries as `{subject}` are assumed to share alike in "
    "parallel, since the plan does not tell what their maker allows.",
    instead="max_parallel",
    symbol="nmax({subject})",
    words="most in parallel of {subject}",
    unit="",
)
NO_CUTOFF_IN_THE_COLD = Silence(
    key="cut-off in the cold",
    look_up=LookUp(
        "whether {names} stops the charge in the cold",
        "on its datasheet, as low-temperature charge protection",
        "often",
    ),
    says="Nothing is assumed to stop the charge of `{subject}` in the cold, since neither its "
    "label "
    "nor what charges it is said to.",
    instead="low_temperature_cutoff",
)
NO_MANAGEMENT = Silence(
    key="management of bare cells",
    look_up=LookUp(
        "what parts {names} when one of the cells is full or empty",
        "on the board that the thin wires of the cells lead to, and the relay that it opens",
        presence=True,
    ),
    says="The cells of `{subject}` are assumed to have a board that parts them by itself from what "
    "charges and what draws, though the plan tells none.",
    instead="opened_by, with the relay that it opens; or low_temperature_cutoff, true or false, "
    "with the cells whose board parts them by itself",
)
NO_SHORT_CIRCUIT_CURRENT = Silence(
    key="short-circuit current",
    kind=SHORT_CIRCUIT_AT_BEST,
    harsh=SHORT_CIRCUIT_AT_WORST,
    look_up=LookUp(
        "what {names} drives into a short",
        "on its datasheet, as short-circuit current or internal resistance",
        "rarely",
    ),
    says="A battery of `{subject}` ({kind}) is assumed to drive {number:g} A into a short at its "
    "terminals, since its label gives neither that nor a resistance.",
    instead="short_circuit_current",
    symbol="Ik",
    words="short-circuit current of one battery of {subject}",
    unit="A",
)
ODD_SHORT_CIRCUIT_CURRENT = (
    "A battery of `{subject}` ({kind}) is assumed to drive {number:g} A into a short at its "
    "terminals, since its label tells less than any such battery gives."
)
NO_DEPTH_OF_DISCHARGE = Silence(
    key="depth of discharge",
    usual=DEPTH_OF_DISCHARGE,
    says="`{subject}` ({kind}) is assumed to give {percent:g} % of its capacity.",
    instead="depth_of_discharge",
    symbol="DoD({subject})",
    words="depth of discharge of {subject}",
    unit="%",
)
