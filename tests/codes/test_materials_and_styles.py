"""Resistance, other metals, and styles of overcurrent devices."""

import math

import pytest

from wattproof.codes import known_materials, known_styles, material_factor, resistance, style
from wattproof.codes.styles import DeviceStyle
from wattproof.codes.values import TableValue
from wattproof.physics.conductors import (
    COPPER_RESISTIVITY,
    ConductorSize,
    conductor_of_gauge,
    known_gauges,
)

close = pytest.approx


def test_gauges_and_areas_are_read_in_their_own_table() -> None:
    found, reference, coefficient = resistance(conductor_of_gauge("10"))
    assert found.value == close(1.24 / 304.8)
    assert (reference, coefficient) == (75, 0.00323)
    assert found.source.startswith("NEC Chapter 9 Table 8, row 10 AWG")
    found, reference, coefficient = resistance(ConductorSize(6.0))
    assert found.value == close(0.0033)
    assert (reference, coefficient) == (20, 0.00393)
    assert resistance(ConductorSize(6.0), "stranded")[0].value == close(0.00308)


@pytest.mark.parametrize("size", [ConductorSize(8.0), conductor_of_gauge("5")])
def test_sizes_in_no_table_are_computed_with_a_margin(size: ConductorSize) -> None:
    found, reference, _ = resistance(size)
    assert found.own
    assert reference == 20
    assert found.value == close(1.16 * COPPER_RESISTIVITY / size.area_mm2)
    assert "our own extension" in found.cited


def test_every_gauge_has_a_resistance_and_thicker_has_less() -> None:
    at_20 = []
    for gauge in known_gauges():
        found, reference, coefficient = resistance(conductor_of_gauge(gauge))
        if not found.own:
            at_20.append(found.value * (1 + coefficient * (20 - reference)))
    assert len(at_20) == 20
    assert at_20 == sorted(at_20, reverse=True)


def test_tinned_copper_has_more_resistance_in_every_size() -> None:
    sizes = [conductor_of_gauge(gauge) for gauge in known_gauges()]
    sizes += [ConductorSize(area) for area in (1.5, 4.0, 6.0, 8.0, 10.0, 50.0, 300.0)]
    for size in sizes:
        for class_ in ("flexible", "stranded"):
            plain, tinned = (resistance(size, class_, tinned=t)[0] for t in (False, True))
            assert 1.005 < tinned.value / plain.value < 1.07
            assert "tinned" in tinned.what or tinned.own


def test_unknown_class_is_refused() -> None:
    with pytest.raises(ValueError, match="flexible or stranded"):
        resistance(ConductorSize(6.0), "solid")


@pytest.mark.parametrize(
    ("material", "resist", "carry"),
    [("copper", 1, 1), ("aluminium", 1.64, 0.78), ("copper-clad-aluminium", 1.6, 0.8)],
)
def test_materials(material: str, resist: float, carry: float) -> None:
    found = material_factor(material)
    assert [figure.value for figure in found] == [resist, carry]
    assert all(figure.verified == (material == "copper") for figure in found)


def test_unknown_material_is_refused() -> None:
    assert known_materials() == ("copper", "aluminium", "copper-clad-aluminium")
    with pytest.raises(ValueError, match="'gold' is not one of copper, aluminium"):
        material_factor("gold")


def test_the_styles_that_plans_name() -> None:
    named = {"blade", "bolt-down", "wide-strip", "stud-mounted", "class-t", "gpv", "glass"}
    assert named <= set(known_styles())
    with pytest.raises(ValueError, match="'fast' is not one of blade"):
        style("fast")


@pytest.mark.parametrize("name", known_styles())
def test_every_style_is_consistent(name: str) -> None:
    found = style(name)
    assert found.name == name
    assert found.title
    assert found.kind in ("fuse", "breaker")
    voltages = [volts for volts, _ in found.interrupts]
    currents = [current.value for _, current in found.interrupts]
    assert voltages == sorted(voltages)
    assert currents == sorted(currents, reverse=True)
    if found.dc_voltage is None:
        assert not voltages
        assert found.interrupt_at(12) is None
    else:
        assert voltages[-1] == found.dc_voltage.value
        assert found.interrupt_at(found.dc_voltage.value + 1) is None
    assert found.pv_rated == name.startswith("gpv")


def test_interrupt_rating_falls_with_voltage() -> None:
    stud = style("stud-mounted")
    at = {volts: stud.interrupt_at(volts) for volts in (12.8, 14.6, 29.2, 58, 58.4)}
    assert [current and current.value for current in at.values()] == [10e3, 5e3, 5e3, 2e3, None]


@pytest.mark.parametrize(
    ("ampacity", "rating"), [(3.0, 1.6 * 3.0 / 2.1), (4.0, 1.6 * 4.0 / 2.1), (6.0, 6.0), (5.5, 5.5)]
)
def test_a_style_that_trips_later_in_small_ratings(ampacity: float, rating: float) -> None:
    """Up to 4 A at 2.1 times, above at 1.6: one of 4 A takes 8.4 A to open."""

    def of(number: float) -> TableValue:
        return TableValue(number, "", "a multiple", "as told", True)

    slow = DeviceStyle(
        "slow",
        "slow fuse",
        "fuse",
        None,
        (),
        None,
        False,
        (),
        ((4.0, of(2.1)), (math.inf, of(1.6))),
    )
    found = slow.trips_within(of(1.6), ampacity)
    assert found is not None
    assert found.value == close(rating)
