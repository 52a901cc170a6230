"""What is taken where a plan is silent: each on the side from which the truth can only help.

The direction depends on the question: cold for voltage, hot for current-carrying capacity, bright
for current, high charge voltage for the window of a controller. One place for all of them; the
documentation lists this table. Sources: conservative trade practice unless a line names one.
"""

from __future__ import annotations

from dataclasses import dataclass

from wattproof.plan.datasheets import CableSheet
from wattproof.plan.root import Plan
from wattproof.quantities import Quantity
from wattproof.source import Place
from wattproof.working import Assumption, Value, assumed

COLDEST = {"vehicle": -20.0, "boat": -5.0, "cabin": -25.0, "portable": -20.0}  # °C
HOTTEST = 40.0  # °C in the shade
ARRAY_AMBIENT = 70.0  # °C under or beside modules on a dark roof
INSIDE_AMBIENT = 40.0  # °C
ENGINE_AMBIENT = {"boat": 50.0}  # °C; elsewhere under a bonnet:
ENGINE_AMBIENT_ELSEWHERE = 85.0

VOC_COEFFICIENT = -0.0040  # 1/K; crystalline modules lie between -0.0024 and -0.0036
VMP_COEFFICIENT = -0.0045  # 1/K
ISC_COEFFICIENT = 0.0006  # 1/K; labels lie between 0.0003 and 0.0006
BYPASS_GROUPS = 2  # bypass diodes of a rigid module of BYPASS_GROUPS_FROM or more; else none
BYPASS_GROUPS_FROM = 100.0  # W
VOC_PER_CELL = 0.65  # V, to guess the number of cells in series from the label
MOUNTING = "roof-bonded"  # the hottest

SERIES_FUSE = {"rigid": 15.0, "flexible": 0.0, "folding": 0.0}  # A at least; else by its current
SERIES_FUSE_LARGEST = 30.0  # A, the largest that labels of this class commonly print
SYSTEM_VOLTAGE = {"rigid": 600.0, "flexible": 60.0, "folding": 60.0}  # V

INSULATION = {  # °C by what a cable is sold as
    None: 60.0,
    "building": 60.0,
    "welding": 60.0,
    "automotive": 80.0,
    "pv": 90.0,
    "battery": 105.0,
    "marine": 105.0,
}
CABLE_VOLTAGE = {  # V by what a cable is sold as
    None: 60.0,
    "automotive": 60.0,
    "battery": 60.0,
    "marine": 600.0,
    "welding": 600.0,
    "building": 300.0,
    "pv": 600.0,
}
SURE_COPPER = ("pv", "marine", "building")  # cables that standards make of copper
DROP_TEMPERATURE = 75.0  # °C of a conductor at full load
COLD_TEMPERATURE = 20.0  # °C of a conductor when a fault begins

LEAD = ("flooded", "agm", "gel")

CHARGE_VOLTAGE_PER_12_V = {  # V, the upper end of what the chemistry is charged at
    "lithium-iron-phosphate": 14.6,
    "flooded": 14.8,
    "agm": 14.7,
    "gel": 14.4,
}
CHARGE_VOLTAGE_AT_BEST_PER_12_V = {  # V, above which no maker of the chemistry goes
    "lithium-iron-phosphate": 14.8,
    "flooded": 16.2,
    "agm": 15.0,
    "gel": 14.8,
}
RESTING_PER_12_V = {  # V, of a charged battery that has rested
    "lithium-iron-phosphate": 13.4,
    "flooded": 12.7,
    "agm": 12.9,
    "gel": 12.9,
}
FULL_AT_PER_12_V = {  # V, below which the chemistry does not get full in a day
    "lithium-iron-phosphate": 13.8,
    "flooded": 14.2,
    "agm": 14.0,
    "gel": 13.8,
}
LOW_VOLTAGE_PER_12_V = {  # V, at the end of discharge under load
    "lithium-iron-phosphate": 11.5,
    "flooded": 10.5,
    "agm": 10.5,
    "gel": 10.5,
}
CHARGE_RATE = {"lithium-iron-phosphate": 0.5, "flooded": 0.2, "agm": 0.3, "gel": 0.2}  # 1/h
CHARGE_RATE_AT_BEST = {"lithium-iron-phosphate": 1.0, "flooded": 0.35, "agm": 1.0, "gel": 0.35}
LOWEST_CHARGE_TEMPERATURE = 0.0  # °C of lithium
HIGHEST_TEMPERATURE = 45.0  # °C of lithium that is charged; labels say 45 to 60
ALTERNATOR_VOLTAGE_PER_12_V = 14.2  # V, regulated
LITHIUM_AT_WORK_PER_12_V = 13.2  # V, in the flat middle of a lithium iron phosphate pack
LITHIUM_TAKES = 0.35  # A from an alternator for each Ah; 0.2 to 0.33 were measured on the road
CHARGER_INPUT_AT_BEST = 0.78  # of a vehicle charger's reckoned input: no loss, battery low
DISCHARGE_RATE = 1.0  # 1/h, what the management of a lithium pack lets out
UNEQUAL_SHARE = 0.8  # of the sum of parallel packs' limits: they never share equally
SHORT_CIRCUIT_PER_AH = {"lithium-iron-phosphate": 60.0, "flooded": 15.0, "agm": 30.0, "gel": 15.0}
"""A for each Ah of one battery; bare lithium cells were seen at 35 to 80, thin-plate AGM at 50."""
SHORT_CIRCUIT_AT_LEAST = {"lithium-iron-phosphate": 5000.0}  # A
RUN_ABOVE_BATTERY = 1.0  # V
PLUG_RATING = {"flat-two-pin": 10.0, "cigar": 8.0, "genderless-50": 50.0}  # A
PLUG_RATING_AT_BEST = {"flat-two-pin": 20.0, "cigar": 20.0, "genderless-50": 75.0}  # A
INVERTER_EFFICIENCY = 0.85
CURRENT_AT_BEST = 0.74  # of a current that rests on assumptions: no loss, and nominal voltage
VEHICLE_CHARGER_EFFICIENCY = 0.88
ALTERNATOR_LOW_VOLTAGE_PER_12_V = 12.5  # V at the input of a vehicle charger

DEPTH_OF_DISCHARGE = {"lithium-iron-phosphate": 0.8, "flooded": 0.5, "agm": 0.5, "gel": 0.5}
TILT = 0.0  # ° of modules
SUN_AT_WORST = 0.30  # of a clear day's sun; months of two typical years lay at 0.43 to 0.82 on the
SUN_AT_BEST = 0.85  # level and at 0.35 to 0.83 on steep planes (NREL, TMY3)
SUN_BEYOND = 1.25  # of very clear air at sea level, for mountains, snow and cold cells
AIR_IN_SEASON = {"winter": 0.25, "spring": 0.5, "summer": 0.75, "autumn": 0.5}
"""Share of the way from the coldest to the hottest air, while the sun shines; else as summer."""
WARMING_OVER_THE_DAY = 0.7  # of the rise of cells at noon
ARRAY_YIELD_AT_WORST = 0.80  # after wires, dirt, low light and unlike modules
ARRAY_YIELD_AT_BEST = 0.95
CONVERSION_AT_WORST = {"mppt": 0.93, "vehicle-charger": 0.88, "pwm": 1.0}
CONVERSION_AT_BEST = {"mppt": 0.98, "vehicle-charger": 0.95, "pwm": 1.0}
STORED_AT_WORST = {"lithium-iron-phosphate": 0.92, "flooded": 0.75, "agm": 0.80, "gel": 0.80}
STORED_AT_BEST = {"lithium-iron-phosphate": 0.98, "flooded": 0.90, "agm": 0.95, "gel": 0.95}
"""Of what goes into a battery, what comes out; the worse of lead gasses at the end of each day."""
INVERTER_IDLE = 0.01  # of an inverter's power, taken when it is on and nothing runs
SWITCHED_ON = 24.0  # h a day of an inverter
STANDBY_CURRENT = 0.03  # A of a controller and the management of a battery together
METER_VOLTAGE = 0.005  # share by which a meter may be off, of the voltage shown
POOR_METER = 0.02  # the same of the worst meter that is worth reading
METER_CURRENT = 0.02  # the same of a clamp
METER_ZERO = 0.3  # A that a clamp may show with nothing in it
METER_IRRADIANCE = 0.05  # share by which a small irradiance meter may be off
SUN_ON_BOX = 25.0  # K by which full sun heats a closed box, with nothing in it that warms
THERMOMETER = 3.0  # K by which one spot of a back may differ from the cells of the whole string
SUN = {"least": 700.0, "likely": 850.0, "most": 1000.0}  # W/m², of a reading in unknown sun
DIMMEST_SUN = 200.0  # W/m², below which a reading is not compared
ROOF_OVER_AIR = 10.0  # K by which a roof or the ground under modules may be hotter than the air
VOC_OF_LABEL = 0.03  # share by which open-circuit voltage may differ from the label (EN 50380)
ISC_OF_LABEL = {"rigid": 0.05, "flexible": 0.10, "folding": 0.10}  # the same of short circuit


@dataclass(frozen=True, slots=True)
class Assumer:
    """Makes assumed values for one plan."""

    plan: Plan

    def _value(
        self,
        key: str,
        subject: str,
        place: Place,
        value: tuple[float, str, str, str],
        says: str,
        instead: str,
    ) -> Value:
        number, unit, symbol, words = value
        return assumed(number, unit, symbol, words, Assumption(key, subject, says, instead, place))

    def coldest(self) -> Value:
        """Lowest air temperature with daylight."""
        setting = self.plan.setting
        number = COLDEST[setting]
        return self._value(
            "coldest temperature",
            "site",
            setting.place,
            (number, "°C", "Tcold", "coldest air with daylight"),
            f"The coldest air with daylight is taken as {number:g} °C, since the plan gives none; "
            "take the coldest place of the route, not the home address.",
            f"site: coldest: {number:g} °C",
        )

    def hottest(self) -> Value:
        """Highest air temperature in the shade."""
        return self._value(
            "hottest temperature",
            "site",
            self.plan.setting.place,
            (HOTTEST, "°C", "Thot", "hottest air"),
            f"The hottest air is taken as {HOTTEST:g} °C, since the plan gives none.",
            f"site: hottest: {HOTTEST:g} °C",
        )

    def coefficient(self, which: str, number: float, subject: str, place: Place) -> Value:
        """A temperature coefficient that the label does not give."""
        quantity = {"voc": "Voc", "vmp": "Vmp", "isc": "Isc"}[which]
        symbol = {"voc": "β", "vmp": "βmp", "isc": "α"}[which]
        return self._value(
            f"{which} coefficient",
            subject,
            place,
            (number, "1/K", symbol, f"temperature coefficient of {quantity}"),
            f"The temperature coefficient of {quantity} of `{subject}` is taken as "
            f"{number * 100:g} %/°C, since its datasheet gives none.",
            f"{which}_coefficient" if which != "vmp" else "pmax_coefficient",
        )

    def system_voltage(self, build: str, subject: str, place: Place) -> Value:
        """Maximum system voltage of a module."""
        number = SYSTEM_VOLTAGE[build]
        return self._value(
            "maximum system voltage",
            subject,
            place,
            (number, "V", "Usys", "maximum system voltage"),
            f"The maximum system voltage of `{subject}` ({build}) is taken as {number:g} V, since "
            "its datasheet gives none.",
            "max_system_voltage",
        )

    def series_fuse(self, number: float, build: str, subject: str, place: Place) -> Value:
        """Maximum series fuse of a module."""
        return self._value(
            "maximum series fuse",
            subject,
            place,
            (number, "A", "Ifuse", f"maximum series fuse of {subject}"),
            f"The maximum series fuse of `{subject}` ({build}) is taken as {number:.3g} A, since "
            "its datasheet gives none.",
            "max_series_fuse",
        )

    def ambient(self, array_side: bool, engine: bool, subject: str, place: Place) -> Value:
        """Hottest air around a conductor."""
        number = ARRAY_AMBIENT if array_side else INSIDE_AMBIENT
        if engine:
            number = ENGINE_AMBIENT.get(self.plan.setting, ENGINE_AMBIENT_ELSEWHERE)
        where = "in an engine space" if engine else "on the array side" if array_side else "inside"
        return self._value(
            "ambient",
            subject,
            place,
            (number, "°C", "Ta", f"ambient of {subject}"),
            f"The air around `{subject}` ({where}) is taken as {number:g} °C, since the plan gives "
            "no `ambient` for its place.",
            "place, with its ambient under site: places",
        )

    def insulation(self, sheet: CableSheet) -> Value:
        """Temperature rating of a cable's insulation."""
        number = INSULATION[sheet.kind]
        sold = f"sold as {sheet.kind} cable" if sheet.kind else "of no stated kind"
        return self._value(
            "insulation temperature",
            sheet.name,
            sheet.at,
            (number, "°C", "Ti", f"insulation temperature of {sheet.name}"),
            f"The insulation of `{sheet.name}`, {sold}, is taken as rated {number:g} °C.",
            "insulation_temperature",
        )

    def cable_voltage(self, sheet: CableSheet) -> Value:
        """Rated voltage of a cable."""
        number = CABLE_VOLTAGE[sheet.kind]
        return self._value(
            "cable voltage",
            sheet.name,
            sheet.at,
            (number, "V", "Ucable", f"rated voltage of {sheet.name}"),
            f"The rated voltage of `{sheet.name}` is taken as {number:g} V, since none is given.",
            "voltage",
        )

    def metal(self, sheet: CableSheet) -> Assumption:
        """That a cable of unstated metal may be copper-clad aluminium."""
        return Assumption(
            "conductor material",
            sheet.name,
            f"`{sheet.name}` does not say what its conductor is made of; such cable is often "
            "copper-clad aluminium, and is reckoned as that.",
            "material: copper",
            sheet.at,
        )

    def factor(self, number: float, words: str, assumption: Assumption) -> Value:
        """A factor that follows from an assumption."""
        return assumed(number, "", "k", words, assumption)

    def charge_voltage(self, chemistry: str, number: float, subject: str, place: Place) -> Value:
        """Highest charge voltage of a bank."""
        return self._value(
            "charge voltage",
            subject,
            place,
            (number, "V", "Ucharge", f"charge voltage of {subject}"),
            f"The charge voltage of `{subject}` is taken as {number:g} V, the upper end for "
            f"{chemistry}.",
            "charge_voltage of the controller, or max_charge_voltage of the battery",
        )

    def low_voltage(self, chemistry: str, number: float, subject: str, place: Place) -> Value:
        """Voltage of a bank at the end of discharge."""
        return self._value(
            "low voltage",
            subject,
            place,
            (number, "V", "Ulow", f"voltage of {subject} when low"),
            f"`{subject}` is taken to fall to {number:g} V under load, as {chemistry} does.",
            "nothing, unless an inverter is meant: its low_voltage then counts for it",
        )

    def efficiency(self, number: float, subject: str, place: Place) -> Value:
        """Efficiency of an inverter or a vehicle charger."""
        return self._value(
            "efficiency",
            subject,
            place,
            (number, "", "η", f"efficiency of {subject}"),
            f"The efficiency of `{subject}` is taken as {number * 100:g} %.",
            "efficiency",
        )

    def depth_of_discharge(self, chemistry: str, subject: str, place: Place) -> Value:
        """Share of a battery's capacity that may be taken out."""
        number = DEPTH_OF_DISCHARGE[chemistry]
        return self._value(
            "depth of discharge",
            subject,
            place,
            (number, "%", f"DoD({subject})", f"depth of discharge of {subject}"),
            f"`{subject}` ({chemistry}) is taken to give {number * 100:g} % of its capacity.",
            "depth_of_discharge",
        )

    def tilt(self, subject: str, place: Place) -> Value:
        """How far modules are raised from level."""
        return self._value(
            "tilt",
            subject,
            place,
            (TILT, "°", f"tilt({subject})", f"tilt of {subject}"),
            f"The modules of `{subject}` are taken to lie level.",
            "tilt, and facing",
        )

    def share_of_clear_sky(self, number: float, words: str, period: str, place: Place) -> Value:
        """Sun of a period, weather included, over that of its clear days."""
        return self._value(
            "sun hours",
            period,
            place,
            (number, "%", "kweather", f"share of a clear day's sun in {words} weather"),
            f"The sun hours of `{period}` are reckoned from the latitude: {SUN_AT_WORST * 100:g} % "
            f"to {SUN_AT_BEST * 100:g} % of its clear days'.",
            "sun_hours, from a table of the place",
        )

    def idle_power(self, power: Value, subject: str, place: Place) -> Value:
        """What an inverter takes when it is on and nothing runs."""
        share = self._value(
            "idle power",
            subject,
            place,
            (INVERTER_IDLE, "%", "kidle", f"idle power of {subject} over its rated power"),
            f"`{subject}` is taken to need {INVERTER_IDLE * 100:g} % of its power when it is on "
            "and nothing runs.",
            "idle_power",
        )
        return (share * power).named(f"Pidle({subject})", f"idle power of {subject}", "W")

    def switched_on(self, subject: str, place: Place) -> Value:
        """Hours a day that an inverter is on."""
        return self._value(
            "hours switched on",
            subject,
            place,
            (SWITCHED_ON * 3600.0, "s", f"ton({subject})", f"hours a day that {subject} is on"),
            f"`{subject}` is taken to be switched on {SWITCHED_ON:g} h a day.",
            "switched_on",
        )

    def standby_current(self, subject: str, place: Place) -> Value:
        """Current of what is never switched off."""
        return self._value(
            "standby",
            subject,
            place,
            (STANDBY_CURRENT, "A", "Istandby", "current of what is never switched off"),
            f"What is never switched off at `{subject}` is taken to draw "
            f"{STANDBY_CURRENT * 1000:g} mA.",
            "energy: standby",
        )

    def charge_rate(self, chemistry: str, subject: str, place: Place) -> Value:
        """Charge current per capacity that a battery stands."""
        number = CHARGE_RATE[chemistry]
        return self._value(
            "charge limit",
            subject,
            place,
            (number / 3600.0, "1/s", "c", f"charge rate of {subject}"),
            f"`{subject}` ({chemistry}) is taken to stand {number:g} A of charge for each Ah, "
            "since its label gives no limit.",
            "max_charge_current",
        )

    def discharge_rate(self, number: float, subject: str, place: Place) -> Value:
        """Discharge current per capacity that a lithium pack lets out."""
        return self._value(
            "discharge limit",
            subject,
            place,
            (number / 3600.0, "1/s", "c", f"discharge rate of {subject}"),
            f"`{subject}` is taken to give {number:g} A for each Ah before its management cuts "
            "it off, since its label gives no limit.",
            "max_discharge_current",
        )

    def no_cutoff(self, subject: str, place: Place) -> Value:
        """That nothing stops the charge of a cold battery, where nothing is said of it."""
        return self._value(
            "cut-off in the cold",
            subject,
            place,
            (0.0, "", "ncut", f"cut-offs in the cold at {subject}"),
            f"Nothing is taken to stop the charge of `{subject}` in the cold, since neither its "
            "label nor what charges it is said to.",
            "low_temperature_cutoff",
        )

    def coldest_charge(self, number: float, subject: str, place: Place) -> Value:
        """Lowest temperature at which a lithium battery may be charged."""
        return self._value(
            "charge temperature",
            subject,
            place,
            (number, "°C", "Tmin", f"lowest charge temperature of {subject}"),
            f"`{subject}` is taken to stand no charge below {number:g} °C, since its label gives "
            "no limit.",
            "min_charge_temperature",
        )

    def short_circuit(self, chemistry: str, amps: float, subject: str, place: Place) -> Value:
        """Short-circuit current of one battery."""
        return self._value(
            "short-circuit current",
            subject,
            place,
            (amps, "A", "Ik", f"short-circuit current of one battery of {subject}"),
            f"A battery of `{subject}` ({chemistry}) is taken to drive {amps:g} A into a short at "
            "its terminals, since its label gives neither that nor a resistance.",
            "short_circuit_current",
        )

    def surge(self, power: Quantity, subject: str, place: Place) -> Value:
        """Power that an inverter gives for the seconds of a start."""
        return self._value(
            "surge power",
            subject,
            place,
            (power.value, "W", f"Psurge({subject})", f"surge power of {subject}"),
            f"`{subject}` is taken to give no more than its continuous {power} even for the "
            "seconds of a start, since its label gives no surge power.",
            "surge",
        )

    def run_margin(self, subject: str, place: Place) -> Value:
        """Voltage above the battery that a tracker needs to go on."""
        return self._value(
            "running margin",
            subject,
            place,
            (RUN_ABOVE_BATTERY, "V", "ΔUrun", f"running margin of {subject}"),
            f"`{subject}` is taken to need {RUN_ABOVE_BATTERY:g} V more than the battery to go on.",
            "run_above_battery",
        )

    def device_voltage(self, number: float, subject: str, style: str, place: Place) -> Value:
        """DC voltage that a style of device usually stands."""
        return self._value(
            "device voltage",
            subject,
            place,
            (number, "V", "Un", f"rated voltage of {subject}"),
            f"`{subject}` is taken as rated {number:g} V DC, the least that a {style} is made for.",
            "voltage",
        )

    def interrupt(self, number: float, subject: str, style: str, place: Place) -> Value:
        """Fault current that a style of device usually breaks."""
        return self._value(
            "interrupt rating",
            subject,
            place,
            (number, "A", f"Ibreak({subject})", f"interrupt rating of {subject}"),
            f"`{subject}` is taken to break {number:g} A, the least that a {style} is made for.",
            "interrupt",
        )

    def plug_rating(self, plug: str, subject: str, place: Place) -> Value:
        """Rated current of a small plug."""
        number = PLUG_RATING[plug]
        return self._value(
            "plug rating",
            subject,
            place,
            (number, "A", f"In({subject} plug)", f"rating of the plug in {subject}"),
            f"The {plug} plug in `{subject}` is taken as good for {number:g} A, since no rating is "
            "given.",
            "plug_rating",
        )

    def mounting(self, subject: str, place: Place) -> Assumption:
        """That modules of unstated mounting lie on a skin."""
        return Assumption(
            "mounting",
            subject,
            f"`{subject}` does not say how it is mounted; its cells are taken as hot as if bonded "
            "to a roof.",
            "mounting",
            place,
        )

    def rear_light(self, light: Value, subject: str, place: Place) -> Value:
        """That light reaches the back of modules of unstated mounting."""
        doubt = Assumption(
            "mounting",
            subject,
            f"`{subject}` does not say how it is mounted; light is taken to reach the backs of its "
            "modules.",
            "mounting",
            place,
        )
        return assumed(light.number, "", light.symbol, light.words, doubt)

    def highest_temperature(self, subject: str, place: Place) -> Value:
        """Highest temperature at which a lithium battery may be used."""
        number = HIGHEST_TEMPERATURE
        return self._value(
            "highest temperature",
            subject,
            place,
            (number, "°C", f"Tmax({subject})", f"highest temperature of {subject}"),
            f"`{subject}` is taken to stand {number:g} °C while it is charged, as most labels "
            "of lithium say, since its own gives no limit.",
            "max_temperature",
        )

    def meter(self, which: str, number: float, unit: str, subject: str, place: Place) -> Value:
        """How far the meter of a reading may be off."""
        shown = f"{number * 100:g} %" if unit == "%" else f"{number:g} {unit}"
        says = (
            f"The {which} that the meter shows in `{subject}` is taken as off by {shown} at most."
        )
        if which == "zero":
            says = f"The clamp of `{subject}` is taken to show up to {shown} with no current in it."
        symbol = {"voltage": "tolU", "current": "tolI", "zero": "I0", "irradiance": "tolG"}[which]
        return self._value(
            f"meter, {which}",
            subject,
            place,
            (number, unit, symbol, f"{which} of the meter"),
            says,
            f"meter: {which}",
        )

    def sun(self, which: str, subject: str, place: Place) -> Value:
        """Irradiance during a reading that does not tell it."""
        return self._value(
            "irradiance of a reading",
            subject,
            place,
            (SUN[which], "W/m²", "G", f"irradiance at {subject}"),
            f"`{subject}` does not tell the sun; it is taken as between {SUN['least']:g} and "
            f"{SUN['most']:g} W/m².",
            "irradiance, in the plane of the modules",
        )

    def cells_over_air(self, number: float, symbol: str, subject: str, place: Place) -> Value:
        """How much hotter than the air cells were during a reading."""
        return self._value(
            "cells over air",
            subject,
            place,
            (number, "K", symbol, f"cells over air at {subject}"),
            f"The cells of `{subject}` are taken as between as cool as the air and as hot as its "
            "mounting makes them without wind, over a hot roof where they lie on one.",
            "back_temperature, measured behind a cell",
        )

    def cells_of_site(self, number: float, subject: str, place: Place) -> Value:
        """Temperature of cells during a reading that tells none."""
        return self._value(
            "cells of a reading",
            subject,
            place,
            (number, "°C", "Tcell", f"cells at {subject}"),
            f"`{subject}` tells no temperature; its cells are taken as anything between the "
            "coldest air and the hottest noon of the site.",
            "back_temperature, or air_temperature",
        )

    def noted(self, key: str, subject: str, says: str, instead: str, place: Place) -> Assumption:
        """An assumption that no number carries: the truth could only make matters worse."""
        return Assumption(key, subject, says, instead, place)
