"""Every plan that the repository keeps as it stands, and the faulty example of every rule.

In the long run plausible plans drawn by chance as well.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from amounts import LONG
from plans import EXAMPLES
from wattproof.packs import discover

HERE = Path(__file__).parent


class Text(NamedTuple):
    """A plan: what it is called, the path that its parts are found by, and its text."""

    name: str
    path: str
    text: str


def plan_texts() -> list[Text]:
    """All of them, each time in the same order."""
    folders = (EXAMPLES, EXAMPLES / "faulty", HERE / "sound", HERE / "external" / "builds")
    kept = [path for folder in folders for path in sorted(folder.glob("*.yaml"))]
    texts = [Text(path.stem, str(path), path.read_text(encoding="utf-8")) for path in kept]
    rules = discover().rules.values()
    texts += [Text(rule.id, "plan.yaml", rule.faulty.of(rule.sound)) for rule in rules]
    return [text for text in (*texts, *_drawn()) if "\nsetting:" in text.text]


def _drawn() -> list[Text]:
    if not LONG:
        return []
    from corpus.generated import plans  # the labels of real modules take their time to read

    return [Text(f"drawn-{k}", "plan.yaml", text) for k, text in enumerate(plans(300))]
