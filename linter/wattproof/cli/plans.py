"""Which plans a call means: files as named, and the plans in folders."""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.cli.errors import CallUnusable
from wattproof.settings import FILE_NAMES
from wattproof.source import MAX_BYTES

STANDARD_INPUT: Final = "-"
_TOP_KEY: Final = re.compile(r"^[\"']?([a-z_-]+)[\"']?[ \t]*:", re.MULTILINE)
_IN_BRACES: Final = re.compile(r"\{[^{}]*\bwattproof\b(?!-)")
_OF_PARTS_FILES: Final = {"wattproof", "datasheets"}


def refuse_idle_name(name: str | None, plans: Sequence[str]) -> None:
    """Raise CallUnusable where a name is given and no plan comes from standard input."""
    if name is not None and STANDARD_INPUT not in plans:
        raise CallUnusable("--name goes with a plan on standard input: write - for PLAN")


def shown_name(plan: str, name: str | None) -> str:
    """What messages call a plan: its file, or for standard input the name given."""
    return (name or "standard-input") if plan == STANDARD_INPUT else plan


def find_plans(given: Sequence[str]) -> list[str]:
    """The plans meant, each once: files in the order given, those of a folder sorted.

    Raises CallUnusable for a folder without a plan, and for a settings file.
    """
    found: dict[str, str] = {}
    for path in given:
        if path != STANDARD_INPUT and os.path.isdir(path):
            plans = sorted(_plans_below(path))
            if not plans:
                raise CallUnusable(
                    f"there is no plan in the folder {path}: name a file, or a folder with plans"
                )
        elif os.path.basename(path) in FILE_NAMES:
            raise CallUnusable(f"{path} holds settings: name the plans, or their folder")
        else:
            plans = [path]
        for plan in plans:
            found.setdefault(os.path.realpath(plan) if plan != STANDARD_INPUT else plan, plan)
    return list(found.values())


def _plans_below(folder: str) -> Iterator[str]:
    for here, folders, files in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in files:
            path = os.path.join(here, name)
            if name in FILE_NAMES:
                continue
            if name.endswith((".yaml", ".yml")) and _is_plan(path):
                yield path


def _is_plan(path: str) -> bool:
    """Whether a YAML file is to be checked: not one of something else, nor one of datasheets only.

    A file that cannot be read, or a plan with a key missing, is checked, so that it is not passed
    over in silence.
    """
    try:
        if not stat.S_ISREG(os.stat(path).st_mode):
            return False
        with open(path, "rb") as file:
            data = file.read(MAX_BYTES)
    except OSError:
        return True
    coding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    text = data.decode(coding, "replace")
    keys = set(_TOP_KEY.findall(text))
    if "wattproof" in keys:
        return not keys <= _OF_PARTS_FILES
    return _IN_BRACES.search(text) is not None and text.lstrip().startswith("{")
