"""What `mend` writes into a plan: each finding with what is written for it, and what is left."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.amend.changes import Refused
from wattproof.amend.difference import unified
from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.mending import Mend, Mended
from wattproof.reports.findings.glance import headline
from wattproof.reports.findings.head import about, head_lines
from wattproof.reports.findings.telling import numbered_findings, said
from wattproof.reports.writing.columns import hanging, labelled
from wattproof.reports.writing.paint import Paint, plain
from wattproof.reports.writing.wording import STANDING, numbered

NOT_YET: Final = (
    "The file now says what has to be there, not what is there. Isolate the battery, cover "
    "the modules, and change the installation before anything is connected: a rating or a "
    "label that is written here stands for a part that has it, never for the part that is there. "
    "Until then the file is no proof of anything."
)
_MARGIN: Final = 4


def render(mended: Mended, file: str, written: str, paint: Paint = plain) -> str:
    """The text. written: the file that was written; empty where nothing was."""
    lines = [*about(file, mended.before.title, mended.before.code, mended.before.code_title)]
    lines += _summary(mended, written)
    for mend in mended.mends:
        lines += ["", *_mend(mend, mended.before)]
    for refused in mended.refused:
        lines += ["", *_refused(refused)]
    if mended.mends:
        lines += ["", unified(mended.before_text, mended.text, file).rstrip("\n")]
    lines += ["", paint("Left once the installation is so" if mended.mends else "Found", "strong")]
    lines += [*head_lines(mended.after, paint), ""]
    if mended.mends:
        lines += labelled("WARNING", NOT_YET)
    lines += labelled("Remember", STANDING)
    return "\n".join(lines) + "\n"


def _summary(mended: Mended, written: str) -> Iterator[str]:
    count = len({id(f) for mend in mended.mends for f in mend.clears})
    if not mended.mends:
        yield from labelled("Mended", "nothing: no remedy was found that clears what was asked for")
        return
    where = f"written into {written}" if written else "shown here; `--write` writes it"
    yield from labelled("Mended", f"{numbered(count, 'finding')}, {where}", keep=True)


def _mend(mend: Mend, before: Result) -> Iterator[str]:
    numbers = {id(f): n for f, n in _numbers(before)}
    for finding in mend.clears:
        number = numbers.get(id(finding))
        first = f"{number:>2}. " if number is not None else "  * "
        yield from hanging(headline(finding), first=first, margin=_MARGIN)
    yield from labelled("Written", said(mend.changes), indent=_MARGIN)


def _numbers(result: Result) -> Iterator[tuple[Finding, int]]:
    numbers = numbered_findings(result)
    return ((finding, numbers[finding]) for finding in result.findings)


def _refused(refused: Refused) -> Iterator[str]:
    yield from hanging(f"not written: {refused.change}", first="  ! ", margin=_MARGIN)
    yield from labelled("Because", refused.why, indent=_MARGIN)
    yield from labelled("By hand", refused.by_hand, indent=_MARGIN)
