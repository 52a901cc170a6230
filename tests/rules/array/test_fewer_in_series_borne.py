"""Fewer modules in series, the rest in parallel: proposed where the controller stands that."""

from __future__ import annotations

import pytest

from rule_runs import found, sound

CONDITION = "if the controller's input stands their current"
OF_TWO = ("max_input_voltage: 75 V, ", "max_input_voltage: 75 V, max_input_current: {stands}, ")


@pytest.mark.parametrize(
    ("rule", "edit"),
    [
        ("cold-voltage-over-module", ("max_system_voltage: 600 V", "max_system_voltage: 50 V")),
        ("cold-voltage-over-device", ("voltage: 150 V", "voltage: 48 V")),
    ],
)
@pytest.mark.parametrize(("stands", "borne"), [("25 A", True), ("12 A", False)])
def test_two_in_series_or_side_by_side(
    rule: str, edit: tuple[str, str], stands: str, borne: bool
) -> None:
    """Two of 5.2 A side by side give 13 A in bright sun."""
    old, new = OF_TWO
    [finding] = found(sound(rule, edit, (old, new.format(stands=stands))), rule)
    assert "put at most 1 in series instead of 2, the rest in parallel" in finding.remedy
    assert (CONDITION in finding.remedy) is not borne
    told = [way for way in finding.ways if any("arrangement" in str(change) for change in way)]
    assert bool(told) is borne
