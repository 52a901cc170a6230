"""The colours of the picture of curves, on light and on dark ground."""

from __future__ import annotations

from typing import Final

from wattproof.reports.curves.marks import SHADE_STYLES, STYLES

INK: Final = "#333333"
SOFT: Final = "#666666"
BAND: Final = "#e8f1dc"
GRID: Final = "#d9d9d9"
EDGE: Final = "#7d9a5b"
FITS: Final = "#4d6b2c"

_DARK: Final = {
    "#ffffff": "#17191b",
    INK: "#e0e3e6",
    SOFT: "#a9aca4",
    BAND: "#232b1b",
    GRID: "#363a3d",
    EDGE: "#6d8650",
    FITS: "#a8c58a",
    **dict(
        zip(
            (style.colour for style in (*STYLES, *SHADE_STYLES)),
            ("#f2f2ee", "#86bdf2", "#f2a06b", "#e39ad6", "#6bcabf", "#d2c05e"),
            strict=True,
        )
    ),
}
DARK_STYLE: Final = (
    "@media screen and (prefers-color-scheme: dark){"
    + "".join(
        f".curves [{drawn}='{light}']{{{drawn}:{dark}}}"
        for light, dark in _DARK.items()
        for drawn in ("fill", "stroke")
    )
    + "}"
)
