"""Writes the generated pages before Sphinx looks for sources, and shows real runs in pages."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sphinx.application import Sphinx

from wattproof_docs import bodies, cautions, hazards, rules, same_plan, silence, tables
from wattproof_docs.run import Changes, Drawing, Run


def setup(app: Sphinx) -> dict[str, Any]:
    """Called by Sphinx."""
    app.add_directive("run", Run)
    app.add_directive("changes", Changes)
    app.add_directive("drawing", Drawing)
    app.add_transform(tables.Captions)
    app.connect("html-page-context", tables.told)
    app.connect("config-inited", lambda app, config: generate(Path(app.srcdir) / "generated"))
    return {"parallel_read_safe": True, "parallel_write_safe": True}


def generate(folder: Path) -> None:
    """Write all generated pages below a folder; what no page is made for any more goes.

    `rules` holds pages of their own, `tables` what hand-written pages include.
    """
    pages = {
        **rules.pages(),
        "tables/bodies.md": bodies.page(),
        "tables/cautions.md": cautions.page(),
        "tables/hazards.md": hazards.page(),
        "tables/same-plan.md": same_plan.page(),
        "tables/silence.md": silence.page(),
    }
    for old in folder.rglob("*.md"):
        if str(old.relative_to(folder)) not in pages:
            old.unlink()
    for name, text in pages.items():
        path = folder / name
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
