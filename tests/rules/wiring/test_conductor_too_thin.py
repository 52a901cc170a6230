"""Conductors that are too thin to stand being pulled and shaken."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

THIN = "conductor-too-thin"


def test_in_a_sheath_thinner_is_allowed() -> None:
    sheathed = edited(
        ("cable: thin, length: 2 m,", "cable: thin, length: 2 m, enclosed: true,"),
        plan=faulty(THIN),
    )
    assert levels(faulty(THIN), THIN) == ["note"]
    assert not found(sheathed, THIN)


@pytest.mark.parametrize(
    ("size", "code", "expected"),
    [
        ("1 mm²", "iso-13297", []),
        ("0.75 mm²", "iso-13297", ["note"]),
        ("16 AWG", "iso-13297", []),
        ("18 AWG", "nec-2023", []),
        ("1 mm²", "abyc-e11", ["note"]),
    ],
)
def test_the_thinnest_by_the_body_of_rules(size: str, code: str, expected: list[str]) -> None:
    plan = edited(
        ("code: abyc-e11", f"code: {code}"), ("size: 16 AWG", f"size: {size}"), plan=sound(THIN)
    )
    assert levels(plan, THIN) == expected
