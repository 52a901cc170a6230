"""Controllers, inverters, alternators and chargers, where their manuals are not told."""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence, Times
from wattproof.working import LookUp

RUN_ABOVE_BATTERY = Assumed(
    1.0,
    "V",
    "voltage above the battery that a tracker needs to go on",
    "Controller.run_above_battery",
)
INVERTER_EFFICIENCY = Assumed(0.90, "%", "efficiency of an inverter", "Inverter.efficiency")
EFFICIENCY_AT_BEST = Times(1.06)
EFFICIENCY_AT_WORST = Times(0.90)
VEHICLE_CHARGER_EFFICIENCY = Assumed(0.88, "%", "efficiency of a vehicle charger")
ALTERNATOR_LOW_VOLTAGE_PER_12_V = Assumed(
    12.5, "V", "lowest voltage at the input of a vehicle charger, for each 12 V"
)
ALTERNATOR_VOLTAGE_PER_12_V = Assumed(
    14.2,
    "V",
    "voltage to which an alternator is regulated, for each 12 V",
)
EMPTY_ON_ALTERNATOR_PER_12_V = Assumed(
    12.0, "V", "voltage of an empty battery that an alternator charges, for each 12 V"
)
CHARGED_FOR_MINUTES_PER_12_V = Assumed(
    13.0, "V", "voltage to which a battery comes within minutes of charging, for each 12 V"
)
LITHIUM_AT_WORK_PER_12_V = Assumed(
    13.2, "V", "voltage of lithium iron phosphate in its flat middle, for each 12 V"
)
LITHIUM_TAKES = Assumed(
    0.35,
    "A",
    "current that lithium takes from an alternator at the most, for each Ah (0.2 to 0.33 A were "
    "measured on the road)",
)
LEAD_TAKES = Assumed(
    0.5,
    "A",
    "current that lead takes from an alternator after minutes at the most, for each Ah",
)
WORKS_UP_TO = Assumed(
    60.0,
    "°C",
    "air in which controllers and inverters still give anything like their rating (manuals say "
    "40 to 60)",
    "Controller.derates_above",
)
INVERTER_IDLE = Assumed(
    0.01, "%", "idle power of an inverter over its rated power", "Inverter.idle_power"
)

NO_ALTERNATOR_VOLTAGE = Silence(
    key="regulated voltage",
    kind=Times(13.8 / 14.2),
    harsh=Times(14.8 / 14.2),
    look_up=LookUp(
        "the voltage to which {names} is regulated",
        "with a meter at the starting battery, the engine running",
        "sometimes",
    ),
    says="`{subject}` is assumed to be regulated to {number:g} V, as is usual.",
    instead="charge_voltage",
    symbol="U({subject})",
    words="voltage of {subject}",
    unit="V",
)
NO_ARC_PROTECTION = Silence(
    key="arc protection",
    says="`{subject}` is assumed not to notice an arc in its array: few trackers for batteries do.",
    instead="arc_fault_protection",
    look_up=LookUp(
        "whether {names} notices an arc in its array and breaks it",
        "in its manual, as arc-fault protection or AFCI",
    ),
)
NO_EFFICIENCY = Silence(
    key="efficiency",
    kind=EFFICIENCY_AT_BEST,
    harsh=EFFICIENCY_AT_WORST,
    says="The efficiency of `{subject}` is assumed to be {percent:g} %.",
    instead="efficiency",
    symbol="η",
    words="efficiency of {subject}",
)
NO_HIGHEST_AIR = Silence(
    key="air of the rated output",
    usual=WORKS_UP_TO,
    look_up=LookUp(
        "up to what air temperature {names} gives its rating", "on its datasheet", "rarely"
    ),
    says="`{subject}` is assumed to work in air of up to {number:g} °C, the most that manuals of "
    "its kind allow, since its own is not told.",
    instead="derates_above",
    symbol="Trated({subject})",
    words="air up to which {subject} gives its rating",
    unit="°C",
)
NO_IDLE_POWER = Silence(
    key="idle power",
    usual=INVERTER_IDLE,
    says="`{subject}` is assumed to need {percent:g} % of its power when it is on and nothing "
    "runs.",
    instead="idle_power",
    symbol="kidle",
    words="idle power of {subject} over its rated power",
    unit="%",
)
NO_SURGE = Silence(
    key="surge power",
    kind=Times(2.0),
    look_up=LookUp("the surge power of {names}", "on its label or in its manual", "rarely"),
    says="`{subject}` is assumed to give no more than its continuous {power} even for the seconds "
    "of a start, since its label gives no surge power.",
    instead="surge",
    symbol="Psurge({subject})",
    words="surge power of {subject}",
    unit="W",
)
NO_RUNNING_MARGIN = Silence(
    key="running margin",
    usual=RUN_ABOVE_BATTERY,
    says="`{subject}` is assumed to need {number:g} V more than the battery to go on.",
    instead="run_above_battery",
    symbol="ΔUrun",
    words="running margin of {subject}",
    unit="V",
)
LOAD_TERMINALS = Assumed(
    1.0,
    "%",
    "rating of load terminals over the output that their controller is rated for",
    "Controller.load_current",
)
NO_LOAD_RATING = Silence(
    key="load terminals",
    usual=LOAD_TERMINALS,
    kind=Times(2.0),
    harsh=Times(0.5),
    says="The load terminals of `{subject}` are assumed to be rated as its output is, since the "
    "plan does not tell it.",
    instead="load_current",
    look_up=LookUp(
        "what the load terminals of {names} are rated for",
        "on its face or in its manual, as load current",
        "sometimes",
    ),
    symbol="kload",
    words="rating of the load terminals of {subject} over its rated output",
    guess=True,
)
NO_MEANING = Silence(
    key="meaning of an input current",
    says="The input current on the label of `{subject}` is assumed to be the most that it stands, "
    "though it may be what it takes at most.",
    instead="usable_input_current",
    look_up=LookUp(
        "what the input current on the label of {names} is",
        "in its manual: the limit for a short-circuit current, or the most that it takes",
        "sometimes",
    ),
)
NO_BOOST = Silence(
    key="raising of voltage",
    says="The solar input of `{subject}` is assumed to work only above the voltage of its battery, "
    "though many a vehicle charger works below it as well.",
    instead="boost",
    look_up=LookUp(
        "whether {names} can charge from an array of a lower voltage than the battery's",
        "in the manual, as the lowest voltage of the solar input, or as boost",
        "sometimes",
    ),
    guess=True,
)
