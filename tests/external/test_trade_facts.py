"""Facts of the trade, through the public interface: common practice, no published source."""

from __future__ import annotations

import pytest

from plans import array_plan, edited
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.energy.balance import EnergyStudy
from wattproof.study.wiring.wires import WireStudy
from wattproof.testing import study_of

RIGID = (
    "rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,\n"
    "                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,\n"
    "                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A,"
    " max_system_voltage: 600 V}"
)


def array(arrangement: str) -> ArrayStudy:
    """Modules of 100 W that give 20 V and 5 A, in an arrangement."""
    text = array_plan(
        f"  joint: {{module: rigid-100, arrangement: {arrangement}}}\n",
        "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
    )
    sheet = "rigid-100: {voc: 20 V, vmp: 17 V, isc: 5 A, imp: 4.7 A, voc_coefficient: -0.3 %/°C}"
    [study] = study_of(edited((RIGID, sheet), plan=text)).array.arrays
    return study


@pytest.mark.parametrize(
    ("arrangement", "volts", "amps"),
    [
        ("4p", 20.0, 20.0),  # four in parallel give about 20 V and 20 A
        ("4s", 80.0, 5.0),  # four in series give about 80 V and 5 A
        ("4p2s", 40.0, 20.0),  # eight as four parallel, two such groups in series
        ("4s2p", 80.0, 10.0),  # eight as four in series, two such strings in parallel
        ("8p", 20.0, 40.0),
        ("8s", 160.0, 5.0),
        ("2s4p", 40.0, 20.0),
    ],
)
def test_arrangements_of_twenty_volt_modules(arrangement: str, volts: float, amps: float) -> None:
    found = array(arrangement)
    assert found.voc("standard").number == pytest.approx(volts)
    assert found.isc("standard").number == pytest.approx(amps)


def test_forty_cells_in_series_give_about_twenty_volts() -> None:
    """A silicon cell gives about half a volt."""
    assert array("1s").voc("standard").number / 40 == pytest.approx(0.5)


def test_a_hundred_watts_at_that_voltage_are_about_five_amperes() -> None:
    assert array("1s").isc("standard").number == pytest.approx(100.0 / 20.0, rel=0.1)


def wire_at(amps: float, feet: float, size: str) -> WireStudy:
    text = array_plan(
        "  joint: {module: rigid-100, arrangement: 4p}\n",
        f"  home: {{from: joint, to: tracker.pv, cable: pv-10, length: {feet:g} ft}}\n",
    )
    sheet = f"rigid-100: {{voc: 20 V, vmp: 17 V, isc: 5.3 A, imp: {amps / 4:g} A}}"
    text = edited((RIGID, sheet), ("size: 10 AWG", f"size: {size}"), plan=text)
    return study_of(text).wiring.wires["home"]


def test_ten_gauge_at_twenty_amperes_over_a_long_run_is_near_its_limit() -> None:
    """About 3 % of a 12 V class array is gone after some ten feet, whatever the fuse says."""
    short, long = wire_at(20.0, 10.0, "10 AWG"), wire_at(20.0, 30.0, "10 AWG")
    assert short.drop is not None
    assert long.drop is not None
    assert short.drop.number / 17.0 == pytest.approx(0.03, abs=0.01)
    assert long.drop.number / 17.0 > 0.08
    heavier = wire_at(20.0, 30.0, "4 AWG")
    assert heavier.drop is not None
    assert heavier.drop.number / 17.0 < 0.03


def test_the_same_watts_at_four_times_the_voltage_lose_a_sixteenth() -> None:
    def loss(arrangement: str) -> float:
        text = array_plan(
            f"  joint: {{module: rigid-100, arrangement: {arrangement}}}\n",
            "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 5 m}\n",
        )
        value = study_of(text).wiring.wires["home"].loss
        assert value is not None
        return value.number

    assert loss("4p") / loss("4s") == pytest.approx(16.0)


def study(text: str) -> Study:
    return study_of(text)


def test_in_parallel_unlike_voltages_and_in_series_unlike_currents_cost() -> None:
    """The bounds: a joint is held to its lowest voltage, a string to its lowest current."""
    small = "\n    small: {voc: 20 V, vmp: 16.5 V, isc: 3.1 A, imp: 2.9 A}\n  cables:"
    base = edited(("\n  cables:", small))
    mixed = edited(
        ("{module: rigid-100, series: 3, mounting: roof-gap}", "{modules: [rigid-100, small]}"),
        plan=base,
    )
    [array] = study(mixed).array.arrays
    assert array.imp("standard").number == 2.9
    assert array.vmp("standard").number == pytest.approx(20.4 + 16.5)


def day(capacity: str = "100 Ah", chemistry: str = "lithium-iron-phosphate") -> EnergyStudy:
    """300 W, five sun hours, and a refrigerator of 45 W that runs eight hours of 24."""
    plan = edited(
        ("lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah",
         f"{chemistry}, nominal: 12 V, capacity: {capacity}"),
        ("max_output_current: 20 A", "max_output_current: 30 A"),
        ("wires:\n", "loads: {refrigerator: {power: 45 W}}\nwires:\n"
         "  load-run: {from: house, to: refrigerator, cable: pv-10, length: 1 m}\n"),
    )  # fmt: skip
    sun = "energy: {sun_hours: 5 h, uses: {refrigerator: {hours: 8 h}}}\n"
    [energy] = study_of(plan + sun).energy.balances
    return energy


def test_an_array_brings_about_two_thirds_of_power_times_sun_hours() -> None:
    [balance] = day().balances
    assert balance.least is not None
    assert balance.most is not None
    middle = (balance.least.number + balance.most.number) / 2
    assert 0.65 < middle / (300 * 5 * 3600) < 0.75  # common practice


def test_a_small_refrigerator_takes_about_thirty_ampere_hours_a_day() -> None:
    [balance] = day().balances
    assert balance.used.number / 3600 / 12 == pytest.approx(30, rel=0.05)


def test_half_of_a_lead_battery_and_four_fifths_of_a_lithium_battery_are_used() -> None:
    """A hundred ampere hours at 12 V: 600 Wh and 960 Wh."""
    assert day(chemistry="flooded").usable.number == pytest.approx(600 * 3600)
    assert day().usable.number == pytest.approx(960 * 3600)
