"""The plans of an earlier revision of a repository, laid out in a folder of their own."""

from __future__ import annotations

import io
import os
import subprocess
import tarfile
from collections.abc import Iterator
from contextlib import contextmanager
from tempfile import TemporaryDirectory
from typing import Final

from wattproof.cli.errors import CallUnusable

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
