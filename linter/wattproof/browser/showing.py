"""Documents and pictures of the plan on the desk."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Any

from wattproof.reports.writing.columns import clean

if TYPE_CHECKING:
    from wattproof.browser.desk import Desk
    from wattproof.choosing.layouts import Layouts
    from wattproof.reports.page import Paper


def page(desk: Desk, paper: Paper) -> str:
    """The page of `wattproof report`, for a screen or for paper."""
    from wattproof.reports.page import render

    link = "" if paper == "bench" else "#finding-"
    return render(desk.page.page(link=link), paper)


def diagram(desk: Desk) -> str:
    """The one-line diagram with its marks, as SVG; empty where there is none."""
    from wattproof.reports.findings.telling import as_told
    from wattproof.reports.one_line import svg
    from wattproof.views.one_line.view import one_line

    study, result = desk.checked
    return svg.render(one_line(study, "standard"), as_told(result)) if study is not None else ""


def curves(desk: Desk) -> dict[str, Any]:
    """The curves, as of `wattproof curve`: the picture, and the same as a text."""
    from wattproof.reports.curves import data, svg, text

    study = desk.checked.study
    if study is None:
        return {"picture": "", "text": ""}
    inputs = [data.read(found) for found in study.curves.curves]
    title = str(study.plan.title or "")
    told = text.render(desk.file, title, inputs, list(data.not_drawn(study)), [])
    return {"picture": svg.render(title, inputs) if inputs else "", "text": told}


def questions(desk: Desk) -> str:
    """The sheet of `wattproof questions`, as text."""
    from wattproof.reports.questions import text

    result = desk.checked.result
    return text.render(desk.file, result.title, result.questions)


def layouts(desk: Desk) -> dict[str, Any]:
    """Every way to join the modules, compared, also where the plan has chosen one.

    Raises PlanUnusable.
    """
    from wattproof.choosing.joining import open_arrays
    from wattproof.plan import load_plan
    from wattproof.reports.layouts.section import section_of
    from wattproof.reports.layouts.told import outcome, reason

    is_open = bool(open_arrays(load_plan(desk.file, shown_as=desk.file)))
    found = _layouts(desk, again=not is_open)
    made = section_of(found)
    figures = {each.name: each.figures for each in made.each}
    return {
        "about": made.about,
        "closing": made.closing,
        "basis": made.basis,
        "open": is_open,
        "each": [
            {
                "name": each.name,
                "fits": each.reason is None,
                "outcome": outcome(each),
                "reason": clean(reason(each)),
                "figures": [[label, clean(text)] for label, text in figures[each.name]],
            }
            for each in found.tried
        ],
    }


def layouts_document(desk: Desk) -> str:
    """The document of `wattproof layouts --format json`. Raises PlanUnusable."""
    from wattproof.reports.layouts import json

    return json.render(_layouts(desk))


def _layouts(desk: Desk, *, again: bool = False) -> Layouts:
    """again: whether a way that is chosen is compared with the others."""
    from wattproof.choosing.joining import reopened
    from wattproof.choosing.layouts import layouts_of
    from wattproof.plan import load_plan

    plan = load_plan(desk.file, shown_as=desk.file)
    if again:
        plan = reopened(plan)
    today = datetime.date.today()
    return layouts_of(plan, desk.rules, file=desk.file, today=today, settings=desk.settings)
