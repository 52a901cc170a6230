"""What the tests of the page share: the page as built, and one that is open."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from browser.built import built
from browser.desk import Desk, desk_in


@pytest.fixture(scope="session")
def site() -> Path:
    return built()


@pytest.fixture(scope="session")
def desk(browser: Browser, site: Path) -> Iterator[Desk]:
    """A page from the disk, for tests that lay their own plan on it."""
    with desk_in(browser, (site / "index.html").as_uri()) as opened:
        yield opened
