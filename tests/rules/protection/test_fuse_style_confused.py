"""What is printed on a fuse against what its style is made for."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, found

CONFUSED = "fuse-style-confused"
LOADED = "fuse-under-load"
ONE = RULES.rules[LOADED].sound
CHARGE_FUSE = "charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA"


@pytest.mark.parametrize(
    ("printed", "fires"),
    [
        ("style: class-t, interrupt: 100 kA", False),  # five times 20 kA
        ("style: class-t, interrupt: 101 kA", True),
        ("style: bolt-down, interrupt: 10 kA", False),
        ("style: bolt-down, interrupt: 20 kA", True),
        ("style: blade, interrupt: 1 kA", False),  # 40 A, the largest blade
        ("style: mini-blade, interrupt: 1 kA", True),  # up to 30 A
        ("style: cartridge, interrupt: 120 kA", False),  # no usual figure
        ("interrupt: 200 kA", False),  # no style
    ],
)
def test_style_and_figures(printed: str, fires: bool) -> None:
    plan = edited(("style: class-t, interrupt: 20 kA", printed), plan=ONE)
    assert [f.level for f in found(plan, CONFUSED)] == (["warning"] if fires else [])


def test_a_blade_that_is_too_large() -> None:
    large = (CHARGE_FUSE, "charge-fuse: {rating: 60 A, voltage: 32 V, style: blade")
    plan = edited(large, plan=ONE)
    [finding] = found(plan, CONFUSED)
    assert "blade fuse, regular size of 60 A, and that style is made up to 40 A" in finding.message
    assert finding.margin == pytest.approx(-0.5)
