"""What each bank carries alone while the relay, the tie or the selector between them is open.

Two banks of one kind and 12 V; 1200 W at 90 % are 121.2 A at 11 V.
"""

from __future__ import annotations

import pytest

from wattproof.testing import study_of

MADE = "voltage: 58 V, interrupt: 10 kA, style: stud-mounted, dc: true"
PLAN = f"""\
wattproof: 1
setting: boat
code: abyc-e11
site: {{coldest: -5 °C, hottest: 35 °C}}
datasheets:
  cables:
    lead: {{size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
            voltage: 600 V}}
batteries:
  start: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
  house: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
fuses:
  start-fuse: {{rating: 150 A, {MADE}}}
  house-fuse: {{rating: 150 A, {MADE}}}
inverters:
  mains: {{power: 1200 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}}
"""
LED = """\
busbars:
  plus: {rating: 300 A}
  minus: {rating: 300 A}
starters:
  engine: {current: 300 A}
wires:
  start-plus: {from: start.positive, to: engine.positive, cable: lead, length: 1 m}
  start-minus: {from: start.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  engine-minus: {from: engine.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  first: {from: start.positive, to: way, cable: lead, length: 1 m, inline: [start-fuse]}
  second: {from: way, to: plus, pole: positive, cable: lead, length: 1 m}
  house-plus: {from: house.positive, to: plus, cable: lead, length: 1 m, inline: [house-fuse]}
  house-minus: {from: house.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  mains-plus: {from: plus, to: mains.positive, pole: positive, cable: lead, length: 1 m}
  mains-minus: {from: minus, to: mains.negative, pole: negative, cable: lead, length: 1 m}
"""
SELECTED = """\
selectors:
  turn: {rating: 250 A, both: true}
wires:
  start-plus: {from: start.positive, to: turn.1, cable: lead, length: 1 m, inline: [start-fuse]}
  house-plus: {from: house.positive, to: turn.2, cable: lead, length: 1 m, inline: [house-fuse]}
  mains-plus: {from: turn.common, to: mains.positive, cable: lead, length: 1 m}
  start-minus: {from: start.negative, to: mains.negative, cable: lead, length: 1 m}
  house-minus: {from: house.negative, to: mains.negative, cable: lead, length: 1 m}
"""
SWITCH = "switches:\n  way: {{rating: 140 A, dc: true{}}}\n"
WHOLE = 1200.0 / 0.9 / 11.0


def lasting(text: str, wire: str) -> float:
    current = study_of(PLAN + text).wiring.wires[wire].current
    assert current is not None
    return current.number


@pytest.mark.parametrize("told", [", closes_above: 13.3 V, opens_below: 12.8 V", ""])
def test_a_relay_or_a_tie_that_is_open_leaves_all_to_one_bank(told: str) -> None:
    """Joined, the start battery would bear nearly half of it."""
    assert lasting(LED + SWITCH.format(told), "house-plus") == pytest.approx(WHOLE, rel=0.01)
    assert 0.3 * WHOLE < lasting(LED + SWITCH.format(told), "second") < 0.6 * WHOLE


def test_a_switch_with_no_other_bank_behind_it_is_not_opened() -> None:
    """A main switch before the house battery: open, nothing would flow at all."""
    led = LED.replace("inline: [house-fuse]", "inline: [house-fuse, off]").splitlines(True)
    main = "".join(line for line in led if not line.startswith(("  first:", "  second:")))
    text = f"switches:\n  off: {{rating: 200 A, dc: true}}\n{main}"
    assert lasting(text, "house-plus") == pytest.approx(WHOLE, rel=0.01)


@pytest.mark.parametrize("wire", ["start-plus", "house-plus"])
def test_a_selector_stands_on_either_bank(wire: str) -> None:
    assert lasting(SELECTED, wire) == pytest.approx(WHOLE, rel=0.01)


def test_a_relay_carries_all_that_charges_where_the_tie_beside_it_is_open() -> None:
    """The start battery is full, and 100 A of the alternator go to the house bank alone."""
    beside = (
        "  tie-first: {from: start.positive, to: tie, cable: lead, length: 1 m}\n"
        "  tie-second: {from: tie, to: plus, pole: positive, cable: lead, length: 1 m}\n"
        "  alt-plus: {from: alternator, to: start, pole: positive, cable: lead, length: 1 m}\n"
        "  alt-minus: {from: alternator, to: start, pole: negative, cable: lead, length: 1 m}\n"
    )
    charger = "chargers:\n  alternator: {kind: alternator, max_output_current: 100 A}\n"
    relay = SWITCH.format(", closes_above: 13.3 V, opens_below: 12.8 V")
    text = f"{charger}{relay}  tie: {{rating: 200 A, dc: true}}\n{LED}{beside}"
    current = study_of(PLAN + text).wiring.devices["way"].current
    assert current is not None
    assert current.number == pytest.approx(100.0, rel=0.01)
