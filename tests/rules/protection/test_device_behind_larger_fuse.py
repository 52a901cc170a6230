"""Switches, relays, plugs and bars held to the fuse before them."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, build, found, levels, sound
from rules.protection.plans import on_selector

HELD = "device-behind-larger-fuse"
VAN = sound(HELD)


@pytest.mark.parametrize(("rating", "expected"), [("125 A", []), ("124 A", ["error"])])
def test_a_bar_at_its_fuse_and_under_it(rating: str, expected: list[str]) -> None:
    plan = edited(("bar: {rating: 250 A", f"bar: {{rating: {rating}"), plan=VAN)
    assert levels(plan, HELD) == expected


def switched(rating: str) -> str:
    """A relay behind the fuse of the bank, in the same wire."""
    plan = edited(
        ("{bank-fuse: {from_end: from, distance: 10 cm}}",
         "{bank-fuse: {from_end: from, distance: 10 cm}}, relay"),
        plan=VAN,
    )  # fmt: skip
    relay = f"  relay: {{rating: {rating}, voltage: 32 V, dc: true, load_break: true}}\n"
    return plan.replace("switches:\n", f"switches:\n{relay}", 1)


@pytest.mark.parametrize(("rating", "expected"), [("125 A", []), ("124 A", ["error"])])
def test_a_relay_behind_the_fuse(rating: str, expected: list[str]) -> None:
    assert levels(switched(rating), HELD) == expected


def test_it_tells_the_fuse_and_what_would_do() -> None:
    [finding] = found(switched("120 A"), HELD)
    assert finding.subjects == ("relay", "bank-fuse")
    assert "`bank-fuse` lets 125 A through it for long" in finding.message
    assert finding.remedy.startswith("use a switch rated at least 125 A")


@pytest.mark.parametrize(("rating", "expected"), [("100 A", []), ("99 A", ["error"])])
def test_a_link_with_a_fuse_at_either_end_feeds_the_bar(rating: str, expected: list[str]) -> None:
    """A relay between two wires joins a second bank: neither fuse is one of a consumer's.

    100 A of the inverter, or 40 A of the charger, pass the bar.
    """
    plan = edited(
        ("bar: {rating: 250 A", f"bar: {{rating: {rating}"),
        ("fuses:\n", "fuses:\n" + "".join(
            f"  {name}: {{rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA}}\n"
            for name in ("mains-fuse", "near-fuse", "far-fuse"))),
        ("switches:\n", "switches:\n  relay: {rating: 140 A, closes_above: 13.4 V}\n"),
        ("batteries:\n", "batteries:\n  other: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"),
        ("to: mains, cable: bank-1-0,", "to: mains, cable: bank-1-0, inline: [mains-fuse],"),
        ("wires:\n", "wires:\n"
         "  link: {from: other.positive, to: relay, cable: bank-1-0, length: 1 m,\n"
         "         inline: [{far-fuse: {from_end: from, distance: 5 cm}}]}\n"
         "  link-on: {from: relay, to: bar.positive, cable: bank-1-0, length: 1 m,\n"
         "            inline: [{near-fuse: {from_end: to, distance: 5 cm}}]}\n"
         "  back: {from: other.negative, to: bar.negative, cable: bank-1-0, length: 1 m}\n"),
        plan=VAN,
    )  # fmt: skip
    assert [f.level for f in found(plan, HELD) if f.subjects[0] == "bar"] == expected


@pytest.mark.parametrize(("rating", "expected"), [("125 A", []), ("50 A", ["error"])])
def test_a_plug_behind_the_fuse(rating: str, expected: list[str]) -> None:
    plan = edited(
        ("  bank-run: {", f"  bank-run: {{plug: genderless-50, plug_rating: {rating}, "), plan=VAN
    )
    assert levels(plan, HELD) == expected


@pytest.mark.parametrize("plug", ["cigar", "flat-two-pin", "trailer-7", "genderless-50"])
def test_a_plug_of_no_printed_rating_far_behind_its_fuse(plug: str) -> None:
    """125 A is more than any of them stands at the very best."""
    plan = edited(("  bank-run: {", f"  bank-run: {{plug: {plug}, "), plan=VAN)
    assert levels(plan, HELD) == ["error"]


@pytest.mark.parametrize(
    ("fuse", "expected", "asks"),
    [
        ("8 A", [], []),
        ("15 A", [], ["plug rating"]),
        ("20 A", [], ["plug rating"]),
        ("25 A", ["error"], []),
    ],
)
def test_a_plug_that_may_stand_its_fuse_is_asked_for(
    fuse: str, expected: list[str], asks: list[str]
) -> None:
    """A plug of a cigar socket: 8 A is usual, 20 A the most that is printed."""
    rated = f"{{rating: {fuse}, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}}"
    plan = edited(
        ("fuses:\n", f"fuses:\n  lamp-fuse: {rated}\n"),
        ("inverters:\n", "loads:\n  lamp: {current: 2 A}\ninverters:\n"),
        ("wires:\n",
         "wires:\n  lamp-run: {from: bar, to: lamp, plug: cigar, cable: batt-8, length: 1 m,\n"
         "             place: cabin, inline: [{lamp-fuse: {from_end: from, distance: 5 cm}}]}\n"),
        plan=VAN,
    )  # fmt: skip
    assert levels(plan, HELD) == expected
    assert asked(plan, HELD) == asks


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("plug: cigar, plug_rating: 10 A", ["error"]),  # 40 A given, 20 A fused behind
        ("plug: genderless-50, plug_rating: 50 A", []),
        ("plug: cigar, plug_rating: 20 A", []),
    ],
)
def test_a_plug_behind_a_converter(more: str, expected: list[str]) -> None:
    feed = "cable: six, length: 1 m, place: garage"
    plan = edited((feed, f"{feed}, {more}"), plan=build("van-forty-eight-volt"))
    assert levels(plan, "device-behind-larger-fuse") == expected


@pytest.mark.parametrize(
    ("rating", "fuse", "second", "expected"),
    [
        ("39 A", None, False, ["error"]),  # its converter gives 40 A
        ("40 A", None, False, []),
        ("39 A", "30 A", False, []),  # fused before the bar
        ("75 A", None, True, ["error"]),  # two converters give 80 A
        ("80 A", None, True, []),
    ],
)
def test_a_bar_behind_converters(
    rating: str, fuse: str | None, second: bool, expected: list[str]
) -> None:
    """A bar between converter and lamp stands what the converter gives, not the lamp alone."""
    feed = "panel-feed: {from: step-down.output, to: panel, cable: six, length: 1 m, place: garage}"
    guard = ", inline: [{bar-fuse: {from_end: from, distance: 5 cm}}]" if fuse else ""
    plan = edited(
        (
            feed,
            "bar-feed: {from: step-down.output, to: twelve, cable: six, length: 1 m, "
            f"place: garage{guard}}}\n"
            "  lamp-run: {from: twelve, to: lamp, cable: six, length: 1 m, place: garage}\n"
            "  panel-feed: {from: twelve, to: panel, cable: six, length: 1 m, place: garage}",
        ),
        ("busbars:\n", f"busbars:\n  twelve: {{rating: {rating}, voltage: 60 V}}\n"),
        ("loads:\n", "loads:\n  lamp: {current: 2 A, nominal: 12 V}\n"),
        (
            "fuses:\n",
            f"fuses:\n  bar-fuse: {{rating: {fuse}, style: bolt-down, voltage: 32 V}}\n"
            if fuse
            else "fuses:\n",
        ),
        plan=build("van-forty-eight-volt"),
    )
    if second:
        step = "step-down: {input_nominal: 48 V, output_nominal: 12 V, max_output_current: 40 A, "
        plan = edited(
            (f"  {step}", f"  other-{step}efficiency: 92 %, place: garage}}\n  {step}"),
            (
                "wires:\n",
                "wires:\n"
                "  other-run: {from: bar, to: other-step-down.input, cable: six, length: 1 m, "
                "place: garage}\n"
                "  other-feed: {from: other-step-down.output, to: twelve, cable: six, length: 1 m, "
                "place: garage}\n",
            ),
            plan=plan,
        )
    assert [f.level for f in found(plan, HELD) if "`twelve`" in f.message] == expected


def test_a_switch_behind_a_converter_that_nothing_fuses() -> None:
    lamp = "cable: lamp, length: 3 m, place: box}"
    plan = edited(
        (lamp, "cable: lamp, length: 3 m, place: box, inline: [lamp-off]}"),
        (
            "switches:\n",
            "switches:\n  lamp-off: {rating: 10 A, voltage: 32 V, dc: true, load_break: true}\n",
        ),
        plan=build("trailer-two-in-series"),
    )
    [finding] = found(plan, "device-behind-larger-fuse")
    assert "rated 10 A; `step-down` lets 20 A through it for long" in finding.message


@pytest.mark.parametrize(
    ("rating", "charge", "expected"),
    [
        ("330 A", "200 A", []),  # the inverter's 250 A and the panel's 80 A
        ("329 A", "200 A", ["mains-fuse", "panel-fuse"]),
        ("349 A", "350 A", ["charge-fuse"]),  # what charges, all of it into the banks
    ],
)
def test_what_a_bar_gives_and_what_comes_to_it_do_not_add_up(
    rating: str, charge: str, expected: list[str]
) -> None:
    plan = on_selector(
        ("plus: {rating: 400 A", f"plus: {{rating: {rating}"),
        ("charge-fuse: {rating: 200 A", f"charge-fuse: {{rating: {charge}"),
    )
    assert [f.subjects for f in found(plan, HELD)] == ([("plus", *expected)] if expected else [])


def test_a_bar_with_another_bank_behind_a_fuse() -> None:
    """A third bank gives and takes: its fuse counts with the others."""
    third = (
        ("batteries:\n", "batteries:\n  third: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"),
        ("alternator.positive", "third.positive"),
        ("alternator.negative", "third.negative"),
        ("chargers:\n  alternator: {kind: alternator, max_output_current: 140 A, "
         "charge_voltage: 14.4 V}\n", ""),
        ("plus: {rating: 400 A", "plus: {rating: 329 A"),
    )  # fmt: skip
    [finding] = found(on_selector(*third), HELD)
    assert finding.subjects[0] == "plus"


@pytest.mark.parametrize("rating", ["190 A", "199 A", "203 A"])
def test_a_bar_that_carries_a_hair_too_much_is_told_by_its_fuse(rating: str) -> None:
    """208 A by the voltage at which an inverter is supposed to run: a hair over 198 A and more.

    By a hair it is asked for; that the fuses let far more through is told all the same.
    """
    plan = on_selector(
        ("both: true", "both: false"), ("plus: {rating: 400 A", f"plus: {{rating: {rating}")
    )
    told = [f.subjects[0] for rule in (HELD, "busbar-over-rating") for f in found(plan, rule)]
    assert told == ["plus"]


TOLD_PARTLY = """
told: part
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: agm, capacity: 100 Ah}}
distribution: {panel: {ways: {outlet: {fuse: 40 A}}}}
fuses: {main: {rating: 60 A}, own: {rating: 40 A}}
loads: {pump: {current: 5 A}}
wires:
  feed: {from: house, to: panel, inline: main}
  outlet: {from: WHERE, to: pump, plug: flat-two-pin}
"""


@pytest.mark.parametrize(
    ("start", "expected"),
    [("panel", []), ("panel.outlet", ["error"]), ("house, inline: own", ["error"])],
)
def test_a_smaller_fuse_that_is_not_mentioned_may_be_before_a_plug(
    start: str, expected: list[str]
) -> None:
    """Where only a part is told, and the fuse that is sits in no wire or panel of its own."""
    plan = TOLD_PARTLY.replace("WHERE", start)
    if start == "panel":
        plan = plan.replace("distribution: {panel: {ways: {outlet: {fuse: 40 A}}}}",
                            "busbars: {panel: {rating: 100 A}}")  # fmt: skip
        assert asked(plan, HELD) == ["fuses not told"]
    assert levels(plan, HELD) == expected
