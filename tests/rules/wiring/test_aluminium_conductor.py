"""Cable of aluminium, or of aluminium under a skin of copper."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound

METAL = "aluminium-conductor"


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
    plan = edited(("material: copper, ", material), plan=sound(METAL))
    findings = found(plan, METAL)
    assert [f.level for f in findings] == (["warning"] if fires else [])
    if fires:
        assert findings[0].subjects == ("charge-run",)
        assert "times the resistance of copper" in findings[0].message
