"""wattproof report: one page to look at and to print, or Markdown for a pull request."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import PageFormat, PrintedSheets
from wattproof.cli.options import (
    InputName,
    LeastLevel,
    OutputBeside,
    RuleOptions,
    SettingsName,
    SomePlans,
)
from wattproof.cli.output import STANDARD_OUTPUT

if TYPE_CHECKING:
    import datetime

    from wattproof.choosing.layouts import Layouts
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import Checked
    from wattproof.packs import RuleSet
    from wattproof.settings import Settings


def report(
    plans: SomePlans,
    format: Annotated[
        PageFormat,
        typer.Option(help="html: a page of one plan; markdown: for comments and build pages."),
    ] = PageFormat.html,
    print_: Annotated[
        PrintedSheets | None,
        typer.Option(
            "--print",
            help="A page laid out for paper. bench: verdict, findings, cut list, diagram, order of "
            "connection and labels; full: all of it, opened.",
            show_default=False,
        ),
    ] = None,
    layouts: Annotated[
        bool,
        typer.Option(
            "--layouts",
            help="Compare every way to join the modules, also where the plan has chosen one.",
        ),
    ] = False,
    output: OutputBeside = None,
    level: LeastLevel = None,
    option: RuleOptions = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Write what a check found as a page, with diagram, curves, schedules and order of work.

    The page needs nothing around it and fetches nothing. Exit status, as of `wattproof check`: 0
    nothing found, 1 findings, 2 a plan, its settings or the call is unusable, 3 a rule failed.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.output import refuse_overwriting, save_document, say_where
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import find_plans, refuse_idle_name, shown_name
    from wattproof.cli.progress import Progress
    from wattproof.reports.findings.verdict import exit_status

    refuse_idle_name(name, plans)
    rule_set = installed_rules()
    plan_settings = PlanSettings(rule_set, settings, option or (), level)
    paths = find_plans(plans, plan_settings.excludes)
    if format is PageFormat.html and len(paths) != 1:
        raise CallUnusable(
            f"a page shows one plan, and these are {len(paths)}: name one, or write "
            "--format markdown"
        )
    if print_ is not None and format is not PageFormat.html:
        raise CallUnusable("--print lays out a page for paper: write --format html with it")
    target = _target(paths, format, print_) if output is None else output
    for path in paths:
        refuse_overwriting(path, target, "report")
    checked = []
    with Progress("checking", len(paths)) as progress:
        for path in paths:
            shown_as = shown_name(path, name)
            progress.step(shown_as)
            checked.append(_Examined(path, shown_as, rule_set, plan_settings, layouts))
    status = exit_status([each.checked.result for each in checked])
    save_document(target, _rendered(checked, format, print_))
    if output is None:
        say_where(target)
    raise typer.Exit(status)


def _target(paths: list[str], format: PageFormat, printed: PrintedSheets | None) -> str:
    """Where it goes if it was sent nowhere: a page beside its plan, Markdown to standard output."""
    from wattproof.cli.output import beside

    if format is not PageFormat.html:
        return STANDARD_OUTPUT
    return beside(paths[0], ".html" if printed is None else f"-{printed.value}.html")


def _rendered(checked: list[_Examined], format: PageFormat, printed: PrintedSheets | None) -> str:
    if format is PageFormat.html:
        from wattproof.reports import page
        from wattproof.reports.page.contents import page_of

        [one] = checked
        link = "" if printed is PrintedSheets.bench else "#finding-"
        shown = page_of(
            one.checked.study,
            one.checked.result,
            one.sources(),
            link=link,
            layouts=one.layouts,
        )
        return page.render(shown, "" if printed is None else printed.value)
    from wattproof.reports.page import markdown_report

    return markdown_report.render(
        [markdown_report.with_tables(*each.checked, each.layouts) for each in checked]
    )


class _Examined:
    """A plan of the call, checked, with the text that was read."""

    def __init__(
        self,
        path: str,
        file: str,
        rule_set: RuleSet,
        settings: PlanSettings,
        compare: bool,
    ) -> None:
        """compare: whether its layouts are compared, also where one is chosen."""
        import datetime

        from wattproof.engine import Checked, examine, not_checked
        from wattproof.source import PlanUnusable, read_text

        self.file = file
        self.text = ""
        self.checked: Checked
        self.layouts: Layouts | None = None
        try:
            own = settings.of(file)
            self.text = read_text(path, shown_as=file)
        except PlanUnusable as unusable:
            self.checked = Checked(None, not_checked(file, rule_set, unusable))
            return
        today = datetime.date.today()
        self.checked = examine(
            path, rule_set, today=today, shown_as=file, text=self.text, settings=own
        )
        study = self.checked.study
        if study is not None and (compare or study.plan.open_strings):
            self.layouts = self._compared(rule_set, own, today)

    def _compared(
        self, rule_set: RuleSet, settings: Settings, today: datetime.date
    ) -> Layouts | None:
        from wattproof.choosing.joining import reopened
        from wattproof.choosing.layouts import layouts_of
        from wattproof.plan import load_plan
        from wattproof.source import PlanUnusable

        plan = reopened(load_plan(self.file, shown_as=self.file, text=self.text))
        try:
            return layouts_of(plan, rule_set, file=self.file, today=today, settings=settings)
        except PlanUnusable:
            return None  # of mixed strings, and of none, there is nothing to compare

    def sources(self) -> dict[str, str]:
        """The text of the plan and of its parts files, by the names that places use."""
        from wattproof.source import read_text

        found = {self.file: self.text} if self.text else {}
        if self.checked.study is not None:
            for part in self.checked.study.plan.parts:
                file = os.path.normpath(os.path.join(os.path.dirname(self.file), part))
                found[file] = read_text(file, shown_as=file)
        return found
