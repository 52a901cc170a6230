"""Size of the conductors that tie the frames of modules to earth."""

from __future__ import annotations

import pytest

from rule_runs import found, sound

RULE = "frame-bond-too-small"


@pytest.mark.parametrize(("size", "count"), [("6 mm²", 0), ("10 AWG", 0), ("4 mm²", 1)])
def test_least_size(size: str, count: int) -> None:
    plan = sound(RULE, ("bond-8: {size: 8 AWG", f"bond-8: {{size: {size}"))
    assert len(found(plan, RULE)) == count


def test_aluminium_of_any_size() -> None:
    bond = "bond-8: {size: 8 AWG, material: "
    [finding] = found(sound(RULE, (bond + "copper", bond + "aluminium")), RULE)
    assert "is of aluminium, on frames in the rain" in finding.message
