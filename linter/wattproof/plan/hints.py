"""What a builder means by a key that is none: by the trade's other words, and by what they say.

A hint never shows a figure that could be taken for the one on a label; where it shows a number, it
is the one that the builder wrote.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import Final

from wattproof.quantities import is_quantity
from wattproof.source import Block, Items, Node, Text

_LOW: Final = (
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
        **{word: "low_voltage" for word in _LOW if word != "low_voltage"},
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

_MODULES: Final = (
    "write the label as `datasheets: {modules: {roof-module: {pmax: … W}}}`, and how many are "
    "wired together as `strings: {roof: {module: roof-module, series: …}}`"
)
_LABELS: Final = (
    "labels of modules stand under `datasheets: modules:`, and how many are wired together as "
    "`strings: {roof: {module: …, series: …}}`"
)
_MANAGEMENT: Final = (
    "write what its management lets out as `max_discharge_current`, and "
    "`low_temperature_cutoff: true` where it stops charging in the cold"
)
_OF_ITS_WIRE: Final = (
    "that is told of the wire that leads to or from it: `wires: {lead: {from: …, to: …, cable: …, "
    "length: … m}}`"
)
_JOINED: Final = (
    "what it is joined to is told by a wire: one with `from:` the one and `to:` the other under "
    "`wires:`; delete this"
)
_SELECTED: Final = (
    "what hangs at its terminals is told by wires that lead to `NAME.common`, `NAME.1` and "
    "`NAME.2`; one without a position for both says `both: false`, and a position off is not told"
)
_IN_ITS_WIRE: Final = (
    "where it sits is told in the wire: `inline: [{NAME: {from_end: …, distance: …}}]`, `from_end` "
    "being `from` or `to`"
)
_MAINS_SIDE: Final = "its mains side is outside the plan: delete this"
_OF_A_DAY: Final = (
    "how long it runs in a day stands under `energy:`, as `uses: {NAME: {hours: … h}}`"
)
_BY_VOLTS: Final = (
    "write the amperes of its label as `max_output_current: … A`; where it tells watts alone, "
    "these over the volts of its battery"
)
_INSIDE: Final = "what is inside of a box is not the plan's: delete this"
_SOLAR_CHARGER: Final = (
    "what has a solar input stands under `controllers:`; one that charges from an alternator as "
    "well says `kind: vehicle-charger`"
)
_TWO_SIDES: Final = (
    "a charger between two batteries, or two voltages, stands under `controllers:` with `kind: "
    "vehicle-charger`, or under `converters:`; of a mains charger its mains side is not told"
)
_NOT_COMPARED: Final = "no rule asks for it: delete this, or keep it behind a `#`"
_EACH_BY_ITSELF: Final = (
    "each is a part of its own: write it once for each, under a name of its own"
)
_PLUG_OF_A_WIRE: Final = (
    "write a small plug in it as `plug: genderless-50` or another kind, with its `plug_rating`; "
    "the connectors at the leads of a module are told in its label"
)
PARTS_IN_FAMILIES: Final = (
    "each part stands under the family of its kind, by a name of its own: `strings:`, "
    "`controllers:`, `batteries:`, `fuses:`, `switches:`, `inverters:`, `loads:`, `chargers:`, and "
    "what joins them under `wires:`"
)
_ONE_LAYOUT: Final = (
    "a plan tells one layout: write `arrangement: open` with `count: …` under `strings:`, and "
    "`wattproof layouts` compares every way to join the modules; other differences stand in a "
    "second plan, which `wattproof compare` compares with the first"
)
_PLUGS: Final = (
    "a plug stands in its wire, as `plug: genderless-50` or another kind, with its "
    "`plug_rating`; the connectors at the leads of a module in its label, as `connector: "
    "{style: …, rating: … A}`"
)
_COMPENSATION: Final = dict.fromkeys(
    (
        *("temperature_compensation", "temp_compensation", "temp_comp", "thermal_compensation"),
        *("compensation_coefficient", "temperature_coefficient"),
    ),
    "write `compensation: … mV/°C` where its manual tells a number, else "
    "`compensates_temperature: true` or `false`",
)
_CUT_OFF: Final = (
    "where its voltage is low something else cuts off: write `low_voltage` of an inverter, or "
    "`opens_below` of a switch in the wire; what its own management cuts off is not told"
)
_START: Final = (
    "what it draws for more than some seconds is its `current` or `power`; what starts an engine "
    "stands under `starters:`, and the hardest start on an inverter is its `largest_start`"
)
_NO_PART: Final = (
    "what makes mains voltage straight from modules is no part of a plan, which tells batteries "
    "and what charges them: leave it and its modules out"
)
_CRANKING: Final = (
    "what a starting battery gives for some seconds is not told: delete this; its `capacity` is in "
    "ampere-hours, and what the starter draws stands under `starters:`"
)
_STRING_FUSES: Final = (
    "the fuse of a string stands in its wire: declare it under `fuses:`, lead each string to the "
    "joint by a wire of its own, and name it in that wire's `inline:`"
)
_GENSET: Final = (
    "the mains side of a generator is outside the plan; what it feeds is told as "
    "`chargers: {generator-charger: {kind: shore, max_output_current: … A}}`"
)
_ARRESTERS: Final = "what guards against surges stands under `arresters:`, as `{across: …}`"
_MAINS: Final = re.compile(
    r"(ac|mains|grid|shore|gen|generator|outlets?|sockets?|(110|115|120|220|230|240)v?)"
    r"[-_ ]?(in|out|input|output|load|side)?[0-9]?"
)
"""How people call the terminals of an inverter or charger that are no part of a plan."""
_SHUNT: Final = (
    "a shunt stands in no wire: with its battery write `shunt:` and the wire in whose negative it "
    "sits"
)
_EQUALISER: Final = (
    "what keeps lead batteries in series even is told with one of them, as its rating: "
    "`equaliser: … A`"
)
_WARMS: Final = "a heater of a plan warms a battery; what heats water or air stands under `loads:`"
_FED: Final = "what feeds it says so: write a wire with `from:` the battery or bar, and `to:` this"
_OPENS: Final = (
    "a contactor or relay is a switch: delete this, and say what opens it by `opened_by`, "
    "`opens_below` or `closes_above`"
)
_ONE_OUTPUT: Final = (
    "a controller of a plan has one output; a second battery that it charges hangs on an output of "
    "its own under `diode_isolators`, which keeps the batteries apart as the controller does"
)
_NO_PRODUCT: Final = (
    "a plan names no product: write what its label says under the keys for it, and the name behind "
    "a `#` if you want to keep it"
)
_PLACED: Final = (
    "what surrounds it is its `place:`, a name under `site: places:` with temperatures of its own"
)
_INLINE: Final = (
    "a fuse or switch stands in the wire that it protects: declare it under `fuses:` or "
    "`switches:`, and name it in the wire's list `inline:`"
)
_CLIMATE: Final = (
    "the climate of the place stands under `site:`, as `coldest:`, `hottest:`, `latitude:`, "
    "`height:`; what the installation is in as `setting:`"
)
_WITH_THE_PART: Final = (
    "its label stands with the part itself, in the family of that name at the margin; only modules "
    "and cables have datasheets of their own"
)
_TWO_LIMITS: Final = (
    "write the volts of its solar input as `max_input_voltage: … V`, and the amperes of its output "
    "as `max_output_current: … A`"
)
_ONE_CASE: Final = (
    "the solar input of a unit that is inverter, charger and tracker in one case is a controller "
    "of its own: declare it under `controllers:`, the rest under `inverter_chargers:`, and join "
    "the two by a wire as short as what is inside, `length: 5 cm`"
)
_SPLITTERS: Final = (
    "joints of wires, plugs and boxes stand under `combiners:`; diodes that lead one charger to "
    "several batteries under `diode_isolators:`"
)
_REGULATORS: Final = (
    "what takes current from modules stands under `controllers:`; what regulates an alternator is "
    "told with it, as `regulator: internal` or `external`"
)
_WHICH_VOLTAGE: Final = (
    "write `nominal` for that of its battery, `charge_voltage` for what it charges at"
)
_SOLAR_INPUT: Final = (
    "pv", "solar", "mppt", "mppts", "tracker", "trackers", "max_input_voltage", "max_pv_voltage",
    "min_input_voltage", "max_input_current", "usable_input_current", "max_input_power", "inputs",
    "max_pv_current", "max_pv_power", "pv_voltage", "pv_current", "pv_power", "mppt_voltage",
    "mppt_range", "max_voc", "max_isc", "start_voltage",
)  # fmt: skip
_CHARGES: Final = (
    "what charges the battery as well stands under `inverter_chargers:`: move it there"
)
_OF_CHARGERS: Final = (
    "charge_voltage", "float_voltage", "max_output_current", "charge_current", "charger",
    "max_charge_current", "absorption_voltage", "bulk_voltage", "transfer", "limited_to", "float",
)  # fmt: skip

_ON_THE_SHEET: Final = (
    "no rule compares it: keep it on the sheet that `wattproof expect` prints, which tells what it "
    "should be"
)
_AT_THE_BATTERY: Final = (
    "write `voltage` and `current` in a reading `at:` the battery, or the battery terminals of its "
    "controller"
)
_WHICH_STAGE: Final = (
    "write `bulk` where it takes all that the array gives, `absorption` where it holds the charge "
    "voltage, `float` where it holds the lower one; else leave `stage` out"
)
_NO_STAGE: Final = ("boost", "full", "charged", "charging", "off", "standby", "idle", "night")
_ONLY_CLEAR: Final = (
    "write `sky: clear` where no cloud and no haze was near the sun; else leave `sky` out"
)
_BY_ITS_SIGN: Final = "write the voltage with the minus that the meter shows, or without: it tells"
_AT_REST: Final = "write the `voltage` at the posts of the battery, some hours after charging"

_JOINS: Final = (
    *("from", "to", "connected_to", "connects_to", "connects", "wired_to", "attached_to"),
    *("fed_from", "powered_by", "supplied_by", "supply", "source", "destination", "goes_to"),
)
"""How people say with a part what it is joined to."""
_WIRED: Final = (
    *("cable", "wire", "wires", "lead", "leads", "length", "gauge", "awg", "wire_size"),
    *("cable_length", "cable_size", "lead_length", "wire_length", "run_length", "wire_gauge"),
)
"""How they tell with it the wire that leads from it."""
_AT_THE_MAINS: Final = (
    *("ac_output", "ac_voltage", "output_voltage", "frequency", "waveform", "wave", "sine"),
    *("pure_sine", "pure_sine_wave", "outlets", "sockets", "ac", "ac_input", "hz", "isolated"),
    *("rcd", "gfci", "phase", "phases", "transfer_switch", "input", "ac_power"),
)
"""What they tell of the mains side of an inverter."""
_DETAILS: Final = (
    *("price", "cost", "weight", "dimensions", "colour", "color", "warranty", "url", "link"),
    *("serial", "serial_number", "datasheet", "cycles", "cycle_life", "bluetooth", "display", "ip"),
    *("ip_rating", "certification", "certifications", "year", "age", "efficiency", "bought"),
)
"""What they copy from shops, and nothing is compared with."""
_WAY_BACK: Final = (
    "a wire is a pair, plus and minus: delete this; where the minus goes another way, give each "
    "pole a wire of its own, with `pole: positive` and `pole: negative`"
)
_HOW_MANY: Final = (
    "the label of one stands here; how many there are is told of the string that names it, by "
    "`series` or `arrangement`"
)
_IN_AMPERE_HOURS: Final = (
    "write its `capacity`, in ampere-hours: watt-hours over the nominal volts of the battery"
)
ELSEWHERE: Final[Mapping[str, Mapping[str, str]]] = {
    "CableSheet": dict.fromkeys(
        ("length", "len", "run_length", "distance", "runs", "lengths"),
        "how long a wire is, is told of the wire that names this cable: `wires: {lead: {cable: …, "
        "length: … m}}`",
    ),
    "Selector": dict.fromkeys(
        (
            *("positions", "position", "common", "1", "2", "off", "outputs", "inputs", "a", "b"),
            *("type", "kind", "style", "ways"),
        ),
        _SELECTED,
    ),
    "Way": dict.fromkeys(
        ("load", "loads", "feeds", "to", "consumer", "power", "wire", "cable", "for", "supplies"),
        "what hangs on a way is told by a wire `from:` it, as `panel.lights`, `to:` the load",
    ),
    **dict.fromkeys(
        ("Fuse", "Breaker"),
        dict.fromkeys(
            (
                *("distance", "from_end", "wire", "in", "inline", "protects", "on", "between"),
                *("position", "location_in_wire", "distance_from_battery", "for"),
            ),
            _IN_ITS_WIRE,
        ),
    ),
    "PowerBox": {
        **dict.fromkeys(
            (
                *("capacity", "battery", "energy", "chemistry", "ac_output", "output", "power"),
                *("inverter", "usb", "outlets", "max_output_power", "size", "storage", "surge"),
                *("car_input", "ac_input", "car_charging", "ac_charging", "usb_output"),
            ),
            _INSIDE,
        ),
        **dict.fromkeys(
            ("solar_input", "pv_input", "input", "solar", "pv", "dc_input", "mppt", "inputs"),
            "write the volts of its solar input as `max_input_voltage: … V`, the amperes as "
            "`max_input_current: … A`, the watts as `max_input_power: … W`",
        ),
    },
    "Busbar": dict.fromkeys(
        ("ways", "studs", "terminals", "posts", "connections", "stud", "material", "poles", "pole"),
        _NOT_COMPARED,
    ),
    "Battery": {
        **dict.fromkeys(("energy", "kwh", "wh", "watt_hours", "energy_capacity"), _IN_AMPERE_HOURS),
        "feeds": "what it feeds is told by a wire: one with `from:` this battery, `to:` the other",
        "fed_by": _FED,
        **dict.fromkeys(("bms", "management", "bms_current"), _MANAGEMENT),
        **dict.fromkeys(_LOW, _CUT_OFF),
        **dict.fromkeys(("cca", "mca", "cranking_amps", "cold_cranking_amps"), _CRANKING),
        **dict.fromkeys(
            (
                *("connection", "connected", "wired", "joined", "strings"),
                *("in_series", "in_parallel"),
            ),
            "how they are wired is their `arrangement`, with how many there are: `2s` one after "
            "another, `2p` side by side",
        ),
        **dict.fromkeys(
            ("batteries", "packs", "members", "made_of"),
            "a bank of alike batteries is one part: write what the label of one says, and "
            "`arrangement: 4s`, `2p` or the like; unlike ones are joined by wires",
        ),
        **dict.fromkeys(
            ("cells", "cell_count", "number_of_cells"),
            "of bare cells it is the arrangement, as `8s` of `nominal: 3.2 V`; a battery with a "
            "management of its own is told as one",
        ),
        **dict.fromkeys(
            ("total_capacity", "whole_capacity", "combined_capacity", "capacity_total"),
            "write `bank_capacity` for that of all together, or `capacity` for that of one",
        ),
    },
    "ModuleSheet": {
        **dict.fromkeys(
            ("count", "quantity", "number", "qty", "how_many", "pieces", "amount", "series"),
            _HOW_MANY,
        ),
        **dict.fromkeys(("parallel", "arrangement", "in_series", "in_parallel"), _HOW_MANY),
        **dict.fromkeys(
            (
                *("tempco", "temp_co", "temperature_coefficient", "temp_coefficient"),
                *("temp_coeff", "temperature_coeff", "coefficient", "tk", "tc"),
            ),
            "write `voc_coefficient` for that of the open-circuit voltage, `pmax_coefficient` for "
            "that of the power; labels tell both",
        ),
        **dict.fromkeys(
            ("half_cut", "half_cell", "half_cells", "halfcut", "half_cut_cells", "split_cell"),
            "leave it out: `cells_in_series` counts the two halves of a cell as one, 54 of 108, "
            "and `bypass_diodes` is as it is printed, mostly 3",
        ),
        **dict.fromkeys(
            ("size", "dimensions", "measures", "dimension"),
            "write its length times its width as `area: … m²`, or leave it out",
        ),
        **dict.fromkeys(
            (
                *("nominal", "nominal_voltage", "voltage", "volts", "voltage_class", "class"),
                "rated_voltage",
            ),
            "write `voc` and `vmp` as its label tells them; where only that is known, "
            "`cells_in_series: 36` of a module for 12 V, and 72 of one for 24 V",
        ),
    },
    "Combiner": {
        **dict.fromkeys(("string_fuses", "string_fuse", "fuses", "fuse"), _STRING_FUSES),
        **dict.fromkeys(
            ("type", "style"),
            "write `kind: branch-connector` of plugs that branch; else it is a `combiner-box` or a "
            "`terminal-block`",
        ),
    },
    "Charger": {
        **_COMPENSATION,
        **dict.fromkeys(("power", "watts", "wattage", "max_power", "output_power"), _BY_VOLTS),
        **dict.fromkeys(_SOLAR_INPUT, _SOLAR_CHARGER),
        **dict.fromkeys(("input", "input_voltage", "input_current", "vin"), _TWO_SIDES),
    },
    "InverterCharger": {
        **dict.fromkeys(_AT_THE_MAINS, _MAINS_SIDE),
        **dict.fromkeys(_SOLAR_INPUT, _ONE_CASE),
        **_COMPENSATION,
    },
    "Inverter": {
        **dict.fromkeys(_AT_THE_MAINS, _MAINS_SIDE),
        **dict.fromkeys(("feeds", "fed_by"), _FED),
        **dict.fromkeys(_SOLAR_INPUT, _ONE_CASE),
        **dict.fromkeys(_OF_CHARGERS, _CHARGES),
    },
    "Switch": {
        **dict.fromkeys(("kind", "type", "style", "contactor"), _OPENS),
        **dict.fromkeys(
            (
                "controlled_by",
                "control",
                "trigger",
                "coil",
                "triggered_by",
                "signal",
                "switched_by",
            ),
            _OPENS,
        ),
        **dict.fromkeys(("distance", "from_end", "wire", "in", "inline", "between"), _IN_ITS_WIRE),
    },
    "Controller": {
        **_COMPENSATION,
        **dict.fromkeys(("outputs", "batteries", "second_battery"), _ONE_OUTPUT),
        **dict.fromkeys(("limits", "limit", "ratings", "spec", "specs"), _TWO_LIMITS),
        **dict.fromkeys(_LOW, _CUT_OFF),
    },
    "Datasheets": dict.fromkeys(
        ("batteries", "controllers", "fuses", "inverters", "loads", "chargers", "breakers"),
        _WITH_THE_PART,
    ),
    "Site": {
        **dict.fromkeys(
            ("temperature", "temperatures", "temp", "air", "air_temperature", "range"),
            "write the lowest air with daylight as `coldest: … °C`, and the hottest as "
            "`hottest: … °C`",
        ),
        **dict.fromkeys(("location", "place", "city", "country", "region"), _CLIMATE),
        **dict.fromkeys(
            (
                *("roof_temp", "roof_temperature", "cabin_temp", "cabin_temperature", "roof"),
                *("cabin", "ambient", "engine_bay", "inside", "outside", "indoor", "indoors"),
            ),
            "how hot it gets around a part is told of its place: `places: {roof: {ambient: … °C}}`",
        ),
    },
    "Plan": {
        **dict.fromkeys(("location", "where", "region", "country"), _CLIMATE),
        **dict.fromkeys(
            ("module", "modules", "solar", "solar_panels", "solar_panel", "pv_modules", "pv"),
            _MODULES,
        ),
        **dict.fromkeys(
            ("panel", "panels"), f"{_MODULES}; a panel with fuses stands under `distribution:`"
        ),
        **dict.fromkeys(
            ("dc_dc", "dcdc", "dc_to_dc", "dc_dc_charger", "b2b", "booster", "vehicle_charger"),
            "write `controllers: {twin: {kind: vehicle-charger, max_output_current: … A}}`",
        ),
        **dict.fromkeys(
            ("hybrid", "hybrids", "all_in_one", "hybrid_inverter", "hybrid_inverters"), _ONE_CASE
        ),
        **dict.fromkeys(("generator", "generators", "genset", "gensets"), _GENSET),
        **dict.fromkeys(("equalisers", "equaliser", "equalizers", "balancers"), _EQUALISER),
        **dict.fromkeys(("microinverters", "micro_inverters", "grid_inverters"), _NO_PART),
        **dict.fromkeys(("shunts", "shunt", "battery_monitor", "battery_monitors"), _SHUNT),
        **dict.fromkeys(("water_heaters", "water_heater", "boilers", "boiler"), _WARMS),
        **dict.fromkeys(("cable", "cables"), "kinds of cable stand under `datasheets: cables:`"),
        **dict.fromkeys(("splitter", "splitters"), _SPLITTERS),
        **dict.fromkeys(("regulators", "regulator"), _REGULATORS),
        **dict.fromkeys(("place", "places"), "surroundings stand under `site: places:`"),
        **dict.fromkeys(
            (
                *("metadata", "meta", "info", "author", "date", "version", "description", "notes"),
                *("comment", "comments", "owner", "project", "about", "revision", "budget"),
            ),
            "what it is of is told as `title:`, and what else a reader should know behind a `#`",
        ),
        **dict.fromkeys(
            (
                *("components", "devices", "equipment", "elements", "nodes", "system", "items"),
                *("hardware", "materials", "bom", "part_list", "parts_list", "circuit"),
            ),
            PARTS_IN_FAMILIES,
        ),
        **dict.fromkeys(
            (
                *("layouts", "layout", "variants", "variant", "options", "alternatives", "option"),
                *("scenarios", "configurations", "configuration", "versions"),
            ),
            _ONE_LAYOUT,
        ),
        **dict.fromkeys(
            ("plugs", "plug", "connectors", "connector", "sockets", "adapters", "adaptors"), _PLUGS
        ),
        **dict.fromkeys(
            ("coldest", "hottest", "latitude", "height", "temperature", "temperatures", "climate"),
            "the climate stands under `site:`, as `coldest:`, `hottest:`, `latitude:`, `height:`",
        ),
        **dict.fromkeys(
            ("sun_hours", "sky", "uses"),
            "sun and daily use stand under `energy:`, by the same keys",
        ),
    },
    "Wire": {
        **dict.fromkeys(("return", "negative", "minus", "ground", "neg"), _WAY_BACK),
        **dict.fromkeys(
            ("size", "gauge", "awg", "area"),
            "write the size as `cable:`, as `cable: 10 AWG` or `cable: 6 mm²`; or name there a "
            "cable under `datasheets: cables:`, with all that is printed on it",
        ),
        **dict.fromkeys(
            ("material", "metal", "insulation", "insulation_temperature", "strands"),
            "that is printed on the cable: give it under `datasheets: cables:`, and name the cable "
            "here as `cable:`",
        ),
        **dict.fromkeys(
            ("between", "joins", "connects", "from_to"),
            "a wire has two ends, each under a key of its own: write `from: …` and `to: …`",
        ),
        **dict.fromkeys(
            ("connector", "connectors", "plugs", "connection", "terminals", "ends"), _PLUG_OF_A_WIRE
        ),
    },
    "Load": {
        **dict.fromkeys(
            ("feeds", "fed_by", "battery", "panel", "circuit", "way", "fed_from", "on"), _FED
        ),
        **dict.fromkeys(
            ("hours", "hours_per_day", "use", "daily_hours", "daily_use", "daily", "wh"), _OF_A_DAY
        ),
        **dict.fromkeys(
            ("duty", "duty_cycle", "short", "intermittent", "runtime", "minutes", "duration"),
            "the longest time that it runs is its `short_duty:`, beside its working current; what "
            "starts an engine stands under `starters:`",
        ),
        **dict.fromkeys(
            ("surge", "peak", "inrush", "start_current", "starting_current", "max_current"), _START
        ),
    },
    "Reading": {
        **dict.fromkeys(
            (
                *("insulation", "insulation_resistance", "resistance", "ohms", "continuity"),
                *("isolation", "isolation_resistance", "megohm", "earth_resistance"),
            ),
            _ON_THE_SHEET,
        ),
        **dict.fromkeys(("polarity", "poles", "sign"), _BY_ITS_SIGN),
        **dict.fromkeys(("battery_voltage", "battery_current"), _AT_THE_BATTERY),
        **dict.fromkeys(("soc", "state_of_charge", "charge"), _AT_REST),
    },
    "String": {
        **dict.fromkeys(
            ("wiring", "wired", "connection", "connected", "joined"),
            "how they are wired is `series: …` one after another, or `arrangement: 1s…p` side by "
            "side",
        ),
        **dict.fromkeys(
            ("voc", "isc", "vmp", "imp", "pmax", "power"),
            "that is printed on the module: give it under `datasheets: modules:`, and name the "
            "module here as `module:`",
        ),
    },
}
"""Keys that belong to another part of the plan, by the model that they were found in."""

FORMS: Final[Mapping[str, str]] = {
    "readings": "{port-open: {at: port, voc: … V}}",
    "wires": "{home-run: {from: …, to: …, cable: …, length: … m}}",
    "strings": "{port: {module: …, series: …}}",
    "fuses": "{bank-fuse: {rating: … A}}",
    "breakers": "{pv-breaker: {rating: … A}}",
    "switches": "{pv-off: {rating: … A}}",
    "batteries": "{house: {chemistry: …, nominal: … V, capacity: … Ah}}",
    "controllers": "{tracker: {kind: …, max_input_voltage: … V, max_output_current: … A}}",
    "loads": "{refrigerator: {power: … W}}",
    "inverters": "{mains: {power: … W}}",
    "chargers": "{alternator: {kind: …, max_output_current: … A}}",
    "inverter_chargers": "{combi: {power: … W, max_output_current: … A}}",
    "converters": "{step-down: {input_nominal: … V, output_nominal: … V, max_output_current: … A}}",
    "starters": "{engine-starter: {current: … A}}",
    "heaters": "{house-heater: {warms: …, power: … W}}",
    "power_boxes": "{box: {max_input_voltage: … V, max_input_power: … W}}",
    "diode_isolators": "{splitter: {rating: … A, outputs: [start, house]}}",
    "selectors": "{battery-selector: {rating: … A}}",
    "arc_fault_devices": "{arc-guard: {rating: … A}}",
    "frame_bonds": "{roof-frames: {strings: [port], to: …, cable: …}}",
    "inputs": "{pv-1: {max_input_voltage: … V}}",
    "modules": "{roof-module: {voc: … V, isc: … A, vmp: … V, imp: … A}}",
    "cables": "{pv-cable: {size: … AWG}}",
    "ways": "{lights: {fuse: … A}}",
    "places": "{roof: {ambient: … °C}}",
    "combiners": "{roof-joint: {joins: [port, starboard]}}",
    "busbars": "{positive-bar: {rating: … A}}",
    "distribution": "{panel: {ways: {lights: {fuse: … A}}}}",
    "bonds": "{chassis-bond: {from: …, to: chassis, cable: …}}",
    "arresters": "{pv-arrester: {across: …, voltage: … V}}",
    "shade": "{antenna: {shadows: [{string: port, light: … %}]}}",
    "uses": "{refrigerator: {hours: … h}}",
    "connector": "{style: …, make: …}",
    "each_pack": "{fuse: pack-fuse}",
    "meter": "{voltage: … %, current: … %}",
    "site": "{coldest: … °C, hottest: … °C}",
    "datasheets": "{modules: {roof-module: {pmax: … W}}}",
    "energy": "{sun_hours: … h, uses: {refrigerator: {hours: … h}}}",
    "shadows": "[{string: port, light: … %}]",
    "accepted": "[{rule: …, where: …, reason: …}]",
    "rules": "{voltage-drop-high: {off: true, reason: …}}",
}
"""How a family is written: a name, and under it the keys. Figures are left to the builder."""

ALONE: Final[Mapping[str, tuple[tuple[str, str], ...]]] = {
    **dict.fromkeys(("fuses", "breakers", "switches", "busbars"), (("rating", "current"),)),
    "ways": (("fuse", "current"),),
    "cables": (("size", "conductor size"),),
    "modules": (("pmax", "power"),),
    "inverters": (("power", "power"),),
    "loads": (("power", "power"), ("current", "current")),
    "batteries": (("nominal", "voltage"), ("capacity", "charge")),
    "inverter_chargers": (("power", "power"), ("max_output_current", "current")),
    **dict.fromkeys(
        ("controllers", "chargers", "converters"), (("max_output_current", "current"),)
    ),
    "starters": (("current", "current"),),
    "places": (("ambient", "temperature"),),
}
"""What a value may be that stands alone where the keys of a component belong, by family."""


_LEAD: Final = (
    "write `flooded` for lead that is filled up with water, `agm` or `gel` for sealed lead: its "
    "label says which; or `unknown`"
)
_LITHIUM: Final = (
    "write `lithium-iron-phosphate` where the label says so, or LiFePO4 or LFP; nothing is known "
    "here of other lithium, which burns more easily"
)

_AS_LEAD: Final = (
    "with `unknown` it is checked as if it were lead, and what is said of charging it does not hold"
)
_OTHER_LITHIUM: Final = (
    f"nothing is known here of other lithium than LiFePO4, which burns more easily: {_AS_LEAD}"
)
_OTHER_CELLS: Final = f"nothing is known here of nickel or sodium: {_AS_LEAD}"

WORDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("lifepo4", "lifepo", "lfp", "lithium-iron"), "lithium-iron-phosphate"),
    **dict.fromkeys(
        ("wet", "fla", "wet-cell", "flooded-lead", "flooded-lead-acid", "opzs"), "flooded"
    ),
    "opzv": "gel",
    **dict.fromkeys(
        (
            "van",
            "rv",
            "motorhome",
            "camper",
            "campervan",
            "caravan",
            "truck",
            "car",
            "bus",
            "trailer",
        ),
        "vehicle",
    ),
    **dict.fromkeys(("wohnmobil", "wohnwagen", "kastenwagen", "auto", "skoolie"), "vehicle"),
    **dict.fromkeys(("boot", "segelboot", "hausboot"), "boat"),
    **dict.fromkeys(("haus", "gartenhaus", "hütte", "huette", "tiny-house", "tinyhouse"), "cabin"),
    **dict.fromkeys(
        ("yacht", "sailboat", "motorboat", "narrowboat", "houseboat", "ship", "marine"), "boat"
    ),
    **dict.fromkeys(
        ("house", "home", "hut", "shed", "garage", "barn", "farm", "off-grid", "building"), "cabin"
    ),
    **dict.fromkeys(("camping", "folding-set", "tent"), "portable"),
    **dict.fromkeys(
        ("cart", "ute", "4x4", "4wd", "lorry", "pickup", "suv", "minibus", "minivan", "horsebox"),
        "vehicle",
    ),
    **dict.fromkeys(("dinghy", "trawler", "tender", "ketch", "sloop", "ferry", "launch"), "boat"),
    **dict.fromkeys(
        (
            *("cottage", "chalet", "workshop", "container", "lodge", "greenhouse", "allotment"),
            *("yurt", "office", "outbuilding", "summerhouse", "farmhouse", "stable"),
        ),
        "cabin",
    ),
    **dict.fromkeys(
        ("wind-generator", "wind-turbine", "turbine", "water-generator", "hydro"), "wind"
    ),
    **dict.fromkeys(("tracker", "tracking", "mpp", "maximum-power-point"), "mppt"),
    **dict.fromkeys(("pulse-width", "pulse-width-modulation"), "pwm"),
    **dict.fromkeys(("plus", "pos", "red", "+"), "positive"),
    **dict.fromkeys(("minus", "neg", "black", "-"), "negative"),
    **dict.fromkeys(("built-in", "inside", "standard"), "internal"),
    **dict.fromkeys(("outside", "separate"), "external"),
    **dict.fromkeys(("s", "south-facing", "süd", "sued", "sud"), "south"),
    **dict.fromkeys(("n", "north-facing", "nord"), "north"),
    **dict.fromkeys(("e", "east-facing", "ost"), "east"),
    **dict.fromkeys(("w", "west-facing"), "west"),
    **dict.fromkeys(("se", "southeast"), "south-east"),
    **dict.fromkeys(("sw", "southwest"), "south-west"),
    **dict.fromkeys(("ne", "northeast"), "north-east"),
    **dict.fromkeys(("nw", "northwest"), "north-west"),
    **dict.fromkeys(("arch", "rail", "gantry", "ground-frame"), "open-rack"),
    **dict.fromkeys(
        ("canal-boat", "sailing-boat", "catamaran", "barge", "vessel", "cruiser"), "boat"
    ),
    **dict.fromkeys(("trailer-tent", "suitcase-kit", "portable-kit"), "portable"),
    **dict.fromkeys(("kupfer", "ofc", "cuivre", "cobre"), "copper"),
    **dict.fromkeys(("alu", "al"), "aluminium"),
    **dict.fromkeys(("underground", "trench", "in-ground", "in-the-ground"), "buried"),
    **dict.fromkeys(("clipped", "surface-mounted", "on-wall", "cable-ties"), "surface"),
    **dict.fromkeys(("lead-acid-flooded", "open-lead", "lead-antimony"), "flooded"),
    **dict.fromkeys(("lead-acid-agm", "agm-lead", "agm-deep-cycle", "absorbed-glass-mat"), "agm"),
    **dict.fromkeys(("gel-cell", "lead-gel", "blei-gel", "lead-acid-gel"), "gel"),
    **dict.fromkeys(("lithium-iron-phosphat", "lithium-ferro-phosphate"), "lithium-iron-phosphate"),
    **dict.fromkeys(("b2b", "dc/dc", "booster", "ladebooster", "dc-dc-charger"), "vehicle-charger"),
    **dict.fromkeys(("lichtmaschine", "alternateur"), "alternator"),
    **dict.fromkeys(("landstrom", "mains-charger"), "shore"),
    **dict.fromkeys(("dc-dc", "dcdc", "dc-to-dc", "battery-to-battery"), "vehicle-charger"),
    "aluminum": "aluminium",
    "cca": "copper-clad-aluminium",
    **dict.fromkeys(("tinned", "tinned-copper", "cu"), "copper"),
    **dict.fromkeys(("air", "open-air", "open"), "free-air"),
    **dict.fromkeys(("pipe", "tube", "trunking", "loom", "duct"), "conduit"),
    **dict.fromkeys(("glued", "flush", "stuck", "adhesive"), "roof-bonded"),
    **dict.fromkeys(("on-the-ground", "on-ground", "lying-on-the-ground", "lying"), "ground"),
    **dict.fromkeys(("on-the-grass", "on-grass", "grass", "floor", "on-the-floor"), "ground"),
    **dict.fromkeys(("rack", "pole", "tilted", "frame"), "open-rack"),
    **dict.fromkeys(("gap", "roof", "brackets", "raised"), "roof-gap"),
    **dict.fromkeys(("portable-stand", "stand", "lawn"), "ground"),
    **dict.fromkeys(("y", "y-branch", "y-connector", "t-branch", "branch"), "branch-connector"),
    **dict.fromkeys(("box", "junction-box"), "combiner-box"),
    **dict.fromkeys(("busbar", "bar", "terminals", "strip"), "terminal-block"),
    **dict.fromkeys(("mono", "poly", "monocrystalline", "polycrystalline", "perc"), "crystalline"),
    **dict.fromkeys(("cigs", "amorphous", "cdte"), "thin-film"),
    **dict.fromkeys(("mains", "ac", "ac-charger", "grid", "shore-power"), "shore"),
    **dict.fromkeys(("engine", "vehicle-alternator", "dynamo", "vehicle"), "alternator"),
    **dict.fromkeys(("outboard", "outboard-motor", "outboard-engine", "magneto"), "alternator"),
    **dict.fromkeys(("hydrogenerator", "hydro-generator", "towed-generator"), "wind"),
    **dict.fromkeys(("water", "water-turbine", "micro-hydro", "pico-hydro", "pelton"), "wind"),
    **dict.fromkeys(("solar", "photovoltaic"), "pv"),
    **dict.fromkeys(("foldable", "suitcase"), "folding"),
    **dict.fromkeys(("sae", "sae-plug", "sae-connector", "two-pin", "2-pin"), "flat-two-pin"),
    **dict.fromkeys(
        ("lighter", "cigarette-lighter", "cigar-lighter", "car-lighter", "12v-socket", "accessory"),
        "cigar",
    ),
    **dict.fromkeys(("7-pin", "7-way", "seven-pin", "seven-way", "12n", "12s"), "trailer-7"),
    **dict.fromkeys(("13-pin", "thirteen-pin"), "trailer-13"),
    **dict.fromkeys(("mppt", "cc", "constant-current", "main-charge"), "bulk"),
    **dict.fromkeys(("absorb", "cv", "constant-voltage", "topping"), "absorption"),
    **dict.fromkeys(("storage", "maintenance", "trickle"), "float"),
    **dict.fromkeys(("semi-flexible", "bendable"), "flexible"),
    **dict.fromkeys(("nec", "nfpa", "nfpa-70", "nec-690", "nec-2017", "nec-2020"), "nec-2023"),
    **dict.fromkeys(("abyc", "abyc-e-11", "e11", "e-11"), "abyc-e11"),
    **dict.fromkeys(("as-nzs", "as/nzs", "as/nzs-3001", "as-3001", "3001"), "as-nzs-3001"),
    **dict.fromkeys(("iso", "iso-10133", "13297", "10133"), "iso-13297"),
    **dict.fromkeys(("vde", "din", "din-vde", "bs-7671", "iec-60364", "iec-62548"), "iec"),
}
"""Other words for a value that is one of a few, where they mean one thing."""

BY_KEY: Final[Mapping[str, str]] = {
    **dict.fromkeys(("bonded", "geklebt", "verklebt"), "roof-bonded"),
    **dict.fromkeys(("glued", "glue", "stuck", "adhesive", "taped", "tape", "sealant"), "bonded"),
    **dict.fromkeys(("screwed", "screws", "bolts", "riveted", "rivets"), "bolted"),
    **dict.fromkeys(("geschraubt", "verschraubt"), "bolted"),
    **dict.fromkeys(("clamps", "clamp"), "clamped"),
    **dict.fromkeys(
        ("bonded-and-bolted", "glued-and-bolted", "glued-and-screwed", "screwed-and-glued"),
        "bolted-and-bonded",
    ),
}
"""The same of words that mean another thing under another key, and stand for it there."""

UNCLEAR: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("lithium", "li", "li-ion", "lithium-ion", "lipo", "li-po", "lithium-polymer", "18650"),
        _LITHIUM,
    ),
    **dict.fromkeys(("nmc", "nca", "lto", "lmo", "lco", "nmca", "li-nmc", "linmc"), _OTHER_LITHIUM),
    **dict.fromkeys(
        ("lithium-titanate", "lithium-manganese", "lithium-cobalt", "lithium-nmc"), _OTHER_LITHIUM
    ),
    **dict.fromkeys(("lead", "lead-acid", "sla", "vrla", "sealed", "deep-cycle"), _LEAD),
    **dict.fromkeys(("lead-carbon", "lead-crystal", "lead-calcium", "calcium", "tubular"), _LEAD),
    **dict.fromkeys(("marine", "leisure", "golf-cart", "traction", "forklift", "solar"), _LEAD),
    **dict.fromkeys(("car", "car-battery", "truck", "starter", "maintenance-free"), _LEAD),
    **dict.fromkeys(("nicd", "ni-cd", "nicad", "nickel-cadmium", "nickel"), _OTHER_CELLS),
    **dict.fromkeys(("nimh", "ni-mh", "nickel-metal-hydride"), _OTHER_CELLS),
    **dict.fromkeys(("nife", "ni-fe", "nickel-iron", "edison"), _OTHER_CELLS),
    **dict.fromkeys(("sodium", "sodium-ion", "na-ion", "salt", "saltwater"), _OTHER_CELLS),
}
"""Words for a chemistry that leave open which is meant, and what tells them apart."""


def sure_word(word: str, words: tuple[str, ...]) -> str:
    """Which of a few words another word or spelling stands for; empty where nobody can tell."""
    plain = _plain(word)
    meanings = (plain, WORDS.get(plain, ""), BY_KEY.get(plain, ""))
    return next((meaning for meaning in meanings if meaning in words), "")


def _plain(word: str) -> str:
    return word.strip().lower().replace("_", "-").replace(" ", "-")


def meant_word(word: str, words: tuple[str, ...]) -> str:
    """What to write instead of a word that is none of a few; empty where nobody can tell."""
    plain = _plain(word)
    if "shore" in words and plain in _OF_AN_ENGINE:
        return _BETWEEN_TWO
    if found := sure_word(word, words):
        return f"write `{found}`"
    if "open-rack" in words and plain.startswith("ground-mount"):
        return "write `open-rack` where they stand on a frame, `ground` where they lie on it"
    if compound := _compound(plain, words):
        return compound
    if "branch-connector" in words and _BRANCH.search(plain):
        return "write `branch-connector`"
    if "chassis" in words and (common := common_meant(plain)):
        return common
    if words == ("clear",):
        return _ONLY_CLEAR
    if "absorption" in words and plain in _NO_STAGE:
        return _WHICH_STAGE
    if "mppt" in words and plain in ("microinverter", "micro-inverter", "grid-tie", "inverter"):
        return _NO_PART
    if "folding" in words and (kind := sure_word(word, _TECHNOLOGIES)):
        return f"write `technology: {kind}` in its place"
    if words == ("positive", "negative") and plain in ("both", "pair", "two", "+/-", "dual"):
        return "delete `pole`: a wire is a pair without it"
    if "iec" in words and (body := _BODY_THERE.get(plain)):
        return body
    if "external" in words and plain in _WITHOUT:
        return _UNREGULATED
    if "shore" in words:
        begins = (word for word in _OF_NO_CHARGER if f"{plain}-".startswith(f"{word}-"))
        return _OF_NO_CHARGER.get(max(begins, key=len, default=""), "")
    return UNCLEAR.get(plain, "") if "agm" in words else ""


_BODY_THERE: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("europe", "eu", "european", "uk", "germany", "france", "spain", "italy", "en", "vde"),
        "write `iec`, or `iso-13297` on a boat",
    ),
    **dict.fromkeys(
        ("us", "usa", "america", "american", "united-states"),
        "write `nec-2023`, or `abyc-e11` on a boat; in a van "
        "`{array: nec-2023, battery: abyc-e11}`",
    ),
}
"""What to write where a body of rules is told by the country."""


def _compound(plain: str, words: tuple[str, ...]) -> str:
    """What to write instead of a compound, by the part of it that tells the kind."""
    parts = plain.split("-")
    if len(parts) < 2 or {"and", "or", "und", "&"} & set(parts):
        return ""
    if "vehicle-charger" in words and _BETWEEN_BATTERIES.search(plain):
        return "write `vehicle-charger`; what its solar input stands is `max_input_voltage`"
    last, first = (part if part in words else WORDS.get(part, "") for part in (parts[-1], parts[0]))
    if "vehicle" in words and last in words:
        return f"write `{last}`"
    found = first if first in words else last if last in _NAMED_BY_THE_LAST else ""
    rest = "what else its name tells stands under keys of its own"
    return f"write `{found}`; {rest}" if found in words else ""


_BETWEEN_BATTERIES: Final = re.compile(
    "(^|-)(dc-?(to-?)?dc|b2b|battery-to-battery|booster|vehicle|alternator)(-|$)"
)
_NAMED_BY_THE_LAST: Final = ("mppt", "pwm")
"""What people name by a compound whose last word tells the kind: a boost tracker."""
_BRANCH: Final = re.compile(
    "[0-9]-?(to|in|into|way)-?[0-9]?|(^|-)(y|t|branch|branches|splitter)(-|$)"
)
_TECHNOLOGIES: Final = ("crystalline", "thin-film")
_WITHOUT: Final = ("none", "no", "false", "without", "unregulated", "rectifier", "missing")
_UNREGULATED: Final = (
    "leave it out, and write as `charge_voltage` what a meter shows at its battery when that is "
    "full: without a regulator nothing holds it"
)
_GENERATOR: Final = (
    "write `shore` where it is fed by a generator of mains voltage, and `alternator` where an "
    "engine charges without one"
)
_OF_AN_ENGINE: Final = ("vehicle", "vehicle-charger", "alternator-charger", "car-charger", "engine")
_BETWEEN_TWO: Final = (
    "write `alternator` where that itself is meant; a charger between two batteries, which an "
    "engine feeds, stands under `controllers:`, with `kind: vehicle-charger`"
)
_OF_NO_CHARGER: Final[Mapping[str, str]] = {
    **dict.fromkeys(
        ("generator", "genset", "diesel", "petrol", "gas", "fuel-generator"), _GENERATOR
    ),
    **dict.fromkeys(
        ("petrol-generator", "gasoline-generator", "diesel-generator", "inverter-generator"),
        _GENERATOR,
    ),
    **dict.fromkeys(
        ("solar", "mppt", "pwm", "tracker"),
        "what has a solar input stands under `controllers:`",
    ),
    **dict.fromkeys(
        ("inverter", "combi", "inverter-charger", "multi"),
        "an inverter and charger in one case stands under `inverter_chargers:`",
    ),
    **dict.fromkeys(
        ("dc-dc", "dcdc", "b2b", "battery-to-battery", "booster"),
        "a charger between two batteries stands under `controllers:`, with `kind: vehicle-charger`",
    ),
}
"""What is written as the kind of a charger, and where it stands or what it is."""


def common_meant(name: str) -> str:
    """What to write for a word that means the body or the earth; empty for another."""
    words = ("ground", "gnd", "body", "frame", "mass", "masse", "car-body", "bodywork", "hull")
    if name.lower() not in words:
        return ""
    return (
        "write `chassis` where the body or frame of a vehicle is meant, `water` on a boat, "
        "`earth` at a cabin"
    )


def solar_input_meant(word: str) -> str:
    """What to do about a terminal of an inverter that is none; empty where nobody can tell."""
    is_solar = re.match("(pv|solar|mppt|panel|sun|array|string)", word.lower()) is not None
    return _ONE_CASE if is_solar else ""


def mains_meant(word: str) -> str:
    """What to do about a terminal of mains voltage; empty for any other."""
    if not _MAINS.fullmatch(word.lower()):
        return ""
    return "its mains side is outside the plan: leave this wire out"


def device_meant(name: str) -> str:
    """What to write of a device in a wire that is declared nowhere; empty where nobody can tell."""
    return _SHUNT if "shunt" in name else ""


def key_of_device_meant(key: str, held: Node) -> str:
    """What to do with a key that is written at a device in a wire, where it cannot stand."""
    word = held.lower() if isinstance(held, Text) else ""
    if key in ("pole", "poles") or word in _POLE_WORDS:
        return _ONE_POLE
    if key in _OF_DEVICES:
        return f"write `{key}` once, where it is declared: {_DEVICE_FAMILIES}"
    return "write `{NAME: {from_end: …, distance: …}}`, `from_end` being `from` or `to`"


_POLE_WORDS: Final = ("positive", "negative", "both", "plus", "minus", "+", "-", "pos", "neg")
_DEVICE_FAMILIES: Final = "under `fuses:`, `breakers:` or `switches:`"
_OF_DEVICES: Final = (
    *("rating", "voltage", "interrupt", "style", "dc", "polarised", "load_break", "place"),
    *("max_conductor", "ignition_protected", "opens_below", "closes_above", "opened_by"),
)
_ONE_POLE: Final = (
    "draw each pole for itself, one wire with `pole: positive` and one with `pole: negative`, and "
    "name it in the one in which it stands; one switch that opens both says `poles: 2` where it "
    "is declared"
)


def battery_meant(key: str) -> str:
    """What names a battery under a key, where no such battery is declared."""
    if key == "warms":
        return _WARMS
    return (
        "`opened_by` names the battery whose management opens it; one that a hand opens, by a "
        "button too, leaves it out"
    )


_IN_WIRES: Final = {
    **dict.fromkeys(("fuse", "fuses"), ("fuses", "run-fuse")),
    **dict.fromkeys(("breaker", "breakers"), ("breakers", "run-breaker")),
    **dict.fromkeys(("switch", "switches", "device", "devices"), ("switches", "run-off")),
    "protection": ("fuses", "run-fuse"),
}
"""What a device in a wire is called by people, its family, and a name for one."""


def _way_meant(key: str, held: Node) -> str:
    """A way of a panel as it is written, by what stands for it; empty of anything else."""
    if isinstance(held, Block):
        return f"{key}: {{…}}"
    return f"{key}: {{fuse: {held}}}" if re.fullmatch(r"[0-9.]+ ?A", str(held)) else ""


def meant(model: str, key: str, block: Block, fitting: Collection[str]) -> str:
    """What to write instead of a key that a model does not have; empty where nobody can tell.

    fitting: the keys of the model that may hold what stands there.
    """
    if model in ("String", "Battery") and key in ("parallel", *_COUNTS):
        return _counted(model, key, block)
    if key in _HOW_WIRED and (wired := _how_wired(model, key, block)):
        return wired
    if model == "String" and plain_key(key) in _AZIMUTHS and (facing := _facing(block[Text(key)])):
        return facing
    if model == "ModuleSheet" and key in ("folding", "flexible", "rigid") and _is_yes(block, key):
        return f"write `build: {key}`"
    if model in ("Inverter", "InverterCharger") and _of_the_mains(block[Text(key)]):
        return _MAINS_SIDE
    if model == "Wire" and key in _IN_WIRES:
        return _in_a_wire(key, block[Text(key)])
    if model == "Battery" and key == "series":
        number = _number(block[Text(key)])
        return f"write `arrangement: {number}s`" if number else "write it as `arrangement:`"
    if model in ("String", "Battery") and re.fullmatch(r"\d+ ?(in )?(series|parallel)", key):
        return "that is part of the arrangement: write both numbers in one word, as in `4s2p`"
    plain = plain_key(key)
    if model in ("String", "Battery") and re.fullmatch(r"\d+s(\d+p)?|\d+p", str(block[Text(key)])):
        return "write `arrangement`"
    if model == "Way" and plain in ("breaker", "circuit_breaker"):
        return _breaker_of_way(block[Text(key)])
    if plain == "location" and (setting := _setting(model, block[Text(key)])):
        return setting
    if model == "Plan" and _wraps_a_plan(block[Text(key)]):
        return "delete this line, and begin the lines below it at the margin, two spaces less"
    if model == "Wire" and plain == "distance":
        return _distance(block)
    size = _size_of_wire(plain, block[Text(key)]) if model == "Wire" else ""
    if size and Text("cable") not in block:
        return f"write `cable: {size}`"
    of_output = model == "Controller" and plain in ("output_voltage", "voltage_out", "vout")
    if of_output or (model in _CHARGING and plain in _VOLTAGES):
        return _which_voltage(model, block[Text(key)])
    if model == "Controller" and _both_limits(block[Text(key)]):
        return _TWO_LIMITS
    if right := _renamed(model, plain, fitting):
        held = block[Text(key)]
        if model == "Plan" and right in _OF_SECTIONS and isinstance(held, Block):
            return f"write `{right}`"
        if model == "Plan" and right in FORMS and not (_is_family(held) or _is_list(held)):
            return f"write `{right}: {FORMS[right]}`"
        return f"write `{right}`"
    if model == "Distribution" and (way := _way_meant(key, block[Text(key)])):
        return f"its ways stand under `ways`: write `ways: {{{way}}}`"
    if model == "Plan" and (
        right := _section(block[Text(key)]) or _family(plain, block[Text(key)])
    ):
        return f"write `{right}`"
    if model == "Site" and plain == "place" and _is_family(block[Text(key)]):
        return "write `places`"
    instead = ELSEWHERE.get(model, {}).get(plain, "") or _anywhere(model, plain)
    if not instead and model in ("Inverter", "InverterCharger"):
        return solar_input_meant(plain)
    if instead is _MODULES and (held := block[Text(key)]) and _is_family(held):
        return _LABELS
    return instead


def _renamed(model: str, plain: str, fitting: Collection[str]) -> str:
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


_CHARGING: Final = ("Controller", "Charger", "InverterCharger")
_VOLTAGES: Final = ("voltage", "volts", "v", "rated_voltage")


def _which_voltage(model: str, held: Node) -> str:
    """A voltage of what charges, of which there are several."""
    if isinstance(held, Text) and re.fullmatch(
        r"(6|12|24|36|48|12[.]8|25[.]6|51[.]2) ?[vV].*", held
    ):
        return "write `nominal`"
    solar = ", `max_input_voltage` for the most that its solar input stands"
    return _WHICH_VOLTAGE + (solar if model == "Controller" else "")


_FAMILIES_OF: Final = (
    *("strings", "controllers", "fuses", "breakers", "switches", "batteries", "inverters"),
    *("loads", "chargers", "converters", "busbars", "wires"),
)
"""Families that people write with a word before, as in `solar_strings`."""


def _family(plain: str, held: Node) -> str:
    """The family that a section of a plan is, by the end of its name or by what stands in it."""
    if not _is_family(held) or not held or plain.startswith(("ac_", "hybrid_", "micro_", "grid_")):
        return ""
    assert isinstance(held, Block)
    if all(
        isinstance(each, Block) and {"from", "to"} <= set(map(str, each)) for each in held.values()
    ):
        return "wires"
    return next((family for family in _FAMILIES_OF if plain.endswith(f"_{family}")), "")


def _section(node: Node) -> str:
    """The section of a plan that a block is by what stands in it; empty where it is none."""
    held = set(map(str, node)) if isinstance(node, Block) else set()
    return next((key for key, keys in _OF_SECTIONS.items() if held and held <= keys), "")


_OF_SECTIONS: Final = {
    "site": {"coldest", "hottest", "latitude", "height", "obstacles", "places"},
    "datasheets": {"modules", "cables"},
    "energy": {"sun_hours", "sky", "uses", "standby"},
}
"""What stands in sections of a plan that have no names."""

_PARTS: Final = (
    *("Battery", "Controller", "Charger", "Inverter", "InverterCharger", "Converter", "Load"),
    *("Fuse", "Breaker", "Switch", "String", "Wire", "PowerBox", "Starter", "Heater"),
)
_OF_A_PLACE: Final[Mapping[str, str]] = {
    **{
        key: f"{key}: true"
        for key in ("vented", "wet", "sunlight", "engine_space", "living_space", "gas_locker")
    },
    **dict.fromkeys(("ambient", "ambient_temperature", "air_temperature"), "ambient: … °C"),
}
"""What a place tells of all that is in it."""
_SECTIONS: Final = frozenset(
    ("setting", "site", "datasheets", "strings", "controllers", "batteries", "wires", "fuses")
)


def _anywhere(model: str, key: str) -> str:
    """What is meant by a key that people write with any part."""
    if model in ("Plan", "Site", "Energy", "Datasheets", "Head"):
        return ""
    if key in ("name", "id", "called"):
        return "the key that it stands under is its name: delete this"
    if key in ("description", "comment", "comments", "notes", "label", "info", "remark", "desc"):
        return "what a reader should know of it stands behind a `#`: write it there"
    if model not in (*_PARTS, "ModuleSheet", "CableSheet", "Busbar", "Combiner", "Distribution"):
        return ""
    if key in ("model", "brand", "make", "manufacturer", "maker", "part_number", "product", "sku"):
        return _NO_PRODUCT
    if model in _PARTS and key in ("location", "where", "at", "located", "position", "room"):
        return _PLACED
    if model in _PARTS and (told := _OF_A_PLACE.get("vented" if key.startswith("vent") else key)):
        return (
            f"that is told of its place: `site: {{places: {{locker: {{{told}}}}}}}`, and "
            "`place: locker` here"
        )
    if key in ("surge_protection", "surge_protector", "spd", "spds", "arrester", "surge_arrester"):
        return _ARRESTERS
    if model in _PARTS and model != "Wire":
        if key in _JOINS or key in ("battery", "bank", "panel", "busbar", "controller", "charges"):
            return _JOINED
        if key in _WIRED and model != "Fuse":
            return _OF_ITS_WIRE
        if key in _COUNTS:
            return _EACH_BY_ITSELF
    if key in _DETAILS:
        return _NOT_COMPARED
    if model not in ("Wire", "Fuse") and key.endswith(("_fuse", "_breaker", "_disconnect")):
        return _INLINE
    if model not in ("Wire", "Fuse") and key in ("fuse", "fuses", "fused", "breaker", "switch"):
        return _INLINE
    return ""


def _setting(model: str, held: Node) -> str:
    """What to write of a location that tells what the installation is in."""
    settings = ("vehicle", "boat", "cabin", "portable")
    word = sure_word(held, settings) if model == "Plan" and isinstance(held, Text) else ""
    return f"write `setting: {word}`" if word else ""


def _wraps_a_plan(node: Node) -> bool:
    """True for a block whose keys are sections of a plan."""
    return isinstance(node, Block) and len(set(map(str, node)) & _SECTIONS) > 1


_AZIMUTHS: Final = ("azimuth", "facing", "orientation", "direction", "aspect", "heading", "bearing")
_EIGHT: Final = (
    *("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"),
)


def plain_key(key: str) -> str:
    """A key as other spellings of it are compared: in lower case, its parts joined by `_`."""
    return re.sub(r"[\s-]+", "_", key.lower())


def _facing(node: Node) -> str:
    """What to write of a direction in degrees; empty of anything else."""
    degrees = (
        re.fullmatch(r"([0-9]{1,3})([.]0)? ?(°|deg|degrees)?", node)
        if (isinstance(node, Text))
        else None
    )
    if degrees is None or int(degrees[1]) > 360:
        return ""
    word = _EIGHT[round(int(degrees[1]) / 45) % 8]
    return (
        f"write `facing: {word}` if that counts from north over east, or another of the eight "
        "directions"
    )


def _is_yes(block: Block, key: str) -> bool:
    return str(block[Text(key)]).lower() in ("true", "yes", "y", "on")


def _of_the_mains(node: Node) -> bool:
    """True for an alternating voltage or a frequency, with which an inverter is described."""
    found = r"(1[0-2][0-9]|2[0-4][0-9]) ?V.*|.*[0-9] ?(VAC|V ?AC|Hz)\b.*"
    return isinstance(node, Text) and re.fullmatch(found, node, re.IGNORECASE) is not None


def _both_limits(node: Node) -> bool:
    """True for the two figures by which tracking controllers are named, volts and amperes."""
    return isinstance(node, Text) and re.fullmatch(r"\d+ ?V? ?[/|] ?\d+ ?A?", node) is not None


def _size_of_wire(plain: str, held: Node) -> str:
    """The size that a wire tells under a key of people's own; empty where there is none."""
    if not isinstance(held, Text) or plain not in ("size", "gauge", "awg", "area", "mm2"):
        return ""
    if plain in ("gauge", "awg", "mm2") and re.fullmatch("[0-9]{1,3}([.][0-9])?(/0)?", held):
        return f"{held} mm²" if plain == "mm2" else f"{held} AWG"
    return str(held) if is_quantity(held, "conductor size") else ""


def _distance(wire: Block) -> str:
    """A distance of a wire: its length, or where a device sits in it."""
    if Text("length") not in wire:
        return "write `length`"
    return (
        "where a device sits in a wire is told with it: write `inline: [{NAME: {from_end: …, "
        f"distance: {wire[Text('distance')]}}}}}]`, `from_end` being `from` or `to`"
    )


def _breaker_of_way(held: Node) -> str:
    """A way of a panel of breakers, whose rating is told as that of a fuse."""
    rating = held if isinstance(held, Text) and re.match("[0-9]", held) else "… A"
    return (
        f"write `fuse: {rating}`, and of which kind the breaker is: `style: toggle-breaker` or "
        "`push-button-breaker`"
    )


def _in_a_wire(key: str, held: Node) -> str:
    """A device that a wire names by its kind, or by its rating alone."""
    if isinstance(held, Text) and held.lower() in ("yes", "true", "y", "on", "inline"):
        held = Text("… A")
    if isinstance(held, Text) and re.fullmatch("[a-z][a-z0-9-]*", held):
        return f"devices in a wire stand in its list: write `inline: [{held}]`"
    if isinstance(held, Items) and held:
        return "write `inline`"
    words = "devices in a wire stand in its list `inline:`, by their names"
    if isinstance(held, Block):
        held = held.get(Text("rating"), held.get(Text("amps"), Text("… A")))
    figure = re.match("([0-9.]+|…) ?[A-Za-z]*", held) if isinstance(held, Text) else None
    if figure is None:
        return words
    family, name = _IN_WIRES[key]
    rating = figure[0] if re.search("[A-Za-z]", figure[0]) else f"{figure[0]} A"
    declared = f"`{family}: {{{name}: {{rating: {rating}}}}}`"
    return f"{words}: declare it, as in {declared}, and write `inline: [{name}]`"


def device_by_rating(written: Text) -> str:
    """How a device is written that a wire holds by its rating; empty for what is no rating."""
    told = re.fullmatch(r"([0-9.]+ ?[aA](?:mps?)?)(?:[ -]+([a-z-]+))?", written)
    kind = (told[2] or "fuse") if told else ""
    if told is None or kind.removesuffix("s") not in _IN_WIRES:
        return ""
    return _in_a_wire(kind.removesuffix("s"), Text.at(told[1], written.place))


def _is_list(node: Node) -> bool:
    return isinstance(node, Items) and bool(node)


def _is_family(node: Node) -> bool:
    """True for components under names of their own."""
    return isinstance(node, Block) and all(isinstance(held, Block) for held in node.values())


def _counted(model: str, key: str, block: Block) -> str:
    """Alike modules or batteries, counted under a key of the builder's own."""
    number = _number(block[Text(key)])
    in_series = _number(block.get(Text("series"), Text("")))
    if not number:
        return "write how they are wired as `arrangement:`, a short form of series and parallel"
    if key == "parallel":
        written = f"arrangement: {in_series or 1}s{number}p"
        if model == "Battery" and not in_series:
            written = f"arrangement: {number}p"
        beside = " in the place of `series`" if in_series and model == "String" else ""
        return f"write `{written}`{beside}"
    if sure := _counted_as_told(model, number, block):
        return f"write `{sure}`"
    one_after_another = f"series: {number}" if model == "String" else f"arrangement: {number}s"
    side_by_side = f"arrangement: {'1s' if model == 'String' else ''}{number}p"
    return (
        f"write `{one_after_another}` if they are wired one after another, `{side_by_side}` if "
        "side by side"
    )


_COUNTS: Final = ("count", "quantity", "number", "qty", "how_many", "pieces", "amount")
"""How people count alike parts."""
_HOW_WIRED: Final = (
    *("wired", "wiring", "connection", "connected", "joined", "configuration", "config", "layout"),
    *("in", "how", "connected_in", "wired_in"),
    *("in_series", "in_parallel", "series", "parallel", "arrangement"),
)


def _counted_as_told(model: str, number: str, block: Block) -> str:
    """The arrangement of counted parts, where a key beside tells how they are wired."""
    told = {
        word if str(held).lower() in ("true", "yes") else str(held).lower()
        for word in _HOW_WIRED
        if isinstance(held := block.get(Text(word)), Text)
    }
    ways = {way for way in ("series", "parallel") for word in told if way in word}
    if len(ways) != 1 or len(told) != 1:
        return ""
    if "parallel" in ways:
        return f"arrangement: {'1s' if model == 'String' else ''}{number}p"
    return f"series: {number}" if model == "String" else f"arrangement: {number}s"


def _how_wired(model: str, key: str, block: Block) -> str:
    """What to write of a key that says how many parts are wired that another key counts."""
    if model not in ("String", "Battery"):
        return ""
    way = str(block[Text(key)]).lower()
    for told, ways in (("series", "s"), ("arrangement", str(block.get(Text("arrangement"))))):
        if Text(told) in block and told != key and way in ("series", "parallel") and way[0] in ways:
            return f"`{told}: {block[Text(told)]}` tells that already: delete this"
    beside = next((word for word in _COUNTS if _number(block.get(Text(word), Text("")))), "")
    number = _number(block.get(Text(beside), Text("")))
    sure = _counted_as_told(model, number, block) if number else ""
    return f"write `{sure}`, and delete `{beside}`" if sure else ""


def _number(node: Node) -> str:
    return str(node) if isinstance(node, Text) and node.isdecimal() and node[0] != "0" else ""
