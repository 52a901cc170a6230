"""Negatives of a controller with a common positive that are tied past the controller."""

from __future__ import annotations

from plans import edited
from rule_runs import faulty, found, sound

COMMON = "common-positive-controller-grounded"


def test_load_negative_on_the_batterys() -> None:
    [finding] = found(faulty(COMMON), COMMON)
    assert finding.level == "error"
    assert finding.message == (
        "`regulator` has its positive in common, and its load negative is tied to the battery's "
        "negative"
    )
    assert "leave `regulator.load.negative` joined to nothing but the load" in finding.remedy


def test_a_negative_or_an_unstated_common_pole_is_silent() -> None:
    assert not found(sound(COMMON), COMMON)
    assert not found(edited((", common: negative", ""), plan=sound(COMMON)), COMMON)


def floating(bonds: str) -> str:
    """The load returns to the controller alone; array and battery tied by bonds."""
    plan = faulty(COMMON)
    start, end = plan.index("  lights-return:"), plan.index("  load-return:")
    plan = plan[:start] + plan[end:]
    return edited(("wires:\n", f"bonds:\n{bonds}wires:\n"), plan=plan) if bonds else plan


PV = "  pv-bond: {from: regulator.pv.negative, to: chassis, cable: batt-8}\n"
BANK = "  bank-bond: {from: house.negative, to: chassis, cable: batt-8}\n"


def test_over_the_chassis() -> None:
    assert not found(floating(""), COMMON)
    assert not found(floating(BANK), COMMON)
    [both] = found(floating(PV + BANK), COMMON)
    assert both.level == "error"
    assert "array negative is tied to the chassis, as the battery's is" in both.message
    [alone] = found(floating(PV), COMMON)
    assert alone.level == "warning"
    assert "which other negatives may share" in alone.message


def test_a_load_that_leads_past_the_switch_of_the_controller() -> None:
    """Its load negative is joined to nothing, and the lamps return to the battery."""
    plan = edited(
        (
            "  load-return: {from: regulator.load.negative, to: lights.negative, cable: batt-8, "
            "length: 3 m,\n                place: cabin}\n",
            "",
        ),
        plan=faulty(COMMON),
    )
    [finding] = found(plan, COMMON)
    assert finding.level == "error"
    assert "its load negative is tied to the battery's negative" in finding.message
