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


@pytest.mark.parametrize(
    ("drop", "equalised", "level"),
    [("0.7 V", "15.6 V", "error"), ("0.7 V", "15 V", ""), ("0.05 V", "15 V", "error")],
)
def test_a_bank_behind_a_diode_isolator_gets_what_is_left(
    drop: str, equalised: str, level: str
) -> None:
    """Gel stands 14.4 V (common practice), and a silicon diode takes 0.7 V."""
    plan = f"""\
wattproof: 1
setting: vehicle
chargers: {{mains: {{kind: shore, max_output_current: 20 A, charge_voltage: 14.4 V,
                   equalise_voltage: {equalised}}}}}
diode_isolators: {{splitter: {{rating: 50 A, outputs: [start, house], drop: {drop}}}}}
batteries:
  start: {{chemistry: flooded, nominal: 12 V, capacity: 80 Ah}}
  house: {{chemistry: gel, nominal: 12 V, capacity: 100 Ah}}
wires:
  in: {{from: mains, to: splitter.input}}
  start-run: {{from: splitter.start, to: start}}
  house-run: {{from: splitter.house, to: house}}
"""
    observed = found(plan, "equalised-though-sealed")
    assert [f.level for f in observed] == ([level] if level else [])
