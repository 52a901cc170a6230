"""Physics stands alone: the standard library and itself."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import wattproof.physics

FOLDER = Path(wattproof.physics.__file__).parent
FILES = sorted(FOLDER.rglob("*.py"))


def imported(path: Path) -> Iterator[str]:
    """Names of the modules that a file imports, wherever in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield "." * node.level + (node.module or "")


def test_there_is_something_to_look_at() -> None:
    assert "arrays.py" in [path.name for path in FILES]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_imports(path: Path) -> None:
    for name in imported(path):
        own = f"{name}.".startswith("wattproof.physics.")
        assert own or name.split(".")[0] in sys.stdlib_module_names, name
