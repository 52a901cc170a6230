"""What is set for the checks of a plan, for people, as `wattproof settings` shows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final

from wattproof.reports.findings.text import problem_lines
from wattproof.reports.writing.columns import hanging, labelled
from wattproof.reports.writing.wording import numbered, set_at
from wattproof.settings import Search, Setting, Settings
from wattproof.settings.overview import Overview
from wattproof.source import Problem

_INDENT: Final = 4


def render(
    plan: str, settings: Settings, looked: Search, held: Iterable[Overview], *, whole: bool
) -> str:
    """The settings that hold for a plan. whole: also what nothing is set for."""
    return "\n".join(_page(plan, settings, looked, list(held), whole)) + "\n"


def render_unusable(plan: str, problems: Iterable[Problem]) -> str:
    """Why there are no settings."""
    lines = ["The settings cannot be used as they are", *problem_lines(problems)]
    return "\n".join([*labelled("For", plan, keep=True), "", *lines]) + "\n"


def _page(
    plan: str, settings: Settings, looked: Search, held: list[Overview], whole: bool
) -> Iterator[str]:
    yield from labelled("For", plan, keep=True)
    none = f"none: no settings file from the folder of the plan up to {looked.last}"
    yield from labelled("Settings", settings.file or none, keep=True)
    yield from labelled("Threshold", settings.least)
    yield from _origin(settings.threshold, indent=0)
    shown = [each for each in held if each.setting or (whole and each.what != "off")]
    yield from [""] if whole else []
    for each in shown:
        yield from [""] if not whole else []
        yield from hanging(_says(each), first="  * ", margin=_INDENT)
        if each.setting is not None:
            yield from _origin(each.setting, indent=_INDENT)
    yield ""
    off = sum(each.what == "off" and bool(each.value) for each in held)
    rules = len({each.rule for each in held})
    counted = f"{rules - off} of {numbered(rules, 'rule')} run, {off or 'none'} off by settings"
    yield from labelled("Rules", counted)
    if not whole:
        yield from labelled("", "What is not listed holds its default; --all lists it.")


def _says(held: Overview) -> str:
    """What holds, and what would unless it were set."""
    if held.what == "off":
        return f"{held.rule}: {'off' if held.value else 'on'}"
    value, default = (_shown(v) for v in (held.value, held.default))
    other = f", unless set {default}" if held.setting is not None else ", by default"
    if held.what == "level":
        return f"{held.rule}: level {value}{other}"
    return f"{held.rule}.{held.name}: {value}{other}"


def _shown(value: bool | str | float) -> str:
    return value if isinstance(value, str) else f"{value:.12g}"


def _origin(setting: Setting[Any] | None, *, indent: int) -> Iterator[str]:
    """Where a setting stands, and its reason."""
    if setting is None:
        yield from labelled("From", "default", indent=indent)
        return
    yield from labelled("From", set_at(setting), indent=indent, keep=True)
    yield from labelled("Reason", setting.reason, indent=indent)
