"""The values on a module's label against each other: which of them cannot all be true."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.array.plans import label

IMPOSSIBLE = "module-values-impossible"
POWER = "module-power-disagrees"
PRINTED = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"


@pytest.mark.parametrize(
    ("values", "said"),
    [
        # Current: over, at, and at but explained by rounding to a tenth.
        (
            "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 5.5 A",
            ["Imp 5.5 A is not below Isc 5.2 A"],
        ),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.20 A, imp: 5.20 A", ["Imp 5.20 A"]),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 5.2 A", []),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.21 A, imp: 5.20 A", []),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 0.6 A, imp: 0.6 A", []),
        # Voltage: over, at in whole volts (rounding explains 17.5 of 18.5 V, but no module is so).
        (
            "voc: 20.4 V, vmp: 24.3 V, isc: 5.2 A, imp: 4.9 A",
            ["Vmp 24.3 V is not below Voc 20.4 V"],
        ),
        ("voc: 18 V, vmp: 18 V, isc: 5.2 A, imp: 4.9 A", ["Vmp 18 V"]),
        ("voc: 5 V, vmp: 5 V, isc: 5.2 A, imp: 4.9 A", []),
        # Power: 120 W / 20.4 V = 5.88 A, 120 W / 4.9 A = 24.5 V.
        (
            "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 120 W",
            ["Pmax/Vmp 5.88 A is not below Isc 5.2 A", "Pmax/Imp 24.5 V is not below Voc 24.3 V"],
        ),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 106 W", []),
        # Without a current the power tells it.
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, pmax: 120 W", ["Pmax/Vmp 5.88 A"]),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, pmax: 100 W", []),
        # A folding module of "200 W" whose power needs more than its short-circuit current.
        (
            "voc: 21.6 V, vmp: 18 V, isc: 10.2 A, imp: 11.1 A, pmax: 200 W",
            ["Imp 11.1 A is not below Isc 10.2 A", "Pmax/Vmp 11.1 A"],
        ),
        (PRINTED, []),
    ],
)
def test_what_cannot_be(values: str, said: list[str]) -> None:
    findings = found(label(values), IMPOSSIBLE)
    assert len(findings) == (1 if said else 0)
    for words in said:
        assert words in findings[0].message
        assert findings[0].level == "error"
        assert findings[0].margin is not None
        assert findings[0].margin <= 0


@pytest.mark.parametrize(
    ("values", "likely"),
    [
        (
            "voc: 24.3 V, vmp: 20.4 V, isc: 4.9 A, imp: 5.2 A, pmax: 100 W",
            "Isc and Imp are swapped",
        ),
        (
            "voc: 20.4 V, vmp: 24.3 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W",
            "Voc and Vmp are swapped",
        ),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 9.4 A, pmax: 100 W", "Imp is about 4.9 A"),
        ("voc: 24.3 V, vmp: 12.0 V, isc: 5.2 A, pmax: 100 W", "Vmp is about 19.9 V, not 12.0 V"),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 4.2 A, imp: 4.9 A, pmax: 100 W", "Isc is about 5.21 A"),
        ("voc: 17.0 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", "Voc is about 24.9 V"),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 190 W", "Pmax is about 100 W"),
        ("voc: 20 V, vmp: 21.4 V, isc: 5.2 A, imp: 9.9 A, pmax: 100 W", "no single slip"),
    ],
)
def test_what_the_label_most_likely_says(values: str, likely: str) -> None:
    (finding,) = found(label(values), IMPOSSIBLE)
    assert likely in finding.remedy


def test_the_likely_value_makes_the_label_possible() -> None:
    plan = label(PRINTED.replace("isc: 5.2 A", "isc: 4.2 A"))
    (finding,) = found(plan, IMPOSSIBLE)
    amps = re.search(r"Isc is about ([\d.]+) A", finding.remedy)
    assert amps
    mended = plan.replace("isc: 4.2 A", f"isc: {amps[1]} A")
    assert not found(mended, IMPOSSIBLE)
    assert not found(mended, POWER)


def test_one_finding_for_a_datasheet_where_the_plan_uses_it() -> None:
    plan = edited(
        ("isc: 5.2 A", "isc: 4.5 A"),
        (
            "  roof-string: {module: rigid-100, series: 3",
            "  roof-string: {module: rigid-100, arrangement: 3s2p",
        ),
    )
    (finding,) = found(plan, IMPOSSIBLE)
    assert finding.subjects == ("roof-string", "rigid-100")
    line = finding.place.line
    assert plan.splitlines()[line - 1].startswith("  roof-string:")
    assert [plan.splitlines()[r.place.line - 1].split(":")[0] for r in finding.related] == [
        "    rigid-100"
    ]


def test_the_other_module_of_a_mixed_string_is_named() -> None:
    sheet = "    soft-100: {voc: 20.4 V, vmp: 24.3 V, isc: 5.2 A, imp: 4.9 A}\n"
    plan = edited(
        ("  cables:\n", f"{sheet}  cables:\n"),
        ("module: rigid-100, series: 3", "modules: [rigid-100, soft-100, soft-100]"),
    )
    (finding,) = found(plan, IMPOSSIBLE)
    assert finding.subjects == ("roof-string", "soft-100")


@pytest.mark.parametrize(
    ("pmax", "level"),
    [
        # Vmp × Imp is 19.00 V × 10.00 A = 190 W; rounding explains 0.1 % and half a watt.
        ("190 W", None),
        ("195 W", None),
        ("196 W", None),  # 3.1 % apart, 2.7 % beyond rounding
        ("197 W", "warning"),
        ("184 W", None),
        ("183 W", "warning"),
        ("171 W", "error"),  # 11.1 % apart
        ("173 W", "warning"),
    ],
)
def test_power_against_voltage_times_current(pmax: str, level: str | None) -> None:
    plan = label(f"voc: 24.00 V, vmp: 19.00 V, isc: 10.60 A, imp: 10.00 A, pmax: {pmax}")
    assert not found(plan, IMPOSSIBLE)
    assert [f.level for f in found(plan, POWER)] == ([level] if level else [])


def test_an_impossible_label_is_told_once() -> None:
    plan = label("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 120 W")
    assert found(plan, IMPOSSIBLE)
    assert not found(plan, POWER)
