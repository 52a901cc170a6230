"""Properties over plausible plans: what makes a plan worse never takes a finding away.

And what only writes it otherwise changes nothing: a length in feet, a cable joined in its middle.
"""

from __future__ import annotations

import copy
import json
import re
from typing import Any

import pytest
from ruamel.yaml import YAML

from amounts import amount
from corpus.generated import AREAS, GAUGES, plans
from found import found_alone
from study.wiring.test_rows_in_series import rows
from wattproof.engine import Result
from wattproof.packs import discover

RULES = discover()
PLANS = [YAML(typ="safe").load(text) for text in plans(amount(5, 150))]
NUMBERED = [pytest.param(plan, id=str(number)) for number, plan in enumerate(PLANS)]
COLD = {"cold-voltage-over-controller", "cold-voltage-over-device", "cold-voltage-over-module"}
THIN = {"conductor-too-small", "fuse-over-conductor", "voltage-drop-high"}

Found = set[tuple[str, str]]


def checked(plan: Any) -> Result:
    text = json.dumps(plan, ensure_ascii=False)
    result = found_alone("plan.yaml", text, RULES)
    assert not result.problems, result.problems
    assert not result.failed
    return result


def found(plan: Any, rules: set[str] | None = None) -> Found:
    """Rules with the component that each of their findings stands at."""
    each = checked(plan).each
    return {(f.rule, f.subjects[0]) for f in each if rules is None or f.rule in rules}


def told(plan: Any) -> set[tuple[str, str, tuple[str, ...]]]:
    return {(f.rule, f.level, f.subjects) for f in checked(plan).each}


@pytest.mark.parametrize("plan", NUMBERED)
def test_colder_takes_no_cold_finding_away(plan: Any) -> None:
    colder = copy.deepcopy(plan)
    colder["site"]["coldest"] = "-35 °C"
    assert found(plan, COLD) <= found(colder, COLD)


@pytest.mark.parametrize("cable", ["pv", "charge"])
@pytest.mark.parametrize("plan", NUMBERED)
def test_thinner_takes_no_finding_of_its_wires_away(plan: Any, cable: str) -> None:
    thinner = copy.deepcopy(plan)
    sheet = thinner["datasheets"]["cables"][cable]
    number, unit = sheet["size"].split(" ")
    sizes = AREAS if unit == "mm²" else GAUGES
    place = sizes.index(number)
    if place == 0:
        pytest.skip("there is none thinner")
    sheet["size"] = f"{sizes[place - 1]} {unit}"
    wires = {subject for _, subject in found(plan, THIN)}
    assert wires <= {subject for _, subject in found(thinner, THIN)}


@pytest.mark.parametrize("plan", NUMBERED)
def test_a_larger_fuse_takes_no_finding_of_its_wire_away(plan: Any) -> None:
    larger = copy.deepcopy(plan)
    fuse = larger["fuses"]["charge-fuse"]
    fuse["rating"] = f"{2 * int(fuse['rating'].split(' ')[0])} A"
    assert found(plan, {"fuse-over-conductor"}) <= found(larger, {"fuse-over-conductor"})


def other_units(held: Any) -> Any:
    """The same data in other units of the same quantities."""
    if isinstance(held, dict):
        return {key: other_units(value) for key, value in held.items()}
    if isinstance(held, list):
        return [other_units(value) for value in held]
    match = re.fullmatch(r"(-?[\d.]+) (m|cm|V|A|kA)", held) if isinstance(held, str) else None
    if match is None:
        return held
    unit, factor = {
        "m": ("cm", 100.0),
        "cm": ("mm", 10.0),
        "V": ("mV", 1000.0),
        "A": ("mA", 1000.0),
        "kA": ("A", 1000.0),
    }[match[2]]
    return f"{round(float(match[1]) * factor, 6):.12g} {unit}"


@pytest.mark.parametrize("plan", NUMBERED)
def test_another_unit_changes_nothing(plan: Any) -> None:
    assert told(other_units(plan)) == told(plan)


@pytest.mark.parametrize("plan", NUMBERED)
def test_a_cable_joined_in_its_middle_is_the_same_cable(plan: Any) -> None:
    """Half of the length before a bar that stands anything, half behind it."""
    whole = copy.deepcopy(plan)
    name, wire = next((n, w) for n, w in whole["wires"].items() if w["from"] == "tracker.battery")
    wire["length"] = "2 m"
    split = copy.deepcopy(whole)
    half = split["wires"][name]
    split["busbars"] = {"middle": {"rating": "1000 A"}}
    split["wires"]["first-half"] = {**half, "to": "middle", "length": "1 m"}
    split["wires"]["first-half"].pop("inline", None)
    split["wires"][name] = {**half, "from": "middle", "length": "1 m"}

    def named(plan: Any) -> set[tuple[str, str]]:
        halves = {"first-half": name, "middle": name}
        return {(f.rule, halves.get(f.subjects[0], f.subjects[0])) for f in checked(plan).each}

    assert named(split) == named(whole)


def without(plan: Any, device: str) -> Any:
    """The plan without a device, in its family and in the wires."""
    left = copy.deepcopy(plan)
    for family in ("fuses", "switches"):
        left.get(family, {}).pop(device, None)
        if not left.get(family, True):
            del left[family]
    for wire in left["wires"].values():
        inline = [d for d in wire.get("inline", ()) if d != device and device not in d]
        wire.pop("inline", None)
        if inline:
            wire["inline"] = inline
    return left


def stands_its_neighbours(plan: Any) -> bool:
    """True where modules stand what all other strings give together, by their labels.

    IEC 62548 and common practice: no string needs a fuse then. A wire can still be too thin for it,
    which has a finding of its own.
    """
    labels = [plan["datasheets"]["modules"][s["module"]] for s in plan["strings"].values()]
    others = sum(float(label["isc"].split(" ")[0]) for label in labels[1:])
    return others <= min(float(label["max_series_fuse"].split(" ")[0]) for label in labels)


def is_parted_by_its_plug(plan: Any) -> bool:
    """True for a single module that is carried about: its plug takes it off (common practice)."""
    modules = [string["series"] for string in plan["strings"].values()]
    return plan["setting"] == "portable" and modules == [1]


@pytest.mark.parametrize("plan", NUMBERED)
def test_a_device_taken_away_is_missed(plan: Any) -> None:
    """Each brings a finding that was not there, but a string's fuse or a switch nobody needs."""
    before = found(plan)
    for device in [*plan.get("fuses", {}), *plan.get("switches", {})]:
        if re.fullmatch(r"s\d+-fuse", device) and stands_its_neighbours(plan):
            continue
        if device == "off" and is_parted_by_its_plug(plan):
            continue
        assert found(without(plan, device)) - before, device


FUSED = [p for p in (YAML(typ="safe").load(t) for t in plans(40)) if "s1-fuse" in p["fuses"]]


def test_string_fuses_behind_joints_of_their_own_are_seen() -> None:
    """String, joint, fuse, combiner: the same as string, fuse, combiner."""
    plan = FUSED[0]
    behind = copy.deepcopy(plan)
    for name in plan["strings"]:
        lead = behind["wires"][f"{name}-lead"]
        behind["combiners"][f"{name}-joint"] = {"rating": "1000 A", "voltage": "1000 V"}
        first = {**lead, "to": f"{name}-joint", "length": "50 cm"}
        first.pop("inline")
        behind["wires"][f"{name}-first"] = first
        lead["from"] = f"{name}-joint"
    assert found(behind) == found(plan)


@pytest.mark.parametrize("bar", ["link", "link.positive", "link.negative"])
def test_halves_of_a_bank_linked_through_a_bar_are_one_bank(bar: str) -> None:
    """Two packs in series, their link a cable, or a bar with a cable on either side."""
    direct = YAML(typ="safe").load(rows([0.4]))
    over = copy.deepcopy(direct)
    link = over["wires"].pop("joint-0")
    over["busbars"]["link"] = {"rating": "1000 A", "voltage": "58 V"}
    over["wires"]["joint-a"] = {**link, "to": bar, "length": "0.2 m"}
    over["wires"]["joint-b"] = {**link, "from": bar, "length": "0.2 m"}

    def rules(plan: Any) -> set[tuple[str, str]]:
        return {(f.rule, f.level) for f in checked(plan).each}

    assert rules(over) == rules(direct)
