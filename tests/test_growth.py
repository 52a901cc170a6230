"""How the work of a check grows with a plan: in step with it, and never with its square.

Time depends on the machine, so calls of functions are counted, and turns of comprehensions with
them. Strings, leads and fuses grow together, or loads, wires and fuses, no two wires alike.
"""

from __future__ import annotations

import cProfile
import pstats
from collections import Counter
from collections.abc import Callable

import pytest

from benchmarks.growth import plan_text, text_of_loads
from wattproof.engine import examine
from wattproof.packs import discover
from wattproof.testing import A_DAY

BEYOND = 1.25  # times as much as in step with the plan, for what depends on the logarithm
SELDOM = 3_000  # calls below which a function is not looked at


def calls(text: str) -> Counter[str]:
    """Calls of each function in one check of a plan, without its trials."""
    rules = discover()
    profile = cProfile.Profile()
    profile.runcall(
        examine, "plan.yaml", rules, today=A_DAY, text=text, try_remedies=False, ask=False
    )
    counted: Counter[str] = Counter()
    for (file, line, name), (_, ncalls, *_) in pstats.Stats(profile).stats.items():  # type: ignore[attr-defined]
        if line:  # a function of ours or of a library, none that is built in
            counted[f"{file}:{line} {name}"] += ncalls
    return counted


@pytest.mark.parametrize(
    ("text_of", "few", "many"), [(plan_text, 60, 240), (text_of_loads, 30, 120)]
)
def test_no_function_is_called_more_often_than_the_plan_grows(
    text_of: Callable[[int], str], few: int, many: int
) -> None:
    """few, many: modules, two in a string, or loads."""
    calls(text_of(2))  # what is imported and remembered once
    fewer, more = calls(text_of(few)), calls(text_of(many))
    grown = many / few * BEYOND
    beyond = {
        name: (fewer[name], count)
        for name, count in more.items()
        if name in fewer and count > SELDOM and count > grown * fewer[name]
    }
    assert not beyond
