"""The conductor that ties a negative to the chassis or the water, against the least that holds."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, sound
from wattproof.testing import check_text

SMALL = "bond-too-small"


@pytest.mark.parametrize(
    ("size", "n"), [("8 AWG", 0), ("9 AWG", 1), ("10 mm²", 0), ("8.37 mm²", 0), ("6 mm²", 1)]
)
def test_at_least_8_awg_in_trailers(size: str, n: int) -> None:
    plan = edited(("bond-8: {size: 8 AWG", f"bond-8: {{size: {size}"), plan=sound(SMALL))
    assert len(found(plan, SMALL)) == n


def test_size_numbers_and_remedy() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.level == "warning"
    assert finding.message == (
        "`chassis-bond` is 10 AWG; a bond to the chassis must be at least 8 AWG here"
    )
    assert finding.margin == pytest.approx(5.26 / 8.37 - 1, abs=0.01)
    assert finding.remedy == "use 8 AWG or larger for `chassis-bond`"


@pytest.mark.parametrize(
    ("negative", "bond", "n"),
    [
        ("2 AWG", "4 AWG", 0),  # one size below; 3 AWG is not sold
        ("2 AWG", "6 AWG", 1),
        ("8 AWG", "10 AWG", 0),
        ("8 AWG", "12 AWG", 1),
    ],
)
def test_on_boats_one_size_below_the_largest_negative(negative: str, bond: str, n: int) -> None:
    plan = edited(
        ("code: nec-2023", "code: abyc-e11"),
        ("setting: vehicle", "setting: boat"),
        ("batt-8: {size: 8 AWG", f"batt-8: {{size: {negative}"),
        ("bond-8: {size: 8 AWG", f"bond-8: {{size: {bond}"),
        plan=sound(SMALL),
    )
    assert len(found(plan, SMALL)) == n


@pytest.mark.parametrize("code", ["iec", "iso-13297"])
def test_other_bodies_state_no_size(code: str) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), plan=faulty(SMALL))
    assert not found(plan, SMALL)


@pytest.mark.parametrize(
    ("cable", "expected"), [("m-2-0", []), ("m-6", []), ("m-14", [("common-minus", "engine-bond")])]
)
def test_the_wire_between_two_negatives_of_which_one_is_tied(
    cable: str, expected: list[tuple[str, ...]]
) -> None:
    """A positive of the house bank that touches the engine is cleared through it."""
    plan = edited(
        ("start.negative, cable: m-2-0, length: 2 m, place: [lazarette",
         f"start.negative, cable: {cable}, length: 2 m, place: [lazarette"),
        plan=build("boat-thruster-and-windlass"),
    )  # fmt: skip
    seen = found(plan, SMALL)
    assert [f.subjects for f in seen] == expected
    if seen:
        assert "(14 AWG) brings back what `bow` drives into the water" in seen[0].message
        assert "to last until 300 A there open it has to be 6 AWG" in seen[0].message


def test_the_size_of_a_bond_that_tells_none_is_asked() -> None:
    plan = edited(("to: chassis, cable: bond-8,", "to: chassis,"), plan=sound(SMALL))
    result = check_text(plan)
    assert SMALL not in {f.rule for f in result.each}
    [question] = [q for q in result.questions if any(d.rule == SMALL for d in q.decides)]
    assert question.subjects == ("chassis-bond",)


@pytest.mark.parametrize(("told", "asked"), [("size: 2 AWG, ", False), ("", True)])
def test_the_largest_negative_of_a_size_that_nobody_tells_makes_nothing_certain(
    told: str, asked: bool
) -> None:
    plan = edited(
        ("code: nec-2023", "code: abyc-e11"),
        ("setting: vehicle", "setting: boat"),
        ("batt-8: {size: 8 AWG, ", f"batt-8: {{{told}"),
        ("bond-8: {size: 8 AWG", "bond-8: {size: 10 AWG"),
        plan=sound(SMALL),
    )
    result = check_text(plan)
    certain = {f.rule for f in result.each if f.verdict == "certain"}
    assert (SMALL in certain) != asked
    assert (SMALL in {d.rule for q in result.questions for d in q.decides}) == asked
