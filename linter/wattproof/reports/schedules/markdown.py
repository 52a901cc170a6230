"""The schedules as Markdown tables, which show nothing but text whatever is in a plan."""

from __future__ import annotations

from wattproof.reports.schedules.listing import Listing
from wattproof.reports.schedules.tables import REMEMBER
from wattproof.reports.writing.markdown import escaped, table_lines


def render(listing: Listing) -> str:
    """The schedules of one plan, with what is to be remembered on top."""
    file = listing.file
    lines = [f"# Schedules of {escaped(listing.title or file)}", ""]
    lines += [f"Plan {escaped(file)}, by {escaped(listing.code_title)}.", "", REMEMBER]
    for table in listing.tables:
        lines += ["", f"## {escaped(table.title)}", "", *table_lines(table)]
    return "\n".join(lines) + "\n"
