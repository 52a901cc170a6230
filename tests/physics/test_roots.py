"""Root finding where the functions of this package are hard: steep, flat, with a jump."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.roots import bracketed_root, newton_from_above


@given(st.floats(-50.0, 50.0), st.floats(0.1, 60.0), st.floats(0.1, 60.0))
def test_steep_exponential(root: float, left: float, right: float) -> None:
    found = bracketed_root(lambda x: math.expm1(x - root), root - left, root + right)
    assert found == pytest.approx(root, rel=1e-12, abs=1e-12)


@given(st.floats(-1e3, 1e3), st.floats(1e-3, 1e3))
def test_flat_cubic_from_either_end(root: float, width: float) -> None:
    low, high = root - width, root + 2.0 * width
    for ends in ((low, high), (high, low)):
        found = bracketed_root(lambda x: (x - root) ** 3, *ends)
        assert min(ends) <= found <= max(ends)
        assert abs(found - root) <= 1e-4 * width + 1e-9 * abs(root)


def test_zero_at_an_end() -> None:
    assert bracketed_root(lambda x: x, 0.0, 5.0) == 0.0
    assert bracketed_root(lambda x: x - 5.0, 0.0, 5.0) == 5.0


def test_a_jump_is_found() -> None:
    found = bracketed_root(lambda x: -1.0 if x < 0.3 else 1.0, 0.0, 1.0)
    assert found == pytest.approx(0.3, abs=1e-12)


def test_no_change_of_sign_is_refused() -> None:
    with pytest.raises(ValueError, match="same sign"):
        bracketed_root(lambda x: x * x + 1.0, -1.0, 1.0)


@given(st.floats(-20.0, 20.0), st.floats(0.0, 40.0))
def test_newton_from_above(root: float, distance: float) -> None:
    def step(x: float) -> float:
        return math.expm1(x - root) / math.exp(x - root)

    found = newton_from_above(step, root - 1.0, root + distance)
    assert found == pytest.approx(root, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("absolute", "trials"), [(0.25, 1), (0.24, 2), (0.125, 2), (0.1, 3)])
def test_it_ends_as_soon_as_the_bracket_is_as_narrow_as_was_asked(
    absolute: float, trials: int
) -> None:
    """Halves of 1 round a jump at 0.3, until no wider than twice what may be missed."""
    asked: list[float] = []

    def jump(x: float) -> float:
        asked.append(x)
        return -1.0 if x < 0.3 else 3.0

    found = bracketed_root(jump, 0.0, 1.0, relative=0.0, absolute=absolute)
    assert len(asked) == 2 + trials
    assert jump(found) == -1.0  # the end at which less is left
    assert abs(found - 0.3) <= 2.0 * absolute


def test_it_ends_where_floating_point_does() -> None:
    asked: list[float] = []

    def jump(x: float) -> float:
        asked.append(x)
        return -1.0 if x < 0.3 else 1.0

    found = bracketed_root(jump, 0.0, 1.0, relative=0.0)
    assert found == pytest.approx(0.3, rel=4e-16)
    assert len(asked) < 120


def test_newton_never_leaves_its_bounds() -> None:
    assert newton_from_above(lambda x: x + 5.0, 0.0, 10.0) == 0.0
