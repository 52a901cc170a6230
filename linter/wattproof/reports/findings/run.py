"""What every format of a check is made from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import TYPE_CHECKING

from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.packs import RuleSet
from wattproof.record import record
from wattproof.reports.writing.columns import WIDTH
from wattproof.reports.writing.paint import Paint, plain

if TYPE_CHECKING:
    from wattproof.fixes import Fix


@record
class Run:
    """The results of a check, one a plan, and how they are told.

    status: the exit status that it ends with. rules: those that it had. full, working, quiet: how
    much of it a person asked for. columns: of their screen. paint: how that colours.
    documentation: the address of the published documentation; empty where there is none. fixes:
    what remedies would write into the texts of plans, for formats that tell it.
    """

    results: Sequence[Result]
    status: int
    rules: RuleSet
    full: bool = False
    working: bool = False
    quiet: bool = False
    columns: int = WIDTH
    paint: Paint = plain
    documentation: str = ""
    fixes: Mapping[Finding, tuple[Fix, ...]] = field(default_factory=dict)
