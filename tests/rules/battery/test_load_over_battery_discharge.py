"""All that draws from a bank at once against what its packs let out."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, levels, sound
from rules.battery.plans import gives

DRAWN = "load-over-battery-discharge"


@pytest.mark.parametrize(
    ("limit", "expected"),
    [("80.9 A", []), ("80.8 A", ["warning"]), ("64.7 A", ["warning"]), ("64.6 A", ["error"])],
)
def test_drawn_against_the_pack(limit: str, expected: list[str]) -> None:
    """800 W / (0.9 × 11 V) = 80.81 A; an error from 1.25 × 64.6 A on."""
    assert levels(gives(limit), DRAWN) == expected
    for finding in found(gives(limit), DRAWN):
        assert "packs that give at least 81 A, more packs" in finding.remedy


@pytest.mark.parametrize(("limit", "n"), [("50.6 A", 0), ("50.5 A", 1)])
def test_parallel_packs_never_share_equally(limit: str, n: int) -> None:
    """2 × 50.5 A × 0.8 = 80.8 A."""
    plan = gives(limit, ("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 2p"))
    findings = found(plan, DRAWN)
    assert len(findings) == n
    for finding in findings:
        assert finding.message == (
            "80.81 A is drawn from `house` when everything runs (`mains` 80.8 A); 80.8 A is "
            "the most that may be"
        )
        assert "at least 51 A each, of 2" in finding.remedy


def test_loads_and_load_terminals_count_too() -> None:
    pump = (
        ("inverters:\n", "loads: {pump: {current: 5 A, nominal: 12 V}}\ninverters:\n"),
        ("wires:\n", "wires:\n  pump-run: {from: %s, to: pump, cable: batt-8, length: 1 m}\n"),
    )
    for at in ("bar", "tracker.load"):
        edits = (pump[0], (pump[1][0], pump[1][1] % at))
        [finding] = found(gives("85 A", *edits), DRAWN)
        assert "85.8 A is drawn" in finding.message
        assert not found(gives("86 A", *edits), DRAWN)


def test_drawn_without_a_label() -> None:
    bare = ("max_discharge_current: 100 A, ", "")
    assert not found(edited(bare, plan=sound(DRAWN)), DRAWN)  # 1 A for each of 100 Ah
    small = edited(bare, ("capacity: 100 Ah", "capacity: 40 Ah"), plan=sound(DRAWN))
    [finding] = found(small, DRAWN)
    assert finding.level == "warning"
    lead = edited(("chemistry: lithium-iron-phosphate", "chemistry: agm"), plan=small)
    assert not found(lead, DRAWN)  # lead has no switch inside
