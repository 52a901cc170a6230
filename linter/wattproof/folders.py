"""The folders above a plan, to the top of its repository."""

from __future__ import annotations

import os
from collections.abc import Iterator


def upwards(folder: str) -> Iterator[str]:
    """A folder and those above it, links resolved, to the top of the file system."""
    here = os.path.realpath(folder or ".")
    yield here
    while (above := os.path.dirname(here)) != here:
        here = above
        yield here


def is_repository(folder: str) -> bool:
    """Whether a folder is the top of a repository."""
    return os.path.exists(os.path.join(folder, ".git"))
