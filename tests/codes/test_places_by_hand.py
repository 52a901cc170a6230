"""Where a size, a temperature or a rating falls in a table, in tables of few rows."""

from __future__ import annotations

import pytest

from wattproof.codes import Bodies, body, resistance, style
from wattproof.codes.cable_types import cable_type
from wattproof.codes.demands import bond_size
from wattproof.codes.devices import (
    largest_device,
    next_rating,
    previous_rating,
)
from wattproof.codes.factors import _above
from wattproof.codes.figures import figure
from wattproof.codes.grids import REACH, TOLERANCE, Grid, grid
from wattproof.codes.small import EXPONENT, told_down
from wattproof.codes.styles import DeviceStyle
from wattproof.codes.values import Ampacity, NotTabulated, Surroundings, TableValue
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge

SMALL, MIDDLE, LARGE = ConductorSize(2.0), ConductorSize(4.0), ConductorSize(10.0)
GAUGE = conductor_of_gauge("8")


def of(value: float, unit: str = "A", seen: bool = True) -> TableValue:
    return TableValue(value, unit, "what", "source", seen)


SQUARE = Grid(
    "made up",
    (SMALL, MIDDLE, LARGE),
    (70.0, 90.0),
    {(SMALL, 70.0): of(20.0), (MIDDLE, 90.0): of(35.0)},
)


@pytest.mark.parametrize(
    ("area", "row"),
    [
        (2.0, SMALL),
        (2.0 * (1 - 0.9 * TOLERANCE), SMALL),
        (3.999, SMALL),
        (4.0, MIDDLE),
        (4.0 * (1 - 0.9 * TOLERANCE), MIDDLE),
        (4.0 * (1 - 1.5 * TOLERANCE), SMALL),
        (9.0, MIDDLE),
        (10.0 * REACH, LARGE),
        (1.999, None),
        (10.0 * REACH * 1.001, None),
    ],
)
def test_a_size_is_read_in_its_row_or_the_next_smaller(
    area: float, row: ConductorSize | None
) -> None:
    if row is None:
        with pytest.raises(NotTabulated, match="er than"):
            SQUARE.fit_size(ConductorSize(area))
        return
    used, notes = SQUARE.fit_size(ConductorSize(area))
    assert used == row
    is_own = abs(area - row.area_mm2) <= TOLERANCE * row.area_mm2
    assert bool(notes) is not is_own


def test_what_is_said_of_a_size_that_is_read_in_another_row() -> None:
    """A gauge is told with its area, a size in mm² is its own."""
    [note] = SQUARE.fit_size(GAUGE)[1]
    assert note == (
        "made up has no 8 AWG (8.366 mm²): read as 4 mm², the largest size that is not larger"
    )
    [note] = SQUARE.fit_size(ConductorSize(5.0))[1]
    assert "has no 5 mm²: read as 4 mm²" in note
    gauges = Grid("gauges", (conductor_of_gauge("10"), GAUGE), (70.0,), {})
    assert gauges.fit_size(GAUGE) == (GAUGE, ())
    [note] = gauges.fit_size(ConductorSize(8.0))[1]
    assert "has no 8 mm²: read as 10 AWG (5.261 mm²)" in note
    [note] = gauges.fit_size(ConductorSize(GAUGE.area_mm2))[1]
    assert "read as 8 AWG (8.366 mm²)" in note


@pytest.mark.parametrize(
    ("insulation", "column", "told"),
    [
        (70.0, 70.0, False),
        (70.0 - 0.9 * TOLERANCE, 70.0, False),
        (70.0 + 0.9 * TOLERANCE, 70.0, False),
        (75.0, 70.0, True),
        (89.0, 70.0, True),
        (90.0, 90.0, False),
        (105.0, 90.0, True),
        (69.0, None, False),
    ],
)
def test_insulation_is_read_in_its_column_or_the_next_lower(
    insulation: float, column: float | None, told: bool
) -> None:
    if column is None:
        with pytest.raises(NotTabulated, match="its lowest is 70 °C"):
            SQUARE.fit_column(insulation)
        return
    used, notes = SQUARE.fit_column(insulation)
    assert used == column
    assert bool(notes) is told


def test_a_cell_that_is_empty_says_so() -> None:
    assert SQUARE.at(SMALL, 70.0).value == 20.0
    with pytest.raises(NotTabulated, match="no figure for 2 mm² at 90 °C"):
        SQUARE.at(SMALL, 90.0)


def test_a_table_that_holds_several_is_read_by_its_rows() -> None:
    """EN 50618: 4 mm² free in air 55 A, of two beside each other on a surface 44 A."""
    free = grid("en-50618-ampacity", "arrangement", "single-in-free-air", ", free")
    beside = grid("en-50618-ampacity", "arrangement", "two-adjacent-on-surface")
    [row] = [size for size in free.sizes if size.area_mm2 == 4.0]
    assert free.at(row, free.columns[0]).value == 55.0
    assert beside.at(row, beside.columns[0]).value == 44.0
    assert free.source.endswith(", free")
    assert list(free.sizes) == sorted(free.sizes, key=lambda size: size.area_mm2)


STANDARD = (10.0, 20.0, 32.0, 50.0)


@pytest.mark.parametrize(
    ("amps", "above", "below"),
    [
        (5.0, 10.0, None),
        (10.0, 10.0, 10.0),
        (10.0 * (1 + 0.9e-9), 10.0, 10.0),
        (10.0 * (1 - 0.9e-9), 10.0, 10.0),
        (10.0001, 20.0, 10.0),
        (31.9999, 32.0, 20.0),
        (50.0, 50.0, 50.0),
        (51.0, None, 50.0),
    ],
)
def test_the_ratings_beside_a_current(
    amps: float, above: float | None, below: float | None
) -> None:
    for find, found in ((next_rating, above), (previous_rating, below)):
        if found is None:
            with pytest.raises(NotTabulated):
                find(STANDARD, amps)
        else:
            assert find(STANDARD, amps) == found


def carrying(amps: float) -> Ampacity:
    return Ampacity(LARGE, of(amps), of(1.0, ""), of(1.0, ""), None, 70.0, ())


SAID = {"source": "clause", "source_above": "beyond", "verified": True}


@pytest.mark.parametrize(
    ("amps", "most"),
    [
        (0.0, 0.0),
        (10.0, 10.0),
        (15.0, 15.0),  # 20 A are 1.33 times
        (16.0, 20.0),  # 20 A are 1.25 times
        (25.6, 32.0),
        (25.5, 25.5),
        (60.0, 60.0),
    ],
)
def test_the_next_rating_within_a_share_of_what_it_carries(amps: float, most: float) -> None:
    rules = {"rule": "next-standard-size-to-share", "share": 1.25, **SAID}
    found = largest_device(rules, STANDARD, carrying(amps))
    assert (found.value, found.unit, found.verified) == (most, "A", True)


def test_not_above_what_it_carries() -> None:
    found = largest_device({"rule": "not-above", **SAID}, STANDARD, carrying(17.0))
    assert found.value == 17.0
    with pytest.raises(ValueError, match="is not a rule"):
        largest_device({"rule": "other", **SAID}, STANDARD, carrying(17.0))


@pytest.mark.parametrize(
    ("amps", "most", "source"),
    [
        (30.0, 32.0, "clause"),
        (40.0, 50.0, "clause"),
        (40.1, 40.1, "beyond"),
        (32.0, 32.0, "clause"),
    ],
)
def test_the_next_rating_up_to_a_limit(amps: float, most: float, source: str) -> None:
    rules = {
        "rule": "next-standard-size",
        "up_to": 40.0,
        "small_conductor_table": "nec-240-4-d-small-conductors",
        **SAID,
    }
    found = largest_device(rules, STANDARD, carrying(amps))
    assert (found.value, found.source) == (most, source)


def test_a_style_opens_in_time_by_the_factor_of_its_rating() -> None:
    """1.9 times its rating up to 16 A, 1.6 times above, within 1.45 times what a wire carries.

    For 17.6 A the second factor gives 15.95 A, which is in the reach of the first alone: 13.4 A.
    """
    made = DeviceStyle(
        "made", "made up", "fuse", None, ((32.0, of(2000.0)), (58.0, of(1000.0))), None, False,
        trips=((16.0, of(1.9, "")), (float("inf"), of(1.6, "", seen=False))),
    )  # fmt: skip
    share = of(1.45, "")
    for amps, rating, seen in (
        (25.0, 1.45 * 25 / 1.6, False),
        (18.0, 1.45 * 18 / 1.6, False),
        (17.6, 1.45 * 17.6 / 1.9, True),
        (30.0, 1.45 * 30 / 1.6, False),
    ):
        found = made.trips_within(share, amps)
        assert found is not None
        assert found.value == pytest.approx(rating)
        assert found.verified is seen
    assert made._replace(trips=()).trips_within(share, 20.0) is None
    for volts, amps_broken in ((12.0, 2000.0), (32.0, 2000.0), (32.1, 1000.0), (58.0, 1000.0)):
        current = made.interrupt_at(volts)
        assert current is not None
        assert current.value == amps_broken
    assert made.interrupt_at(58.1) is None


def test_a_size_below_the_table_is_told_down_by_its_area() -> None:
    """A quarter of the area: 0.25 to the 0.625th are 0.42, of the base and of its terminals."""
    row = Ampacity(SMALL, of(20.0), of(0.9, ""), of(0.8, ""), of(15.0), 70.0, ("before",))
    found = told_down(row, ConductorSize(0.5))
    share = 0.25**EXPONENT
    assert found.base.value == pytest.approx(20.0 * share)
    assert found.terminal_limit is not None
    assert found.terminal_limit.value == pytest.approx(15.0 * share)
    assert found.base.own
    assert found.terminal_limit.own
    assert found.size_used.area_mm2 == 0.5
    assert [note.startswith("0.5 mm² is smaller than 2 mm²") for note in found.notes] == [
        False,
        True,
    ]
    assert told_down(row._replace(terminal_limit=None), SMALL).terminal_limit is None


MADE = tuple(conductor_of_gauge(str(k)) for k in (12, 10, 9, 8, 6))
BOND = {"source": "clause", "verified": True}


@pytest.mark.parametrize(
    ("largest", "size"),
    [
        (None, None),
        (13.3, "8 AWG"),
        (8.37, "10 AWG"),
        (8.36, "10 AWG"),
        (5.27, "12 AWG"),
        (3.3, None),
    ],
)
def test_a_tie_one_size_below_the_largest_negative(largest: float | None, size: str | None) -> None:
    """9 AWG is not made; two tables print one gauge up to 0.2 % apart."""
    entry = {"rule": "one-size-below", "not_made": ["9"], "settings": ["boat"], **BOND}
    found = bond_size({"bond": entry}, MADE, "boat", largest)
    assert (found.size.name if found is not None else None) == size
    assert bond_size({"bond": entry}, MADE, "vehicle", largest) is None
    assert bond_size({}, MADE, "boat", largest) is None


def test_a_tie_of_a_least_size() -> None:
    found = bond_size({"bond": {"rule": "least", "gauge": "8", **BOND}}, MADE, "cabin", None)
    assert found is not None
    assert (found.size.name, found.figure.unit) == ("8 AWG", "mm²")
    assert found.figure.value == found.size.area_mm2


@pytest.mark.parametrize(
    ("low", "high", "amps", "rating"),
    [
        (1.9, 1.6, 16.0, 1.6 * 16 / 1.9),  # 16 A is still in the reach of the first factor
        (1.9, 1.6, 16.1, 1.6 * 16.1 / 1.6),
        (1.6, 2.0, 18.0, 16.0),  # by the second 14.4 A, by the first no more than its reach
        (1.6, 2.0, 21.0, 16.8),
    ],
)
def test_a_factor_counts_up_to_where_the_next_begins(
    low: float, high: float, amps: float, rating: float
) -> None:
    trips = ((16.0, of(low, "")), (float("inf"), of(high, "")))
    made = DeviceStyle("made", "made up", "fuse", None, (), None, False, trips=trips)
    found = made.trips_within(of(1.6, ""), amps)
    assert found is not None
    assert found.value == pytest.approx(rating)


def test_whether_a_figure_was_seen_goes_with_it() -> None:
    """What we reckon ourselves was seen nowhere; that there is nothing to correct needs no source.

    NEC 310.15(B)(1)(1) ends at 85 °C for 90 °C insulation; ABYC E-11 begins at 30 °C.
    """
    nec = body("nec-2023")
    size = conductor_of_gauge("8")
    hot = nec.ampacity(size, 90.0, Surroundings(90.0)).ambient_factor
    assert (hot.value, hot.verified, hot.own) == (0.0, True, False)
    law = nec.ampacity(size, 90.0, Surroundings(88.0)).ambient_factor
    assert law.value == pytest.approx(((90.0 - 88.0) / (90.0 - 30.0)) ** 0.5)
    assert (law.verified, law.own) == (False, True)
    cool = body("abyc-e11").ampacity(size, 105.0, Surroundings(30.0)).ambient_factor
    assert (cool.value, cool.verified) == (1.0, True)
    warm = nec.voltage_factor(25.0)
    assert warm is not None
    assert (warm.value, warm.verified) == (1.0, True)
    odd, _, _ = resistance(ConductorSize(8.0))
    assert (odd.verified, odd.own) == (False, True)
    plain = figure({"value": 3, "what": "what", "source": "source", "verified": True})
    assert (plain.value, plain.unit, plain.verified, plain.own) == (3.0, "", True, False)
    demands = nec.building_demands
    limits = [each.from_volts for each in demands if each.from_volts is not None]
    assert limits
    assert not any(limit.verified for limit in limits)
    blade = style("blade")
    assert blade.highest is not None
    assert blade.smallest is not None
    assert (blade.highest.value, blade.highest.verified) == (80.0, False)
    assert (blade.smallest.value, blade.smallest.verified) == (1.0, False)


def test_where_a_law_gives_more_than_the_last_row_the_last_row_stands() -> None:
    """At 31 °C a table of one row, for 30 °C and 0.5, is not passed by the law's 0.99."""
    rows = [(30.0, {"factor": "1.0"}), (30.5, {"factor": "0.5", "ambient_c": "30.5",
            "verified": "yes"})]  # fmt: skip
    found, notes = _above("made up", 90.0, 90.0, 31.0, rows)
    assert (found.value, found.verified, found.own) == (0.5, True, True)
    assert len(notes) == 1


def test_a_rating_below_an_ampere_opens_in_time_too() -> None:
    made = DeviceStyle("made", "made up", "fuse", None, (), None, False,
                       trips=((float("inf"), of(1.6, "")),))  # fmt: skip
    found = made.trips_within(of(1.6, ""), 0.5)
    assert found is not None
    assert found.value == 0.5


@pytest.mark.parametrize(("area", "size"), [(3.31 * 1.0019, None), (3.31 * 1.003, "12 AWG")])
def test_two_tables_print_one_gauge_up_to_a_fifth_of_a_per_cent_apart(
    area: float, size: str | None
) -> None:
    entry = {"rule": "one-size-below", "not_made": [], **BOND}
    made = (ConductorSize(3.31, "12"),)
    found = bond_size({"bond": entry}, made, "boat", area)
    assert (found.size.name if found is not None else None) == size
    assert bond_size({"bond": entry}, made, "boat", 3.31 * 1.1) is not None


@pytest.mark.parametrize(
    ("printed", "outdoor", "burial"),
    [("H1Z2Z2-K", True, None), ("PV1-F", True, False), ("USE-2", True, True)],
)
def test_what_a_designation_says_of_sun_and_ground(
    printed: str, outdoor: bool | None, burial: bool | None
) -> None:
    found = cable_type(printed)
    assert found is not None
    assert (found.outdoor, found.direct_burial) == (outdoor, burial)


@pytest.mark.parametrize(("share", "told"), [(0.979, True), (0.981, False)])
def test_a_printed_factor_may_lie_two_per_cent_above_the_law_without_remark(
    share: float, told: bool
) -> None:
    """ISO 13297 prints 0.86 for 105 °C; the law gives sqrt((105 - t) / 75)."""
    air = 105.0 - (0.86 * share) ** 2 * 75.0
    assert air < 60.0
    around = Surroundings(air, engine_space=True)
    found = body("iso-13297").ampacity(conductor_of_gauge("8"), 105.0, around)
    assert found.ambient_factor.value == 0.86
    assert any("would allow" in note for note in found.notes) is told


def test_what_else_may_hold_in_a_vehicle_is_the_marine_body_beside_that_for_buildings() -> None:
    nec = body("nec-2023")
    found = [each.id for each in Bodies(nec, nec).others_in("vehicle")]
    assert found == ["as-nzs-3001", "iec", "{array: nec-2023, battery: abyc-e11}"]
