"""Three thousand plausible plans, and how often each rule fires on them.

`counts.json` is under version control: a change of rules shows here which findings came and went.
Update it on purpose, with UPDATE_GOLDEN=1, and say why in the commit.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from functools import cache
from pathlib import Path

from corpus.generated import plans
from one_judge import disagreements
from wattproof.engine import Result, check_file
from wattproof.loading import load_study
from wattproof.packs import discover
from wattproof.testing import A_DAY

COUNT = 3000
KEPT = Path(__file__).parent / "counts.json"


@cache
def results() -> tuple[Result, ...]:
    rules = discover()
    texts = plans(COUNT)
    return tuple(
        check_file("plan.yaml", rules, today=A_DAY, text=text, try_remedies=False) for text in texts
    )


def test_every_plan_can_be_checked_to_the_end() -> None:
    for result in results():
        assert not result.problems, result.problems
        assert not result.failed, [f.message for f in result.findings]
        assert result.ran == result.planned


def test_every_finding_says_what_to_do_and_shows_its_numbers() -> None:
    for result in results():
        for finding in result.findings:
            assert finding.message
            assert finding.remedy
            assert finding.explanation
            assert finding.basis
            assert finding.place.line > 1


def test_counts_per_rule_are_as_kept() -> None:
    counts: Counter[str] = Counter()
    for result in results():
        counts.update({f"{f.rule} ({f.level})" for f in result.findings})
        counts["no finding"] += not result.findings
    found = dict(sorted(counts.items()))
    if os.environ.get("UPDATE_GOLDEN"):
        KEPT.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    assert found == json.loads(KEPT.read_text(encoding="utf-8"))


def test_no_two_outputs_say_different_things_of_one_stretch() -> None:
    for text, result in zip(plans(COUNT), results(), strict=True):
        study = load_study("plan.yaml", text=text)
        assert not list(disagreements(study, result.findings)), text
