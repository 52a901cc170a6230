"""wattproof check: plans in, findings out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import AS_TEXT, ReportFormat
from wattproof.cli.options import (
    InputName,
    LeastLevel,
    RuleOptions,
    SettingsName,
    SomePlans,
    Working,
)
from wattproof.reports.findings.formats import FORMATS, writer_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from wattproof.engine import Result
    from wattproof.finding import Finding
    from wattproof.fixes import Fix
    from wattproof.reports.findings.run import Run


def check(
    plans: SomePlans,
    format: Annotated[
        ReportFormat,
        typer.Option(
            help="text and markdown for people, short for editors, the others for programs."
        ),
    ] = AS_TEXT,
    full: Annotated[
        bool, typer.Option("--full", help="Show numbers, reasons and assumptions as well.")
    ] = False,
    quiet: Annotated[bool, typer.Option("--quiet", help="Show the verdict alone.")] = False,
    among_others: Annotated[
        bool,
        typer.Option("--among-others", help="Pass over files that are named and hold no plan."),
    ] = False,
    baseline: Annotated[
        str | None,
        typer.Option(
            metavar="FILE",
            help="An older check, as --write-baseline kept it: what it found too, no milder, does "
            "not count.",
            show_default=False,
        ),
    ] = None,
    write_baseline: Annotated[
        str | None,
        typer.Option(metavar="FILE", help="Keep what is found for later.", show_default=False),
    ] = None,
    documentation: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="Where the documentation is published: SARIF then leads to the page of each rule.",
            show_default=False,
        ),
    ] = None,
    level: LeastLevel = None,
    working: Working = False,
    option: RuleOptions = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Check plans, and show what is wrong, why, and what to change.

    Exit status: 0 nothing found, 1 findings, 2 a plan, its settings or the call is unusable, 3 a
    rule failed.
    """
    from wattproof.cli.output import paint_of_screen, screen_columns
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import find_plans, refuse_idle_name, shown_name
    from wattproof.cli.progress import Progress
    from wattproof.cli.side_by_side import each_result
    from wattproof.reports.findings.run import Run
    from wattproof.reports.findings.verdict import exit_status

    refuse_idle_name(name, plans)
    address = _address(documentation)
    rule_set = installed_rules()
    plan_settings = PlanSettings(rule_set, settings, option or (), level)
    paths = find_plans(plans, plan_settings.excludes, others_too=among_others)
    texts: dict[str, str] = {}
    results = []
    with Progress("checking", len(paths)) as progress:
        each = each_result(paths, rule_set, plan_settings, name, keep_texts=FORMATS[format].fixes)
        for path in paths:
            progress.step(shown_name(path, name))
            result, read = next(each)
            results.append(result)
            texts.update(read)
    if baseline is not None:
        results = _since(results, baseline)
    if write_baseline is not None:
        _keep(results, write_baseline)
    status = exit_status(results)
    run = Run(
        results,
        status,
        rule_set,
        full or working,
        working,
        quiet,
        screen_columns(),
        paint_of_screen(),
        address,
        _fixes(results, texts),
    )
    _report(run, format.value)
    raise typer.Exit(status)


def _address(documentation: str | None) -> str:
    """Where the documentation is published; empty for nowhere. Raises CallUnusable."""
    if documentation is None:
        return ""
    from wattproof.cli.errors import CallUnusable
    from wattproof.reports.writing.rule_pages import is_published

    if not is_published(documentation):
        raise CallUnusable(
            "--documentation takes an address that a browser opens, such as "
            "https://example.org/wattproof"
        )
    return documentation


def _fixes(results: list[Result], texts: dict[str, str]) -> Mapping[Finding, tuple[Fix, ...]]:
    """What the remedies would write into the texts that were kept."""
    if not texts:
        return {}
    from wattproof.fixes import fixes_of

    return {
        finding: fixes
        for result in results
        if result.file in texts
        for finding, fixes in fixes_of(result, texts[result.file]).items()
    }


def _since(results: list[Result], file: str) -> list[Result]:
    """The results beside what an older check found in the same plans."""
    from wattproof.cli.baseline import read_baseline
    from wattproof.comparison import with_known

    older = read_baseline(file)
    return [with_known(result, older.of(result.file), file) for result in results]


def _keep(results: list[Result], file: str) -> None:
    """Keep what was found. Raises CallUnusable where a plan could not be checked in full."""
    from wattproof.cli.baseline import write_baseline

    write_baseline(file, results)


def _report(run: Run, format: str) -> None:
    from wattproof.cli.output import write_document, write_text

    made = writer_of(format)(run)
    if FORMATS[format].for_people:
        write_text(made)
    else:
        write_document(made)
