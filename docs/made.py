"""Writes what the repository keeps of documents that are made from the program.

    python docs/made.py

Pages that must be readable without a build are kept, and a test fails where one is stale.
"""

from __future__ import annotations

import sys
from pathlib import Path

DOCS = Path(__file__).parent
sys.path.insert(0, str(DOCS / "_ext"))


def made() -> dict[Path, str]:
    """Every kept document, by its file."""
    from wattproof_docs import language

    mark = DOCS.parent / "linter/wattproof/reports/page/templates/mark.svg"
    return {
        DOCS / "keys.md": language.page(),
        DOCS / "_static" / "mark.svg": mark.read_text(encoding="utf-8"),
    }


def main() -> None:
    """Write each that is missing or stale."""
    for path, text in made().items():
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
            print(path.relative_to(DOCS.parent))


if __name__ == "__main__":
    main()
