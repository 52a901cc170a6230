"""One name at two components, whatever they are: a problem of the plan, never a fault of ours."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from amounts import amount
from wattproof.loading import load_study
from wattproof.plan.references import FAMILIES
from wattproof.source import PlanUnusable

ROOT = Path(__file__).parents[2]
PLANS = {
    f"{path.parent.name}/{path.name}": path.read_text(encoding="utf-8")
    for folder, step in (("examples", amount(3, 1)), ("tests/external/builds", amount(15, 5)))
    for path in sorted((ROOT / folder).glob("*.yaml"))[::step]
    if "\nsetting:" in path.read_text(encoding="utf-8")
}


def named_twice(plan: dict[str, Any], dice: random.Random) -> Iterator[tuple[str, dict[str, Any]]]:
    """Plans in which a component of each family bears the name of one of another family."""
    families = [f for f in FAMILIES if f in plan]
    for family in families:
        for other in families:
            if other != family:
                changed = copy.deepcopy(plan)
                old, name = dice.choice(list(plan[family])), dice.choice(list(plan[other]))
                changed[family][name] = changed[family].pop(old)
                yield name, changed


@pytest.mark.parametrize("name", PLANS)
def test_a_name_that_stands_twice_is_a_problem(name: str) -> None:
    plan = YAML(typ="safe").load(PLANS[name])
    for twice, changed in named_twice(plan, random.Random(name)):
        at = str(ROOT / ("examples" if name.startswith("examples") else "tests/external/builds"))
        with pytest.raises(PlanUnusable) as raised:
            load_study(f"{at}/plan.yaml", text=json.dumps(changed, ensure_ascii=False, default=str))
        assert any(f"`{twice}` stands twice" in p.message for p in raised.value.problems)
