"""Every number that is shown, reckoned again from what its working shows.

Formula and number come from one expression (`working.py`); here they are read as a reader reads
them: rounded, with their units, and with the source of each input.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from amounts import LONG, amount
from plan_texts import Text, plan_texts
from reckoning import NotReckoned, printed, reckoned
from wattproof.engine import check
from wattproof.loading import load_study
from wattproof.packs import discover
from wattproof.testing import A_DAY
from wattproof.views.connection_order import connection_order
from wattproof.views.figures import figures_of
from wattproof.views.one_line.view import one_line
from wattproof.views.schedules import schedules_of
from wattproof.working import EXACT, Step, Value, shown, steps

RULES = discover()
OF_A_COMPONENT = re.compile(r"(?:Ik|R|r|Rhot|Rcold|Ri|Iz|In|Irev|Ploss|Voc|Vmp|Isc|Imp)\((.*)\)")
PLANS = plan_texts()[:: amount(9, 1)]


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.name)
def test_every_working_gives_its_number(plan: Text) -> None:
    values = list(values_of(plan))
    assert len(values) > 20
    told = {step for value in values for step in steps(value)}
    assert not [wrong for step in told if (wrong := wrong_in(step))]
    assert not {leaf.symbol or str(leaf) for leaf in leaves(values) if not has_source(leaf)}
    assert not {step.symbol: step.words for step in told if not says_of_what(step)}


def values_of(plan: Text) -> Iterator[Value]:
    """All numbers of the views and the findings of a plan."""
    study = load_study(plan.path, text=plan.text)
    yield from (figure.value for figure in figures_of(study))
    for view in (schedules_of(study), connection_order(study), one_line(study, "hottest")):
        yield from _values_in(view)
    result = check(study, RULES, file=plan.path, today=A_DAY, try_remedies=False, ask=LONG).result
    for finding in result.each:
        yield from finding.values


def _values_in(shown: Any) -> Iterator[Value]:
    if isinstance(shown, Value):
        yield shown
    elif isinstance(shown, tuple | list):
        for each in shown:
            yield from _values_in(each)
    else:
        for field in getattr(shown, "__dataclass_fields__", ()):
            yield from _values_in(getattr(shown, field))


def wrong_in(step: Step) -> str:
    """What is wrong with a step, empty where nothing is.

    A function that is more than arithmetic stands alone in its step, so that what it gives shows.
    """
    result = shown(step.number, step.unit, EXACT)
    line = f"{step.symbol} = {step.formula} = {step.substituted} = {result}"
    try:
        given, told = reckoned(step.substituted), printed(result)
    except NotReckoned as function:
        alone = step.formula.startswith(f"{function} (") and step.formula.endswith(")")
        return "" if alone else f"{function} hides a number in {line}"
    except (AssertionError, KeyError) as unread:
        return f"{line}: {unread}"
    if given.dimension != told.dimension:
        return f"{line}: another unit"
    return "" if given.meets(told) else f"{line}: it gives {given.low:g} to {given.high:g}"


def says_of_what(step: Step) -> bool:
    """Whether the words of a current or a resistance tell the component that its symbol names."""
    named = OF_A_COMPONENT.fullmatch(step.symbol)
    return named is None or all(name in step.words for name in named[1].split("→"))


def leaves(values: list[Value]) -> Iterator[Value]:
    """What numbers were worked out from, each once."""
    seen: set[int] = set()
    waiting = [value for value in values if value.expression is not None]
    while waiting:
        value = waiting.pop()
        if id(value) in seen:
            continue
        seen.add(id(value))
        if value.expression is None:
            yield value
        else:
            waiting += value.expression.operands


def has_source(leaf: Value) -> bool:
    """Whether a number tells where it is from; whole ones count, and a half is of a square."""
    plain = leaf.number == 0.5 or (leaf.number.is_integer() and leaf.number <= 100.0)
    return leaf.origin is not None or (plain and not leaf.symbol)
