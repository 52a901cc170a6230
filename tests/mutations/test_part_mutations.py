"""Sound plans of less usual parts made dangerous by one edit: each is caught, and at its level."""

from __future__ import annotations

from pathlib import Path

import pytest

from found import found_alone
from mutations.dangerous_parts import PART_MUTATIONS, PartMutation
from wattproof.packs import discover

RULES = discover()
SOUND = Path(__file__).parents[1] / "sound"


@pytest.mark.parametrize("mutation", PART_MUTATIONS, ids=lambda m: f"{m.plan}-{m.catches}")
def test_a_dangerous_change_of_a_part_is_caught(mutation: PartMutation) -> None:
    text = (SOUND / f"{mutation.plan}.yaml").read_text(encoding="utf-8")
    assert text.count(mutation.old) == 1, (
        f"{mutation.old!r} stands {text.count(mutation.old)} times"
    )
    text = text.replace(mutation.old, mutation.new)
    result = found_alone("plan.yaml", text, RULES)
    assert not result.problems, [f"{p.place}: {p.message}" for p in result.problems]
    assert not result.failed
    levels = {f.rule: f.level for f in result.findings}
    assert mutation.catches in levels, levels
    if mutation.level:
        assert mutation.level in {f.level for f in result.findings if f.rule == mutation.catches}
