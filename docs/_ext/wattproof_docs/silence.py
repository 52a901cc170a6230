"""What is assumed where a plan is silent, from the values in `wattproof.study.assumptions`."""

from __future__ import annotations

import inspect
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from wattproof.study import assumptions
from wattproof_docs.markdown import plain, table


@dataclass(frozen=True)
class Silence:
    """A figure that stands in for a key.

    key: model and key of the plan language, empty where none. name: the constant that holds it.
    words: what it is. unit: how it is shown; shares and coefficients are shown in per cent.
    """

    key: str
    name: str
    words: str
    unit: str
    of: str = ""


SECTIONS = {
    "Climate": (
        Silence("Site.coldest", "COLDEST", "coldest air with daylight", "°C"),
        Silence("Site.hottest", "HOTTEST", "hottest air in the shade", "°C"),
        Silence(
            "Surroundings.ambient",
            "ARRAY_AMBIENT",
            "air around wires and devices on the array side",
            "°C",
        ),
        Silence(
            "Surroundings.ambient", "INSIDE_AMBIENT", "air around wires and devices inside", "°C"
        ),
        Silence("Surroundings.ambient", "ENGINE_AMBIENT", "air in an engine space", "°C"),
        Silence(
            "Surroundings.ambient",
            "ENGINE_AMBIENT_ELSEWHERE",
            "air in any other engine space, as under a bonnet",
            "°C",
        ),
    ),
    "Modules": (
        Silence(
            "ModuleSheet.voc_coefficient",
            "VOC_COEFFICIENT",
            "change of open-circuit voltage, where the body of rules has no table for it"
            " (labels of crystalline modules lie between −0.24 and −0.36)",
            "%/°C",
        ),
        Silence(
            "ModuleSheet.vmp_coefficient",
            "VMP_COEFFICIENT",
            "change of voltage at maximum power, where that of power does not tell it",
            "%/°C",
        ),
        Silence(
            "ModuleSheet.isc_coefficient",
            "ISC_COEFFICIENT",
            "change of short-circuit current (labels lie between 0.03 and 0.06)",
            "%/°C",
        ),
        Silence(
            "ModuleSheet.cells_in_series",
            "VOC_PER_CELL",
            "open-circuit voltage of a cell, from which the number of cells is told",
            "V",
        ),
        Silence(
            "ModuleSheet.bypass_diodes",
            "BYPASS_GROUPS",
            "bypass diodes of a rigid module of some size; none on others",
            "",
        ),
        Silence(
            "", "BYPASS_GROUPS_FROM", "power from which a rigid module counts as of some size", "W"
        ),
        Silence(
            "ModuleSheet.max_series_fuse",
            "SERIES_FUSE",
            "largest series fuse, at least; more where its current asks for it",
            "A",
        ),
        Silence("", "SERIES_FUSE_LARGEST", "largest series fuse that is ever assumed", "A"),
        Silence("ModuleSheet.max_system_voltage", "SYSTEM_VOLTAGE", "largest system voltage", "V"),
        Silence("String.mounting", "MOUNTING", "mounting, the hottest", ""),
    ),
    "Cables and plugs": (
        Silence(
            "CableSheet.insulation_temperature",
            "INSULATION",
            "temperature rating of the insulation",
            "°C",
            "no kind stated",
        ),
        Silence("CableSheet.voltage", "CABLE_VOLTAGE", "rated voltage", "V", "no kind stated"),
        Silence(
            "CableSheet.material",
            "SURE_COPPER",
            "cables taken as copper; others may be copper-clad aluminium and are reckoned so",
            "",
        ),
        Silence(
            "",
            "DROP_TEMPERATURE",
            "temperature of a conductor at full load, when its drop is reckoned",
            "°C",
        ),
        Silence("", "COLD_TEMPERATURE", "temperature of a conductor when a fault begins", "°C"),
        Silence("Wire.plug_rating", "PLUG_RATING", "rating of a small plug", "A"),
        Silence(
            "",
            "PLUG_RATING_AT_BEST",
            "rating of a small plug at the very best, above which an error is sure",
            "A",
        ),
    ),
    "Batteries": (
        Silence(
            "Battery.max_charge_voltage",
            "CHARGE_VOLTAGE_PER_12_V",
            "highest charge voltage, for each 12 V",
            "V",
        ),
        Silence(
            "",
            "CHARGE_VOLTAGE_AT_BEST_PER_12_V",
            "charge voltage above which no maker goes, for each 12 V",
            "V",
        ),
        Silence(
            "Battery.max_temperature",
            "HIGHEST_TEMPERATURE",
            "highest temperature of the air around lithium that is charged (labels say 45 to 60)",
            "°C",
        ),
        Silence("", "RESTING_PER_12_V", "voltage of a charged battery at rest, for each 12 V", "V"),
        Silence(
            "",
            "FULL_AT_PER_12_V",
            "voltage below which it does not get full in a day, for each 12 V",
            "V",
        ),
        Silence(
            "Inverter.low_voltage",
            "LOW_VOLTAGE_PER_12_V",
            "voltage at the end of discharge under load, for each 12 V",
            "V",
        ),
        Silence(
            "Battery.max_charge_current",
            "CHARGE_RATE",
            "charge current that a battery stands, for each Ah",
            "A",
        ),
        Silence("", "CHARGE_RATE_AT_BEST", "charge current at the very best, for each Ah", "A"),
        Silence(
            "Battery.max_discharge_current",
            "DISCHARGE_RATE",
            "discharge current of a lithium battery, for each Ah",
            "A",
        ),
        Silence(
            "",
            "UNEQUAL_SHARE",
            "what packs in parallel stand of their limits together, never sharing equally",
            "%",
        ),
        Silence(
            "Battery.short_circuit_current",
            "SHORT_CIRCUIT_PER_AH",
            "short-circuit current of one battery, for each Ah (bare lithium cells were seen"
            " at 35 to 80 A, thin-plate AGM at 50 A)",
            "A",
        ),
        Silence(
            "", "SHORT_CIRCUIT_AT_LEAST", "short-circuit current of one battery, at least", "A"
        ),
    ),
    "Energy": (
        Silence(
            "Battery.depth_of_discharge",
            "DEPTH_OF_DISCHARGE",
            "share of the capacity that is taken out",
            "%",
        ),
        Silence("String.tilt", "TILT", "tilt of modules: level", "°"),
        Silence(
            "Energy.sun_hours",
            "SUN_AT_WORST",
            "share of a clear day's sun at the latitude, at least",
            "%",
        ),
        Silence("", "SUN_AT_BEST", "share of a clear day's sun at the latitude, at most", "%"),
        Silence(
            "",
            "SUN_BEYOND",
            "factor on the sun of very clear air, for mountains, snow and cold cells",
            "",
        ),
        Silence(
            "",
            "AIR_IN_SEASON",
            "air while the sun shines, on the way from the coldest to the hottest",
            "%",
        ),
        Silence(
            "", "WARMING_OVER_THE_DAY", "rise of cells over the day's sun, of that at noon", "%"
        ),
        Silence("", "ARRAY_YIELD_AT_WORST", "left after wires, dirt and low light, at least", "%"),
        Silence("", "ARRAY_YIELD_AT_BEST", "left after wires, dirt and low light, at most", "%"),
        Silence("", "CONVERSION_AT_WORST", "passed on by a controller, at least", "%"),
        Silence("", "CONVERSION_AT_BEST", "passed on by a controller, at most", "%"),
        Silence("", "STORED_AT_WORST", "given back by a battery, at least", "%"),
        Silence("", "STORED_AT_BEST", "given back by a battery, at most", "%"),
        Silence(
            "Inverter.idle_power",
            "INVERTER_IDLE",
            "idle power of an inverter over its rated power",
            "%",
        ),
        Silence("Use.switched_on", "SWITCHED_ON", "hours a day that an inverter is on", "h"),
        Silence("Energy.standby", "STANDBY_CURRENT", "current of what is never switched off", "A"),
    ),
    "Controllers, inverters and chargers": (
        Silence(
            "Controller.run_above_battery",
            "RUN_ABOVE_BATTERY",
            "voltage above the battery that a tracker needs to go on",
            "V",
        ),
        Silence("Inverter.efficiency", "INVERTER_EFFICIENCY", "efficiency of an inverter", "%"),
        Silence(
            "",
            "CURRENT_AT_BEST",
            "share of an assumed current that surely flows, with no loss and at nominal voltage",
            "%",
        ),
        Silence("", "VEHICLE_CHARGER_EFFICIENCY", "efficiency of a vehicle charger", "%"),
        Silence(
            "",
            "ALTERNATOR_LOW_VOLTAGE_PER_12_V",
            "lowest voltage at the input of a vehicle charger, for each 12 V",
            "V",
        ),
    ),
    "Readings": (
        Silence("Meter.voltage", "METER_VOLTAGE", "error of the voltage shown", "%"),
        Silence("Meter.current", "METER_CURRENT", "error of the current shown", "%"),
        Silence("Meter.zero", "METER_ZERO", "what a clamp shows with no current in it", "A"),
        Silence("Meter.irradiance", "METER_IRRADIANCE", "error of the irradiance shown", "%"),
        Silence(
            "Reading.irradiance",
            "SUN",
            "sun during a reading, where not even a short-circuit current tells it",
            "W/m²",
        ),
        Silence("", "DIMMEST_SUN", "sun below which a reading is not compared", "W/m²"),
        Silence(
            "",
            "THERMOMETER",
            "what one spot on a back differs from the cells of the whole string",
            "K",
        ),
        Silence("", "SUN_ON_BOX", "what full sun heats a box by, of a joint in a sunny place", "K"),
        Silence(
            "Reading.back_temperature",
            "ROOF_OVER_AIR",
            "roof or ground under modules over the air, at most, added to what mounting and calm"
            " air make of cells",
            "K",
        ),
        Silence("", "VOC_OF_LABEL", "what open-circuit voltage differs from its label", "%"),
        Silence("", "ISC_OF_LABEL", "what short-circuit current differs from its label", "%"),
    ),
}


def when_silent(key: str) -> str:
    """What is assumed for a key (`Model.key`) of the plan language; empty where nothing is."""
    return "; ".join(
        f"{each.words}, {_shown(each)}"
        for rows in SECTIONS.values()
        for each in rows
        if each.key == key
    )


def page() -> str:
    """All assumed figures; a figure that has no words here is shown under its own name."""
    notes = _notes()
    text = ""
    for title, silences in SECTIONS.items():
        rows = [(plain(s.words), _shown(s)) for s in silences]
        text += f"## {title}\n\n" + table(("What", "Taken as"), rows)
    worded = {s.name for rows in SECTIONS.values() for s in rows}
    further = [
        (
            f"{name.replace('_', ' ').capitalize()} ({plain(notes.get(name, ''))})",
            _values(value, ""),
        )
        for name, value in figures().items()
        if name not in worded
    ]
    if further:
        text += "## Further figures\n\n" + table(("What", "Taken as"), further)
    return text


def figures() -> dict[str, Any]:
    """Every constant of the module that holds figures."""
    return {
        name: value
        for name, value in vars(assumptions).items()
        if name.isupper() and (isinstance(value, float | int) or _is_figures(value))
    }


def _is_figures(value: Any) -> bool:
    return isinstance(value, Mapping) and all(isinstance(v, float | int) for v in value.values())


def _notes() -> dict[str, str]:
    """What the source says beside each constant."""
    source = inspect.getsource(assumptions)
    found = re.findall(r"^([A-Z][A-Z0-9_]+) = [^#\n]*# (.*)$", source, flags=re.MULTILINE)
    return dict(found)


def _shown(silence: Silence) -> str:
    return _values(getattr(assumptions, silence.name), silence.unit, silence.of)


def _values(value: Any, unit: str, none: str = "otherwise") -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{key or none} {_number(v, unit)}" for key, v in value.items())
    if isinstance(value, tuple):
        return ", ".join(str(v) for v in value)
    return _number(value, unit)


def _number(value: Any, unit: str) -> str:
    if not isinstance(value, float | int):
        return str(value)
    scaled = value * 100 if unit.startswith("%") else value
    return f"{scaled:.4g} {unit}".strip().replace("-", "\u2212")
