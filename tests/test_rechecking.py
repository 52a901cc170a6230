"""Texts of one plan checked one after another, each once."""

from __future__ import annotations

from pathlib import Path

from wattproof.packs import discover
from wattproof.rechecking import Rechecks
from wattproof.settings import NOTHING_SET
from wattproof.testing import A_DAY

PLAN = Path(__file__).parent / "cli" / "plans" / "sound.yaml"


def test_what_came_of_a_text_is_remembered_by_how_it_was_asked_for() -> None:
    texts = Rechecks(str(PLAN), discover(), A_DAY, PLAN.name, NOTHING_SET)
    text = PLAN.read_text(encoding="utf-8")
    first = texts.check(text, ask=False)
    assert texts.check(text, ask=False) is first
    assert texts.check(text) is not first
    assert texts.check(f"{text}\n", ask=False) is not first
    assert texts.count == 4
