"""wattproof expect: what a meter should show, and what it showed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import SheetPaper
from wattproof.cli.errors import CallUnusable
from wattproof.cli.options import InputName, OnePlan, SettingsName
from wattproof.cli.writing import CopyName, Write

if TYPE_CHECKING:
    from wattproof.quantities import Quantity
    from wattproof.study.readings.should_show import Sky


def expect(
    plan: OnePlan,
    sun: Annotated[
        str | None,
        typer.Option(
            metavar="IRRADIANCE",
            help='Sun in the plane of the modules, as "850 W/m²".',
            show_default=False,
        ),
    ] = None,
    air: Annotated[
        str | None,
        typer.Option(
            metavar="TEMPERATURE", help='Air in the shade, as "25 °C".', show_default=False
        ),
    ] = None,
    cells: Annotated[
        str | None,
        typer.Option(
            metavar="TEMPERATURE", help='The cells themselves, as "55 °C".', show_default=False
        ),
    ] = None,
    format: Annotated[
        SheetPaper, typer.Option(help="text, Markdown, or a page to print.")
    ] = SheetPaper.text,
    readings: Annotated[
        bool,
        typer.Option(
            "--readings", help="Ask what the meter showed, one by one, for the plan's readings."
        ),
    ] = False,
    write: Write = False,
    output: CopyName = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Print what a meter should show of a plan that is built as planned, in order of measuring.

    Without --sun and one of --air and --cells it has a small table by both. With --readings the
    values are asked one by one, shown as a change of the plan, and judged; --write writes them.

    Exit status: 0; with --readings 1 where they say that something is wrong; 2 where the plan or
    the call is unusable, 3 where a rule failed.
    """
    from wattproof.cli.one_plan import end_unusable
    from wattproof.cli.plans import STANDARD_INPUT, refuse_idle_name, shown_name
    from wattproof.loading import load_study
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    file = shown_name(plan, name)
    sky = _sky(sun, air, cells)
    if readings and plan == STANDARD_INPUT:
        raise CallUnusable("--readings asks on standard input: name the plan's file")
    if readings:
        from wattproof.cli.asking import ask_readings

        if format is not SheetPaper.text:
            raise CallUnusable("--readings asks on the terminal: leave --format out")
        raise typer.Exit(ask_readings(plan, file, sky, settings, write=write, copy=output))
    if write:
        raise CallUnusable("--write goes with --readings: the sheet itself changes no plan")
    try:
        study = load_study(plan, shown_as=file)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=True)
    from wattproof.cli.one_plan import write_danger
    from wattproof.cli.output import STANDARD_OUTPUT, save_document, write_document, write_text
    from wattproof.reports.expected import markdown as expected_markdown
    from wattproof.reports.expected import page as expected_page
    from wattproof.reports.expected import text as expected_text
    from wattproof.views.expected import sheet_of

    on_screen = format is SheetPaper.text and output in (None, STANDARD_OUTPUT)
    if on_screen:
        study = write_danger(study, file)
    sheet = sheet_of(study, sky)
    title = str(study.plan.title or "")
    if on_screen:
        write_text(expected_text.render(file, title, sheet))
        return
    made = {
        SheetPaper.text: expected_text.render,
        SheetPaper.markdown: expected_markdown.render,
        SheetPaper.html: expected_page.render,
    }[format](file, title, sheet)
    if output is None:
        write_document(made)
    else:
        save_document(output, made)


def _sky(sun: str | None, air: str | None, cells: str | None) -> Sky:
    """The conditions that are told. Raises CallUnusable."""
    from wattproof.study.readings.should_show import Sky

    if air is not None and cells is not None:
        raise CallUnusable("--air and --cells both say how warm it is: give one of them")
    if sun is None and (air is not None or cells is not None):
        raise CallUnusable("--air and --cells go with --sun: voltage follows both, current the sun")
    if sun is not None and air is None and cells is None:
        raise CallUnusable("--sun goes with --air or --cells: voltage falls as the cells get warm")
    return Sky(
        _told(sun, "irradiance", "--sun", 0.0, 2000.0),
        _told(air, "temperature", "--air", -60.0, 60.0),
        _told(cells, "temperature", "--cells", -60.0, 120.0),
    )


def _told(
    text: str | None, dimension: str, option: str, least: float, most: float
) -> Quantity | None:
    from wattproof.quantities import Mistake, read_quantity
    from wattproof.source import Place, Text

    if text is None:
        return None
    place = Place("the call", 1, 1, 1, 1)
    try:
        found = read_quantity(Text.at(text, place), dimension)
    except Mistake as mistake:
        raise CallUnusable(f"{option}: {mistake.message}; {mistake.instead}") from None
    if not least < found.value <= most:
        raise CallUnusable(f"{option}: {found} is not what anybody measures in; check the number")
    return found
