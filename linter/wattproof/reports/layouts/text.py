"""Layouts in text: which to take, a row for each, and the figures of the first few that fit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.choosing.closing import closing, in_short
from wattproof.choosing.layouts import Layouts, Tried
from wattproof.reports.findings.head import about
from wattproof.reports.layouts import told
from wattproof.reports.writing.columns import cut, hanging, labelled, screen
from wattproof.reports.writing.paint import Paint, plain
from wattproof.reports.writing.wording import STANDING

LISTED: Final = 12
"""Layouts that have a row, unless all are asked for."""
SHOWN: Final = 3
"""Layouts of which all figures are told, unless all of it is asked for."""
NEXT: Final = (
    "`wattproof choose` with this plan writes the first one with wires, fuses and switches; "
    "`--layout` and its name another one."
)
_LEFT: Final = 5
_LABEL: Final = 10


def render(layouts: Layouts, *, full: bool = False, paint: Paint = plain) -> str:
    """The text. full: with the figures of every layout."""
    return "\n".join(_lines(layouts, full, paint)) + "\n"


def _lines(layouts: Layouts, full: bool, paint: Paint) -> Iterator[str]:
    result = layouts.rest
    yield from about(layouts.file, result.title, result.code, result.code_title)
    yield from labelled("Modules", told.kinds(layouts))
    yield from labelled("Layouts", told.summary(layouts))
    yield ""
    yield from labelled("Answer", closing(layouts))
    yield from labelled("Besides", told.rest(layouts))
    yield ""
    yield from _table(layouts, full, paint)
    yield ""
    yield from hanging(told.basis(layouts), first="", margin=0)
    if words := told.shade_basis(layouts):
        yield from hanging(words, first="", margin=0)
    if words := told.taken(layouts):
        yield from hanging(words, first="", margin=0)
    shown = layouts.tried if full else (layouts.fitting or layouts.tried)[:SHOWN]
    for number, each in enumerate(layouts.tried, start=1):
        if each in shown:
            yield ""
            yield from _whole(number, each, paint)
    yield ""
    yield from labelled("Answer", in_short(layouts))
    if layouts.fitting:
        yield from labelled("Next", NEXT)
    yield from labelled("Remember", f"A layout is a proposal, worked out from labels. {STANDING}")


def _table(layouts: Layouts, full: bool, paint: Paint) -> Iterator[str]:
    """Cold and hot voltage, current and powers; what fails or warns in a second line."""
    states = list(dict.fromkeys(s for each in layouts.tried for s in each.power))
    heads = ["cold V/limit", "hot V/need", "A", *(_short(state) for state in states[:3])]
    listed = layouts.tried if full else layouts.tried[:LISTED]
    rows = [[*_cells(e), *(_watts(e, state) for state in states[:3])] for e in listed]
    longest = [max(map(len, column)) + 1 for column in zip(*rows, strict=True)]
    widths = [max(pair) for pair in zip([13, 11, 6, 7, 7, 8], longest, strict=False)]
    room = screen() - _LEFT - sum(widths)
    head = "".join(f"{text:>{wide}}" for text, wide in zip(heads, widths, strict=True))
    yield paint(f"{'':<{_LEFT}}{'layout':<{room}}{head}", "strong")
    for number, (each, cells) in enumerate(zip(listed, rows, strict=True), start=1):
        row = "".join(f"{text:>{wide}}" for text, wide in zip(cells, widths, strict=True))
        start = f"{number:>3}. "
        word = "fails" if each.reason is not None else told.FITS
        painted = paint(word, "bad" if each.reason is not None else "calm")
        beside = room - len(word) - 1
        if len(each.name) < beside:
            yield f"{start}{each.name:<{beside}}{painted} {row}"
        else:
            yield f"{start}{cut(each.name, screen() - _LEFT)}"
            yield f"{'':<{_LEFT + beside}}{painted} {row}"
        if words := told.found(each):
            yield f"{'':<{_LEFT}}{cut(words, screen() - _LEFT)}"
    if len(listed) < len(layouts.tried):
        yield f"{'':<{_LEFT}}and {len(layouts.tried) - len(listed)} more: `--full` shows them"


def _short(state: str) -> str:
    named = {"standard": "W std", "hottest": "W hot", "one module shaded": "W shade"}
    return cut(named.get(state, f"W {state}"), 6 if state not in named else 7)


def _cells(tried: Tried) -> Iterator[str]:
    cold = max(tried.inputs, key=lambda i: i.cold.number / i.limit.number)
    guessed = "?" if cold.is_guessed else ""
    yield f"{cold.cold.number:.1f}/{cold.limit.number:.0f}{guessed}"
    asked = [i for i in tried.inputs if i.needed is not None]
    hot = min(
        asked or tried.inputs, key=lambda i: i.hot.number - (i.needed.number if i.needed else 0)
    )
    need = f"/{hot.needed.number:.1f}" if hot.needed is not None else ""
    yield f"{hot.hot.number:.1f}{need}"
    yield f"{max(i.current.number for i in tried.inputs):.1f}"


def _watts(tried: Tried, state: str) -> str:
    watts = tried.power.get(state)
    return f"{watts.number:.0f}" if watts is not None else "?"


def _whole(number: int, tried: Tried, paint: Paint) -> Iterator[str]:
    yield f"{number:>3}. {paint(tried.name, 'strong')}"
    for label, text in told.figures(tried):
        if len(label) < _LABEL:
            yield from labelled(label, text, indent=_LEFT)
        else:
            yield from hanging(text, first=f"{'':<{_LEFT}}{label}: ", margin=_LEFT + _LABEL)
