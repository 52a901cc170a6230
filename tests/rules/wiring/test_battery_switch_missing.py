"""Whether anything that a hand can open stands between a bank and what it feeds."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels

SWITCH = "battery-switch-missing"


def test_words() -> None:
    [finding] = found(faulty(SWITCH), SWITCH)
    assert (finding.level, finding.subjects) == ("note", ("house", "winch"))
    assert finding.message == "no switch disconnects `house` from `winch`: 30 A in all"
    assert "at least 30 A of direct current" in finding.remedy


@pytest.mark.parametrize(
    ("current", "setting", "fires"),
    [
        ("10 A", "boat", True),
        ("9.9 A", "boat", False),
        ("119 A", "vehicle", False),
        ("120 A", "vehicle", True),
        ("120 A", "cabin", True),
        ("200 A", "portable", False),
    ],
)
def test_from_which_current_on(current: str, setting: str, fires: bool) -> None:
    plan = edited(
        ("winch: {current: 30 A}", f"winch: {{current: {current}}}"),
        ("setting: boat", f"setting: {setting}"),
        ("code: abyc-e11", "code: iec"),
        plan=faulty(SWITCH),
    )
    assert bool(levels(plan, SWITCH)) is fires


@pytest.mark.parametrize(
    "edit",
    [
        ("winch: {current: 30 A}", "winch: {current: 30 A, critical: true}"),
        (
            "winch-run: {from: house, to: winch,",
            "winch-run: {from: house, to: winch, plug: genderless-50,",
        ),
        ("house: {", "house: {removable: true, "),
    ],
)
def test_what_must_not_be_parted_or_is_unplugged(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(SWITCH)), SWITCH)


BREAKER = "sun-breaker: {rating: 40 A, voltage: 48 V, dc: true, interrupt: 10 kA}"


def test_a_breaker_in_another_wire_parts_nothing() -> None:
    """That of the controller leaves the winch on the battery."""
    plan = edited(
        ("loads:", f"breakers:\n  {BREAKER}\nloads:"),
        ("inline: [{charge-fuse:", "inline: [sun-breaker, {charge-fuse:"),
        plan=faulty(SWITCH),
    )  # fmt: skip
    assert [finding.subjects for finding in found(plan, SWITCH)] == [("house", "winch")]


def test_a_converter_that_charges_another_bank_is_no_consumer() -> None:
    """It takes 22 A, past the switch of the thruster."""
    assert not found(build("boat-thruster-and-windlass"), SWITCH)


@pytest.mark.parametrize(("family", "fires"), [("breakers", False), ("fuses", True)])
def test_packs_with_a_breaker_each(family: str, fires: bool) -> None:
    """Told in short form; a fuse is opened by nobody's hand."""
    style = "moulded-case-breaker" if family == "breakers" else "class-t"
    own = f"  own: {{rating: 100 A, voltage: 80 V, dc: true, interrupt: 10 kA, style: {style}}}\n"
    plan = edited(
        ("house: {", "house: {arrangement: 2p, each_pack: {fuse: own}, "), plan=faulty(SWITCH)
    )
    if f"{family}:\n" in plan:
        plan = plan.replace(f"{family}:\n", f"{family}:\n{own}", 1)
    else:
        plan += f"{family}:\n{own}"
    assert bool(found(plan, SWITCH)) is fires
