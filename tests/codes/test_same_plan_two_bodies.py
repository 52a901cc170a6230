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
from codes.same_plan import BODIES, CAMPER, EXPECTED
from found import found_alone
from wattproof.codes import known
from wattproof.packs import discover
from wattproof.study import Study
from wattproof.study.wiring.wires import Carrying
from wattproof.testing import study_of


@cache
def study_under(code: str) -> Study:
    return study_of(CAMPER.replace("code: nec-2023", f"code: {code}"))


@cache
def found_under(code: str) -> dict[tuple[str, str], str]:
    """The level of each finding, by its rule and what it speaks of first."""
    text = CAMPER.replace("code: nec-2023", f"code: {code}")
    result = found_alone("plan.yaml", text, discover())
    found = {(f.rule, f.subjects[0]): f.level for f in result.each}
    assert len(found) == len(result.each)
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
    carrying = study_under(code).wiring.wires[wire].carrying
    assert isinstance(carrying, Carrying)
    assert carrying.value.number == pytest.approx(carries)
    assert carrying.device_limit.number == pytest.approx(device)


@pytest.mark.parametrize("code", BODIES)
def test_figures_of_physics_alone_are_the_same_under_each(code: str) -> None:
    one, other = study_under(code), study_under("nec-2023")
    assert one.array.arrays[0].voc("coldest").number == other.array.arrays[0].voc("coldest").number
    drops = [[path.drop.number for path in s.wiring.paths if path.drop] for s in (one, other)]
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
