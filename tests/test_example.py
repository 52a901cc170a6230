"""Examples as edits of a base plan: what is less, other and more, and where it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

import wattproof_rules.plans
from wattproof.example import Edit, Example
from wattproof.testing import check_text

BASES = sorted(Path(wattproof_rules.plans.__path__[0]).glob("*.yaml"))
BASE = """\
site: {coldest: 0 °C}
datasheets:
  cables:
    thin: {size: 4 mm²}
fuses:
  main: {rating: 40 A,
         style: blade}
wires:
  run: {from: a, to: b}
energy:
  uses: {}
"""


def whole(folder: Path, *edits: Edit, less: tuple[str, ...] = (), more: str = "") -> str:
    path = folder / "base.yaml"
    path.write_text(BASE, encoding="utf-8")
    return Example(path, less, edits, more).whole()


def test_an_edit_fits_once_and_what_is_less_is_there(tmp_path: Path) -> None:
    assert whole(tmp_path) == BASE
    assert "rating: 50 A" in whole(tmp_path, Edit("40 A", "50 A"))
    with pytest.raises(ValueError, match="occurs 0 times, not once"):
        whole(tmp_path, Edit("41 A", "50 A"))
    with pytest.raises(ValueError, match="occurs 2 times, not once"):
        whole(tmp_path, Edit("4", "5"))
    with pytest.raises(ValueError, match="'thick' is not in the base plan"):
        whole(tmp_path, less=("datasheets.cables.thick",))


def test_more_stands_at_the_end_of_its_section_or_in_the_place_of_its_like(tmp_path: Path) -> None:
    more = "datasheets:\n  cables:\n    thick: {}\nfuses:\n  main: {rating: 50 A}\n  other: {}\n"
    assert whole(tmp_path, more=more) == BASE.replace(
        "thin: {size: 4 mm²}\n", "thin: {size: 4 mm²}\n    thick: {}\n"
    ).replace("{rating: 40 A,\n         style: blade}\n", "{rating: 50 A}\n  other: {}\n")


@pytest.mark.parametrize(
    ("more", "sections"),
    [
        ("loads:\n  lamp: {}\n", "site datasheets fuses loads wires energy"),
        ("readings:\n  r: {}\n", "site datasheets fuses wires energy readings"),
        ("wires:\n  x: {}\nloads:\n  lamp: {}\n", "site datasheets fuses wires energy loads"),
        ("site:\n  hottest: 40 °C\n", "site datasheets fuses wires energy"),
    ],
)
def test_new_sections_stand_in_front_of_the_wires(tmp_path: Path, more: str, sections: str) -> None:
    text = whole(tmp_path, more=more)
    assert [line.split(":")[0] for line in text.splitlines() if line[0] != " "] == sections.split()


def test_what_is_less_goes_with_all_that_is_under_it(tmp_path: Path) -> None:
    text = whole(tmp_path, less=("fuses.main", "energy", "datasheets.cables.thin"))
    assert text == "site: {coldest: 0 °C}\ndatasheets:\n  cables:\nfuses:\nwires:\n" + (
        "  run: {from: a, to: b}\n"
    )


@pytest.mark.parametrize("path", BASES, ids=lambda path: path.stem)
def test_base_plans_are_sound(path: Path) -> None:
    assert not check_text(path.read_text(encoding="utf-8")).findings
