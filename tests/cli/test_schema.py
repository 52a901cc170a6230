"""The JSON Schema of a plan: published, complete, and of one mind with the reader."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from amounts import amount
from cli.calls import ROOT, SOUND, call
from plans import BASE
from reports.report_rules import PLAN
from wattproof.packs import discover
from wattproof.plan import load_plan
from wattproof.plan.schema import EXAMPLES, plan_schema, schema_text
from wattproof.source import PlanUnusable

SCHEMA = plan_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def _data(text: str) -> Any:
    """A plan as other programs load it: YAML 1.2, dates as text."""
    return json.loads(json.dumps(YAML(typ="safe", pure=True).load(text), default=str))


def _nodes(node: Any, path: str = "plan") -> list[tuple[str, dict[str, Any]]]:
    found = []
    if isinstance(node, list):
        found = [n for i, each in enumerate(node) for n in _nodes(each, f"{path}[{i}]")]
    elif isinstance(node, dict):
        found = [(path, node)]
        for key, child in node.items():
            if key != "examples":
                found += _nodes(child, f"{path}/{key}")
    return found


def test_the_published_file_is_what_the_command_prints() -> None:
    published = (ROOT / "schemas" / "plan.schema.json").read_bytes()
    done = call("schema")
    assert done.returncode == 0
    assert done.stdout == published
    assert published.decode() == schema_text(SCHEMA)


def test_it_is_a_schema_of_draft_2020_12_and_stable() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert plan_schema() == SCHEMA
    assert SCHEMA["$id"] == "urn:wattproof:schema:plan:1"


def test_every_key_has_a_description_and_an_example() -> None:
    for path, node in _nodes(SCHEMA):
        for key, child in node.get("properties", {}).items():
            assert child.get("description"), f"{path}/{key}"
            assert child.get("examples"), f"{path}/{key}"


def test_every_key_with_a_unit_names_its_units() -> None:
    quantities = [
        (f"{path}/{key}", child)
        for path, node in _nodes(SCHEMA)
        for key, child in node.get("properties", {}).items()
        if "[eE]" in str(child.get("pattern"))
    ]
    assert len(quantities) > 50
    for path, child in quantities:
        assert " Units: " in child["description"], path


def test_every_example_is_valid_where_it_stands() -> None:
    for path, node in _nodes(SCHEMA):
        for key, child in node.get("properties", {}).items():
            inner = jsonschema.Draft202012Validator({**child, "$defs": SCHEMA["$defs"]})
            for example in child["examples"]:
                inner.validate(_filled(example))
                assert not inner.is_valid({"no": ["such"]}), f"{path}/{key}"
    keys = {k for _, node in _nodes(SCHEMA) for k in node.get("properties", {})}
    assert set(EXAMPLES) <= keys


def _filled(example: Any) -> Any:
    """An example with a figure in the place of each that is left to the label."""
    if isinstance(example, dict):
        return {key: _filled(value) for key, value in example.items()}
    if isinstance(example, list):
        return [_filled(each) for each in example]
    if isinstance(example, str) and example.startswith("…"):
        return example.replace("…", "1", 1).partition(", ")[0]
    return example


def test_no_example_shows_a_figure_of_a_label() -> None:
    """A figure in an example is copied. Counts of members and what the builder chooses stay."""
    shown = []
    for model in ("ModuleSheet", "CableSheet", "Fuse", "Controller", "Battery", "Inverter", "Way"):
        for key, child in SCHEMA["$defs"][model]["properties"].items():
            shown += [(model, key, each) for each in child["examples"] if str(each)[:1].isdigit()]
    assert shown == [("Battery", "arrangement", "2p")]
    assert SCHEMA["$defs"]["ModuleSheet"]["properties"]["isc"]["examples"] == [
        "… A, from its label"
    ]


def test_objects_are_closed_and_names_are_checked() -> None:
    for path, node in _nodes(SCHEMA):
        if "properties" in node:
            assert node["additionalProperties"] is False, path
        elif isinstance(node.get("additionalProperties"), dict):
            assert node["propertyNames"]["pattern"], path


def test_nothing_of_the_library_is_left() -> None:
    text = schema_text(SCHEMA)
    for word in ('"type": "null"', '"default": null', '"units":', '"title": "Isc"'):
        assert word not in text


GOOD = {
    "base": BASE,
    "sound": SOUND,
    "reports": PLAN,
    **{f"{r.id} sound": r.sound for r in discover().rules.values()},
    **{f"{r.id} faulty": r.faulty.of(r.sound) for r in discover().rules.values()},
    **{
        str(p.relative_to(ROOT)): p.read_text(encoding="utf-8")
        for p in sorted((ROOT / "examples").rglob("*.yaml"))
        if p.parent.name != "parts"
    },
}


@pytest.mark.parametrize("name", list(GOOD)[:: amount(4, 1, whole=1)])
def test_it_accepts_every_plan_that_the_reader_accepts(name: str) -> None:
    VALIDATOR.validate(_data(GOOD[name]))


SPELLINGS = [
    ("coldest: -18 °C", "coldest: −18 C"),
    ("coldest: -18 °C", "coldest: 0 °F"),
    ("size: 10 AWG", "size: AWG 10"),
    ("size: 10 AWG", "size: 2/0 awg"),
    ("size: 10 AWG", "size: 6 mm2"),
    ("size: 10 AWG", "size: 6mm²"),
    ("voc_coefficient: -0.29 %/°C", "voc_coefficient: -71 mV/K"),
    ("voc: 24.3 V", "voc: 2.43e1 V"),
    ("series: 3", "series: '3'"),
    ("series: 3", "arrangement: 3s1p"),
    ("dc: true", "dc: 'true'"),
    ("place: [roof, cabin]", "place: roof"),
    ("setting: vehicle", "title: 2026\nsetting: vehicle"),
    ("code: nec-2023\n", ""),
    ("voc: 24.3 V", "voc: unknown"),
    ("voc: 24.3 V, ", ""),
    ("imp: 4.9 A, pmax: 100 W", "bypass_diodes: 2"),
    ("imp: 4.9 A, pmax: 100 W", "bypass_diodes: unknown, connector: unknown"),
    ("size: 10 AWG", "size: unknown, material: unknown, outdoor: unknown"),
    ("module: rigid-100", "module: unknown"),
    ("module: rigid-100, series: 3", "modules: [rigid-100, unknown]"),
    ("series: 3", "series: unknown, facing: unknown"),
    ("series: 3", "arrangement: unknown"),
    ("rating: 40 A", "rating: unknown"),
    ("length: 4 m, ", ""),
    ("length: 4 m", "length: unknown"),
    ("place: [roof, cabin]", "place: [roof, unknown]"),
    ("from_end: to, distance: 10 cm", "from_end: to, distance: unknown"),
    ("setting: vehicle", "setting: vehicle\ntold: part"),
    ("setting: vehicle", "setting: vehicle\ntold: {fuses: part, switches: whole}"),
    ("wires:\n", "loads: {pump: {note: bilge}, lamp: unknown}\nwires:\n"),
    ("voc: 24.3 V", "voc: 24.3 VDC"),
    ("size: 10 AWG", "size: 6 sq mm"),
    ("capacity: 100 Ah", "capacity: 100 Ah @ C20"),
    ("pmax: 100 W", "pmax: 100 Wp ±3 %"),
    ("coldest: -18 °C", "coldest: -18 ℃"),
    ("wires:\n", "readings: {r: {at: roof-string, voc: −65 V, irradiance: 0.9 kW/m2}}\nwires:\n"),
    ("wires:\n", "readings: {r: {at: house, voltage: 13 V, meter: {zero: 0 A}}}\nwires:\n"),
]


@pytest.mark.parametrize(("old", "new"), SPELLINGS)
def test_both_accept_other_spellings(old: str, new: str) -> None:
    text = _edited(old, new)
    load_plan("plan.yaml", text=text)
    VALIDATOR.validate(_data(text))


BAD = [
    ("wattproof: 1", "wattproof: 2"),
    ("wattproof: 1\n", ""),
    ("setting: vehicle", "setting: submarine"),
    ("setting: vehicle\n", ""),
    ("setting: vehicle", "setting: vehicle\ncolour: red"),
    ("setting: vehicle", "setting: vehicle\ntitle:"),
    ("code: nec-2023", "code: nec-1897"),
    ("voc: 24.3 V", "voc: 24.3"),
    ("voc: 24.3 V", "voc: 24,3 V"),
    ("voc: 24.3 V", "voc: -24.3 V"),
    ("voc: 24.3 V", "voc: 24.3 A"),
    ("voc: 24.3 V", "voc: [24.3 V]"),
    ("chemistry: lithium-iron-phosphate", "chemistry: lead acid"),
    ("setting: vehicle", "setting: unknown"),
    ("setting: vehicle", "setting: vehicle\ntold: some"),
    ("setting: vehicle", "setting: vehicle\ntold: {fuzes: part}"),
    ("fuses:\n", "loads: unknown\nfuses:\n"),
    ("length: 4 m", "length: 4 m, pole: unknown"),
    ("voc: 24.3 V", "voc: 24.3 V, vox: 3 V"),
    ("size: 10 AWG", "size: 10"),
    ("size: 10 AWG", "size: 10 mm"),
    ("size: 10 AWG", "size: 99 AWG"),
    ("material: copper", "material: tin"),
    ("roof-string: {", "Roof String: {"),
    ("series: 3", "series: 0"),
    ("series: 3", "series: 2.5"),
    ("series: 3", "series: three"),
    ("series: 3", "series: 3, arrangement: 3s"),
    ("series: 3", "arrangement: 3x"),
    ("module: rigid-100, series: 3, mounting: roof-gap", "mounting: ground"),
    ("dc: true", "dc: perhaps"),
    ("kind: mppt", "kind: magic"),
    ("length: 4 m", "length: -4 m"),
    ("from: roof-string", "from: roof string"),
    ("place: [roof, cabin]", "place: []"),
    ("from_end: to, distance: 10 cm", "distance: 10 cm"),
    ("{from_end: to, distance: 10 cm}", "10 cm"),
    ("wires:\n", "loads: {pump: {current: 1 A, power: 12 W}}\nwires:\n"),
    ("wires:\n", "accepted: [{rule: a, where: b, until: soon, extra: 1}]\nwires:\n"),
    ("strings:", "strings: []\nstringz:"),
    ("wires:\n", "readings: {r: {at: house, stage: bulk}}\nwires:\n"),
    ("wires:\n", "readings: {r: {voltage: 13 V}}\nwires:\n"),
    ("wires:\n", "readings: {r: {at: tracker.battery, posts_voltage: 13 V}}\nwires:\n"),
    ("wires:\n", "readings: {r: {at: charge-fuse, joint_temperature: 40 °C}}\nwires:\n"),
]


@pytest.mark.parametrize(("old", "new"), BAD)
def test_both_refuse_a_bad_plan(old: str, new: str) -> None:
    text = _edited(old, new)
    with pytest.raises(PlanUnusable):
        load_plan("plan.yaml", text=text)
    assert not VALIDATOR.is_valid(_data(text))


def _edited(old: str, new: str) -> str:
    assert old in BASE
    return BASE.replace(old, new, 1)


def test_schemas_are_published_for_reports_too() -> None:
    names = {p.name for p in Path(ROOT / "schemas").glob("*.json")}
    assert names >= {"plan.schema.json", "report.schema.json", "figures.schema.json"}


def test_each_published_schema_has_a_name_of_its_own_with_its_version() -> None:
    names = []
    for path in sorted((ROOT / "schemas").glob("*.json")):
        schema = json.loads(path.read_text(encoding="utf-8"))
        kind = path.name.removesuffix(".schema.json")
        version = schema["title"].split()[-1]
        version = version if version.isdigit() else "1"
        assert schema["$id"] == f"urn:wattproof:schema:{kind}:{version}"
        jsonschema.Draft202012Validator.check_schema(schema)
        names.append(schema["$id"])
    assert len(set(names)) == len(names)
