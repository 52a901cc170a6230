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

from wattproof.engine import Result
from wattproof.finding import HAZARDS, LEVELS, Hazard
from wattproof.reports import summary
from wattproof.reports.columns import clean
from wattproof.reports.page.links import Links
from wattproof.reports.schedule_tables import REMEMBER
from wattproof.reports.tables import Table
from wattproof.reports.telling import (
    Told,
    numbered_findings,
    together_words,
    told_in_order,
    trial_words,
)
from wattproof.reports.verdict import counts, did_fail, live
from wattproof.reports.wording import (
    CERTAINTY_WORDS,
    HAZARD_WORDS,
    LEVEL_WORDS,
    STANDING,
    margin_words,
    numbered,
)
from wattproof.reports.workings import all_steps, origin_words
from wattproof.working import shown

if TYPE_CHECKING:
    from wattproof.study.connection_order import Stage


@dataclass(frozen=True)
class Page:
    """What a page shows of one plan.

    sources: the text of the plan and of its parts files, by their names in places.
    diagram, curves: pictures as SVG; empty where there is nothing to draw.
    stages: the order of connection. tables: the schedules.
    """

    result: Result
    sources: Mapping[str, str]
    diagram: str = ""
    curves: str = ""
    stages: Sequence[Stage] = ()
    tables: Sequence[Table] = ()


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
        curves=Markup(page.curves),
        style=Markup(_read(environment, "style.css")),
        script=Markup(_read(environment, "script.js")),
    )
    return text.replace(_POLICY, _policy(text))


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
        CERTAINTY_WORDS=CERTAINTY_WORDS,
        HAZARD_WORDS=HAZARD_WORDS,
        LEVEL_WORDS=LEVEL_WORDS,
        REMEMBER=REMEMBER,
        STANDING=STANDING,
        all_steps=all_steps,
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
