"""Draws what a layout of a one-line diagram has placed: lines, symbols, words and marks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from wattproof.reports.one_line.blocks import (
    BAR,
    BESIDE,
    PORT,
    PORT_HIGH,
    WAY_TOP,
    PartBlock,
    Piece,
    RunBlock,
    symbol_of,
)
from wattproof.reports.one_line.layout import Laid, PlacedItem, PlacedStrand
from wattproof.reports.one_line.signs import marked
from wattproof.reports.one_line.symbols import SYMBOLS
from wattproof.reports.one_line.words import NAME, SIZE, Words
from wattproof.reports.writing.svg_elements import Position, element, label, line, path, words
from wattproof.views.one_line.view import Part, Run

_LINE: Final = 1.4
_HALO: Final = 6.0
_DOT: Final = 3.0
_STRAIGHT: Final = frozenset(("string", "inverter", "battery", "shore", "load"))
"""Symbols with a straight side, on which lines end beside the axis too."""
SOFT: Final[dict[str, str | float]] = {"fill": "#5b5d57", "class_": "soft"}
"""How words look that matter less."""


def identifier(key: str) -> str:
    """The id of the group of a part or run, fit for XML and for an address."""
    safe = re.sub(r"[^A-Za-z0-9.-]", lambda m: f"_{ord(m.group()):X}_", key)
    return f"component-{safe}"


class Drawing:
    """The drawing of a layout that is moved to a place on the picture."""

    def __init__(
        self,
        laid: Laid,
        parts: Mapping[str, PartBlock],
        runs: Mapping[str, RunBlock],
        link: str,
        left: float,
        top: float,
    ) -> None:
        self.laid = laid
        self.parts = parts
        self.runs = runs
        self.link = link
        self.left = left
        self.top = top
        self.reached: set[int] = set()  # findings that a key stops at

    def drawn(self) -> Iterator[str]:
        """Runs first, so that lines end under symbols."""
        moved = f"translate({self.left:.2f} {self.top:.2f})"
        inner = [
            *(self._run(block, self.laid.strands[key]) for key, block in self.runs.items()),
            *(self._part(block, self.laid.items[key]) for key, block in self.parts.items()),
        ]
        yield element(
            "g",
            "\n" + "\n".join(inner) + "\n",
            transform=moved,
            stroke="currentColor",
            stroke_width=_LINE,
            fill="none",
        )

    def _group(self, kind: str, of: Part | Run, content: Iterable[str]) -> str:
        named = words("title", of.name) if of.name else ""
        return element("g", named + "".join(content), id=identifier(of.key), class_=kind)

    def _run(self, block: RunBlock, at: PlacedStrand) -> str:
        return self._group("run", block.run, self._run_content(block, at))

    def _run_content(self, block: RunBlock, at: PlacedStrand) -> Iterator[str]:
        for way in self._lines(block, at):
            yield path(way, stroke="#ffffff", stroke_width=_HALO, class_="halo")
            yield path(way, class_="wire", stroke_linejoin="round")
        for piece in block.pieces:
            high, down = piece.high, piece.down
            if at.turned:
                down = block.high - piece.down - piece.high
            top = at.top + down
            if piece.part is None:
                yield from self._own_words(block, piece, at.x, top)
            else:
                content = self._device(piece, at.x, top, high)
                yield self._group("part", piece.part, content)

    def _lines(self, block: RunBlock, at: PlacedStrand) -> Iterator[list[Position]]:
        """The line of a run, broken where its devices are."""
        above, below = at.lines
        ways: list[list[Position]] = [list(above)]
        gaps: list[tuple[float, float]] = []
        for piece in block.pieces:
            if piece.part is not None:
                high = SYMBOLS[symbol_of(piece.part)].high
                down = block.high - piece.down - piece.high if at.turned else piece.down
                start = at.top + down + (piece.high - high) / 2
                gaps.append((start, start + high))
        for start, end in sorted(gaps):
            ways[-1].append((at.x, start))
            ways.append([(at.x, end)])
        ways[-1] += list(below)
        yield from ways

    def _own_words(self, block: RunBlock, piece: Piece, x: float, top: float) -> Iterator[str]:
        """The words of a run and, across its line, a stroke for each conductor."""
        yield from self._words(piece.words, x + BESIDE, top)
        if not block.run.name:
            return
        middle = top + piece.high / 2
        strokes = (-2.5, 2.5) if block.run.poles == "both" else (0.0,)
        for down in strokes:
            yield line((x - 5, middle + down + 3), (x + 5, middle + down - 3))
        signs = {"positive": "+", "negative": "−"}
        if block.run.poles in signs:
            yield label(
                signs[block.run.poles], x - 9, middle + 4, SIZE, "middle",
                fill="currentColor", stroke="none", font_weight="bold",
            )  # fmt: skip

    def _device(self, piece: Piece, x: float, top: float, high: float) -> Iterator[str]:
        assert piece.part is not None
        symbol = SYMBOLS[symbol_of(piece.part)]
        yield from symbol.draw(x, top + (high - symbol.high) / 2)
        words_top = top + (high - piece.words.high) / 2
        yield from self._words(piece.words, x + symbol.half + BESIDE, words_top)

    def _words(self, said: Words, x: float, top: float) -> Iterator[str]:
        for baseline, text in said.baselines(top):
            if text.style == "mark":
                signs = marked(text, x, baseline, self.link, self.reached)
                yield element("g", "".join(signs), stroke="none", class_="mark")
                continue
            more: dict[str, str | float] = {"fill": "currentColor", "stroke": "none"}
            size = SIZE
            if text.style == "name":
                size = NAME
                more["font_weight"] = "bold"
            elif text.style == "says":
                more |= SOFT
            yield label(text.text, x, baseline, size, "start", **more)

    def _part(self, block: PartBlock, at: PlacedItem) -> str:
        part = block.part
        draw = {
            "busbar": self._bar,
            "combiner": self._joint,
            "panel": self._panel if block.ways else self._bar,
            "controller": self._controller,
        }.get(part.kind, self._symbol)
        content = [*draw(block, at), *self._words(block.words, at.right + BESIDE, at.top)]
        return self._group("part", part, content)

    def _symbol(self, block: PartBlock, at: PlacedItem) -> Iterator[str]:
        """A symbol of fixed size, with a line across where more lines meet at one side of it."""
        symbol = SYMBOLS[symbol_of(block.part)]
        yield from symbol.draw(at.x, at.top)
        touch = symbol.half if block.part.kind in _STRAIGHT else 0.5
        for ends, y in ((at.above, at.top), (at.below, at.top + block.end)):
            places = [x for x, _ in ends] + [at.x]
            if any(abs(x - at.x) > touch for x in places):
                yield line((min(places), y), (max(places), y))

    def _bar(self, block: PartBlock, at: PlacedItem) -> Iterator[str]:
        yield element(
            "rect", x=at.left, y=at.top + BAR - 2.5, width=at.right - at.left, height=5,
            fill="currentColor", stroke="none",
        )  # fmt: skip

    def _joint(self, block: PartBlock, at: PlacedItem) -> Iterator[str]:
        """A line on which others meet: dots for a fixed joint, rings for terminals that open."""
        y = at.top + BAR
        places = [x for x, _ in (*at.above, *at.below)]
        yield line((min([*places, at.x]), y), (max([*places, at.x]), y))
        kind = block.part.says[0] if block.part.says else ""
        for x in sorted(set(places)):
            if kind == "terminal block":
                yield element("circle", cx=x, cy=y, r=_DOT, fill="#ffffff", class_="ground")
            else:
                yield element("circle", cx=x, cy=y, r=_DOT, fill="currentColor")
        if kind == "combiner box":
            yield self._frame(at.left, at.top, at.right - at.left, 2 * BAR)

    def _frame(self, left: float, top: float, wide: float, high: float) -> str:
        """The outline of a housing."""
        return element(
            "rect", x=left, y=top, width=wide, height=high, stroke_dasharray="7 3 1.5 3",
            stroke_width=1.0,
        )  # fmt: skip

    def _panel(self, block: PartBlock, at: PlacedItem) -> Iterator[str]:
        """A housing with a bar in it, from which a fuse leads to each way out."""
        bar = at.top + WAY_TOP
        bottom = at.top + block.high
        yield self._frame(at.left, at.top, at.right - at.left, block.high)
        pins = [at.x + across for *_, across in block.ways]
        known = {way.key for way, *_ in block.ways}
        back = [x for x, port in at.below if f"{block.part.key}.{port}" not in known]
        feeds = [*(x for x, _ in at.above), *back]
        for x in feeds:
            yield line((x, bottom if x in back else at.top), (x, bar))
        ends = [*pins, *feeds]
        yield element(
            "rect", x=min(ends) - 6, y=bar - 2, width=max(ends) - min(ends) + 12, height=4,
            fill="currentColor", stroke="none",
        )  # fmt: skip
        symbol = SYMBOLS["fuse"]
        for (way, said, _), x in zip(block.ways, pins, strict=True):
            content = [
                *symbol.draw(x, bar),
                line((x, bar + symbol.high), (x, bottom)),
                *self._words(said, x + symbol.half + BESIDE, bar + 5),
            ]
            outs = [end for end, port in at.below if way.key == f"{block.part.key}.{port}"]
            if len(outs) > 1:
                content.append(line((min(outs), bottom), (max(outs), bottom)))
            yield self._group("part", way, content)

    def _controller(self, block: PartBlock, at: PlacedItem) -> Iterator[str]:
        """A housing with a converter in it and the names of its ports."""
        yield element(
            "rect", x=at.left, y=at.top, width=at.right - at.left, height=block.high,
            rx=4, stroke_width=1.0,
        )  # fmt: skip
        yield from SYMBOLS["controller"].draw(at.x, at.top + PORT_HIGH)
        for ends, baseline in ((at.above, at.top + 10.5), (at.below, at.top + block.high - 4)):
            for x, port in ends:
                yield label(port, x, baseline, PORT, "middle", fill="currentColor", stroke="none")
