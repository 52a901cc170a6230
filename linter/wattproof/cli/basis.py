"""wattproof basis: what a rule compares, and why."""

from __future__ import annotations

from typing import Annotated

import typer


def basis(
    rule: Annotated[
        str, typer.Argument(metavar="RULE", help="The id of a rule.", show_default=False)
    ],
    code: Annotated[
        str | None,
        typer.Option(
            metavar="CODE",
            help="Only what this body of rules says, such as nec-2023, and common practice.",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Explain a rule: what it compares, why, on what basis, with an example.

    Exit status: 0, or 2 where there is no such rule or body of rules.
    """
    from wattproof.cli.codes import known_code
    from wattproof.cli.output import write_text
    from wattproof.cli.packs import find_rule, installed_rules, report_failures
    from wattproof.codes import body, known
    from wattproof.engine import OWN_FINDINGS
    from wattproof.reports.rules import basis_text as rule_text

    codes = known() if code is None else (known_code(code),)
    if rule in OWN_FINDINGS:
        write_text(rule_text.render_own(rule, OWN_FINDINGS[rule]))
        return
    rule_set = installed_rules()
    report_failures(rule_set)
    local = {each: body(each).local for each in codes}
    write_text(rule_text.render(find_rule(rule, rule_set), local))
