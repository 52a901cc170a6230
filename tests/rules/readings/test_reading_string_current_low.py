"""Current in operation read at a string, against what its curve gives there."""

from __future__ import annotations

import pytest

from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, first, read, strings

LOW = "reading-string-current-low"


def test_the_band_is_the_label_s_current_in_full_sun() -> None:
    """Imp of the label is 4.9 A; at 49 °C some per cent of it either way."""
    band = first(read(f"at: roof-string, current: 4.5 A, {FULL_SUN}")).expected.working_current
    assert band is not None
    assert band.expected.number == pytest.approx(4.9, rel=0.02)
    assert band.low.number < 4.9 * 0.96


@pytest.mark.parametrize(
    ("reading", "is_told"),
    [
        (f"at: roof-string, current: 4.7 A, stage: bulk, {FULL_SUN}", False),
        (f"at: roof-string, current: 4.2 A, stage: bulk, {FULL_SUN}", True),
        (f"at: roof-string, current: 4.2 A, {FULL_SUN}", True),
        (f"at: roof-string, current: 4.2 A, stage: absorption, {FULL_SUN}", False),
        (f"at: roof-string, current: 4.2 A, stage: equalise, {FULL_SUN}", False),
        (f"at: tracker.pv, current: 4.2 A, stage: bulk, {FULL_SUN}", False),  # power, with voltage
        ("at: roof-string, current: 4.2 A, irradiance: 1000 W/m², stage: bulk", False),  # no heat
    ],
)
def test_only_where_the_battery_may_have_taken_all(reading: str, is_told: bool) -> None:
    assert bool(found(read(reading), LOW)) is is_told


def test_a_battery_that_may_be_full_is_said() -> None:
    (finding,) = found(read(f"at: roof-string, current: 3 A, {FULL_SUN}"), LOW)
    assert "nearly full would explain it" in finding.message


@pytest.mark.parametrize(
    ("battery", "may_be_full"),
    [
        ('at: tracker.battery, voltage: 12.8 V, taken: "noon"', False),
        ('at: house, voltage: 12.8 V, taken: "noon"', False),
        ('at: tracker.battery, voltage: 13.6 V, posts_voltage: 12.8 V, taken: "noon"', False),
        ('at: tracker.battery, voltage: 13.3 V, taken: "noon"', True),
        ('at: tracker.battery, voltage: 12.8 V, taken: "evening"', True),
        ('at: tracker.battery, voltage: 0 V, taken: "noon"', True),  # it is not joined
    ],
)
def test_a_voltage_read_with_it_tells_whether_it_may_be_full(
    battery: str, may_be_full: bool
) -> None:
    plan = read(f'at: roof-string, current: 3 A, taken: "noon", {FULL_SUN}', battery)
    (finding,) = found(plan, LOW)
    assert ("nearly full would explain it" in finding.message) is may_be_full


def test_the_controller_s_limit_is_no_fault_of_a_string() -> None:
    """Two strings of 300 W at a controller of 20 A, which is some 280 W: each is held back."""
    plan = strings(2)
    reading = f"at: string-1, current: 2.4 A, stage: bulk, {FULL_SUN}"
    assert not found(read(reading, plan=plan), LOW)


def test_milliamperes_that_were_amperes() -> None:
    plan = read(f"at: roof-string, current: 4.8 mA, {FULL_SUN}, stage: bulk")
    (finding,) = found(plan, LOW)
    assert "; 4.8 A would be right, so the unit or the range was misread" in finding.message


@pytest.mark.parametrize(
    ("amps", "said"),
    [("9.6 A", "as where 1 of 3 strings gives nothing"), ("11.4 A", "less than likely")],
)
def test_strings_of_a_joint_that_give_nothing_are_counted(amps: str, said: str) -> None:
    """Three of some 4.8 A each; a fifth less of all of them is light."""
    text = f"at: roof-joint, voltage: 55.5 V, current: {amps}, {FULL_SUN}, stage: bulk"
    plan = strings(3).replace("max_output_current: 20 A", "max_output_current: 100 A")
    (finding,) = found(read(text, plan=plan), LOW)
    assert finding.message.endswith(said)
