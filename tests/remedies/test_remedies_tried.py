"""Every computed remedy written into its plan: it clears its finding and does no greater harm.

Over the dangerous changes of the sound examples, the faulty examples, and some plausible plans.
`tried.json` counts what came of the first way of each remedy. `exceptions.json` names, by rule, the
rules whose findings it may bring that are graver than its own or errors, each with the reason. Both
are under version control; update the counts on purpose, with WATTPROOF_LONG=1 UPDATE_GOLDEN=1.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

from amounts import LONG, amount
from corpus.generated import plans
from mutations.test_mutations import CASES, mutated
from plans import EXAMPLES, text_of
from wattproof.engine import check_file
from wattproof.finding import LEVELS, Finding
from wattproof.packs import discover
from wattproof.testing import A_DAY

PLAUSIBLE = 150
TRIED = Path(__file__).parent / "tried.json"
EXCEPTIONS = Path(__file__).parent / "exceptions.json"


def texts() -> list[tuple[str, str]]:
    """Every plan that is checked, few of them in the ordinary run: where it is, its text."""
    found = [(f"{name}.yaml", text_of(mutated(name, change))) for name, change in CASES]
    for path in sorted((EXAMPLES / "faulty").glob("*.yaml")):
        found.append((str(path), path.read_text(encoding="utf-8")))
    found += [("plan.yaml", text) for text in plans(PLAUSIBLE)]
    return found[:: amount(30, 1, whole=6)]


def tried() -> Iterator[Finding]:
    """The findings of all plans that have a remedy which can be tried."""
    rules = discover()
    for name, text in texts():
        result = check_file(name, rules, today=A_DAY, text=text)
        assert not result.problems, text
        assert not result.failed, text
        yield from (finding for finding in result.findings if finding.ways)


def test_remedies_clear_their_findings_and_bring_nothing_graver_but_for_a_reason() -> None:
    """One test, so that two processes do not both try every remedy."""
    allowed = json.loads(EXCEPTIONS.read_text(encoding="utf-8"))
    met = set()
    found: dict[str, dict[str, int]] = {}
    for finding in tried():
        assert len(finding.trials) == len(finding.ways), (finding.message, finding.ways)
        trial = finding.trials[0]
        assert finding.identity in trial.clears, (finding.message, trial)
        for brought in trial.brings:
            graver = LEVELS.index(brought.level) < LEVELS.index(finding.level)
            if graver or brought.level == "error":
                assert brought.rule in allowed.get(finding.rule, {}), (finding.message, trial)
                met.add((finding.rule, brought.rule))
        counts = found.setdefault(finding.rule, {"tried": 0, "cleared": 0, "bringing": 0})
        counts["tried"] += 1
        counts["cleared"] += finding.identity in trial.clears
        counts["bringing"] += bool(trial.brings)
    assert found
    if LONG:
        listed = {(rule, other) for rule, reasons in allowed.items() for other in reasons}
        assert met == listed, "an exception is met no more: take it out"
        assert_as_kept(dict(sorted(found.items())))


def assert_as_kept(found: dict[str, dict[str, int]]) -> None:
    if os.environ.get("UPDATE_GOLDEN"):
        TRIED.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    assert found == json.loads(TRIED.read_text(encoding="utf-8"))
