"""The open-circuit voltage of each cell that a label stands for."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound
from wattproof.testing import study_of

CELLS = "module-cells-odd"


@pytest.mark.parametrize(
    ("cells", "expected"), [("44", []), ("45", ["note"]), ("32", []), ("31", ["note"])]
)
def test_cells_within_and_outside_the_band(cells: str, expected: list[str]) -> None:
    """24.3 V over 44 cells is 0.552 V, over 45 0.540 V, over 32 0.759 V, over 31 0.784 V."""
    plan = edited(("cells_in_series: 36", f"cells_in_series: {cells}"), plan=sound(CELLS))
    assert levels(plan, CELLS) == expected


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ("72", "36 in series would fit"),
        ("18", "36 in series would fit"),
        ("200", "it has 32 to 44 cells in series"),
    ],
)
def test_the_likely_count_is_told(cells: str, words: str) -> None:
    plan = edited(("cells_in_series: 36", f"cells_in_series: {cells}"), plan=sound(CELLS))
    assert words in found(plan, CELLS)[0].remedy


def test_thin_film_is_exempt() -> None:
    plan = edited(
        ("cells_in_series: 72", "cells_in_series: 72, technology: thin-film"), plan=faulty(CELLS)
    )
    assert not found(plan, CELLS)


@pytest.mark.parametrize(
    ("mounting", "factor"),
    [("open-rack", 1.0945), ("roof-gap", 1.0945), ("roof-bonded", 1.0), ("ground", 1.0)],
)
def test_the_back_adds_to_the_current_where_light_reaches_it(mounting: str, factor: float) -> None:
    """IEC 61215-1:2021 (from memory): 135 W/m² on the back with 1000 W/m²; 1 + 0.7 × 0.135."""
    plan = edited(
        ("cells_in_series: 36", "cells_in_series: 36, bifaciality: 70 %"),
        ("mounting: roof-gap", f"mounting: {mounting}"),
        plan=sound(CELLS),
    )
    [array] = study_of(plan).array.arrays
    assert array.isc("bright").number == pytest.approx(1.25 * 5.2 * factor)
    assert array.isc("standard").number == pytest.approx(5.2)


def test_its_fuse_grows_with_it() -> None:
    plan = edited(
        ("cells_in_series: 36", "cells_in_series: 36, bifaciality: 70 %"), plan=sound(CELLS)
    )
    [array] = study_of(plan).array.arrays
    window = array.all_strings[0].fuse_window
    assert window.lower.number == pytest.approx(1.5625 * 5.2 * 1.0945, rel=1e-3)


def test_an_unstated_mounting_is_an_assumption() -> None:
    plan = edited(
        ("cells_in_series: 36", "cells_in_series: 36, bifaciality: 70 %"),
        (", mounting: roof-gap", ""),
        plan=sound(CELLS),
    )
    [array] = study_of(plan).array.arrays
    [assumption] = array.isc("bright").assumptions
    assert (assumption.key, assumption.instead) == ("mounting", "mounting")


@pytest.mark.parametrize(("cells", "level"), [("25", "note"), ("24", "warning"), ("12", "warning")])
def test_more_than_a_volt_a_cell_is_the_label_of_a_string(cells: str, level: str) -> None:
    """24.3 V over 25 cells is 0.97 V, over 24 1.01 V: no cell of silicon gives that."""
    plan = edited(("cells_in_series: 36", f"cells_in_series: {cells}"), plan=sound(CELLS))
    assert levels(plan, CELLS) == [level]
