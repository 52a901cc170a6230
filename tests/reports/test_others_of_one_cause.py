"""Parts of one cause are told as one finding; what each of them needs is told for each."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from found import found_alone
from plans import edited
from rule_runs import RULES
from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.reports.findings.brief import render as brief
from wattproof.reports.findings.glance import remedy_of
from wattproof.reports.findings.text import render as full
from wattproof.source import Place

UNFUSED = edited(
    ("wires:\n", "loads:\n  lamps: {current: 3 A}\n  pump: {current: 9 A}\nwires:\n"),
    (
        "  charge-run:",
        "  lamp-run: {from: house, to: lamps, cable: thin, length: 2 m, place: cabin}\n"
        "  pump-run: {from: house, to: pump, cable: batt-8, length: 3 m, place: cabin}\n"
        "  charge-run:",
    ),
    (
        "    batt-8:",
        "    thin: {size: 16 AWG, kind: battery, insulation_temperature: 105 °C, voltage: 600 V}\n"
        "    batt-8:",
    ),
)
"""Two wires of unlike size lead from one battery without a fuse."""


@pytest.fixture(scope="module")
def result() -> Result:
    return found_alone("plan.yaml", UNFUSED, RULES)


@pytest.fixture
def finding(result: Result) -> Finding:
    (found,) = (f for f in result.findings if f.rule == "battery-fuse-missing")
    return found


def _flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("render", [brief, full])
def test_each_wire_gets_the_fuse_that_fits_it(
    result: Result, finding: Finding, render: Callable[..., str]
) -> None:
    (other,) = finding.alike
    assert other.remedy != finding.remedy
    told = _flat(render([result]))
    assert f"Remedy {finding.remedy}; for `{other.subjects[0]}`: {other.remedy}" in told


def test_the_full_text_tells_where_each_is(result: Result, finding: Finding) -> None:
    (other,) = finding.alike
    assert f"Also {other.place} {other.message}" in _flat(full([result]))


def _one(name: str, remedy: str, *alike: Finding) -> Finding:
    place = Place("plan.yaml", 1, 1, 1, 2)
    return Finding(
        "r", "error", "fire", "wire", "certain", "", place, (name,), remedy=remedy, alike=alike
    )


def test_what_differs_by_names_alone_is_told_once() -> None:
    rest = (_one("b", "use 6 mm² for `b` to `b.pv`"), _one("c", "use 6 mm² for `c` to `c.pv`"))
    assert remedy_of(_one("a", "use 6 mm² for `a` to `a.pv`", *rest)) == (
        "use 6 mm² for `a` to `a.pv`"
    )


def test_those_that_need_the_same_are_named_together_and_the_rest_counted() -> None:
    rest = (
        *(_one(name, "use 4 mm²") for name in ("b", "c")),
        *(_one(f"d{size}", f"use {size} mm²") for size in (10, 16)),
        _one("e", ""),
    )
    finding = _one("a", "use 6 mm²", *rest)
    assert remedy_of(finding) == (
        "use 6 mm²; for `b` and `c`: use 4 mm²; for `d10`: use 10 mm²; for `d16`: use 16 mm²"
    )
    assert remedy_of(finding, 1) == (
        "use 6 mm²; for `b` and `c`: use 4 mm²; and something else for 2 more, as `--full` tells"
    )


def test_what_names_its_own_part_is_told_of_the_first_and_the_same_for_the_others() -> None:
    rest = (_one(name, f"use 70 mm² for `{name}`") for name in ("b", "c", "d"))
    assert remedy_of(_one("a", "use 6 mm² for `a`", *rest)) == (
        "use 6 mm² for `a`; for `b`: use 70 mm² for `b`, and the same for `c` and `d`"
    )
