"""A name changed everywhere: the plan says what it said, of every name in every example."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from editor.clients import ROOT, applied
from wattproof.amend.reread import content
from wattproof.editor.documents import Documents
from wattproof.editor.keys import Keys
from wattproof.editor.rename import renamed
from wattproof.plan import load_plan

KEYS = Keys()
NEW = "another-name-of-it"
PLANS = sorted([*(ROOT / "examples").glob("*.yaml"), *(ROOT / "docs" / "tutorial").glob("*.yaml")])


def back(held: Any, old: str) -> Any:
    """What a plan says, with the old name in the place of the new one."""
    if isinstance(held, dict):
        return {back(key, old): back(value, old) for key, value in held.items()}
    if isinstance(held, list | tuple):
        return [back(each, old) for each in held]
    return held.replace(NEW, old) if isinstance(held, str) else held


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_plan_says_what_it_said(path: Path) -> None:
    documents = Documents()
    text = path.read_text(encoding="utf-8")
    document = documents.put(path.as_uri(), text, 1)
    before = back(content(load_plan(str(path), text=text)), NEW)
    declared = {name.is_of: name for name in document.names(KEYS) if name.declared}
    assert declared
    for name in declared.values():
        edit = renamed(document, name, NEW, KEYS, documents)
        assert edit.changes is not None
        new = applied(text, edit.changes[document.uri])
        after = back(content(load_plan(str(path), text=new)), name.text)
        assert after == before, name
