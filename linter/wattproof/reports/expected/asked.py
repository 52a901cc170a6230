"""What readings say that were just asked: the change of the plan, and the findings on them."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.amend.difference import unified
from wattproof.engine import Result
from wattproof.reports.expected.words import REMEMBER
from wattproof.reports.findings.glance import headline, remedy_of
from wattproof.reports.findings.verdict import live
from wattproof.reports.writing.columns import hanging, labelled


def render(file: str, old: str, new: str, written: str, result: Result) -> str:
    """The text. written: the file that was written; empty where nothing was."""
    said = list(_said(result))
    said += [*_silent(result)]
    lines = ["", unified(old, new, file).rstrip("\n"), ""]
    where = f"written into {written}" if written else "shown here; `--write` writes them"
    lines += [*labelled("Readings", where, keep=True), "", *said, ""]
    return "\n".join([*lines, *labelled("Remember", REMEMBER)]) + "\n"


def _said(result: Result) -> Iterator[str]:
    found = [f for f in live(result.findings) if f.part == "reading"]
    if not found:
        yield "They say: every value that could be compared is in its band."
        return
    yield "They say"
    for finding in found:
        yield from hanging(f"{finding.level}: {headline(finding)}", first="  * ", margin=4)
        yield from labelled("Remedy", remedy_of(finding), indent=4)


def _silent(result: Result) -> Iterator[str]:
    """What the readings would not show, so that silence is not taken for health."""
    told = sorted(each for each in result.uses if each.key == "what a reading shows")
    for assumption in told:
        yield from hanging(assumption.says, first="  - ", margin=4)
