"""What goes on drawing from a battery that starts an engine, with another bank beside it."""

from __future__ import annotations

import pytest

from plans import edited
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


def test_the_only_battery_with_a_starter_on_it_is_the_engines() -> None:
    """A refrigerator of 4 A: half of 70 Ah is gone in 8.75 h. A lamp of 2 A lasts the night."""
    plan = """\
wattproof: 1
title: One battery for the engine and the refrigerator
setting: boat
batteries:
  engine-battery: {chemistry: flooded, nominal: 12 V, capacity: 70 Ah}
starters:
  starter: {current: 150 A}
loads:
  fridge: {current: 4 A, nominal: 12 V}
fuses:
  fridge-fuse: {rating: 10 A, style: blade, voltage: 32 V}
datasheets:
  cables:
    thick: {size: 35 mm², kind: battery}
    thin: {size: 2.5 mm², kind: marine}
wires:
  crank: {from: engine-battery, to: starter, cable: thick, length: 1 m, enclosed: true}
  fridge-run: {from: engine-battery, to: fridge, cable: thin, length: 2 m,
               inline: [{fridge-fuse: {from_end: from, distance: 10 cm}}]}
"""
    [finding] = found(plan, DRAINED)
    assert "half of it is gone in 8.75 h" in finding.message
    assert finding.remedy.startswith("lead to a battery of its own what runs")
    assert not found(edited(("current: 4 A", "current: 2 A"), plan=plan), DRAINED)


@pytest.mark.parametrize(
    ("at", "opens", "told"),
    [
        ("start", ", closes_above: 13.4 V, opens_below: 12.8 V", ["note"]),
        ("house", ", closes_above: 13.4 V, opens_below: 12.8 V", []),
        ("start", "", []),  # turned by hand: both feed it until then
    ],
)
def test_what_a_relay_leaves_to_the_starting_battery(at: str, opens: str, told: list[str]) -> None:
    """It joins the banks while the engine runs, and the lamp is on one side of it."""
    plan = sound(
        DRAINED,
        ("lamp: {current: 1 A", "lamp: {current: 6 A"),
        ("lamp-run: {from: start", f"lamp-run: {{from: {at}"),
        ("fuses:", f"switches:\n  relay: {{rating: 60 A, voltage: 32 V, dc: true{opens}}}\nfuses:"),
        (
            "wires:",
            "wires:\n  joining: {from: start.positive, to: house.positive, cable: flex-16,\n"
            "            length: 5 m, place: [bay, inside], inline: [relay]}\n",
        ),
    )
    assert levels(plan, DRAINED) == told


@pytest.mark.parametrize(
    ("elsewhere", "told"), [("", ["note"]), (", opens_below: 11.8 V", ["note"])]
)
def test_a_converter_on_it_is_parted_by_its_own_switch_alone(
    elsewhere: str, told: list[str]
) -> None:
    """A switch of the other bank's consumers saves nothing here."""
    plan = sound(
        DRAINED,
        ("lamp: {current: 1 A, nominal: 12 V}", "lamp: {current: 8 A, nominal: 12 V}"),
        ("chargers:", "converters:\n  steady: {input_nominal: 12 V, output_nominal: 12 V,\n"
         "           max_output_current: 10 A}\nchargers:"),
        ("loads:", f"switches:\n  off: {{rating: 40 A, voltage: 32 V, dc: true{elsewhere}}}\n"
         "loads:\n  pump: {current: 1 A, nominal: 12 V}"),
        ("lamp-run: {from: start, to: lamp,", "behind: {from: steady.output, to: lamp, "
         "cable: flex-16, length: 1 m, place: bay}\n  pump-run: {from: house, to: pump, cable: "
         "flex-16, length: 1 m, place: inside, inline: [off]}\n"
         "  lamp-run: {from: start, to: steady.input,"),
    )  # fmt: skip
    assert levels(plan, DRAINED) == told
