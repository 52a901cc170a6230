"""Labels that contradict themselves, fill factors, and plugs that can be touched, by hand."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.study.array.connectors import has_bare, within_reach
from wattproof.study.array.labels import contradictions, fill_factor, odd_fill_factor
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.testing import study_of

LABEL = "vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"


def module(label: str = LABEL) -> ModuleStudy:
    [array] = study_of(edited((LABEL, label))).array.arrays
    return array.modules[0]


def test_the_fill_factor_by_hand() -> None:
    """100 W of 24.3 V times 5.2 A are 0.791."""
    found = fill_factor(module(), module().pmax, "FF")
    assert found.number == pytest.approx(100.0 / (24.3 * 5.2))
    assert found.symbol == "FF"
    assert "fill factor of rigid-100" in found.words


def test_an_odd_fill_factor_is_told_unless_the_power_contradicts_it() -> None:
    """15 V times 4 A are 60 W, 0.475 of 126.4 W; with 75 W printed the label contradicts itself."""
    assert odd_fill_factor(module()) is None
    assert odd_fill_factor(module("vmp: 15.0 V, isc: 5.2 A, imp: 4.0 A, pmax: 60 W")) is not None
    assert odd_fill_factor(module("vmp: 15.0 V, isc: 5.2 A, imp: 4.0 A, pmax: 75 W")) is None


def test_voltage_by_power_over_the_open_one_is_a_contradiction() -> None:
    """130 W over 4.9 A are 26.5 V, more than the 24.3 V that nothing connected gives."""
    told = contradictions(module(LABEL.replace("100 W", "130 W")))
    points = {c.power_point.symbol: (c.power_point.number, c.limit.number) for c in told}
    assert points == {
        "Pmax/Vmp": (pytest.approx(130.0 / 20.4), 5.2),
        "Pmax/Imp": (pytest.approx(130.0 / 4.9), 24.3),
    }
    assert not contradictions(module())


def string(connector: str = "", place: str = "", wet: str = "") -> tuple[StringStudy, bool]:
    edits = []
    if connector:
        edits.append(("max_series_fuse: 15 A", f"connector: {connector}, max_series_fuse: 15 A"))
    if place:
        edits.append(("mounting: roof-gap", f"mounting: roof-gap, place: {place}"))
    if wet:
        edits.append(("sunlight: true", f"sunlight: true, wet: {wet}"))
    study = study_of(edited(*edits))
    [array] = study.array.arrays
    [found] = array.all_strings
    return found, within_reach(found, study.plan, bare=has_bare(found))


@pytest.mark.parametrize(
    ("connector", "bare"),
    [
        ("{style: ring terminal}", True),
        ("{style: locking}", False),
        ("{rating: 30 A}", False),
        ("", False),
    ],
)
def test_plugs_whose_contacts_can_be_touched(connector: str, bare: bool) -> None:
    assert has_bare(string(connector)[0]) is bare


def test_bare_plugs_are_in_reach_where_it_is_wet() -> None:
    bare = "{style: ring terminal}"
    assert string(bare, "roof", "true")[1]
    assert not string(bare, "roof", "false")[1]
    assert not string(bare)[1]
    assert not string("", "roof", "true")[1]
