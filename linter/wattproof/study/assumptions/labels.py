"""What every plan needs to know and need not tell: labels of modules, ratings, sizes, lengths.

Without these nothing can be computed, so a usual figure stands in the place of each. All are
common practice; what the rest of the plan tells of the same thing comes before them.
"""

from __future__ import annotations

from wattproof.study.assumptions.rows import Assumed, Silence, Times
from wattproof.working import LookUp

VMP_PER_CELL = Assumed(
    0.52, "V", "voltage at maximum power of a cell of an unknown module", "ModuleSheet.vmp"
)
CELLS = Assumed(
    {"up to 220 W": 36.0, "above": 60.0}, "", "cells in series of a module, by its power"
)
LARGE_MODULE = Assumed(220.0, "W", "power above which a module has more cells than 36")
SMALL_MODULE = Assumed(130.0, "W", "power up to which nearly every module has 36 cells")
FILM_VMP = Assumed(60.0, "V", "voltage at maximum power of a thin-film module above 70 W")
"""Half of 542 thin-film modules above 70 W in the CEC list have more, whatever their power."""
SMALL_FILM = Assumed(70.0, "W", "power up to which a thin-film module is assumed to be one of 12 V")
MODULE_POWER = Assumed(100.0, "W", "power of an unknown module", "ModuleSheet.pmax")
VMP_SHARE = Assumed(
    {"crystalline": 0.82, "thin-film": 0.76},
    "%",
    "share of it that the voltage at maximum power is",
    "ModuleSheet.voc",
)
IMP_SHARE = Assumed(
    {"crystalline": 0.94, "thin-film": 0.88},
    "%",
    "share of it that the current at maximum power is",
    "ModuleSheet.isc",
)
FUSE_ON_COPPER = Assumed(
    {
        "18 AWG": 5.0,
        "16 AWG": 10.0,
        "14 AWG": 15.0,
        "12 AWG": 20.0,
        "10 AWG": 30.0,
        "8 AWG": 40.0,
        "6 AWG": 60.0,
        "4 AWG": 80.0,
        "2 AWG": 100.0,
        "1/0 AWG": 150.0,
        "2/0 AWG": 175.0,
        "3/0 AWG": 200.0,
        "4/0 AWG": 250.0,
    },
    "A",
    "fuse, breaker or switch on copper of a size",
    "Fuse.rating",
)
SOLD_SIZES = (1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0)
"""Sizes of copper (mm²) as they are sold (IEC 60228)."""
THICKEST = "4/0"
"""Gauge of the thickest cable on what asks for less: what it may carry stands in every table."""
STRING_FUSE = Assumed(15.0, "A", "fuse in a string, at least 1.56 times its short-circuit current")
ARRAY_CABLE = Assumed(6.0, "mm²", "cable on the array side", "CableSheet.size")
LINK_CABLE = Assumed(35.0, "mm²", "cable between batteries, or from one to a busbar")
OTHER_CABLE = Assumed(6.0, "mm²", "cable of which neither a fuse nor a device tells the current")
SMALLEST_DEVICE, LARGEST_DEVICE = 5.0, 300.0
"""What a fuse or switch may be rated (A) where its cable is not told either (common practice)."""
SOLD_ARRESTERS = (16.0, 1500.0)
"""The lowest and the highest direct voltage (V) that a surge arrester is sold for."""
THIN_BOND = 4.0
"""How thin (mm²) a bond may well be, whatever it has to bring back (common practice)."""
SPARE = Assumed(1.25, "", "what a cable or fuse is chosen above the current of its device")
ARRAY_LENGTH = Assumed(5.0, "m", "length of a wire on the array side", "Wire.length")
LINK_LENGTH = Assumed(0.5, "m", "length of a wire between batteries, or from one to a busbar")
LENGTH = Assumed(2.0, "m", "length of any other wire")
TRAILER_LENGTH = Assumed(6.0, "m", "length of a charge line through the plug of a trailer")
SHORT_TRAILER_LENGTH = Assumed(3.0, "m", "least length of a charge line through such a plug")
NEAR_AN_END = Assumed(0.15, "m", "distance of a device from the end that it is told to sit at")
INPUT_VOLTAGE = Assumed(
    {
        "mppt": 100.0,
        "mppt above 24 V": 150.0,
        "pwm": 50.0,
        "pwm above 24 V": 125.0,
        "vehicle-charger": 50.0,
    },
    "V",
    "highest input voltage of a controller",
    "Controller.max_input_voltage",
)
TO_24_V = Assumed(26.0, "V", "nominal voltage up to which a system is one of 12 or 24 V")
SOLD_CONTROLLERS = (10.0, 15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0)
"""Output currents (A) that controllers are sold with (common practice)."""
SOLD_INPUTS = (50.0, 75.0, 100.0, 150.0, 250.0, 450.0, 600.0)
"""Input voltages (V) that controllers are sold with (common practice)."""
SOLD_FUSES = (5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0)
"""Ratings (A) of the fuses of panels (ISO 8820-3)."""
OUTPUT_CURRENT = Assumed(
    {"mppt": 30.0, "pwm": 20.0, "vehicle-charger": 30.0},
    "A",
    "rated output current of a controller",
    "Controller.max_output_current",
)
CHARGER_CURRENT = Assumed(
    {"alternator": 100.0, "shore": 20.0, "wind": 30.0, "converter": 20.0},
    "A",
    "rated output current of an alternator or charger",
    "Charger.max_output_current",
)
NOMINAL = Assumed(
    {"lithium-iron-phosphate": 12.8, "flooded": 12.0, "agm": 12.0, "gel": 12.0},
    "V",
    "nominal voltage of a battery, where nothing joined to it tells another",
    "Battery.nominal",
)
HIGH_INPUT = Assumed(300.0, "V", "input voltage above which a controller is one for 48 V")
LARGE_SYSTEM = Assumed(48.0, "V", "nominal voltage of what hangs on such a controller")
NOMINAL_OF_TRUCKS = 24.0
"""Nominal voltage (V) that a battery of an engine may well have instead."""
CHEMISTRY = Assumed("agm", "", "kind of a battery", "Battery.chemistry")
FULL_12_V = 14.4
"""What 12 V are charged to (V), of lead and of lithium near enough (common practice)."""
EMPTY_12_V = 11.0
"""What inverters on 12 V switch off at (V), of any battery near enough (common practice)."""
NEARLY_12_V = 0.75
"""Share of 12 V under which one battery of a series is of fewer cells than those of 12 V."""
LITHIUM_VOLTS = (3.2, 12.8, 25.6, 38.4, 51.2)
"""Nominal voltages (V) that only lithium iron phosphate has, of cells and packs."""
LEAD_BLOCK = 8.0
"""Nominal voltage (V) up to which a battery of another is lead in blocks: 2 V, 4 V, 6 V and 8 V."""
CONTROLLER = Assumed("mppt", "", "kind of a controller", "Controller.kind")
CAPACITY = Assumed(100.0, "Ah", "capacity of a battery", "Battery.capacity")
INVERTER_POWER = Assumed(1000.0, "W", "continuous power of an inverter", "Inverter.power")
SMALL_INVERTER = 150.0
"""The power (W) that an inverter without a charger may well have at the least (common practice)."""
LOAD_CURRENT = Assumed(5.0, "A", "current of a load", "Load.current")
WAY_FUSE = Assumed(10.0, "A", "fuse in a way of a panel", "Way.fuse")
STARTER_CURRENT = Assumed(200.0, "A", "current of a starter motor", "Starter.current")
BOX_POWER = Assumed(
    200.0, "W", "most power that a power box takes from an array", "PowerBox.max_input_power"
)
AT_FULL_POWER = 0.85
"""Efficiency of an inverter at full power, lower than at usual ones, to find what fits its fuse."""
ARRESTER = Assumed(150.0, "V", "voltage that a surge arrester stands", "Arrester.voltage")


def _label(quantity: str, key: str, low: float, high: float) -> Silence:
    return Silence(
        key=quantity,
        kind=Times(low),
        harsh=Times(high),
        look_up=LookUp(f"the {quantity} of {{names}}", "on the label on the back"),
        says=f"The {quantity} of `{{subject}}` is assumed to be {{shown}}, {{why}}.",
        instead=key,
    )


NO_VOC = _label("open-circuit voltage", "voc", 0.9, 1.1)
NO_ISC = _label("short-circuit current", "isc", 0.85, 1.15)
NO_ISC_OF_SMALL = _label("short-circuit current", "isc", 0.7, 1.15)
"""Of 197 crystalline modules up to 130 W in the CEC list, two have less than that."""
NO_ISC_BY_POWER = _label("short-circuit current", "isc", 0.55, 1.15)._replace(guess=True)
"""Above that there are modules of one power with twice as many cells, and half the current."""
NO_ISC_OF_ANY = _label("short-circuit current", "isc", 0.1, 3.5)._replace(guess=True)
"""Of a module of which not even the power is told: from 10 W to 700 W."""
NO_VMP = _label("voltage at maximum power", "vmp", 0.9, 1.1)
NO_VOC_BY_SIZE = _label("open-circuit voltage", "voc", 0.9, 1.37)._replace(guess=True)
NO_VMP_BY_SIZE = _label("voltage at maximum power", "vmp", 0.9, 1.37)._replace(guess=True)
"""Of 17,425 crystalline modules above 220 W in the CEC list 90 % lie in this range."""
NO_VOC_BY_POWER = _label("open-circuit voltage", "voc", 0.9, 2.0)._replace(guess=True)
NO_VMP_BY_POWER = _label("voltage at maximum power", "vmp", 0.9, 2.0)._replace(guess=True)
"""Between the small ones and these, modules of one power have 36 cells or up to 72."""
NO_VOC_OF_FILM = _label("open-circuit voltage", "voc", 0.28, 1.8)._replace(guess=True)
NO_VMP_OF_FILM = _label("voltage at maximum power", "vmp", 0.28, 1.8)._replace(guess=True)
NO_ISC_OF_FILM = _label("short-circuit current", "isc", 0.5, 4.0)._replace(guess=True)
"""Of the thin-film modules above 70 W in the CEC list 90 % lie from 17 V to 108 V."""
NO_VOC_OF_SMALL_FILM = _label("open-circuit voltage", "voc", 0.9, 3.9)._replace(guess=True)
NO_VMP_OF_SMALL_FILM = _label("voltage at maximum power", "vmp", 0.9, 3.9)._replace(guess=True)
NO_ISC_OF_SMALL_FILM = _label("short-circuit current", "isc", 0.25, 1.3)._replace(guess=True)
"""Of the smaller ones, as many have 12 V as 45 V to 70 V."""
NO_IMP = _label("current at maximum power", "imp", 0.85, 1.15)
NO_IMP_OF_ANY = _label("current at maximum power", "imp", 0.1, 3.5)._replace(guess=True)
LIKE_EACH_OTHER = ((NO_VOC.key, NO_VMP.key), (NO_ISC.key, NO_IMP.key))
"""What is large or small together on the label of one module."""
NO_CHEMISTRY = Silence(
    key="chemistry",
    look_up=LookUp(
        "what kind of battery {names} is", "on its case: LiFePO4, AGM, gel, or caps to fill it by"
    ),
    says="`{subject}` is assumed to be {shown}, {why}.",
    instead="chemistry",
    guess=True,
)
NO_CHEMISTRY_BY_ENGINE = NO_CHEMISTRY._replace(guess=False)
"""The same of what starts an engine, which is lead but for a few (common practice)."""
NO_KIND = Silence(
    key="kind of controller",
    look_up=LookUp(
        "what kind of controller {names} is", "on its face or in its manual, as MPPT or PWM"
    ),
    says="`{subject}` is assumed to be {shown}, {why}.",
    instead="kind",
    guess=True,
)
NO_RATING = Silence(
    key="rating",
    kind=Times(0.5),
    harsh=Times(2.0),
    look_up=LookUp("the rating of {names}", "on its body or face, in A", "often"),
    says="`{subject}` is assumed to be rated {shown}, {why}.",
    instead="rating",
    guess=True,
)
NO_WAY_FUSE = NO_RATING._replace(instead="fuse")
NO_SIZE = Silence(
    key="conductor size",
    kind=Times(0.4),
    harsh=Times(2.5),
    look_up=LookUp(
        "the conductor size of {names}",
        "on the insulation, as AWG or mm²; else by the thickness of the copper",
        "often",
    ),
    says="The conductors of `{subject}` are assumed to be {shown} of copper, {why}.",
    instead="size",
    guess=True,
)
NO_LENGTH = Silence(
    key="length",
    kind=Times(0.3),
    harsh=Times(3.0),
    look_up=LookUp("how long {names} is", "measure along the wire, one way", "sometimes"),
    says="`{subject}` is assumed to be {shown} long, {why}.",
    instead="length",
    guess=True,
)
NO_DISTANCE = Silence(
    key="distance from an end",
    kind=Times(0.2),
    harsh=Times(5.0),
    look_up=LookUp(
        "how far {names} sits from the end that it is told to be at",
        "measure along the wire",
        "rarely",
    ),
    says="`{subject}` is assumed to sit {shown} from the end that it is told to be at.",
    instead="distance",
)
NO_INPUT_VOLTAGE = Silence(
    key="highest input voltage",
    kind=Times(0.5),
    harsh=Times(1.5),
    look_up=LookUp(
        "the highest input voltage of {names}",
        "on its label or in its manual, as max PV voltage",
        "often",
    ),
    says="`{subject}` is assumed to take up to {shown} at its input, {why}.",
    instead="max_input_voltage",
    guess=True,
)
NO_INPUT_POWER = Silence(
    key="input power",
    kind=Times(0.5),
    harsh=Times(2.0),
    look_up=LookUp(
        "the most power that {names} takes from an array",
        "on its label or in its manual",
        "sometimes",
    ),
    says="`{subject}` is assumed to take up to {shown} from its array, {why}.",
    instead="max_input_power",
    guess=True,
)
NO_OUTPUT_CURRENT = Silence(
    key="output current",
    kind=Times(0.3),
    harsh=Times(2.0),
    look_up=LookUp("the rated output current of {names}", "on its label, in A", "sometimes"),
    says="`{subject}` is assumed to give {shown}, {why}.",
    instead="max_output_current",
    guess=True,
)
NO_ALTERNATOR_CURRENT = NO_OUTPUT_CURRENT._replace(key="output current of an alternator")
NO_NOMINAL = Silence(
    key="nominal voltage",
    kind=Times(1.0),
    harsh=Times(1.0),
    look_up=LookUp("the nominal voltage of {names}", "on its case", "sometimes"),
    says="A battery of `{subject}` is assumed to be one of {shown}, {why}.",
    instead="nominal",
)
NO_CAPACITY = Silence(
    key="capacity",
    kind=Times(0.5),
    harsh=Times(2.5),
    look_up=LookUp("the capacity of {names}", "on its case, in Ah", "sometimes"),
    says="A battery of `{subject}` is assumed to hold {shown}, {why}.",
    instead="capacity",
    guess=True,
)
NO_POWER = Silence(
    key="power",
    kind=Times(0.5),
    harsh=Times(2.0),
    look_up=LookUp("the power of {names}", "on its label, in W", "sometimes"),
    says="`{subject}` is assumed to give {shown}, {why}.",
    instead="power",
    guess=True,
)
NO_CURRENT = Silence(
    key="current of a load",
    kind=Times(0.4),
    harsh=Times(2.5),
    look_up=LookUp("what {names} draws", "on its label, in A or W", "sometimes"),
    says="`{subject}` is assumed to draw {shown}, {why}.",
    instead="current",
    guess=True,
)
NO_ARRESTER_VOLTAGE = Silence(
    key="arrester voltage",
    kind=Times(0.5),
    harsh=Times(2.0),
    look_up=LookUp(
        "the voltage that {names} is made for", "on its case, as Uc or MCOV", "sometimes"
    ),
    says="`{subject}` is assumed to be made for {shown}, {why}.",
    instead="voltage",
    guess=True,
)
