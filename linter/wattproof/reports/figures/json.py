"""Every computed quantity, for programs: the document of schemas/figures.schema.json."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from wattproof.reports.writing import json_values as as_json
from wattproof.source import Problem
from wattproof.views.figures import Figure


def render(file: str, figures: Iterable[Figure], problems: Sequence[Problem] = ()) -> str:
    """The figures of one plan; none where its problems make it unusable."""
    return as_json.dumped(document(file, figures, problems))


def document(
    file: str, figures: Iterable[Figure], problems: Sequence[Problem] = ()
) -> dict[str, Any]:
    """The figures as plain data."""
    return {
        "file": file,
        "figures": [_figure(figure) for figure in figures],
        "problems": [as_json.problem(p) for p in problems],
    }


def _figure(figure: Figure) -> dict[str, Any]:
    value = figure.value
    return {
        "subject": figure.subject,
        "state": figure.state,
        "quantity": figure.quantity,
        "value": as_json.number(value.number),
        "unit": as_json.unit(value.unit),
        "text": str(value),
        "certainty": "assumed" if value.assumptions else "computed",
        "working": as_json.working([value]),
    }
