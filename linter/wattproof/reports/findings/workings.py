"""How numbers were worked out, in steps for a reader: short, or whole with every input."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.reports.writing.columns import WIDTH, clean, hanging, width
from wattproof.working import EXACT, Assumption, Declared, Input, Origin, Step, Value, shown, steps


def all_steps(values: Iterable[Value]) -> list[Step]:
    """The steps that lead to some values, each once. A number that was not computed is a step
    without a formula, whose only input is itself."""
    found: dict[Step, None] = {}
    for value in values:
        found.update(dict.fromkeys(steps(value) or _as_read(value)))
    return list(found)


def short_lines(values: Iterable[Value]) -> Iterator[str]:
    """One line for each step: what it is, and its numbers."""
    for step in all_steps(values):
        name = step.words or step.symbol
        result = shown(step.number, step.unit, EXACT)
        if not step.formula:
            yield f"{name}: {step.inputs[0].text}"
        elif step.substituted == result:
            yield f"{name}: {result}"
        else:
            yield f"{name}: {step.substituted} = {result}"


def whole_lines(values: Iterable[Value], *, margin: int) -> Iterator[str]:
    """Every step with its formula, its numbers, and where each input stands. Wrapped."""
    inner = margin + 4
    left = " " * inner
    for number, step in enumerate(all_steps(values), start=1):
        first = f"{' ' * margin}{number:>2}. "
        yield from hanging(step.words or step.symbol, first=first, margin=inner)
        if step.formula:
            yield from _formula(step, inner)
        for read in step.inputs:
            text = f"{read.symbol or read.words} = {read.text}{_about(read, step)}"
            yield from hanging(text, first=f"{left}from ", margin=inner + 5)


def _formula(step: Step, margin: int) -> Iterator[str]:
    """In one line where it fits, else a line for each equals sign."""
    left = " " * margin
    ways = list(
        dict.fromkeys((step.formula, step.substituted, shown(step.number, step.unit, EXACT)))
    )
    whole = " = ".join((step.symbol, *ways))
    if width(whole) <= WIDTH - margin:
        yield left + clean(whole)
        return
    yield from hanging(f"{step.symbol} = {ways[0]}", first=left, margin=margin + 4)
    for way in ways[1:]:
        yield from hanging(f"= {way}", first=f"{left}  ", margin=margin + 4)


def origin_words(origin: Origin) -> str:
    """Where a number stands: the place in the plan, the table, or the assumption."""
    if isinstance(origin, Declared):
        return str(origin.place)
    if isinstance(origin, Assumption):
        return f"assumed: {origin.says}"
    return origin.source


def _about(read: Input, step: Step) -> str:
    words = f", {read.words}" if read.words and read.words != step.words else ""
    return f"{words}; {origin_words(read.origin)}"


def _as_read(value: Value) -> list[Step]:
    if value.origin is None:
        return []
    read = Input(value.symbol, value.words, str(value), value.origin)
    return [Step(value.symbol, value.words, "", "", value.number, value.unit, (read,))]
