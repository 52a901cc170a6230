"""The exit status of a run: the worst over all plans, the same in every format."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reports.report_rules import (
    FAILING,
    PLAN,
    fuse_not_known,
    only,
    result_of,
    sound_result,
    wire_loses_power,
)
from wattproof.engine import Result
from wattproof.finding import Hazard
from wattproof.reports.findings.glance import verdict_of
from wattproof.reports.findings.verdict import did_fail, exit_status
from wattproof.settings import of_call

SOUND = sound_result()
ERRORS = result_of()
WARNINGS = result_of(rules=only(fuse_not_known), text=PLAN[: PLAN.index("accepted:")])
UNUSABLE = result_of("wattproof: 1")
FAILED = result_of(rules=FAILING)
ACCEPTED = result_of(
    PLAN[: PLAN.index("  - {rule")].replace("reason: winter", "reason: Winter"),
    only(wire_loses_power),
)


@pytest.mark.parametrize(
    ("results", "threshold", "status"),
    [
        ([], "warning", 0),
        ([SOUND], "note", 0),
        ([WARNINGS], "error", 0),
        ([WARNINGS], "warning", 1),
        ([ERRORS], "error", 1),
        ([UNUSABLE], "error", 2),
        ([FAILED], "error", 3),
        ([SOUND, ERRORS], "warning", 1),
        ([ERRORS, UNUSABLE], "warning", 2),
        ([UNUSABLE, FAILED, ERRORS], "warning", 3),
        ([ACCEPTED], "warning", 0),
        ([ACCEPTED], "note", 1),
    ],
)
def test_status(results: list[Result], threshold: str, status: int) -> None:
    settings = of_call({}, threshold)  # type: ignore[arg-type]
    assert exit_status([replace(result, settings=settings) for result in results]) == status


def test_an_accepted_finding_stays_in_the_result() -> None:
    assert any(f.acceptance for f in ACCEPTED.findings)


def test_a_rule_that_did_not_run_is_a_failure_even_without_a_finding() -> None:
    assert did_fail(Result(file="a.yaml", planned=("some-rule",)))
    assert exit_status([Result(file="a.yaml", planned=("some-rule",))]) == 3


@pytest.mark.parametrize(
    ("hazards", "said"),
    [
        (["fire"], "it can start a fire"),
        (["shock", "fire", "fire"], "it can give a deadly shock and start a fire"),
        (["fire", "damage", "shock"], "it can start a fire and give a deadly shock"),
        (["damage"], "parts would be damaged or not work"),
    ],
)
def test_the_verdict_names_all_that_errors_do_to_people(hazards: list[Hazard], said: str) -> None:
    [error, *_] = [f for f in ERRORS.findings if f.level == "error" and f.acceptance is None]
    found = tuple(error._replace(hazard=hazard) for hazard in hazards)
    verdict = verdict_of(replace(ERRORS, findings=found))
    assert verdict.says.endswith(f"; {said}")
    assert (verdict.signal == "DO NOT CONNECT") is (hazards != ["damage"])
