"""At what temperature the acid of lead batteries freezes."""

from __future__ import annotations

import pytest

from wattproof.physics.lead_acid import FREEZING, charge_that_bears, freezing_point


@pytest.mark.parametrize(
    ("charge", "freezes"), [(0.0, -7.0), (0.2, -13.4), (0.5, -25.0), (1.0, -60.0), (1.2, -60.0)]
)
def test_the_fuller_the_colder(charge: float, freezes: float) -> None:
    assert freezing_point(charge) == pytest.approx(freezes)


@pytest.mark.parametrize("charge", [charge for charge, _ in FREEZING] + [0.1, 0.33, 0.6, 0.9])
def test_both_ways_agree(charge: float) -> None:
    assert charge_that_bears(freezing_point(charge)) == pytest.approx(charge)


def test_no_charge_is_needed_where_it_is_mild_and_none_helps_in_the_greatest_cold() -> None:
    assert charge_that_bears(0.0) == 0.0
    assert charge_that_bears(-61.0) is None
