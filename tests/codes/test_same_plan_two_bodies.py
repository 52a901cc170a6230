"""One plan under each body of rules: what they differ in shows, and nothing else does.

The plan is that of the page on bodies of rules. Which body asks for what, and its source, stands in
the data of the body; the figures below were worked by hand from it.
"""

from __future__ import annotations

import ast
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

import wattproof_rules
from wattproof.codes import known
from wattproof.packs import discover
from wattproof.study import Carrying, Study
from wattproof.testing import check_text, study_of

ROOT = Path(__file__).parents[2]
CAMPER = (ROOT / "docs" / "bodies" / "camper.yaml").read_text(encoding="utf-8")
BODIES = ("abyc-e11", "as-nzs-3001", "iec", "iso-13297", "nec-2023")

EXPECTED: dict[tuple[str, str], tuple[str, str, str, str, str]] = {
    # 0.3 m open before the device: 0.178, 0.2, 0.2 and 0.2 m are allowed, and 0.46 m.
    ("battery-fuse-missing", "bank-run"): ("warning", "warning", "warning", "warning", ""),
    # Lithium where people sleep.
    ("battery-place-unsafe", "house"): ("", "warning", "", "", ""),
    # 4 mm²: one size below 2 × 35 mm², and 8 AWG; the others state none.
    ("bond-too-small", "chassis-bond"): ("warning", "", "", "", "warning"),
    # 4 A through the chassis: forbidden outright, or at most 30 A in a vehicle.
    ("chassis-as-return", "lamp-negative"): ("error", "", "", "error", ""),
    # 1.25 × 135.3 A against 110 A, and 1.25 × 35 A against 40 A: only there is a factor.
    ("conductor-too-small", "bank-run"): ("", "", "", "", "error"),
    ("conductor-too-small", "heater-run"): ("", "", "", "", "error"),
    # 150 A over 245, 198, 198, 270 and 110 A.
    ("fuse-over-conductor", "bank-run"): ("", "", "", "", "error"),
    # 50 A over 80, 75, 75, 90 and 40 A.
    ("fuse-over-conductor", "charge-run"): ("", "", "", "", "error"),
    # 80 A over 80 A, over 75 A twice, over 90 A, over 40 A.
    ("fuse-over-conductor", "heater-run"): ("", "error", "error", "", "error"),
    # 50 A over 45 A: the next size within 150 %, which no other body allows, nor 45 A there.
    ("fuse-over-conductor", "lamp-positive"): ("", "error", "error", "error", "error"),
    # 135.3 A in a device of 150 A: 1.25 × 135.3 A is asked for by one.
    ("fuse-under-load", "main-fuse"): ("", "", "", "", "warning"),
    # Physics: the same under each.
    ("hot-voltage-under-battery", "tracker"): ("warning",) * 5,
    # 4.9 A on the label of 3.2 A: above 1.5, below 1.5625 times it.
    ("module-fuse-label-low", "rear-string"): ("", "", "", "", "note"),
    # 2 × 35 mm²: 1/0 AWG as advice, 4 mm², not named, 1/0 AWG as advice, 1/0 AWG.
    ("paralleled-small-wires", "inverter-run"): ("note", "", "", "note", "warning"),
    # Two others give 10.4 A, or 13 A with the allowance; the modules stand 12 A.
    ("string-fuse-missing", "front-string"): ("error", "", "", "error", "error"),
    # 3.96 % to what matters: 3 % is usual, 5 % for extra-low voltage in one.
    ("voltage-drop-high", "cooler-run"): ("warning", "", "warning", "warning", "warning"),
    # 6.1 % to a pump: 5 %, on boats 10 %.
    ("voltage-drop-high", "pump-run"): ("", "note", "note", "", "note"),
    ("welding-cable-fixed", "inverter-run"): ("warning", "note", "note", "warning", "note"),
}


@cache
def study_under(code: str) -> Study:
    return study_of(CAMPER.replace("code: nec-2023", f"code: {code}"))


@cache
def found_under(code: str) -> dict[tuple[str, str], str]:
    """The level of each finding, by its rule and what it speaks of first."""
    result = check_text(CAMPER.replace("code: nec-2023", f"code: {code}"), discover())
    found = {(f.rule, f.subjects[0]): f.level for f in result.findings}
    assert len(found) == len(result.findings)
    return dict(found)


def expected_under(code: str) -> dict[tuple[str, str], str]:
    column = BODIES.index(code)
    return {key: levels[column] for key, levels in EXPECTED.items() if levels[column]}


def test_every_body_is_among_them() -> None:
    assert known() == BODIES


@pytest.mark.parametrize("code", BODIES)
def test_findings_under_each(code: str) -> None:
    assert found_under(code) == expected_under(code)


@pytest.mark.parametrize(("one", "other"), list(combinations(BODIES, 2)))
def test_two_bodies_differ_as_documented_and_in_nothing_else(one: str, other: str) -> None:
    differing = set(found_under(one).items()) ^ set(found_under(other).items())
    documented = set(expected_under(one).items()) ^ set(expected_under(other).items())
    assert differing == documented
    if {one, other} != {"abyc-e11", "iso-13297"}:
        assert len({rule for (rule, _), _ in differing}) > 1


# One wire in each: what it may carry, and the largest device over it.


@pytest.mark.parametrize(
    ("code", "wire", "carries", "device"),
    [
        ("nec-2023", "bank-run", 110, 110),  # 50 mm² as 1 AWG, on terminals of 60 °C
        ("nec-2023", "inverter-run", 190, 200),  # 2 × 95 A, the next standard size over each
        ("nec-2023", "cooler-run", 20, 20),  # 4 mm² as 12 AWG, which is held to 20 A
        ("abyc-e11", "bank-run", 245, 250),  # 1 AWG; the next size is within 150 %
        ("abyc-e11", "cooler-run", 45, 50),  # 12 AWG
        ("iec", "bank-run", 198, 198),  # method B1, never above
        ("iec", "inverter-run", 262.4, 262.4),  # 2 × 164 A × 0.80 for two circuits together
        ("as-nzs-3001", "bank-run", 198, 198),  # the same table stands in
        ("as-nzs-3001", "cooler-run", 42, 42),
        ("iso-13297", "bank-run", 270, 270),
        ("iso-13297", "cooler-run", 45, 45),  # as ABYC's, without the next size
    ],
)
def test_the_same_wire(code: str, wire: str, carries: float, device: float) -> None:
    carrying = study_under(code).wires[wire].carrying
    assert isinstance(carrying, Carrying)
    assert carrying.value.number == pytest.approx(carries)
    assert carrying.device_limit.number == pytest.approx(device)


@pytest.mark.parametrize("code", BODIES)
def test_figures_of_physics_alone_are_the_same_under_each(code: str) -> None:
    one, other = study_under(code), study_under("nec-2023")
    assert one.arrays[0].voc("coldest").number == other.arrays[0].voc("coldest").number
    drops = [[path.drop.number for path in s.paths if path.drop] for s in (one, other)]
    assert drops[0] == drops[1]


def test_a_table_that_stands_in_is_an_assumption() -> None:
    for code in BODIES:
        said = [noted.key for noted in study_under(code).noted]
        assert ("tables of capacity" in said) == (code == "as-nzs-3001")


# What sets bodies apart is data.


@pytest.mark.parametrize(
    "path", sorted(Path(wattproof_rules.__path__[0]).rglob("*.py")), ids=lambda path: path.stem
)
def test_no_rule_asks_which_body_it_is(path: Path) -> None:
    """An id stands in a rule only as a key of its basis, and in its examples."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assigned = [node for node in tree.body if isinstance(node, ast.Assign)]
    basis = [node.value for node in assigned if ast.unparse(node.targets[0]) == "BASIS"]
    keys = {id(key) for value in basis if isinstance(value, ast.Dict) for key in value.keys}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and node.value in BODIES:
            assert id(node) in keys, f"line {node.lineno}"
        if isinstance(node, ast.Attribute) and node.attr == "id":
            assert not (isinstance(node.value, ast.Attribute) and node.value.attr == "code")
