"""What a check says of a plan as it stands in the editor, with all that is not saved yet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple, Protocol, TypeVar

from wattproof.engine import Checked
from wattproof.plan.read import problems_of_parts
from wattproof.plan.root import Plan
from wattproof.rechecking import Rechecks
from wattproof.source import Problem, with_unsaved

T = TypeVar("T")


class Examine(Protocol):
    """Checks the plan in a file under its settings, as `wattproof check` does."""

    def __call__(self, path: str, *, try_remedies: bool, ask: bool) -> Checked: ...


class Looked(NamedTuple):
    """What came of checking a text.

    asked: whether it was asked as well what is to be looked up. tried: whether remedies were tried.
    """

    checked: Checked
    asked: bool
    tried: bool

    @property
    def plan(self) -> Plan | None:
        """The plan as read; None where it is unusable."""
        return self.checked.study.plan if self.checked.study is not None else None


class Judge(NamedTuple):
    """Checks as the command line does.

    rechecks: the same for texts of a plan that are tried. rules: ids of all rules.
    """

    examine: Examine
    rechecks: Callable[[str], Rechecks]
    rules: tuple[str, ...] = ()

    def look(
        self, path: str, unsaved: Mapping[str, str], *, ask: bool = True, tried: bool = False
    ) -> Looked:
        """What comes of checking a plan. unsaved: texts in place of their files.

        ask, tried: as in `Looked`; without both it takes a third of the time.
        """
        with with_unsaved(unsaved):
            return Looked(self.examine(path, try_remedies=tried, ask=ask), ask, tried)

    def parts_problems(self, path: str, text: str) -> list[Problem]:
        """What is wrong with a file of datasheets by itself."""
        return problems_of_parts(path, text)

    def with_texts(self, path: str, unsaved: Mapping[str, str], job: Callable[[Rechecks], T]) -> T:
        """Does something that checks one text of a plan after another.

        Raises PlanUnusable where its settings cannot be used.
        """
        with with_unsaved(unsaved):
            return job(self.rechecks(path))
