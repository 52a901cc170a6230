"""Phrases that no native speaker of the trade would say, and that may not come back.

What is written for people stands as text in the rules, in the tables of what is assumed and in the
reports. It is read here as it stands in their files, without what explains the code.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SPOKEN = sorted(
    path
    for folder in (
        "rules/wattproof_rules",
        "linter/wattproof/study/assumptions",
        "linter/wattproof/reports",
        "linter/wattproof/remedies",
    )
    for path in (ROOT / folder).rglob("*.py")
)
GONE = {
    r"\b(is|are) taken (to|as|for)\b": "say that it is assumed",
    r"\bat most \{\} may\b": "say which is the most allowed",
    r"\band stands \{\}": "say which is the most that it takes",
    r"\b(fuse|breaker|switch) or \w+ parts\b": "say separates or disconnects",
    r"\bcuts \{\} off\b": "say that nothing disconnects it",
    r"\byou must\b": "say what to do",
    r"\b(utilize|utilise|in order to)\b": "say it plainly",
    r"\bis not able to\b": "say cannot",
}
HELD_VALUE = re.compile(
    r"write `(voc|isc|vmp|imp|pmax|rating|interrupt|max_input_voltage|max_output_current"
    r"|max_series_fuse|capacity|short_circuit_current): [0-9]"
)
"""A label's value in what to write: a copied example becomes a believed value."""


def texts(path: Path) -> Iterator[str]:
    """Every text of a file, `{}` for what is put in; not the explanations of its code."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    explained = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    inside = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr)
        for part in node.values
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            if id(node) not in explained | inside:
                yield re.sub(r"\{[^}]*\}", "{}", node.value)
        elif isinstance(node, ast.JoinedStr):
            yield "".join(
                str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values
            )


@pytest.mark.parametrize("path", SPOKEN, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_no_phrase_comes_back(path: Path) -> None:
    found = [
        f"{text!r}: {instead}"
        for text in texts(path)
        for phrase, instead in GONE.items()
        if re.search(phrase, text)
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("path", SPOKEN, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_nothing_asks_for_a_label_by_a_plausible_value(path: Path) -> None:
    assert not [text for text in texts(path) if HELD_VALUE.search(text)]
