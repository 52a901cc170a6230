"""Plans that tell the same installation in another way bring the same findings.

A run of two conductors may be told as one wire or pole by pole, a bar of both poles as two bars,
a device in a wire as one between two wires, and a wire from either of its ends. What is found must
not hang on that.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from amounts import amount
from found import found_alone
from wattproof.packs import discover

RULES = discover()
HERE = Path(__file__).parent
PATHS = [*sorted(HERE.glob("sound/*.yaml")), *sorted(HERE.glob("external/typical/*.yaml"))]
PATHS = [path for path in PATHS if not path.name.endswith(".judged.yaml")]
FOUND = ("cabin-three-packs-two-arrays", "van-charger-with-solar-input", "canal-boat-relay")
TAKEN = [*PATHS[:: amount(8, 1, 3)], *(path for path in PATHS if path.stem in FOUND)]
TAKEN = list(dict.fromkeys(TAKEN))
DEVICES = ("fuses", "breakers", "switches")
JOINTS = ("strings", "combiners", *DEVICES, "selectors", "diode_isolators")
BODIES = ("chassis", "water", "earth")
BACK, ONWARD = "-back", "-onward"  # what the names of further wires and bars end in
MADE = re.compile(rf"({BACK}|{ONWARD})\b")
METRES = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "ft": 0.3048, "in": 0.0254}

# Of two wires of a run the longer is named for what is lost in both, and each pole is judged.
BY_POLE = {"voltage-drop-high", "negative-smaller-than-positive"}

Plan = dict[str, Any]
Told = set[tuple[str, str, str]]


def loaded(path: Path) -> Plan:
    plan: Plan = json.loads(json.dumps(YAML(typ="safe").load(path.read_text("utf-8")), default=str))
    return plan


def told(plan: Plan) -> Told:
    """Rules, levels and what they name first, of all that is found."""
    result = found_alone("plan.yaml", json.dumps(plan, ensure_ascii=False), RULES)
    assert not result.problems, [problem.message for problem in result.problems]
    each = {(f.rule, f.level, MADE.sub("", f.subjects[0])) for f in result.each}
    return {found for found in each if found[0] not in BY_POLE}


def component(end: str) -> str:
    return end.partition(".")[0]


def names(inline: Any) -> list[str]:
    """The devices that a wire holds, of the forms that the kept plans write."""
    listed = inline if isinstance(inline, list) else [inline]
    return [next(iter(each)) if isinstance(each, dict) else str(each) for each in listed]


def of_one_pole(plan: Plan, device: str) -> bool:
    own = next((plan[f][device] for f in DEVICES if device in plan.get(f, {})), None)
    return isinstance(own, dict) and str(own.get("poles", 1)) == "1"


def is_pair(plan: Plan, wire: Plan) -> bool:
    """True for a run of two conductors between parts that have two poles."""
    ends = (str(wire["from"]), str(wire["to"]))
    joints = {name for family in JOINTS for name in plan.get(family, {})}
    if wire.keys() & {"pole", "plug", "plug_rating", "connectors"}:
        return False
    if any(end.endswith((".positive", ".negative")) for end in ends):
        return False
    if any(component(end) in {*joints, *BODIES} for end in ends):
        return False
    return all(of_one_pole(plan, device) for device in names(wire.get("inline", [])))


def pole_by_pole(plan: Plan) -> Plan:
    """Each run of two conductors as two wires, its devices in the positive."""
    wires: Plan = {}
    shunts = {bank.get("shunt") for bank in plan.get("batteries", {}).values()}
    for name, wire in plan["wires"].items():
        if name not in shunts and is_pair(plan, wire):
            wires[name] = {**wire, "pole": "positive"}
            back = {key: value for key, value in wire.items() if key != "inline"}
            wires[name + BACK] = {**back, "pole": "negative"}
        else:
            wires[name] = wire
    return {**plan, "wires": wires}


def bar_by_bar(plan: Plan) -> Plan:
    """Each bar of both poles as two bars, where the pole of all its wires is told."""
    plan = copy.deepcopy(pole_by_pole(plan))
    bars, wires = plan.get("busbars", {}), plan["wires"].values()
    tied = {component(str(e)) for b in plan.get("bonds", {}).values() for e in b.values()}
    for bar in [name for name in bars if name not in tied]:
        ends = [(w, key) for w in wires for key in ("from", "to") if component(w[key]) == bar]
        poles = [wire.get("pole") or wire[key].partition(".")[2] for wire, key in ends]
        if set(poles) != {"positive", "negative"}:
            continue
        bars[bar + BACK] = bars[bar]
        for (wire, key), pole in zip(ends, poles, strict=True):
            wire[key] = bar if pole == "positive" else bar + BACK
            wire["pole"] = pole
    return plan


def metres(text: str) -> float:
    number, unit = re.fullmatch(r"([\d.]+) (\w+)", text).groups()  # type: ignore[union-attr]
    return float(number) * METRES[unit]


def device_by_device(plan: Plan) -> Plan:
    """Each device of a positive, at a told place within it, as one that two wires lead to."""
    plan = pole_by_pole(plan)
    held = [name for wire in plan["wires"].values() for name in names(wire.get("inline", []))]
    wires: Plan = {}
    for name, wire in plan["wires"].items():
        wires[name] = wire
        inline = wire.get("inline")
        if wire.get("pole") != "positive" or not isinstance(inline, list) or len(inline) != 1:
            continue
        [device] = names(inline)
        place = inline[0][device] if isinstance(inline[0], dict) else None
        if held.count(device) > 1 or not isinstance(place, dict) or "distance" not in place:
            continue
        if not of_one_pole(plan, device) or wire.keys() & {"plug", "parallel"}:
            continue
        length, first = metres(wire["length"]), metres(place["distance"])
        first = first if place.get("from_end", "from") == "from" else length - first
        if 0.001 < first < length - 0.001:
            bare = {key: value for key, value in wire.items() if key != "inline"}
            wires[name] = {**bare, "to": device, "length": f"{first:.4f} m"}
            rest = {**bare, "from": device, "length": f"{length - first:.4f} m"}
            wires[name + ONWARD] = rest
    return {**plan, "wires": wires}


def from_the_other_end(plan: Plan) -> Plan:
    """Each wire told from its other end, with what it holds in the other order."""
    plan = copy.deepcopy(plan)
    ends = {"from": "to", "to": "from"}
    for wire in plan["wires"].values():
        wire["from"], wire["to"] = wire["to"], wire["from"]
        held = wire.get("inline")
        if isinstance(held, list):
            held.reverse()
        for place in (p for each in held or () if isinstance(each, dict) for p in each.values()):
            if isinstance(place, dict) and "distance" in place:
                place["from_end"] = ends[place.get("from_end", "from")]
    return plan


@pytest.mark.parametrize(
    "otherwise", [pole_by_pole, bar_by_bar, device_by_device, from_the_other_end]
)
@pytest.mark.parametrize("path", TAKEN, ids=lambda path: path.stem)
def test_another_way_to_tell_it_changes_nothing(
    path: Path, otherwise: Callable[[Plan], Plan]
) -> None:
    plan = loaded(path)
    other = otherwise(plan)
    if other != plan:
        assert told(other) == told(plan)
