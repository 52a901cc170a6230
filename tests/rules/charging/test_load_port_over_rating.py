"""What hangs on the load terminals of a controller against their rating."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound
from wattproof.testing import check_text

INVERTER = "inverter-on-load-terminals"
PORT = "load-port-over-rating"


def test_it_is_not_counted_among_the_loads() -> None:
    assert not found(faulty(INVERTER), PORT)


@pytest.mark.parametrize(("rating", "expected"), [("10 A", []), ("9.9 A", ["error"])])
def test_loads_against_the_terminals(rating: str, expected: list[str]) -> None:
    plan = edited(("load_current: 15 A", f"load_current: {rating}"), plan=sound(PORT))
    assert levels(plan, PORT) == expected


def test_loads_numbers_and_both_remedies_hold() -> None:
    [finding] = found(faulty(PORT), PORT)
    assert finding.message == (
        "the loads on `tracker` draw 10 A together (`lights` 3 A, `pump` 7 A); its load "
        "terminals are rated 8 A"
    )
    assert finding.margin == pytest.approx(-0.25)
    assert "wire `pump` to the battery" in finding.remedy
    assert "at least 10 A" in finding.remedy
    moved = edited(("pump-run: {from: tracker.load", "pump-run: {from: house"), plan=faulty(PORT))
    assert not found(moved, PORT)


def test_without_a_rating_nothing_is_said() -> None:
    assert not found(edited(("load_current: 15 A,", "boost: false,"), plan=sound(PORT)), PORT)


@pytest.mark.parametrize(("rating", "expected"), [("8.7 A", ["warning"]), ("8.5 A", ["error"])])
def test_power_at_low_voltage_is_assumed(rating: str, expected: list[str]) -> None:
    """3 A + 70 W / 12 V = 8.83 A; of a full battery of 12.5 V it would be 8.6 A."""
    plan = edited(
        ("pump: {current: 7 A", "pump: {power: 70 W"),
        ("load_current: 15 A", f"load_current: {rating}"),
        plan=sound(PORT),
    )
    assert levels(plan, PORT) == expected


@pytest.mark.parametrize(
    ("output", "level", "asked"),
    [
        ("4.9 A", "warning", False),  # over twice its output: hardly any is rated so
        ("9.9 A", None, True),
        ("19.9 A", None, True),  # at half its output
        ("20 A", None, False),
    ],
)
def test_load_terminals_that_nobody_tells(output: str, level: str | None, asked: bool) -> None:
    """10 A on them are judged by what the controller gives, and asked for."""
    plan = edited(
        ("load_current: 15 A,", ""),
        ("max_output_current: 30 A", f"max_output_current: {output}"),
        plan=sound(PORT),
    )
    result = check_text(plan)
    assert [f.level for f in result.each if f.rule == PORT] == ([level] if level else [])
    assert asked is any(d.rule == PORT for q in result.questions for d in q.decides)


def test_a_starter_on_load_terminals() -> None:
    """Hundreds of amperes: whether a rating is told or not, and with no other load beside it."""
    alone = """
wattproof: 1
setting: boat
datasheets: {modules: {small: {pmax: 50 W}}, cables: {thick: {size: 2 AWG}}}
strings: {panel: {module: small, feeds: regulator}}
controllers: {regulator: {kind: pwm, feeds: battery}}
batteries: {battery: {chemistry: flooded, nominal: 12 V}}
starters: {crank: {nominal: 12 V, current: 180 A}}
wires: {crank-lead: {from: regulator.load, to: crank, cable: thick, length: 1 m, enclosed: true}}
"""
    [finding] = found(alone, PORT)
    assert finding.level == "error"
    assert finding.message == (
        "`crank` draws 180 A from the load terminals of `regulator`, and no starter belongs there"
    )
    assert not found(edited(("from: regulator.load", "from: battery"), plan=alone), PORT)


@pytest.mark.parametrize(
    ("amps", "rating", "asks"),
    [("11 A", "", True), ("11 A", ", load_current: 15 A", False), ("10 A", "", False)],
)
def test_the_outlet_of_a_box_of_which_no_rating_is_told(amps: str, rating: str, asks: bool) -> None:
    text = f"""
wattproof: 1
setting: portable
datasheets:
  modules: {{m: {{pmax: 100 W, voc: 22 V, vmp: 18.4 V, isc: 5.8 A, imp: 5.4 A}}}}
strings: {{lawn: {{module: m, series: 1, portable: true}}}}
power_boxes: {{box: {{max_input_voltage: 60 V, nominal: 12 V{rating}}}}}
loads: {{fridge: {{current: {amps}, nominal: 12 V}}}}
wires:
  in: {{from: lawn, to: box.pv, length: 3 m}}
  out: {{from: box.load, to: fridge, length: 2 m}}
"""
    result = check_text(text)
    assert PORT not in {f.rule for f in result.each}
    assert asks is any(d.rule == PORT for q in result.questions for d in q.decides)
