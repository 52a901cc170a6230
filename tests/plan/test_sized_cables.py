"""A size in the place of a cable's name is all that is told of that cable."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from found import found_in_whole
from wattproof.amend.changes import with_changes
from wattproof.amend.reread import is_amended
from wattproof.plan import load_plan
from wattproof.plan.amend import Change
from wattproof.source import PlanUnusable

ROOT = Path(__file__).parents[2]

PLAN = """\
wattproof: 1
code: iec
setting: vehicle
datasheets:
  cables: {lead-1-5: {size: 1.5 mm²}, SHEET}
fuses: {main: {rating: 30 A, voltage: 32 V, interrupt: 20 kA, style: class-t, dc: true}}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
loads: {pump: {current: 20 A}, lamp: {current: 2 A}}
wires:
  pump-lead: {from: house, to: pump, cable: CABLE, length: 3 m,
              inline: [{main: {distance: 10 cm, from_end: from}}]}
  lamp-lead: {from: pump, to: lamp, cable: lead-1-5, length: 1 m}
"""
NAMED = PLAN.replace("SHEET", "thin: {size: 2.5 mm²}").replace("CABLE", "thin")
SIZED = PLAN.replace(", SHEET", "").replace("CABLE", "2.5 mm²")


def named(plan: str) -> list[tuple[str, str, str, str, float | None]]:
    found = found_in_whole("plan.yaml", plan).each
    return [(f.rule, f.level, f.verdict, f.message, f.margin) for f in found]


def test_it_finds_what_a_datasheet_with_that_size_finds() -> None:
    assert named(SIZED) == named(NAMED)
    assert "fuse-over-conductor" in {rule for rule, *_ in named(SIZED)}


@pytest.mark.parametrize("size", ["2.5mm2", "2.5 sq mm", "14 AWG", "#14", "4/0 AWG"])
def test_sizes_are_read_as_under_a_datasheet(size: str) -> None:
    quoted = f'"{size}"'
    by_name = load_plan("plan.yaml", text=NAMED.replace("2.5 mm²", quoted))
    by_size = load_plan("plan.yaml", text=SIZED.replace("2.5 mm²", quoted))
    sheet = by_size.datasheets.cables[by_size.wires["pump-lead"].cable]
    assert sheet.size.value == by_name.datasheets.cables["thin"].size.value
    assert sheet.size.place.line == 10


def test_a_declared_name_is_a_name() -> None:
    """A cable may be called `6mm2`, and a size that is spelt like a cable is that cable."""
    plan = PLAN.replace("SHEET", "6mm2: {size: 16 mm²}")
    cables = load_plan("plan.yaml", text=plan.replace("CABLE", "6mm2")).datasheets.cables
    assert list(cables) == ["lead-1-5", "6mm2"]
    with pytest.raises(PlanUnusable) as unusable:
        load_plan("plan.yaml", text=plan.replace("CABLE", "6 mm2"))
    assert unusable.value.problems[0].instead == "write `6mm2`"


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        ("6 mm", "write `6 mm²` if that is the area"),
        ('"2,5 mm²"', "write `2.5 mm²`"),
        ("thick one", "write `thick-one`"),
    ],
)
def test_what_is_no_size_is_answered(written: str, instead: str) -> None:
    with pytest.raises(PlanUnusable) as unusable:
        load_plan("plan.yaml", text=PLAN.replace(", SHEET", "").replace("CABLE", written))
    assert unusable.value.problems[0].instead.startswith(instead)


def test_a_larger_size_is_written_in_its_place() -> None:
    change = Change("pump-lead", "cable.size", "6 mm²")
    after = with_changes(SIZED, [change]).text
    assert after == SIZED.replace("2.5 mm²", "6 mm²")
    assert is_amended(load_plan("a", text=SIZED), [change], load_plan("a", text=after))


def test_what_else_is_printed_on_it_makes_a_datasheet() -> None:
    change = Change("pump-lead", "cable.insulation_temperature", "105 °C")
    after = with_changes(SIZED, [change]).text
    held = YAML(typ="safe").load(after)
    assert held["wires"]["pump-lead"]["cable"] == "pump-lead-cable"
    sheet = {"size": "2.5 mm²", "insulation_temperature": "105 °C"}
    assert held["datasheets"]["cables"]["pump-lead-cable"] == sheet
    assert is_amended(load_plan("a", text=SIZED), [change], load_plan("a", text=after))


@pytest.mark.parametrize("cable", ["thin", "6 mm²", "10 AWG", "4/0 AWG", "unknown", "open"])
def test_the_schema_takes_names_and_sizes(cable: str) -> None:
    schema = json.loads((ROOT / "schemas/plan.schema.json").read_text(encoding="utf-8"))
    plan = YAML(typ="safe").load(
        PLAN.replace("SHEET", "thin: {size: 2.5 mm²}").replace("CABLE", f'"{cable}"')
    )
    assert not list(Draft202012Validator(schema).iter_errors(plan))
    plan["wires"]["pump-lead"]["cable"] = "6 metres"
    assert list(Draft202012Validator(schema).iter_errors(plan))


def test_what_is_asked_of_it_says_where_it_is_written() -> None:
    """Of a wire of which nothing is told its size; of one that tells that the rest, in a sheet."""
    untold = SIZED.replace("cable: 2.5 mm², ", "").replace("code: iec\n", "")
    sized = SIZED.replace("2.5 mm²", "4 mm²").replace("code: iec\n", "")
    asked = [q for plan in (untold, sized) for q in found_in_whole("p", plan).questions]
    written = {q.asks: (q.instead, q.written.removeprefix(q.instead)[:23]) for q in asked}
    assert written["the conductor size of `pump-lead`"] == ("cable", "")
    insulation = written["the temperature that the cable of `pump-lead` stands"]
    assert insulation == ("insulation_temperature", ", in a sheet of its own")
