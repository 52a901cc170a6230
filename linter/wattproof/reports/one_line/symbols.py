"""The graphic symbols of a one-line diagram, drawn by us after the signs of IEC 60617.

Source of the signs: IEC 60617 (graphical symbols for diagrams), from memory: converters as a square
with a diagonal, fuse as a rectangle on its line, switch as an open blade, surge arrester with an
arrow in a rectangle, battery as long and short plates, generator as a circle.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from wattproof.reports.writing.svg_elements import Position, element, line, number, path

Draw = Callable[[float, float], Iterator[str]]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol: half its width, its height, and how it is drawn (axis and top of it)."""

    half: float
    high: float
    draw: Draw


def _square(x: float, top: float, half: float, high: float) -> str:
    return element("rect", x=x - half, y=top, width=2 * half, height=high)


def _solid(points: Sequence[Position]) -> str:
    return element(
        "polygon",
        points=" ".join(f"{number(x)},{number(y)}" for x, y in points),
        fill="currentColor",
    )


def _direct(x: float, y: float) -> Iterator[str]:
    """The sign of direct current: a line over a broken one."""
    yield line((x - 6, y - 2), (x + 6, y - 2))
    yield path([(x - 6, y + 2), (x + 6, y + 2)], stroke_dasharray="3 1.5")


def _alternating(x: float, y: float) -> str:
    return element("path", d=f"M{number(x - 7)} {number(y)}q3.5 -7 7 0t7 0", fill="none")


def _string(x: float, top: float) -> Iterator[str]:
    """A module: a box with an arrow-head at its lead, and light that falls on it."""
    yield _square(x, top, 22, 38)
    yield path([(x - 9, top + 38), (x, top + 26), (x + 9, top + 38)])
    for across in (-13.0, 1.0):
        start, tip = (x + across, top + 7), (x + across + 10, top + 17)
        yield line(start, tip)
        yield path([(tip[0] - 5, tip[1] - 1), tip, (tip[0] - 1, tip[1] - 5)])


def _strings(x: float, top: float) -> Iterator[str]:
    """Several modules: one, and the edges of others behind it."""
    yield from _string(x, top)
    yield from _behind(x, top)


def _behind(x: float, top: float) -> Iterator[str]:
    """The edges of two more boxes behind one."""
    for step in (3.0, 6.0):
        corner = [(x + 22 + step - 3, top - step), (x + 22 + step, top - step)]
        yield path([(x - 22 + step, top - step + 3), (x - 22 + step, top - step), *corner])
        yield path([corner[1], (x + 22 + step, top + 38 - step), (x + 19 + step, top + 38 - step)])


def _diode(x: float, top: float) -> Iterator[str]:
    """A diode that lets current pass downwards."""
    yield line((x, top), (x, top + 22))
    yield _solid([(x - 7, top + 5), (x + 7, top + 5), (x, top + 16)])
    yield line((x - 7, top + 16.5), (x + 7, top + 16.5))


def _blocking(x: float, top: float) -> Iterator[str]:
    yield from _string(x, top)
    yield from _diode(x, top + 38)


def _fuse(x: float, top: float) -> Iterator[str]:
    yield _square(x, top + 6, 5.5, 22)
    yield line((x, top), (x, top + 34))


def _opened(x: float, top: float) -> Iterator[str]:
    """The blade of a switch, open."""
    yield line((x, top), (x, top + 8))
    yield line((x, top + 26), (x, top + 34))
    yield line((x, top + 26), (x - 9, top + 9))


def _switch(x: float, top: float) -> Iterator[str]:
    """A switch that isolates: a bar across its fixed contact."""
    yield from _opened(x, top)
    yield line((x - 5, top + 8), (x + 5, top + 8))


def _load_switch(x: float, top: float) -> Iterator[str]:
    """A switch that isolates and may be opened under load: a ring at the bar."""
    yield from _switch(x, top)
    yield element("circle", cx=x, cy=top + 11, r=3)


def _breaker(x: float, top: float) -> Iterator[str]:
    """A switch that opens by itself: a cross at its fixed contact."""
    yield from _opened(x, top)
    yield line((x - 4, top + 4), (x + 4, top + 12))
    yield line((x - 4, top + 12), (x + 4, top + 4))


def _plug(x: float, top: float) -> Iterator[str]:
    """A plug in its socket."""
    yield line((x, top), (x, top + 11))
    yield element("rect", x=x - 3, y=top + 11, width=6, height=9, fill="currentColor")
    yield element("path", d=f"M{number(x - 8)} {number(top + 15)}a8 8 0 0 0 16 0", fill="none")
    yield line((x, top + 23), (x, top + 34))


def _controller(x: float, top: float) -> Iterator[str]:
    """Direct current to direct current of another voltage."""
    yield _square(x, top, 22, 38)
    yield line((x - 22, top + 38), (x + 22, top))
    yield from _direct(x - 11, top + 11)
    yield from _direct(x + 11, top + 27)


def _inverter(x: float, top: float) -> Iterator[str]:
    yield _square(x, top, 22, 38)
    yield line((x - 22, top + 38), (x + 22, top))
    yield from _direct(x - 11, top + 11)
    yield _alternating(x + 11, top + 27)


def _shore(x: float, top: float) -> Iterator[str]:
    yield _square(x, top, 22, 38)
    yield line((x - 22, top + 38), (x + 22, top))
    yield _alternating(x - 11, top + 11)
    yield from _direct(x + 11, top + 27)


def _battery(x: float, top: float) -> Iterator[str]:
    """Cells: long plates positive, short ones negative."""
    yield _square(x, top, 22, 38)
    for y, half in ((10.0, 13.0), (16.0, 7.0), (22.0, 13.0), (28.0, 7.0)):
        yield line((x - half, top + y), (x + half, top + y))
    yield line((x, top), (x, top + 10))


def _batteries(x: float, top: float) -> Iterator[str]:
    """Several batteries: one, and the edges of others behind it."""
    yield from _battery(x, top)
    yield from _behind(x, top)


def _alternator(x: float, top: float) -> Iterator[str]:
    yield element("circle", cx=x, cy=top + 19, r=19)
    yield element(
        "text",
        "G",
        x=x,
        y=top + 19,
        font_size=14,
        text_anchor="middle",
        fill="currentColor",
        stroke="none",
    )
    yield from _direct(x, top + 26)


def _starter(x: float, top: float) -> Iterator[str]:
    """A motor: an M in a circle."""
    yield element("circle", cx=x, cy=top + 19, r=19)
    yield element(
        "text",
        "M",
        x=x,
        y=top + 24,
        font_size=14,
        text_anchor="middle",
        fill="currentColor",
        stroke="none",
    )


def _isolator(x: float, top: float) -> Iterator[str]:
    """Diodes side by side, from one lead."""
    yield _square(x, top, 22, 38)
    yield path([(x, top), (x, top + 7)])
    yield path([(x - 11, top + 7), (x + 11, top + 7)])
    for across in (-11.0, 11.0):
        yield from _diode(x + across, top + 7)
        yield line((x + across, top + 29), (x + across, top + 38))


def _selector(x: float, top: float) -> Iterator[str]:
    """A switch with two contacts, its blade on one of them."""
    yield line((x, top), (x, top + 8))
    for across in (-9.0, 9.0):
        yield line((x + across, top + 34), (x + across, top + 26))
        yield line((x + across - 4, top + 26), (x + across + 4, top + 26))
    yield line((x, top + 8), (x - 9, top + 26))


def _box(x: float, top: float) -> Iterator[str]:
    """A battery in a case of its own."""
    yield _square(x, top, 26, 38)
    for y, half in ((10.0, 9.0), (16.0, 5.0), (22.0, 9.0), (28.0, 5.0)):
        yield line((x - half, top + y), (x + half, top + y))
    yield _square(x, top + 4, 16, 30)


def _arc_fault(x: float, top: float) -> Iterator[str]:
    """A switch that opens at an arc: a flash beside its blade."""
    yield from _switch(x, top)
    yield path([(x + 4, top + 10), (x + 8, top + 16), (x + 4, top + 17), (x + 8, top + 24)])


def _load(x: float, top: float) -> Iterator[str]:
    """A consumer: an arrow in a box."""
    yield _square(x, top, 15, 30)
    yield line((x, top), (x, top + 16))
    yield _solid([(x - 6, top + 14), (x + 6, top + 14), (x, top + 24)])


def _arrester(x: float, top: float) -> Iterator[str]:
    """A surge arrester: two arrow-heads that meet in a rectangle."""
    yield _square(x, top + 3, 8, 30)
    yield line((x, top), (x, top + 10))
    yield line((x, top + 36), (x, top + 26))
    yield _solid([(x - 4, top + 9), (x + 4, top + 9), (x, top + 16)])
    yield _solid([(x - 4, top + 27), (x + 4, top + 27), (x, top + 20)])


def _chassis(x: float, top: float) -> Iterator[str]:
    yield line((x, top), (x, top + 10))
    yield line((x - 12, top + 10), (x + 12, top + 10))
    for across in (-11.0, 0.0, 11.0):
        yield line((x + across, top + 10), (x + across - 5, top + 19))


def _earth(x: float, top: float) -> Iterator[str]:
    yield line((x, top), (x, top + 10))
    for down, half in ((10.0, 12.0), (14.5, 8.0), (19.0, 4.0)):
        yield line((x - half, top + down), (x + half, top + down))


def _water(x: float, top: float) -> Iterator[str]:
    yield line((x, top), (x, top + 10))
    yield line((x - 12, top + 10), (x + 12, top + 10))
    for down in (14.5, 19.5):
        yield element(
            "path", d=f"M{number(x - 12)} {number(top + down)}q3 -4 6 0t6 0t6 0t6 0", fill="none"
        )


SYMBOLS: Final[dict[str, Symbol]] = {
    "string": Symbol(22, 38, _string),
    "strings": Symbol(28, 38, _strings),
    "blocking": Symbol(22, 60, _blocking),
    "fuse": Symbol(9, 34, _fuse),
    "breaker": Symbol(9, 34, _breaker),
    "switch": Symbol(9, 34, _switch),
    "load-switch": Symbol(9, 34, _load_switch),
    "plug": Symbol(9, 34, _plug),
    "controller": Symbol(22, 38, _controller),
    "inverter": Symbol(22, 38, _inverter),
    "shore": Symbol(22, 38, _shore),
    "battery": Symbol(22, 38, _battery),
    "batteries": Symbol(28, 38, _batteries),
    "alternator": Symbol(22, 38, _alternator),
    "load": Symbol(15, 30, _load),
    "starter": Symbol(19, 38, _starter),
    "converter": Symbol(22, 38, _controller),
    "isolator": Symbol(22, 38, _isolator),
    "selector": Symbol(13, 34, _selector),
    "box": Symbol(26, 38, _box),
    "arc-fault": Symbol(9, 34, _arc_fault),
    "arrester": Symbol(9, 36, _arrester),
    "chassis": Symbol(17, 20, _chassis),
    "earth": Symbol(12, 20, _earth),
    "water": Symbol(12, 22, _water),
}
"""By kind of part. Busbars, joints and panels are drawn as wide as what hangs on them."""
