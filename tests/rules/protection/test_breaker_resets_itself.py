"""Breakers that close again by themselves."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

RULE = "breaker-resets-itself"


@pytest.mark.parametrize(
    ("code", "level"),
    [("nec-2023", "warning"), ("abyc-e11", "error"), ("iso-13297", "error"), ("iec", "warning")],
)
def test_boats_refuse_it(code: str, level: str) -> None:
    assert levels(edited(("code: nec-2023", f"code: {code}"), plan=faulty(RULE)), RULE) == [level]


def test_every_other_style_and_none_is_silent() -> None:
    assert not found(sound(RULE), RULE)
    assert not found(sound(RULE, (", style: toggle-breaker", "")), RULE)


def test_one_that_each_pack_of_a_bank_has() -> None:
    each = sound("pack-fuse-unfit")
    assert not found(each, RULE)
    fuse = (
        "  pack-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}"
    )
    breaker = (
        "breakers:\n  pack-fuse: {rating: 100 A, voltage: 32 V, style: self-resetting-breaker}"
    )
    [finding] = found(edited((fuse, breaker), plan=each), RULE)
    assert finding.subjects == ("pack-fuse",)
