"""Every computed remedy written into its plan: it clears its finding and does no greater harm.

Over the dangerous changes of the sound examples, the faulty examples, and some plausible plans.
`tried.json` counts what came of the first way of each remedy. `exceptions.json` names, by rule, the
rules whose findings it may bring that are graver than its own or errors, each with the reason. Both
are under version control; update the counts on purpose, with UPDATE_GOLDEN=1.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from corpus.generated import plans
from mutations.test_mutations import CASES, mutated
from plans import EXAMPLES, text_of
from wattproof.engine import check_file
from wattproof.finding import LEVELS, Finding, Trial
from wattproof.packs import discover
from wattproof.testing import A_DAY

PLAUSIBLE = 150
TRIED = Path(__file__).parent / "tried.json"
EXCEPTIONS = Path(__file__).parent / "exceptions.json"


def texts() -> Iterator[tuple[str, str]]:
    """Every plan that is checked: where it is, and its text."""
    for name, mutation in CASES:
        yield f"{name}.yaml", text_of(mutated(name, mutation))
    for path in sorted((EXAMPLES / "faulty").glob("*.yaml")):
        yield str(path), path.read_text(encoding="utf-8")
    for text in plans(PLAUSIBLE):
        yield "plan.yaml", text


@cache
def findings() -> tuple[Finding, ...]:
    """The findings of all plans that have a remedy which can be tried."""
    rules = discover()
    results = [check_file(name, rules, today=A_DAY, text=text) for name, text in texts()]
    assert not any(result.problems or result.failed for result in results)
    return tuple(f for result in results for f in result.findings if f.ways)


def first_trials() -> Iterator[tuple[Finding, Trial]]:
    for finding in findings():
        yield finding, finding.trials[0]


def test_every_way_can_be_tried() -> None:
    for finding in findings():
        assert len(finding.trials) == len(finding.ways), (finding.message, finding.ways)


def test_the_first_way_of_a_remedy_clears_its_finding() -> None:
    for finding, trial in first_trials():
        assert finding.identity in trial.clears, (finding.message, trial)


def test_a_remedy_brings_nothing_graver_but_for_a_reason() -> None:
    allowed = json.loads(EXCEPTIONS.read_text(encoding="utf-8"))
    met = set()
    for finding, trial in first_trials():
        for brought in trial.brings:
            graver = LEVELS.index(brought.level) < LEVELS.index(finding.level)
            if graver or brought.level == "error":
                assert brought.rule in allowed.get(finding.rule, {}), (finding.message, trial)
                met.add((finding.rule, brought.rule))
    listed = {(rule, other) for rule, reasons in allowed.items() for other in reasons}
    assert met == listed, "an exception is met no more: take it out"


def test_what_came_of_the_remedies_is_as_kept() -> None:
    found: dict[str, dict[str, int]] = {}
    for finding, trial in first_trials():
        counts = found.setdefault(finding.rule, {"tried": 0, "cleared": 0, "bringing": 0})
        counts["tried"] += 1
        counts["cleared"] += finding.identity in trial.clears
        counts["bringing"] += bool(trial.brings)
    found = dict(sorted(found.items()))
    if os.environ.get("UPDATE_GOLDEN"):
        TRIED.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    assert found == json.loads(TRIED.read_text(encoding="utf-8"))
