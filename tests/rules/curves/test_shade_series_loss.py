"""What a declared shadow costs a series array against the light that it takes."""

from __future__ import annotations

import pytest

from rule_runs import RULES, sound
from rule_runs import found_beside_all as found

SHADE = "shade-series-loss"


def test_shade_by_hand() -> None:
    """Half the light on one of two modules: a quarter is taken, about half is lost."""
    plan = sound(SHADE, ("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"))
    (finding,) = found(plan, SHADE)
    lost, taken, apart = (v.number for v in finding.values)
    assert taken == pytest.approx(0.25)
    assert 0.40 < lost < 0.52
    assert 0.20 < apart < 0.30
    assert finding.level == "note"
    assert "roof-box" in finding.subjects


@pytest.mark.parametrize(
    ("shadow", "fires"),
    [
        ("module: 1, groups: 1, light: 50 %", False),  # an eighth taken, about a quarter lost
        ("light: 50 %", False),  # all alike: half taken, half lost
        ("module: 1, light: 5 %", False),  # nearly all of one taken, half lost
        ("module: 1, light: 50 %", True),
    ],
)
def test_shade(shadow: str, fires: bool) -> None:
    plan = sound(SHADE, ("module: 1, groups: 1, light: 50 %", shadow))
    assert bool(found(plan, SHADE)) == fires


def test_shade_in_parallel_and_without_cases() -> None:
    plan = sound(
        SHADE,
        ("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"),
        ("series: 2", "arrangement: 1s2p"),
    )
    assert not found(plan, SHADE)
    bare = RULES.rules[SHADE].sound.split("shade:\n")[0]
    assert not found(bare, SHADE)
