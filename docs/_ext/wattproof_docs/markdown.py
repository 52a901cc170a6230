"""Pieces of Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any


def plain(text: str) -> str:
    """Running text as it is: nothing in it is taken for markup but `code`."""
    parts = re.split(r"(`[^`]*`)", " ".join(text.split()))
    return "".join(
        p if p.startswith("`") else re.sub(r"([\\*_\[\]<>|$~#])", r"\\\1", p) for p in parts
    )


def code(text: str, language: str = "text") -> str:
    """A block that stands as it is."""
    return f"```{language}\n{text.rstrip()}\n```\n"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table; cells are Markdown."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(cells)} |\n" for cells in lines) + "\n"


def definition(term: str, *paragraphs: str) -> str:
    """A term and what is said of it."""
    first, *rest = [p for p in paragraphs if p]
    return f"{term}\n: {first}\n" + "".join(f"\n  {p}\n" for p in rest) + "\n"


def admonition(title: str, kind: str, text: str) -> str:
    """A box with a title."""
    return f":::{{admonition}} {title}\n:class: {kind}\n{text}\n:::\n"


def folded(title: str, text: str) -> str:
    """What is shown when somebody opens it."""
    return f'<details class="more">\n<summary>{title}</summary>\n\n{text}\n</details>\n'


def contents(entries: Iterable[str], *options: str) -> str:
    """A hidden table of contents, for the side bar."""
    lines = [":hidden:", *options, "", *entries]
    return "```{toctree}\n" + "\n".join(lines) + "\n```\n"


def flow(value: Any) -> str:
    """A value as a plan writes it, on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flow(each) for each in value) + "]"
    return str(value).lower() if isinstance(value, bool) else str(value)
