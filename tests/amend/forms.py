"""Plans written in every way that people write them: in lines, in braces, quoted, with comments."""

from __future__ import annotations

import io
import random
import re
from collections.abc import Iterator
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.scalarstring import DoubleQuotedScalarString, SingleQuotedScalarString

REMARKS = (
    "# looked up twice",
    "#\tunder the bench\t",
    "# 太陽電池の銘板",
    "# früher: 8 mm², süß",
    "#",
)


def forms(text: str, dice: random.Random) -> Iterator[tuple[str, str]]:
    """One plan in several forms, each of the same meaning: what it is, and its text."""
    data = YAML(typ="safe").load(text)
    yield "as it is", text
    yield "remarked", remarked(text, dice)
    lines = dumped(data, flow=False)
    yield "in lines", lines
    yield "in lines, remarked", remarked(lines, dice)
    yield "in lines, indented lists", dumped(data, flow=False, offset=2)
    yield "in one pair of braces", dumped(without_loose_colons(data), flow=True)
    yield "single quotes", dumped(quoted(data, SingleQuotedScalarString), flow=False)
    yield "double quotes", dumped(quoted(data, DoubleQuotedScalarString), flow=False)
    yield "carriage returns", remarked(text, dice).replace("\n", "\r\n")
    yield "in lines, carriage returns", lines.replace("\n", "\r\n")
    yield "no end of line", text.rstrip("\n")
    yield "with anchors", anchored(text)
    yield "a document of its own", f"%YAML 1.2\n---\n{text}...\n"


def dumped(data: Any, *, flow: bool, offset: int = 0) -> str:
    """Data as text, in lines or in braces."""
    yaml = YAML()
    yaml.default_flow_style = flow
    yaml.indent(sequence=2 + offset, offset=offset)
    yaml.width = 100
    yaml.allow_unicode = True
    stream = io.StringIO()
    yaml.dump(data, stream)
    return stream.getvalue()


def without_loose_colons(data: Any) -> Any:
    """Data with quotes around what holds a colon, which the reader asks for inside braces."""
    if isinstance(data, dict):
        return {key: without_loose_colons(value) for key, value in data.items()}
    if isinstance(data, list):
        return [without_loose_colons(value) for value in data]
    return DoubleQuotedScalarString(data) if isinstance(data, str) and ":" in data else data


def quoted(data: Any, kind: type[str]) -> Any:
    """Data of which every value stands in quotes."""
    if isinstance(data, dict):
        return {key: quoted(value, kind) for key, value in data.items()}
    if isinstance(data, list):
        return [quoted(value, kind) for value in data]
    return kind(str(data).lower() if isinstance(data, bool) else data)


def remarked(text: str, dice: random.Random) -> str:
    """A text with comments after some lines and on lines of their own, and empty lines."""
    lines = []
    for line in text.split("\n"):
        found = dice.random()
        if line and found < 0.3:
            line += "   " + dice.choice(REMARKS)
        elif found > 0.9:
            lines.append("  " + dice.choice(REMARKS))
        elif found > 0.85:
            lines.append("")
        lines.append(line)
    return "\n".join(lines)


def anchored(text: str) -> str:
    """A text of which a value that stands twice is written once, and repeated by its name."""
    for value in ("600 V", "1000 V", "true", "roof", "inside"):
        pattern = re.compile(rf"(?<=: ){re.escape(value)}(?=[,}}\n])")
        if len(pattern.findall(text)) > 1:
            text = pattern.sub("*same", text)
            return text.replace("*same", f"&same {value}", 1)
    return text
