"""What each bank carries alone while the relay, the tie or the selector between them is open.

Two banks of one kind and 12 V; 1200 W at 90 % are 121.2 A at 11 V.
"""

from __future__ import annotations

import pytest

from rule_runs import found
from wattproof.testing import study_of
from wattproof.working import Value

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


def current(text: str, wire: str) -> Value:
    current = study_of(PLAN + text).wiring.wires[wire].current
    assert current is not None
    return current


def lasting(text: str, wire: str) -> float:
    return current(text, wire).number


@pytest.mark.parametrize("told", [", closes_above: 13.3 V, opens_below: 12.8 V", ""])
def test_a_relay_or_a_tie_that_is_open_leaves_all_to_one_bank(told: str) -> None:
    """Joined, the start battery would bear nearly half of it."""
    assert lasting(LED + SWITCH.format(told), "house-plus") == pytest.approx(WHOLE, rel=0.01)
    assert 0.3 * WHOLE < lasting(LED + SWITCH.format(told), "second") < 0.6 * WHOLE


@pytest.mark.parametrize(
    ("text", "wire", "how"),
    [
        (LED + SWITCH.format(""), "house-plus", " with way open"),
        (LED + SWITCH.format(""), "mains-plus", ""),
        (SELECTED, "house-plus", " with turn turned to 2"),
        (SELECTED, "mains-plus", ""),
    ],
)
def test_a_current_tells_how_switches_stand_where_it_is_the_largest(
    text: str, wire: str, how: str
) -> None:
    assert current(text, wire).words == f"lasting current in {wire}{how}"


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


RELAY = SWITCH.format(", closes_above: 13.3 V, opens_below: 12.8 V")
SHORE = """\
chargers:
  shore: {{kind: shore, max_output_current: {}, charge_voltage: 14.4 V}}
"""
SHORE_LED = """\
  shore-plus: {from: plus, to: shore.positive, pole: positive, cable: lead, length: 1 m}
  shore-minus: {from: minus, to: shore.negative, pole: negative, cable: lead, length: 1 m}
"""
JOINED = "".join(
    line for line in LED.replace("to: way", "to: plus").splitlines(True) if "  second:" not in line
)
WORDS = "with `way` open"


@pytest.mark.parametrize("switch", [RELAY, SWITCH.format("")])
@pytest.mark.parametrize(("amps", "told"), [("122 A", 0), ("121 A", 1)])
def test_a_bank_gives_all_that_is_drawn_while_the_other_is_parted(
    switch: str, amps: str, told: int
) -> None:
    """Of 121.2 A; together the two may give 0.8 × 2 × 121 A. The main switch stays closed."""
    led = LED.replace("inline: [house-fuse]", "inline: [house-fuse, main]")
    text = PLAN.replace("capacity: 100 Ah}", f"capacity: 100 Ah, max_discharge_current: {amps}}}")
    text += SHORE.format("10 A") + led + SHORE_LED + switch + "  main: {rating: 200 A, dc: true}\n"
    findings = found(text, "load-over-battery-discharge")
    assert len(findings) == told
    for finding in findings:
        assert finding.subjects[0] == "house"
        assert WORDS in finding.message


@pytest.mark.parametrize(("amps", "told"), [("50 A", 0), ("51 A", 1)])
def test_a_bank_takes_all_that_charges_while_the_relay_is_open(amps: str, told: int) -> None:
    """Of 50 A that it may get; its share beside the other would be half of it."""
    text = PLAN.replace("capacity: 100 Ah}", "capacity: 100 Ah, max_charge_current: 50 A}")
    findings = found(
        text + SHORE.format(amps) + LED + SHORE_LED + RELAY, "charge-current-over-battery"
    )
    assert len(findings) == told
    for finding in findings:
        assert f"`house` gets {amps} {WORDS} when all" in finding.message


def test_what_a_bank_gives_without_sun_is_its_own() -> None:
    """The relay is open then: 100 Ah of the two that hang beside each other."""
    use = "energy:\n  uses: {mains: {energy: 300 Wh}}\n"
    [parted] = study_of(PLAN + LED + RELAY + use).energy.balances
    assert [bank.name for bank in parted.serving] == ["house"]
    [joined] = study_of(PLAN + JOINED + use).energy.balances
    assert joined.usable.number == pytest.approx(2.0 * parted.usable.number)


def test_lead_at_rest_is_drawn_from_on_its_own_side() -> None:
    """121 A from 100 Ah with the relay open, from 200 Ah without one."""
    for text, banks in ((LED + RELAY, {"house"}), (JOINED, {"start", "house"})):
        [finding] = found(PLAN + text, "lead-drawn-too-hard")
        assert banks == {"start", "house"}.intersection(finding.subjects)
