"""The page in a browser, and what is asked of the program in it."""

from __future__ import annotations

import base64
import functools
import json
import threading
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

PATIENCE = 120_000
"""Milliseconds; a machine under load starts slowly, and speed is measured elsewhere."""


SECONDS = 100
"""What a call may take here: other programs run meanwhile. The bound itself has a test."""


class Desk:
    """One page that is open, and what the browser complained of."""

    def __init__(self, page: Page) -> None:
        self.page = page
        page.set_default_timeout(PATIENCE)
        self.complaints: list[str] = []
        page.on("console", lambda message: self._heard(message.type, message.text))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("dialog", lambda dialog: (self.complaints.append(dialog.message), dialog.dismiss()))

    def _heard(self, kind: str, text: str) -> None:
        if kind in ("error", "warning"):
            self.complaints.append(text)

    def open(self, address: str) -> None:
        """Open an address, and wait until the program has started."""
        self.page.goto(address)
        self.page.evaluate(f"wattproofPage.engine.seconds = {SECONDS}")
        self.page.wait_for_selector("html[data-ready]", state="attached")

    def lay(self, text: str, name: str = "plan.yaml", **parts: str) -> None:
        """Put a plan on the desk, and wait until it is checked."""
        self.page.evaluate(
            "(given) => wattproofPage.lay(given)", {"plan": name, "files": {name: text, **parts}}
        )
        self.checked()

    def checked(self) -> None:
        """Wait until nothing is left to be checked; what is typed is marked so within a moment."""
        self.page.wait_for_timeout(50)
        self.page.wait_for_selector("#verdict:not([aria-busy])", state="attached")

    def call(self, name: str, files: dict[str, str], plan: str, *arguments: Any) -> Any:
        """The answer of the program to one call."""
        return self.page.evaluate(
            "([name, given]) => wattproofPage.engine.call(name, given)",
            [name, {"files": files, "plan": plan, "with": list(arguments)}],
        )

    @property
    def signal(self) -> str:
        """The word of the verdict."""
        return self.page.locator("#panel .signal").inner_text()

    @property
    def text(self) -> str:
        """What the editor holds."""
        return str(self.page.evaluate("wattproofPage.desk.files[wattproofPage.desk.shown]"))

    def unfold(self, shows: str) -> None:
        """Unfold a section, and wait until it is filled."""
        self.page.locator(f"details[data-shows={shows}] > summary").click()
        self.page.wait_for_selector(f"details[data-shows={shows}] .body > *", state="attached")
        self.page.wait_for_selector(
            f"details[data-shows={shows}]:not([aria-busy])", state="attached"
        )


@contextmanager
def desk_in(browser: Browser, address: str, *, width: int = 1200) -> Iterator[Desk]:
    """A page of its own at an address, started."""
    context = browser.new_context(viewport={"width": width, "height": 800})
    desk = Desk(context.new_page())
    desk.open(address)
    try:
        yield desk
    finally:
        context.close()


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The address of a folder, served by a thread."""

    class Silent(SimpleHTTPRequestHandler):
        def log_message(self, format: str, *args: Any) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Silent, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/"
    finally:
        server.shutdown()
        server.server_close()


def example(plan: str, site: Path | None = None) -> dict[str, str]:
    """The files of an example: the plan, and the parts files that it names."""
    from browser.built import builder

    [found] = [each for each in builder().examples() if each["plan"] == plan]
    return dict(found["files"])


def packed(document: Any) -> str:
    """What stands in an address for some document."""
    text = document if isinstance(document, bytes) else json.dumps(document).encode()
    squeezed = zlib.compressobj(9, zlib.DEFLATED, -15)
    data = squeezed.compress(text) + squeezed.flush()
    return "plan=" + base64.urlsafe_b64encode(data).decode().rstrip("=")


def as_json(document: object) -> str:
    """As bytes are compared."""
    return json.dumps(document, indent=1, ensure_ascii=False)
