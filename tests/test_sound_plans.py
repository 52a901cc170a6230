"""Unusual plans that are sound: none of them brings an error or a warning.

Whoever finds a sound build that is judged wrongly puts it into `tests/sound`, one file a plan.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from wattproof.engine import check_file
from wattproof.packs import discover
from wattproof.testing import A_DAY

RULES = discover()
PLANS = sorted((Path(__file__).parent / "sound").glob("*.yaml"))


def test_there_are_plans() -> None:
    assert len(PLANS) >= 25


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_a_sound_plan_stays_silent(path: Path) -> None:
    result = check_file(
        path.name, RULES, today=A_DAY, text=path.read_text(encoding="utf-8"), try_remedies=False
    )
    assert not result.problems, [f"{p.place}: {p.message}" for p in result.problems]
    assert not result.failed
    told = [f"{f.level} {f.rule}: {f.message}" for f in result.findings if f.level != "note"]
    assert not told
