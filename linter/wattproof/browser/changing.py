"""Remedies and choices written into the plan on the desk, as a change that can be taken back."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

from wattproof.amend.difference import unified
from wattproof.cli.errors import CallUnusable
from wattproof.reports.writing.columns import clean
from wattproof.source import PlanUnusable, Problem

if TYPE_CHECKING:
    from wattproof.browser.desk import Desk
    from wattproof.engine import Result
    from wattproof.finding import Identity

_Made = TypeVar("_Made")


def mended(desk: Desk, findings: list[int]) -> dict[str, Any]:
    """The plan with remedies in it, as of `wattproof mend`.

    findings: by their numbers; all that can be mended where there are none. Raises CallUnusable.
    """
    from wattproof.mending import mended as mend
    from wattproof.reports.findings.glance import headline
    from wattproof.reports.findings.telling import said
    from wattproof.reports.mending.text import NOT_YET

    pick = (lambda result: _picked(result, findings)) if findings else None
    made = _on(desk, mend, pick=pick)
    _refuse(made.before.problems)
    told = [
        {"clears": [clean(headline(each)) for each in mend.clears], "written": said(mend.changes)}
        for mend in made.mends
    ]
    refused = [f"{each.change}: {each.why}. {each.by_hand}" for each in made.refused]
    nothing = "" if made.mends else "no remedy was found that clears what was asked for"
    return _changed(desk, made.text, told, refused, nothing, NOT_YET)


def chosen(desk: Desk, layout: str) -> dict[str, Any]:
    """The plan with values for what it leaves open, as of `wattproof choose`.

    layout: how the modules are joined; the best way where it is empty. Raises CallUnusable.
    """
    from wattproof.choosing.choice import CannotChoose
    from wattproof.choosing.choose import chosen as choose
    from wattproof.reports.choosing.text import PROPOSAL, told_of

    try:
        made = _on(desk, choose, layout=layout)
    except CannotChoose as reason:
        raise CallUnusable(str(reason)) from None
    _refuse(made.before.problems)
    told = [{"clears": [because], "written": words} for words, because in told_of(made)]
    nothing = "" if made.text != made.before_text else "the plan leaves nothing open"
    return _changed(desk, made.text, told, [], nothing, PROPOSAL)


def _on(desk: Desk, make: Callable[..., _Made], **more: object) -> _Made:
    """What comes of a change that is made to the plan on the desk."""
    return make(
        desk.file,
        desk.text,
        desk.rules,
        today=datetime.date.today(),
        shown_as=desk.file,
        settings=desk.settings,
        **more,
    )


def _picked(result: Result, numbers: list[int]) -> set[Identity]:
    """The findings of these numbers. Raises CallUnusable for one that there is not."""
    from wattproof.reports.findings.telling import as_told

    told = as_told(result)
    if not all(1 <= number <= len(told) for number in numbers):
        raise CallUnusable("the plan has changed since it was checked: check it again first")
    return {i for number in numbers for i in told[number - 1].identities}


def _refuse(problems: tuple[Problem, ...]) -> None:
    if problems:
        raise PlanUnusable(list(problems))


def _changed(
    desk: Desk,
    text: str,
    told: list[dict[str, Any]],
    refused: list[str],
    nothing: str,
    caution: str,
) -> dict[str, Any]:
    return {
        "text": text,
        "difference": unified(desk.text, text, desk.file),
        "told": told,
        "refused": [clean(each) for each in refused],
        "nothing": nothing,
        "caution": caution,
    }
