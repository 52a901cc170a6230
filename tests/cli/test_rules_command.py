"""wattproof rules and wattproof basis, narrowed to what is asked for."""

from __future__ import annotations

import json
import re
from typing import Any

import jsonschema
import pytest

from amounts import LONG
from cli.calls import ROOT, call
from wattproof.cli import main as program
from wattproof.cli.choices import HazardName, PartName, Threshold
from wattproof.codes import known
from wattproof.finding import HAZARDS, LEVELS
from wattproof.packs import discover
from wattproof.rule import PARTS

RULES = discover().rules
SCHEMA = json.loads((ROOT / "schemas" / "rules.schema.json").read_text(encoding="utf-8"))


def listed(capfd: pytest.CaptureFixture[str], *arguments: str) -> list[dict[str, Any]]:
    assert program.run(["rules", *arguments, "--format", "json"]) == 0
    document = json.loads(capfd.readouterr().out)
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    rules: list[dict[str, Any]] = document["rules"]
    return rules


def test_the_choices_are_those_of_rules() -> None:
    assert tuple(PartName) == PARTS
    assert tuple(HazardName) == HAZARDS
    assert tuple(Threshold) == LEVELS


def test_all_are_listed_for_programs(capfd: pytest.CaptureFixture[str]) -> None:
    found = listed(capfd)
    assert [r["rule"] for r in found] == sorted(RULES)
    for each in found:
        rule = RULES[each["rule"]]
        assert each["explanation"] == rule.explanation
        assert {b["code"]: b["says"] for b in each["basis"]} == {
            code: clause.says for code, clause in rule.basis.items()
        }
        assert bool(each["options"]) is (rule.options is not None)


@pytest.mark.parametrize("word", PARTS)
def test_by_part(capfd: pytest.CaptureFixture[str], word: str) -> None:
    found = {r["rule"] for r in listed(capfd, "--part", word)}
    assert found == {r.id for r in RULES.values() if r.part == word}


@pytest.mark.parametrize("word", HAZARDS)
def test_by_hazard(capfd: pytest.CaptureFixture[str], word: str) -> None:
    found = {r["rule"] for r in listed(capfd, "--hazard", word)}
    assert found == {r.id for r in RULES.values() if r.hazard == word}


@pytest.mark.parametrize("word", LEVELS)
def test_by_level(capfd: pytest.CaptureFixture[str], word: str) -> None:
    found = {r["rule"] for r in listed(capfd, "--level", word)}
    assert found == {r.id for r in RULES.values() if r.level == word}


@pytest.mark.parametrize("word", known())
def test_by_body_of_rules(capfd: pytest.CaptureFixture[str], word: str) -> None:
    found = {r["rule"] for r in listed(capfd, "--code", word)}
    assert found == {r.id for r in RULES.values() if word in r.basis}
    assert found


def test_one_option_twice_widens_and_another_narrows(capfd: pytest.CaptureFixture[str]) -> None:
    either = listed(capfd, "--part", "switch", "--part", "battery")
    assert {r["part"] for r in either} == {"switch", "battery"}
    both = listed(
        capfd, "--part", "switch", "--part", "battery", "--hazard", "fire", "--level", "error"
    )
    assert both == [r for r in either if (r["hazard"], r["level"]) == ("fire", "error")]
    assert 0 < len(both) < len(either)


def test_the_list_for_people_counts_what_it_leaves_out() -> None:
    shown = call("rules", "--part", "bonding").stdout.decode()
    names = re.findall(r"^  ([a-z].*)$", shown, flags=re.MULTILINE)
    assert names == sorted(r.id for r in RULES.values() if r.part == "bonding")
    assert shown.splitlines()[-1].startswith(f"{len(names)} of {len(RULES)} rules. ")
    assert f"\n{len(RULES)} rules. " in call("rules").stdout.decode()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["rules", "--part", "strings"], "'strings' is not one of 'module', 'string'"),
        (["rules", "--hazard", "noise"], "'noise' is not one of 'fire', 'shock'"),
        (["rules", "--level", "loud"], "'loud' is not one of 'error', 'warning', 'note'"),
        (["rules", "--code", "nec"], "did you mean `nec-2023`?"),
        (["rules", "--code", "xyzzy"], "there are abyc-e11, as-nzs-3001"),
        (["basis", "string-fuse-missing", "--code", "icc"], "no body of rules `icc`"),
        (["basis", "rule-failed", "--code", "icc"], "no body of rules `icc`"),
        (["basis", "string-fuse-mising", "--code", "iec"], "did you mean `string-fuse-missing`?"),
    ],
)
def test_what_does_not_exist_is_told(arguments: list[str], said: str) -> None:
    done = call(*arguments)
    assert done.returncode == 2
    assert said in " ".join(done.stderr.decode().split())


@pytest.mark.parametrize(("place", "code"), list(enumerate(known())))
def test_basis_of_one_body_of_rules_and_no_other(
    capfd: pytest.CaptureFixture[str], place: int, code: str
) -> None:
    """Every rule under one of the bodies, and in the long run under each."""
    rules = list(RULES.values())
    for rule in rules if LONG else rules[place :: len(known())]:
        assert program.run(["basis", rule.id, "--code", code]) == 0
        page = capfd.readouterr().out
        told = page[page.index("Basis\n") : page.index("A plan without this finding")]
        codes = set(re.findall(r"^  \* ([a-z0-9 -]+):", told[: told.find("Options")], re.MULTILINE))
        assert codes <= {code, "common practice"}
        assert (f"  * {code}: " in told[: told.find("\n\n")]) is (code in rule.basis), rule.id
        assert ("  * common practice: " in told) is ("common practice" in rule.basis)
