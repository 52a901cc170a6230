"""Options of rules as a call sets them: RULE.OPTION=NUMBER."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import fields

from wattproof.cli.errors import CallUnusable
from wattproof.cli.packs import find_rule
from wattproof.packs import RuleSet


def read_options(written: Iterable[str], rule_set: RuleSet) -> dict[str, dict[str, float]]:
    """Values of options by rule and name. Raises CallUnusable."""
    values: dict[str, dict[str, float]] = {}
    for text in written:
        target, equals, number = text.partition("=")
        rule_id, dot, name = target.strip().rpartition(".")
        if not equals or not dot:
            raise CallUnusable(f"`{text}` sets nothing: write --option RULE.OPTION=NUMBER")
        rule = find_rule(rule_id, rule_set)
        known = [f.name for f in fields(rule.options)] if rule.options is not None else []
        if name not in known:
            raise CallUnusable(_no_option(rule.id, name, known))
        values.setdefault(rule.id, {})[name] = _number(number.strip(), text)
    return values


def _no_option(rule_id: str, name: str, known: list[str]) -> str:
    if not known:
        return f"the rule `{rule_id}` has no options"
    return f"the rule `{rule_id}` has no option `{name}`: it has {', '.join(known)}"


def _number(written: str, text: str) -> float:
    try:
        number = float(written)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise CallUnusable(f"`{text}` gives no number: write for example 0.03 for 3 %")
    return number
