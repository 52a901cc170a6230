"""A working names every value of the plan that its number rests on.

Each key of a plan is changed by a thousandth in turn, and the study made again: a figure that
moves has to name a value that was changed, unless it rests on an assumption that moved with it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel

from amounts import LONG
from plan_texts import Text, plan_texts
from test_every_working import leaves
from wattproof.loading import load_study
from wattproof.plan.read import read_plan
from wattproof.quantities import Quantity
from wattproof.source import Place
from wattproof.views.figures import figures_of
from wattproof.working import Assumption, Supposed, Value, declared_places

RICH = {
    "boat-thruster-and-windlass",
    "shed-no-fuses",
    "teardrop-two-ways-in",
    "van-read-and-reckoned",
}
"""Banks in series and side by side, short duty, packs, returns by the body, readings, the sun."""
PLANS = [text for text in plan_texts() if text.name in RICH or (LONG and text.path != "plan.yaml")]
MORE = 1.001
"""So little that no other of two is the smaller then."""
NOTHING = 1e-7
"""Share by which solvers may be off."""
BY_STYLE = "interrupt rating"
"""Goes by the style of a device, which goes by its rating where the plan does not tell it."""
NUMBER = re.compile(r"-?\d+(\.\d+)?")

Name = tuple[str, str, str]
Figures = dict[Name, Value]


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.name)
def test_what_moves_a_number_stands_in_its_working(plan: Text) -> None:
    before = figures(plan.path, plan.text)
    named = {name: declared_places([value]) for name, value in before.items()}
    unnamed: list[tuple[str, Name]] = []
    for key, places in written(plan).items():
        after = figures(plan.path, changed(plan.text, places))
        unnamed += [
            (key, name)
            for name, value in after.items()
            if name in before and has_moved(before[name], value) and named[name].isdisjoint(places)
        ]
    assert not unnamed


def figures(path: str, text: str) -> Figures:
    """Of two figures of one name the first; none of wires whose size is guessed by steps."""
    found: Figures = {}
    study = load_study(path, text=text)
    wires = study.wiring.wires.items()
    guessed = {name for name, wire in wires if isinstance(wire.sheet.size, Supposed)}
    for figure in figures_of(study):
        if figure.quantity == BY_STYLE or figure.subject in guessed:
            continue
        found.setdefault((figure.subject, figure.state, figure.quantity), figure.value)
    return found


def written(plan: Text) -> dict[str, list[Place]]:
    """Where the plan itself writes plain numbers with a unit, by their key. Sizes go by steps."""
    found: dict[str, list[Place]] = {}
    for key, quantity in _quantities(read_plan(plan.path, text=plan.text).plan):
        plain = NUMBER.match(quantity.text) and quantity.dimension != "conductor size"
        if plain and quantity.place.file == plan.path:
            found.setdefault(key, []).append(quantity.place)
    return found


def _quantities(part: Any, key: str = "") -> Iterator[tuple[str, Quantity]]:
    if isinstance(part, Quantity):
        if not isinstance(part, Supposed):
            yield key, part
    elif isinstance(part, BaseModel):
        for name in sorted(part.model_fields_set):
            yield from _quantities(getattr(part, name), name)
    elif isinstance(part, dict | list | tuple):
        for each in part.values() if isinstance(part, dict) else part:
            yield from _quantities(each, key)


def changed(text: str, places: list[Place]) -> str:
    """The text with the numbers at some places made larger, from the last to the first."""
    lines = text.split("\n")
    for place in sorted(places, key=lambda at: (at.line, at.column), reverse=True):
        line = lines[place.line - 1]
        number = NUMBER.search(line, place.column - 1)
        assert number
        more = f"{MORE * float(number[0]):.6f}"
        lines[place.line - 1] = line[: number.start()] + more + line[number.end() :]
    return "\n".join(lines)


def has_moved(one: Value, other: Value) -> bool:
    """Whether a number changed, and not by what is assumed in it."""
    if _assumed(one) != _assumed(other):
        return False
    return abs(one.number - other.number) > NOTHING * max(abs(one.number), abs(other.number))


def _assumed(value: Value) -> set[tuple[str, str, float]]:
    """What is assumed in a number; with numbers, since words round them."""
    return {
        (leaf.origin.key, leaf.origin.subject, leaf.number)
        for leaf in (value, *leaves([value]))
        if isinstance(leaf.origin, Assumption)
    }
