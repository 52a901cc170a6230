"""The one-line diagram of a plan as a picture: laid out and drawn from the study's view of it.

It needs nothing around it: no style sheet, script, font or other file. Each part and run is a group
with the id `component-` and its name, so that a page may lead there; marks of findings may lead to
the findings. It is dark where the reader's screen is, and black on white in print.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.finding import Finding
from wattproof.reports.findings.text_room import room
from wattproof.reports.one_line.blocks import part_blocks, run_blocks, strand_of
from wattproof.reports.one_line.drawing import SOFT, Drawing
from wattproof.reports.one_line.layout import lay_out
from wattproof.reports.one_line.marks import Mark, marks_at, numbered
from wattproof.reports.one_line.signs import DARK, marked
from wattproof.reports.one_line.words import SIGN, SIZE, Line
from wattproof.reports.writing.columns import wrapped
from wattproof.reports.writing.svg_elements import FONT, element, label, number, words
from wattproof.reports.writing.wording import STANDING_OF_A_PICTURE
from wattproof.study.site.states import WORDS
from wattproof.views.one_line.view import OneLine, Run

_EDGE: Final = 24.0
_LEAST: Final = 480.0
_TITLE: Final = 17.0
_STEP: Final = 16.0
_MARK: Final = 84.0
_SHORT: Final = 30  # columns
_STYLE: Final = (
    "@media screen and (prefers-color-scheme: dark){"
    ".one-line{color:#e8e9e4}"
    ".one-line .ground{fill:#17191b}"
    ".one-line .halo{stroke:#17191b}"
    ".one-line .soft{fill:#a9aca4}"
    + "".join(f".one-line .{sort}{{fill:{colour}}}" for sort, colour in DARK.items())
    + "}"
    "@media print{.one-line{color:#000}.one-line .soft{fill:#000}}"
)


def render(
    view: OneLine, findings: Sequence[Finding] | None = None, *, link: str = "", listed: bool = True
) -> str:
    """The picture of one plan.

    findings: all of a check, as told; None where the plan was not checked. link: what stands
    before the number of a finding in the address that its mark leads to (`#finding-`); empty for
    marks that lead nowhere. listed: whether the findings are told below the diagram.
    """
    marks = numbered(findings or ())
    at = marks_at(view, marks)
    runs = run_blocks(view, at)
    parts = part_blocks(view, runs, at)
    laid = lay_out([b.item for b in parts.values()], [strand_of(b) for b in runs.values()])
    width = max(laid.width + 2 * _EDGE, _LEAST)
    sheet = _Sheet(width, link)
    sheet.head(view)
    left, top = (width - laid.width) / 2, sheet.y
    sheet.y += laid.height + 34.0
    sheet.foot(_verdict(findings), marks if listed else [])
    drawn = [
        words("title", view.title or "One-line diagram", id="one-line-title"),
        words("desc", _described(view), id="one-line-described"),
        element("style", _STYLE),
        element("rect", width=sheet.width, height=sheet.y, fill="#ffffff", class_="ground"),
        *sheet.drawn,
        *Drawing(laid, parts, runs, link, left, top).drawn(),
    ]
    return (
        element(
            "svg",
            "\n" + "\n".join(drawn) + "\n",
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {number(sheet.width)} {number(sheet.y)}",
            width=sheet.width,
            height=sheet.y,
            role="group" if link else "img",
            aria_labelledby="one-line-title one-line-described",
            font_family=FONT,
            class_="one-line",
            color="#1b1c1a",
        )
        + "\n"
    )


class _Sheet:
    """The words above and below the diagram; y is where the next go."""

    def __init__(self, width: float, link: str) -> None:
        """Of a width that only grows where a line of words is wider than it looks."""
        self.width = width
        self.link = link
        self.y = 14.0
        self.drawn: list[str] = []

    def head(self, view: OneLine) -> None:
        """Title, and what the numbers in the diagram are."""
        self._tell(view.title, size=_TITLE, bold=True)
        for text in _told_of_numbers(view):
            self._tell(text, soft=True)
        self.y += 18.0

    def foot(self, verdict: str, marks: Sequence[Mark]) -> None:
        """What the strokes mean, what was found, and what a check is not."""
        self._tell(_STROKES, soft=True)
        self.y += 8.0
        self._tell(verdict)
        for mark in marks:
            self._finding(mark)
        self.y += 8.0
        self._tell(STANDING_OF_A_PICTURE, soft=True)
        self.y += 14.0

    def _finding(self, mark: Mark) -> None:
        line = Line("mark", f"{mark.sort} {mark.number}", mark.sort, (mark,))
        self.drawn += marked(line, _EDGE, self.y + 11.0, self.link)
        self._tell(mark.finding.message, left=_EDGE + SIGN + _MARK)

    def _tell(
        self,
        text: str,
        *,
        left: float = _EDGE,
        size: float = SIZE,
        bold: bool = False,
        soft: bool = False,
    ) -> None:
        """A text in as many lines as it needs."""
        more: dict[str, str | float] = {"fill": "currentColor"}
        if bold:
            more["font_weight"] = "bold"
        if soft:
            more |= SOFT
        for shown in _lines(text, self.width - left - _EDGE, size, bold):
            self.width = max(self.width, left + room(shown, size, bold=bold) + _EDGE)
            self.drawn.append(label(shown, left, self.y + size, size, "start", **more))
            self.y += size + _STEP - SIZE


def _lines(text: str, across: float, size: float, bold: bool) -> list[str]:
    """A text in lines that fit, or in short ones where nothing does."""
    columns = max(int(across / size / 0.5), _SHORT)
    while True:
        lines = list(wrapped(text, columns))
        if columns <= _SHORT or all(room(each, size, bold=bold) <= across for each in lines):
            return lines
        columns = max(columns - 4, _SHORT)


_STROKES: Final = (
    "Two strokes across a line: both conductors. One stroke: a single conductor, + or −, or one "
    "that links in series. A line that is broken where another crosses does not meet it."
)


def _verdict(findings: Sequence[Finding] | None) -> str:
    """What the marks, or their absence, stand for."""
    if findings is None:
        return "Not checked: that no mark is shown says nothing of the plan."
    return "" if findings else "Checked: no rule found a fault in what the plan declares."


def _told_of_numbers(view: OneLine) -> Iterator[str]:
    state = WORDS[view.state]
    if view.state == "bright":
        arrays = f"open-circuit voltage and, in {state}, short-circuit current"
    else:
        arrays = f"voltage and current at maximum power, {state}"
    yield f"One-line diagram. Beside wires of an array: {arrays}."
    yield "Beside other wires: the highest charge voltage and the largest lasting current."


def _described(view: OneLine) -> str:
    """The diagram in sentences, for those who do not see it."""
    names = {part.key: part.name for part in view.parts}
    return " ".join([f"{'; '.join(_told_of_numbers(view))}", *(_led(r, names) for r in view.runs)])


def _led(run: Run, names: dict[str, str]) -> str:
    upper, lower = (
        ".".join(part for part in (names[end.part], end.port) if part)
        for end in (run.upper, run.lower)
    )
    through = f" through {', '.join(d.name for d in run.devices if d.name)}" if run.devices else ""
    if not run.name:
        return f"{upper} is joined to {lower}."
    return f"{run.name} leads from {upper} to {lower}{through}."
