"""Writes what the repository keeps of documents that are made from the program.

    python docs/made.py               pages, the manual page, the diagram: what a test compares
    python docs/made.py --pictures    photographs of pages besides, which needs chromium

Pages that must be readable without a build are kept, and a test fails where one is stale.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

DOCS = Path(__file__).parent
ROOT = DOCS.parent
PICTURES = DOCS / "pictures"
sys.path.insert(0, str(DOCS / "_ext"))

PHOTOGRAPHS = {
    "page.png": ("examples/faulty/van-cold-morning.yaml", 900, 660),
    "telephone.png": ("examples/faulty/van-cold-morning.yaml", 380, 600),
}
"""Pages to photograph: the plan, and how wide and how far down, in CSS pixels."""


def made() -> dict[Path, str]:
    """Every kept document, by its file."""
    from wattproof_docs import language, manual
    from wattproof_docs.run import shown

    mark = ROOT / "linter/wattproof/reports/page/templates/mark.svg"
    return {
        DOCS / "keys.md": language.page(),
        DOCS / "man" / "wattproof.1": manual.page(),
        DOCS / "_static" / "mark.svg": mark.read_text(encoding="utf-8"),
        PICTURES / "diagram.svg": shown("diagram examples/van-six-modules.yaml -o -", ROOT, {})
        + "\n",
    }


def photograph() -> None:
    """Write a picture of each page, as a browser shows it by day."""
    with tempfile.TemporaryDirectory() as folder:
        for name, (plan, width, height) in PHOTOGRAPHS.items():
            page = Path(folder) / "page.html"
            call = [sys.executable, "-m", "wattproof", "report", plan, "-o", str(page)]
            subprocess.run(call, cwd=ROOT, check=False, capture_output=True)
            _shoot(page, PICTURES / name, width, height)


def _shoot(page: Path, picture: Path, width: int, height: int) -> None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as browsers:
        browser = browsers.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox"]
        )
        view = browser.new_page(
            viewport={"width": width, "height": 2 * height}, color_scheme="light"
        )
        view.goto(page.as_uri())
        view.screenshot(path=str(picture), clip={"x": 0, "y": 0, "width": width, "height": height})
        browser.close()


def main() -> None:
    """Write each that is missing or stale."""
    for path, text in made().items():
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
            print(path.relative_to(ROOT))
    if "--pictures" in sys.argv[1:]:
        photograph()


if __name__ == "__main__":
    main()
