"""What the tests of the page share: the page as built, a browser, and one page that is open.

Of each file on its own, since two browsers of one process cannot be driven at once.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from browser.built import built
from browser.desk import Desk, desk_in
from reports.browser import chromium


@pytest.fixture(scope="module")
def site() -> Path:
    return built()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def desk(browser: Browser, site: Path) -> Iterator[Desk]:
    """A page from the disk, for tests that lay their own plan on it."""
    with desk_in(browser, (site / "index.html").as_uri()) as opened:
        yield opened
