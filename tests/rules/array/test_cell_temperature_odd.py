"""Temperatures of cells as told, against the air and what modules reach."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import sound


def test_an_array_that_stands_hot_has_the_rise_of_its_label() -> None:
    """(45 °C − 20 °C) / 0.8 = 31.25 K over 40 °C of air, in an open rack."""
    plan = sound("cell-temperature-odd")
    told = edited((",\n                hottest_cells: 72 °C", ""),
                  ("mounting: roof-gap", "mounting: open-rack"), plan=plan)  # fmt: skip
    from wattproof.testing import study_of

    [array] = study_of(told).array.arrays
    assert array.all_strings[0].cells("hottest").number == pytest.approx(71.25)
    [array] = study_of(plan).array.arrays
    assert array.all_strings[0].cells("hottest").number == 72.0
