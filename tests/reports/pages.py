"""Pages of plans that tests look at."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path

from found import found_in_whole
from wattproof.circuit import build_circuit
from wattproof.engine import check_file
from wattproof.packs import RuleSet, discover
from wattproof.plan import load_plan
from wattproof.reports import page
from wattproof.reports.page.contents import page_of
from wattproof.source import PlanUnusable
from wattproof.study import Study
from wattproof.testing import A_DAY

ROOT = Path(__file__).parents[2]
EXAMPLES = [*sorted((ROOT / "examples").glob("*.yaml")), *sorted(ROOT.glob("examples/faulty/*"))]
RULES = discover()

HOSTILE = "</script><img src=x onerror=alert(1)><b>'\"&amp; {{ 7*7 }} \u202e"
_FAULTY = (ROOT / "examples" / "faulty" / "van-cold-morning.yaml").read_text(encoding="utf-8")
HOSTILE_PLAN = (
    re.sub(r"(?m)^title: .*$", lambda _: f"title: {json.dumps(HOSTILE)}", _FAULTY)
    + "accepted:\n  - {rule: voltage-drop-high, where: charge-run, by: '<i>me</i>',\n"
    "     reason: '<script>alert(2)</script>', until: 2027-01-01, margin: 900 %}\n"
)


def page_text(
    text: str, name: str = "plan.yaml", rules: RuleSet | None = None, paper: page.Paper = ""
) -> str:
    """The page of a plan given as text. rules: None for all."""
    if rules is None:
        result = found_in_whole(name, text)
    else:
        result = check_file(name, rules, today=A_DAY, text=text)
    study = None
    sources = {name: text}
    try:
        study = Study(build_circuit(load_plan(name, text=text)))
        for part in study.plan.parts:
            path = Path(name).parent / part
            sources[str(path)] = path.read_text(encoding="utf-8")
    except PlanUnusable:
        pass
    link = "" if paper == "bench" else "#finding-"
    return page.render(page_of(study, result, sources, link=link), paper)


@cache
def page_at(path: Path, paper: page.Paper = "") -> str:
    """The page of a plan in a file."""
    return page_text(path.read_text(encoding="utf-8"), str(path), paper=paper)
