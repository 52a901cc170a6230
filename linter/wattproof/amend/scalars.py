"""Values as YAML text: plain where that reads back as the same, else in quotes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final, TypeAlias

Data: TypeAlias = "str | Sequence[Data] | Mapping[str, Data]"
"""A value, a list or keys with values, as a plan holds them: every value is text."""

WIDTH: Final = 100
_PLAIN: Final = re.compile(r"(?:[A-Za-z0-9./\u2212]|[-+](?=[0-9.]))[^\n\r\t,\[\]{}#:&*!|>'\"@`\\]*")


def scalar(text: str, quote: str = "") -> str:
    """A value as written, in the quotes asked for or in those that it needs."""
    if quote == '"':
        return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if quote == "'" or not _PLAIN.fullmatch(text) or text != text.strip():
        return "'" + text.replace("'", "''") + "'"
    return text


def flow(value: Data) -> str:
    """A value on one line, lists in brackets and keys in braces."""
    if isinstance(value, str):
        return scalar(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(each)}" for key, each in value.items()) + "}"
    return "[" + ", ".join(flow(each) for each in value) + "]"


def entry(key: str, value: Data, indent: int, line_break: str) -> str:
    """A key with its value, for a mapping in lines that stands so far in; without a break."""
    start = " " * indent + key + ":"
    if isinstance(value, Mapping) and value and all(isinstance(v, Mapping) for v in value.values()):
        inner = (entry(k, v, indent + 2, line_break) for k, v in value.items())
        return line_break.join((start, *inner))
    text = flow(value)
    if len(start) + 1 + len(text) <= WIDTH or not isinstance(value, Mapping):
        return f"{start} {text}"
    return f"{start} " + _folded(value, len(start) + 2, line_break)


def _folded(value: Mapping[str, Data], column: int, line_break: str) -> str:
    """Keys in braces over several lines, none too long where that can be."""
    lines = [""]
    for number, (key, each) in enumerate(value.items()):
        piece = f"{key}: {flow(each)}" + ("," if number < len(value) - 1 else "}")
        used = column + len(lines[-1]) + (1 if lines[-1] else 0)
        if lines[-1] and used + len(piece) > WIDTH:
            lines.append(piece)
        else:
            lines[-1] += (" " if lines[-1] else "") + piece
    return "{" + (line_break + " " * column).join(lines)
