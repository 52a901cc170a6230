"""Each sound example made dangerous in at least fifteen ways; each way is caught."""

from __future__ import annotations

import copy
import io
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from mutations.dangerous import Mutation, mutations
from wattproof.engine import check_file
from wattproof.packs import discover
from wattproof.testing import A_DAY

EXAMPLES = Path(__file__).parents[2] / "examples"
RULES = discover()
TABLE = list(mutations())


def data_of(path: Path) -> dict[str, Any]:
    """An example as plain data, its datasheets in it."""
    yaml = YAML(typ="safe")
    plan: dict[str, Any] = yaml.load(path.read_text(encoding="utf-8"))
    part = plan.pop("parts", None)
    if part is not None:
        sheets = yaml.load((path.parent / part).read_text(encoding="utf-8"))["datasheets"]
        for family, entries in sheets.items():
            plan.setdefault("datasheets", {}).setdefault(family, {}).update(entries)
    plan.pop("shade", None)
    return plan


SOUND = {path.stem: data_of(path) for path in sorted(EXAMPLES.glob("*.yaml"))}


def fired(plan: dict[str, Any]) -> set[str]:
    stream = io.StringIO()
    YAML(typ="safe").dump(plan, stream)
    result = check_file("plan.yaml", RULES, today=A_DAY, text=stream.getvalue())
    assert not result.problems, result.problems
    assert not result.failed
    return {f.rule for f in result.findings}


def mutated(name: str, mutation: Mutation) -> dict[str, Any] | None:
    plan = copy.deepcopy(SOUND[name])
    return plan if mutation.change(plan) else None


CASES = [(n, m) for n in SOUND for m in TABLE if mutated(n, m) is not None]


@pytest.mark.parametrize(("name", "mutation"), CASES, ids=lambda v: getattr(v, "name", v))
def test_a_dangerous_change_is_caught(name: str, mutation: Mutation) -> None:
    plan = mutated(name, mutation)
    assert plan is not None
    found = fired(plan)
    assert mutation.catches in found
    assert not found & mutation.silent


@pytest.mark.parametrize("name", SOUND)
def test_at_least_fifteen_changes_apply_to_each_example(name: str) -> None:
    assert sum(n == name for n, _ in CASES) >= 15
