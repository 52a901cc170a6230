"""What stands in a plan in the place of values that nobody told, and the same plan read otherwise.

Each of these values is harsh at one end for one question and at the other for another: a fuse that
is larger than usual protects less, a smaller one opens in use.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeVar

from wattproof.plan.fields import Part
from wattproof.plan.root import Plan
from wattproof.study.assumptions.reading import Label, Reading
from wattproof.working import Supposed, SupposedWord

_T = TypeVar("_T", bound=Part)


def supposed_in(plan: Plan) -> Iterator[Supposed | SupposedWord]:
    """Every value of a plan that nobody told, in the order of the plan."""
    yield from _found(plan)


def label_of(value: Supposed | SupposedWord) -> Label:
    """By what such a value is known."""
    return Label(value.assumption.key, value.assumption.subject)


def read_as(plan: Plan, reading: Reading) -> Plan:
    """The plan with the figures of a reading in the place of what nobody told."""
    return _read(plan, reading)


def _found(held: Any) -> Iterator[Supposed | SupposedWord]:
    if isinstance(held, Supposed | SupposedWord):
        yield held
    elif isinstance(held, Part):
        for each in vars(held).values():
            if each is not None:
                yield from _found(each)
    elif isinstance(held, dict):
        for each in held.values():
            yield from _found(each)
    elif isinstance(held, list | tuple) and not hasattr(held, "_fields"):
        for each in held:
            yield from _found(each)


def _read(part: _T, reading: Reading) -> _T:
    update = {}
    for key, held in vars(part).items():
        new = _figure(held, reading)
        if new is not held:
            update[key] = new
    return part.model_copy(update=update) if update else part


def _figure(held: Any, reading: Reading) -> Any:
    if isinstance(held, Supposed):
        value = reading.end_of(label_of(held), held.value, held.ends)
        return held if value == held.value else held.at(value)
    if isinstance(held, SupposedWord):
        word = reading.word_of(label_of(held), held.usual, held.ends)
        return held if word == held else held.as_if(word)
    if isinstance(held, Part):
        return _read(held, reading)
    if isinstance(held, dict):
        read = {key: _figure(each, reading) for key, each in held.items()}
        return read if any(read[key] is not held[key] for key in held) else held
    if isinstance(held, list):
        listed = [_figure(each, reading) for each in held]
        same = all(new is old for new, old in zip(listed, held, strict=True))
        return held if same else listed
    return held
