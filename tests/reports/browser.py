"""Pages in a real browser: Debian's chromium, driven by Playwright."""

from __future__ import annotations

import functools
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

CHROMIUM = shutil.which("chromium") or shutil.which("google-chrome")
MISSING = (
    "the browser chromium is not installed, and these checks need it: install the package "
    "`chromium` (on Debian and Ubuntu: apt-get install chromium)"
)
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser without a window. Raises RuntimeError where it is not installed."""
    if CHROMIUM is None:
        raise RuntimeError(MISSING)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        try:
            yield browser
        finally:
            browser.close()


@contextmanager
def opened(
    browser: Browser, file: Path, *, width: int = 1100, script: bool = True
) -> Iterator[tuple[Page, list[str]]]:
    """A page opened from a file, and all that the browser had to complain of or to fetch.

    What is opened so keeps nothing, and a page of its own takes longer to make than most tests:
    they follow each other in one, each from an empty page on, on a light screen.
    """
    page, complaints = _kept(browser, script)
    complaints.clear()
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(file.as_uri())
    try:
        yield page, complaints
    finally:
        page.goto("about:blank")
        page.emulate_media(media="screen", color_scheme="light")


@functools.cache
def _kept(browser: Browser, script: bool) -> tuple[Page, list[str]]:
    """The page that one test after another opens its file in, and what it complains of."""
    page = browser.new_context(java_script_enabled=script).new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("dialog", lambda dialog: (complaints.append(dialog.message), dialog.dismiss()))
    page.on(
        "request",
        lambda request: None if request.url.startswith("file:") else complaints.append(request.url),
    )
    return page, complaints
