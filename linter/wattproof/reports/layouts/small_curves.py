"""A small picture of each layout: its power against voltage, all to one scale, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from wattproof.choosing.layouts import Layouts, Tried
from wattproof.reports.curves.colours import BAND, DARK_STYLE, EDGE, GRID, INK, SOFT
from wattproof.reports.curves.marks import STYLES
from wattproof.reports.writing.svg_elements import FONT, element, fitted, label, line, path

SHOWN: Final = 12
"""Most layouts that have a picture."""
_STATES: Final = ("standard", "hottest")
_WIDE, _HIGH = 176.0, 104.0
_LEFT, _TOP, _UNDER = 34.0, 24.0, 30.0
"""Room for the numbers and words around the box of a curve."""
_ACROSS: Final = 3
_SIZE: Final = 9.0


def render(layouts: Layouts) -> str:
    """One picture of the first of them; empty where no curve can be drawn."""
    shown = [each for each in layouts.tried[:SHOWN] if each.study.curves.curves]
    if not shown:
        return ""
    volts = max(_ends(each)[0] for each in shown)
    watts = max(_ends(each)[1] for each in shown)
    if volts <= 0.0 or watts <= 0.0:
        return ""
    cell_wide, cell_high = _LEFT + _WIDE + 8.0, _TOP + _HIGH + _UNDER
    across = min(_ACROSS, len(shown))
    down = (len(shown) + across - 1) // across
    parts = [
        element(
            "g",
            _cell(number, each, volts, watts),
            transform=f"translate({(number - 1) % across * cell_wide} "
            f"{(number - 1) // across * cell_high})",
        )
        for number, each in enumerate(shown, start=1)
    ]
    wide, high = across * cell_wide, down * cell_high + 16.0
    legend = label(
        "Power (W) against voltage (V): whole line at standard test conditions, broken at the "
        "hottest noon. The band fits the controller.",
        2.0,
        high - 4.0,
        _SIZE,
        fill=SOFT,
    )
    style = element("style", DARK_STYLE)
    title = "<title>Power of the layouts against voltage</title>"
    return element(
        "svg",
        f"{title}{style}{''.join(parts)}{legend}",
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {wide:g} {high:g}",
        width=f"{wide:g}",
        height=f"{high:g}",
        class_="curves",
        role="img",
        font_family=FONT,
    )


def _ends(tried: Tried) -> tuple[float, float]:
    """The highest voltage (V) and power (W) of its curves."""
    points = [p for c in tried.study.curves.curves for s in _STATES for p in c.points(s)]
    return max((v for v, _ in points), default=0.0), max((v * i for v, i in points), default=0.0)


def _cell(number: int, tried: Tried, volts: float, watts: float) -> str:
    """One layout: name, box, curves of each of its inputs, greatest voltage and power of all."""
    parts = [
        label(fitted(f"{number}. {tried.name}", _WIDE + _LEFT, _SIZE), 2.0, 14.0, _SIZE, fill=INK)
    ]
    bottom = _TOP + _HIGH
    for each in tried.inputs:
        low = each.needed.number if each.needed is not None else 0.0
        start, end = _x(min(low, volts), volts), _x(min(each.limit.number, volts), volts)
        parts.append(
            element("rect", x=start, y=_TOP, width=max(0.0, end - start), height=_HIGH, fill=BAND)
        )
        if each.limit.number <= volts:
            edge = _x(each.limit.number, volts)
            parts.append(line((edge, _TOP), (edge, bottom), stroke=EDGE))
    parts.append(
        element("rect", x=_LEFT, y=_TOP, width=_WIDE, height=_HIGH, fill="none", stroke=GRID)
    )
    for curves in tried.study.curves.curves:
        for state, dashes in (("standard", ""), ("hottest", "4 3")):
            points = curves.points("standard" if state == "standard" else "hottest")
            if points:
                parts.append(_line(points, volts, watts, dashes))
    parts += [
        label(f"{watts:.0f}", _LEFT - 3.0, _TOP + _SIZE, _SIZE, "end", fill=SOFT),
        label("0", _LEFT - 3.0, bottom, _SIZE, "end", fill=SOFT),
        label(f"{volts:.0f} V", _LEFT + _WIDE, bottom + 12.0, _SIZE, "end", fill=SOFT),
        label(
            "fails" if tried.reason is not None else "fits", _LEFT, bottom + 12.0, _SIZE, fill=SOFT
        ),
    ]
    return "".join(parts)


def _x(voltage: float, volts: float) -> float:
    return _LEFT + _WIDE * voltage / volts


def _line(points: Sequence[tuple[float, float]], volts: float, watts: float, dashes: str) -> str:
    drawn = ((_x(v, volts), _TOP + _HIGH * (1.0 - v * i / watts)) for v, i in points)
    style = STYLES[0] if not dashes else STYLES[2]
    more = {"stroke_dasharray": dashes} if dashes else {}
    return path(drawn, stroke=style.colour, stroke_width=1.4, **more)
