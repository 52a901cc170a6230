"""The files that a page holds, laid where the program reads files."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Final

from wattproof.cli.errors import CallUnusable
from wattproof.source import MAX_BYTES

MOST_FILES: Final = 40
"""More than any plan names; a page with more holds something else."""


class Held:
    """A folder that holds the files of the page, and nothing else."""

    def __init__(self, folder: str) -> None:
        self.folder = folder
        self.files: dict[str, str] = {}

    def lay(self, files: Mapping[str, str]) -> bool:
        """Lay these files in the place of those before, and work there.

        Returns whether anything changed. Raises CallUnusable for names that lead elsewhere, for too
        many files and for one that is too large, before anything is laid.
        """
        _refuse(files)
        os.makedirs(self.folder, exist_ok=True)
        os.chdir(self.folder)
        if files == self.files:
            return False
        for name in self.files.keys() - files.keys():
            os.unlink(name)
        for name, text in files.items():
            if self.files.get(name) != text:
                folder = os.path.dirname(name)
                if folder:
                    os.makedirs(folder, exist_ok=True)
                with open(name, "w", encoding="utf-8", errors="surrogatepass", newline="") as file:
                    file.write(text)
        self.files = dict(files)
        return True


def _refuse(files: Mapping[str, str]) -> None:
    if len(files) > MOST_FILES:
        raise CallUnusable(f"these are {len(files)} files: open a plan and its parts files alone")
    for name, text in files.items():
        parts = name.split("/")
        if not name or "\x00" in name or any(part in ("", ".", "..") for part in parts):
            raise CallUnusable(f"`{name}` is no name for a file here: rename it, such as plan.yaml")
        if len(text) > MAX_BYTES:
            raise CallUnusable(f"{name} is larger than {MAX_BYTES:,} bytes")
