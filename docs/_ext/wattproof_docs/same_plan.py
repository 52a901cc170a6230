"""One plan under each body of rules: what a check finds, and the figures that differ."""

from __future__ import annotations

from pathlib import Path

from wattproof.codes import known
from wattproof.engine import check
from wattproof.testing import A_DAY, study_of
from wattproof.views.figures import figures_of
from wattproof_docs.markdown import table
from wattproof_docs.rules import built_in

PLAN = Path(__file__).parents[2] / "bodies" / "camper.yaml"
QUANTITIES = {
    "ampacity": "may carry",
    "largest overcurrent device": "largest fuse or breaker",
    "reverse current": "current backwards",
}


def page() -> str:
    """Two tables, made by checking the plan as often as there are bodies."""
    return (
        "What a check finds, by rule and by what it speaks of first:\n\n"
        + _findings()
        + "What it computes, as far as that differs:\n\n"
        + _figures()
    )


def text_under(code: str) -> str:
    """The plan's text with another body of rules."""
    text = PLAN.read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("code: "))
    return text.replace(line, f"code: {code}")


def _findings() -> str:
    rules = built_in()
    levels: dict[tuple[str, str], dict[str, str]] = {}
    for code in known():
        study = study_of(text_under(code))
        alone = check(study, rules, file="", today=A_DAY, try_remedies=False, ask=False).result
        for finding in alone.each:
            levels.setdefault((finding.rule, finding.subjects[0]), {})[code] = finding.level
    rows = [
        (
            f"[`{rule}`](generated/rules/{rule}.md)",
            f"`{subject}`",
            *(by_code.get(code, "–") for code in known()),
        )
        for (rule, subject), by_code in sorted(levels.items())
    ]
    return table(("Rule", "About", *_heads()), rows)


def _figures() -> str:
    """Rows of one quantity with the same numbers are one row."""
    values: dict[tuple[str, str], list[str]] = {}
    for code in known():
        for figure in figures_of(study_of(text_under(code))):
            if figure.quantity in QUANTITIES:
                key = figure.quantity, figure.subject
                values.setdefault(key, []).append(str(figure.value))
    rows: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for (quantity, subject), shown in values.items():
        if len(set(shown)) > 1:
            rows.setdefault((quantity, tuple(shown)), []).append(f"`{subject}`")
    return table(
        ("What", "Of", *_heads()),
        (
            (QUANTITIES[quantity], ", ".join(subjects), *shown)
            for (quantity, shown), subjects in sorted(rows.items())
        ),
    )


def _heads() -> tuple[str, ...]:
    return tuple(f"`{code}`" for code in known())
