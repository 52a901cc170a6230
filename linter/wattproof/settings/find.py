"""Which settings file holds for a plan: the nearest from its folder up, within its repository."""

from __future__ import annotations

import os
from typing import Final, NamedTuple

from wattproof.folders import is_repository, upwards

FILE_NAMES: Final = ("wattproof-settings.yaml", "wattproof-settings.yml")


class Search(NamedTuple):
    """What was found: the files of the nearest folder that has one, and the last folder looked in.

    More than one file is for the reader to refuse.
    """

    files: tuple[str, ...]
    last: str


def search(folder: str) -> Search:
    """Look from a folder up to the top of its repository, or of its file system.

    A file is named as the folder was: from the current folder, or by its whole path.
    """
    last, device = "", _device(folder or ".")
    for here in upwards(folder):
        if device is None or _device(here) != device:
            break
        last = here
        paths = [os.path.join(here, name) for name in FILE_NAMES]
        files = tuple(_shown(p, folder) for p in paths if os.path.lexists(p))
        if files or is_repository(here):
            return Search(files, here)
    return Search((), last)


def _device(folder: str) -> int | None:
    """The file system that a folder is on; None where there is no such folder."""
    try:
        return os.stat(folder).st_dev
    except OSError:
        return None


def _shown(path: str, folder: str) -> str:
    return path if os.path.isabs(folder) else os.path.relpath(path)
