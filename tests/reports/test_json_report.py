"""The report for programs: its schema, SI values, and what it must hold at least."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from found import found_in_file
from plans import EXAMPLES
from reports.report_rules import FAILING, PLAN, result_of, run_of, sound_result
from wattproof.plan.amend import Addition, Change
from wattproof.reports.figures import json as figures_json
from wattproof.reports.findings import json_report, junit, sarif
from wattproof.reports.writing.json_values import change, dumped, number, unit, value
from wattproof.source import Place, Problem
from wattproof.testing import study_of
from wattproof.views.figures import figures_of
from wattproof.working import Value

SCHEMAS = Path(__file__).parents[2] / "schemas"


def _validator(name: str) -> jsonschema.Draft202012Validator:
    schema = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


REPORT = _validator("report.schema.json")
FIGURES = _validator("figures.schema.json")

RESULTS = {
    "faulty": result_of(),
    "failed": result_of(rules=FAILING),
    "unusable": result_of("wattproof: 1\nfuses: 3"),
    "sound": sound_result(),
}


@pytest.mark.parametrize("name", RESULTS)
def test_report_follows_its_schema(name: str) -> None:
    REPORT.validate(json.loads(json_report.render(run_of(RESULTS[name]))))


@pytest.mark.parametrize("path", sorted((EXAMPLES / "faulty").glob("*.yaml")), ids=lambda p: p.stem)
def test_reports_with_remedies_that_were_tried_follow_it_too(path: Path) -> None:
    result = found_in_file(path)
    document = json.loads(json_report.render(run_of(result)))
    REPORT.validate(document)
    [plan] = document["plans"]
    told = [change for f in plan["findings"] for t in f["trials"] for change in t["changes"]]
    assert any("key" in change for change in told)
    assert all(set(story["clears"]) <= set(story["findings"]) for story in plan["stories"])


def test_a_change_an_omission_and_an_addition_as_data() -> None:
    assert change(Change("main", "rating", "30 A")) == {
        "component": "main",
        "key": "rating",
        "value": "30 A",
    }
    assert change(Change("port", "blocking_diode", ""))["value"] is None
    fuse = Addition("fuses", "new", (("rating", "15 A"),), "lead", "to", "5 cm")
    assert change(fuse) == {
        "adds": "fuses",
        "component": "new",
        "values": {"rating": "15 A"},
        "wire": "lead",
        "from_end": "to",
        "distance": "5 cm",
    }
    defined = REPORT.schema["$defs"]  # type: ignore[index]
    jsonschema.validate(change(fuse), defined["addition"])
    jsonschema.validate(change(fuse._replace(from_end="", distance="")), defined["addition"])


def test_reports_of_several_plans_and_of_none_follow_it_too() -> None:
    REPORT.validate(json_report.document(list(RESULTS.values()), 3))
    REPORT.validate(json_report.document([], 0))


def test_the_schema_is_closed_and_describes_every_key() -> None:
    def walk(node: Any, path: str) -> None:
        if isinstance(node, list):
            for each in node:
                walk(each, path)
        elif isinstance(node, dict):
            for key, child in node.get("properties", {}).items():
                assert "description" in child or "$ref" in child, f"{path}/{key}"
            if "properties" in node:
                assert node["additionalProperties"] is False, path
                assert set(node["required"]) == set(node["properties"]), path
            for key, child in node.items():
                walk(child, f"{path}/{key}")

    walk(REPORT.schema, "report")
    walk(FIGURES.schema, "figures")
    walk(_validator("effective.schema.json").schema, "effective settings")
    walk(_validator("rules.schema.json").schema, "rules")
    walk(_validator("comparison.schema.json").schema, "comparison")
    walk(_validator("index.schema.json").schema, "index")


def test_a_finding_holds_its_whole_proof() -> None:
    [plan] = json_report.document([result_of()], 1)["plans"]
    found = plan["findings"][0]
    assert found["rule"] == "wire-over-limit"
    assert (found["level"], found["hazard"], found["verdict"]) == ("error", "fire", "certain")
    assert (found["file"], found["line"], found["column"]) == ("faulty.yaml", 27, 3)
    assert found["subjects"] == ["home-run", "roof-joint"]
    assert found["caution"] == {"signal": "DANGER", "text": "It can set fire to what is around it."}
    assert found["basis"] == ["Clause 7.1 (2023; from memory): a number stays in its limit"]
    assert found["margin"] == pytest.approx(-0.275)
    assert [s["symbol"] for s in found["working"]][-1] == "Imax"
    inputs = [i["origin"]["kind"] for s in found["working"] for i in s["inputs"]]
    assert set(inputs) == {"plan", "source"}
    assert found["acceptance"] is None


def test_accepted_findings_stay_with_reason_and_date() -> None:
    [plan] = json_report.document([result_of()], 1)["plans"]
    [accepted] = [f["acceptance"] for f in plan["findings"] if f["acceptance"]]
    assert accepted["reason"] == "winter use only; the loss is known"
    assert accepted["until"] == "2099-12-31"


def test_assumptions_name_the_rules_that_they_touch() -> None:
    [plan] = json_report.document([result_of()], 1)["plans"]
    touched = {a["key"]: a["rules"] for a in plan["assumptions"]}
    assert touched["coldest temperature"] == ["array-over-input"]


def test_a_failed_rule_and_an_unusable_plan_are_marked() -> None:
    failed, unusable = json_report.document([RESULTS["failed"], RESULTS["unusable"]], 3)["plans"]
    assert failed["failed"]
    assert failed["rules_ran"] == ["wire-over-limit"]
    assert failed["rules_planned"] == ["always-fails", "wire-over-limit"]
    assert not unusable["failed"]
    assert unusable["problems"][0]["line"] == 1


@pytest.mark.parametrize(
    ("internal", "shown"), [("%", "1"), ("", "1"), ("V", "V"), ("°C", "°C"), ("m²", "m²")]
)
def test_units_are_si(internal: str, shown: str) -> None:
    assert unit(internal) == shown


def test_shares_are_plain_numbers_and_infinity_is_null() -> None:
    assert value(Value(0.03, "%", "x", "x"))["value"] == 0.03
    assert number(math.inf) is None
    assert number(math.nan) is None
    assert number(0.1 + 0.2) == 0.3
    json.loads(dumped({"x": number(-math.inf)}), parse_constant=lambda c: pytest.fail(c))


def test_half_characters_do_not_break_the_document() -> None:
    place = Place("x\ud800.yaml", 1, 1, 1, 1)
    text = figures_json.render(place.file, (), [Problem(place, "bad \udfff")])
    assert json.loads(text.encode("utf-8"))["file"] == "x\ufffd.yaml"


def test_figures_follow_their_schema() -> None:
    study = study_of(PLAN)
    document = json.loads(figures_json.render("faulty.yaml", figures_of(study)))
    FIGURES.validate(document)
    [cold] = [
        f
        for f in document["figures"]
        if (f["subject"], f["state"], f["quantity"]) == ("port", "coldest", "open-circuit voltage")
    ]
    assert cold["unit"] == "V"
    assert cold["certainty"] == "assumed"
    assert cold["value"] == pytest.approx(3 * 24.6 * (1 + 0.0029 * 45), rel=0.01)
    assert cold["working"]


def test_a_problem_that_hurts_people_tells_its_hazard_and_a_slip_of_the_file_none() -> None:
    """A battery with a wire from pole to pole; then a section that is a number."""
    shorted = """\
wattproof: 1
title: A battery with a wire across it
setting: cabin
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
loads:
  lamp: {current: 2 A}
datasheets:
  cables:
    thick: {size: 35 mm²}
wires:
  across: {from: house.positive, to: house.negative, cable: thick, length: 1 m}
  lamp-run: {from: house, to: lamp, cable: thick, length: 1 m}
"""
    result = result_of(shorted)
    run = run_of(result)
    document = json.loads(json_report.render(run))
    REPORT.validate(document)
    assert document["plans"][0]["problems"][0]["hazard"] == "fire"
    assert 'type="fire"' in junit.render(run)
    [log] = json.loads(sarif.render(run))["runs"]
    told = log["invocations"][0]["toolExecutionNotifications"][0]
    assert told["properties"] == {"hazard": "fire"}
    slip = json.loads(json_report.render(run_of(RESULTS["unusable"])))
    assert slip["plans"][0]["problems"][0]["hazard"] == ""


def test_unusable_plans_have_problems_and_no_figures() -> None:
    problem = Problem(Place("a.yaml", 2, 3, 2, 5), "wrong", "write it right")
    document = json.loads(figures_json.render("a.yaml", (), [problem]))
    FIGURES.validate(document)
    assert document["figures"] == []
    assert document["problems"][0]["end_column"] == 5
