"""Base plans that the examples of rules are edits of, each a plan without a finding."""

from __future__ import annotations

from pathlib import Path

from wattproof.rule import Edit, Example

HERE = Path(__file__).parent


def plan(base: str, *edits: Edit, less: tuple[str, ...] = (), more: str = "") -> Example:
    """The base plan of a name without some entries, with edits, and with more in its sections."""
    return Example(HERE / f"{base}.yaml", less, edits, more)
