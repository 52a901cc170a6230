"""How curves are told apart: by colour, dash and mark, so that each alone is enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from wattproof.reports.writing.svg_elements import element, number

Shape = Literal["round", "square", "pointed", "lozenge", "turned", "upright"]


@dataclass(frozen=True, slots=True)
class Style:
    """Colour, dash (empty for a whole line) and the shape of marks."""

    colour: str
    dash: str
    shape: Shape


STYLES: Final[Sequence[Style]] = (
    Style("#1f1f1f", "", "round"),
    Style("#0b5aa2", "10 4", "square"),
    Style("#b8420a", "2.5 3.5", "pointed"),
)
"""Of the states, in full sun."""
SHADE_STYLES: Final[Sequence[Style]] = (
    Style("#7a1f6e", "14 4 2 4", "lozenge"),
    Style("#00665c", "4 3 4 9", "turned"),
    Style("#6b5a00", "16 5 2 3 2 5", "upright"),
)
"""Of shades, as many as one picture of an array holds."""
_SIZE: Final = 5.0
_RING: Final = 9.0
_CORNERS: Final[dict[Shape, tuple[tuple[float, float], ...]]] = {
    "pointed": ((0.0, -1.2), (1.15, 0.8), (-1.15, 0.8)),
    "lozenge": ((0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)),
    "turned": ((0.0, 1.2), (1.15, -0.8), (-1.15, -0.8)),
    "upright": ((-0.55, -1.3), (0.55, -1.3), (0.55, 1.3), (-0.55, 1.3)),
}


def stroke(style: Style) -> dict[str, str | float]:
    """The attributes of a line."""
    dash = {"stroke_dasharray": style.dash} if style.dash else {}
    return {"stroke": style.colour, "stroke_width": 2.0, "stroke_linejoin": "round", **dash}


def mark(x: float, y: float, style: Style) -> str:
    """A filled mark on a curve."""
    edge: dict[str, str | float] = {"fill": style.colour, "stroke": "#ffffff", "stroke_width": 1.0}
    if style.shape == "round":
        return element("circle", cx=x, cy=y, r=_SIZE, **edge)
    if style.shape == "square":
        half = _SIZE * 0.9
        return element("rect", x=x - half, y=y - half, width=2 * half, height=2 * half, **edge)
    corners = _CORNERS[style.shape]
    points = " ".join(f"{number(x + a * _SIZE)},{number(y + b * _SIZE)}" for a, b in corners)
    return element("polygon", points=points, **edge)


def ring(x: float, y: float, colour: str) -> str:
    """An open ring around a point."""
    return element("circle", cx=x, cy=y, r=_RING, fill="none", stroke=colour, stroke_width=1.6)
