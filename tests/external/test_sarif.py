"""SARIF output against the schema of the OASIS standard and what the standard says beside it."""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from reports.report_rules import FAILING, PLAN, RULES, result_of, sound_result
from wattproof.engine import OWN_FINDINGS, Result, check_file
from wattproof.fixes import fixes_of
from wattproof.packs import PackFailure, RuleSet, discover
from wattproof.reports.findings import sarif
from wattproof.reports.findings.run import Run
from wattproof.reports.writing.json_values import dumped
from wattproof.testing import A_DAY

FILE = Path(__file__).parent / "sarif-schema-2.1.0.json"
DIGEST = "2d99159ae54a3eea97f81781cff48780548657c35949f4b7f25e99a2ba4de4f8"
SCHEMA = jsonschema.Draft4Validator(json.loads(FILE.read_text(encoding="utf-8")))

PACK_FAILED = RuleSet(RULES.rules, (PackFailure("other", "other.rules", "ImportError: no"),))
CASES: dict[str, tuple[list[Result], RuleSet, int]] = {
    "faulty": ([result_of()], RULES, 1),
    "failed": ([result_of(rules=FAILING)], FAILING, 3),
    "pack": ([result_of(rules=PACK_FAILED)], PACK_FAILED, 3),
    "unusable": ([result_of("wattproof: 1\nfuses: 3")], RULES, 2),
    "sound": ([sound_result()], RULES, 0),
    "several": ([sound_result(), result_of(), result_of("x", file="b/c d.yaml")], RULES, 2),
    "none": ([], RULES, 0),
    "all rules": ([], discover(), 0),
}


def _as_run(results: list[Result], rules: RuleSet, status: int) -> Run:
    return Run(results, status, rules)


def _run(name: str) -> dict[str, Any]:
    run: dict[str, Any] = sarif.document(*CASES[name])["runs"][0]
    return run


def test_the_schema_is_the_one_whose_source_is_named() -> None:
    assert hashlib.sha256(FILE.read_bytes()).hexdigest() == DIGEST


@pytest.mark.parametrize("name", CASES)
def test_log_is_valid(name: str) -> None:
    SCHEMA.validate(json.loads(sarif.render(_as_run(*CASES[name]))))


@pytest.mark.parametrize("name", CASES)
def test_rules_are_described_and_indexed(name: str) -> None:
    run = _run(name)
    rules = run["tool"]["driver"]["rules"]
    assert {r["id"] for r in rules} >= set(CASES[name][1].rules)
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
    for rule in rules:
        assert rule["help"]["text"]
        assert rule["shortDescription"]["text"]


@pytest.mark.parametrize("name", CASES)
def test_every_result_has_a_place_and_says_whether_it_is_accepted(name: str) -> None:
    for result in _run(name)["results"]:
        [location] = result["locations"]
        region = location["physicalLocation"]["region"]
        assert region["startLine"] >= 1
        assert region["startColumn"] >= 1
        assert (region["endLine"], region["endColumn"]) >= (
            region["startLine"],
            region["startColumn"],
        )
        assert result["level"] in ("error", "warning", "note")
        assert "suppressions" in result
    assert _run(name)["columnKind"] == "unicodeCodePoints"


def test_regions_cover_the_name_of_the_component() -> None:
    region = _run("faulty")["results"][0]["locations"][0]["physicalLocation"]["region"]
    line = PLAN.splitlines()[region["startLine"] - 1]
    assert line[region["startColumn"] - 1 : region["endColumn"] - 1] == "home-run"


@pytest.mark.parametrize(
    ("name", "successful"), [("faulty", True), ("failed", False), ("pack", False), ("sound", True)]
)
def test_invocation_says_whether_all_ran(name: str, successful: bool) -> None:
    [invocation] = _run(name)["invocations"]
    assert invocation["executionSuccessful"] is successful
    assert invocation["exitCode"] == CASES[name][2]


def test_an_unusable_plan_is_a_notification_with_its_place() -> None:
    [invocation] = _run("unusable")["invocations"]
    assert not invocation["executionSuccessful"]
    assert invocation["toolExecutionNotifications"]
    for note in invocation["toolExecutionNotifications"]:
        assert note["level"] == "error"
        assert note["locations"][0]["physicalLocation"]["region"]["startLine"] >= 1


def test_an_acceptance_is_a_suppression_with_its_reason() -> None:
    found = [s for r in _run("faulty")["results"] for s in r["suppressions"]]
    [suppression] = found
    assert suppression["kind"] == "external"
    assert suppression["status"] == "accepted"
    assert suppression["justification"].startswith("winter use only")
    assert "2099-12-31" in suppression["justification"]


def _prints(text: str) -> list[str]:
    [run] = sarif.document([result_of(text)], RULES, 1)["runs"]
    return [r["partialFingerprints"][sarif.FINGERPRINT] for r in run["results"]]


def test_fingerprints_stay_when_lines_and_numbers_change() -> None:
    moved = PLAN.replace("code: nec-2023", "\n\n# moved\ncode: nec-2023").replace("10.2 A", "11 A")
    assert _prints(moved.replace("imp: 9.76 A", "imp: 10 A")) == _prints(PLAN)
    assert len(set(_prints(PLAN))) == len(_prints(PLAN))
    assert _prints(PLAN.replace("home-run", "long-run")) != _prints(PLAN)


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("a/plan.yaml", "a/plan.yaml"),
        ("./a//plan.yaml", "a/plan.yaml"),
        ("a b/ü#%.yaml", "a%20b/%C3%BC%23%25.yaml"),
        ("a:b.yaml", "a%3Ab.yaml"),
        ("x\udcff.yaml", "x%FF.yaml"),
        ("/elsewhere/plan.yaml", "file:///elsewhere/plan.yaml"),
    ],
)
def test_uris(file: str, uri: str) -> None:
    run = sarif.document([result_of("x", file=file)], RULES, 2)["runs"][0]
    SCHEMA.validate(
        json.loads(dumped({"$schema": sarif.SCHEMA, "version": "2.1.0", "runs": [run]}))
    )
    [artifact] = run["artifacts"]
    assert artifact["location"]["uri"] == uri
    assert ("uriBaseId" in artifact["location"]) is not uri.startswith("file:")


def test_files_below_the_folder_are_relative_and_others_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "here"
    inside.mkdir()
    monkeypatch.chdir(inside)
    for file, uri in (
        (str(inside / "plan.yaml"), "plan.yaml"),
        ("../plan.yaml", f"file://{tmp_path}/plan.yaml"),
    ):
        [run] = sarif.document([result_of("x", file=file)], RULES, 2)["runs"]
        assert run["artifacts"][0]["location"]["uri"] == uri


def test_messages_hold_no_placeholder_and_no_link() -> None:
    [run] = sarif.document(*CASES["failed"])["runs"]
    texts = [r["message"]["text"] for r in run["results"]]
    [failed] = [t for t in texts if "always-fails" in t]
    assert "{{thing}}" in failed
    assert not re.search(r"(?<!\\)\[[^\]]*\]\(", failed)


@pytest.mark.parametrize("name", CASES)
def test_rules_lead_to_clauses_of_bodies_of_rules_and_carry_a_severity(name: str) -> None:
    """SARIF 3.19.22 and 3.54: a relationship's target is in the named taxonomy."""
    run = _run(name)
    taxa = {t["name"]: {taxon["id"] for taxon in t["taxa"]} for t in run["taxonomies"]}
    named = {t["name"] for t in run["tool"]["driver"]["supportedTaxonomies"]}
    assert named == set(taxa)
    for rule in run["tool"]["driver"]["rules"]:
        for relation in rule.get("relationships", ()):
            target = relation["target"]
            assert target["id"] in taxa[target["toolComponent"]["name"]]
        if "relationships" in rule:
            assert 0.0 < float(rule["properties"]["security-severity"]) <= 10.0


FAULTY = Path(__file__).parents[2] / "examples" / "faulty" / "van-cold-morning.yaml"


def test_remedies_that_were_tried_are_offered_as_changes_of_the_file() -> None:
    """SARIF 2.1.0, 3.55 fix, 3.56 artifactChange, 3.57 replacement."""
    text = FAULTY.read_text(encoding="utf-8")
    result = check_file(str(FAULTY), discover(), today=A_DAY, text=text)
    log = sarif.document([result], discover(), 1, fixes=fixes_of(result, text))
    SCHEMA.validate(log)
    lines = text.split("\n")
    offered = [fix for found in log["runs"][0]["results"] for fix in found.get("fixes", [])]
    assert len(offered) >= 3
    for fix in offered:
        assert "the installation has to be built so" in fix["description"]["text"]
        [change] = fix["artifactChanges"]
        places = [found["locations"][0]["physicalLocation"] for found in log["runs"][0]["results"]]
        assert change["artifactLocation"] in [place["artifactLocation"] for place in places]
        for replacement in change["replacements"]:
            region = replacement["deletedRegion"]
            assert 1 <= region["startLine"] <= region["endLine"] <= len(lines)
            assert region["endColumn"] <= len(lines[region["endLine"] - 1]) + 1
            assert replacement["insertedContent"]["text"]


def test_rules_lead_to_their_pages_where_these_are_published() -> None:
    """SARIF 2.1.0, 3.49.12 helpUri: an absolute address."""
    address = "https://example.org/wattproof/"
    pack = RuleSet({**RULES.rules, **PACK_FAILED.rules}, PACK_FAILED.failures)
    log = sarif.document([result_of(rules=pack)], pack, 3, documentation=address)
    SCHEMA.validate(log)
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    for rule in rules:
        page = "of-the-program" if rule["id"] in OWN_FINDINGS else rule["id"]
        assert rule["helpUri"] == f"https://example.org/wattproof/generated/rules/{page}.html"
    bare = sarif.document([result_of()], RULES, 1)["runs"][0]["tool"]["driver"]["rules"]
    assert all("helpUri" not in rule for rule in bare)


def test_many_plans_are_one_run() -> None:
    assert len(sarif.document(*CASES["several"])["runs"]) == 1
