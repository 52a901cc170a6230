"""What is on the desk: the files, the plan among them, and what was computed of them so far."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Final

from wattproof.browser.held import Held

if TYPE_CHECKING:
    from wattproof.cli.for_page import ForPage
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import Checked
    from wattproof.packs import RuleSet
    from wattproof.settings import Settings

FOLDER: Final = "/plan"


class Desk:
    """Computes a plan once, however many calls ask of it."""

    def __init__(self, folder: str = FOLDER) -> None:
        self._held = Held(folder)
        self._plan = ""
        self._checked: Checked | None = None
        self._read: dict[str, str] = {}
        self._page: ForPage | None = None

    @cached_property
    def rules(self) -> RuleSet:
        """The rules that there are."""
        from wattproof.cli.packs import installed_rules

        return installed_rules()

    def lay(self, files: dict[str, str], plan: str) -> None:
        """Lay files on the desk. plan: which of them is looked at. Raises CallUnusable."""
        from wattproof.cli.errors import CallUnusable

        if plan not in files:
            raise CallUnusable(f"there is no file {plan}")
        if self._held.lay(files) or plan != self._plan:
            self._checked = self._page = None
        self._plan = plan

    @property
    def file(self) -> str:
        """The name of the plan."""
        return self._plan

    @property
    def text(self) -> str:
        """The text of the plan."""
        return self._held.files[self._plan]

    @property
    def settings(self) -> Settings:
        """What the settings among the files set for the plan. Raises PlanUnusable."""
        return self._settings.of(self._plan)

    @property
    def checked(self) -> Checked:
        """The plan checked, as of `wattproof check`."""
        from wattproof.cli.examining import examined

        if self._checked is None:
            self._read = {}
            self._checked = examined(
                self._plan, self.rules, self._settings, shown_as=self._plan, texts=self._read
            )
        return self._checked

    @property
    def page(self) -> ForPage:
        """The plan as the page of `wattproof report` shows it, with the layouts of what is open."""
        from wattproof.cli.for_page import ForPage

        if self._page is None:
            done = self.checked, self._read
            self._page = ForPage(self._plan, self._plan, self.rules, self._settings, done=done)
        return self._page

    @property
    def _settings(self) -> PlanSettings:
        from wattproof.cli.plan_settings import PlanSettings

        return PlanSettings(self.rules, None, (), None)
