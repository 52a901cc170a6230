"""Mistakes in the less usual parts of a plan: each at its line, with what to write instead."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import edited
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable, Problem

SOUND = Path(__file__).parents[1] / "sound"


def problems(text: str) -> list[Problem]:
    with pytest.raises(PlanUnusable) as caught:
        build_circuit(load_plan("plan.yaml", text=text))
    return caught.value.problems


MISTAKES = [
    # (plan, old, new, line holds, message, instead)
    ("boat-isolator-abyc-e11", "from: splitter.house-side,", "from: splitter.house,",
     "splitter.house,", "no terminal `house`", "`splitter.house-side`"),
    ("boat-isolator-abyc-e11", "to: splitter.input,", "to: splitter,", "to: splitter,",
     "several terminals", "splitter.input"),
    ("boat-selector-abyc-e11", "to: selector.1,", "to: selector.3,", "selector.3",
     "no terminal `3`", "selector.1"),
    ("boat-selector-abyc-e11", "to: selector.1,", "to: selector.1, inline: [selector],",
     "inline: [selector]", "cannot sit in a wire", "end one wire"),
    ("boat-converter", "step-up.output", "step-up.out", "step-up.out,", "no terminal `out`",
     "`step-up.output`"),
    ("boat-converter", "input_nominal: 12 V", "input_nominal: 24 V", "input_nominal: 24 V",
     "unlike nominal voltages", "converter between them"),
    ("vehicle-inverter-charger", "efficiency: 92 %", "efficiency: 920 %", "efficiency: 920 %",
     "nothing gives 920 %", "up to 100 %"),
    ("truck-twenty-four-volt", "efficiency: 92 %", "efficiency: 920 %", "twelve: {",
     "nothing gives 920 %", "up to 100 %"),
    ("boat-isolator-abyc-e11", "start: {chemistry: agm, nominal: 12 V",
     "start: {chemistry: agm, nominal: 24 V", "start: {chemistry", "unlike nominal voltages",
     "converter between them"),
    ("boat-selector-abyc-e11", "second: {chemistry: agm, nominal: 12 V",
     "second: {chemistry: agm, nominal: 24 V", "second: {chemistry", "unlike nominal voltages",
     "converter between them"),
    ("hut-load-terminals", "lamps: {power: 15 W,", "lamps: {power: 15 W, duty: 3 min,", "duty: 3",
     "no key `duty`", "is its `short_duty:`"),
    ("boat-wind-generator", "kind: wind,", "kind: wind-turbine,", "kind: wind-turbine",
     "`wind-turbine` is none of", "write `wind`"),
    ("hut-load-terminals", "lamps: {power: 15 W, nominal: 12 V}",
     "lamps: {power: 15 W, nominal: 24 V}", "lamps: {power", "unlike nominal voltages",
     "converter between them"),
    ("cabin-heated-battery", "warms: house", "warms: hous", "warms: hous", "no battery `hous`",
     "`house`"),
    ("cabin-packs-iec", "fuse: pack-fuse", "fuse: packfuse", "fuse: packfuse",
     "no fuse or breaker `packfuse`", "`pack-fuse`"),
    ("cabin-packs-iec", "arrangement: 4p, ", "", "each_pack", "several batteries in parallel",
     "`arrangement: 2p`"),
    ("cabin-two-inputs", "pv-2: {max_input_voltage: 80 V}", "battery: {max_input_voltage: 80 V}",
     "battery: {max_input_voltage", "terminal of every controller", "`pv-1`"),
    ("cabin-two-inputs", "to: tracker.pv-2,", "to: tracker.pv,", "tracker.pv,",
     "no terminal `pv`", "tracker.pv-"),
    ("cabin-buried-run", "type: NYY-O", "type: NYX-O", "NYX-O", "cable type `NYX-O`", "NYY-O"),
    ("cabin-buried-run", "run: buried, depth", "run: surface, depth", "run: surface",
     "a cable in the ground", "`run: buried`"),
    ("cabin-buried-run", "strings: [roof-string], to: earth", "strings: [roof-strin], to: earth",
     "roof-strin]", "no string `roof-strin`", "`roof-string`"),
    ("boat-toggle-breakers", "style: toggle-breaker", "style: boat panel breaker",
     "boat panel breaker", "`toggle-breaker` is what that is called", "`toggle-breaker`"),
    ("boat-toggle-breakers", "style: class-t", "style: car fuse", "car fuse",
     "`blade` is what that is called", "`blade`"),
    ("boat-toggle-breakers", "compensation: -24 mV/°C",
     "compensation: -24 mV/°C, compensates_temperature: false", "compensation: -24",
     "contradicts", "compensates_temperature: true"),
    ("portable-box-iec", "to: box.pv,", "to: box.battery,", "box.battery", "no terminal `battery`",
     "box.pv"),
    ("vehicle-charger-without-sun-iec", "to: dc-charger.alternator,", "to: dc-charger.pv,",
     "dc-charger:", "has no `max_input_voltage`", "max_input_voltage"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "old", "new", "line", "message", "instead"), MISTAKES)
def test_a_mistake(name: str, old: str, new: str, line: str, message: str, instead: str) -> None:
    text = (SOUND / f"{name}.yaml").read_text(encoding="utf-8")
    first = text.index(old)
    text = text[:first] + new + text[first + len(old) :]
    found = problems(text)
    fitting = [p for p in found if message in p.message]
    assert fitting, [f"{p.message} / {p.instead}" for p in found]
    lines = text.splitlines()
    assert any(instead in p.instead for p in fitting), [p.instead for p in fitting]
    assert any(line in lines[p.place.line - 1] for p in fitting), [p.place for p in fitting]


def test_a_controller_may_be_a_key() -> None:
    for name in ("cabin-two-inputs", "portable-box-iec"):
        plan = load_plan("p", text=(SOUND / f"{name}.yaml").read_text(encoding="utf-8"))
        assert len({*plan.all_controllers.values()}) == 1


def test_keys_that_a_family_implies_are_not_written() -> None:
    combi = (SOUND / "boat-inverter-charger.yaml").read_text(encoding="utf-8")
    [problem] = problems(edited(("combi: {power", "combi: {kind: shore, power"), plan=combi))
    assert "no key `kind`" in problem.message
