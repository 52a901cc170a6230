"""A picture on sheets of paper: cut into overlapping pieces where its type would get too small."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from wattproof.reports.writing.svg_elements import number

LEAST_TYPE: Final = 8.0
"""Points (1/72 inch): the smallest type on paper."""
UPRIGHT: Final = (695.0, 985.0)
"""What a sheet of A4 (ISO 216) holds within its margins and under a heading, in CSS pixels."""
ACROSS: Final = (1020.0, 640.0)
_PIXEL: Final = 0.75  # points
_OVERLAP: Final = 64.0
"""What two pieces both show, so that no line of words is lost in the cut."""
_BOX: Final = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)" width="[\d.]+" height="[\d.]+"')


class Piece(NamedTuple):
    """A piece of a picture for one sheet.

    svg: the picture; only that of the first piece has ids. words: which piece it is; empty for a
    whole picture. across: whether it lies across the sheet.
    """

    svg: str
    words: str
    across: bool


def pieces(svg: str) -> Iterator[Piece]:
    """A picture in as few pieces as keep its type legible on paper."""
    found = _BOX.search(svg)
    if found is None:
        return
    wide, high = float(found[1]), float(found[2])
    scale = LEAST_TYPE / _PIXEL / _smallest(svg)
    upright, across = (_cuts(wide, high, sheet, scale) for sheet in (UPRIGHT, ACROSS))
    lies = (len(across), _columns(across)) < (len(upright), _columns(upright))
    cuts, sheet = (across, ACROSS) if lies else (upright, UPRIGHT)
    bare = re.sub(r' (?:id|aria-labelledby)="[^"]*"', "", svg)
    for count, (x, y, across_of, down_of) in enumerate(cuts, start=1):
        grown = min(sheet[0] / across_of, sheet[1] / down_of, max(scale, 1.0))
        box = (
            f'viewBox="{number(x)} {number(y)} {number(across_of)} {number(down_of)}" '
            f'width="{number(across_of * grown)}" height="{number(down_of * grown)}"'
        )
        words = f"Piece {count} of {len(cuts)}" if len(cuts) > 1 else ""
        yield Piece(_BOX.sub(box, svg if count == 1 else bare, count=1), words, lies)


def _smallest(svg: str) -> float:
    return min((float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)), default=12.0)


def _columns(cuts: list[tuple[float, float, float, float]]) -> int:
    """How many pieces lie beside each other: a cut from top to bottom is hard to read across."""
    return len({x for x, *_ in cuts})


def _cuts(
    wide: float, high: float, sheet: tuple[float, float], scale: float
) -> list[tuple[float, float, float, float]]:
    """Left, top, width and height of each piece, line by line."""
    return [
        (x, y, across, down)
        for y, down in _spans(high, sheet[1] / scale)
        for x, across in _spans(wide, sheet[0] / scale)
    ]


def _spans(whole: float, room: float) -> list[tuple[float, float]]:
    """Where pieces begin and how long they are, overlapping, none longer than the room."""
    if whole <= room:
        return [(0.0, whole)]
    count = math.ceil((whole - _OVERLAP) / (room - _OVERLAP))
    each = (whole + (count - 1) * _OVERLAP) / count
    return [(n * (each - _OVERLAP), each) for n in range(count)]
