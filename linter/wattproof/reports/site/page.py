"""The list of checked plans as a page: a table that is sifted and sorted, and whole without that.

It fetches nothing, and all that plans say is escaped.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from jinja2 import Environment
from markupsafe import Markup

from wattproof import __version__
from wattproof.reports.findings.glance import Verdict, verdict_of
from wattproof.reports.site import Entry, Site, revision_words
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.policy import with_policy
from wattproof.reports.writing.templates import environment_of, text_of
from wattproof.reports.writing.wording import STANDING, numbered
from wattproof.working import Value

LISTING = "index.json"


class Row(NamedTuple):
    """A plan of the list, and what is to be done about it."""

    entry: Entry
    verdict: Verdict


class Kind(NamedTuple):
    """A verdict that some plans have. grave: as of the verdict."""

    signal: str
    grave: int
    plans: int


def render(site: Site) -> str:
    """The page as HTML."""
    rows = [Row(entry, verdict_of(entry.result)) for entry in site.entries]
    environment = _environment()
    return with_policy(
        environment.get_template("index.html").render(
            site=site,
            rows=rows,
            kinds=list(_kinds(rows)),
            style=Markup(text_of(environment, "style.css") + text_of(environment, "index.css")),
            script=Markup(text_of(environment, "sorting.js") + text_of(environment, "index.js")),
        )
    )


def _kinds(rows: list[Row]) -> Iterator[Kind]:
    """The verdicts that there are, the gravest first."""
    found = Counter((row.verdict.grave, row.verdict.signal) for row in rows)
    for (grave, signal), count in sorted(found.items(), key=lambda item: (-item[0][0], item[0][1])):
        yield Kind(signal, grave, count)


def _environment() -> Environment:
    environment = environment_of("wattproof.reports.site", "wattproof.reports.page")
    environment.filters["figure"] = _figure
    environment.globals.update(
        LISTING=LISTING,
        STANDING=STANDING,
        VERSION=__version__,
        numbered=numbered,
        revision_words=revision_words,
    )
    return environment


def _figure(value: Value) -> Markup:
    """A number, and whether it stands in for what the plan does not tell."""
    mark = Markup(' <span class="soft">assumed</span>') if value.assumptions else Markup("")
    return Markup('<span class="figure">{}</span>').format(clean(str(value))) + mark
