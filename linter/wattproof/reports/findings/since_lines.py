"""What a check says of an older one, in a few lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.engine import Result
from wattproof.reports.findings.verdict import live
from wattproof.reports.writing.columns import labelled
from wattproof.reports.writing.wording import numbered
from wattproof.words import enumerated


def since_lines(result: Result) -> Iterator[str]:
    """What is known from the older check, what is new, and what is gone; nothing without one."""
    if result.since is None:
        return
    found = live(result.findings)
    new = sum(finding.is_new for finding in found)
    known = len(found) - new
    yield ""
    says = f"against {result.since.file}: {new or 'none'} new or worse, {known or 'none'} known"
    counts = "; what is known does not count for the exit status" if known else ""
    yield from labelled("Since", f"{says}{counts}")
    if result.since.gone:
        gone = [f"`{each.rule}` at {_at(each.subjects)}" for each in result.since.gone]
        yield from labelled("", f"{numbered(len(gone), 'finding')} gone: {', '.join(gone)}")


def _at(subjects: tuple[str, ...]) -> str:
    return enumerated(f"`{name}`" for name in subjects) if subjects else "the plan"
