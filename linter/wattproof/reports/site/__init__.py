"""A list of checked plans as pages that need no server: one to look at, one for programs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from wattproof.engine import Result
from wattproof.views.facts import Facts


class File(NamedTuple):
    """A text of a plan as it was checked: the plan itself, or one of its parts files.

    name: as messages have it. address: where it lies in the site, from its top.
    """

    name: str
    address: str
    text: str


class Revision(NamedTuple):
    """The revision of a repository that was checked out when a plan was checked.

    as_kept: whether the plan, its parts files and its settings are as that revision has them.
    """

    commit: str
    as_kept: bool


class Entry(NamedTuple):
    """What the list tells of one plan.

    file: its name from the top of the folder. page: the address of its page, from the top of the
    site. fingerprint: of its texts; empty for one that could not be read. facts: None for one that
    could not be computed. revision: None where there is none.
    """

    file: str
    page: str
    result: Result
    fingerprint: str
    facts: Facts | None
    files: tuple[File, ...]
    revision: Revision | None

    @property
    def name(self) -> str:
        """The title of the plan; that of its file where it has none."""
        return self.result.title or self.file


class Site(NamedTuple):
    """Checked plans, in the order of their files. title: what they are of."""

    title: str
    entries: Sequence[Entry]


def revision_words(revision: Revision | None) -> str:
    """Which revision was checked; empty where there is none."""
    if revision is None:
        return ""
    short = revision.commit[:12]
    return short if revision.as_kept else f"changed since {short}"
