"""Components that a plan declares, and that nothing in it uses."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import all_found, found

UNUSED = "component-unused"


def test_a_part_that_nothing_uses_leaves_the_rest_of_the_plan_checked() -> None:
    plan = edited(("fuses:\n", "loads:\n  lamp: {current: 2 A}\nfuses:\n  spare: {rating: 10 A}\n"))
    spare, lamp = found(plan, UNUSED)
    assert {spare.subjects, lamp.subjects} == {("spare",), ("lamp",)}
    levels = {f.subjects[0]: f.level for f in (spare, lamp)}
    assert levels == {"spare": "warning", "lamp": "note"}
    assert (spare.hazard, lamp.hazard) == ("fire", "lost-energy")
    assert set(all_found(edited())) <= set(all_found(plan))


def test_a_plan_of_parts_that_nothing_joins_is_not_found_sound() -> None:
    """Four in series at a controller of 75 V: no rule can see it before they are joined."""
    parts = """\
wattproof: 1
setting: vehicle
datasheets: {modules: {m: {voc: 24 V, isc: 6 A}}}
strings: {roof: {module: m, series: 4}}
controllers: {tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
"""
    findings = found(parts, UNUSED)
    assert [f.subjects[0] for f in findings] == ["roof", "tracker", "house"]
    assert {f.level for f in findings} == {"warning"}
    assert all("nothing tells whether it fits" in f.message for f in findings)
    joined = parts.replace("series: 4", "series: 4, feeds: tracker").replace(
        "15 A}", "15 A, feeds: house}"
    )
    assert not found(joined, UNUSED)
    assert "cold-voltage-over-controller" in all_found(joined)


def test_a_controller_past_which_the_array_is_led_leaves_that_found() -> None:
    """Its open end was told alone, and the array straight on the battery not at all."""
    plan = """\
wattproof: 1
setting: vehicle
datasheets: {modules: {m: {voc: 22 V, vmp: 18 V, isc: 6 A, imp: 5.6 A}}}
strings: {roof: {module: m}}
controllers: {regulator: {kind: pwm, max_input_voltage: 30 V, max_output_current: 10 A}}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
wires:
  roof-run: {from: roof, to: house}
  out: {from: regulator.battery, to: house}
"""
    [unused] = found(plan, UNUSED)
    assert (unused.level, unused.hazard, unused.subjects) == (
        "warning",
        "lost-energy",
        ("regulator",),
    )
    assert unused.message == (
        "no wire leads to `regulator.pv`, so that nothing tells whether it fits"
    )
    assert all_found(plan)["charge-controller-missing"] == "error"


def test_one_of_several_solar_inputs_is_enough() -> None:
    plan = """\
wattproof: 1
setting: vehicle
datasheets: {modules: {m: {voc: 22 V, vmp: 18 V, isc: 6 A, imp: 5.6 A}}}
strings: {roof: {module: m}}
controllers:
  tracker: {kind: mppt, max_output_current: 20 A,
            inputs: {pv-1: {max_input_voltage: 75 V}, pv-2: {max_input_voltage: 75 V}}}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
wires:
  roof-run: {from: roof, to: tracker.pv-2}
  out: {from: tracker.battery, to: house}
"""
    assert not found(plan, UNUSED)


@pytest.mark.parametrize("at", ["input", "input.positive"])
def test_an_isolator_that_nothing_is_led_into_charges_nothing(at: str) -> None:
    """An alternator on one of its outputs left the other battery uncharged, with no word of it."""
    plan = """\
wattproof: 1
setting: boat
chargers: {alternator: {kind: alternator, max_output_current: 80 A}}
diode_isolators: {splitter: {rating: 100 A, outputs: [start, house]}}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah}
wires:
  charge: {from: alternator, to: splitter.house}
  start-run: {from: splitter.start, to: start}
  house-run: {from: splitter.house, to: house}
"""
    [unused] = found(plan, UNUSED)
    assert (unused.level, unused.subjects) == ("warning", ("splitter",))
    assert unused.message == (
        "no wire leads to `splitter.input`: nothing is charged through `splitter`"
    )
    led = plan.replace("to: splitter.house}\n  start", f"to: splitter.{at}}}\n  start")
    if at == "input.positive":
        led = led.replace("from: alternator,", "from: alternator.positive,")
        led += "  back: {from: alternator.negative, to: start.negative}\n"
    assert not found(led, UNUSED)
