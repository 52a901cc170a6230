"""What was set for a check, as a table, so that nobody takes a report for one without it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.reports.writing.tables import NONE, Column, Field, Table, plain, said
from wattproof.reports.writing.wording import set_at, set_words
from wattproof.settings import RuleSetting, Settings

_SET: Final[tuple[Field[RuleSetting], ...]] = (
    Field(Column("set"), lambda r: said(set_words(r))),
    Field(Column("reason"), lambda r: said(r.setting.reason, NONE)),
    Field(Column("where"), lambda r: said(set_at(r.setting))),
)


def tables_of(settings: Settings) -> Iterator[Table]:
    """The table; none where nothing is set for any rule."""
    made = list(settings.all_set())
    if made:
        yield plain("set", "Set for this check", "", made, _SET, lambda r: "")
