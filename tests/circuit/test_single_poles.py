"""Plans in which each pole is drawn for itself, and named at the battery alone."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.circuit import Circuit, Conductor, Passage, build_circuit
from wattproof.plan import load_plan
from wattproof.testing import check_text

DRAWN_BY_POLES = (
    (
        "  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, "
        "place: cabin,\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n",
        "  out: {from: house.positive, to: charge-fuse, cable: batt-8, length: 10 cm}\n"
        "  on: {from: charge-fuse, to: main, cable: batt-8, length: 20 cm}\n"
        "  up: {from: main, to: plus, cable: batt-8, length: 20 cm}\n"
        "  charge: {from: tracker.battery.positive, to: plus, cable: batt-8, length: 1 m}\n"
        "  back: {from: minus, to: tracker.battery.negative, cable: batt-8, length: 1 m}\n"
        "  home: {from: minus, to: house.negative, cable: batt-8, length: 50 cm}\n",
    ),
    (
        "wires:\n",
        "switches:\n  main: {rating: 60 A, voltage: 48 V, dc: true}\n"
        "busbars:\n  plus: {rating: 100 A}\n  minus: {rating: 100 A}\nwires:\n",
    ),
)


def circuit(*edits: tuple[str, str]) -> Circuit:
    return build_circuit(load_plan("plan.yaml", text=edited(*DRAWN_BY_POLES, *edits)))


def poles(drawn: Circuit) -> dict[str, set[str]]:
    """The poles of the conductors of each wire."""
    found: dict[str, set[str]] = {}
    for element in drawn.elements:
        if isinstance(element, Conductor):
            found.setdefault(str(element.wire.name), set()).add(element.pole)
    return found


def test_between_devices_and_bars_the_pole_is_that_which_leads_somewhere() -> None:
    drawn = poles(circuit())
    assert drawn.pop("home-run") == {"positive", "negative"}
    assert drawn.pop("back") == drawn.pop("home") == {"negative"}
    assert drawn == {name: {"positive"} for name in ("out", "on", "up", "charge")}


def test_a_pair_between_bars_of_both_poles_stays_one() -> None:
    more = (
        ("to: plus", "to: bar"),
        ("from: minus", "from: bar"),
        ("plus: {rating: 100 A}\n  minus: {", "bar: {rating: 100 A}\n  far: {"),
    )
    lamp = (
        "wires:\n",
        "loads:\n  lamp: {current: 2 A}\nwires:\n"
        "  pair: {from: bar, to: far, cable: batt-8, length: 1 m}\n"
        "  lamp-run: {from: far, to: lamp, cable: batt-8, length: 1 m}\n",
    )
    text = edited(*DRAWN_BY_POLES)
    for old, new in (*more, lamp):
        text = text.replace(old, new)
    drawn = poles(build_circuit(load_plan("plan.yaml", text=text)))
    assert drawn["pair"] == {"positive", "negative"}
    assert drawn["up"] == {"positive"}


def test_a_switch_in_the_negative_breaks_the_negative() -> None:
    moved = (
        ("  on: {from: charge-fuse, to: main,", "  on: {from: charge-fuse, to: plus,"),
        ("  up: {from: main, to: plus,", "  up: {from: house.negative, to: main,"),
        ("  home: {from: minus, to: house.negative,", "  home: {from: main, to: minus,"),
    )
    drawn = circuit(*moved)
    passed = [e.pole for e in drawn.elements if isinstance(e, Passage) and e.device.name == "main"]
    assert "negative" in passed
    assert poles(drawn)["home"] == {"negative"}


LINK = """\
  lower: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V}
  house: {"""
ROW = (
    ("  house: {", LINK),
    ("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
    ("fuses:\n", "fuses:\n  link: {rating: 40 A, voltage: 58 V, style: bolt-down, "
     "interrupt: 10 kA, dc: true}\n"),
)  # fmt: skip


@pytest.mark.parametrize(
    "ends", [("to: link", "from: link", "to"), ("to: link", "to: link", "from")]
)
def test_a_fuse_in_the_link_of_a_row_joins_unlike_poles(ends: tuple[str, str, str]) -> None:
    near, far, other = ends
    linked = (
        "  home: {from: minus, to: house.negative, cable: batt-8, length: 50 cm}\n",
        f"  one: {{from: house.negative, {near}, cable: batt-8, length: 10 cm}}\n"
        f"  two: {{{other}: lower.positive, {far}, cable: batt-8, length: 10 cm}}\n"
        "  home: {from: minus, to: lower.negative, cable: batt-8, length: 50 cm}\n",
    )
    text = edited(*DRAWN_BY_POLES, *ROW, linked)
    rules = {finding.rule for finding in check_text(text).each}
    assert not rules & {"circuit-not-closed", "charge-voltage-wrong"}
    assert poles(build_circuit(load_plan("plan.yaml", text=text)))["one"] == {"negative"}
