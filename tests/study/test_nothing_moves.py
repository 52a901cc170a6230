"""What studies of all plans that the repository keeps say: every number, verdict and working.

`digests.json` holds a digest of each section of each, so that nothing moves unseen: a mistake in a
place that no number by hand was worked out for is found here. Update it on purpose, with
UPDATE_GOLDEN=1, and say in the commit what moved: `spelt_out.py PLAN` before and after shows it.

The ordinary run takes every sixth plan; WATTPROOF_WHOLE=1, which `.ci/run` sets, takes all of them.
"""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path

import pytest

from amounts import amount
from external.battery_sides import drawn
from mutations.dangerous_plans import PLAN_MUTATIONS
from mutations.test_plan_mutations import made
from plan_texts import Text, plan_texts
from study.spelt_out import spelt_out
from study.written_by_hand import written_by_hand
from wattproof.loading import load_study

KEPT = Path(__file__).with_name("digests.json")
EVERY = amount(6, 1, whole=1)


def texts() -> list[Text]:
    """Those plans, some crowded with unlike members, those of tests, and some drawn by chance.

    And sound ones made dangerous.
    """
    crowded = sorted(Path(__file__).with_name("crowded").glob("*.yaml"))
    found = [text for text in plan_texts() if not text.name.startswith("drawn-")]
    found += [Text(f"crowded-{path.stem}", str(path), path.read_text("utf-8")) for path in crowded]
    found += written_by_hand()
    found += [Text(f"dangerous-{m.name}", "plan.yaml", made(m)) for m in PLAN_MUTATIONS]
    return found + [Text(f"side-{k}", "plan.yaml", drawn(k).plan()) for k in range(12)]


def digests(text: Text) -> dict[str, str]:
    """One for each section, and one for what passes through parts and what shorts drive."""
    told: dict[str, list[str]] = {}
    for name, said in spelt_out(load_study(text.path, text=text.text)):
        told.setdefault(name.replace(".", " ").partition(" ")[0], []).append(f"{name}: {said}")
    return {
        section: hashlib.sha256("\n".join(lines).encode()).hexdigest()[:8]
        for section, lines in told.items()
    }


@pytest.mark.skipif(bool(os.environ.get("UPDATE_GOLDEN")), reason="written anew")
@pytest.mark.parametrize("text", [pytest.param(t, id=t.name) for t in texts()[::EVERY]])
def test_every_section_says_what_it_said(text: Text) -> None:
    kept = json.loads(KEPT.read_text(encoding="utf-8"))
    assert digests(text) == kept[text.name], f"see {KEPT.name} for what to do"


def test_each_plan_has_its_digests_and_no_other() -> None:
    if os.environ.get("UPDATE_GOLDEN"):
        found = {text.name: digests(text) for text in texts()}
        KEPT.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")
    assert list(json.loads(KEPT.read_text(encoding="utf-8"))) == [text.name for text in texts()]
