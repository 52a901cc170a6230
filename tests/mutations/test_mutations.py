"""Each sound example made dangerous in at least fifteen ways; each way is caught."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest

from found import found_alone
from mutations.dangerous import Mutation, mutations
from plans import EXAMPLES, data_of, text_of
from wattproof.packs import discover

RULES = discover()
TABLE = list(mutations())


def without_shade(path: Path) -> dict[str, Any]:
    """An example without its cases of shade, which name modules that a change may take away."""
    plan = data_of(path)
    plan.pop("shade", None)
    return plan


SOUND = {path.stem: without_shade(path) for path in sorted(EXAMPLES.glob("*.yaml"))}


def fired(plan: dict[str, Any]) -> set[str]:
    text = text_of(plan)
    result = found_alone("plan.yaml", text, RULES)
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
