"""Unusual plans that are sound: none of them brings an error or a warning.

Whoever finds a sound build that is judged wrongly puts it into `tests/sound`, one file a plan.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from found import found_alone
from wattproof.packs import discover
from wattproof.plan.terminals import by_name
from wattproof.reports.one_line import svg
from wattproof.study.site.states import STATES
from wattproof.testing import study_of
from wattproof.views.connection_order import connection_order
from wattproof.views.figures import figures_of
from wattproof.views.one_line.view import one_line
from wattproof.views.schedules import schedules_of

RULES = discover()
PLANS = sorted((Path(__file__).parent / "sound").glob("*.yaml"))


def test_there_are_plans() -> None:
    assert len(PLANS) >= 60


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_a_sound_plan_stays_silent(path: Path) -> None:
    result = found_alone(path.name, path.read_text(encoding="utf-8"), RULES)
    assert not result.problems, [f"{p.place}: {p.message}" for p in result.problems]
    assert not result.failed
    told = [f"{f.level} {f.rule}: {f.message}" for f in result.findings if f.level != "note"]
    assert not told


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_view_of_a_sound_plan_is_made(path: Path) -> None:
    study = study_of(path.read_text(encoding="utf-8"))
    for state in STATES:
        drawn = one_line(study, state)
        shown = {part.name for part in drawn.parts} | {
            p.name for r in drawn.runs for p in r.devices
        }
        shown |= {  # the fuse of each pack stands at its bank, in words
            line.removeprefix("at each pack: ")
            for part in drawn.parts
            for line in part.says
            if line.startswith("at each pack: ")
        }
        assert not [name for name in by_name(study.plan) if name not in shown]
        assert svg.render(drawn, None)
    parts = {name for row in schedules_of(study).parts for name in row.components}
    families = ("starters", "inverter_chargers", "converters", "heaters", "power_boxes")
    more = ("diode_isolators", "selectors", "arc_fault_devices", "frame_bonds")
    named = [n for f in (*families, *more) for n in getattr(study.plan, f)]
    assert not [name for name in named if name not in parts]
    assert connection_order(study)
    assert list(figures_of(study))
