"""How each body of rules reads its ampacity tables."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.codes import Ampacity, NotTabulated, Surroundings, body, known
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge

NEC, ABYC, IEC, ISO = (body(name) for name in ("nec-2023", "abyc-e11", "iec", "iso-13297"))
AWG_10 = conductor_of_gauge("10")
SIX = ConductorSize(6.0)
close = pytest.approx


# Sizes and columns that a table lacks


@pytest.mark.parametrize(
    ("name", "asked", "used"),
    [
        ("nec-2023", ConductorSize(6.0), "10 AWG"),
        ("nec-2023", ConductorSize(4.0), "12 AWG"),
        ("nec-2023", ConductorSize(95.0), "3/0 AWG"),
        ("nec-2023", conductor_of_gauge("5"), "6 AWG"),
        ("abyc-e11", ConductorSize(35.0), "2 AWG"),
        ("iec", conductor_of_gauge("10"), "4 mm²"),
        ("iec", ConductorSize(8.0), "6 mm²"),
        ("iec", conductor_of_gauge("4/0"), "95 mm²"),
        ("iso-13297", conductor_of_gauge("18"), "0.75 mm²"),
    ],
)
def test_other_sizes_are_read_as_the_next_smaller(
    name: str, asked: ConductorSize, used: str
) -> None:
    found = body(name).ampacity(asked, 90, Surroundings(30))
    assert found.size_used.name == used
    assert found.size_used.area_mm2 <= asked.area_mm2
    assert any(f"read as {used}" in note for note in found.notes)


@pytest.mark.parametrize("name", known())
def test_a_table_s_own_size_needs_no_note(name: str) -> None:
    rules = body(name)
    for size in rules.conductor_sizes():
        if size.area_mm2 < 100:
            found = rules.ampacity(size, 90, Surroundings(30))
            assert found.size_used == size
            assert not any("read as" in note for note in found.notes)


def test_an_area_that_went_through_other_units_is_still_its_own_size() -> None:
    assert IEC.ampacity(ConductorSize(6e-6 * 1e6 * (1 + 1e-9)), 90, Surroundings(30)).notes == (
        IEC.ampacity(SIX, 90, Surroundings(30)).notes
    )


@pytest.mark.parametrize(
    ("name", "size", "words"),
    [
        ("nec-2023", ConductorSize(300.0), "larger than 500 kcmil"),
        ("iec", ConductorSize(400.0), "larger than 300 mm²"),
        ("iec", ConductorSize(0.1), "smaller than 1.5 mm²"),
        ("abyc-e11", ConductorSize(0.199), "smaller than 18 AWG"),
    ],
)
def test_sizes_beyond_the_table_are_refused(name: str, size: ConductorSize, words: str) -> None:
    with pytest.raises(NotTabulated, match=words):
        body(name).ampacity(size, 90, Surroundings(30))


def test_a_little_larger_than_the_last_row_is_read_in_it() -> None:
    """300 mm² is the last; up to 1.15 times that it stands in."""
    assert IEC.ampacity(ConductorSize(300.0 * 1.15), 90, Surroundings(30)).size_used.name == (
        "300 mm²"
    )
    with pytest.raises(NotTabulated):
        IEC.ampacity(ConductorSize(300.0 * 1.15 + 0.01), 90, Surroundings(30))


@pytest.mark.parametrize(
    ("name", "size", "smallest"),
    [
        ("iec", ConductorSize(0.2), ConductorSize(1.5)),
        ("nec-2023", ConductorSize(0.5), conductor_of_gauge("18")),
        ("abyc-e11", conductor_of_gauge("20"), conductor_of_gauge("18")),
        ("iec", conductor_of_gauge("16"), ConductorSize(1.5)),
        ("iec", conductor_of_gauge("18"), ConductorSize(1.5)),
        ("as-nzs-3001", ConductorSize(0.75), ConductorSize(1.5)),
    ],
)
def test_sizes_below_the_table_are_told_down(
    name: str, size: ConductorSize, smallest: ConductorSize
) -> None:
    """With the 0.625th power of the area (IEC 60364-5-52 Annex D, from memory)."""
    around = Surroundings(30)
    found, row = (body(name).ampacity(each, 90, around) for each in (size, smallest))
    share = (size.area_mm2 / smallest.area_mm2) ** 0.625
    assert found.base.value == pytest.approx(row.base.value * share)
    assert found.base.own
    assert found.ambient_factor == row.ambient_factor
    assert any("told down by the area (our own extension)" in note for note in found.notes)


@pytest.mark.parametrize(("gauge", "most"), [("16", 10.0), ("18", 7.0), ("20", None)])
@pytest.mark.parametrize("insulation", [60, 75, 80])
def test_a_column_that_begins_higher_up_is_told_down_from_its_own_smallest(
    gauge: str, most: float | None, insulation: int
) -> None:
    """18 and 16 AWG have a figure at 90 °C alone; what caps their devices (240.4(D)) holds."""
    size, around = conductor_of_gauge(gauge), Surroundings(30)
    found, row = (
        NEC.ampacity(each, insulation, around) for each in (size, conductor_of_gauge("14"))
    )
    share = (size.area_mm2 / row.size_used.area_mm2) ** 0.625
    assert found.base.value == pytest.approx(row.base.value * share)
    assert found.base.value < NEC.ampacity(conductor_of_gauge("16"), 90, around).base.value
    if most is not None:
        assert NEC.largest_device(found)[0] == most


@pytest.mark.parametrize("insulation", [60, 75, 90])
@pytest.mark.parametrize(
    ("size", "most"),
    [
        (conductor_of_gauge("20"), 7.0),  # no more than 18 AWG
        (ConductorSize(0.75), 7.0),
        (ConductorSize(1.0), 7.0),
        (ConductorSize(1.5), 10.0),
        (ConductorSize(2.5), 15.0),
        (ConductorSize(6.0), 30.0),
        (ConductorSize(10.0), None),
    ],
)
def test_small_conductors_that_have_no_cap_are_held_to_the_next_smaller(
    size: ConductorSize, most: float | None, insulation: int
) -> None:
    found = NEC.ampacity(size, insulation, Surroundings(30))
    largest = NEC.largest_device(found)[0]
    assert largest > 30.0 if most is None else largest <= most
    if most is not None and most <= 10.0:
        assert found.value <= most


@pytest.mark.parametrize(
    ("name", "insulation", "column"),
    [
        ("nec-2023", 105, 90),
        ("nec-2023", 80, 75),
        ("nec-2023", 60, 60),
        ("abyc-e11", 70, 60),
        ("abyc-e11", 110, 105),
        ("iec", 85, 70),
        ("iec", 105, 90),
        ("iso-13297", 90, 85),
        ("iso-13297", 80, 70),
    ],
)
def test_insulation_between_columns_takes_the_lower(
    name: str, insulation: float, column: float
) -> None:
    found = body(name).ampacity(conductor_of_gauge("10"), insulation, Surroundings(30))
    assert found.insulation_column == column
    read = any(f"{insulation:g} °C insulation is read" in note for note in found.notes)
    assert read == (insulation != column)


@pytest.mark.parametrize("name", known())
def test_insulation_below_all_columns_is_refused(name: str) -> None:
    with pytest.raises(NotTabulated, match="no column for 50 °C insulation"):
        body(name).ampacity(conductor_of_gauge("10"), 50, Surroundings(30))


# Heat


@pytest.mark.parametrize("name", known())
@pytest.mark.parametrize("insulation", [60, 75, 90, 105])
@pytest.mark.parametrize("kind", [None, "pv"])
def test_ambient_at_or_above_the_insulation_allows_nothing(
    name: str, insulation: float, kind: str | None
) -> None:
    rules = body(name)
    for engine in (False, True):
        place = Surroundings(125, engine_space=engine)
        found = rules.ampacity(AWG_10, insulation, place, cable_kind=kind)
        assert found.ambient_factor.value == found.value == 0
        assert rules.largest_device(found)[0] == 0


@pytest.mark.parametrize("name", known())
def test_an_ambient_that_is_no_number_allows_nothing(name: str) -> None:
    for engine in (False, True):
        place = Surroundings(math.nan, engine_space=engine)
        assert body(name).ampacity(AWG_10, 90, place).value == 0


@given(
    st.sampled_from(known()),
    st.sampled_from([60, 75, 80, 90, 105]),
    st.floats(-20, 110),
    st.floats(-20, 110),
    st.booleans(),
    st.integers(1, 30),
)
def test_hotter_never_carries_more(
    name: str, insulation: float, one: float, other: float, free_air: bool, loaded: int
) -> None:
    cool, hot = sorted((one, other))
    size = conductor_of_gauge("6")

    def carries(ambient: float) -> float:
        place = Surroundings(ambient, free_air=free_air, loaded_conductors=loaded)
        return body(name).ampacity(size, insulation, place).value

    assert carries(hot) <= carries(cool) * (1 + 1e-9)


@given(st.sampled_from(known()), st.booleans(), st.sampled_from([None, "pv"]))
def test_more_copper_never_carries_less(name: str, free_air: bool, kind: str | None) -> None:
    rules = body(name)
    place = Surroundings(45, free_air=free_air)
    sizes = [size for size in rules.conductor_sizes() if size.area_mm2 < 100]
    carried = [rules.ampacity(size, 90, place, cable_kind=kind).value for size in sizes]
    assert carried == sorted(carried)


@given(st.sampled_from(known()), st.integers(1, 38), st.integers(0, 100))
def test_more_neighbours_never_carry_more(name: str, loaded: int, volts: int) -> None:
    def carries(count: int) -> float:
        place = Surroundings(40, loaded_conductors=count, circuit_voltage=volts)
        return body(name).ampacity(AWG_10, 90, place).value

    assert carries(loaded + 1) <= carries(loaded)


# National Electrical Code


def test_nec_terminals_default_by_size() -> None:
    cases = {"10": 30, "1": 110, "1/0": 150, "4/0": 230}
    for gauge, limit in cases.items():
        found = NEC.ampacity(conductor_of_gauge(gauge), 90, Surroundings(30))
        assert found.terminal_limit is not None
        assert found.terminal_limit.value == limit == found.value
        assert any("terminals not declared" in note for note in found.notes)


def test_nec_declared_terminals() -> None:
    found = NEC.ampacity(AWG_10, 90, Surroundings(30), terminal_temperature=75)
    assert (found.corrected, found.value) == (40, 35)
    assert found.notes == ()
    assert NEC.ampacity(AWG_10, 90, Surroundings(30), 105).value == 40


def test_nec_terminal_column_is_never_above_the_insulation_s() -> None:
    found = NEC.ampacity(AWG_10, 60, Surroundings(10), terminal_temperature=75)
    assert found.corrected == close(30 * 1.29)
    assert found.value == 30


def test_nec_terminals_are_read_in_the_raceway_table_even_in_free_air() -> None:
    found = NEC.ampacity(AWG_10, 90, Surroundings(40, free_air=True), 75)
    assert found.base.value == 55
    assert found.corrected == close(55 * 0.91)
    assert found.value == 35


def test_nec_smallest_gauges_have_their_cap_for_terminal() -> None:
    found = NEC.ampacity(conductor_of_gauge("16"), 90, Surroundings(30))
    assert found.base.value == 18
    assert found.terminal_limit is not None
    assert found.terminal_limit.value == 10
    with pytest.raises(NotTabulated, match="no figure for 16 AWG at 75 °C"):
        NEC.ampacity(conductor_of_gauge("16"), 75, Surroundings(30), below=False)


def test_nec_bands_are_not_interpolated() -> None:
    for ambient, factor in ((30.0, 1.0), (30.1, 0.96), (35, 0.96), (35.5, 0.91), (90, 0.0)):
        assert NEC.ampacity(AWG_10, 90, Surroundings(ambient)).ambient_factor.value == factor


def test_nec_sources_name_table_row_and_column() -> None:
    found = NEC.ampacity(AWG_10, 90, Surroundings(40, loaded_conductors=6))
    assert found.base.source == "NEC Table 310.16, row 10 AWG, column 90 °C"
    assert found.ambient_factor.source == "NEC Table 310.15(B)(1)(1), row 36-40 °C, column 90 °C"
    assert found.bundling_factor.source == "NEC Table 310.15(C)(1), row 4-6 conductors"
    assert found.base.cited == found.base.source
    thick = NEC.ampacity(conductor_of_gauge("250 kcmil"), 90, Surroundings(30, free_air=True))
    assert thick.base.cited == "NEC Table 310.17, row 250 kcmil, column 90 °C (from memory)"


# Boats


def test_what_is_no_more_than_a_table_s_own_air_is_not_corrected() -> None:
    for code in (ABYC, ISO):
        assert code.ampacity(AWG_10, 90, Surroundings(30.0)).ambient_factor.what.startswith(
            "no correction"
        )
        assert code.ampacity(AWG_10, 90, Surroundings(30.1)).ambient_factor.own


def test_in_air_as_hot_as_the_insulation_no_heat_balance_is_told() -> None:
    for code in (NEC, IEC):
        found = code.ampacity(AWG_10, 90, Surroundings(90.0))
        assert found.ambient_factor.what.startswith("no current at 90 °C")
        assert not any("heat balance" in note for note in found.notes)


def test_abyc_outside_engine_spaces_the_law_is_our_own() -> None:
    found = ABYC.ampacity(AWG_10, 105, Surroundings(45))
    assert found.ambient_factor.value == close(math.sqrt(60 / 75))
    assert found.ambient_factor.own
    assert "our own extension" in found.ambient_factor.cited
    assert found.terminal_limit is None
    assert found.value == found.corrected
    assert ABYC.ampacity(AWG_10, 105, Surroundings(10)).value == 60


def test_abyc_engine_space() -> None:
    for ambient in (30, 40, 50):
        found = ABYC.ampacity(AWG_10, 75, Surroundings(ambient, engine_space=True))
        assert found.ambient_factor.value == 0.75
        assert found.notes == ()
    hotter = ABYC.ampacity(AWG_10, 105, Surroundings(85, engine_space=True)).ambient_factor
    assert hotter.value == close(math.sqrt(20 / 75))
    assert hotter.own


@pytest.mark.parametrize(
    ("count", "factor"), [(3, 0.7), (4, 0.6), (6, 0.6), (7, 0.5), (24, 0.5), (25, 0.4)]
)
@pytest.mark.parametrize("volts", [12, 50, 100])
def test_abyc_bundles_carry_less_at_every_voltage(count: int, factor: float, volts: float) -> None:
    place = Surroundings(30, loaded_conductors=count, circuit_voltage=volts)
    found = ABYC.ampacity(AWG_10, 105, place)
    assert found.bundling_factor.value == factor
    assert found.value == close(60 * factor)
    [note] = found.notes
    assert note.startswith(f"{count} loaded conductors together: the factors are read at every")
    assert "Editions differ" in note


def test_abyc_pairs_are_what_its_table_is_made_for() -> None:
    quiet = ABYC.ampacity(AWG_10, 105, Surroundings(30, loaded_conductors=2, circuit_voltage=60))
    assert quiet.bundling_factor.value == 1
    assert quiet.notes == ()


@pytest.mark.parametrize("insulation", [60, 70, 74])
def test_abyc_refuses_cool_insulation_in_an_engine_space(insulation: float) -> None:
    for ambient in (30, 50):
        place = Surroundings(ambient, engine_space=True)
        found = ABYC.ampacity(AWG_10, insulation, place)
        assert found.value == 0
        assert "not allowed in an engine space" in found.ambient_factor.what
        assert found.refused == found.ambient_factor.what
        elsewhere = ABYC.ampacity(AWG_10, insulation, Surroundings(ambient))
        assert elsewhere.value > 0
        assert elsewhere.refused is None
        assert ABYC.ampacity(AWG_10, 105, place).refused is None


def test_iso_engine_space() -> None:
    assert ISO.ampacity(SIX, 60, Surroundings(40, engine_space=True)).value == 0
    found = ISO.ampacity(SIX, 105, Surroundings(60, engine_space=True))
    assert found.ambient_factor.value == 0.86
    assert any("heat balance at 60 °C would allow 0.77" in note for note in found.notes)
    hotter = ISO.ampacity(SIX, 105, Surroundings(70, engine_space=True))
    assert hotter.ambient_factor.value == close(math.sqrt(35 / 75))


@pytest.mark.parametrize(("volts", "told"), [(50.0, False), (50.1, True)])
def test_iso_says_above_which_voltage_it_was_not_made(volts: float, told: bool) -> None:
    notes = ISO.ampacity(SIX, 90, Surroundings(30, circuit_voltage=volts)).notes
    assert any("above the 50 V" in note for note in notes) is told


def test_iso_says_what_it_lacks() -> None:
    found = ISO.ampacity(SIX, 90, Surroundings(30, loaded_conductors=6, circuit_voltage=60))
    assert found.bundling_factor.value == 0.6
    assert not found.bundling_factor.verified
    assert any("was not seen" in note for note in found.notes)
    three = ISO.ampacity(SIX, 90, Surroundings(30, loaded_conductors=3))
    assert three.bundling_factor.value == 1
    assert any("above the 50 V" in note for note in found.notes)


# International


def test_iec_methods() -> None:
    inside = IEC.ampacity(SIX, 90, Surroundings(30))
    free = IEC.ampacity(SIX, 90, Surroundings(30, free_air=True))
    thick = IEC.ampacity(ConductorSize(35.0), 90, Surroundings(30, free_air=True))
    clipped = IEC.ampacity(ConductorSize(35.0), 90, Surroundings(30, surface=True))
    assert (inside.value, free.value, thick.value, clipped.value) == (54, 58, 200, 171)
    assert "method B1" in inside.base.source
    assert "Table B.52.3" in inside.base.source
    assert "method C" in free.base.source
    assert "Table B.52.12, method F" in thick.base.source


def test_iec_takes_the_warmer_row_and_the_larger_group() -> None:
    assert IEC.ampacity(SIX, 90, Surroundings(41)).ambient_factor.value == 0.87
    assert IEC.ampacity(SIX, 70, Surroundings(70)).value == 0
    assert IEC.ampacity(SIX, 90, Surroundings(30, loaded_conductors=3)).bundling_factor.value == 0.8
    twenty = Surroundings(30, loaded_conductors=20)
    assert IEC.ampacity(SIX, 90, twenty).bundling_factor.value == 0.45  # 10 circuits: row 12
    with pytest.raises(NotTabulated, match="ends before 21 circuits"):
        IEC.ampacity(SIX, 90, Surroundings(30, loaded_conductors=41))


@pytest.mark.parametrize(
    ("insulation", "ambient", "engine", "factor"),
    [
        (90, 80, True, 0.41),  # as printed
        (105, 80, False, 0.41),  # read in the 90 °C column
        (105, 80, True, math.sqrt((105 - 80) / (105 - 30))),
        (125, 80, True, math.sqrt((125 - 80) / (125 - 30))),
        (125, 100, True, math.sqrt((125 - 100) / (125 - 30))),
        (105, 50, True, math.sqrt((105 - 50) / (105 - 30))),
        (105, 20, True, 1.08),  # cooler than the table: as printed
        (105, 105, True, 0.0),
    ],
)
def test_iec_cable_made_for_engine_spaces(
    insulation: float, ambient: float, engine: bool, factor: float
) -> None:
    """The figure stays that of the 90 °C column; its factor falls with what the cable stands."""
    cool = IEC.ampacity(ConductorSize(50.0), insulation, Surroundings(30))
    found = IEC.ampacity(
        ConductorSize(50.0), insulation, Surroundings(ambient, engine_space=engine)
    )
    assert found.base.value == cool.base.value
    assert found.ambient_factor.value == close(factor)
    assert any("in an engine space" in note for note in found.notes) == (
        engine and insulation > 90 and 30 < ambient < insulation
    )


def test_iec_insulation_of_60_degrees_is_scaled() -> None:
    for insulation in (60, 65):
        found = IEC.ampacity(SIX, insulation, Surroundings(40))
        assert found.value == close(41 * math.sqrt((60 - 40) / (70 - 30)))
        assert found.insulation_column == 60
        assert found.ambient_factor.own
        assert any("our own extension" in note for note in found.notes)
    assert IEC.ampacity(SIX, 60, Surroundings(60)).value == 0


def test_photovoltaic_cable_has_its_own_table() -> None:
    found = IEC.ampacity(SIX, 90, Surroundings(65), cable_kind="pv")
    assert found.insulation_column == 120
    assert found.value == close(57 * 0.91)
    assert any("long-life temperature" in note for note in found.notes)
    free = IEC.ampacity(SIX, 120, Surroundings(30, free_air=True), cable_kind="pv")
    assert free.value == 70
    assert any("keep the cables of the pair apart" in note for note in free.notes)
    assert IEC.ampacity(SIX, 90, Surroundings(91), cable_kind="pv").value == 0
    hot = IEC.ampacity(SIX, 120, Surroundings(100), cable_kind="pv")
    assert hot.value == close(57 * math.sqrt(20 / 60))
    assert IEC.ampacity(ConductorSize(120.0), 120, Surroundings(60), cable_kind="pv").value == 390


@pytest.mark.parametrize(("insulation", "told"), [(90, True), (119, True), (120, False)])
def test_photovoltaic_cable_that_is_declared_for_less_than_its_table(
    insulation: float, told: bool
) -> None:
    notes = IEC.ampacity(SIX, insulation, Surroundings(30), cable_kind="pv").notes
    assert any("long-life temperature" in note for note in notes) is told


def test_photovoltaic_in_name_only_is_read_as_other_cable() -> None:
    named = IEC.ampacity(SIX, 70, Surroundings(30), cable_kind="pv")
    assert named == IEC.ampacity(SIX, 70, Surroundings(30))


# Above the end of an ambient table


@pytest.mark.parametrize(
    ("name", "insulation", "ambient", "factor"),
    [
        ("iec", 90, 81, math.sqrt(9 / 60)),
        ("iec", 70, 62, math.sqrt(8 / 40)),
        ("nec-2023", 90, 86, math.sqrt(4 / 60)),
        ("nec-2023", 60, 57, math.sqrt(3 / 30)),
        ("nec-2023", 75, 71, math.sqrt(4 / 45)),
        ("as-nzs-3001", 90, 85, math.sqrt(5 / 60)),
    ],
)
def test_above_the_end_of_a_table_the_heat_balance_holds(
    name: str, insulation: float, ambient: float, factor: float
) -> None:
    found = body(name).ampacity(AWG_10, insulation, Surroundings(ambient))
    assert found.ambient_factor.value == close(factor)
    assert found.ambient_factor.own
    assert any("heat balance" in note and "ends at" in note for note in found.notes)
    assert body(name).largest_device(found)[0] > 0


@pytest.mark.parametrize(("name", "last"), [("iec", 0.41), ("nec-2023", 0.41)])
def test_better_insulation_than_the_column_carries_current_in_hot_air(
    name: str, last: float
) -> None:
    """105 °C cable is read in the 90 °C column, whose factors end before its insulation does."""
    near = body(name).ampacity(AWG_10, 105, Surroundings(80))
    assert near.ambient_factor.value == last
    hot = body(name).ampacity(AWG_10, 105, Surroundings(95))
    assert 0 < hot.ambient_factor.value <= last
    assert hot.ambient_factor.value <= math.sqrt(10 / 75) + 1e-9
    assert body(name).ampacity(AWG_10, 105, Surroundings(105)).value == 0


# Devices over conductors


def device(rules_name: str, ampacity: Ampacity) -> float:
    limit, why = body(rules_name).largest_device(ampacity)
    assert why.value == limit
    assert why.source
    return limit


@pytest.mark.parametrize(
    ("gauge", "terminal", "limit"),
    [
        ("10", 60, 30),
        ("10", 75, 30),  # the cap of 240.4(D), not the 35 A of the column
        ("8", 60, 40),
        ("6", 60, 60),  # 55 A: the next standard size
        ("6", 75, 70),  # 65 A
        ("2/0", 75, 175),
    ],
)
def test_nec_next_standard_size_and_caps(gauge: str, terminal: float, limit: float) -> None:
    found = NEC.ampacity(conductor_of_gauge(gauge), 90, Surroundings(30), terminal)
    assert device("nec-2023", found) == limit


def test_abyc_next_standard_size_within_150_percent() -> None:
    within = ABYC.ampacity(AWG_10, 105, Surroundings(45))  # 53.7 A
    assert device("abyc-e11", within) == 60
    exact = ABYC.ampacity(AWG_10, 105, Surroundings(30))
    assert device("abyc-e11", exact) == 60
    starved = ABYC.ampacity(conductor_of_gauge("18"), 60, Surroundings(59.9))  # 0.58 A
    assert device("abyc-e11", starved) == starved.value  # 1 A would be 173 %


def test_iec_and_iso_never_above_the_ampacity() -> None:
    for name in ("iec", "iso-13297"):
        found = body(name).ampacity(SIX, 90, Surroundings(45))
        assert device(name, found) == found.value


@given(st.sampled_from(known()), st.floats(20, 70), st.sampled_from([60, 75, 90, 105]))
def test_largest_device_grows_with_the_conductor(
    name: str, ambient: float, insulation: float
) -> None:
    rules = body(name)
    sizes = [size for size in rules.conductor_sizes() if 1.9 < size.area_mm2 < 100]
    place = Surroundings(ambient)
    limits = [device(name, rules.ampacity(size, insulation, place)) for size in sizes]
    assert limits == sorted(limits)
