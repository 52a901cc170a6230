"""What is found hangs neither on the order of keys in a file nor on how Python hashes."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from amounts import amount
from cli.calls import SOURCES
from corpus.generated import plans
from plans import EXAMPLES, data_of
from wattproof.engine import Result, check_file
from wattproof.packs import discover
from wattproof.testing import A_DAY

RULES = discover()
BUILDS = Path(__file__).parent / "external" / "builds"
FILES = (
    EXAMPLES / "faulty" / "cabin-unfused-strings.yaml",
    EXAMPLES / "faulty" / "boat-thin-cable.yaml",
    BUILDS / "shed-no-fuses.yaml",
    BUILDS / "van-breakers-only.yaml",
)
SHUFFLES = amount(2, 6)
GENERATED = amount(3, 60)


def whole(text: str) -> Any:
    return YAML(typ="safe").load(text)


CASES = {
    **{path.stem: data_of(path) for path in FILES},
    **{f"generated {n}": whole(text) for n, text in enumerate(plans(GENERATED))},
}


def shuffled(held: Any, dice: random.Random) -> Any:
    """The same data, the keys of every mapping in another order; lists keep theirs."""
    if isinstance(held, dict):
        keys = list(held)
        dice.shuffle(keys)
        return {key: shuffled(held[key], dice) for key in keys}
    if isinstance(held, list):
        return [shuffled(each, dice) for each in held]
    return held


def checked(plan: Any) -> Result:
    text = json.dumps(plan, ensure_ascii=False, default=str)
    return check_file("plan.yaml", RULES, today=A_DAY, text=text, try_remedies=False)


def told(result: Result) -> list[Any]:
    """Everything that is told but the places, which move with the keys."""
    assert not result.problems, result.problems
    findings = [
        (
            f.rule,
            f.level,
            f.verdict,
            f.subjects,
            f.message,
            f.remedy,
            f.when,
            f.cause,
            f.alike != (),
        )
        for whole in result.findings
        for f in (whole, *whole.alike)
    ]
    questions = [
        (q.line, q.instead, q.labels, [(d.rule, d.subjects, d.message) for d in q.decides])
        for q in result.questions
    ]
    uses = [(a.key, a.subject, a.says) for a in result.uses]
    return [sorted(findings), questions, sorted(uses)]


@pytest.mark.parametrize("plan", CASES.values(), ids=CASES)
def test_the_order_of_keys_changes_nothing(plan: Any) -> None:
    before = told(checked(plan))
    for seed in range(SHUFFLES):
        assert told(checked(shuffled(plan, random.Random(seed)))) == before


def test_the_last_digits_of_a_margin_decide_nothing() -> None:
    """They hang on the order in which a network is solved, and so on that of the keys."""
    one, *_ = checked(CASES["cabin-unfused-strings"]).findings
    one = one._replace(margin=-0.25, subjects=("b",))
    as_far = one._replace(margin=-0.25 - 1e-13, subjects=("a",))
    farther = one._replace(margin=-0.25 - 1e-6, subjects=("c",))
    assert sorted((one, farther, as_far), key=lambda f: f.rank) == [farther, as_far, one]


def test_how_python_hashes_changes_nothing(tmp_path: Path) -> None:
    for number, text in enumerate(plans(GENERATED)):
        (tmp_path / f"plan-{number}.yaml").write_text(text, encoding="utf-8")
    said = set()
    for seed in range(1, 1 + SHUFFLES):
        done = subprocess.run(
            [sys.executable, "-m", "wattproof", "check", str(tmp_path), "--format", "json"],
            capture_output=True,
            env={**os.environ, "PYTHONPATH": SOURCES, "PYTHONHASHSEED": str(seed)},
            check=False,
        )
        assert done.returncode in (0, 1), done.stderr
        said.add(done.stdout)
    assert len(said) == 1
