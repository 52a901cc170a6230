"""wattproof layouts: every way to join the modules of a plan, checked and compared."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import DocumentFormat
from wattproof.cli.options import InputName, OnePlan, SettingsName

if TYPE_CHECKING:
    from wattproof.choosing.layouts import Layouts


def layouts(
    plan: OnePlan,
    format: Annotated[
        DocumentFormat, typer.Option(help="text and markdown for people, json for programs.")
    ] = DocumentFormat.text,
    full: Annotated[bool, typer.Option("--full", help="Show all figures of every layout.")] = False,
    weights: Annotated[
        str | None,
        typer.Option(
            metavar="S,H,X",
            help="How much power counts at standard conditions, at the hottest noon and in shade, "
            "in percent: 40,40,20.",
            show_default=False,
        ),
    ] = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Compare every way to join the modules: series, parallel, both, split among inputs.

    For a plan with `arrangement: open`. Each layout is checked by all rules.

    Exit status: 0 where a layout fits, 1 where none does, 2 where the plan or the call is
    unusable, or 3 where a rule failed.
    """
    from wattproof.cli.one_plan import end_unusable
    from wattproof.cli.output import write_document, write_error
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    file = shown_name(plan, name)
    shares = read_weights(weights)
    try:
        found = layouts_of_file(plan, file, settings, shares)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=format is DocumentFormat.text)
    if format is DocumentFormat.json:
        from wattproof.reports.layouts import json

        write_document(json.render(found))
    elif format is DocumentFormat.markdown:
        from wattproof.reports.layouts import markdown

        write_document(markdown.render(found))
    else:
        write_layouts(found, full=full)
    if any(each.result.failed for each in found.tried):
        write_error(f"{file}: a rule failed, so a layout may be worse than it is told here")
        raise typer.Exit(3)
    raise typer.Exit(0 if found.fitting else 1)


def layouts_of_file(
    plan: str, file: str, settings: str | None, weights: dict[str, float] | None = None
) -> Layouts:
    """The layouts of a plan in a file. file: what messages call it. Raises PlanUnusable."""
    import datetime

    from wattproof.choosing.layouts import layouts_of
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.plan import load_plan

    rules = installed_rules()
    own = PlanSettings(rules, settings, (), None).of(file)
    read = load_plan(plan, shown_as=file)
    return layouts_of(
        read, rules, file=file, today=datetime.date.today(), settings=own, weights=weights
    )


def write_layouts(found: Layouts, *, full: bool = False) -> None:
    """The comparison as text, as wide as the screen."""
    from wattproof.cli.output import paint_of_screen, screen_columns, write_text
    from wattproof.reports.layouts import text
    from wattproof.reports.writing.columns import on_screen

    with on_screen(screen_columns()):
        made = text.render(found, full=full, paint=paint_of_screen())
    write_text(made)


def read_weights(written: str | None) -> dict[str, float] | None:
    """Shares of the states, from such as `40,40,20`. Raises CallUnusable."""
    from wattproof.cli.errors import CallUnusable

    if written is None:
        return None
    try:
        numbers = [float(each.strip().removesuffix("%")) for each in written.split(",")]
    except ValueError:
        numbers = []
    if len(numbers) != 3 or min(numbers) < 0.0 or not 0.0 < sum(numbers) < float("inf"):
        message = f"--weights {written}: write three numbers, such as 40,40,20: for standard "
        raise CallUnusable(message + "conditions, for the hottest noon, and for shade")
    whole = sum(numbers)
    return dict(zip(("standard", "hottest", "shade"), (n / whole for n in numbers), strict=True))
