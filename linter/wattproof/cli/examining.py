"""One plan of a call, checked under its settings."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import Checked
    from wattproof.packs import RuleSet


def examined(
    path: str,
    rule_set: RuleSet,
    settings: PlanSettings,
    *,
    shown_as: str,
    text: str | None = None,
    try_remedies: bool = True,
    ask: bool = True,
    texts: dict[str, str] | None = None,
) -> Checked:
    """The study of a plan and what comes of checking it today; see `engine.examine`.

    Where its settings cannot be used it is not checked, and their problems are told. texts: where
    what is read of it is kept, by the name that messages use.
    """
    from dataclasses import replace

    from wattproof.engine import Checked, examine, not_checked
    from wattproof.source import PlanUnusable, read_text

    try:
        own = settings.of(shown_as)
    except PlanUnusable as unusable:
        return Checked(None, not_checked(shown_as, rule_set, unusable))
    if texts is not None:
        try:
            text = texts[shown_as] = read_text(path, shown_as=shown_as)
        except PlanUnusable as unusable:
            return Checked(None, replace(not_checked(shown_as, rule_set, unusable), settings=own))
    return examine(
        path,
        rule_set,
        today=datetime.date.today(),
        shown_as=shown_as,
        text=text,
        settings=own,
        try_remedies=try_remedies,
        ask=ask,
    )
