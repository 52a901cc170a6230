"""Current and power read in operation, against the most that the sun can give."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, first, read, strings

OVER = "reading-over-the-sun"


@pytest.mark.parametrize(
    ("reading", "is_told"),
    [
        (f"at: roof-string, current: 5.2 A, {FULL_SUN}", False),
        (f"at: roof-string, current: 5.4 A, {FULL_SUN}", False),  # within 5 % of the label
        (f"at: roof-string, current: 5.6 A, {FULL_SUN}", True),
        (f"at: roof-string, current: -9 A, {FULL_SUN}", False),  # reversed, told as such
        ("at: roof-string, current: 6.8 A, meter: {current: 0 %, zero: 0 A}", False),
        ("at: roof-string, current: 7.0 A, meter: {current: 0 %, zero: 0 A}", True),
        (
            "at: roof-string, current: 9 A",
            True,
        ),  # no sun, no meter: over the brightest all the same
        (f"at: tracker.pv, current: 9 A, voltage: 50 V, {FULL_SUN}", True),
    ],
)
def test_a_current_over_the_short_circuit_of_the_curve(reading: str, is_told: bool) -> None:
    assert bool(found(read(reading), OVER)) is is_told


def test_both_strings_of_an_array(  # each 5.2 A shorted
) -> None:
    both = [f"at: string-{n}, current: 9 A, {FULL_SUN}" for n in (1, 2)]
    told = found(read(*both, plan=strings(2)), OVER)
    assert len([single for finding in told for single in finding.each]) == 2


@pytest.mark.parametrize(
    ("amps", "said"),
    [("9.8 A", "as with 2 of it in parallel"), ("15 A", "as with 3 of it in parallel")],
)
def test_several_in_the_clamp(amps: str, said: str) -> None:
    (finding,) = found(read(f"at: roof-string, current: {amps}, {FULL_SUN}"), OVER)
    assert said in finding.message


def test_a_sun_that_was_written_too_weak_is_told_with_the_one_that_would_do() -> None:
    """4.1 A of 5.2 A shorted at 1000 W/m² are some 790 W/m², at the voltage of the array."""
    dull = FULL_SUN.replace("1000 W/m²", "350 W/m²")
    (finding,) = found(read(f"at: tracker.pv, voltage: 55 V, current: 4.1 A, {dull}"), OVER)
    assert "790 W/m² would give it" in finding.message
    assert finding.remedy.startswith("read the irradiance again")


def test_the_battery_side_of_the_controller() -> None:
    """Some 270 W at 49 °C into 14.2 V are 19 A."""
    reading = f"at: tracker.pv, voltage: 53 V, current: 19 A, {FULL_SUN}"
    (finding,) = found(read(reading), OVER)
    assert "as on the battery side of `tracker`" in finding.message
    assert "tracker.battery" in finding.remedy


def test_power_over_the_top_of_the_curve() -> None:
    """5.4 A may be, and 66 V may be, but not both: three modules of 100 W give 272 W at 49 °C."""
    reading = f"at: tracker.pv, voltage: 64 V, current: 5.3 A, {FULL_SUN}"
    (finding,) = found(read(reading), OVER)
    assert "339" in finding.message
    most = first(read(reading)).expected.most_power
    assert most is not None
    assert 270 < most.number < 315


def test_weak_sun_says_nothing() -> None:
    assert not found(read("at: roof-string, current: 1 A, irradiance: 150 W/m²"), OVER)


@pytest.mark.parametrize(
    ("told", "meant"),
    [
        ("0.905 W/m²", "905 W/m²"),
        ("90.5 W/m²", "905 W/m²"),  # mW/cm², as 4.7 of 5.2 A shorted tell
        ("50 W/m²", None),
    ],
)
def test_a_sun_in_another_unit_beside_a_current(told: str, meant: str | None) -> None:
    plan = read(f"at: roof-string, isc: 4.7 A, irradiance: {told}, back_temperature: 48 °C")
    (finding,) = found(plan, OVER)
    assert ("would be right, so the unit was misread" in finding.message) is (meant is not None)
    assert meant is None or f"{meant} would be right" in finding.message
    (charge,) = found(
        read(f"at: tracker.battery, voltage: 14 V, current: 17 A, irradiance: {told}"), OVER
    )
    assert ("905 W/m² would be right" in charge.message) is (told == "0.905 W/m²")


def test_what_is_over_the_sun_is_not_called_low_as_well() -> None:
    """Twice the current at half the voltage: the meter is wrong, and nothing is said of power."""
    beside = "stage: bulk, irradiance: 850 W/m², back_temperature: 48 °C"
    plan = read(f"at: tracker.pv, voltage: 10 V, current: 12 A, {beside}")
    assert found(plan, "reading-over-the-sun")
    assert not found(plan, "reading-power-under-curve")


@pytest.mark.parametrize(
    ("volts", "amps", "told"),
    [
        ("4.6 V", "58 A", True),  # three of 20.4 V less the heat of 48 °C, and 4.6 A
        ("4.6 V", "40 A", False),
        ("14.2 V", "58 A", False),  # at the battery, and more than three of them give
    ],
)
def test_voltage_and_current_in_each_others_place(volts: str, amps: str, told: bool) -> None:
    text = f"at: tracker.pv, voltage: {volts}, current: {amps}, {FULL_SUN}, stage: bulk"
    (finding,) = found(read(text), OVER)
    assert ("voltage and current in each other's place" in finding.message) is told


@pytest.mark.parametrize(
    ("volts", "amps", "is_told"),
    [
        # Three in series work at some 55 V and 4.8 A.
        ("18.4 V", "14.6 A", True),
        ("18.4 V", "9.6 A", False),
        ("27.6 V", "9.6 A", False),  # three are not two and two
    ],
)
def test_modules_side_by_side_that_are_planned_in_series(
    volts: str, amps: str, is_told: bool
) -> None:
    (finding,) = found(
        read(f"at: tracker.pv, voltage: {volts}, current: {amps}, {FULL_SUN}, stage: bulk"), OVER
    )
    assert ("as with 3 modules side by side" in finding.message) is is_told


def test_a_power_in_kilowatts_is_looked_up_on_the_display() -> None:
    (finding,) = found(read(f"at: tracker.pv, power: 240 kW, {FULL_SUN}, stage: bulk"), OVER)
    assert "240 W would be right" in finding.message
    assert finding.remedy.startswith("look at the unit")


@pytest.mark.parametrize(
    ("diodes", "is_told"),
    [("", False), (", bypass_diodes: 0", True), (", bypass_diodes: 1", False)],
)
def test_a_weaker_module_in_series_may_be_passed_by(diodes: str, is_told: bool) -> None:
    """At its battery's voltage the stronger gives its own current through the other's diode."""
    plan = edited(
        ("  cables:\n", "    small: {voc: 24 V, vmp: 20 V, isc: 3 A, imp: 2.8 A, pmax: 56 W"
         f"{diodes}}}\n  cables:\n"),
        ("{module: rigid-100, series: 3,", "{modules: [rigid-100, small],"),
        ("pmax: 100 W,", f"pmax: 100 W{diodes},"),
    )  # fmt: skip
    told = (
        "at: tracker.pv, voltage: 13.4 V, current: 4 A, irradiance: 850 W/m², "
        "back_temperature: 48 °C, meter: {current: 0 %, zero: 0 A, irradiance: 0 %}"
    )
    assert bool(found(read(told, plan=plan), OVER)) is is_told
