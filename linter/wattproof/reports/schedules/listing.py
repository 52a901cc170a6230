"""What every format of the schedules is made from."""

from __future__ import annotations

from collections.abc import Sequence

from wattproof.record import record
from wattproof.reports.writing.tables import Table


@record
class Listing:
    """The schedules of one plan. file, title: of the plan. code, code_title: its body of rules."""

    file: str
    title: str
    code: str
    code_title: str
    tables: Sequence[Table]
