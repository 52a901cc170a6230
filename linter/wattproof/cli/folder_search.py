"""Which files below a folder are plans: none is passed over that may be one."""

from __future__ import annotations

import os
import stat
import subprocess
from collections.abc import Iterable, Iterator
from typing import Final, NoReturn

from wattproof.cli.errors import CallUnusable
from wattproof.cli.output import write_error
from wattproof.folders import is_repository, upwards
from wattproof.likeness import kind_of
from wattproof.settings import FILE_NAMES
from wattproof.source import MAX_BYTES

_ENDINGS: Final = (".yaml", ".yml")
_GIT_SECONDS: Final = 20.0


def plans_below(folder: str) -> list[str]:
    """The plans in a folder and below it, sorted.

    Folders whose names begin with a point are not searched, nor are files that the repository's
    version control ignores and does not keep. A link to a folder elsewhere is not followed, and
    that is said. Raises CallUnusable where a folder cannot be searched.
    """
    found = sorted(_files_below(folder))
    ignored = _ignored(folder, found)
    return [path for path in found if path not in ignored and is_plan(path)]


def is_plan(path: str) -> bool:
    """Whether a YAML file is to be checked: not one of something else, nor one of labels only.

    What cannot be read is checked, so that it is told and not passed over in silence.
    """
    if os.path.basename(path).lower() in FILE_NAMES:
        return False
    try:
        if not stat.S_ISREG(os.stat(path).st_mode):
            return False
        with open(path, "rb") as file:
            data = file.read(MAX_BYTES)
    except OSError:
        return True
    coding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    return kind_of(data.decode(coding, "replace")) == "plan"


def _files_below(folder: str) -> Iterator[str]:
    """The YAML files in a folder and below it. Raises CallUnusable where one cannot be searched."""
    for here, folders, files in os.walk(folder, onerror=_cannot_search):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in folders:
            if os.path.islink(os.path.join(here, name)):
                _say_not_searched(os.path.join(here, name), folder)
        for name in files:
            if name.lower().endswith(_ENDINGS) and name.lower() not in FILE_NAMES:
                yield os.path.join(here, name)


def _cannot_search(error: OSError) -> NoReturn:
    raise CallUnusable(f"the folder {error.filename} cannot be searched: {error.strerror}")


def _say_not_searched(link: str, folder: str) -> None:
    """Say which folder was not searched, since a link leads to it from outside."""
    top = os.path.realpath(folder)
    if not os.path.realpath(link).startswith(top.rstrip(os.sep) + os.sep):
        write_error(f"wattproof: {link} leads to another folder, which was not searched: name it")


def _ignored(folder: str, paths: Iterable[str]) -> set[str]:
    """Those of some files that git ignores; none where there is no repository, or no git.

    A file that is kept in the repository is never ignored. Nothing of the repository's own
    configuration is run.
    """
    named = {os.path.abspath(path): path for path in paths}
    if not named or not any(is_repository(above) for above in upwards(folder)):
        return set()
    command = ["git", "-c", "core.fsmonitor=false", "check-ignore", "-z", "--stdin"]
    try:
        done = subprocess.run(
            command,
            cwd=folder,
            input=b"\0".join(os.fsencode(path) for path in named),
            capture_output=True,
            timeout=_GIT_SECONDS,
            check=False,
        )
    except (OSError, subprocess.SubprocessError):
        return set()
    if done.returncode != 0:
        return set()
    listed = (os.fsdecode(each) for each in done.stdout.split(b"\0") if each)
    return {named[path] for path in listed if path in named}
