"""Charge current read at a controller, against what its array can give."""

from __future__ import annotations

import pytest

from plans import array_plan, edited
from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, read, strings
from wattproof.testing import study_of

UNDER = "reading-charge-under-array"
OVER = "reading-over-the-sun"
MISSING = "reading-conditions-missing"
BATTERY = "at: tracker.battery, voltage: 13.6 V"
AT = f"at: tracker.battery, voltage: 13.6 V, {FULL_SUN}"


def test_what_is_expected_is_the_array_s_power_after_the_controller() -> None:
    """274 W of 300 W at 49 °C, 96 % of it, at 13.6 V: 19.3 A."""
    [reading] = study_of(read(f"{AT}, current: 18 A, stage: bulk")).readings.of_charging
    assert reading.given is not None
    assert reading.given.expected.number == pytest.approx(0.96 * 274 / 13.6, rel=0.02)


@pytest.mark.parametrize(
    ("more", "is_told"),
    [
        ("current: 18.5 A, stage: bulk", False),
        ("current: 16 A, stage: bulk", False),  # 83 %: dust, a label, a meter
        ("current: 12 A, stage: bulk", True),
        ("current: 12 A", True),
        ("power: 250 W, stage: bulk", False),
        ("power: 160 W, stage: bulk", True),
        ("current: 4 A, stage: absorption", False),
        ("current: 4 A, stage: equalise", False),
    ],
)
def test_only_in_bulk(more: str, is_told: bool) -> None:
    assert bool(found(read(f"{AT}, {more}"), UNDER)) is is_told


@pytest.mark.parametrize("share", [0.78, 0.82, 0.88])
@pytest.mark.parametrize("kind", ["mppt", "pwm"])
def test_a_charge_is_as_little_as_the_power_it_comes_of(share: float, kind: str) -> None:
    """The same loss is told on both sides of a controller or on neither."""
    plan = edited(("kind: mppt", f"kind: {kind}"), ("series: 3", "series: 1"))
    [charge] = study_of(read(f"{AT}, current: 1 A, stage: bulk", plan=plan)).readings.of_charging
    at_input = f"at: tracker.pv, voltage: 13.6 V, current: 1 A, {FULL_SUN}, stage: bulk"
    [array] = study_of(read(at_input, plan=plan)).readings.at_arrays
    assert charge.given is not None
    assert array.stands.power is not None
    amps = share * charge.given.expected.number
    watts = share * array.stands.power.given.number
    behind = read(f"{AT}, current: {amps:.4f} A, stage: bulk", plan=plan)
    before = read(
        at_input.replace("current: 1 A", f"current: {watts / 13.6:.4f} A"),
        plan=plan,
    )
    assert bool(found(behind, UNDER)) is (share < 0.8)
    assert bool(found(before, "reading-power-under-curve")) is (share < 0.8)


@pytest.mark.parametrize(("watts", "is_told"), [(230, False), (190, True)])
def test_a_power_alone_on_a_display_is_compared_too(watts: int, is_told: bool) -> None:
    """Some 274 W at 49 °C, 96 % of it; at what voltage hardly matters."""
    plan = read(f"at: tracker.battery, power: {watts} W, {FULL_SUN}, stage: bulk")
    findings = found(plan, UNDER)
    assert bool(findings) is is_told
    assert all("190 W, 7" in f.message and "W that its array" in f.message for f in findings)
    (note,) = found(read(f"at: tracker.battery, power: {watts} W, stage: bulk"), MISSING)
    assert "no irradiance and no temperature" in note.message
    assert not found(read(f"at: tracker.battery, power: {watts} W, stage: float"), MISSING)


def test_what_flows_into_a_battery_tells_nothing_of_the_array() -> None:
    (note,) = found(read(f"at: house, voltage: 13.4 V, current: 4 A, {FULL_SUN}"), MISSING)
    assert "what loads leave" in note.message
    assert not found(read("at: house, voltage: 13.4 V, current: 4 A"), MISSING)


def test_a_charge_without_heat_is_told_as_not_comparable() -> None:
    cold = FULL_SUN.replace(" back_temperature: 48 °C,", "")
    (note,) = found(read(f"{BATTERY}, current: 4 A, stage: bulk, {cold}"), MISSING)
    assert "tells no temperature" in note.message
    assert note.remedy == "write `back_temperature`"
    assert not found(read(f"{BATTERY}, current: 4 A, stage: bulk"), MISSING)


def test_another_stage_is_told_as_not_comparable() -> None:
    (note,) = found(read(f"{AT}, current: 4 A, stage: absorption"), MISSING)
    assert "the battery sets the current" in note.message


@pytest.mark.parametrize(
    ("more", "is_told"),
    [("current: 21 A", False), ("current: 30 A", True), ("power: 420 W", True)],
)
def test_more_than_the_sun_can_give(more: str, is_told: bool) -> None:
    assert bool(found(read(f"{AT}, {more}, stage: bulk"), OVER)) is is_told


@pytest.mark.parametrize("slip", ["current: 18 mA", "power: 0.245 W"])
def test_a_prefix_that_was_misread(slip: str) -> None:
    (finding,) = found(read(f"{AT}, {slip}, stage: bulk"), UNDER)
    assert "18 A would be right, so the unit was misread" in finding.message


@pytest.mark.parametrize(
    ("at_input", "at_battery", "more", "said"),
    [
        # 55 V at 4.0 A are 220 W: 13.7 to 16.2 A at 13.6 V.
        ("voltage: 55 V, current: 4.0 A", "current: 15.4 A", "", ""),
        ("voltage: 55 V, current: 4.0 A", "current: 14 A", "", ""),
        ("voltage: 55 V, current: 4.0 A", "current: 9 A", "", "the rest leaves before the clamp"),
        ("power: 220 W", "power: 120 W", "", "the rest leaves before the clamp"),
        ("voltage: 55 V, current: 4.0 A", "current: 18 A", "", "cannot give more than it takes"),
        # Whatever the stage, and what the load terminals give is not in the clamp.
        ("power: 220 W, stage: float", "current: 9 A", "", "the rest leaves"),
        ("power: 220 W", "current: 9 A", "load", ""),
        ("power: 12 W", "current: 0.5 A", "", ""),  # its own use is a share of so little
    ],
)
def test_both_sides_of_a_controller(at_input: str, at_battery: str, more: str, said: str) -> None:
    plan = edited()
    if more:
        plan += "  lamp-run: {from: tracker.load, to: lamp, cable: batt-8, length: 2 m}\n"
        plan += "loads:\n  lamp: {current: 5 A}\n"
    meter = "taken: noon, meter: {voltage: 0 %, current: 0 %, power: 0 %, zero: 0 A}"
    text = read(
        f"at: tracker.pv, {at_input}, {meter}",
        f"at: tracker.battery, voltage: 13.6 V, {at_battery}, {meter}",
        plan=plan,
    )
    findings = found(text, UNDER)
    assert [said in f.message for f in findings] == ([True] if said else [])
    assert not found(text.replace("taken: noon", "taken: unknown"), UNDER)


def test_a_stage_of_rest_is_not_lamented_where_no_sun_is_told() -> None:
    """Who reads the voltage in absorption does not ask what the array gives."""
    assert not found(
        read("at: tracker.battery, voltage: 14.2 V, current: 4 A, stage: absorption"), MISSING
    )


def test_what_other_inputs_bring_is_not_held_against_one() -> None:
    """A controller of two solar inputs of which one was read, and one with an alternator beside."""
    read_so = (
        "at: tracker.pv, power: 120 W, taken: noon",
        f"{BATTERY}, current: 18 A, taken: noon",
    )
    vehicle = edited(("kind: mppt", "kind: vehicle-charger"))
    assert found(read(*read_so, plan=edited()), UNDER)
    assert not found(read(*read_so, plan=vehicle), UNDER)
    two = array_plan(
        "  left: {module: rigid-100, series: 3, mounting: roof-gap}\n"
        "  right: {module: rigid-100, series: 3, mounting: roof-gap}\n",
        "  left-run: {from: left, to: tracker.pv-1, cable: pv-10, length: 4 m}\n"
        "  right-run: {from: right, to: tracker.pv-2, cable: pv-10, length: 4 m}\n",
    ).replace(
        "max_input_voltage: 100 V,",
        "inputs: {pv-1: {max_input_voltage: 100 V}, pv-2: {max_input_voltage: 100 V}},",
    )
    one_of_two = (read_so[0].replace("tracker.pv", "tracker.pv-1"), read_so[1])
    assert not found(read(*one_of_two, plan=two), UNDER)


@pytest.mark.parametrize(
    ("volts", "rule"), [("13.6 V", UNDER), ("14.2 V", MISSING), ("14.15 V", MISSING)]
)
def test_at_the_voltage_that_is_set_the_battery_takes_no_more(volts: str, rule: str) -> None:
    """Whatever stage was written: at its 14.2 V the controller leaves bulk charging."""
    text = f"at: tracker.battery, voltage: {volts}, current: 0.4 A, {FULL_SUN}, stage: bulk"
    assert [r for r in (UNDER, MISSING) if found(read(text), r)] == [rule]


def test_as_much_as_the_array_gives_is_no_reading_that_tells_nothing() -> None:
    text = f"at: tracker.battery, voltage: 14.2 V, current: 18 A, {FULL_SUN}, stage: bulk"
    assert not found(read(text), UNDER)
    assert not found(read(text), MISSING)


@pytest.mark.parametrize(("count", "is_told"), [(2, True), (1, False)])
def test_half_a_charge_is_one_of_two_strings(count: int, is_told: bool) -> None:
    wide = strings(count).replace("max_output_current: 20 A", "max_output_current: 60 A")
    one = f"at: tracker.battery, voltage: 13.4 V, current: 1 A, stage: bulk, {FULL_SUN}"
    given = study_of(read(one, plan=wide)).readings.of_charging[0].given
    assert given is not None
    half = one.replace("current: 1 A", f"current: {given.expected.number / 2:.2f} A")
    (finding,) = found(read(half, plan=wide), UNDER)
    assert ("as where 1 of 2 strings gives nothing" in finding.message) is is_told
    assert ("current of each string" in finding.remedy) is is_told
