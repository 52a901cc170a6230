"""Tables for whoever hears them read: a caption each, and what each head is the head of.

A paragraph `Table: what it shows.` before a table becomes its caption. Without one the heading
above it is, and is not shown a second time.
"""

from __future__ import annotations

import re
from typing import Any

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.transforms import SphinxTransform

_TOLD = "Table: "


class Captions(SphinxTransform):
    """Gives each table a caption, and makes its first column the heads of its rows."""

    default_priority = 210  # after Markdown is read, before references are numbered

    def apply(self, **_: Any) -> None:
        """Called by Sphinx for each page."""
        for table in list(self.document.findall(nodes.table)):
            if not any(isinstance(child, nodes.title) for child in table):
                table.insert(0, self._caption(table))
                self.document.set_id(table)
            next(table.findall(nodes.colspec))["stub"] = 1

    def _caption(self, table: nodes.table) -> nodes.title:
        at = table.parent.index(table)
        before = table.parent[at - 1] if at else None
        if isinstance(before, nodes.paragraph) and before.astext().startswith(_TOLD):
            table.parent.remove(before)
            return nodes.title("", before.astext().removeprefix(_TOLD))
        above: nodes.Node | None = table.parent
        while above is not None and not isinstance(above, nodes.section):
            above = above.parent
        heading = above[0].astext() if isinstance(above, nodes.section) else "Table"
        return nodes.title("", heading, classes=["unseen"])


def told(app: Sphinx, page: str, template: str, context: dict[str, Any], doctree: Any) -> None:
    """Say of each head what it is the head of, which the writer leaves out."""
    if "body" in context:
        context["body"] = with_scopes(context["body"])


def with_scopes(html: str) -> str:
    """The same page with a scope at each head of a column or of a row."""
    html = re.sub(r'<th class="head', '<th scope="col" class="head', html)
    return re.sub(r'<th class="stub', '<th scope="row" class="stub', html)
