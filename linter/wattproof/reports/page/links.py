"""Links within a page: from a place to its line of the plan, from a name to its component."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from html import escape
from typing import Final

from markupsafe import Markup

from wattproof.reports.writing.columns import clean
from wattproof.source import Place

_QUOTED: Final = re.compile(r"`([^`]*)`")
_COMPONENT: Final = re.compile(r'id="component-([^"]+)"')


class Links:
    """Where a page has an anchor for what its texts name.

    sources: the texts that are shown line by line. diagram: the picture whose groups have the ids
    of components.
    """

    def __init__(self, sources: Mapping[str, str], diagram: str) -> None:
        self._files = {file: number for number, file in enumerate(sources, start=1)}
        self._lines = {file: text.count("\n") + 1 for file, text in sources.items()}
        self._components = set(_COMPONENT.findall(diagram))

    def line(self, file: str, line: int) -> str:
        """The id of a line of a file; empty where the page does not show it."""
        number = self._files.get(file)
        return f"file-{number}-line-{line}" if number and line <= self._lines[file] else ""

    def place(self, place: Place) -> Markup:
        """A place, as a link to its line where the page shows that."""
        text = Markup.escape(clean(str(place)))
        target = self.line(place.file, place.line)
        return Markup('<a href="#{}">{}</a>').format(target, text) if target else text

    def component(self, name: str, *, stop: bool = True) -> Markup:
        """A name as code, as a link to its symbol where the diagram has it.

        stop: whether the tabulator key stops at it.
        """
        code = Markup("<code>{}</code>").format(clean(name))
        if not self.is_drawn(name):
            return code
        passed = Markup("") if stop else Markup(' tabindex="-1"')
        return Markup('<a href="#component-{}"{}>{}</a>').format(name, passed, code)

    def is_drawn(self, name: str) -> bool:
        """Whether the diagram has a symbol of that name."""
        return escape(name) in self._components

    def marked(self, text: str, *, stop: bool = True) -> Markup:
        """A text in which what stands between backticks is code, linked where it is a component.

        stop: as of `component`; False where the same links stand in what is folded below.
        """
        parts: Iterable[str] = _QUOTED.split(text)
        return Markup("").join(
            self.component(part, stop=stop) if number % 2 else Markup.escape(clean(part))
            for number, part in enumerate(parts)
        )
