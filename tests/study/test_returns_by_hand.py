"""What negatives bring back: which device limits it, and what the positive of the wire says of it.

2/0 AWG of 105 °C may have 175 A before it here, 4 mm² (as 12 AWG) 20 A (NEC 240.4(D)(5)).
"""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from study.test_allowed import BASE, NEGATIVES
from wattproof.study.protection.answers import Allowed
from wattproof.testing import study_of
from wattproof.working import steps

MADE = "voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true"


def with_heater(rating: str, minus: str) -> str:
    """A heater of its own fuse, with some way back."""
    return edited(
        ("  lamp: {current: 5 A}\n", "  lamp: {current: 5 A}\n  heater: {current: 15 A}\n"),
        ("fuses:\n", f"fuses:\n  heater-fuse: {{rating: {rating}, {MADE}}}\n"
                     f"  small: {{rating: 15 A, {MADE}}}\n  large: {{rating: 90 A, {MADE}}}\n"),
        ("wires:\n", "wires:\n"
         "  heater-plus: {from: bar, to: heater, pole: positive, cable: thick, length: 3 m,\n"
         "           place: cabin, inline: [{heater-fuse: {from_end: from, distance: 1 cm}}]}\n"
         f"  heater-minus: {{from: heater, pole: negative, length: 1 m, place: cabin, {minus}}}\n"),
        plan=BASE,
    )  # fmt: skip


def returns(plan: str, wire: str) -> list[Allowed]:
    answers = study_of(plan).protection.allowed
    return [each for each in answers if each.kind == "return" and each.wire.name == wire]


@pytest.mark.parametrize(
    ("rating", "told"),
    [("20 A", []), ("25 A", ["not allowed"]), ("80 A", ["not allowed"])],
)
def test_a_negative_that_brings_back_more_than_its_own_positive(
    rating: str, told: list[str]
) -> None:
    """The heater comes back over the lamp's wire, whose positive is behind 20 A.

    Its first ten centimetres are behind 100 A, and that near its fuse they may.
    """
    plan = with_heater(rating, "to: lamp, cable: thick")
    assert [each.verdict for each in returns(plan, "lamp-run")] == told
    assert len(found(plan, NEGATIVES)) == len(told)
    for answer in returns(plan, "lamp-run"):
        assert [device.name for device in answer.devices] == ["heater-fuse"]
        assert answer.why == (f"`heater-fuse` lets {rating} last, and at most 20 A protects it")


@pytest.mark.parametrize(
    ("inline", "limit", "verdict"),
    [
        ("", "heater-fuse", "not allowed"),
        ("large", "heater-fuse", "not allowed"),
        ("small", "small", "cleared"),
        ("large, small", "small", "cleared"),
        ("small, large", "small", "cleared"),
    ],
)
def test_the_smallest_device_in_a_negative_or_before_it_limits_what_comes_back(
    inline: str, limit: str, verdict: str
) -> None:
    """A thin wire back from 80 A: 15 A in it protects it, 90 A does not."""
    plan = with_heater("80 A", f"to: bar, cable: thin, inline: [{inline}]")
    answers = returns(plan, "heater-minus")
    assert {each.verdict for each in answers} == {verdict}
    assert {tuple(device.name for device in each.devices) for each in answers} == {(limit,)}
    rating = {"heater-fuse": 80.0, "small": 15.0}[limit]
    assert {each.lasting.number for each in answers} == {rating}


@pytest.mark.parametrize(("cable", "verdict"), [("thick", "not known"), ("thin", "not allowed")])
def test_beside_a_bank_without_a_fuse_a_thinner_way_back_is_judged_all_the_same(
    cable: str, verdict: str
) -> None:
    """As thick as what brings it, the fuse that is missing decides; thinner, 100 A is too much.

    Either bank drives something through it, and the graver answer is told.
    """
    plan = edited(
        ("  house: {", "  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n  house: {"),
        ("wires:\n", "wires:\n"
         "  start-plus: {from: start, to: bar, pole: positive, cable: thick, length: 3 m}\n"
         f"  start-minus: {{from: start, to: bar, pole: negative, cable: {cable}, length: 3 m}}\n"),
        plan=BASE,
    )  # fmt: skip
    [answer] = returns(plan, "start-minus")
    assert answer.verdict == verdict
    assert answer.lasting.number == 100.0


def test_two_ways_back_share_as_their_lengths_do() -> None:
    """Of 80 A three quarters by 1 m and a quarter by 3 m of one cable."""
    second = "  other-minus: {from: heater, to: bar, pole: negative, cable: thin, length: 3 m}\n"
    plan = with_heater("80 A", "to: bar, cable: thin") + second
    for wire, amps, verdict in (
        ("heater-minus", 60.0, "not allowed"),
        ("other-minus", 20.0, "cleared"),
    ):
        [answer] = returns(plan, wire)
        assert answer.lasting.number == pytest.approx(amps)
        assert answer.verdict == verdict
        share, told = steps(answer.lasting)[-2:]
        assert share.words == f"share of what is taken out at heater that passes through {wire}"
        assert share.formula == "network (Rhot(other-minus); Rhot(heater-minus))"
        assert told.formula == f"s({wire}) × In(heater-fuse)"


def with_bars_apart(main: str, plus: str = "plus") -> str:
    """A lamp and a heater behind 20 A each, between two bars or from the post, and one way back."""
    heater = f"  heater-fuse: {{rating: 20 A, {MADE}}}\n"
    own_fuse = "inline: [{%s: {from_end: from, distance: 1 cm}}]"
    return edited(
        ("house-fuse: {rating: 100 A", f"house-fuse: {{rating: {main}"),
        ("fuses:\n", f"fuses:\n{heater}"),
        ("  bar: {rating: 250 A}\n", "  plus: {rating: 250 A}\n  minus: {rating: 250 A}\n"),
        ("  lamp: {current: 5 A}\n", "  lamp: {current: 5 A}\n  heater: {current: 15 A}\n"),
        ("from: house, to: bar, cable", "from: house, to: plus, pole: positive, cable"),
        ("from: bar, to: lamp,", f"from: {plus}, to: lamp, pole: positive,"),
        plan=BASE,
    ) + (
        f"  heater-run: {{from: {plus}, to: heater, pole: positive, cable: thin, length: 3 m,\n"
        f"               {own_fuse % 'heater-fuse'}}}\n"
        "  lamp-minus: {from: lamp, to: minus, pole: negative, cable: thin, length: 3 m}\n"
        "  heater-minus: {from: heater, to: minus, pole: negative, cable: thin, length: 3 m}\n"
        "  house-minus: {from: house, to: minus, pole: negative, cable: thin, length: 1 m}\n"
    )


@pytest.mark.parametrize(
    ("main", "verdict", "together"),
    [("100 A", "not allowed", 40.0), ("30 A", "not allowed", 30.0), ("15 A", "cleared", 15.0)],
)
def test_a_negative_brings_back_all_that_divides_at_the_bar_of_the_other_pole(
    main: str, verdict: str, together: float
) -> None:
    """It is held to the main fuse as the positive is; two fuses of 20 A let no more than 40 A."""
    [answer] = returns(with_bars_apart(main), "house-minus")
    assert answer.verdict == verdict
    assert [device.name for device in answer.devices] == ["house-fuse"]
    assert answer.in_all[1].number == together


def test_what_divides_at_a_post_is_judged_alone_and_counted_together() -> None:
    """Before the two fuses nothing limits; each alone is no more than 20 A, both are 40 A."""
    [answer] = returns(with_bars_apart("100 A", plus="house"), "house-minus")
    assert (answer.verdict, answer.lasting.number) == ("cleared", 20.0)
    devices, amps = answer.in_all
    assert sorted(device.name for device in devices) == ["heater-fuse", "lamp-fuse"]
    assert amps.number == 40.0


@pytest.mark.parametrize("amps", ["7 A", "11 A"])
def test_two_fuses_guard_no_negative_that_both_overload(amps: str) -> None:
    """11 A and 11 A in 4 mm² that stands 20 A: neither fuse of 20 A opens."""
    plan = with_bars_apart("100 A", plus="house").replace("current: 15 A", f"current: {amps}")
    plan = plan.replace("lamp: {current: 5 A}", f"lamp: {{current: {amps}}}")
    told = [f for f in found(plan, "conductor-too-small") if f.subjects[0] == "house-minus"]
    assert [f.level for f in told] == (["error"] if amps == "11 A" else [])
