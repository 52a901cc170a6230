"""Open-circuit voltage on the coldest morning against every part between array and controller."""

from __future__ import annotations

import re

import pytest

from plans import BASE, edited
from rule_runs import asked
from rule_runs import found_beside_all as found
from rules.array.plans import joined
from rules.curves.plans import in_series

DEVICE = "cold-voltage-over-device"
WARM = ("coldest: -18 °C", "coldest: 25 °C")  # 3 × 24.3 V = 72.9 V, as on the label
COLD = 3 * 24.3 * (1 + 0.0029 * 43)  # 82.0 V
SWITCH = "switches:\n  pv-off: {{rating: 30 A, dc: true, poles: 2, load_break: true{}}}\nfuses:\n"
INLINE = ("place: [roof, cabin]}", "place: [roof, cabin], inline: [pv-off]}")
ALIKE = "{module: rigid-100, series: 2, mounting: roof-gap}"


def with_switch(voltage: str, *edits: tuple[str, str]) -> str:
    """The base plan with a switch in the home run."""
    rated = f", voltage: {voltage}" if voltage else ""
    return edited(INLINE, ("fuses:\n", SWITCH.format(rated)), *edits)


def with_fuse(fuse: str, *edits: tuple[str, str]) -> str:
    """The base plan with a fuse in the home run."""
    inline = ("place: [roof, cabin]}", "place: [roof, cabin], inline: [pv-fuse]}")
    return edited(inline, ("fuses:\n", f"fuses:\n  pv-fuse: {{rating: 15 A{fuse}}}\n"), *edits)


AT_THE_LIMIT = [("75.2 V", None), ("75.1 V", "warning"), ("72.9 V", "warning"), ("72.8 V", "error")]
"""3 % of 75.155 V are what labels may hide: 72.9 V / 0.97."""


@pytest.mark.parametrize(("rated", "level"), AT_THE_LIMIT)
def test_device_voltage_at_the_limit(rated: str, level: str | None) -> None:
    assert [f.level for f in found(with_switch(rated, WARM), DEVICE)] == ([level] if level else [])


def test_a_label_that_tells_its_tolerance_is_believed() -> None:
    for tolerance, fires in (("2 %", False), ("5 %", True)):
        told = ("voc: 24.3 V", f"voc: 24.3 V, voc_tolerance: {tolerance}")
        assert bool(found(with_switch("75.2 V", WARM, told), DEVICE)) is fires


def test_device_voltage_by_hand() -> None:
    (finding,) = found(with_switch("48 V"), DEVICE)
    assert finding.values[0].number == pytest.approx(COLD)
    assert finding.margin == pytest.approx(1 - COLD / 48)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.subjects == ("pv-off",)
    volts = re.search(r"at least (\d+) V", finding.remedy)
    assert volts
    assert not found(with_switch(f"{volts[1]} V"), DEVICE)
    assert found(with_switch(f"{int(volts[1]) - 1} V"), DEVICE)


def test_a_device_of_unknown_voltage_is_asked() -> None:
    assert not found(with_switch(""), DEVICE)  # 150 V is usual on an array
    assert asked(with_switch(""), DEVICE) == ["device voltage"]


@pytest.mark.parametrize(
    ("fuse", "series", "level"),
    [
        (", style: gpv", 3, None),  # 600 V
        (", style: gpv, voltage: 75 V", 3, "error"),  # what is printed wins
        (", style: blade", 1, None),  # 27.3 V under 32 V
        (", style: blade", 2, "warning"),  # 54.7 V; some are printed 58 V
        (", style: blade", 4, "error"),  # 97 V at 25 °C: none is made for it
        (", style: class-t", 3, None),  # 125 V
        (", style: glass", 3, None),  # made for alternating current: told elsewhere
    ],
)
def test_fuses_by_style(fuse: str, series: int, level: str | None) -> None:
    findings = found(with_fuse(fuse, ("series: 3", f"series: {series}")), DEVICE)
    assert [f.level for f in findings] == ([level] if level else [])


def test_the_remedy_for_a_fuse_is_a_photovoltaic_one() -> None:
    (finding,) = found(with_fuse(", style: blade, voltage: 32 V"), DEVICE)
    assert "(gPV)" in finding.remedy
    assert not found(with_fuse(", style: gpv"), DEVICE)


@pytest.mark.parametrize(
    ("edits", "level"),
    [
        ((("voltage: 600 V}\n    batt", "voltage: 82 V}\n    batt"),), "warning"),
        ((("voltage: 600 V}\n    batt", "voltage: 85 V}\n    batt"),), None),
        ((("voltage: 600 V}\n    batt", "voltage: 60 V}\n    batt"),), "error"),
        (((", voltage: 600 V}\n    batt", "}\n    batt"),), None),  # sold as pv: 600 V
        (
            (("kind: pv", "kind: automotive"), (", voltage: 600 V}\n    batt", "}\n    batt")),
            "error",  # sold for 60 V
        ),
    ],
)
def test_cables(edits: tuple[tuple[str, str], ...], level: str | None) -> None:
    findings = found(edited(*edits), DEVICE)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(f.subjects == ("home-run", "pv-10") for f in findings)


def test_a_cable_is_told_once_for_all_its_wires() -> None:
    plan = in_series(ALIKE, ALIKE).replace("voltage: 600 V}\n    batt", "voltage: 60 V}\n    batt")
    (finding,) = found(plan, DEVICE)
    assert finding.subjects == ("link", "pv-10", "minus", "plus")


@pytest.mark.parametrize(
    ("joint", "told"),
    [
        ("rating: 30 A, voltage: 57 V", []),
        ("rating: 30 A, voltage: 55 V", ["warning"]),
        ("rating: 30 A, voltage: 54 V", ["error"]),
        ("rating: 30 A", []),  # 150 V are usual
        ("kind: branch-connector, rating: 30 A, voltage: 48 V", ["error"]),
        ("rating: 30 A, voltage: 600 V, connector: {voltage: 48 V}", ["error"]),
        ("rating: 30 A, voltage: 600 V, connector: {voltage: 60 V}", []),
    ],
)
def test_joints(joint: str, told: list[str]) -> None:
    """Two in series reach 54.7 V."""
    findings = found(joined(ALIKE, ALIKE, joint), DEVICE)
    assert [f.level for f in findings] == told
    assert all(f.subjects == ("roof-joint",) for f in findings)


@pytest.mark.parametrize(("voltage", "fires"), [("1000 V", False), ("60 V", True)])
def test_connectors_with_a_voltage_of_their_own(voltage: str, fires: bool) -> None:
    connector = f"max_system_voltage: 600 V, connector: {{style: locking-pv, voltage: {voltage}}}"
    findings = found(edited(("max_system_voltage: 600 V", connector)), DEVICE)
    assert bool(findings) is fires
    assert all(f.subjects == ("roof-string", "rigid-100") for f in findings)


@pytest.mark.parametrize(
    ("across", "voltage", "fires"),
    [
        ("tracker.pv", "75 V", True),
        ("tracker.pv", "150 V", False),
        ("roof-string", "75 V", True),
        ("tracker.battery", "20 V", False),
    ],
)
def test_arresters(across: str, voltage: str, fires: bool) -> None:
    arrester = f"arresters:\n  surge: {{across: {across}, voltage: {voltage}}}\nwires:\n"
    assert bool(found(edited(("wires:\n", arrester)), DEVICE)) is fires


def test_the_battery_side_is_left_alone() -> None:
    """The 58 V charge fuse never sees the array's 82 V."""
    assert not found(BASE, DEVICE)
