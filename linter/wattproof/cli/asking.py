"""What a meter showed, asked one by one, and written into the plan's readings."""

from __future__ import annotations

import datetime
import sys
from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from wattproof.cli.errors import CallUnusable
from wattproof.cli.writing import read_for_writing, write_plan

if TYPE_CHECKING:
    from collections.abc import Iterable

    from wattproof.engine import Result
    from wattproof.study import Study
    from wattproof.study.readings.should_show import Sky
    from wattproof.views.expected import Box

FIELDS: Final = {
    "voc": ("measured voltage", "V"),
    "isc": ("measured current", "A"),
    "voltage": ("measured voltage", "V"),
    "current": ("measured current", "A"),
    "irradiance": ("irradiance", "W/m²"),
    "back_temperature": ("temperature", "°C"),
    "air_temperature": ("temperature", "°C"),
}
"""Dimension and unit of what is asked; a bare number is taken in that unit."""
_OPEN: Final = ("voc", "isc")


class Answer(NamedTuple):
    """One value: where, under which key of a reading, and what the meter showed."""

    at: str
    key: str
    text: str


class Ended(Exception):
    """Nobody answers any more."""


def ask_readings(
    plan: str, file: str, sky: Sky, settings: str | None, *, write: bool, copy: str | None
) -> int:
    """Ask for every value of the sheet, show and judge them. Returns the exit status.

    Nothing is written before the last answer. Raises CallUnusable.
    """
    from wattproof.cli.one_plan import end_unusable
    from wattproof.cli.output import write_text
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import examine
    from wattproof.reports.expected import asked
    from wattproof.source import PlanUnusable

    rules, today = installed_rules(), datetime.date.today()
    try:
        own = PlanSettings(rules, settings, (), None).of(file)
        held = read_for_writing(plan, file, write=write, copy=copy)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=True)
    before = examine(
        plan, rules, today=today, shown_as=file, text=held.text, settings=own, try_remedies=False
    )
    if before.study is None or before.result.problems:
        end_unusable(file, PlanUnusable(list(before.result.problems)), shown=True)
    answers = list(_answers(before.study, sky))
    if not any(answer.key not in _CONDITIONS for answer in answers):
        write_text("\nNothing was read, so nothing is written.\n")
        return 0
    text = with_readings(held.text, before.study, answers, file)
    after = examine(
        plan, rules, today=today, shown_as=file, text=text, settings=own, try_remedies=False
    )
    if after.study is None or after.result.problems:
        raise CallUnusable(
            "these readings do not fit the plan: "
            + "; ".join(f"{p.message}: {p.instead}" for p in after.result.problems)
        )
    parts = bool(after.study.plan.parts)
    written = write_plan(held, text, parts=parts, write=write, copy=copy)
    write_text(asked.render(file, held.text, text, written, after.result))
    return _status(after.result)


def _status(result: Result) -> int:
    """As of a check, of what the readings alone say."""
    from wattproof.engine import RULE_FAILED
    from wattproof.reports.findings.verdict import exit_status

    said = tuple(f for f in result.findings if f.part == "reading" or f.rule == RULE_FAILED)
    return exit_status([replace(result, findings=said)])


_CONDITIONS: Final = ("taken", "irradiance", "back_temperature", "air_temperature")


def _answers(study: Study, sky: Sky) -> Iterable[Answer]:
    """The conditions and then each value, in the order of the sheet; return leaves one out."""
    from wattproof.cli.output import write_text
    from wattproof.views.expected import sheet_of

    sheet = sheet_of(study, sky)
    write_text(
        "What the meter showed, as it showed it: minus where it did, return for what was not "
        "read.\n\n"
    )
    try:
        yield from _conditions(sky)
        for step in sheet.steps:
            boxes = [box for box in step.boxes if box.key]
            if not boxes:
                continue
            write_text(f"\n{step.heading}\n")
            if step.caution is not None:
                write_text(f"  {step.caution.signal}  {step.caution.text}\n")
            for box in boxes:
                text = _asked(_prompt(box), box.key)
                if text:
                    yield Answer(_kind(step.heading, box), box.key, text)
    except Ended:
        write_text("\n")


def _kind(heading: str, box: Box) -> str:
    """Where a reading stands, with a word for when: readings at rest and in charge are two."""
    return f"{box.at} charge" if "In charge" in heading else box.at


def _conditions(sky: Sky) -> Iterable[Answer]:
    taken = _line("When, and how the sky was (2026-06-21 12:40, clear): ")
    if taken:
        yield Answer("", "taken", taken)
    if sky.sun is not None:
        yield Answer("", "irradiance", str(sky.sun))
    else:
        text = _asked("Irradiance in the plane of the modules, W/m²: ", "irradiance")
        if text:
            yield Answer("", "irradiance", text)
    text = _asked("Back of a module behind a cell, °C: ", "back_temperature")
    if text:
        yield Answer("", "back_temperature", text)
    if sky.air is not None:
        yield Answer("", "air_temperature", str(sky.air))
    else:
        text = _asked("Air in the shade, °C: ", "air_temperature")
        if text:
            yield Answer("", "air_temperature", text)


def _prompt(box: Box) -> str:
    return f"  {box.at}, {box.what} ({box.right}): "


def _asked(prompt: str, key: str) -> str:
    """A value with its unit; empty where it was not read. Asks again for what is none."""
    from wattproof.cli.output import write_text
    from wattproof.quantities import Mistake, read_quantity
    from wattproof.source import Place, Text

    dimension, unit = FIELDS[key]
    while True:
        text = _line(prompt)
        if not text:
            return ""
        bare = text.lstrip("+-\u2212\u2013").replace(".", "", 1).isdecimal()
        told = f"{text} {unit}" if bare else text
        try:
            read_quantity(Text.at(told, Place("", 1, 1, 1, 1)), dimension)
        except Mistake as mistake:
            write_text(f"    {mistake.message}; {mistake.instead}\n")
            continue
        return told


def _line(prompt: str) -> str:
    from wattproof.cli.output import write_text

    write_text(prompt)
    line = sys.stdin.readline() if sys.stdin is not None else ""
    if not line:
        raise Ended
    return line.strip()


def with_readings(text: str, study: Study, answers: list[Answer], file: str) -> str:
    """The text of a plan with the answers as readings of it. Raises CallUnusable."""
    from wattproof.amend.edits import NotWritten, with_value

    told = {a.key: a.text for a in answers if a.key in _CONDITIONS}
    groups: dict[tuple[str, bool], dict[str, str]] = {}
    for answer in answers:
        if answer.key not in _CONDITIONS:
            groups.setdefault((answer.at, answer.key in _OPEN), {})[answer.key] = answer.text
    taken = set(_names(study))
    for (where, is_open), values in groups.items():
        at = where.removesuffix(" charge")
        base = at.replace(".", "-") + ("-open" if is_open else "-charge" if at != where else "-run")
        names = (base, *(f"{base}-{number}" for number in range(2, len(taken) + 3)))
        name = next(each for each in names if each not in taken)
        taken.add(name)
        kept = told if is_open or at not in study.plan.batteries else _without_sun(told)
        first = {"at": at, **({"taken": kept["taken"]} if "taken" in kept else {})}
        rest = {key: value for key, value in kept.items() if key != "taken"}
        try:
            text = with_value(text, ("readings", name), {**first, **values, **rest})
        except NotWritten as reason:
            raise CallUnusable(f"{file}: readings cannot be written: {reason}") from None
    return text


def _without_sun(told: dict[str, str]) -> dict[str, str]:
    return {k: v for k, v in told.items() if k in ("taken", "air_temperature")}


def _names(study: Study) -> Iterable[str]:
    from wattproof.plan.references import components

    return (str(component.name) for component in components(study.plan))
