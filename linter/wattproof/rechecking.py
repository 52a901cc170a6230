"""Checks of one plan in one text after another: for what changes a text and looks at what comes."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field

from wattproof.engine import Checked, Result, examine
from wattproof.packs import RuleSet
from wattproof.plan import load_plan
from wattproof.plan.root import Plan
from wattproof.settings import Settings


@dataclass
class Rechecks:
    """Checks texts of a plan as if each were its file, and counts how often it was asked to.

    path: of the file, by which its parts are found. shown_as: what messages call it.
    """

    path: str
    rule_set: RuleSet
    today: datetime.date
    shown_as: str
    settings: Settings
    count: int = 0
    _known: dict[tuple[str, bool, bool], Result] = field(default_factory=dict)

    def examine(self, text: str, *, remedies: bool = False, ask: bool = True) -> Checked:
        """The study of a text, and what comes of checking it.

        remedies: whether they are tried. ask: whether labels are tried at their harshest.
        """
        self.count += 1
        return examine(
            self.path,
            self.rule_set,
            today=self.today,
            shown_as=self.shown_as,
            text=text,
            settings=self.settings,
            try_remedies=remedies,
            ask=ask,
        )

    def check(self, text: str, *, remedies: bool = False, ask: bool = True) -> Result:
        """What comes of checking a text; that of one which was checked before is remembered."""
        asked = (text, remedies, ask)
        if asked in self._known:
            self.count += 1
        else:
            self._known[asked] = self.examine(text, remedies=remedies, ask=ask).result
        return self._known[asked]

    def plan(self, text: str) -> Plan:
        """The plan of a text. Raises PlanUnusable."""
        return load_plan(self.path, shown_as=self.shown_as, text=text)
