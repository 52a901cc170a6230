"""The rules that commands work with."""

from __future__ import annotations

from wattproof.cli.errors import NoRules
from wattproof.cli.output import write_error
from wattproof.packs import RuleSet, discover


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
