"""What a check found, as one page that needs nothing around it: no network, style sheet or font.

It opens from a file, on a telephone, and prints with everything in it. All that the plan says is
escaped, and a content security policy lets nothing run but the page's own script.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from wattproof import __version__
from wattproof.engine import Result
from wattproof.finding import HAZARDS, LEVELS, Hazard
from wattproof.reports.findings import summary
from wattproof.reports.findings.telling import (
    Told,
    numbered_findings,
    together_words,
    told_in_order,
    trial_words,
)
from wattproof.reports.findings.verdict import counts, did_fail, live
from wattproof.reports.findings.workings import all_steps, origin_words
from wattproof.reports.page.energy_tables import REMEMBER as NO_PROMISE
from wattproof.reports.page.links import Links
from wattproof.reports.schedules.tables import REMEMBER
from wattproof.reports.settings import tables as settings_tables
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.tables import Cell, Column, Table
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
    from wattproof.views.connection_order import Stage


@dataclass(frozen=True)
class Page:
    """What a page shows of one plan.

    sources: the text of the plan and of its parts files, by their names in places.
    diagram, curves: pictures as SVG; empty where there is nothing to draw. not_drawn: why inputs
    or shades have no curves. arrays: where each array works. energy, readings: empty
    where the plan has none. stages: the order of connection.
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

    @property
    def set(self) -> Table | None:
        """What was set for the check; None where nothing was."""
        return next(settings_tables.tables_of(self.result.settings), None)


def render(page: Page) -> str:
    """The page as HTML."""
    links = Links(page.sources, page.diagram)
    environment = _environment(links)
    result = page.result
    text = environment.get_template("page.html").render(
        page=page,
        result=result,
        links=links,
        numbers=numbered_findings(result),
        hazards=_by_hazard(told_in_order(result)),
        accepted=[f for f in result.findings if f.acceptance is not None],
        tally=_tally(result),
        failed=did_fail(result),
        diagram=Markup(page.diagram),
        curves=[Markup(picture) for picture in page.curves],
        style=Markup(_read(environment, "style.css")),
        script=Markup(_read(environment, "script.js")),
    )
    return text.replace(_POLICY, _policy(text), 1)


_LONG_WORD: Final = 16
_SENTENCE: Final = 50
_POLICY: Final = "POLICY-OF-THIS-PAGE"


def _environment(links: Links) -> Environment:
    environment = Environment(
        loader=PackageLoader("wattproof.reports.page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_safe,
    )
    environment.filters["marked"] = links.marked
    environment.globals.update(
        VERDICT_WORDS=VERDICT_WORDS,
        HAZARD_WORDS=HAZARD_WORDS,
        LEVEL_WORDS=LEVEL_WORDS,
        NO_PROMISE=NO_PROMISE,
        REMEMBER=REMEMBER,
        STANDING=STANDING,
        VERSION=__version__,
        all_steps=all_steps,
        cell_classes=_cell_classes,
        margin_words=margin_words,
        numbered=numbered,
        origin_words=origin_words,
        shown=shown,
        summary=summary,
        together_words=together_words,
        trial_words=trial_words,
    )
    return environment


def _safe(value: Any) -> Any:
    """Texts of a plan without characters that hide themselves or what stands beside them."""
    return clean(value) if isinstance(value, str) and not isinstance(value, Markup) else value


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


def _by_hazard(told: Sequence[Told]) -> list[tuple[Hazard, list[Told]]]:
    """What is told, by the hazard of the gravest finding, fire first."""
    ordered = sorted(told, key=lambda t: HAZARDS.index(t.lead.hazard))
    return [(hazard, list(group)) for hazard, group in groupby(ordered, lambda t: t.lead.hazard)]


def _tally(result: Result) -> list[tuple[str, list[int]]]:
    """Findings that nobody accepts: for each hazard, how many of each level."""
    rows = []
    for hazard in HAZARDS:
        found = [f for f in live(result.findings) if f.hazard == hazard]
        if found:
            rows.append((HAZARD_WORDS[hazard], [counts(found)[level] for level in LEVELS]))
    return rows


def _policy(text: str) -> str:
    """A policy by which nothing is fetched, and nothing runs or is styled but what is in here."""
    styles = " ".join(_hashes("style", text)) or "'none'"
    scripts = " ".join(_hashes("script", text)) or "'none'"
    return (
        f"default-src 'none'; style-src {styles}; script-src {scripts}; "
        "base-uri 'none'; form-action 'none'"
    )


def _hashes(tag: str, text: str) -> list[str]:
    blocks = re.findall(rf"<{tag}\b[^>]*>(.*?)</{tag}>", text, re.DOTALL)
    digests = (hashlib.sha256(block.encode()).digest() for block in blocks)
    return [f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests]


def _read(environment: Environment, name: str) -> str:
    assert environment.loader is not None
    return environment.loader.get_source(environment, name)[0]
