"""Every computed quantity, for people: in columns, under what it belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from wattproof.reports.findings.head import about
from wattproof.reports.findings.text import problem_lines
from wattproof.reports.findings.workings import whole_lines
from wattproof.reports.writing.columns import WIDTH, clean, labelled, wrapped
from wattproof.source import Problem
from wattproof.study.site.states import STATES, WORDS
from wattproof.views.figures import Figure

_QUANTITY: Final = 34
_STATE: Final = 10


def render(
    file: str, title: str, code: str, code_title: str, figures: Iterable[Figure], *, working: bool
) -> str:
    """The figures of one plan. working: show how each was worked out."""
    listed = list(figures)
    lines = list(about(file, title, code, code_title))
    by_subject: dict[str, list[Figure]] = {}
    for figure in listed:
        by_subject.setdefault(figure.subject, []).append(figure)
    for subject, own in by_subject.items():
        lines.append("")
        lines.extend(wrapped(subject, WIDTH))
        for figure in own:
            lines.extend(_row(figure))
            if working:
                lines.extend(whole_lines([figure.value], margin=6))
    lines.append("")
    lines.extend(_legend(listed))
    return "\n".join(lines) + "\n"


def render_unusable(file: str, problems: Sequence[Problem]) -> str:
    """Why nothing can be computed of a plan."""
    lines = [*about(file, "", "", ""), *problem_lines(problems), ""]
    lines.extend(labelled("Result", "nothing can be computed until these are mended"))
    return "\n".join(lines) + "\n"


def _row(figure: Figure) -> Iterator[str]:
    assumed = "  assumed" if figure.value.assumptions else ""
    quantity = clean(figure.quantity)
    state = figure.state.ljust(_STATE)
    if len(quantity) > _QUANTITY:
        yield from (f"  {line}" for line in wrapped(quantity, WIDTH - 2))
        quantity = ""
    yield f"  {quantity.ljust(_QUANTITY)} {state} {clean(str(figure.value)):>12}{assumed}"


def _legend(figures: list[Figure]) -> Iterator[str]:
    if not figures:
        yield "Nothing can be computed: the plan joins no source to anything."
        return
    for state in STATES:
        if any(f.state == state for f in figures):
            yield from labelled(state, WORDS[state])
    if any(f.value.assumptions for f in figures):
        yield from labelled("assumed", "rests on something that the plan leaves out")
