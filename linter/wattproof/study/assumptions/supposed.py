"""What stands in a plan in the place of values that nobody told, and the same plan read otherwise.

Each of these values is harsh at one end for one question and at the other for another: a fuse that
is larger than usual protects less, a smaller one opens in use.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from types import NoneType
from typing import Any, Final, TypeAlias

from wattproof.plan.fields import Part
from wattproof.plan.root import Plan
from wattproof.quantities import Quantity
from wattproof.source import Text
from wattproof.study.assumptions.reading import Label, Reading
from wattproof.working import Supposed, SupposedWord

_TOLD: Final = frozenset({Quantity, Text, bool, NoneType})
"""Most of what a plan holds, and nothing that is supposed."""

Where: TypeAlias = "dict[Any, Where]"
"""Where such values stand in a plan: by key or number what is below it, nothing below a value."""


def where_supposed(plan: Plan) -> Where:
    """Where the values of a plan stand that nobody told, in the order of the plan.

    They stand at the same places in every reading of it, so that it is walked as a whole once.
    """
    return _where(plan)


def supposed_in(plan: Plan, where: Where) -> Iterator[Supposed | SupposedWord]:
    """The values at these places."""
    yield from _found(plan, where)


def label_of(value: Supposed | SupposedWord) -> Label:
    """By what such a value is known."""
    return Label.of(value.assumption)


def read_as(plan: Plan, where: Where, reading: Reading) -> Plan:
    """The plan with the figures of a reading at these places."""
    read: Plan = _with(plan, where, lambda held: _figure(held, reading)) if where else plan
    return read


def _where(held: Any) -> Where:
    found: Where = {}
    for key, each in _below(held):
        if type(each) in _TOLD:
            continue
        if isinstance(each, Supposed | SupposedWord):
            found[key] = {}
        elif inner := _where(each):
            found[key] = inner
    return found


def _below(held: Any) -> Iterable[tuple[Any, Any]]:
    """What lies in a part, a section or a list of a plan, by key or number."""
    if isinstance(held, Part):
        return vars(held).items()
    if isinstance(held, dict):
        return held.items()
    if isinstance(held, list | tuple) and not hasattr(held, "_fields"):
        return enumerate(held)
    return ()


def _at(held: Any, key: Any) -> Any:
    return vars(held)[key] if isinstance(held, Part) else held[key]


def _found(held: Any, where: Where) -> Iterator[Supposed | SupposedWord]:
    for key, inner in where.items():
        each = _at(held, key)
        if inner:
            yield from _found(each, inner)
        else:
            yield each


def _with(held: Any, where: Where, figure: Callable[[Any], Any]) -> Any:
    """What is held, with other figures below it; the same object where there are none."""
    if not where:
        return figure(held)
    update = {}
    for key, inner in where.items():
        old = _at(held, key)
        new = _with(old, inner, figure)
        if new is not old:
            update[key] = new
    if not update:
        return held
    if isinstance(held, Part):
        return held.model_copy(update=update)
    if isinstance(held, dict):
        return {**held, **update}
    return type(held)(update.get(number, each) for number, each in enumerate(held))


def _figure(held: Any, reading: Reading) -> Any:
    if isinstance(held, Supposed):
        value = reading.end_of(label_of(held), held.value, held.ends)
        return held if value == held.value else held.at(value)
    word = reading.word_of(label_of(held), held.usual, held.ends)
    return held if word == held else held.as_if(word)
