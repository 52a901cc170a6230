"""Two checks beside each other, for programs: the document of schemas/comparison.schema.json."""

from __future__ import annotations

from typing import Any, Final

from wattproof.comparison import Comparison, Moved, Pair
from wattproof.reports.findings.json_report import known_finding
from wattproof.reports.writing import json_values as as_json
from wattproof.views.figures import Figure

VERSION: Final = 1


def render(made: Comparison) -> str:
    """The document."""
    return as_json.dumped(document(made))


def document(made: Comparison) -> dict[str, Any]:
    """The comparison as plain data."""
    outcome = made.outcome
    return {
        "comparison": VERSION,
        "old": {"file": made.name, "problems": [as_json.problem(p) for p in made.old.problems]},
        "new": {"file": made.new.file, "problems": [as_json.problem(p) for p in made.new.problems]},
        "come": [known_finding(each) for each in outcome.come],
        "gone": [known_finding(each) for each in outcome.gone],
        "worse": [_pair(pair) for pair in outcome.worse],
        "better": [_pair(pair) for pair in outcome.better],
        "same": len(outcome.same),
        "figures": [_moved(moved) for moved in made.moved],
    }


def _pair(pair: Pair) -> dict[str, Any]:
    return {"old": known_finding(pair.old), "new": known_finding(pair.new)}


def _moved(moved: Moved) -> dict[str, Any]:
    figure = moved.new or moved.old
    assert figure is not None
    return {
        "subject": figure.subject,
        "state": figure.state,
        "quantity": figure.quantity,
        "old": _value(moved.old),
        "new": _value(moved.new),
    }


def _value(figure: Figure | None) -> dict[str, Any] | None:
    if figure is None:
        return None
    value = figure.value
    return {
        "value": as_json.number(value.number),
        "unit": as_json.unit(value.unit),
        "text": str(value),
    }
