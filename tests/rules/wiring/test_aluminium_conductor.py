"""Cable of aluminium, or of aluminium under a skin of copper."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, found

COOL = "insulation-too-cool"
OUTDOORS = "cable-not-for-outdoors"
WELDING = "welding-cable-fixed"
METAL = "aluminium-conductor"
PARALLEL = "paralleled-small-wires"
NEGATIVE = "negative-smaller-than-positive"
CHASSIS = "chassis-as-return"
ALL = (COOL, OUTDOORS, WELDING, METAL, PARALLEL, NEGATIVE, CHASSIS)
PLAN = {rule: RULES.rules[rule].sound for rule in ALL}


@pytest.mark.parametrize(
    ("material", "fires"),
    [
        ("material: copper, ", False),
        ("material: aluminium, ", True),
        ("material: copper-clad-aluminium, ", True),
        ("", False),  # not stated: assumed in the sums, and said there
    ],
)
def test_metal(material: str, fires: bool) -> None:
    plan = edited(("material: copper, ", material), plan=PLAN[METAL])
    findings = found(plan, METAL)
    assert [f.level for f in findings] == (["warning"] if fires else [])
    if fires:
        assert findings[0].subjects == ("charge-run",)
        assert "times the resistance of copper" in findings[0].message
