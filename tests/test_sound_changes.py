"""Sound plans changed in sound ways: what is unusual is no fault, and brings no false alarm."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from found import found_alone
from wattproof.example import Edit, Example
from wattproof.packs import discover

ROOT = Path(__file__).parents[1]
RULES = discover()
CHANGES: list[dict[str, Any]] = YAML(typ="safe").load(
    (ROOT / "tests/sound_changes.yaml").read_text(encoding="utf-8")
)


def test_there_are_changes_each_of_its_own_name() -> None:
    assert len({change["name"] for change in CHANGES}) == len(CHANGES) >= 40


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change["name"])
def test_a_sound_change_stays_silent(change: dict[str, Any]) -> None:
    base = ROOT / change["plan"]
    edits = tuple(Edit(old, new) for old, new in change.get("edits", ()))
    less = tuple(change.get("less", ()))
    text = Example(base, less, edits, change.get("more", "")).whole()
    result = found_alone(str(base), text, RULES)
    assert not result.problems, [f"{p.place}: {p.message}" for p in result.problems]
    assert not result.failed
    told = [f"{f.level} {f.rule}: {f.message}" for f in result.findings if f.level != "note"]
    assert not told
