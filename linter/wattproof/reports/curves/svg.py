"""The curves of a plan as one picture: for each controller's input, current and power.

It needs nothing around it: no style sheet, script, font or other file. It is dark where the
reader's screen is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from wattproof.reports.curves.axes import Scale
from wattproof.reports.curves.colours import BAND, DARK_STYLE, FITS, INK, SOFT
from wattproof.reports.curves.data import InputCurves, StateCurve
from wattproof.reports.curves.labels import SIZE, Box
from wattproof.reports.curves.marks import SHADE_STYLES, STYLES, Style, mark, ring, stroke
from wattproof.reports.curves.panel import Panel, Styled
from wattproof.reports.writing.columns import wrapped
from wattproof.reports.writing.svg_elements import (
    FONT,
    element,
    fitted,
    label,
    line,
    number,
    text_width,
    words,
)
from wattproof.working import shown

_WIDTH: Final = 880.0
_EDGE: Final = 20.0
_LEFT: Final = 68.0
_RIGHT: Final = _WIDTH - 24.0
_TITLE: Final = 17.0
_TITLE_LINES: Final = 2
_HEADING: Final = 14.0
_CURRENT: Final = 250.0
_POWER: Final = 290.0
_BETWEEN: Final = 58.0
_HEAD: Final = 62.0
_BLOCK: Final = _HEAD + _CURRENT + _BETWEEN + _POWER + 44
_KEY: Final = 74.0
_KEY_ROW: Final = 22.0
_REACH: Final = 1.5
"""The highest input voltage is drawn where it is at most so many times the array's."""


def render(title: str, inputs: Sequence[InputCurves]) -> str:
    """The picture of one plan."""
    blocks = [block for curves in inputs for block in _blocks(curves)]
    return _picture(title, "curves", blocks)


def pictures(inputs: Sequence[InputCurves]) -> Iterator[str]:
    """The same as several pictures, each no higher than a sheet of paper, without a title."""
    blocks = (block for curves in inputs for block in _blocks(curves))
    for count, block in enumerate(blocks, start=1):
        yield _picture("", f"curves-{count}", [block])


def _picture(title: str, name: str, blocks: Sequence[_Block]) -> str:
    """Blocks below each other with a key. name: what the ids in it begin with."""
    heading = _title_lines(title)
    top = 14 + len(heading) * (_TITLE + 5)
    height = top + sum(block.height for block in blocks) + _KEY
    drawn = [
        words("title", title or blocks[0].heading, id=f"{name}-title"),
        words("desc", _described(blocks), id=f"{name}-described"),
        element("style", DARK_STYLE),
        element("rect", width=_WIDTH, height=height, fill="#ffffff"),
    ]
    for row, text in enumerate(heading):
        drawn.append(
            label(text, _EDGE, 32 + row * (_TITLE + 5), _TITLE, font_weight="bold", fill=INK)
        )
    for block in blocks:
        drawn += _drawn(block, top)
        top += block.height
    drawn += _key(blocks[0].curves.states, top)
    return (
        element(
            "svg",
            "\n" + "\n".join(drawn) + "\n",
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {number(_WIDTH)} {number(height)}",
            width=_WIDTH,
            height=height,
            class_="curves",
            role="img",
            aria_labelledby=f"{name}-title {name}-described",
            font_family=FONT,
        )
        + "\n"
    )


def _title_lines(title: str) -> list[str]:
    columns = int((_WIDTH - 2 * _EDGE) / text_width("0", _TITLE))
    lines = list(wrapped(title, columns))
    if len(lines) > _TITLE_LINES:
        rest = lines[_TITLE_LINES - 1] + " " + lines[_TITLE_LINES]
        lines[_TITLE_LINES - 1 :] = [fitted(rest, _WIDTH - 2 * _EDGE, _TITLE)]
    return lines


@dataclass(frozen=True, slots=True)
class _Block:
    """Some curves of one controller's input. key: those that the picture's key does not tell."""

    heading: str
    curves: InputCurves
    shown: tuple[Styled, ...]
    beside: tuple[Styled, ...] = ()
    key: tuple[Styled, ...] = ()

    @property
    def height(self) -> float:
        """What it takes of the picture."""
        return _BLOCK + len(self.key) * _KEY_ROW


def _blocks(curves: InputCurves) -> Iterator[_Block]:
    """The states in full sun, then the shades beside them, as many at a time as have styles."""
    heading = f"Solar input of {curves.controller}"
    states = tuple(zip(curves.states, STYLES, strict=False))
    yield _Block(heading, curves, states)
    for first in range(0, len(curves.shades), len(SHADE_STYLES)):
        shades = tuple(zip(curves.shades[first:], SHADE_STYLES, strict=False))
        under = {shade.state for shade, _ in shades}
        beside = tuple(styled for styled in states if styled[0].state in under)
        yield _Block(f"{heading}, under shade", curves, shades, beside, shades)


def _drawn(block: _Block, top: float) -> Iterator[str]:
    """Heading and both panels, above each other on one axis, and what their lines mean."""
    curves = block.curves
    heading = fitted(block.heading, _WIDTH - 2 * _EDGE, _HEADING)
    yield label(heading, _EDGE, top + 26, _HEADING, font_weight="bold", fill=INK)
    across = Scale(_farthest(curves), _LEFT, _RIGHT)
    above = Box(_LEFT, top + _HEAD, _RIGHT, top + _HEAD + _CURRENT)
    below = Box(_LEFT, above.bottom + _BETWEEN, _RIGHT, above.bottom + _BETWEEN + _POWER)
    yield _window(curves, across, above.top - 10)
    shown, beside = block.shown, block.beside
    every = [curve for curve, _ in (*shown, *beside)]
    up = Scale(1.2 * max(curve.short_current for curve in every), above.bottom, above.top)
    yield from Panel(curves, shown, beside, above, across, up, "current", "A").current_drawn()
    up = Scale(1.2 * max(curve.best.power for curve in every), below.bottom, below.top)
    yield from Panel(curves, shown, beside, below, across, up, "power", "W").power_drawn()
    middle = (_LEFT + _RIGHT) / 2
    axis = "voltage at the controller's solar input (V)"
    yield label(axis, middle, below.bottom + 36, SIZE, "middle", fill=INK)
    for row, (curve, style) in enumerate(block.key):
        yield from _sample(_shade_words(curve), style, _EDGE, top + _BLOCK + 10 + row * _KEY_ROW)


def _shade_words(curve: StateCurve) -> str:
    end = f": {curve.lost} lost to the shade"
    return fitted(curve.words, _WIDTH - 2 * _EDGE - 44 - text_width(end, SIZE), SIZE) + end


def _sample(text: str, style: Style, x: float, y: float) -> Iterator[str]:
    """A piece of a curve, and what it stands for."""
    yield line((x, y), (x + 36, y), **stroke(style))
    yield mark(x + 18, y, style)
    yield _told(text, x + 44, y + 4)


def _farthest(curves: InputCurves) -> float:
    """The voltage at the right end of the axis."""
    highest = max(state.open_voltage for state in curves.states)
    drawn = curves.taken if highest < curves.taken <= _REACH * highest else highest
    room = 1.24 if any(state.too_high for state in curves.states) else 1.14
    return max(1.06 * drawn, room * highest, 1.06 * (curves.needed or 0.0))


def _window(curves: InputCurves, across: Scale, baseline: float) -> str:
    """The words over the band of voltages that fit the controller."""
    text = fitted(_window_words(curves), _RIGHT - _LEFT - 100, SIZE)
    low, high = across.at(curves.needed or 0.0), across.at(curves.taken)
    middle, half = (low + high) / 2, text_width(text, SIZE) / 2
    middle = min(max(middle, _LEFT + 70 + half), _RIGHT - half)
    return label(text, middle, baseline, SIZE, "middle", fill=FITS)


def _window_words(curves: InputCurves) -> str:
    taken = shown(curves.taken, "V")
    if curves.needed is None:
        return f"fits the controller: up to {taken}"
    needed = shown(curves.needed, "V")
    if curves.needed > curves.taken:
        return f"fits the controller: nothing, since it needs {needed} and takes {taken}"
    return f"fits the controller: {needed} to {taken}"


def _key(states: Sequence[StateCurve], top: float) -> Iterator[str]:
    """What lines, marks and the band mean."""
    left, step = _EDGE, (_WIDTH - 2 * _EDGE) / 3
    for column, (state, style) in enumerate(zip(states, STYLES, strict=False)):
        yield from _sample(state.words, style, left + column * step, top + 24)
    y = top + 50
    yield ring(left + 18, y, INK)
    yield _told("where the controller works", left + 44, y + 4)
    for column, style in enumerate(STYLES):
        yield mark(left + step + 4 + column * 14, y, style)
    yield _told("maximum of power", left + step + 44, y + 4)
    yield element("rect", x=left + 2 * step, y=y - 8, width=36, height=16, fill=BAND)
    yield _told("voltages that fit the controller", left + 2 * step + 44, y + 4)


def _told(text: str, x: float, y: float) -> str:
    return label(text, x, y, SIZE, fill=SOFT)


def _described(blocks: Sequence[_Block]) -> str:
    """The picture in sentences, for those who do not see it."""
    return " ".join(sentence for block in blocks for sentence in _sentences(block))


def _sentences(block: _Block) -> Iterator[str]:
    fits = _window_words(block.curves)
    yield f"{block.heading}: current and power against voltage. What {fits}."
    for curve, _ in block.shown:
        best, work = curve.best, curve.work
        yield (
            f"{_capital(curve.words)}: {shown(curve.open_voltage, 'V')} with nothing connected, "
            f"{shown(curve.short_current, 'A')} short-circuited, at most "
            f"{shown(best.power, 'W')} at {shown(best.voltage, 'V')}."
        )
        if work is not None and work.spot != best:
            spot = work.spot
            yield f"It works at {shown(spot.power, 'W')} and {shown(spot.voltage, 'V')}."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
