"""Examples of rules: a base plan with the few edits that matter, read when someone asks for them.

A rule's example is a whole plan, of which one line or two have to do with the rule. A pack keeps a
few base plans; an example names one and says only what is other and what is more.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

BEHIND = ("shade", "energy", "readings")
"""Sections that stand behind the wires of a plan; the others stand in front of them."""


class Edit(NamedTuple):
    """One edit of a plan's text: `old` occurs in it once and becomes `new`."""

    old: str
    new: str

    def of(self, text: str) -> str:
        """The text after the edit. Raises ValueError unless `old` occurs exactly once."""
        if text.count(self.old) != 1:
            raise ValueError(f"{self.old!r} occurs {text.count(self.old)} times, not once")
        return text.replace(self.old, self.new)


class Example(NamedTuple):
    """A base plan, what the example leaves out of it, the edits of it, and what it has besides.

    less: entries by section and name, as `wires.home-run`, or a section by its name. edits: in
    their order. more: lines of a plan, in sections as in a plan; an entry that the base has too
    takes the place of that one, any other stands at the end of its section.
    """

    base: Path
    less: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = ()
    more: str = ""

    def whole(self) -> str:
        """The text of the plan. Raises ValueError for what is not there, or is there twice."""
        text = self.base.read_text(encoding="utf-8")
        for name in self.less:
            text = "".join(_without(text.splitlines(True), name.split(".")))
        for edit in self.edits:
            text = edit.of(text)
        return "".join(_joined(text.splitlines(True), self.more.splitlines(True), top=True))


def _without(lines: list[str], path: list[str]) -> list[str]:
    """The lines of some entries without one of them, or without one that is in it."""
    entries = _entries(lines)
    if path[0] not in entries:
        raise ValueError(f"{path[0]!r} is not in the base plan")
    if len(path) == 1:
        del entries[path[0]]
    else:
        head, *rest = entries[path[0]]
        entries[path[0]] = [head, *_without(rest, path[1:])]
    return [line for entry in entries.values() for line in entry]


def _joined(base: list[str], more: list[str], *, top: bool = False) -> list[str]:
    """The lines of some entries with more of them; new sections stand in front of the wires."""
    entries = _entries(base)
    added = _entries(more)
    late = (*BEHIND, *list(added)[list(added).index("wires") :]) if "wires" in added else BEHIND
    last = [key for key in entries if key == "wires" or key in BEHIND] if top else []
    behind = {key: entries.pop(key) for key in last}
    for key, lines in added.items():
        new_behind = top and key in late and key not in entries
        place = behind if key in behind or new_behind else entries
        if key in place and _is_open(lines) and _is_open(place[key]):
            lines = [place[key][0], *_joined(place[key][1:], lines[1:])]
        place[key] = lines
    return [line for each in (entries, behind) for lines in each.values() for line in lines]


def _entries(lines: list[str]) -> dict[str, list[str]]:
    """Lines by the key that they belong to: each of the least indent, with what is under it."""
    found: dict[str, list[str]] = {}
    key = ""
    for line in lines:
        if _indent(line) == _indent(lines[0]):
            key = line.strip().partition(":")[0]
            found[key] = []
        found[key].append(line)
    return found


def _is_open(lines: list[str]) -> bool:
    """Whether an entry has entries of its own on the lines below its name."""
    return lines[0].rstrip().endswith(":")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
