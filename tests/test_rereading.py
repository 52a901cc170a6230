"""A study read again finds what one made anew in the same reading finds."""

from __future__ import annotations

from collections.abc import Callable, Set
from pathlib import Path

import pytest

from amounts import amount
from wattproof.engine import examine
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.rereading import Rereading
from wattproof.study.assumptions.reading import Reading
from wattproof.testing import A_DAY
from wattproof.verdicts import Run

EXTERNAL = Path(__file__).parent / "external"
BUILDS = sorted(
    path.with_name(path.name.replace(".judged", ""))
    for folder in ("builds", "typical")
    for path in (EXTERNAL / folder).glob("*.judged.yaml")
)
TOLD = Path(__file__).parent / "cli" / "plans" / "sound.yaml"
EVERY = amount(9, 1)
RULES = discover()


def told(findings: list[Finding]) -> set[tuple[object, ...]]:
    """Findings as a report would tell them, with what they rest on."""
    return {(f.rule, f.level, f.message, f.subjects, f.margin, f.assumptions) for f in findings}


@pytest.mark.parametrize("path", BUILDS[::EVERY], ids=lambda path: path.stem)
def test_a_study_read_again_finds_what_one_made_anew_finds(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    again: Callable[[Rereading, Reading, Set[str] | None], Run] = Rereading.__call__
    compared = 0

    def both(self: Rereading, reading: Reading, asked: Set[str] | None) -> Run:
        nonlocal compared
        found = again(self, reading, asked)
        anew = self._run(self.study.read_as(reading), asked)
        assert told(found.findings) == told(anew.findings)
        for label in reading.harsh:
            assert found.unknowns.get(label) in (anew.unknowns.get(label), None)
        if reading.unusual is None:
            compared += 1
        if asked is None:
            assert found.unknowns == anew.unknowns
            assert found.uses.items() <= anew.uses.items()
        return found

    monkeypatch.setattr(Rereading, "__call__", both)
    checked = examine(str(path), RULES, today=A_DAY, try_remedies=False)
    assert not checked.result.problems
    assert compared > 0 or path.parent.name == "typical"  # some of these tell everything


def test_few_rules_run_again_where_a_plan_tells_nearly_all(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What asks for wires and devices, and not for what flows in them, is none of them."""
    run_again: Callable[[Rereading, Reading, Set[str] | None], Run] = Rereading.__call__
    ran: list[int] = []

    def counted(self: Rereading, reading: Reading, asked: Set[str] | None) -> Run:
        found = run_again(self, reading, asked)
        ran.append(len(found.ran))
        return found

    monkeypatch.setattr(Rereading, "__call__", counted)
    checked = examine(str(TOLD), RULES, today=A_DAY, try_remedies=False)
    assert not checked.result.findings
    assert ran
    assert max(ran) < len(checked.result.ran) / 7


def test_the_study_is_afterwards_as_it_was() -> None:
    """What a report asks of the study after the check is of the usual reading."""
    path = str(BUILDS[0])
    before = examine(path, RULES, today=A_DAY, try_remedies=False, ask=False).study
    after = examine(path, RULES, today=A_DAY, try_remedies=False).study
    assert before is not None
    assert after is not None
    drops = [
        [(str(way.drop), way.drop.assumptions) for way in study.wiring.paths]
        for study in (before, after)
    ]
    assert drops[0] == drops[1]
