"""What is set for the checks of a plan, for programs: see schemas/effective.schema.json."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from wattproof.reports.writing import json_values as as_json
from wattproof.settings import NOTHING_SET, Settings
from wattproof.settings.overview import Overview
from wattproof.source import Problem

VERSION: Final = 1


def render(plan: str, settings: Settings, held: Iterable[Overview]) -> str:
    """The settings that hold for a plan."""
    return as_json.dumped(_document(plan, settings, held, ()))


def render_unusable(plan: str, problems: Iterable[Problem]) -> str:
    """Why there are no settings."""
    return as_json.dumped(_document(plan, NOTHING_SET, (), problems))


def _document(
    plan: str, settings: Settings, held: Iterable[Overview], problems: Iterable[Problem]
) -> dict[str, Any]:
    return {
        "effective": VERSION,
        "plan": plan,
        "file": settings.file,
        "threshold": settings.least,
        "threshold_origin": as_json.origin(settings.threshold),
        "rules": [
            {
                "rule": each.rule,
                "what": each.what,
                "option": each.name,
                "value": each.value,
                "default": each.default,
                "reason": each.setting.reason if each.setting is not None else "",
                "origin": as_json.origin(each.setting),
            }
            for each in held
        ],
        "problems": [as_json.problem(p) for p in problems],
    }
