"""Of every test some cases are taken, of the small ones all, and in their order."""

from __future__ import annotations

import pytest

from taken import AT_MOST, spread, taken

TESTS = [*(f"many[{k}]" for k in range(100)), "one", *(f"few[{k}]" for k in range(AT_MOST))]


def test_each_test_is_there_and_of_the_large_ones_the_first_and_the_last_case() -> None:
    found = taken(TESTS, lambda test: test.partition("[")[0])
    assert found == ["many[0]", "many[49]", "many[99]", "one", "few[0]", "few[1]", "few[2]"]


@pytest.mark.parametrize("count", [0, 1, AT_MOST, AT_MOST + 1, 1000])
def test_no_more_are_taken_than_there_may_be_and_none_twice(count: int) -> None:
    found = spread(range(count))
    assert len(set(found)) == len(found) == min(count, AT_MOST)
