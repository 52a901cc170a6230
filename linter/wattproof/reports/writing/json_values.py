"""Numbers, places and workings as JSON holds them: SI values, plain names, nothing non-finite."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable
from typing import Any, Final

from wattproof.finding import Addition, Change
from wattproof.reports.findings.workings import all_steps
from wattproof.settings import Setting
from wattproof.source import Place, Problem
from wattproof.working import Assumption, Declared, Input, Origin, Step, Value

_STEERS: Final = re.compile(
    "[\x7f-\x9f\xad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]"
)
"""Signs within strings that steer a terminal, turn the direction of writing, or are not seen."""


def dumped(document: Any) -> str:
    """A document as text. Half characters, which no encoding can write, become U+FFFD.

    What would steer a terminal or turn the direction of writing is escaped, as JSON has it.
    """
    text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False)
    whole = text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    return _STEERS.sub(_as_escape, whole) + "\n"


def _as_escape(match: re.Match[str]) -> str:
    return f"\\u{ord(match[0]):04x}"


def number(value: float | None) -> float | None:
    """A number in twelve digits, so that machines agree; None where it is not finite."""
    return float(f"{value:.12g}") if value is not None and math.isfinite(value) else None


def unit(internal: str) -> str:
    """The unit of a value's number: shares and factors are plain numbers, of the unit 1."""
    return "1" if internal in ("", "%") else internal


def place(at: Place) -> dict[str, Any]:
    """A range in a file: lines and columns count characters from 1, the end is exclusive."""
    return {
        "file": at.file,
        "line": at.line,
        "column": at.column,
        "end_line": at.end_line,
        "end_column": at.end_column,
    }


def problem(found: Problem) -> dict[str, Any]:
    """Something that makes a plan unusable."""
    return {
        **place(found.place),
        "message": found.message,
        "instead": found.instead,
        "hazard": found.hazard,
    }


def origin(setting: Setting[Any] | None) -> dict[str, Any]:
    """Where a setting comes from."""
    if setting is None:
        return {"kind": "default"}
    if setting.place is None:
        return {"kind": "call"}
    return {"kind": "file", **place(setting.place)}


def assumption(assumed: Assumption) -> dict[str, Any]:
    """Something that the plan leaves out."""
    return {
        "key": assumed.key,
        "subject": assumed.subject,
        "says": assumed.says,
        "instead": assumed.instead,
        **place(assumed.place),
    }


def change(of: Change | Addition) -> dict[str, Any]:
    """A value that a plan would hold instead, or a device that it would hold as well."""
    if isinstance(of, Change):
        return {"component": of.component, "key": of.key, "value": of.text or None}
    return {
        "adds": of.family,
        "component": of.name,
        "values": dict(of.values),
        "wire": of.wire,
        "from_end": of.from_end or None,
        "distance": of.distance or None,
    }


def value(of: Value) -> dict[str, Any]:
    """A number that is shown."""
    return {
        "symbol": of.symbol,
        "words": of.words,
        "value": number(of.number),
        "unit": unit(of.unit),
        "text": str(of),
    }


def working(values: Iterable[Value]) -> list[dict[str, Any]]:
    """Every step that leads to some values."""
    return [_step(step) for step in all_steps(values)]


def _step(step: Step) -> dict[str, Any]:
    return {
        "symbol": step.symbol,
        "words": step.words,
        "formula": step.formula,
        "substituted": step.substituted,
        "value": number(step.number),
        "unit": unit(step.unit),
        "inputs": [_input(read) for read in step.inputs],
    }


def _input(read: Input) -> dict[str, Any]:
    return {
        "symbol": read.symbol,
        "words": read.words,
        "text": read.text,
        "origin": _origin(read.origin),
    }


def _origin(origin: Origin) -> dict[str, Any]:
    if isinstance(origin, Declared):
        return {"kind": "plan", **place(origin.place)}
    if isinstance(origin, Assumption):
        return {"kind": "assumption", **assumption(origin)}
    return {"kind": "source", "source": origin.source}
