"""DC converters, by what hangs on them."""

from __future__ import annotations

import pytest

from rule_runs import found, sound

RULE = "converter-overloaded"


@pytest.mark.parametrize(("amps", "count"), [("8 A", 0), ("8.1 A", 1)])
def test_at_the_rating(amps: str, count: int) -> None:
    plan = sound(RULE, ("radio: {current: 6 A", f"radio: {{current: {amps}"))
    assert len(found(plan, RULE)) == count


def test_all_that_hangs_on_it_counts_together() -> None:
    lamp = (
        ("loads:\n", "loads:\n  lamp: {current: 3 A, nominal: 24 V}\n"),
        ("wires:\n", "wires:\n  lamp-run: {from: step-up.output, to: lamp, cable: pv-10, "
                     "length: 2 m, place: cabin}\n"),
    )  # fmt: skip
    [finding] = found(sound(RULE, *lamp), RULE)
    assert [value.number for value in finding.values] == [9.0, 8.0]
    assert "a converter of at least 9 A" in finding.remedy


def test_an_output_that_nobody_tells_is_assumed() -> None:
    """Of what is told it is said as a label says it."""
    heavy = ("radio: {current: 6 A", "radio: {current: 60 A")
    [told] = found(sound(RULE, heavy), RULE)
    assert told.message.endswith("8 A is the most that it gives")
    [untold] = found(sound(RULE, heavy, ("output_current: 8 A", "output_current: unknown")), RULE)
    assert untold.message.endswith(" is assumed to be the most that it gives")
