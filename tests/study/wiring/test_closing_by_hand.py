"""Circuits that close over nothing, or over the body alone: each with the way back drawn anew."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from study.wiring.test_grounding_by_hand import PLUS, TWO, study
from study.wiring.test_lasting_by_hand import LINKED
from wattproof.study import Study
from wattproof.testing import check_text, study_of

ACROSS = "lamp-minus: from: lamp.negative, to: start.negative\n"
PUMP = "\n".join(TWO.splitlines()[2:]) + "\n"
LAMP = PLUS.splitlines()[0] + "\n"


def at(*grounds: str) -> str:
    """Bonds of the negatives of house and start, in this order; "" for none."""
    banks = zip(("house", "start"), grounds, strict=True)
    return "\n".join(f"{b}-bond: from: {b}.negative, to: {g}" for b, g in banks if g)


def open_ones(found: Study) -> list[tuple[str, str, list[str], list[str], str]]:
    return [
        (
            str(n.component.name),
            n.port,
            [bank.name for bank in n.feeding],
            [bank.name for bank in n.others],
            n.through,
        )
        for n in found.wiring.not_closed
    ]


@pytest.mark.parametrize(
    ("grounds", "setting", "through"),
    [
        (("", ""), "vehicle", ""),
        (("chassis", ""), "vehicle", ""),
        (("chassis", "chassis"), "vehicle", "chassis"),
        (("chassis", "chassis"), "boat", "water"),
        (("water", "water"), "boat", "water"),
        (("chassis", "water"), "vehicle", "chassis"),
        (("earth", "earth"), "vehicle", "earth"),
        (("earth", "chassis"), "vehicle", ""),
        (("earth", "water"), "boat", ""),
    ],
)
def test_a_lamp_between_two_batteries_and_the_two_themselves(
    grounds: tuple[str, str], setting: str, through: str
) -> None:
    """Fed by the one, led back to the other: closed by nothing, or by what both are tied to.

    With their positives joined as well, the lamp's way back over the other has none still, and
    what passes between the two comes back over the same.
    """
    plan = LAMP + ACROSS + PUMP + "bar-back: from: house.negative, to: bar.negative\n"
    found = study("", plan, at(*grounds), setting)
    assert open_ones(found) == [("lamp", "", ["house"], ["start"], through)]
    assert not found.wiring.half_joined
    [lamp] = found.wiring.not_closed
    assert lamp.current is not None
    assert lamp.current.number == 2.0
    found = study(
        "", plan + "link: from: house.positive, to: start.positive", at(*grounds), setting
    )
    assert not open_ones(found)
    assert [(h.first.name, h.second.name, h.through) for h in found.wiring.half_joined] == [
        ("house", "start", through)
    ]


@pytest.mark.parametrize(
    ("wires", "told"),
    [
        (LAMP + "lamp-minus: from: lamp.negative, to: house.negative\n", []),
        # Its own negative is led to the body.
        (LAMP + "lamp-minus: from: lamp.negative, to: chassis\n", []),
        # Over a bar that the body is led to, with no battery on it.
        (
            LAMP + "lamp-minus: from: lamp.negative, to: bar.negative\n"
            "body: from: bar.negative, to: chassis\n",
            [],
        ),
        # Past a bar that a battery is on as well, which is tied to the body by a wire.
        (
            LAMP + "lamp-minus: from: lamp.negative, to: bar.negative\n"
            "own: from: start.negative, to: bar.negative\n"
            "body: from: bar.negative, to: chassis\n",
            [("lamp", "", ["house"], ["start"], "chassis")],
        ),
        # Through the batteries in series, from the lower's plus to its minus.
        (
            LAMP + "row: from: house.negative, to: start.positive\n"
            "lamp-minus: from: lamp.negative, to: start.negative\n",
            [],
        ),
    ],
)
def test_ways_that_close(wires: str, told: list[str]) -> None:
    found = study("", wires + PUMP, at("chassis", ""))
    assert open_ones(found) == told


@pytest.mark.parametrize(
    ("wires", "half"),
    [
        ("link: from: house.positive, to: start.positive\n", True),
        (
            "link: from: house.positive, to: start.positive\n"
            "back: from: house.negative, to: start.negative\n",
            False,
        ),
        ("back: from: house.negative, to: start.negative\n", False),
        ("row: from: house.negative, to: start.positive\n", False),
        # Over the body by wires of their own.
        (
            "link: from: house.positive, to: start.positive\n"
            "one: from: house.negative, to: chassis\ntwo: from: start.negative, to: chassis\n",
            True,
        ),
    ],
)
def test_two_banks_of_which_one_pole_alone_is_joined(wires: str, half: bool) -> None:
    found = study("", TWO + wires)
    pairs = [(h.first.name, h.second.name) for h in found.wiring.half_joined]
    assert pairs == ([("house", "start")] if half else [])
    if "chassis" in wires:
        assert [h.through for h in found.wiring.half_joined] == ["chassis"]


@pytest.mark.parametrize("back", [True, False])
def test_a_row_in_series_beside_a_bank_is_joined_at_its_outer_posts(back: bool) -> None:
    """Of two 6 V batteries the second's negative is the row's: the first's is its link."""
    text = HEAD + LINKED
    if not back:
        text = "\n".join(line for line in text.splitlines() if "link-minus" not in line) + "\n"
    found = study_of(text)
    pairs = [(h.first.parts, h.second.parts) for h in found.wiring.half_joined]
    names = [[[part.name for part in parts] for parts in pair] for pair in pairs]
    assert names == ([] if back else [[["house"], ["upper", "lower"]]])
    told = [f for f in check_text(text).findings if f.rule == "circuit-not-closed"]
    joins = "join `house.negative` and `lower.negative`"
    assert [joins in f.remedy for f in told if "positives" in f.message] == ([] if back else [True])


CHARGER = """\
controllers:
  engine: {kind: vehicle-charger, max_output_current: 20 A, max_input_voltage: 60 V}
"""
IN_OUT = (
    "in: from: start.positive, to: engine.alternator.positive\n"
    "out: from: engine.battery.positive, to: house.positive\n"
)


@pytest.mark.parametrize(
    ("more", "wires", "told"),
    [
        # Both sides with negatives of their own.
        (
            ", isolated: true",
            "in-back: from: engine.alternator.negative, to: start.negative\n"
            "out-back: from: engine.battery.negative, to: house.negative\n",
            [],
        ),
        # The input's negative led to the wrong bank.
        (
            ", isolated: true",
            "in-back: from: engine.alternator.negative, to: house.negative\n"
            "out-back: from: engine.battery.negative, to: house.negative\n",
            [("engine", "alternator", ["start"], ["house"])],
        ),
        # The output's, of which the current comes back through the charger itself.
        (
            ", isolated: true",
            "in-back: from: engine.alternator.negative, to: start.negative\n"
            "out-back: from: engine.battery.negative, to: start.negative\n",
            [("engine", "battery", ["house"], ["start"])],
        ),
        # Shared inside: what is missing at the input is there at the output, of the other bank.
        (
            ", common: negative",
            "out-back: from: engine.battery.negative, to: house.negative\n",
            [("engine", "alternator", ["start"], ["house"])],
        ),
    ],
)
def test_a_charger_between_two_batteries(
    more: str, wires: str, told: list[tuple[str, str, list[str], list[str]]]
) -> None:
    parts = CHARGER.replace("60 V", f"60 V{more}")
    found = study(parts, TWO + IN_OUT + wires)
    assert [each[:4] for each in open_ones(found)] == told


def test_a_charger_whose_own_way_back_is_a_lamp() -> None:
    """It drives the lamp round through itself; what it gives to the battery finds no way back."""
    wires = (
        LAMP + "shore-plus: from: shore.positive, to: house.positive\n"
        "shore-minus: from: shore.negative, to: lamp.negative\n"
        "back: from: lamp.negative, to: start.negative\n"
        "bar-back: from: house.negative, to: bar.negative\n"
    )
    found = study("chargers:\n  shore: {kind: shore, max_output_current: 9 A}\n", wires + PUMP)
    assert open_ones(found) == [("shore", "", ["house"], ["start"], "")]


SUN = """\
strings:
  roof: {module: hundred, series: 1, mounting: roof-gap}
controllers:
  sun: {kind: mppt, max_input_voltage: 60 V, max_output_current: 20 A, charge_voltage: 14.2 V,
        load_current: 10 A}
"""


@pytest.mark.parametrize(("to", "told"), [("house", []), ("start", ["lamp"]), ("sun.load", [])])
def test_a_lamp_on_the_load_terminals_of_a_controller(to: str, told: list[str]) -> None:
    """Fed by the battery through it, and led back there, to it, or to another battery."""
    wires = (
        "home: from: roof, to: sun.pv\ncharge: from: sun.battery, to: house\n"
        "lamp-plus: from: sun.load.positive, to: lamp.positive\n"
        f"lamp-minus: from: lamp.negative, to: {to}.negative\n"
    )
    found = open_ones(study(SUN, wires + PUMP))
    assert [name for name, *_ in found] == told
    assert all(feeding == ["house"] for _, _, feeding, _, _ in found)


def test_what_feeds_a_lamp_is_what_gives_to_its_net_and_not_what_takes() -> None:
    """Behind the one converter the lamp and the next; the lamp's way back ends at another bank."""
    made = "input_nominal: 12 V, output_nominal: 12 V, max_output_current: 9 A, isolated: true"
    parts = f"converters:\n  first: {{{made}}}\n  next: {{{made}}}\n"
    wires = (
        "in: from: house, to: first.input\n"
        "lamp-plus: from: first.output.positive, to: lamp.positive\n"
        "next-plus: from: lamp.positive, to: next.input.positive\n"
        "next-minus: from: next.input.negative, to: first.output.negative\n"
        "lamp-minus: from: lamp.negative, to: start.negative\n"
    )
    found = study(parts, wires + PUMP).wiring.not_closed
    feeding = {str(n.component.name): [str(f.name) for f in n.feeding] for n in found}
    assert feeding["lamp"] == ["first"]


@pytest.mark.parametrize("pole", ["positive", "negative"])
def test_a_wire_of_which_one_pole_alone_leads_back_is_no_loop(pole: str) -> None:
    wires = f"{TWO}loop: from: bar.{pole}, to: bar.{pole}\nrun: from: house, to: bar\n"
    found = study("", wires).wiring.wires
    assert found["loop"].is_loop
    assert not found["run"].is_loop
