"""The rules that commands work with."""

from __future__ import annotations

from difflib import get_close_matches

from wattproof.cli.errors import CallUnusable, NoRules
from wattproof.cli.output import write_error
from wattproof.packs import RuleSet, discover
from wattproof.rule import Rule


def installed_rules() -> RuleSet:
    """All rules of all packs. Raises NoRules where there are none."""
    rule_set = discover()
    if not rule_set.rules and not rule_set.failures:
        raise NoRules
    return rule_set


def report_failures(rule_set: RuleSet) -> None:
    """Name the packs that could not be used, on the error output."""
    for failure in rule_set.failures:
        write_error(
            f"wattproof: `{failure.module}` of pack `{failure.pack}` cannot be used: "
            f"{failure.reason}"
        )


def find_rule(rule_id: str, rule_set: RuleSet) -> Rule:
    """The rule of an id, or of a former one. Raises CallUnusable with the nearest id."""
    if rule_id in rule_set.rules:
        return rule_set.rules[rule_id]
    for rule in rule_set.rules.values():
        if rule_id in rule.former_ids:
            return rule
    near = get_close_matches(rule_id.lower().replace("_", "-"), rule_set.rules, n=1, cutoff=0.5)
    hint = f"did you mean `{near[0]}`?" if near else "`wattproof rules` lists them"
    raise CallUnusable(f"there is no rule `{rule_id}`: {hint}")
