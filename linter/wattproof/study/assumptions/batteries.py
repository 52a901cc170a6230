"""Batteries, where a label is silent: by chemistry."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence

LEAD = ("flooded", "agm", "gel")

CHARGE_VOLTAGE_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 14.6, "flooded": 14.8, "agm": 14.7, "gel": 14.4},
    "V",
    "highest charge voltage, for each 12 V",
    "Battery.max_charge_voltage",
)
CHARGE_VOLTAGE_AT_BEST_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 14.8, "flooded": 16.2, "agm": 15.0, "gel": 14.8},
    "V",
    "charge voltage above which no maker goes, for each 12 V",
)
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
RESTING_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 13.4, "flooded": 12.7, "agm": 12.9, "gel": 12.9},
    "V",
    "voltage of a charged battery at rest, for each 12 V",
)
FULL_AT_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 13.8, "flooded": 14.2, "agm": 14.0, "gel": 13.8},
    "V",
    "voltage below which it does not get full in a day, for each 12 V",
)
LOW_VOLTAGE_PER_12_V = Assumed(
    {"lithium-iron-phosphate": 11.5, "flooded": 10.5, "agm": 10.5, "gel": 10.5},
    "V",
    "voltage at the end of discharge under load, for each 12 V",
    "Inverter.low_voltage",
)
CHARGE_RATE = Assumed(
    {"lithium-iron-phosphate": 0.5, "flooded": 0.2, "agm": 0.3, "gel": 0.2},
    "A",
    "charge current that a battery stands, for each Ah",
    "Battery.max_charge_current",
)
CHARGE_RATE_AT_BEST = Assumed(
    {"lithium-iron-phosphate": 1.0, "flooded": 0.35, "agm": 1.0, "gel": 0.35},
    "A",
    "charge current at the very best, for each Ah",
)
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
    {"lithium-iron-phosphate": 60.0, "flooded": 15.0, "agm": 30.0, "gel": 15.0},
    "A",
    "short-circuit current of one battery, for each Ah (bare lithium cells were seen at 35 to "
    "80 A, thin-plate AGM at 50 A)",
    "Battery.short_circuit_current",
)
SHORT_CIRCUIT_AT_LEAST = Assumed(
    {"lithium-iron-phosphate": 5000.0}, "A", "short-circuit current of one battery, at least"
)
DEPTH_OF_DISCHARGE = Assumed(
    {"lithium-iron-phosphate": 0.8, "flooded": 0.5, "agm": 0.5, "gel": 0.5},
    "%",
    "share of the capacity that is taken out",
    "Battery.depth_of_discharge",
)

NO_CHARGE_VOLTAGE = Silence(
    key="charge voltage",
    says="The charge voltage of `{subject}` is taken as {number:g} V, the upper end for {kind}.",
    instead="charge_voltage of the controller, or max_charge_voltage of the battery",
    symbol="Ucharge",
    words="charge voltage of {subject}",
    unit="V",
)
NO_LOW_VOLTAGE = Silence(
    key="low voltage",
    says="`{subject}` is taken to fall to {number:g} V under load, as {kind} does.",
    instead="nothing, unless an inverter is meant: its low_voltage then counts for it",
    symbol="Ulow",
    words="voltage of {subject} when low",
    unit="V",
)
NO_CHARGE_LIMIT = Silence(
    key="charge limit",
    says="`{subject}` ({kind}) is taken to stand {per_hour:g} A of charge for each Ah, since its "
    "label gives no limit.",
    instead="max_charge_current",
    symbol="c",
    words="charge rate of {subject}",
    unit="1/s",
)
NO_DISCHARGE_LIMIT = Silence(
    key="discharge limit",
    says="`{subject}` is taken to give {per_hour:g} A for each Ah before its management cuts it "
    "off, since its label gives no limit.",
    instead="max_discharge_current",
    symbol="c",
    words="discharge rate of {subject}",
    unit="1/s",
)
NO_CHARGE_TEMPERATURE = Silence(
    key="charge temperature",
    usual=LOWEST_CHARGE_TEMPERATURE,
    says="`{subject}` is taken to stand no charge below {number:g} °C, since its label gives no "
    "limit.",
    instead="min_charge_temperature",
    symbol="Tmin",
    words="lowest charge temperature of {subject}",
    unit="°C",
)
NO_HIGHEST_TEMPERATURE = Silence(
    key="highest temperature",
    usual=HIGHEST_TEMPERATURE,
    says="`{subject}` is taken to stand {number:g} °C while it is charged, as most labels of "
    "lithium say, since its own gives no limit.",
    instead="max_temperature",
    symbol="Tmax({subject})",
    words="highest temperature of {subject}",
    unit="°C",
)
NO_CUTOFF_IN_THE_COLD = Silence(
    key="cut-off in the cold",
    says="Nothing is taken to stop the charge of `{subject}` in the cold, since neither its label "
    "nor what charges it is said to.",
    instead="low_temperature_cutoff",
    symbol="ncut",
    words="cut-offs in the cold at {subject}",
)
NO_SHORT_CIRCUIT_CURRENT = Silence(
    key="short-circuit current",
    says="A battery of `{subject}` ({kind}) is taken to drive {number:g} A into a short at its "
    "terminals, since its label gives neither that nor a resistance.",
    instead="short_circuit_current",
    symbol="Ik",
    words="short-circuit current of one battery of {subject}",
    unit="A",
)
NO_DEPTH_OF_DISCHARGE = Silence(
    key="depth of discharge",
    usual=DEPTH_OF_DISCHARGE,
    says="`{subject}` ({kind}) is taken to give {percent:g} % of its capacity.",
    instead="depth_of_discharge",
    symbol="DoD({subject})",
    words="depth of discharge of {subject}",
    unit="%",
)
