"""What holds for all tests: how random those of properties are, how memory is looked through.

And the browser, which all tests of one process share.

    pytest --hypothesis-profile=long

The ordinary run draws the same examples on every machine and has no deadline, so that a slow
machine fails nothing; the long one draws many more, new ones each time.
"""

from __future__ import annotations

import functools
import gc
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from amounts import WHOLE, a_quarter_of
from dealt import dealt
from taken import taken
from wattproof import packs
from wattproof.cli.main import LOOKED_FOR_AFTER

packs.discover = functools.cache(packs.discover)  # before any other module takes it from there
"""What is installed stays the same, and to look for it again takes as long as a small check."""

settings.register_profile(
    "ordinary", deadline=None, derandomize=True, max_examples=a_quarter_of(100)
)
settings.register_profile("long", deadline=None, max_examples=2000)
settings.load_profile("ordinary")

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from xdist.workermanage import WorkerController

TESTS = Path(__file__).parent
ALL_TESTS = "wattproof_all_tests"

gc.set_threshold(*LOOKED_FOR_AFTER)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """A few cases of each test, where all tests are run and not all that is kept is asked for.

    Tests that are marked as `whole` are left out there.
    Where several processes share the tests, each begins with whole kinds of long ones.
    """
    told = getattr(config, "workerinput", None)
    if not WHOLE and (told[ALL_TESTS] if told is not None else _takes_all_tests(config)):
        short = [test for test in items if test.get_closest_marker("whole") is None]
        few = taken(short, lambda test: test.nodeid.partition("[")[0])
        kept = {*few}
        config.hook.pytest_deselected(items=[test for test in items if test not in kept])
        items[:] = few
    if told is not None:
        items[:] = dealt(items, _file_of, told["workercount"])


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: WorkerController) -> None:
    """A process that shares the tests is told what the call asked for: it sees paths alone."""
    node.workerinput[ALL_TESTS] = _takes_all_tests(node.config)


def _takes_all_tests(config: pytest.Config) -> bool:
    """True where the call named no file, folder, test or word."""
    named = config.args_source is pytest.Config.ArgsSource.ARGS
    return not (named or config.option.keyword or config.option.markexpr)


def _file_of(item: pytest.Item) -> str:
    return item.path.relative_to(TESTS).as_posix() if item.path.is_relative_to(TESTS) else ""


def pytest_collection_finish() -> None:
    """The collector leaves alone what is there for the whole run: modules, cases, tests.

    It passed through all of that again and again, which took a twelfth of the run. What a test
    makes is collected as in a call of the program (`cli/main.py`).
    """
    gc.freeze()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One for the whole run: it takes its time to start, and two at once cannot be driven."""
    from reports.browser import chromium  # only where a page is opened

    with chromium() as started:
        yield started
