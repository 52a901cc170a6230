"""What every format of a check is made from."""

from __future__ import annotations

from collections.abc import Sequence

from wattproof.engine import Result
from wattproof.packs import RuleSet
from wattproof.record import record
from wattproof.reports.writing.columns import WIDTH
from wattproof.reports.writing.paint import Paint, plain


@record
class Run:
    """The results of a check, one a plan, and how they are told.

    status: the exit status that it ends with. rules: those that it had. full, working, quiet: how
    much of it a person asked for. columns: of their screen. paint: how that colours.
    """

    results: Sequence[Result]
    status: int
    rules: RuleSet
    full: bool = False
    working: bool = False
    quiet: bool = False
    columns: int = WIDTH
    paint: Paint = plain
