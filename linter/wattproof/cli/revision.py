"""Revisions of a repository: the plans of an earlier one laid out, and which one plans are of."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import tarfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from tempfile import TemporaryDirectory
from typing import Final, NamedTuple

from wattproof.cli.errors import CallUnusable
from wattproof.folders import is_repository, upwards
from wattproof.reports.site import Revision
from wattproof.source import MAX_BYTES

_SECONDS: Final = 60.0
_KIND: Final = ":(top,icase,glob)**/*.y*ml"
"""What of a revision is laid out: plans, parts and settings, all YAML."""


@contextmanager
def plan_of_revision(plan: str, revision: str) -> Iterator[str]:
    """The path of a plan as an earlier revision has it, with the parts and settings beside it.

    It is gone at the end. Raises CallUnusable where there is no repository, no such revision, or no
    such plan in it.
    """
    folder = os.path.dirname(os.path.abspath(plan))
    if not os.path.isdir(folder):
        raise CallUnusable(f"there is no folder {folder}")
    top = _git(folder, "rev-parse", "--show-toplevel").decode().rstrip("\n")
    named = _git(folder, "rev-parse", "--verify", "--end-of-options", f"{revision}^{{tree}}")
    inside = os.path.relpath(os.path.realpath(plan), os.path.realpath(top))
    packed = _git(top, "archive", "--format=tar", named.decode().strip(), "--", _KIND)
    with TemporaryDirectory(prefix="wattproof-") as kept:
        with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
            archive.extractall(kept, filter="data")
        os.mkdir(os.path.join(kept, ".git"))  # settings are looked for up to here
        found = os.path.join(kept, inside)
        if not os.path.isfile(found):
            raise CallUnusable(f"the revision {revision} has no file {inside}")
        yield found


class Revisions:
    """Which revision files are of; each repository is asked once."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept | None] = {}

    def of(self, files: Iterable[str]) -> Revision | None:
        """The revision that is checked out where some files lie, and whether it has all as they
        are; None where the first lies in no repository, or in one without a revision."""
        paths = [os.path.realpath(file) for file in files]
        top = next(filter(is_repository, upwards(os.path.dirname(paths[0]))), None)
        if top is None:
            return None
        if top not in self._kept:
            self._kept[top] = _kept(top)
        kept = self._kept[top]
        if kept is None:
            return None
        return Revision(kept.commit, all(_is_kept(path, top, kept) for path in paths))


class _Kept(NamedTuple):
    """What a revision holds: by the path of a file from its top, the name of its contents."""

    commit: str
    blobs: dict[bytes, str]


def _kept(top: str) -> _Kept | None:
    """What the revision that is checked out holds; None where there is none, or no git."""
    try:
        commit = _git(top, "rev-parse", "--verify", "HEAD^{commit}").decode().strip()
        listed = _git(top, "ls-tree", "-r", "-z", "--full-tree", commit)
    except CallUnusable:
        return None
    blobs: dict[bytes, str] = {}
    for line in filter(None, listed.split(b"\0")):
        about, _, path = line.partition(b"\t")
        blobs[path] = about.split()[-1].decode()
    return _Kept(commit, blobs)


def _is_kept(path: str, top: str, kept: _Kept) -> bool:
    """Whether a revision has a file as it is, but for how its lines end.

    Its contents are named here as git names them, since asking git would run what filters the
    repository's configuration sets up.
    """
    if not path.startswith(top.rstrip(os.sep) + os.sep):
        return False
    name = kept.blobs.get(os.fsencode(os.path.relpath(path, top).replace(os.sep, "/")))
    try:
        with open(path, "rb") as opened:
            data = opened.read(MAX_BYTES + 1)
    except OSError:
        return False
    return name in {_blob(data, kept.commit), _blob(data.replace(b"\r\n", b"\n"), kept.commit)}


def _blob(data: bytes, commit: str) -> str:
    """The name that git gives to contents: of the kind that a commit has."""
    whole = b"blob %d\0" % len(data) + data
    if len(commit) == 64:
        return hashlib.sha256(whole).hexdigest()
    return hashlib.sha1(whole, usedforsecurity=False).hexdigest()


def _git(folder: str, *arguments: str) -> bytes:
    """What git says in a folder. Raises CallUnusable with its first line where it fails."""
    try:
        done = subprocess.run(
            ["git", "-c", "core.fsmonitor=false", *arguments],
            cwd=folder,
            capture_output=True,
            timeout=_SECONDS,
            check=False,
        )
    except FileNotFoundError:
        raise CallUnusable("git is not installed, so no revision can be read") from None
    except subprocess.TimeoutExpired:
        raise CallUnusable(f"git took longer than {_SECONDS:.0f} s") from None
    if done.returncode != 0:
        said = done.stderr.decode(errors="replace").strip().splitlines() or ["git failed"]
        raise CallUnusable(f"the revision cannot be read: {said[0]}")
    return done.stdout
