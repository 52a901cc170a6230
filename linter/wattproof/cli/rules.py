"""wattproof rules: the list of rules."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import DataFormat, HazardName, PartName, Threshold

if TYPE_CHECKING:
    from collections.abc import Collection

    from wattproof.rule import Rule


def rules(
    part: Annotated[
        list[PartName] | None,
        typer.Option(
            help="Only rules that look at this part; may be repeated.", show_default=False
        ),
    ] = None,
    hazard: Annotated[
        list[HazardName] | None,
        typer.Option(
            help="Only rules that guard against this hazard; may be repeated.", show_default=False
        ),
    ] = None,
    level: Annotated[
        list[Threshold] | None,
        typer.Option(help="Only rules of this level; may be repeated.", show_default=False),
    ] = None,
    code: Annotated[
        list[str] | None,
        typer.Option(
            metavar="CODE",
            help="Only rules on which this body of rules has a clause, such as nec-2023; may be "
            "repeated.",
            show_default=False,
        ),
    ] = None,
    format: Annotated[
        DataFormat, typer.Option(help="text for people, json for programs.")
    ] = DataFormat.text,
) -> None:
    """List rules, by the part of the installation that they look at.

    Of one option given twice, either may hold; of several options, each must.

    Exit status: 0, 2 where there is no such part, hazard, level or body of rules, 3 where a pack
    of rules cannot be used.
    """
    from wattproof.cli.codes import known_code
    from wattproof.cli.output import write_document, write_text
    from wattproof.cli.packs import installed_rules, report_failures
    from wattproof.reports.rules import json as rules_json
    from wattproof.reports.rules import text as rules_text

    codes = [known_code(written) for written in code or ()]
    rule_set = installed_rules()
    listed = [
        rule
        for rule in rule_set.rules.values()
        if _is_among(rule.part, part)
        and _is_among(rule.hazard, hazard)
        and _is_among(rule.level, level)
        and _has_clause(rule, codes)
    ]
    if format is DataFormat.json:
        write_document(rules_json.render(listed))
    else:
        write_text(rules_text.render(listed, len(rule_set.rules)))
    if rule_set.failures:
        report_failures(rule_set)
        raise typer.Exit(3)


def _is_among(word: str, asked: Collection[str] | None) -> bool:
    """Whether a word is asked for; all are where none is."""
    return not asked or word in asked


def _has_clause(rule: Rule, codes: Collection[str]) -> bool:
    return not codes or any(code in rule.basis for code in codes)
