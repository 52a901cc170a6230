"""Whether something notices an arc in an array on a building."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, levels, sound

ARC = "arc-protection-missing"
UNTOLD = (", arc_fault_protection: true", "")


def test_from_80_volts_on() -> None:
    """3 × 24.3 V × (1 + 0.0029 × 43) = 81.99 V; at −9 °C it is 80.09 V, at −8 °C 79.88 V."""
    [finding] = found(faulty(ARC), ARC)
    assert (finding.level, finding.hazard) == ("error", "fire")
    assert "reaches 82 V; from 80 V on" in finding.message
    for coldest, fires in (("-9 °C", True), ("-8 °C", False)):
        plan = edited(("coldest: -18 °C", f"coldest: {coldest}"), plan=faulty(ARC))
        assert bool(found(plan, ARC)) == fires


def test_of_a_controller_that_says_nothing_it_is_likely() -> None:
    plan = sound(ARC, UNTOLD)
    [finding] = found(plan, ARC)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert not asked(plan, ARC)


def test_a_device_in_the_circuit_does() -> None:
    guard = "arc_fault_devices:\n  guard: {rating: 20 A, voltage: 600 V, dc: true, poles: 2}\n"
    plan = edited(
        ("wires:\n", f"{guard}wires:\n"),
        ("inline: [pv-off]", "inline: [guard, pv-off]"),
        plan=faulty(ARC),
    )
    assert not found(plan, ARC)


@pytest.mark.parametrize(
    ("edit", "expected"),
    [
        (("setting: cabin", "setting: vehicle"), []),
        (("code: nec-2023", "code: iec"), []),
        (("mounting: roof-gap", "mounting: open-rack"), []),
        (("mounting: roof-gap", "mounting: roof-bonded"), ["error"]),
    ],
)
def test_only_where_it_is_asked_for(edit: tuple[str, str], expected: list[str]) -> None:
    assert levels(edited(edit, plan=faulty(ARC)), ARC) == expected


@pytest.mark.parametrize(
    ("more", "asks"),
    [("", 1), (", mounting: unknown", 1), (", portable: true", 0), (", mounting: ground", 0)],
)
def test_a_cabin_whose_modules_may_be_on_its_roof_is_asked(more: str, asks: int) -> None:
    plan = edited((", mounting: roof-gap", more), plan=faulty(ARC))
    assert not found(plan, ARC)
    assert len(asked(plan, ARC)) == asks


@pytest.mark.parametrize(("on", "expected"), [("true", ["error"]), ("false", [])])
def test_a_place_that_tells_is_believed(on: str, expected: list[str]) -> None:
    plan = edited(
        ("roof: {ambient: 65 °C", f"roof: {{ambient: 65 °C, on_building: {on}"),
        ("mounting: roof-gap", "mounting: roof-gap, place: roof"),
        plan=faulty(ARC),
    )
    assert levels(plan, ARC) == expected
