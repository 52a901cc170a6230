"""The few elements that a picture is made of, as text. Every text and attribute is escaped."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Final, Literal, TypeAlias

from wattproof.reports.writing.columns import clean, width

Anchor: TypeAlias = Literal["start", "middle", "end"]
Position: TypeAlias = tuple[float, float]

FONT: Final = "Verdana, 'DejaVu Sans', Arial, sans-serif"
_COLUMN: Final = 0.64
"""Width of a column of text, as a share of its size; generous, since fonts differ."""


def number(value: float) -> str:
    """A coordinate with two decimals at most, never in powers of ten."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def element(tag: str, content: str = "", /, **attributes: str | float) -> str:
    """An element; `_` in a key is `-`, and nothing at its end. The content is taken as it is."""
    pairs = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(v if isinstance(v, str) else number(v))}"'
        for key, v in attributes.items()
    )
    return f"<{tag}{pairs}>{content}</{tag}>" if content else f"<{tag}{pairs}/>"


def words(tag: str, content: str, /, **attributes: str | float) -> str:
    """An element that holds a text, with nothing hidden in it."""
    return element(tag, escape(clean(content)), **attributes)


def label(
    content: str,
    x: float,
    y: float,
    size: float,
    anchor: Anchor = "start",
    /,
    **more: str | float,
) -> str:
    """A text whose baseline starts, is centred or ends at a place."""
    return words("text", content, x=x, y=y, font_size=size, text_anchor=anchor, **more)


def line(start: Position, end: Position, /, **more: str | float) -> str:
    """A straight line."""
    return element("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], **more)


def path(points: Iterable[Position], /, **more: str | float) -> str:
    """A line through points."""
    drawn = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return element("path", d=f"M{drawn}", fill="none", **more)


def text_width(content: str, size: float) -> float:
    """The room that a text takes across, rather more than less."""
    return width(clean(content)) * size * _COLUMN


def fitted(content: str, room: float, size: float) -> str:
    """As much of a text as fits in a room, cut with an ellipsis."""
    shown = clean(content)
    if text_width(shown, size) <= room:
        return shown
    low, high = 0, len(shown)
    while low < high:  # the widest that fits, by halves: a long text is not measured at each sign
        middle = (low + high + 1) // 2
        if text_width(shown[:middle] + "…", size) <= room:
            low = middle
        else:
            high = middle - 1
    return shown[:low].rstrip() + "…"
