"""Other words for the keys of a plan: those of the trade, and of other languages."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import Final

LOW_VOLTAGES: Final = (
    "low_voltage_cutoff", "low_voltage_disconnect", "low_voltage", "lvd", "cutoff_voltage",
    "discharge_cutoff", "min_voltage",
)  # fmt: skip
_AMPS: Final = dict.fromkeys(("amps", "amperage", "a", "current", "max_current"), "rating")
_FUSE: Final = {
    **_AMPS,
    "value": "rating",
    "size": "rating",
    **dict.fromkeys(("aic", "air", "kaic"), "interrupt"),
    "breaking_capacity": "interrupt",
    "interrupting": "interrupt",
    "interrupt_rating": "interrupt",
    **dict.fromkeys(("type", "kind", "class"), "style"),
    **dict.fromkeys(("max_voltage", "volts", "v"), "voltage"),
}
_CONTROLLER_TYPE: Final = {
    **dict.fromkeys(("type", "technology"), "kind"),
    **dict.fromkeys(("battery_voltage", "system_voltage"), "nominal"),
    **dict.fromkeys(
        (
            *("max_voltage", "max_pv_voltage", "pv_voltage", "max_voc", "voc_max", "input_voltage"),
            *("max_solar_voltage", "solar_voltage", "max_pv_input_voltage", "pv_input_voltage"),
            "input",
        ),
        "max_input_voltage",
    ),
    **dict.fromkeys(
        ("max_pv_current", "max_isc", "isc_max", "input_current", "pv_current", "solar_current"),
        "max_input_current",
    ),
    "max_usable_current": "usable_input_current",
    "usable_current": "usable_input_current",
    "operating_current": "usable_input_current",
    "max_operating_current": "usable_input_current",
    **dict.fromkeys(
        (
            *("rating", "current", "max_current", "output_current", "charge_current", "amps"),
            *("amperage", "output", "max_charge_current", "charging_current", "max_output"),
        ),
        "max_output_current",
    ),
}
_CHARGE: Final = {
    **dict.fromkeys(
        (
            *("absorption_voltage", "absorption", "absorb_voltage", "absorb", "bulk_voltage"),
            *("bulk", "boost_voltage", "max_charge_voltage"),
        ),
        "charge_voltage",
    ),
    "float": "float_voltage",
    **dict.fromkeys(("temperature_compensated", "compensated"), "compensates_temperature"),
    **dict.fromkeys(
        ("equalize", "equalise", "equalization_voltage", "equalisation_voltage"),
        "equalise_voltage",
    ),
}
_BATTERY: Final = {
    **dict.fromkeys(
        ("ah", "amp_hours", "amphours", "amp_hour", "size", "rating", "storage"), "capacity"
    ),
    **dict.fromkeys(("volts", "v"), "nominal"),
    **dict.fromkeys(("type", "kind", "technology", "chemistry_type", "tech"), "chemistry"),
    **dict.fromkeys(("continuous_current", "discharge", "max_discharge"), "max_discharge_current"),
    **dict.fromkeys(("max_charge", "charge_rate", "max_charge_rate"), "max_charge_current"),
    **dict.fromkeys(
        ("cold_cutoff", "low_temp_cutoff", "low_temp_protection", "low_temperature_protection"),
        "low_temperature_cutoff",
    ),
    **dict.fromkeys(("configuration", "config", "layout", "wiring"), "arrangement"),
    "dod": "depth_of_discharge",
    "voltage": "nominal",
    "charge_voltage": "max_charge_voltage",
    "charge_current": "max_charge_current",
    "discharge_current": "max_discharge_current",
}

_READING: Final = {
    **dict.fromkeys(
        ("place", "where", "location", "terminal", "part", "component", "position", "point"), "at"
    ),
    **dict.fromkeys(("when", "moment", "conditions", "note"), "taken"),
    **dict.fromkeys(("day", "on"), "date"),
    **dict.fromkeys(("hour", "clock", "time_of_day"), "time"),
    **dict.fromkeys(
        (
            *("open", "open_voltage", "open_circuit", "open_circuit_voltage", "uoc", "v_oc"),
            *("no_load_voltage", "idle_voltage"),
        ),
        "voc",
    ),
    **dict.fromkeys(
        ("short", "short_circuit", "short_circuit_current", "short_current", "i_sc", "ik"), "isc"
    ),
    **dict.fromkeys(
        (
            *("volts", "volt", "v", "u", "vmp", "working_voltage", "operating_voltage"),
            *("solar_voltage", "array_voltage", "panel_voltage"),
        ),
        "voltage",
    ),
    **dict.fromkeys(
        (
            *("amps", "amp", "amperage", "a", "i", "imp", "working_current", "operating_current"),
            *("charge_current", "solar_current", "array_current", "clamp"),
        ),
        "current",
    ),
    **dict.fromkeys(
        ("watts", "watt", "w", "p", "pmax", "solar_power", "array_power", "output"), "power"
    ),
    **dict.fromkeys(
        ("yield", "kwh", "wh", "energy", "energy_today", "yield_today", "today", "harvest"),
        "day_yield",
    ),
    **dict.fromkeys(
        ("sun", "sunlight", "sunshine", "insolation", "light", "radiation"), "irradiance"
    ),
    **dict.fromkeys(("weather", "clouds", "cloud"), "sky"),
    **dict.fromkeys(
        ("module_temperature", "panel_temperature", "module_temp", "panel_temp", "cells", "back"),
        "back_temperature",
    ),
    **dict.fromkeys(
        ("air", "ambient", "ambient_temperature", "outside_temperature", "air_temp"),
        "air_temperature",
    ),
    **dict.fromkeys(
        ("terminal_temperature", "surface_temperature", "lug_temperature", "fuse_temperature"),
        "joint_temperature",
    ),
    **dict.fromkeys(("mode", "state", "phase", "charge_stage", "charging_stage"), "stage"),
    **dict.fromkeys(("voltage_drop", "mv", "loss"), "drop"),
    **dict.fromkeys(("posts", "at_posts", "battery_posts"), "posts_voltage"),
    **dict.fromkeys(("accuracy", "tolerance"), "meter"),
}
RENAMED: Final[Mapping[str, Mapping[str, str]]] = {
    "ModuleSheet": {
        **dict.fromkeys(("construction", "form", "flexible", "folding", "rigid"), "build"),
        "type": "build",
        **dict.fromkeys(
            ("power", "watts", "rating", "pmp", "pmpp", "wp", "peak_power", "max_power", "wattage"),
            "pmax",
        ),
        **dict.fromkeys(("open_circuit_voltage", "uoc", "open_voltage"), "voc"),
        **dict.fromkeys(("short_circuit_current", "short_current", "isc_current"), "isc"),
        **dict.fromkeys(
            (
                *("vmpp", "vpm", "umpp", "ump", "vpmax", "mpp_voltage", "max_power_voltage"),
                *("voltage_at_max_power", "voltage_at_maximum_power", "operating_voltage"),
            ),
            "vmp",
        ),
        **dict.fromkeys(
            (
                *("impp", "ipm", "ipmax", "mpp_current", "max_power_current"),
                *("current_at_max_power", "current_at_maximum_power", "operating_current"),
            ),
            "imp",
        ),
        **dict.fromkeys(
            ("max_fuse", "fuse", "fuse_rating", "max_fuse_rating", "max_series_fuse_rating"),
            "max_series_fuse",
        ),
        "max_voltage": "max_system_voltage",
        "system_voltage": "max_system_voltage",
        **dict.fromkeys(("cells", "number_of_cells", "cell_count"), "cells_in_series"),
        "diodes": "bypass_diodes",
    },
    "Datasheets": {
        **dict.fromkeys(("module", "panels", "panel", "solar_panels", "solar"), "modules"),
        **dict.fromkeys(("cable", "wires", "wire"), "cables"),
    },
    "CableSheet": {
        **dict.fromkeys(
            ("gauge", "awg", "area", "section", "cross_section", "mm2", "wire_size", "csa"), "size"
        ),
        **dict.fromkeys(
            (
                *("temperature", "rating", "insulation", "temp", "temp_rating"),
                *("max_temperature", "max_temp", "insulation_rating"),
            ),
            "insulation_temperature",
        ),
        **dict.fromkeys(("volts", "max_voltage", "insulation_voltage"), "voltage"),
        "metal": "material",
        "conductor": "material",
    },
    "Fuse": _FUSE,
    "Breaker": _FUSE,
    "Switch": {**_AMPS, "max_voltage": "voltage", "volts": "voltage"},
    "Busbar": {**_AMPS, "ampacity": "rating", "volts": "voltage"},
    "Distribution": {
        **_AMPS,
        **dict.fromkeys(
            ("circuits", "outputs", "branches", "fuses", "positions", "breakers", "slots"), "ways"
        ),
    },
    "Combiner": {
        **dict.fromkeys(("inputs", "members", "strings", "from", "joined"), "joins"),
        **dict.fromkeys(("type", "style"), "kind"),
        "to": "feeds",
    },
    "Isolator": {**_AMPS, "batteries": "outputs"},
    "Selector": _AMPS,
    "Starter": dict.fromkeys(
        ("amps", "amperage", "rating", "cranking_current", "start_current", "max_current"),
        "current",
    ),
    "Controller": {**_CONTROLLER_TYPE, **_CHARGE},
    "InverterCharger": {
        **_CHARGE,
        **dict.fromkeys(("watts", "rating", "continuous_power", "inverter_power"), "power"),
        **dict.fromkeys(("peak", "peak_power", "surge_power"), "surge"),
        **dict.fromkeys(("charge_current", "charger_current"), "max_output_current"),
        **dict.fromkeys(("battery_voltage", "system_voltage"), "nominal"),
    },
    "Converter": {
        **_CHARGE,
        **dict.fromkeys(("input", "input_voltage", "vin", "from"), "input_nominal"),
        **dict.fromkeys(("output", "output_voltage", "vout", "to"), "output_nominal"),
        **dict.fromkeys(
            ("rating", "current", "amps", "output_current", "max_current"), "max_output_current"
        ),
    },
    "PowerBox": {
        **{
            word: right
            for word, right in _CONTROLLER_TYPE.items()
            if right in ("max_input_voltage", "max_input_current", "usable_input_current")
        },
        **dict.fromkeys(
            ("max_power", "max_solar_power", "max_pv_power", "input_power", "solar_power"),
            "max_input_power",
        ),
    },
    "String": {
        "removable": "portable",
        "folding": "portable",
        **dict.fromkeys(("panel", "panels", "solar_panel", "solar", "modul"), "module"),
        **dict.fromkeys(("in_series", "modules_in_series", "panels_in_series"), "series"),
        **dict.fromkeys(("angle", "inclination", "slope", "pitch"), "tilt"),
        **dict.fromkeys(("azimuth", "orientation", "direction", "aspect"), "facing"),
        **dict.fromkeys(("mount", "mounted", "installation"), "mounting"),
        **dict.fromkeys(("to", "controller"), "feeds"),
    },
    "EachPack": {"breaker": "fuse"},
    "Battery": _BATTERY,
    "Inverter": {
        **dict.fromkeys(
            (
                *("watts", "rating", "continuous", "continuous_power", "output_power", "wattage"),
                *("output", "max_continuous_power"),
            ),
            "power",
        ),
        **dict.fromkeys(("peak", "peak_power", "surge_power", "max_power"), "surge"),
        **dict.fromkeys(
            ("voltage", "input_voltage", "battery_voltage", "system_voltage", "dc_voltage"),
            "nominal",
        ),
        **{word: "low_voltage" for word in LOW_VOLTAGES if word != "low_voltage"},
        "eff": "efficiency",
        **dict.fromkeys(("standby", "idle", "no_load", "self_consumption"), "idle_power"),
    },
    "Load": {
        **dict.fromkeys(("watts", "wattage", "consumption"), "power"),
        **dict.fromkeys(("amps", "amperage", "draw", "rating"), "current"),
        **dict.fromkeys(("voltage", "volts"), "nominal"),
    },
    "Charger": {
        "type": "kind",
        **dict.fromkeys(
            ("rating", "current", "output", "amps", "amperage", "max_current", "output_current"),
            "max_output_current",
        ),
        **dict.fromkeys(("output_voltage", "charging_voltage"), "charge_voltage"),
        **dict.fromkeys(("battery_voltage", "system_voltage"), "nominal"),
        **_CHARGE,
    },
    "Wire": {
        **dict.fromkeys(("start", "source", "begin", "src", "begins", "origin"), "from"),
        **dict.fromkeys(("end", "destination", "target", "dest", "ends"), "to"),
        **dict.fromkeys(("wire", "type", "cable_type", "wire_type"), "cable"),
        **dict.fromkeys(
            ("run_length", "len", "one_way_length", "length_one_way", "one_way"), "length"
        ),
        **dict.fromkeys(("in_line", "in_between"), "inline"),
        **dict.fromkeys(("route", "places", "through"), "place"),
        "polarity": "pole",
        **dict.fromkeys(("sheathed", "loom", "in_loom", "in_conduit", "sleeved"), "enclosed"),
        **dict.fromkeys(("routing", "laid", "method", "installation", "laying"), "run"),
    },
    "Bond": {
        **dict.fromkeys(("start", "source", "begin", "src"), "from"),
        **dict.fromkeys(("end", "destination", "target", "dest"), "to"),
        **dict.fromkeys(("wire", "type", "cable_type", "wire_type"), "cable"),
    },
    "Way": dict.fromkeys(("rating", "amps", "amperage", "current", "size"), "fuse"),
    "Site": {
        **dict.fromkeys(
            (
                *("min_temp", "min", "min_temperature", "lowest", "tmin", "record_low", "cold"),
                *("coldest_temperature", "lowest_temperature", "minimum"),
            ),
            "coldest",
        ),
        **dict.fromkeys(
            (
                *("max_temp", "max", "max_temperature", "highest", "tmax", "record_high", "hot"),
                *("hottest_temperature", "highest_temperature", "maximum"),
            ),
            "hottest",
        ),
        **dict.fromkeys(("altitude", "elevation"), "height"),
        "lat": "latitude",
        **dict.fromkeys(("locations", "surroundings", "zones", "rooms", "areas"), "places"),
    },
    "Surroundings": dict.fromkeys(
        (
            *("temperature", "temp", "max_temperature", "max_temp", "ambient_temperature"),
            *("hottest", "hot", "max"),
        ),
        "ambient",
    ),
    "Energy": {
        "weather": "sky",
        **dict.fromkeys(("peak_sun_hours", "psh", "sun"), "sun_hours"),
        **dict.fromkeys(("loads", "consumption", "consumers"), "uses"),
    },
    "Meter": {"volts": "voltage", "amps": "current", "watts": "power"},
    "Reading": _READING,
    "Use": {
        **dict.fromkeys(("hours_per_day", "time", "h", "daily_hours"), "hours"),
        **dict.fromkeys(("wh", "daily_energy", "consumption", "kwh"), "energy"),
    },
    "Plan": {
        **{
            family.removesuffix("es" if family == "switches" else "s"): family
            for family in (
                *("inverters", "loads", "fuses", "breakers", "switches", "wires", "strings"),
                *("chargers", "busbars", "converters", "heaters", "combiners", "selectors"),
            )
        },
        "type": "setting",
        "battery": "batteries",
        "bank": "batteries",
        "banks": "batteries",
        "array": "strings",
        "arrays": "strings",
        "controller": "controllers",
        "charge_controllers": "controllers",
        "mppt": "controllers",
        "name": "title",
        **dict.fromkeys(
            ("solar_controller", "charge_controller", "solar_regulator", "solar_charge_controller"),
            "controllers",
        ),
        **dict.fromkeys(
            (
                *("isolators", "disconnects", "relays", "disconnect_switches", "battery_switches"),
                *("isolator_switches", "disconnectors"),
            ),
            "switches",
        ),
        **dict.fromkeys(("consumers", "appliances"), "loads"),
        **dict.fromkeys(("mcbs", "mccbs", "circuit_breakers"), "breakers"),
        **dict.fromkeys(("buses", "bus_bars", "bars"), "busbars"),
        **dict.fromkeys(("connections", "wiring", "leads", "links"), "wires"),
        **dict.fromkeys(
            ("mppts", "solar_regulators", "scc", "solar_charge_controllers"), "controllers"
        ),
        **dict.fromkeys(("accus", "battery_bank", "battery_banks"), "batteries"),
        **dict.fromkeys(("grounds", "grounding", "earthing", "earths"), "bonds"),
        **dict.fromkeys(("step_downs", "dc_converters", "buck_converters"), "converters"),
        **dict.fromkeys(
            ("distribution_panels", "fuse_boxes", "fuse_blocks", "fuse_panel", "dc_panel"),
            "distribution",
        ),
        **dict.fromkeys(("environment", "installation", "vehicle_type"), "setting"),
        "diode_splitters": "diode_isolators",
        "battery_isolators": "diode_isolators",
        "battery_selectors": "selectors",
        "selector_switches": "selectors",
        "inverter_charger": "inverter_chargers",
        **dict.fromkeys(("combi", "combis"), "inverter_chargers"),
        **dict.fromkeys(("fuse_holders",), "fuses"),
        "starter": "starters",
        "starter_motors": "starters",
        "power_stations": "power_boxes",
        "power_station": "power_boxes",
        "afci": "arc_fault_devices",
        "battery_heaters": "heaters",
        "alternator": "chargers",
        "wind_generator": "chargers",
        "wind_generators": "chargers",
        "wind_turbines": "chargers",
        "water_generators": "chargers",
        "alternators": "chargers",
        "joints": "combiners",
        "panel_board": "distribution",
        "fuse_box": "distribution",
        "rules": "code",
        "standard": "code",
    },
}
"""Other words for a key, by model."""

OR_BY_UNIT: Final[Mapping[str, Mapping[str, tuple[str, ...]]]] = {
    "Controller": {"input": ("max_input_current", "max_input_power")},
    "Load": {"rating": ("power",), "draw": ("power",), "consumption": ("current",)},
    "Use": {"consumption": ("hours",)},
}
"""What a word stands for as well, where the unit of what stands there tells."""

_COEFFICIENT: Final = re.compile(
    r"(?=.*(coeff?|coefficient|tk|tc|beta|alpha|gamma|temp))(?:.*_)?(voc|isc|pmax|vmp|imp)(?:_.*)?"
)
TRANSLATED: Final[Mapping[str, str]] = {
    **dict.fromkeys(("spannung", "tension", "voltaje", "spanning", "tensione"), "voltage"),
    **dict.fromkeys(
        ("strom", "courant", "corriente", "stroom", "corrente", "intensite"), "current"
    ),
    **dict.fromkeys(("leistung", "puissance", "potencia", "vermogen", "potenza"), "power"),
    **dict.fromkeys(
        ("länge", "laenge", "longueur", "longitud", "lengte", "lunghezza", "distance"), "length"
    ),
    **dict.fromkeys(("kapazität", "kapazitaet", "capacité", "capacidad", "capaciteit"), "capacity"),
    **dict.fromkeys(("querschnitt", "doorsnede", "seccion", "sección", "sezione"), "size"),
    **dict.fromkeys(("kabel", "câble", "cavo"), "cable"),
    **dict.fromkeys(("von", "de", "desde", "van", "da"), "from"),
    **dict.fromkeys(("nach", "zu", "vers", "hacia", "naar", "bis"), "to"),
    **dict.fromkeys(("chemie", "chimie", "química"), "chemistry"),
    **dict.fromkeys(("leerlaufspannung",), "voc"),
    **dict.fromkeys(("kurzschlussstrom", "kurzschlußstrom"), "isc"),
    **dict.fromkeys(("modul", "modulo", "panneau"), "module"),
    **dict.fromkeys(("ort", "einbauort", "lieu", "lugar"), "place"),
    **dict.fromkeys(("standort", "klima", "weather", "climate"), "site"),
    **dict.fromkeys(("datenblätter", "datenblaetter", "labels", "sheets", "specs"), "datasheets"),
    **dict.fromkeys(("sicherungen", "sicherung", "fusibles", "zekeringen", "fusibili"), "fuses"),
    **dict.fromkeys(("schalter", "trennschalter", "interrupteurs", "schakelaars"), "switches"),
    **dict.fromkeys(("batterien", "akkus", "akku", "baterias", "baterías", "accus"), "batteries"),
    **dict.fromkeys(("laderegler", "solarregler", "régulateurs", "reguladores"), "controllers"),
    **dict.fromkeys(("wechselrichter", "onduleurs", "inversores", "omvormers"), "inverters"),
    **dict.fromkeys(("verbraucher", "consommateurs", "cargas", "verbruikers"), "loads"),
    **dict.fromkeys(("leitungen", "cables_and_wires", "verbindungen", "bedrading"), "wires"),
    **dict.fromkeys(("ladegeräte", "ladegeraete", "chargeurs", "cargadores"), "chargers"),
    **dict.fromkeys(("sammelschienen", "sammelschiene"), "busbars"),
    **dict.fromkeys(("leitungsschutzschalter", "disjoncteurs"), "breakers"),
}
"""English words for those of other languages that stand in the place of a key."""


def renamed(model: str, plain: str, fitting: Collection[str]) -> str:
    """The key that another word for it stands for; empty where there is none."""
    words = RENAMED.get(model, {})
    if model == "ModuleSheet" and (found := _COEFFICIENT.fullmatch(plain)):
        right = f"{found[2]}_coefficient"
        return right if right in fitting else ""
    bare = re.sub("^(rated|nominal|the|label)_|_(rating|rated|label|nominal)$", "", plain)
    measured = re.sub("_(a|amps|v|volts|w|watts|ah|wh|m|mm2|awg|cm|ft|c|f)$", "", plain)
    for word in (plain, bare, measured):
        english = TRANSLATED.get(word, word)
        for each in (word, english):
            right = words.get(each, each if each != plain and each in fitting else "")
            right = right or _of_the_same_words(each, words)
            meant = (right, *OR_BY_UNIT.get(model, {}).get(each, ()))
            if fit := next((key for key in meant if key in fitting), ""):
                return fit
    return ""


def _of_the_same_words(key: str, words: Mapping[str, str]) -> str:
    """What another order of the words of a key stands for: `solar_max_voltage`; empty of others."""
    parts = sorted(key.split("_"))
    alike = {words[each] for each in words if len(parts) > 1 and sorted(each.split("_")) == parts}
    return alike.pop() if len(alike) == 1 else ""


def plain_key(key: str) -> str:
    """A key as other spellings of it are compared: in lower case, its parts joined by `_`."""
    return re.sub(r"[\s-]+", "_", key.lower())
