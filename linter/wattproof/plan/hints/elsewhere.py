"""Keys that belong to another part of a plan than where they were found, or to none."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from wattproof.plan.hints.counts import COUNTS
from wattproof.plan.hints.other_words import LOW_VOLTAGES

MODULES: Final = (
    "write the label as `datasheets: {modules: {roof-module: {pmax: … W}}}`, and how many are "
    "wired together as `strings: {roof: {module: roof-module, series: …}}`"
)
LABELS: Final = (
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
MAINS_SIDE: Final = "its mains side is outside the plan: delete this"
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
NO_PART: Final = (
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

SHUNT: Final = (
    "a shunt stands in no wire: with its battery write `shunt:` and the wire in whose negative it "
    "sits"
)
_EQUALISER: Final = (
    "what keeps lead batteries in series even is told with one of them, as its rating: "
    "`equaliser: … A`"
)
WARMS: Final = "a heater of a plan warms a battery; what heats water or air stands under `loads:`"
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
TWO_LIMITS: Final = (
    "write the volts of its solar input as `max_input_voltage: … V`, and the amperes of its output "
    "as `max_output_current: … A`"
)
ONE_CASE: Final = (
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
        **dict.fromkeys(LOW_VOLTAGES, _CUT_OFF),
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
            (*COUNTS, "series"),
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
        **dict.fromkeys(_AT_THE_MAINS, MAINS_SIDE),
        **dict.fromkeys(_SOLAR_INPUT, ONE_CASE),
        **_COMPENSATION,
    },
    "Inverter": {
        **dict.fromkeys(_AT_THE_MAINS, MAINS_SIDE),
        **dict.fromkeys(("feeds", "fed_by"), _FED),
        **dict.fromkeys(_SOLAR_INPUT, ONE_CASE),
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
        **dict.fromkeys(("limits", "limit", "ratings", "spec", "specs"), TWO_LIMITS),
        **dict.fromkeys(LOW_VOLTAGES, _CUT_OFF),
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
            MODULES,
        ),
        **dict.fromkeys(
            ("panel", "panels"), f"{MODULES}; a panel with fuses stands under `distribution:`"
        ),
        **dict.fromkeys(
            ("dc_dc", "dcdc", "dc_to_dc", "dc_dc_charger", "b2b", "booster", "vehicle_charger"),
            "write `controllers: {twin: {kind: vehicle-charger, max_output_current: … A}}`",
        ),
        **dict.fromkeys(
            ("hybrid", "hybrids", "all_in_one", "hybrid_inverter", "hybrid_inverters"), ONE_CASE
        ),
        **dict.fromkeys(("generator", "generators", "genset", "gensets"), _GENSET),
        **dict.fromkeys(("equalisers", "equaliser", "equalizers", "balancers"), _EQUALISER),
        **dict.fromkeys(("microinverters", "micro_inverters", "grid_inverters"), NO_PART),
        **dict.fromkeys(("shunts", "shunt", "battery_monitor", "battery_monitors"), SHUNT),
        **dict.fromkeys(("water_heaters", "water_heater", "boilers", "boiler"), WARMS),
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


def anywhere(model: str, key: str) -> str:
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
        if key in COUNTS:
            return _EACH_BY_ITSELF
    if key in _DETAILS:
        return _NOT_COMPARED
    if model not in ("Wire", "Fuse") and key.endswith(("_fuse", "_breaker", "_disconnect")):
        return _INLINE
    if model not in ("Wire", "Fuse") and key in ("fuse", "fuses", "fused", "breaker", "switch"):
        return _INLINE
    return ""
