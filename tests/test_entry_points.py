"""Entry points read from folders are those that the library finds."""

from __future__ import annotations

import importlib.metadata
import sys
import zipfile
from pathlib import Path

import pytest

from wattproof.entry_points import points_of
from wattproof.packs import ENTRY_POINTS

TEXT = """\
[console_scripts]
other = other:main

[wattproof.rules]
# a remark
first = first_pack
second=second_pack.rules [more]
"""


def distribution(at: Path, name: str, text: str = TEXT) -> Path:
    """What an installer leaves of a distribution."""
    folder = at / f"{name}-1.0.dist-info"
    folder.mkdir(parents=True)
    (folder / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n")
    (folder / "entry_points.txt").write_text(text)
    return at


def of_the_library(group: str) -> list[tuple[str, str]]:
    points = importlib.metadata.entry_points(group=group)
    return sorted((point.name, point.value.partition("[")[0].strip()) for point in points)


@pytest.mark.parametrize("group", [ENTRY_POINTS, "console_scripts", "pytest11", "none.such"])
def test_they_are_those_of_the_library(
    group: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    distribution(tmp_path / "a", "some_pack")
    distribution(tmp_path / "b", "Some.Pack", TEXT.replace("first", "hidden"))
    monkeypatch.syspath_prepend(str(tmp_path / "b"))
    monkeypatch.syspath_prepend(str(tmp_path / "a"))
    monkeypatch.syspath_prepend(str(tmp_path / "missing"))
    found = sorted(tuple(point) for point in points_of(group))
    assert found == of_the_library(group)
    if group == ENTRY_POINTS:
        assert ("second", "second_pack.rules") in found
        assert not any("hidden" in name for name, _ in found)


def test_an_archive_on_the_path_is_looked_into(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    distribution(tmp_path, "zipped")
    archive = tmp_path / "zipped.zip"
    with zipfile.ZipFile(archive, "w") as written:
        for path in sorted(tmp_path.glob("zipped-1.0.dist-info/*")):
            written.write(path, path.relative_to(tmp_path))
    monkeypatch.setattr(sys, "path", [str(archive), *sys.path])
    assert ("first", "first_pack") in [tuple(point) for point in points_of(ENTRY_POINTS)]
