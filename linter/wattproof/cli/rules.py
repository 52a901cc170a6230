"""wattproof rules: the list of all rules."""

from __future__ import annotations

import typer


def rules() -> None:
    """List all rules, by the part of the installation that they look at.

    Exit status: 0, or 3 where a pack of rules cannot be used.
    """
    from wattproof.cli.output import write_text
    from wattproof.cli.packs import installed_rules, report_failures
    from wattproof.reports import rules_text

    rule_set = installed_rules()
    write_text(rules_text.render(rule_set.rules.values()))
    if rule_set.failures:
        report_failures(rule_set)
        raise typer.Exit(3)
