"""What a wire may carry, by tables that are open on the desk, and what it is asked to."""

from __future__ import annotations

import pytest

from external.battery_sides import COLD, HEAD, HOT
from study.wiring.test_grounding_by_hand import ARRAY, SUN
from study.wiring.test_grounding_by_hand import study as small_study
from wattproof.study import Study
from wattproof.study.assumptions.reading import Label, Reading
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.testing import check_text, study_of
from wattproof.working import steps

PLACES = "{cool: {ambient: 30 °C}, cabin: {ambient: 45 °C}, hot: {ambient: 60 °C}}"
PLAN = HEAD.replace("{cabin: {ambient: 35 °C}}", PLACES) + """\
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
busbars:
  bar: {rating: 100 A}
loads:
  lamp: {current: 40 A}
wires:
  run: {from: house, to: lamp, cable: batt-8, length: 2 m, place: [cool]}
  idle: {from: house, to: bar, cable: batt-2, length: 3 m, place: [cool]}
"""  # fmt: skip


def study(*edits: tuple[str, str], code: str = "iec") -> Study:
    text = PLAN.replace("code: nec-2023", f"code: {code}" if code else "")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return study_of(text)


def run(*edits: tuple[str, str], code: str = "iec") -> WireStudy:
    return study(*edits, code=code).wiring.wires["run"]


def amps(wire: WireStudy) -> float:
    assert isinstance(wire.carrying, Carrying)
    return wire.carrying.value.number


@pytest.mark.parametrize(
    ("places", "factor"),
    [
        ("[cool]", 1.0),
        ("[hot]", 0.71),
        ("[cool, hot, cabin]", 0.71),
        ("[hot, cabin, cool]", 0.71),
        ("[cabin, cool]", 0.87),
    ],
)
@pytest.mark.parametrize(
    ("metal", "more", "scale"),
    [
        ("copper", "", 1.0),
        ("copper-clad-aluminium", "", 0.8),
        ("copper", ", parallel: 2", 2.0),
        ("copper-clad-aluminium", ", parallel: 3", 2.4),
    ],
)
def test_the_hottest_air_on_the_way_decides(
    places: str, factor: float, metal: str, more: str, scale: float
) -> None:
    """IEC 60364-5-52: 58 A for 8 AWG, read as 6 mm²; 0.87 at 45 °C and 0.71 at 60 °C (B.52.14).

    Of other metals four fifths (common practice); conductors in parallel add up.
    """
    bundled = ", bundled: 2" if more else ""
    wire = run(
        ("place: [cool]", f"place: {places}{more}{bundled}"),
        ("8 AWG, kind: battery, material: copper", f"8 AWG, kind: battery, material: {metal}"),
    )
    assert amps(wire) == pytest.approx(58.0 * factor * scale)
    assert wire.ambient.number == {1.0: 30.0, 0.71: 60.0, 0.87: 45.0}[factor]


@pytest.mark.parametrize(
    ("marked", "table"), [("", 40.0), ("60", 40.0), ("75", 50.0), ("90", 55.0)]
)
def test_terminals_hold_a_wire_back_by_their_own_column(marked: str, table: float) -> None:
    """NEC 310.16: 40, 50 and 55 A for 8 AWG; without a mark 60 °C below 1 AWG (110.14(C))."""
    told = f", terminal_temperature: {marked} °C" if marked else ""
    assert amps(run(("place: [cool]", f"place: [cool]{told}"), code="nec-2023")) == table


def test_with_no_body_of_rules_named_terminals_stand_75_degrees() -> None:
    assert amps(run(code="")) == 50.0


def test_what_lasts_is_asked_with_its_allowance_too() -> None:
    """NEC: 1.25 × 40 A of 40 A it does not pass, 40 A as they are it does."""
    wire = run(code="nec-2023")
    assert wire.current is not None
    tests = [(a.number, b.number) for a, b in wire.asks(wire.current)]
    assert tests == [(50.0, 40.0), (40.0, 40.0)]
    assert [(a.number, b.number) for a, b in wire.fails(wire.current)] == [(50.0, 40.0)]
    assert not wire.is_overloaded
    assert run(("{current: 40 A}", "{current: 40.1 A}"), code="nec-2023").is_overloaded


def test_a_wire_with_no_current_is_not_overloaded_and_loses_nothing() -> None:
    idle = study().wiring.wires["idle"]
    assert (idle.current, idle.operating, idle.drop, idle.loss) == (None, None, None, None)
    assert idle.drop_by_body("other") is None
    assert not idle.is_overloaded
    assert idle.largest_fitting_device == 160.0


@pytest.mark.parametrize(("current", "rating"), [("80 A", 100.0), ("80.1 A", None)])
def test_the_largest_device_that_protects_it_bears_its_current(
    current: str, rating: float | None
) -> None:
    """NEC: 2 AWG carries 95 A on its terminals, so 100 A is the next; 1.25 × 80 A are that."""
    wire = run(("cable: batt-8", "cable: batt-2"), ("40 A", current), code="nec-2023")
    assert wire.largest_fitting_device == rating


@pytest.mark.parametrize(
    ("current", "size"),
    [
        ("5 A", "1.5 mm²"),
        ("32 A", "10 mm²"),
        ("32.1 A", "16 mm²"),
        ("44 A", "16 mm²"),
        ("44.1 A", "25 mm²"),
    ],
)
def test_where_no_size_is_told_it_is_large_enough_for_what_it_carries(
    current: str, size: str
) -> None:
    """NEC: 10 mm² has the 40 A of 8 AWG, for 32 A that last, and 16 mm² the 55 A of 6 AWG."""
    unknown = ("batt-8: {size: 8 AWG", "batt-8: {size: unknown")
    wire = run(unknown, ("40 A", current), code="nec-2023")
    if current == "44.1 A":
        assert wire.size.area_mm2 > 16.0
    else:
        assert wire.size.name == size
    assert not wire.is_overloaded


def test_what_is_lost_in_it_as_voltage_and_heat() -> None:
    """40 A through 2 m of 8 AWG there and back, or through two in parallel half of it."""
    for more, side_by_side in (("", 1), (", parallel: 2", 2)):
        wire = run(("place: [cool]", f"place: [cool]{more}"))
        pole = 40.0 * 2.0 * HOT["batt-8"] / side_by_side
        assert wire.drop is not None
        assert wire.drop.number == pytest.approx(2 * pole, rel=1e-3)
        assert wire.loss is not None
        assert wire.loss.number == pytest.approx(2 * 40.0 * pole, rel=1e-3)
        assert wire.loaded == 2 * side_by_side
        ohms = 2.0 * HOT["batt-8"] / side_by_side
        assert wire.hot_resistance_over(2.0).number == pytest.approx(ohms, rel=1e-3)
        assert wire.hot_resistance_over(0.5).number == pytest.approx(ohms / 4, rel=1e-3)
        cold = 2.0 * COLD["batt-8"] / side_by_side
        assert wire.cold_resistance_over(2.0).number == pytest.approx(cold, rel=1e-3)


def test_insulation_that_stands_less_is_not_reckoned_hotter_than_it_may_be() -> None:
    """75 °C is a conductor at full load; 60 °C where its insulation stands no more."""
    wire = run(("insulation_temperature: 105", "insulation_temperature: 60"))
    at_60 = HOT["batt-8"] * (1.0 + 0.00323 * (60.0 - 75.0))
    assert wire.resistance_per_metre.number == pytest.approx(at_60, rel=1e-3)


def test_a_metal_that_nobody_tells_counts_as_copper_for_the_largest_short() -> None:
    """As clad aluminium where it is told so, hot or cold: 1.6 times as much (common practice)."""
    unknown, clad = (
        run(("8 AWG, kind: battery, material: copper", f"8 AWG, kind: battery{metal}"))
        for metal in ("", ", material: copper-clad-aluminium")
    )
    assert unknown.cold_resistance_per_metre.number == pytest.approx(COLD["batt-8"], rel=1e-3)
    for of_clad, copper in (
        (clad.cold_resistance_per_metre, COLD),
        (clad.resistance_per_metre, HOT),
    ):
        assert of_clad.number == pytest.approx(1.6 * copper["batt-8"], rel=1e-3)


def test_larger_sizes_and_other_insulation_are_the_same_wire() -> None:
    wire = run(code="nec-2023")
    larger = [each.size.name for each in wire.larger_sizes()]
    assert larger[:3] == ["6 AWG", "4 AWG", "3 AWG"]
    assert wire.in_size(next(wire.larger_sizes()).size).area_mm2 == pytest.approx(13.3, rel=1e-3)
    assert wire.insulated_for(60.0).insulation.number == 60.0
    two = run(("place: [cool]", "place: [cool], parallel: 2"))
    assert two.area_mm2 == pytest.approx(2 * 8.37, rel=1e-3)
    assert two.one_of_them.area_mm2 == pytest.approx(8.37, rel=1e-3)


@pytest.mark.parametrize(
    ("cable", "lay", "carries"),
    [
        ("batt-8", "conduit", 54.0),
        ("batt-8", "surface", 58.0),
        ("batt-8", "free-air", 58.0),
        ("batt-2", "conduit", 133.0),
        ("batt-2", "surface", 138.0),
        ("batt-2", "free-air", 161.0),
    ],
)
def test_how_it_is_laid_says_which_table_it_is_read_in(
    cable: str, lay: str, carries: float
) -> None:
    """IEC 60364-5-52: 6 and 25 mm² by methods B1, C and F, which begins at 25 mm²."""
    wire = run(
        ("cable: batt-8, length", f"cable: {cable}, length"),
        ("place: [cool]", f"place: [cool], run: {lay}"),
    )
    assert amps(wire) == carries


@pytest.mark.parametrize(
    ("count", "iec", "abyc"),
    [(2, 1.0, 1.0), (3, 0.8, 0.7), (4, 0.8, 0.6), (6, 0.7, 0.6), (8, 0.65, 0.5)],
)
def test_what_runs_beside_it_takes_its_share(count: int, iec: float, abyc: float) -> None:
    """IEC B.52.17 by circuits of two, 58 A alone; E-11 table VI by conductors, 80 A alone."""
    beside = ("place: [cool]", f"place: [cool], bundled: {count}")
    assert amps(run(beside)) == pytest.approx(58.0 * iec)
    assert amps(run(beside, code="abyc-e11")) == pytest.approx(80.0 * abyc)


def test_air_that_nobody_tells_is_that_of_the_inside() -> None:
    """35 °C there, and 0.96 of the table (IEC B.52.14)."""
    wire = run((", place: [cool]", ""))
    assert wire.ambient.number == 35.0
    assert amps(wire) == pytest.approx(58.0 * 0.96)


@pytest.mark.parametrize(
    ("current", "size"), [("38.9 A", "4 AWG"), ("38.95 A", "4 AWG"), ("39 A", "3 AWG")]
)
def test_in_hot_air_a_size_that_nobody_tells_bears_its_current_as_it_is(
    current: str, size: str
) -> None:
    """In 80 °C 4 AWG carries 0.41 × 95 A of its 90 °C column; its terminals stand 70 A."""
    wire = run(
        ("batt-8: {size: 8 AWG", "batt-8: {size: unknown"),
        ("40 A", current),
        ("[cool]", "[hot], run: conduit"),
        ("60 °C", "80 °C"),
        code="nec-2023",
    )
    assert wire.size.name == size
    assert isinstance(wire.carrying, Carrying)
    told = [step.formula for step in steps(wire.carrying.value)]
    assert "table (Ti; A(run))" in told
    assert "table (r75; A(run))" in [step.formula for step in steps(wire.resistance)]


@pytest.mark.parametrize("told", [True, False])
def test_a_size_is_an_input_only_where_nobody_tells_it(told: bool) -> None:
    wire = run() if told else run(("batt-8: {size: 8 AWG", "batt-8: {size: unknown"))
    assert isinstance(wire.carrying, Carrying)
    tables = [s.formula for s in steps(wire.carrying.value) if s.formula.startswith("table (Ti")]
    assert tables == (["table (Ti)"] if told else ["table (Ti; A(run))"])


@pytest.mark.parametrize(
    ("sheet", "lay", "outdoors"),
    [
        ("outdoor: true, kind: building", "", True),
        ("outdoor: false, kind: battery", "", False),
        ("kind: battery", "", True),
        ("kind: building", "", False),
        ("kind: building", ", enclosed: true", True),
        ("kind: building", ", run: conduit", True),
        ("kind: building", ", enclosed: true, run: conduit", True),
        ("kind: building", ", run: surface", False),
    ],
)
def test_whether_a_cable_is_taken_to_be_made_for_sun_and_rain(
    sheet: str, lay: str, outdoors: bool
) -> None:
    """As its label says; else yes, but for bare building cable, unless something covers it."""
    wire = run(
        ("8 AWG, kind: battery", f"8 AWG, {sheet}"), ("place: [cool]", f"place: [cool]{lay}")
    )
    assert wire.made_for_outdoors is outdoors


@pytest.mark.parametrize(("nominal", "told"), [("12 V", False), ("48 V", True)])
def test_a_table_for_low_voltage_says_where_it_is_left(nominal: str, told: bool) -> None:
    """ISO 13297 is for up to 50 V; a bank of 48 V is charged to more."""
    wire = run(("nominal: 12 V", f"nominal: {nominal}"), code="iso-13297")
    assert isinstance(wire.carrying, Carrying)
    assert any("is above the 50 V" in note for note in wire.carrying.notes) is told


def test_air_around_an_array_that_nobody_tells_is_that_of_a_roof() -> None:
    found = small_study(ARRAY, SUN).wiring.wires
    assert (found["home"].ambient.number, found["plus"].ambient.number) == (50.0, 35.0)


def test_in_air_that_no_insulation_bears_a_wire_is_judged_as_if_it_lay_in_cool_air() -> None:
    """ABYC E-11: 80 A for 8 AWG of 105 °C outside engine spaces."""
    wire = run(
        ("hot: {ambient: 60 °C}", "hot: {ambient: 110 °C}"), ("[cool]", "[hot]"), code="abyc-e11"
    )
    assert wire.too_hot
    assert amps(wire.in_bearable_air) == 80.0


def test_a_size_below_every_table_is_told_down_from_its_smallest_row() -> None:
    thin, thinner = (amps(run(("8 AWG", size), code="nec-2023")) for size in ("18 AWG", "20 AWG"))
    assert 0.0 < thinner < thin


@pytest.mark.parametrize(("harsh", "carries"), [(False, 161.0), (True, 133.0)])
def test_how_it_is_laid_that_nobody_tells_is_in_free_air_or_at_worst_in_a_pipe(
    harsh: bool, carries: float
) -> None:
    """IEC 60364-5-52: 25 mm² by methods F and B1."""
    label = Label("run of a wire", "run")
    reading = Reading(harsh=frozenset({label})) if harsh else Reading()
    found = study(("cable: batt-8, length", "cable: batt-2, length")).read_as(reading)
    assert amps(found.wiring.wires["run"]) == carries


def test_where_a_cable_of_untold_size_may_carry_nothing_one_of_it_is_reckoned_with() -> None:
    """However many lie side by side, none carries anything in air as hot as its insulation."""
    text = ARRAY_IN_HOT_AIR.format(air="70 °C")
    assert study_of(text).wiring.wires["run"].resistance.number > 0.0
    assert not check_text(text).failed


ARRAY_IN_HOT_AIR = """\
wattproof: 1
setting: vehicle
site: {{places: {{hot: {{ambient: {air}}}}}}}
datasheets:
  modules: {{m: {{voc: 22 V, isc: 6 A, vmp: 18 V, imp: 5.5 A}}}}
  cables: {{pv: {{kind: pv, insulation_temperature: 70 °C}}}}
strings: {{roof: {{module: m, arrangement: 2p}}}}
controllers: {{c: {{kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A, feeds: house}}}}
batteries: {{house: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}}}
wires: {{run: {{from: roof, to: c.pv, cable: pv, length: 4 m, place: hot}}}}
"""
