"""How much room each part and run of a one-line diagram takes, with its words and its marks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from wattproof.reports.findings.text_room import room
from wattproof.reports.one_line.columns import COLUMN_GAP
from wattproof.reports.one_line.marks import Mark
from wattproof.reports.one_line.pieces import Item, Strand
from wattproof.reports.one_line.symbols import SYMBOLS
from wattproof.reports.one_line.words import Words, of_part, of_run
from wattproof.views.one_line.view import End, OneLine, Part, Run

BESIDE: Final = 8.0  # from a symbol to its words
PORT: Final = 11.0  # size of the name of a port; printed, 8 points
PORT_HIGH: Final = 14.0
BAR: Final = 9.0  # from the top of a bar's room to its middle
WAY_TOP: Final = 14.0  # from the top of a panel to its bar
GROUND_END: Final = 10.0  # where a line leaves the plate of a ground
_PANEL_EDGE: Final = 16.0
_RUN_LEFT: Final = 14.0
_PIECE: Final = 8.0  # between what stands along a run
_LONE: Final = 26.0  # half the width of a bar at which little ends
_WIDEST_WAY: Final = 230.0

SEVERAL: Final = {"string": "strings", "battery": "batteries"}
"""Symbols of several alike parts, by that of one."""

Marks = Mapping[str, Sequence[Mark]]


@dataclass(frozen=True, slots=True)
class Piece:
    """Something along a run: a device, or the words of the run itself (without a part)."""

    part: Part | None
    words: Words
    down: float
    high: float


@dataclass(frozen=True, slots=True)
class RunBlock:
    """A run with what stands along it, from its upper end."""

    run: Run
    pieces: tuple[Piece, ...]
    right: float
    high: float


@dataclass(frozen=True, slots=True)
class PartBlock:
    """A part with its words. ways: the ways of a panel, with their places from its axis."""

    part: Part
    words: Words
    half: float
    high: float
    start: float
    end: float
    gap: float
    stretches: bool
    ways: tuple[tuple[Part, Words, float], ...] = ()

    @property
    def item(self) -> Item:
        """What a layout knows of it."""
        return Item(
            self.part.key,
            self.half,
            BESIDE + self.words.wide,
            max(self.high, self.words.high),
            self.start,
            self.end,
            self.gap,
            self.stretches,
            {_port_of(way): across for way, _, across in self.ways},
        )


def run_blocks(view: OneLine, marks: Marks) -> dict[str, RunBlock]:
    """The blocks of all runs, by key."""
    return {run.key: _run_block(run, marks) for run in view.runs}


def part_blocks(view: OneLine, runs: Mapping[str, RunBlock], marks: Marks) -> dict[str, PartBlock]:
    """The blocks of all parts, by key."""
    plain = {p.key: _part_block(p, view, marks) for p in view.parts if not p.ways}
    panels = {p.key: _panel_block(p, view, runs, plain, marks) for p in view.parts if p.ways}
    return {p.key: plain.get(p.key) or panels[p.key] for p in view.parts}


def strand_of(block: RunBlock) -> Strand:
    """What a layout knows of a run."""
    run = block.run
    upper, lower = run.upper, run.lower
    ends = (upper.part, upper.port, lower.part, lower.port)
    return Strand(run.key, *ends, _RUN_LEFT, block.right, block.high)


def symbol_of(part: Part) -> str:
    """The symbol of a part that has one of a fixed size."""
    if part.blocks:
        return "blocking"
    if part.many and part.kind in SEVERAL:
        return SEVERAL[part.kind]
    return "load-switch" if part.breaks_load and part.kind == "switch" else part.kind


def _run_block(run: Run, marks: Marks) -> RunBlock:
    own = of_run(run, marks.get(run.key, ()))
    found: list[tuple[Part | None, Words]] = [
        (device, of_part(device, marks.get(device.key, ()))) for device in run.devices
    ]
    early = sum(d.share is not None and d.share < 0.5 for d in run.devices)
    found.insert(early, (None, own))
    pieces: list[Piece] = []
    down = 2.0
    for part, words in found:
        high = max(words.high, 0.0 if part is None else SYMBOLS[symbol_of(part)].high)
        pieces.append(Piece(part, words, down, high))
        down += high + _PIECE
    right = max(_across(piece) + piece.words.wide for piece in pieces)
    return RunBlock(run, tuple(pieces), right, down - _PIECE + 2.0)


def _across(piece: Piece) -> float:
    """From the line to the words of a piece."""
    return BESIDE + (0.0 if piece.part is None else SYMBOLS[symbol_of(piece.part)].half)


def _part_block(part: Part, view: OneLine, marks: Marks) -> PartBlock:
    words = of_part(part, marks.get(part.key, ()))
    if part.kind in ("busbar", "combiner", "panel"):
        return PartBlock(part, words, _LONE, 2 * BAR, BAR, BAR, 14.0, True)
    symbol = SYMBOLS[symbol_of(part)]
    if part.kind != "controller":
        end = GROUND_END if part.kind in ("chassis", "water", "earth") else symbol.high
        return PartBlock(part, words, symbol.half, symbol.high, 0.0, end, 14.0, False)
    gap = max((_port_wide(port) for port in _ports(part, view)), default=14.0)
    half = max(symbol.half + 4.0, gap / 2)
    high = symbol.high + 2 * PORT_HIGH
    return PartBlock(part, words, half, high, 0.0, high, gap, False)


def _ports(part: Part, view: OneLine) -> Iterator[str]:
    """The ports at which runs end at a part."""
    for run in view.runs:
        yield from (end.port for end in (run.upper, run.lower) if end.part == part.key)


def _port_wide(port: str) -> float:
    """The room that the name of a port takes across."""
    return room(port, PORT) + 6.0


def _panel_block(
    panel: Part,
    view: OneLine,
    runs: Mapping[str, RunBlock],
    parts: Mapping[str, PartBlock],
    marks: Marks,
) -> PartBlock:
    """A panel: its ways side by side, as far apart as what hangs on them is wide."""
    half = SYMBOLS["fuse"].half
    words = [of_part(way, marks.get(way.key, ())) for way in panel.ways]
    pins: list[float] = []
    right = 0.0
    for way, said in zip(panel.ways, words, strict=True):
        hanging = [r for r in view.runs if r.upper == End(panel.key, _port_of(way))]
        below = [min(_room_of(run, runs, parts), _WIDEST_WAY) for run in hanging]
        spread = sum(below[:-1]) / 2
        pins.append(max(right, _PANEL_EDGE) + spread)
        beside = half + BESIDE + said.wide + _PANEL_EDGE
        right = pins[-1] + max(beside, spread + below[-1] if below else 0.0)
    wide = pins[-1] + half + BESIDE + words[-1].wide + _PANEL_EDGE
    ways = tuple(
        (way, said, pin - wide / 2) for way, said, pin in zip(panel.ways, words, pins, strict=True)
    )
    high = WAY_TOP + max(SYMBOLS["fuse"].high, *(said.high for said in words)) + 10.0
    own = of_part(panel, marks.get(panel.key, ()))
    return PartBlock(panel, own, wide / 2, high, 0.0, high, 14.0, False, ways)


def _port_of(way: Part) -> str:
    return way.key.split(".", 1)[1]


def _room_of(run: Run, runs: Mapping[str, RunBlock], parts: Mapping[str, PartBlock]) -> float:
    """How far apart the lines of a run and its neighbour stand if all hangs straight down."""
    lower = parts.get(run.lower.part)
    below = lower.half + BESIDE + lower.words.wide if lower is not None else 0.0
    return max(runs[run.key].right, below) + COLUMN_GAP + _PANEL_EDGE
