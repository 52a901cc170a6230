"""Rules, for programs: the document that schemas/rules.schema.json describes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import Any, Final

from wattproof.reports.writing.json_values import dumped
from wattproof.rule import Rule

VERSION: Final = 1


def render(rules: Iterable[Rule]) -> str:
    """What is said of some rules, by their ids."""
    listed = [_rule(rule) for rule in sorted(rules, key=lambda r: r.id)]
    return dumped({"rules_listed": VERSION, "rules": listed})


def _rule(rule: Rule) -> dict[str, Any]:
    caution = rule.caution
    options = fields(rule.options) if rule.options is not None else ()
    return {
        "rule": rule.id,
        "pack": rule.pack,
        "former_ids": list(rule.former_ids),
        "summary": rule.summary,
        "level": rule.level,
        "hazard": rule.hazard,
        "part": rule.part,
        "acceptable": rule.acceptable,
        "explanation": rule.explanation,
        "caution": {"signal": caution.signal, "text": caution.text} if caution else None,
        "basis": [
            {
                "code": code,
                "reference": clause.reference,
                "edition": clause.edition,
                "says": clause.says,
                "verified": clause.verified,
            }
            for code, clause in rule.basis.items()
        ],
        "local": rule.local,
        "options": [
            {
                "name": option.name,
                "default": option.default,
                "description": option.metadata.get("description", ""),
            }
            for option in options
        ],
    }
