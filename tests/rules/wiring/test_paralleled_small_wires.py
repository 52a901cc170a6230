"""Thin conductors in parallel in place of one thick one."""

from __future__ import annotations

from pathlib import Path

import pytest

from found import found_alone
from plans import edited
from rule_runs import RULES, found, sound

BUILDS = Path(__file__).resolve().parents[2] / "external" / "builds"

PARALLEL = "paralleled-small-wires"


@pytest.mark.parametrize(
    ("code", "size", "level"),
    [
        ("nec-2023", "1/0 AWG", None),  # at it
        ("nec-2023", "1 AWG", "warning"),
        ("nec-2023", "53.5 mm²", None),
        ("nec-2023", "50 mm²", "warning"),
        ("abyc-e11", "1 AWG", "note"),
        ("iso-13297", "35 mm²", "note"),
        ("iec", "35 mm²", None),
        ("iec", "2.5 mm²", "note"),
        ("as-nzs-3001", "4 mm²", None),  # at it
        ("as-nzs-3001", "2.5 mm²", "warning"),
    ],
)
def test_size_in_parallel(code: str, size: str, level: str | None) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("pair-2-0: {size: 2/0 AWG", f"pair-2-0: {{size: {size}"),
        plan=sound(PARALLEL),
    )  # fmt: skip
    findings = found(plan, PARALLEL)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(f.subjects == ("inverter-run",) for f in findings)


def test_one_conductor_instead() -> None:
    plan = edited(("pair-2-0: {size: 2/0 AWG", "pair-2-0: {size: 1 AWG"), plan=sound(PARALLEL))
    [finding] = found(plan, PARALLEL)
    assert "use one conductor of 3/0 AWG" in finding.remedy  # 2 × 42.4 mm² is 84.8 mm²
    single = edited(
        ("pair-2-0: {size: 1 AWG", "pair-2-0: {size: 3/0 AWG"),
        (",\n                 parallel: 2", ""),
        plan=plan,
    )
    assert not found(single, PARALLEL)


def test_a_lead_for_each_pack_of_a_bank_is_no_thick_conductor_in_pieces() -> None:
    """Each carries what its own pack gives, whatever the others do."""
    text = (BUILDS / "cutter-five-breakers.yaml").read_text(encoding="utf-8")
    assert "arrangement: 5p" in text
    result = found_alone("plan.yaml", text, RULES)
    assert PARALLEL not in {f.rule for f in result.each}
    fewer = text.replace("parallel: 5", "parallel: 3")
    result = found_alone("plan.yaml", fewer, RULES)
    assert PARALLEL in {f.rule for f in result.each}
