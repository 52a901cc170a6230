"""What a check found, as one page that needs nothing around it: no network, style sheet or font.

It opens from a file, on a telephone, and prints with everything in it. All that the plan says is
escaped, and a content security policy lets nothing run but the page's own script.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Final, Literal, NamedTuple, TypeAlias

from jinja2 import Environment
from markupsafe import Markup

from wattproof import __version__
from wattproof.engine import Result
from wattproof.finding import HAZARDS, LEVELS
from wattproof.reports.findings import glance, summary
from wattproof.reports.findings.choices import not_chosen
from wattproof.reports.findings.telling import (
    all_at_once,
    numbered_findings,
    together_words,
    told_in_order,
    trial_words,
)
from wattproof.reports.findings.verdict import counts, live
from wattproof.reports.findings.workings import all_steps, origin_words
from wattproof.reports.page.bench import cut_list, tapes
from wattproof.reports.page.energy_tables import REMEMBER as NO_PROMISE
from wattproof.reports.page.fingerprint import fingerprint
from wattproof.reports.page.links import Links
from wattproof.reports.page.sheets import pieces
from wattproof.reports.schedules.tables import REMEMBER
from wattproof.reports.settings import tables as settings_tables
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.policy import with_policy
from wattproof.reports.writing.tables import Cell, Column, Table
from wattproof.reports.writing.templates import environment_of, text_of
from wattproof.reports.writing.wording import (
    HAZARD_WORDS,
    LEVEL_WORDS,
    STANDING,
    VERDICT_WORDS,
    margin_words,
    numbered,
)
from wattproof.working import shown

if TYPE_CHECKING:
    from wattproof.reports.layouts.section import Section
    from wattproof.views.connection_order import Stage

Paper: TypeAlias = Literal["", "bench", "full"]
"""What a page is made for: a screen (printed with everything opened), the sheets that are needed at
the bench, or all of it on paper."""


class Published(NamedTuple):
    """Where a page stands among those of other plans.

    home: the address of the list of all. files: the address of each of its texts, in the order of
    the page's own. revision: which revision of its repository was checked, in words; empty without.
    """

    home: str
    files: tuple[str, ...]
    revision: str


@dataclass(frozen=True)
class Page:
    """What a page shows of one plan.

    sources: the text of the plan and of its parts files, by their names in places.
    diagram, curves: pictures as SVG; empty where there is nothing to draw. not_drawn: why inputs
    or shades have no curves. arrays: where each array works. energy, readings: empty
    where the plan has none. stages: the order of connection. layouts: every way
    to join its modules, where that is asked for. published: where it is one of many.
    """

    result: Result
    sources: Mapping[str, str]
    diagram: str = ""
    curves: Sequence[str] = ()
    not_drawn: Sequence[str] = ()
    arrays: Sequence[Table] = ()
    energy: Sequence[Table] = ()
    readings: Sequence[Table] = ()
    schedules: Sequence[Table] = ()
    stages: Sequence[Stage] = ()
    layouts: Section | None = None
    published: Published | None = None

    @property
    def set(self) -> Table | None:
        """What was set for the check; None where nothing was."""
        return next(settings_tables.tables_of(self.result.settings), None)

    @property
    def name(self) -> str:
        """The title of the plan; that of its file where it has none."""
        return self.result.title or self.result.file

    @property
    def fingerprint(self) -> str:
        """By which its sheets are known to be of this text of the plan."""
        return fingerprint(self.sources)


def render(page: Page, paper: Paper = "", *, live: bool = False) -> str:
    """The page as HTML.

    live: whether it is served by a program that tells when it is to be renewed; then it holds
    `NUMBER` once, where that program writes which page it is.
    """
    links = Links(page.sources, page.diagram)
    environment = _environment(links)
    result = page.result
    verdict = glance.verdict_of(result)
    text = environment.get_template("bench.html" if paper == "bench" else "page.html").render(
        page=page,
        paper=paper,
        live=live,
        number=NUMBER,
        result=result,
        links=links,
        verdict=verdict,
        lines=list(glance.lines_of(result)),
        asked=glance.first_questions(result),
        choices=not_chosen(result),
        questions=[q for q in result.questions if not q.marginal],
        marginal=[q for q in result.questions if q.marginal],
        numbers=numbered_findings(result),
        told=told_in_order(result),
        accepted=[f for f in result.findings if f.acceptance is not None],
        tally=_tally(result),
        diagram=_drawn(page.diagram, paper),
        curves=[_drawn(picture, paper) for picture in page.curves],
        layout_curves=_drawn(page.layouts.curves if page.layouts else "", paper),
        cuts=cut_list(page.schedules) if paper == "bench" else None,
        tapes=tapes(page.schedules) if paper == "bench" else (),
        style=Markup(text_of(environment, "style.css") + _running(page, verdict.signal)),
        script=Markup("".join(text_of(environment, name) for name in _scripts(live))),
    )
    return with_policy(text, connects=live)


def _scripts(live: bool) -> tuple[str, ...]:
    return ("sorting.js", "script.js", *(("live.js",) if live else ()))


def _drawn(svg: str, paper: Paper) -> list[tuple[Markup, str, bool]]:
    """A picture: whole on a screen, in legible pieces on paper. Each with what is said of it."""
    if not svg:
        return []
    if not paper:
        return [(Markup(svg), "", False)]
    return [(Markup(piece.svg), piece.words, piece.across) for piece in pieces(svg)]


def _running(page: Page, signal: str) -> str:
    """What stands at the foot of each sheet, as style: plan, fingerprint and verdict."""
    told = [_SHORT.sub("…", clean(page.name)), clean(page.result.file), page.fingerprint, signal]
    words = " · ".join(word for word in dict.fromkeys(told) if word)
    return f'@page {{ @bottom-left {{ content: "{_quoted(words)}"; }} }}\n'


def _quoted(text: str) -> str:
    """A text within a string of a style sheet: each sign that could end it as its number."""
    return re.sub(r"[^A-Za-z0-9 ]", lambda sign: f"\\{ord(sign.group()):06x}", text)


NUMBER: Final = "NUMBER-OF-THIS-PAGE"
_LONG_WORD: Final = 16
_SHORT: Final = re.compile(r"(?<=^.{48}).+", re.DOTALL)
_SENTENCE: Final = 50
_MANY: Final = 9  # columns that a sheet holds side by side


def _environment(links: Links) -> Environment:
    environment = environment_of("wattproof.reports.page")
    environment.filters["marked"] = links.marked
    environment.filters["passed"] = partial(links.marked, stop=False)
    environment.filters["coded"] = Links({}, "").marked
    environment.tests["drawn"] = links.is_drawn
    environment.globals.update(
        VERDICT_WORDS=VERDICT_WORDS,
        HAZARD_WORDS=HAZARD_WORDS,
        LEVEL_WORDS=LEVEL_WORDS,
        NO_PROMISE=NO_PROMISE,
        REMEMBER=REMEMBER,
        STANDING=STANDING,
        VERSION=__version__,
        MANY=_MANY,
        all_steps=all_steps,
        cell_classes=_cell_classes,
        headline=glance.headline,
        remedy_of=glance.remedy_of,
        margin_words=margin_words,
        numbered=numbered,
        origin_words=origin_words,
        shown=shown,
        summary=summary,
        all_at_once=all_at_once,
        together_words=together_words,
        trial_words=trial_words,
    )
    return environment


def _cell_classes(column: Column, cell: Cell) -> str:
    """What the style of a cell depends on.

    right: numbers. long: it has a word that no narrow column holds, so that it may break anywhere.
    told: a sentence, which no column should squeeze.
    """
    long_word = any(len(word) > _LONG_WORD for word in re.split(r"[\s-]+", cell.text))
    flags = {
        "right": column.align == "right",
        "long": long_word,
        "told": len(cell.text) > _SENTENCE,
    }
    return " ".join(name for name, holds in flags.items() if holds)


def _tally(result: Result) -> list[tuple[str, list[int]]]:
    """Findings that nobody accepts: for each hazard, how many of each level."""
    rows = []
    for hazard in HAZARDS:
        found = [f for f in live(result.findings) if f.hazard == hazard]
        if found:
            rows.append((HAZARD_WORDS[hazard], [counts(found)[level] for level in LEVELS]))
    return rows
