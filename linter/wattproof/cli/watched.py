"""The files that a check of one plan reads, and whether any of them was saved since."""

from __future__ import annotations

import os
import time
from typing import Final, NamedTuple, TypeAlias

from wattproof.folders import is_repository, upwards
from wattproof.plan.parts_named import parts_named
from wattproof.settings import FILE_NAMES

Look: TypeAlias = tuple[tuple[str, tuple[int, int, int] | None], ...]
"""Each file with when it was changed, its size and its place on the disk; None for no file."""
PAUSE: Final = 0.2
"""Seconds between two looks."""
_SETTLES: Final = 0.1
_AT_MOST: Final = 2.0
"""Seconds for which one waits for the end of a save that goes on and on."""


class Watched(NamedTuple):
    """Files to look at. A file that is missing is one of them: it may come."""

    files: tuple[str, ...]

    def look(self) -> Look:
        """How they are now."""
        return tuple((file, _of(file)) for file in self.files)

    def wait(self, seen: Look) -> None:
        """Return once they are otherwise than they were seen, and stay so for a moment."""
        while (now := self.look()) == seen:
            time.sleep(PAUSE)
        end = time.monotonic() + _AT_MOST
        while time.monotonic() < end:
            time.sleep(_SETTLES)
            last, now = now, self.look()
            if last == now:
                return


def watched(plan: str, text: str, settings: str | None) -> Watched:
    """What a check of a plan reads: it, its parts files, and every file that may hold its settings.

    text: of the plan. settings: the settings file of the call, where it names one.
    """
    folder = os.path.dirname(plan)
    parts = (os.path.normpath(os.path.join(folder, part)) for part in parts_named(text))
    own = [settings] if settings is not None else _settings_of(folder)
    return Watched(tuple(dict.fromkeys((plan, *parts, *own))))


def _settings_of(folder: str) -> list[str]:
    found = []
    for here in upwards(folder):
        found += [os.path.join(here, name) for name in FILE_NAMES]
        if is_repository(here):
            break
    return found


def _of(file: str) -> tuple[int, int, int] | None:
    try:
        found = os.stat(file)
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
