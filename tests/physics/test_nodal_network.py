"""Networks of resistances and sources: a divider by hand, and the laws of Kirchhoff."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.nodal_network import (
    Branch,
    SingularSystem,
    branch_current,
    current_into,
    node_voltages,
)

ohms = st.floats(1e-4, 1e3)


@given(st.floats(0.0, 60.0), ohms, ohms)
def test_voltage_divider(emf: float, upper: float, lower: float) -> None:
    branches = [Branch("0", "a", 1.0 / upper, emf / upper), Branch("a", "0", 1.0 / lower)]
    voltages = node_voltages(branches, frozenset({"0"}))
    assert voltages["a"] == pytest.approx(emf * lower / (upper + lower), rel=1e-9)
    assert branch_current(branches[1], voltages) == pytest.approx(emf / (upper + lower), rel=1e-9)


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5), ohms, st.floats(-50, 50))))
def test_currents_into_every_node_cancel(
    drawn: list[tuple[int, int, float, float]],
) -> None:
    chain = [Branch(f"{k}", f"{k + 1}", 1.0) for k in range(5)]
    branches = chain + [
        Branch(f"{a}", f"{b}", 1.0 / r, pushed) for a, b, r, pushed in drawn if a != b
    ]
    voltages = node_voltages(branches, frozenset({"0"}))
    for node in voltages:
        if node != "0":
            assert current_into(node, branches, voltages) == pytest.approx(0.0, abs=1e-6)


def test_a_node_that_floats() -> None:
    with pytest.raises(SingularSystem):
        node_voltages([Branch("a", "b", 1.0), Branch("c", "0", 1.0)], frozenset({"0"}))
