"""The folder of a site: written file by file, and nothing in it touched that is of others.

A file of its own marks it, and lists each file before it is written, with its digest: what is not
listed there is never overwritten, and what was changed since is never taken away.
"""

from __future__ import annotations

import hashlib
import os
from contextlib import suppress
from typing import Final
from urllib.parse import quote, unquote_to_bytes

from wattproof.cli.errors import CallUnusable
from wattproof.replacing import replace_file

MARKER: Final = ".wattproof-site"
_HEAD: Final = "This folder is written by `wattproof index`. Each line: SHA-256, file.\n"


class SiteFolder:
    """A folder that a site is written into.

    folder: as the call named it. plans: the folder that the plans are read from. Raises
    CallUnusable where it is of something else. It is made when the first file is written.
    """

    def __init__(self, folder: str, plans: str) -> None:
        self.named = folder
        self.path = os.path.realpath(folder)
        self._written: dict[str, str] = {}
        if _is_within(os.path.realpath(plans), self.path):
            raise CallUnusable(f"the plans lie in {folder}: name another folder for the site")
        self._before = self._listed()

    def holds(self, file: str) -> bool:
        """Whether a file lies in it."""
        return _is_within(os.path.realpath(file), self.path)

    def write(self, name: str, text: str) -> None:
        """Write a file of the site. name: from its top. Raises CallUnusable."""
        data = text.encode("utf-8", "surrogatepass")
        target = os.path.join(self.path, name)
        digest = hashlib.sha256(data).hexdigest()
        try:
            if not self._written:
                os.makedirs(self.path, exist_ok=True)
                self._mark(self._before)
            os.makedirs(os.path.dirname(target), exist_ok=True)
            if not _is_within(os.path.realpath(os.path.dirname(target)), self.path):
                raise CallUnusable(f"{self._shown(name)} leads out of the site: delete that link")
            if os.path.lexists(target) and name not in {*self._before, *self._written}:
                raise CallUnusable(
                    f"{self._shown(name)} is not of this site and is not overwritten: move it away"
                )
            self._written[name] = digest
            with open(os.path.join(self.path, MARKER), "ab") as marker:
                marker.write(_line(name, digest))
            replace_file(target, data)
        except OSError as error:
            raise CallUnusable(f"{self._shown(name)} cannot be written: {error.strerror}") from None

    def finish(self) -> list[str]:
        """Take away what an earlier call wrote and this one did not; the names of what was left
        since it was changed meanwhile. Raises CallUnusable."""
        left = [
            name for name in sorted(set(self._before) - set(self._written)) if self._keeps(name)
        ]
        self._mark(self._written)
        return left

    def _keeps(self, name: str) -> bool:
        """Take a file of an earlier call away; True where it was changed since."""
        target = os.path.join(self.path, name)
        if os.path.islink(target) or not self.holds(target):
            return os.path.lexists(target)
        try:
            with open(target, "rb") as opened:
                if hashlib.sha256(opened.read()).hexdigest() not in self._before[name]:
                    return True
            os.unlink(target)
        except FileNotFoundError:
            return False
        except OSError:
            return True
        folder = os.path.dirname(target)
        with suppress(OSError):  # one that still holds something stays
            while folder != self.path:
                os.rmdir(folder)
                folder = os.path.dirname(folder)
        return False

    def _listed(self) -> dict[str, str]:
        """What an earlier call wrote, by name: its digests. Raises CallUnusable."""
        try:
            held = os.listdir(self.path)
        except FileNotFoundError:
            return {}
        except OSError as error:
            raise CallUnusable(f"{self.named} cannot be used: {error.strerror}") from None
        if not held:
            return {}
        try:
            with open(os.path.join(self.path, MARKER), "rb") as marker:
                first, *lines = marker.read().split(b"\n")
        except OSError:
            first, lines = b"", []
        if first != _HEAD.encode().rstrip(b"\n"):
            raise CallUnusable(
                f"{self.named} holds files and was not written by `wattproof index`: name a new "
                "folder, or an empty one"
            )
        found: dict[str, str] = {}
        for line in lines:
            digest, _, quoted = line.decode("ascii", "replace").partition("  ")
            name = os.fsdecode(unquote_to_bytes(quoted))
            if name and not os.path.isabs(name) and os.pardir not in name.split("/"):
                found[name] = f"{found.get(name, '')} {digest}"
        return found

    def _mark(self, files: dict[str, str]) -> None:
        lines = [_line(name, each) for name in sorted(files) for each in files[name].split()]
        try:
            replace_file(os.path.join(self.path, MARKER), b"".join([_HEAD.encode(), *lines]))
        except OSError as error:
            raise CallUnusable(f"{self.named} cannot be written: {error.strerror}") from None

    def _shown(self, name: str) -> str:
        return os.path.join(self.named, name)


def _line(name: str, digest: str) -> bytes:
    """A line of the marker; the name as in an address, since it may hold any sign."""
    return f"{digest}  {quote(os.fsencode(name), safe='/')}\n".encode()


def _is_within(path: str, folder: str) -> bool:
    return path == folder or path.startswith(folder.rstrip(os.sep) + os.sep)
