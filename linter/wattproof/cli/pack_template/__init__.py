"""A pack of rules to begin with: a project with one rule, its test and its entry point."""

from __future__ import annotations

import keyword
import re
from importlib.resources import files
from typing import Final, NamedTuple

_FILES: Final = {
    "README.md": "readme.md.txt",
    "pyproject.toml": "pyproject.toml.txt",
    "@PACKAGE@/__init__.py": "package.py.txt",
    "@PACKAGE@/array_cable_long.py": "rule.py.txt",
    "tests/test_@PACKAGE@.py": "tests.py.txt",
}
FIRST_RULE: Final = "array-cable-long"
_NAME: Final = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_ENDINGS: Final = ("-rules", "-pack")
_OURS: Final = "wattproof"
_LONGEST: Final = 40


class Names(NamedTuple):
    """What a pack is called: pack, as rules are prefixed; project, as it is installed; package, as
    it is imported."""

    pack: str
    project: str
    package: str


class Unnamed(Exception):
    """No pack can be called so. The message says what to write instead."""


def names_of(folder: str) -> Names:
    """What a pack in a folder of a name is called. Raises Unnamed."""
    name = folder.lower().replace("_", "-")
    for ending in _ENDINGS:
        name = name.removesuffix(ending) or name
    if not _NAME.fullmatch(name) or len(name) > _LONGEST or keyword.iskeyword(name):
        raise Unnamed(
            f"`{folder}` does not name a pack: write a name of lower-case letters, digits and "
            "hyphens that begins with a letter, such as our-rules"
        )
    if name == _OURS:
        raise Unnamed(f"`{folder}` is how the built-in rules are called: take another name")
    return Names(name, f"{name}-rules", f"{name.replace('-', '_')}_rules")


def texts_of(names: Names) -> dict[str, str]:
    """The files of a pack, by their names within its folder."""
    told = {"@NAME@": names.pack, "@PROJECT@": names.project, "@PACKAGE@": names.package}

    def named(text: str) -> str:
        for mark, name in told.items():
            text = text.replace(mark, name)
        return text

    here = files(__package__)
    return {
        named(file): named((here / source).read_text(encoding="utf-8"))
        for file, source in _FILES.items()
    }
