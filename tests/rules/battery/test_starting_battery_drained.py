"""What goes on drawing from a battery that starts an engine, with another bank beside it."""

from __future__ import annotations

import pytest

from rule_runs import found, levels, sound

DRAINED = "starting-battery-drained"


@pytest.mark.parametrize(("amps", "told"), [("3.75 A", []), ("3.76 A", ["note"])])
def test_half_of_it_lasts_for_a_night(amps: str, told: list[str]) -> None:
    """Of 90 Ah 45 Ah, for twelve hours."""
    plan = sound(DRAINED, ("lamp: {current: 1 A", f"lamp: {{current: {amps}"))
    assert levels(plan, DRAINED) == told


def test_words() -> None:
    [finding] = found(sound(DRAINED, ("lamp: {current: 1 A", "lamp: {current: 6 A")), DRAINED)
    assert "`lamp` on `start`, which starts the engine, draws 6 A" in finding.message
    assert "lead to `house`" in finding.remedy


@pytest.mark.parametrize("told", [", short_duty: 10 s", ", critical: true"])
def test_what_runs_for_minutes_and_what_must_not_stop_is_let_be(told: str) -> None:
    assert not found(
        sound(DRAINED, ("lamp: {current: 1 A", f"lamp: {{current: 6 A{told}")), DRAINED
    )


@pytest.mark.parametrize(("opens", "told"), [("", ["note"]), (", opens_below: 11.8 V", [])])
def test_what_a_switch_parts_from_it_by_itself_is_let_be(opens: str, told: list[str]) -> None:
    switch = f"switches:\n  low-off: {{rating: 40 A, voltage: 32 V, dc: true{opens}}}\n"
    plan = sound(
        DRAINED,
        ("lamp: {current: 1 A", "lamp: {current: 6 A"),
        ("fuses:", f"{switch}fuses:"),
        ("inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]",
         "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}, low-off]"),
    )  # fmt: skip
    assert levels(plan, DRAINED) == told


def test_the_only_bank_has_nothing_beside_it() -> None:
    plan = sound(
        DRAINED,
        ("lamp: {current: 1 A", "lamp: {current: 6 A"),
        ("{from: alternator, to: start,", "{from: alternator, to: house,"),
    )
    assert not found(plan, DRAINED)
