"""Systems of linear equations: the solution solves, singular ones are refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.linear_equations import SingularSystem, solve_linear

values = st.floats(-10.0, 10.0)


@given(
    st.integers(1, 8).flatmap(
        lambda n: st.tuples(
            st.lists(st.lists(values, min_size=n, max_size=n), min_size=n, max_size=n),
            st.lists(values, min_size=n, max_size=n),
        )
    )
)
def test_the_solution_solves(system: tuple[list[list[float]], list[float]]) -> None:
    """Rows made dominant by their diagonal, so that every system has one solution."""
    matrix, wanted = system
    for index, row in enumerate(matrix):
        row[index] = 1.0 + sum(abs(element) for element in row)
    right = [sum(a * x for a, x in zip(row, wanted, strict=True)) for row in matrix]
    before = [list(row) for row in matrix]
    assert solve_linear(matrix, right) == pytest.approx(wanted, rel=1e-9, abs=1e-9)
    assert matrix == before


def test_pivoting() -> None:
    assert solve_linear([[0.0, 1.0], [1.0, 0.0]], [2.0, 3.0]) == [3.0, 2.0]
    small = solve_linear([[1e-20, 1.0], [1.0, 1.0]], [1.0, 2.0])
    assert small == pytest.approx([1.0, 1.0])


def test_nothing_to_solve() -> None:
    assert solve_linear([], []) == []


def test_singular_and_misshapen() -> None:
    with pytest.raises(SingularSystem):
        solve_linear([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0])
    with pytest.raises(SingularSystem):
        solve_linear([[0.0]], [1.0])
    with pytest.raises(ValueError, match="square"):
        solve_linear([[1.0, 2.0]], [1.0])
