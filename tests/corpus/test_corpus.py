"""Plausible plans, and how often each rule fires on them: 100 in the ordinary run.

250 are checked where all that is kept is (WATTPROOF_WHOLE=1, as `.ci/run` sets it), 3,000 in the
long run. That asks of each what is not told, too, which changes no finding and takes half its time.

`counts.json` is under version control: a change of rules shows here which findings came and went.
Update it on purpose, with UPDATE_GOLDEN=1 (and WATTPROOF_LONG=1 for the counts over all), and say
why in the commit.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from pathlib import Path

from amounts import LONG, amount
from corpus.generated import plans
from one_judge import disagreements
from wattproof.engine import Result, examine
from wattproof.packs import discover
from wattproof.testing import A_DAY

SAMPLE, FIRST, ALL = 100, 250, 3000
COUNT = amount(FIRST if os.environ.get("UPDATE_GOLDEN") else SAMPLE, ALL, whole=FIRST)
KEPT = Path(__file__).parent / "counts.json"


def test_every_plan_can_be_checked_and_the_counts_per_rule_are_as_kept() -> None:
    """One test, so that two processes do not both check every plan."""
    rules = discover()
    counts: Counter[str] = Counter()
    kept = json.loads(KEPT.read_text(encoding="utf-8"))
    number = 0
    for number, text in enumerate(plans(COUNT), start=1):
        study, result = examine(
            "plan.yaml", rules, today=A_DAY, text=text, try_remedies=False, ask=LONG
        )
        assert_checked_to_the_end(result)
        assert study is not None
        assert not list(disagreements(study, result.findings, result.questions)), text
        counts.update({f"{f.rule} ({f.level})" for f in result.findings})
        counts["no finding"] += not result.findings
        if number in (SAMPLE, FIRST, ALL):
            assert_as_kept(f"the first {number}", counts, kept)
    assert number == COUNT


def assert_checked_to_the_end(result: Result) -> None:
    assert not result.problems, result.problems
    assert not result.failed, [f.message for f in result.findings]
    assert result.ran == result.planned
    for finding in result.findings:
        assert finding.message
        assert finding.remedy
        assert finding.explanation
        assert finding.basis
        assert finding.place.line > 1


def assert_as_kept(name: str, counts: Counter[str], kept: dict[str, dict[str, int]]) -> None:
    found = dict(sorted(counts.items()))
    if os.environ.get("UPDATE_GOLDEN"):
        kept[name] = found
        KEPT.write_text(json.dumps(kept, indent=2) + "\n", encoding="utf-8")
    assert found == kept[name]
