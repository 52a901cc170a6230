"""Plans that tests start from: one sound base, changed by an edit."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from wattproof.plan.root import Plan
from wattproof.source import Place

EXAMPLES = Path(__file__).parents[1] / "examples"

BASE = """\
wattproof: 1
setting: vehicle
code: nec-2023
site:
  coldest: -18 °C
  hottest: 40 °C
  places:
    roof: {ambient: 65 °C, sunlight: true}
    cabin: {ambient: 35 °C}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
fuses:
  charge-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


def edited(*edits: tuple[str, str], plan: str = BASE) -> str:
    """The plan after edits; each old text must occur exactly once."""
    for old, new in edits:
        assert plan.count(old) == 1, f"{old!r} occurs {plan.count(old)} times"
        plan = plan.replace(old, new)
    return plan


def array_plan(strings: str, wires: str, combiners: str = "", **controller: str) -> str:
    """The base plan with another array: strings, joints and wires up to `tracker.pv`."""
    extra = "".join(f", {key}: {value}" for key, value in controller.items())
    return edited(
        ("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}\n", strings),
        (
            "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
            "place: [roof, cabin]}\n",
            wires,
        ),
        ("fuses:\n", (f"combiners:\n{combiners}" if combiners else "") + "fuses:\n"),
        ("blocks_reverse: true}", f"blocks_reverse: true{extra}}}"),
    )


def data_of(path: Path) -> dict[str, Any]:
    """An example as plain data, the datasheets of its parts file in it."""
    yaml = YAML(typ="safe")
    plan: dict[str, Any] = yaml.load(path.read_text(encoding="utf-8"))
    part = plan.pop("parts", None)
    if part is not None:
        sheets = yaml.load((path.parent / part).read_text(encoding="utf-8"))["datasheets"]
        for family, entries in sheets.items():
            plan.setdefault("datasheets", {}).setdefault(family, {}).update(entries)
    return plan


def text_of(plan: dict[str, Any]) -> str:
    """Plain data as the text of a plan."""
    stream = io.StringIO()
    YAML(typ="safe").dump(plan, stream)
    return stream.getvalue()


def unknown_at(plan: Plan, name: str, key: str) -> Place | None:
    """Where a plan says that a value is not known; None where it does not say so."""
    places = (u.place for u in plan.unknowns() if (u.name, u.key) == (name, key))
    return next(places, None)
