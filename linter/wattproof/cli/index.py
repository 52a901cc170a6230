"""wattproof index: a folder of plans as a site of checked plans, which needs no server."""

from __future__ import annotations

import os
from contextlib import chdir
from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.options import LeastLevel, RuleOptions, SettingsName

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.site_folder import SiteFolder
    from wattproof.packs import RuleSet
    from wattproof.reports.site import Entry


def index(
    folder: Annotated[
        str,
        typer.Argument(metavar="FOLDER", help="The folder with the plans.", show_default=False),
    ],
    output: Annotated[
        str,
        typer.Option(
            "--output",
            "-o",
            metavar="SITE",
            help="The folder of the site: a new one, an empty one, or one that this command wrote.",
            show_default=False,
        ),
    ],
    title: Annotated[
        str | None,
        typer.Option(
            metavar="TEXT", help="The heading; unless given, the folder's name.", show_default=False
        ),
    ] = None,
    level: LeastLevel = None,
    option: RuleOptions = None,
    settings: SettingsName = None,
) -> None:
    """Write a site of the checked plans of a folder: a list to search, and a page of each plan.

    The site is files alone, fetches nothing, and holds each plan as it was checked, with its
    fingerprint and the revision of its repository. Exit status, as of `wattproof check`: 0 nothing
    found, 1 findings, 2 a plan, its settings or the call is unusable, 3 a rule failed.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.output import write_error
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import find_plans
    from wattproof.cli.site_folder import SiteFolder
    from wattproof.reports.findings.verdict import exit_status
    from wattproof.reports.site import Site, listing
    from wattproof.reports.site import page as site_page
    from wattproof.reports.writing.wording import numbered

    if not os.path.isdir(folder):
        raise CallUnusable(f"there is no folder {folder}: name the folder that holds the plans")
    site = SiteFolder(output, folder)
    called = settings if settings in (None, "-") else os.path.abspath(settings)
    rule_set = installed_rules()
    with chdir(folder):  # so that what is written names no folder of this machine
        named = called if called in (None, "-") else os.path.relpath(called)
        own = PlanSettings(rule_set, named, option or (), level)
        found = [os.path.normpath(path) for path in find_plans(["."], own.excludes)]
        paths = sorted(path for path in found if not site.holds(path))
        if not paths:
            raise CallUnusable(
                f"there is no plan in the folder {folder}, but for those of the site"
            )
        entries = list(_written(paths, rule_set, own, site))
    heading = title or os.path.basename(os.path.realpath(folder)) or "Plans"
    made = Site(heading, entries)
    site.write(site_page.LISTING, listing.render(made))
    site.write("index.html", site_page.render(made))
    left = site.finish()
    if left:
        write_error(f"wattproof: left, since changed by others: {', '.join(left)}")
    write_error(f"{numbered(len(entries), 'plan')} written to {output}")
    raise typer.Exit(exit_status([entry.result for entry in entries]))


def _written(
    paths: Sequence[str], rule_set: RuleSet, settings: PlanSettings, site: SiteFolder
) -> Iterator[Entry]:
    """What the list tells of each plan, after its page and its texts are written."""
    from wattproof.cli.for_page import ForPage
    from wattproof.cli.progress import Progress
    from wattproof.cli.revision import Revisions
    from wattproof.reports import page
    from wattproof.reports.page import Published
    from wattproof.reports.site import Entry, File, revision_words
    from wattproof.views.facts import facts_of

    revisions = Revisions()
    above = _above(paths)
    with Progress("checking", len(paths)) as progress:
        for path in paths:
            progress.step(path)
            one = ForPage(path, path, rule_set, settings)
            study, result = one.checked
            texts = one.sources()
            revision = revisions.of([path, *texts, *settings.search(path).files])
            names = {name: os.path.normpath(os.path.join("plans", above, name)) for name in texts}
            page_name = os.path.join("pages", f"{path}.html")
            home = "../" * (page_name.count(os.sep))
            published = Published(
                f"{home}index.html",
                tuple(home + _address(name) for name in names.values()),
                revision_words(revision),
            )
            shown = one.page(published=published)
            site.write(page_name, page.render(shown))
            for name, text in texts.items():
                site.write(names[name], text)
            yield Entry(
                file=path,
                page=_address(page_name),
                result=result,
                fingerprint=shown.fingerprint,
                facts=facts_of(study) if study is not None else None,
                files=tuple(File(n, _address(names[n]), text) for n, text in texts.items()),
                revision=revision,
            )


def _above(paths: Sequence[str]) -> str:
    """The folders above that of the plans which the site has too, as plans name files there.

    Never beyond the top of the repository, where no plan can name any.
    """
    from wattproof.folders import is_repository, upwards
    from wattproof.plan.parts_named import parts_named
    from wattproof.source import PlanUnusable, read_text

    here = os.path.realpath(".")
    top = next(filter(is_repository, upwards(here)), here)
    most = 0
    for path in paths:
        try:
            named = parts_named(read_text(path, shown_as=path))
        except PlanUnusable:
            continue
        for part in named:
            whole = os.path.normpath(os.path.join(os.path.dirname(path), part))
            most = max(most, whole.split(os.sep).count(os.pardir))
    names = [name for name in os.path.relpath(here, top).split(os.sep) if name != os.curdir]
    return os.path.join("", *names[len(names) - min(most, len(names)) :])


def _address(name: str) -> str:
    """The address of a file from the top of the site."""
    from urllib.parse import quote

    return quote(os.fsencode(name.replace(os.sep, "/")), safe="/")
