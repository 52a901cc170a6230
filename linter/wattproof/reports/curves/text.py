"""The curves of each controller's input, for people: a table of their points that matter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Final

from wattproof.reports.curves.data import InputCurves, NotDrawn, Spot, StateCurve, Work
from wattproof.reports.findings.head import about
from wattproof.reports.writing.columns import WIDTH, labelled, width, wrapped
from wattproof.working import shown

_NAME: Final = 29
_STATE: Final = 17
_BESIDE: Final = 3
_NOTHING: Final = "-"
_LOST: Final = "lost to mismatch and wires"
_LOST_TO_SHADE: Final = "lost to the shade"


def render(
    file: str,
    title: str,
    inputs: Sequence[InputCurves],
    not_drawn: Sequence[NotDrawn] = (),
    saved: Sequence[str] = (),
) -> str:
    """The tables of one plan. saved: the files that the curves were written to."""
    lines = list(about(file, title, "", ""))
    for curves in inputs:
        lines += ["", *_heading(curves.controller), "", *_table(curves.states, _LOST)]
        for first in range(0, len(curves.shades), _BESIDE):
            lines += ["", *_table(curves.shades[first : first + _BESIDE], _LOST_TO_SHADE)]
        lines += ["", *_notes(curves)]
    for reason in why_not(inputs, not_drawn):
        lines += ["", *wrapped(reason, WIDTH)]
    if not_drawn:
        lines += ["", "`wattproof check` tells what to change."]
    lines += _closing(inputs, saved)
    return "\n".join(lines) + "\n"


def why_not(inputs: Sequence[InputCurves], not_drawn: Sequence[NotDrawn]) -> Iterator[str]:
    """For each input without curves, why; and if there is no input at all, that."""
    for missing in not_drawn:
        reasons = [f"on the label of `{name}`, {why}" for name, why in missing.reasons]
        why = "; ".join(reasons) or "no curve passes through the values of its labels"
        yield f"The curves at the solar input of `{missing.controller}` cannot be drawn: {why}."
    if not inputs and not not_drawn:
        yield "No array reaches the solar input of a controller, so there is no curve."


def dark_words(curves: InputCurves) -> str:
    """The shades that leave nothing to draw; empty where there is none."""
    if not curves.dark:
        return ""
    names = ", ".join(f"`{name}`" for name in curves.dark)
    return f"Under shade {names} the array of `{curves.controller}` gives nothing: no curve."


def _heading(controller: str) -> Iterator[str]:
    lines = list(wrapped(f"Solar input of {controller}", WIDTH))
    yield from lines
    yield "-" * max(map(width, lines))


def _table(curves: Sequence[StateCurve], lost: str) -> Iterator[str]:
    """Curves beside each other. lost: what is lost in them."""
    works = [curve.work for curve in curves]
    yield from _names(curves)
    yield _row("with nothing connected", [shown(c.open_voltage, "V") for c in curves])
    yield _row("short-circuited", [shown(c.short_current, "A") for c in curves])
    yield from _spots("greatest power", [c.best for c in curves])
    for lesser in zip_longest(*(c.others for c in curves)):
        yield from _spots("a lesser maximum", lesser)
    yield from _spots("the controller works at", [w.spot if w else None for w in works])
    yield _row("  held back by", [w.held_by if w else "not known" for w in works])
    yield _row("  into its battery", [_given(w) for w in works])
    yield _row(lost, [c.lost for c in curves])


def _given(work: Work | None) -> str:
    return _NOTHING if work is None or work.output is None else shown(work.output, "A")


def _names(curves: Sequence[StateCurve]) -> Iterator[str]:
    """The names of curves above their columns; those of shades with the state below."""
    columns = [[*wrapped(c.name, _STATE - 2), *([c.state] if c.shade else [])] for c in curves]
    for number, cells in enumerate(zip_longest(*columns, fillvalue="")):
        yield _row("" if number or not curves[0].shade else "under shade", cells).rstrip()


def _row(name: str, cells: Iterable[str]) -> str:
    return f"{name:<{_NAME}}{''.join(f'{cell:>{_STATE}}' for cell in cells)}"


def _spots(name: str, spots: Sequence[Spot | None]) -> Iterator[str]:
    yield _row(name, [shown(s.power, "W") if s else _NOTHING for s in spots])
    yield _row("  voltage", [shown(s.voltage, "V") if s else _NOTHING for s in spots])
    yield _row("  current", [shown(s.current, "A") if s else _NOTHING for s in spots])


def _notes(curves: InputCurves) -> Iterator[str]:
    taken = shown(curves.taken, "V")
    needed = (
        "no least voltage" if curves.needed is None else f"{shown(curves.needed, 'V')} at least"
    )
    yield from labelled("Window", f"{curves.controller} needs {needed} and takes {taken} at most.")
    high = [state.state for state in curves.states if state.too_high]
    if high:
        text = (
            f"With nothing connected the array gives more than {taken} ({', '.join(high)}). Do "
            "not connect it; `wattproof check` tells what to change."
        )
        yield from labelled("Too high", text)
    yield from labelled("Dark", dark_words(curves))
    if any(state.work is None for state in curves.states):
        text = "Where it works is not known, since nothing says to which voltage it charges."
        yield from labelled("Unknown", text)
    for number, assumption in enumerate(curves.assumptions):
        text = f"{assumption.says} To settle it, write {assumption.instead}."
        yield from labelled("" if number else "Assumed", text)


def _closing(inputs: Sequence[InputCurves], saved: Sequence[str]) -> Iterator[str]:
    yield ""
    for state in inputs[0].states if inputs else ():
        yield from labelled(state.state, state.words)
    for file in saved:
        yield from labelled("Saved", file, keep=True)
    if not inputs:
        yield from labelled("Result", "no curve could be drawn")
