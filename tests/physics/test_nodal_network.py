"""Networks of conductances: dividers and bridges by hand, the laws of Kirchhoff, what floats."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.nodal_network import Eliminated, SingularSystem

ohms = st.floats(1e-6, 1e3)


@given(st.floats(0.1, 500.0), ohms, ohms)
def test_a_divider(amps: float, upper: float, lower: float) -> None:
    network = Eliminated([("a", "b", 1.0 / upper), ("b", "0", 1.0 / lower)], ["0"])
    volts = network.voltages({"a": amps})
    assert volts["0"] == 0.0
    assert volts["b"] == pytest.approx(amps * lower, rel=1e-12)
    assert volts["a"] == pytest.approx(amps * (upper + lower), rel=1e-12)


def test_a_bridge() -> None:
    """1 A into a bridge of 1, 2, 3 and 4 ohm with 5 ohm across; node voltages by Cramer's rule.

    Unknown a (fed), b and c: a/1 + a/2 - b/1 - c/2 = 1; b(1 + 1/3 + 1/5) - a - c/5 = 0;
    c(1/2 + 1/4 + 1/5) - a/2 - b/5 = 0.
    """
    network = Eliminated(
        [("a", "b", 1.0), ("a", "c", 0.5), ("b", "0", 1 / 3), ("c", "0", 0.25), ("b", "c", 0.2)],
        ["0"],
    )
    volts = network.voltages({"a": 1.0})
    a, b, c = (volts[node] for node in "abc")
    assert 1.5 * a - b - 0.5 * c == pytest.approx(1.0)
    assert (1 + 1 / 3 + 0.2) * b - a - 0.2 * c == pytest.approx(0.0, abs=1e-12)
    assert 0.95 * c - 0.5 * a - 0.2 * b == pytest.approx(0.0, abs=1e-12)
    assert b / 3 + c / 4 == pytest.approx(1.0)


networks = st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7), ohms), max_size=25)


@given(networks, st.lists(st.floats(-50.0, 50.0), min_size=8, max_size=8))
def test_currents_into_every_node_cancel(
    drawn: list[tuple[int, int, float]], led: list[float]
) -> None:
    branches = [(k, k + 1, 1.0) for k in range(7)] + [(a, b, 1.0 / r) for a, b, r in drawn]
    volts = Eliminated(branches, [0]).voltages(dict(enumerate(led)))
    sums = dict(enumerate(led))
    scale = 1.0 + sum(abs(g) for _, _, g in branches) * max(map(abs, volts.values()))
    for a, b, siemens in branches:
        amps = siemens * (volts[a] - volts[b])
        sums[a] -= amps
        sums[b] += amps
    for node in range(1, 8):
        assert abs(sums[node]) < 1e-12 * scale


@given(networks)
def test_what_one_node_feels_of_another_is_mutual(drawn: list[tuple[int, int, float]]) -> None:
    """Reciprocity: the transfer resistance is the same both ways."""
    branches = [(k, k + 1, 1.0) for k in range(7)] + [(a, b, 1.0 / r) for a, b, r in drawn]
    network = Eliminated(branches, [0])
    there, back = network.voltages({3: 1.0})[6], network.voltages({6: 1.0})[3]
    assert there == pytest.approx(back, rel=1e-9)


@given(networks, st.dictionaries(st.integers(0, 9), st.floats(-50.0, 50.0), max_size=3))
def test_conductances_carry_what_voltages_drive(
    drawn: list[tuple[int, int, float]], led: dict[int, float]
) -> None:
    """Those that are left out carry nothing: trees that hang on the rest and are led nothing."""
    branches = [(k, k + 1, 1.0) for k in range(9)] + [(a, b, 1.0 / r) for a, b, r in drawn]
    volts, amps = Eliminated(branches, [0]).solve(led)
    driven = [(volts[a] - volts[b]) * siemens for a, b, siemens in branches]
    assert [amps.get(place, 0.0) for place in range(len(branches))] == driven
    assert list(amps) == sorted(amps)
    assert all(amps.values())


def test_only_what_a_current_passes_is_solved() -> None:
    """Two arms on one stem: what is led into the one leaves the other at the stem's voltage."""
    arms = [(f"{arm}{k}", f"{arm}{k + 1}", 2.0) for arm in "ab" for k in range(5)]
    stem = [("a0", "stem", 1.0), ("b0", "stem", 1.0), ("stem", "0", 0.5)]
    volts, amps = Eliminated([*arms, *stem], ["0"]).solve({"a5": 1.0})
    assert [volts[node] for node in ("a5", "a0", "stem", "b0", "b5")] == [5.5, 3.0, 2.0, 2.0, 2.0]
    assert amps == {**dict.fromkeys(range(5), -1.0), 10: 1.0, 12: 1.0}
    assert len(volts) == 14


def test_a_microhm_beside_a_gigaohm_costs_no_digits() -> None:
    network = Eliminated([("a", "b", 1e6), ("b", "c", 1e6), ("c", "0", 1e-9)], ["0"])
    volts = network.voltages({"a": 1e-3})
    assert volts["c"] == pytest.approx(1e6, rel=1e-12)
    assert all(math.isfinite(value) for value in volts.values())


@pytest.mark.parametrize(
    "branches",
    [
        [("a", "b", 1.0), ("c", "0", 1.0)],
        [("a", "b", 0.0), ("b", "0", 1.0)],
        [("a", "a", 1.0), ("b", "0", 1.0)],
    ],
)
def test_a_node_that_floats_is_told(branches: list[tuple[str, str, float]]) -> None:
    with pytest.raises(SingularSystem, match="no conductor leads from here"):
        Eliminated(branches, ["0"])


def test_a_network_of_thousands_of_nodes() -> None:
    """A line of a thousand rungs, as in a ladder: the far end lies at what a line of rungs has."""
    count = 1000
    rails = [(f"a{k}", f"a{k + 1}", 1.0) for k in range(count)]
    rungs = [(f"a{k}", "0", 1e-3) for k in range(count + 1)]
    trees = [(f"a{k}", f"t{k}-{j}", 1.0) for k in range(count) for j in range(3)]
    volts = Eliminated([*rails, *rungs, *trees], ["0"]).voltages({"a0": 1.0})
    root = math.acosh(1.0 + 1e-3 / 2.0)  # of a uniform line with 1 ohm rails, 1 kohm rungs
    expected = 1.0 / (1e-3 / 2.0 + math.sinh(root))
    assert volts["a0"] == pytest.approx(expected, rel=1e-9)
    assert volts["t7-2"] == pytest.approx(volts["a7"])


def test_nothing_to_solve() -> None:
    assert Eliminated([], ["0"]).voltages({}) == {"0": 0.0}
