"""Sources that equalise, by the kind of battery that they charge."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound


@pytest.mark.parametrize(
    ("chemistry", "level"),
    [("gel", "error"), ("lithium-iron-phosphate", "error"), ("agm", "warning"), ("flooded", "")],
)
def test_only_flooded_lead_is_equalised(chemistry: str, level: str) -> None:
    plan = edited(
        ("chemistry: flooded", f"chemistry: {chemistry}"), plan=sound("equalised-though-sealed")
    )
    assert [f.level for f in found(plan, "equalised-though-sealed")] == ([level] if level else [])
