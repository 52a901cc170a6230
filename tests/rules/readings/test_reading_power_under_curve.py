"""Power read at a solar input against what the curve gives the controller."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import first, read, strings

POWER = "reading-power-under-curve"
MISSING = "reading-conditions-missing"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"
NOON = f"irradiance: 1000 W/m², back_temperature: 48 °C, {EXACT}"


def noon(share: float, more: str = "", plan: str | None = None, volts: float = 55.0) -> str:
    """A reading of a share of the power that is expected, at some voltage."""
    given = first(
        read(f"at: tracker.pv, voltage: 55 V, current: 4 A, {NOON}", plan=plan)
    ).stands.power
    assert given is not None
    amps = share * given.given.number / volts
    return read(
        f"at: tracker.pv, voltage: {volts:g} V, current: {amps:.4f} A, {NOON}{more}", plan=plan
    )


def test_power_that_is_expected_by_hand() -> None:
    """Three modules of 100 W at 49 °C by their coefficient, less a little in the wire."""
    power = first(noon(1.0)).stands.power
    assert power is not None
    assert power.given.number == pytest.approx(3 * 100 * (1 - 0.0036 * 24), rel=0.02)


@pytest.mark.parametrize(("share", "is_told"), [(0.79, True), (0.81, False), (1.0, False)])
def test_power_under_four_fifths(share: float, is_told: bool) -> None:
    assert bool(found(noon(share, ", stage: bulk"), POWER)) is is_told


@pytest.mark.parametrize("stage", ["absorption", "float"])
def test_a_full_battery_is_no_fault(stage: str) -> None:
    assert not found(noon(0.3, f", stage: {stage}"), POWER)
    (finding,) = found(noon(0.3, f", stage: {stage}"), MISSING)
    assert f"was read in {stage}, where the battery sets the current" in finding.message


def test_without_the_stage_the_full_battery_is_named_first() -> None:
    (finding,) = found(noon(0.5), POWER)
    assert "nearly full" in finding.message
    assert "stage: bulk" in finding.remedy
    assert finding.level == "note"


def test_a_battery_that_is_not_full_at_that_moment_explains_nothing() -> None:
    reading = f"at: tracker.pv, voltage: 67.0 V, current: 0.0 A, {NOON}, taken: noon"
    (finding,) = found(read(reading, "at: tracker.battery, voltage: 12.6 V, taken: noon"), POWER)
    assert (finding.level, "nearly full" in finding.message) == ("warning", False)
    assert "the voltage is there" in finding.message


def test_a_controller_at_its_rated_output_is_no_fault() -> None:
    """10 A at 14.2 V are 142 W of about 270 W."""
    small = edited(("max_output_current: 20 A", "max_output_current: 10 A"))
    plan = read(f"at: tracker.pv, voltage: 62 V, current: 2.28 A, {NOON}, stage: bulk", plan=small)
    assert not found(plan, POWER)
    assert found(plan.replace("max_output_current: 10 A", "max_output_current: 20 A"), POWER)


@pytest.mark.parametrize(
    ("volts", "said"),
    [(65.0, "took less than there was"), (55.0, "light is missing"), (38.0, "passed by")],
)
def test_the_voltage_tells_what_kind_of_power_is_missing(volts: float, said: str) -> None:
    (finding,) = found(noon(0.6, ", stage: bulk", volts=volts), POWER)
    assert said in finding.message


def test_a_pulse_width_controller_is_judged_at_the_voltage_that_was_read() -> None:
    """It ties one module to the battery: about 5 A at any battery voltage."""
    tied = edited(("kind: mppt", "kind: pwm"), ("series: 3", "series: 1"))
    for volts in (12.6, 14.2):
        plan = read(
            f"at: tracker.pv, voltage: {volts} V, current: 5.1 A, {NOON}, stage: bulk", plan=tied
        )
        assert not found(plan, POWER)
        assert found(plan.replace("current: 5.1 A", "current: 3.6 A"), POWER)


@pytest.mark.parametrize("left_out", ["irradiance: 1000 W/m², ", "back_temperature: 48 °C, "])
def test_power_without_sun_or_heat_is_undecided(left_out: str) -> None:
    plan = noon(0.3, ", stage: bulk").replace(left_out, "")
    assert not found(plan, POWER)
    assert any("how much there was to take" in f.message for f in found(plan, MISSING))


@pytest.mark.parametrize(
    ("text", "level", "said"),
    [
        # Three modules of 24.3 V at 49 °C: 67.8 V open.
        ("voltage: 0.0 V, current: 0.0 A, stage: bulk", "warning", "the way is open or shorted"),
        ("voltage: 5.9 V, current: 0.0 A", "warning", "the way is open or shorted"),
        ("voltage: 67.0 V, current: 0.0 A, stage: bulk", "warning", "the voltage is there"),
        ("voltage: 67.0 V, current: 0.0 A", "note", "nearly full"),
        ("voltage: 67.0 V, current: 0.5 A, stage: bulk", "note", "took less than there was"),
        ("power: 0.0 W, stage: bulk", "warning", "should take at 1000 W/m²"),
    ],
)
def test_no_power_at_all(text: str, level: str, said: str) -> None:
    (finding,) = found(read(f"at: tracker.pv, {text}, {NOON}"), POWER)
    assert finding.level == level
    assert said in finding.message


def test_watts_that_were_kilowatts() -> None:
    """A display that showed 0.24 kW, written as watts."""
    (finding,) = found(read(f"at: tracker.pv, power: 0.24 W, {NOON}, stage: bulk"), POWER)
    assert finding.message.endswith("; 240 W would be right, so the unit was misread")


@pytest.mark.parametrize(
    ("volts", "amps", "meant"), [("55 V", "4.2 mA", "4.2 A"), ("55 mV", "4.2 A", "55 V")]
)
def test_a_prefix_that_was_misread(volts: str, amps: str, meant: str) -> None:
    plan = read(f"at: tracker.pv, voltage: {volts}, current: {amps}, {NOON}, stage: bulk")
    (finding,) = found(plan, POWER)
    assert finding.message.endswith(f"; {meant} would be right, so the unit was misread")


@pytest.mark.parametrize(
    ("volts", "amps", "said"),
    [
        ("21.5 V", "0.0 A", "the voltage is there"),  # far over 14.2 V: nothing is let through
        ("13.4 V", "0.0 A", "nothing but a current does"),  # a module in the sun that is joined
        ("13.4 V", "4.8 A", None),
    ],
)
def test_a_pulse_width_controller_that_lets_nothing_through(
    volts: str, amps: str, said: str | None
) -> None:
    """It holds the array at its battery; where it shows far more, that is no battery's voltage."""
    tied = edited(("kind: mppt", "kind: pwm"), ("series: 3", "series: 1"))
    text = f"at: tracker.pv, voltage: {volts}, current: {amps}, {NOON}, stage: bulk"
    findings = found(read(text, plan=tied), POWER)
    assert [said in f.message for f in findings if said] == ([True] if said else [])
    assert bool(findings) is bool(said)


@pytest.mark.parametrize(
    ("volts", "amps", "more", "said"),
    [
        # Three modules of 20.4 V work at some 55 V, and stand at 66 V with nothing connected.
        ("55.0 V", "0.0 A", "", "nothing but a current does"),
        ("66.0 V", "0.0 A", "", "something does not let the current through"),
        ("55.0 V", "0.0 A", ", power: 260 W", "its display showed 260 W"),
        ("55.0 V", "2.5 A", ", power: 260 W", "its display showed 260 W"),
        ("55.0 V", "2.5 A", ", power: 137 W", "so light is missing"),
    ],
)
def test_what_the_meter_cannot_have_seen(volts: str, amps: str, more: str, said: str) -> None:
    plan = read(f"at: tracker.pv, voltage: {volts}, current: {amps}{more}, {NOON}, stage: bulk")
    (finding,) = found(plan, POWER)
    assert said in finding.message


@pytest.mark.parametrize(
    ("count", "amps", "said"),
    [
        (3, "9.6 A", "as where 1 of 3 strings gives nothing, or light is missing"),
        (3, "4.8 A", "as where 2 of 3 strings give nothing, or light is missing"),
        (3, "11.4 A", "low, so light is missing, or a string"),  # some 14.4 A of three
        (1, "2.9 A", "low, so light is missing"),
    ],
)
def test_strings_that_give_nothing_are_counted(count: int, amps: str, said: str) -> None:
    text = f"at: tracker.pv, voltage: 55.5 V, current: {amps}, {NOON}, stage: bulk"
    plan = (
        strings(count).replace("max_output_current: 20 A", "max_output_current: 100 A")
        if count > 1
        else edited()
    )
    (finding,) = found(read(text, plan=plan), POWER)
    assert finding.message.endswith(said)


@pytest.mark.parametrize(("watts", "is_nothing"), [(20, True), (120, False)])
def test_hardly_any_power_on_a_display_is_no_dust(watts: int, is_nothing: bool) -> None:
    (finding,) = found(read(f"at: tracker.pv, power: {watts} W, {NOON}, stage: bulk"), POWER)
    assert ("the way is open" in finding.message) is is_nothing
    assert ("glass" in finding.remedy) is not is_nothing


@pytest.mark.parametrize(("volts", "level"), [(18.2, None), (13.6, "warning")])
def test_a_pulse_width_controller_above_its_battery_lets_the_array_go(
    volts: float, level: str | None
) -> None:
    """One module of 24 V open circuit: between that and the battery a meter shows the mean."""
    plan = edited(("series: 3", "series: 1"), ("kind: mppt", "kind: pwm"))
    text = f"at: tracker.pv, voltage: {volts} V, current: 0.1 A, {NOON}, stage: bulk"
    (finding,) = found(read(text, plan=plan), POWER)
    assert ("in pulses, as where it is full" in finding.message) is (level is None)
    assert finding.level == (level or "note")


@pytest.mark.parametrize(("amps", "disagree"), [(4.0, True), (8.6, False)])
def test_what_all_strings_bring_has_to_arrive(amps: float, disagree: bool) -> None:
    """Two of 4.4 A and one of 4.3 A make 13.1 A; a third of it is no string that gives nothing."""
    sun = f'{NOON}, taken: "noon", stage: bulk'
    given = [f"at: string-{n}, current: {a} A, {sun}" for n, a in ((1, 4.4), (2, 4.4), (3, 4.3))]
    given = given if disagree else given[:2]
    whole = f"at: tracker.pv, voltage: 55 V, current: {amps} A, {sun}"
    large = strings(3).replace("max_output_current: 20 A", "max_output_current: 100 A")
    plan = read(*given, whole, plan=large)
    (finding,) = found(plan, POWER)
    assert ("what its strings read with it makes another current" in finding.message) is disagree
    told = [f.message for f in found(plan, MISSING) if "which make 13.1 A" in f.message]
    assert bool(told) is disagree


@pytest.mark.parametrize(("count", "share", "said"), [(2, 0.5, "1 of 2 strings"), (1, 0.5, "")])
def test_a_power_alone_is_told_as_strings_that_give_nothing(
    count: int, share: float, said: str
) -> None:
    plan = strings(count).replace("max_output_current: 20 A", "max_output_current: 60 A")
    given = first(read(f"at: tracker.pv, power: 100 W, {NOON}", plan=plan))
    assert given.stands.power is not None
    watts = share * given.stands.power.given.number
    told = read(f"at: tracker.pv, power: {watts:.1f} W, stage: bulk, {NOON}", plan=plan)
    (finding,) = found(told, POWER)
    assert said in finding.message
    assert ("current of each string" in finding.remedy) is bool(said)
