"""One plan of a call, checked, with all that a page about it shows."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wattproof.choosing.layouts import Layouts
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import Checked
    from wattproof.packs import RuleSet
    from wattproof.reports.page import Page, Published
    from wattproof.settings import Settings


class ForPage:
    """A plan of the call, checked, with all that its page shows.

    file: what messages call it. text: what was read of it; empty where it could not be.
    """

    def __init__(
        self,
        path: str,
        file: str,
        rule_set: RuleSet,
        settings: PlanSettings,
        *,
        compare: bool = False,
        done: tuple[Checked, dict[str, str]] | None = None,
    ) -> None:
        """compare: whether its layouts are compared, also where one is chosen. done: what came of
        checking it and what was read of it, where that is known (`examined` and its texts)."""
        from wattproof.cli.examining import examined

        self.file = file
        self.layouts: Layouts | None = None
        if done is None:
            texts: dict[str, str] = {}
            done = examined(path, rule_set, settings, shown_as=file, texts=texts), texts
        self.checked, read = done
        self.text = read.get(file, "")
        study = self.checked.study
        if study is not None and (compare or study.plan.open_strings):
            self.layouts = self._compared(rule_set, settings.of(file))

    def _compared(self, rule_set: RuleSet, settings: Settings) -> Layouts | None:
        import datetime

        from wattproof.choosing.joining import reopened
        from wattproof.choosing.layouts import layouts_of
        from wattproof.plan import load_plan
        from wattproof.source import PlanUnusable

        plan = reopened(load_plan(self.file, shown_as=self.file, text=self.text))
        try:
            today = datetime.date.today()
            return layouts_of(plan, rule_set, file=self.file, today=today, settings=settings)
        except PlanUnusable:
            return None  # of mixed strings, and of none, there is nothing to compare

    def sources(self) -> dict[str, str]:
        """The text of the plan and of its parts files, by the names that places use."""
        from wattproof.source import read_text

        found = {self.file: self.text} if self.text else {}
        if self.checked.study is not None:
            for part in self.checked.study.plan.parts:
                file = os.path.normpath(os.path.join(os.path.dirname(self.file), part))
                found[file] = read_text(file, shown_as=file)
        return found

    def page(self, *, link: str = "#finding-", published: Published | None = None) -> Page:
        """Its page; see `page_of`."""
        from wattproof.reports.page.contents import page_of

        study, result = self.checked
        return page_of(
            study, result, self.sources(), link=link, layouts=self.layouts, published=published
        )
