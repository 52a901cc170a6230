"""The JSON Schema of a plan, for editors and other programs, built from the models.

The reader does not use it: it says more, and in better words. What the models check between keys
is repeated here in TOGETHER; tests hold the two against each other.
"""

from __future__ import annotations

import json
import re
from typing import Any, Final

from wattproof.plan.fields import UNITS, UNKNOWABLE, Part
from wattproof.plan.forms import form, formless
from wattproof.plan.opening import OPEN
from wattproof.plan.readings import MEASURED
from wattproof.plan.root import Plan
from wattproof.quantities import UNKNOWN
from wattproof.source import PLAN, Kind

_NAME: Final = "^[a-z0-9]+(-[a-z0-9]+)*$"

TOGETHER: Final[dict[str, dict[str, Any]]] = {
    "String": {
        "oneOf": [{"required": ["module"]}, {"required": ["modules"]}],
        "allOf": [
            {"not": {"required": ["series", "arrangement"]}},
            {"not": {"required": ["modules", "series"]}},
            {"not": {"required": ["modules", "arrangement"]}},
            {
                "if": {
                    "patternProperties": {"^arrangement$": {"const": OPEN}},
                    "required": ["arrangement"],
                },
                "then": {
                    "required": ["count"],
                    "not": {"required": ["feeds", "controllers"]},
                },
                "else": {
                    "not": {"anyOf": [{"required": ["count"]}, {"required": ["controllers"]}]}
                },
            },
        ],
    },
    "Use": {
        "anyOf": [
            {"required": ["hours"]},
            {"required": ["energy"]},
            {"required": ["switched_on"]},
            {"required": ["appliances"]},
        ],
        "not": {
            "anyOf": [
                {"required": ["hours", "energy"]},
                {"required": ["hours", "appliances"]},
                {"required": ["energy", "appliances"]},
            ]
        },
    },
    "Reading": {
        "anyOf": [{"required": [key]} for key in MEASURED],
        "dependentRequired": {
            "posts_voltage": ["voltage"],
            "joint_temperature": ["air_temperature"],
        },
    },
    "Load": {"not": {"required": ["current", "power"]}},
    "Heater": {"not": {"required": ["current", "power"]}},
    "Wire": {
        "dependentRequired": {"depth": ["run"]},
        "dependentSchemas": {"depth": {"patternProperties": {"^run$": {"const": "buried"}}}},
    },
    "Energy": {"not": {"required": ["sun_hours", "sky"]}},
    "Battery": {
        "dependentRequired": {"each_pack": ["arrangement"]},
        "not": {"required": ["capacity", "bank_capacity"]},
    },
}
"""Keys that belong together or exclude each other, by model."""

EXAMPLES: Final[dict[str, Any]] = {
    "site": {
        "coldest": "-18 °C",
        "hottest": "40 °C",
        "places": {"roof": {"ambient": "65 °C", "sunlight": True}},
    },
    "places": {"roof": {"ambient": "65 °C", "sunlight": True}},
    "datasheets": {"cables": {"pv-10": {"size": "10 AWG", "kind": "pv"}}},
    "modules": {"rigid-200": {"voc": "24.6 V", "vmp": "20.5 V", "isc": "10.2 A", "pmax": "200 W"}},
    "cables": {"pv-10": {"size": "10 AWG", "kind": "pv", "insulation_temperature": "90 °C"}},
    "connector": {"style": "locking-pv", "make": "A", "rating": "30 A"},
    "strings": {"port": {"module": "rigid-200", "series": 3, "mounting": "roof-gap"}},
    "combiners": {"roof-joint": {"joins": ["port", "starboard"], "kind": "branch-connector"}},
    "fuses": {"charge-fuse": {"rating": "40 A", "voltage": "58 V", "style": "bolt-down"}},
    "breakers": {"pv-breaker": {"rating": "20 A", "voltage": "150 V", "poles": 2}},
    "switches": {"pv-off": {"rating": "30 A", "voltage": "150 V", "dc": True}},
    "controllers": {
        "tracker": {"kind": "mppt", "max_input_voltage": "100 V", "max_output_current": "30 A"}
    },
    "batteries": {
        "house": {"chemistry": "lithium-iron-phosphate", "nominal": "12.8 V", "capacity": "200 Ah"}
    },
    "busbars": {"positive-bar": {"rating": "150 A"}},
    "distribution": {"panel": {"rating": "100 A", "ways": {"lights": {"fuse": "10 A"}}}},
    "ways": {"lights": {"fuse": "10 A", "style": "blade"}},
    "inverters": {"mains": {"power": "1500 W", "nominal": "12 V"}},
    "loads": {"refrigerator": {"power": "45 W", "nominal": "12 V"}},
    "chargers": {"alternator": {"kind": "alternator", "max_output_current": "90 A"}},
    "inverter_chargers": {
        "combi": {"power": "2000 W", "max_output_current": "70 A", "nominal": "12 V"}
    },
    "converters": {
        "step-down": {
            "input_nominal": "24 V",
            "output_nominal": "12 V",
            "max_output_current": "20 A",
        }
    },
    "starters": {"engine-starter": {"current": "250 A", "nominal": "12 V"}},
    "heaters": {"house-heater": {"warms": "house", "power": "60 W", "keeps": "5 °C"}},
    "power_boxes": {
        "box": {
            "max_input_voltage": "50 V",
            "max_input_current": "10 A",
            "max_input_power": "200 W",
        }
    },
    "diode_isolators": {"splitter": {"rating": "120 A", "outputs": ["start", "house"]}},
    "selectors": {"battery-selector": {"rating": "250 A", "make_before_break": True}},
    "arc_fault_devices": {"arc-guard": {"rating": "25 A", "voltage": "600 V", "poles": 2}},
    "frame_bonds": {
        "roof-frames": {"strings": ["port", "starboard"], "to": "earth", "cable": "bond-10"}
    },
    "inputs": {"pv-1": {"max_input_voltage": "100 V"}, "pv-2": {}},
    "each_pack": {"fuse": "pack-fuse", "distance": "10 cm"},
    "bonds": {"chassis-bond": {"from": "house.negative", "to": "chassis", "cable": "bond-8"}},
    "arresters": {"pv-arrester": {"across": "tracker.pv", "voltage": "150 V"}},
    "wires": {
        "home-run": {"from": "port", "to": "tracker.pv", "cable": "pv-10", "length": "16 ft"}
    },
    "shade": {"antenna": {"shadows": [{"string": "port", "module": 1, "light": "20 %"}]}},
    "energy": {
        "sun_hours": {"winter": "1.2 h", "summer": "5 h"},
        "uses": {"refrigerator": {"hours": {"winter": "6 h", "summer": "11 h"}}},
    },
    "uses": {"refrigerator": {"hours": "8 h"}, "mains": {"energy": "300 Wh", "switched_on": "4 h"}},
    "readings": {
        "port-open": {"at": "port", "voc": "68.1 V", "back_temperature": "48 °C"},
        "noon": {"at": "tracker.pv", "voltage": "52.6 V", "current": "17.1 A", "stage": "bulk"},
    },
    "meter": {"voltage": "0.5 %", "current": "2 %", "zero": "0.3 A"},
    "accepted": [
        {"rule": "voltage-drop-high", "where": "home-run", "reason": "the loss is known and small"}
    ],
}
"""What stands under a key that holds further keys. Each is checked against the schema in tests.

Of what stands on labels the figures are left out where the schema shows it.
"""
_OF_THE_BUILDER: Final = ("site", "places", "shade", "energy", "uses", "accepted")
"""Keys whose figures stand on no label."""


def plan_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) of a plan, the same at every call."""
    return document_schema(Plan, PLAN, "Wattproof plan", TOGETHER)


def document_schema(
    model: type[Part], kind: Kind, title: str, together: dict[str, dict[str, Any]]
) -> dict[str, Any]:
    """The schema of a kind of file. together: what is said of keys that depend on each other."""
    made = model.model_json_schema(by_alias=True, mode="validation")
    definitions: dict[str, Any] = made.pop("$defs")
    for name, rules in together.items():
        definitions[name].update(rules)
    made["properties"][kind.key] = {
        "enum": [kind.version, str(kind.version)],
        "description": f"Version of the {kind.word.removesuffix(' file')} format.",
        "examples": [kind.version],
    }
    if kind is PLAN:
        for name, each in {model.__name__: made, **definitions}.items():
            _let_unknown(name, each)
            for key in _by_model(Part, "MAY_BE_UNKNOWN").get(name, ()):
                each["properties"][key] |= {"type": ["object", "string"], "pattern": f"^{UNKNOWN}$"}
            for key in _by_model(Part, "MAY_BE_OPEN").get(name, ()):
                if key in each["properties"]:
                    _or_word(each["properties"][key], OPEN)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:wattproof:schema:{title.split()[-1]}:{kind.version}",
        "title": f"{title}, format {kind.version}",
        **_of_object(made),
        "$defs": {name: _tidied(definitions[name], name) for name in sorted(definitions)},
    }


def _let_unknown(model: str, schema: dict[str, Any]) -> None:
    """Let the word for what nobody knows stand where the reader takes it."""
    must = {*schema.get("required", ()), *_by_model(Part, "MUST_TELL").get(model, ())}
    forms = [schema, *schema.get("anyOf", ())]
    for form_ in forms:
        if isinstance(form_.get("additionalProperties"), dict):
            _let_unknown(model, form_["additionalProperties"])
    for key, held in schema.get("properties", {}).items():
        family = held.get("additionalProperties")
        if isinstance(family, dict) and "$ref" in family:
            held["additionalProperties"] = {"anyOf": [family, _UNKNOWN]}
        elif key not in must:
            _or_word(held, UNKNOWN)


def _by_model(model: type[Part], which: str) -> dict[str, tuple[str, ...]]:
    """Keys that are never unknown, or that may be open, by the names of models."""
    found = {model.__name__: getattr(model, which)}
    for each in model.__subclasses__():
        found |= _by_model(each, which)
    return found


_UNKNOWN: Final = {"const": UNKNOWN}


def _or_word(held: dict[str, Any], word: str) -> None:
    """Let `unknown` or `open` be one more form of a value, where the reader marked that it is."""
    forms = [form_ for form_ in held.get("anyOf", ()) if form_ != {"type": "null"}]
    single = held if not forms else forms[0] if len(forms) == 1 else None
    if single is not None and "$ref" in single and "anyOf" in held:
        held["anyOf"] = [*forms, {"const": word}]
        return
    marked = single if single is not None else held
    if not (marked.get(UNKNOWABLE) or any(form_.get(UNKNOWABLE) for form_ in forms)):
        return
    if "enum" in marked:
        marked["enum"] = [*marked["enum"], word]
    elif marked.get("pattern") and not re.match(marked["pattern"], word):
        marked["pattern"] = f"^({word}|{marked['pattern'][1:-1]})$"
    elif "anyOf" in marked and not any(_takes(each, word) for each in marked["anyOf"]):
        marked["anyOf"] = [*marked["anyOf"], {"const": word}]


def _takes(schema: dict[str, Any], word: str) -> bool:
    return bool(schema.get("pattern")) and re.match(schema["pattern"], word) is not None


def schema_text(schema: dict[str, Any]) -> str:
    """A schema as `wattproof schema` prints it."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _tidied(schema: Any, model: str = "") -> Any:
    """A schema without what the models' library adds for itself. model: whose keys it holds."""
    if isinstance(schema, list):
        return [_tidied(each, model) for each in schema]
    if not isinstance(schema, dict):
        return schema
    if "properties" in schema:
        return _of_object(schema, model)
    if "anyOf" in schema:
        schema = _without_null(schema)
    if "additionalProperties" in schema and isinstance(schema["additionalProperties"], dict):
        names = schema.get("propertyNames", {"pattern": _NAME})
        schema = {**schema, "propertyNames": names}
    kept = {key: value for key, value in schema.items() if key not in ("title", UNITS, UNKNOWABLE)}
    if kept.get("default", ...) in (None, []):
        del kept["default"]
    return {
        key: value if key == "examples" else _tidied(value, model) for key, value in kept.items()
    }


def _of_object(schema: dict[str, Any], model: str = "") -> dict[str, Any]:
    """A schema with named properties, which may themselves be called `title` or `default`."""
    rest = {k: v for k, v in schema.items() if k not in ("properties", "title")}
    properties = {key: _property(key, value, model) for key, value in schema["properties"].items()}
    return {**_tidied(rest, model), "properties": properties}


def _property(key: str, schema: dict[str, Any], model: str) -> dict[str, Any]:
    """A key's schema, with its units in the description and an example."""
    units = _units(schema)
    tidy: dict[str, Any] = _tidied(schema)
    if units:
        tidy["description"] = f"{tidy['description']} Units: {', '.join(units)}."
    if "examples" in tidy:
        tidy["examples"] = [form(model, key, each) for each in tidy["examples"]]
    elif key in EXAMPLES:
        example = EXAMPLES[key]
        tidy["examples"] = [example if key in _OF_THE_BUILDER else formless(example)]
    return tidy


def _units(schema: dict[str, Any]) -> list[str]:
    for each in (schema, *schema.get("anyOf", ())):
        if UNITS in each:
            return list(each[UNITS])
    return []


def _without_null(schema: dict[str, Any]) -> dict[str, Any]:
    """A plan leaves a key out; it never writes null. One form that is left needs no choice."""
    forms = [form for form in schema["anyOf"] if form != {"type": "null"}]
    if len(forms) == 1:
        rest = {key: value for key, value in schema.items() if key != "anyOf"}
        return {**forms[0], **rest}
    return {**schema, "anyOf": forms}
