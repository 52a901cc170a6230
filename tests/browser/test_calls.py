"""What a page calls, without a browser: what is refused, and that it is what the commands do."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from browser.desk import example
from wattproof.browser.calls import answered
from wattproof.browser.desk import Desk

FAULTY = "examples/faulty/van-cold-morning.yaml"
NEEDED = {"setting": "cabin", "modules": "4", "controller": "pwm", "battery": "gel"}


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.chdir(tmp_path)
    return Desk(str(tmp_path / "desk"))


def ask(desk: Desk, call: str, files: dict[str, str], plan: str, *arguments: Any) -> Any:
    given = {"files": files, "plan": plan, "with": list(arguments)}
    return json.loads(answered(call, json.dumps(given), desk))


def begin(desk: Desk, told: dict[str, str]) -> Any:
    return json.loads(answered("begin", json.dumps({"with": [told]}), desk))["is"]


@pytest.mark.parametrize(
    "name", ["", "/etc/x", "../x", "a/../../x", "a//b", "./a", "a\x00b", "a/"], ids=repr
)
def test_a_name_that_leads_elsewhere_is_refused(desk: Desk, name: str) -> None:
    assert "no name for a file" in ask(desk, "check", {name: "wattproof: 1\n"}, name)["refused"]


def test_too_much_is_refused_before_anything_is_laid(desk: Desk, tmp_path: Path) -> None:
    many = {f"{number}.yaml": "" for number in range(100)}
    assert "100 files" in ask(desk, "check", many, "0.yaml")["refused"]
    large = {"plan.yaml": "#" * 1_000_001}
    assert "larger" in ask(desk, "check", large, "plan.yaml")["refused"]
    assert "no file" in ask(desk, "check", {"a.yaml": ""}, "b.yaml")["refused"]
    assert not (tmp_path / "desk").exists()


def test_half_characters_come_through(desk: Desk) -> None:
    found = ask(desk, "check", {"plan.yaml": "wattproof: 1\ntitle: \ud83d\n"}, "plan.yaml")["is"]
    assert found["verdict"]["signal"] == "CANNOT BE CHECKED"


def test_files_of_a_plan_before_are_gone(desk: Desk) -> None:
    plan = "wattproof: 1\nsetting: boat\nparts: labels.yaml\n"
    files = {"plan.yaml": plan, "labels.yaml": "wattproof: 1\n"}
    with_parts = ask(desk, "check", files, "plan.yaml")["is"]["problems"]
    without = ask(desk, "check", {"plan.yaml": plan}, "plan.yaml")["is"]["problems"]
    assert not any("cannot be read" in each["message"] for each in with_parts)
    assert any("cannot be read" in each["message"] for each in without)


def test_settings_that_are_opened_with_a_plan_hold(desk: Desk) -> None:
    text = example(FAULTY)[FAULTY]
    found = ask(desk, "check", {"plan.yaml": text}, "plan.yaml")["is"]["findings"]
    rule = found[0]["rule"]
    off = f"settings: 1\nrules:\n  {rule}: {{off: true, reason: told to}}\n"
    files = {"plan.yaml": text, "wattproof-settings.yaml": off}
    made = ask(desk, "check", files, "plan.yaml")
    said = json.dumps(made)
    assert rule not in [each["rule"] for each in made["is"]["findings"]], said


def test_questions_are_those_of_the_terminal_and_mistakes_stand_at_theirs(desk: Desk) -> None:
    assert begin(desk, {})["missing"] == ["setting", "modules", "controller", "battery"]
    made = begin(desk, {**NEEDED, "voc": "20 A", "imp": "open"})
    assert set(made["mistakes"]) == {"voc", "imp"}
    assert made["text"] == ""
    contradicting = begin(desk, {**NEEDED, "voc": "20 V", "vmp": "22 V"})
    assert "contradicts" in contradicting["mistakes"]["voc"]
    several = begin(desk, {**NEEDED, "controllers": "2", "length": "5 m"})
    assert several["idle"] == ["length"]
    assert "controller-2" in several["text"]
    assert "modules" in begin(desk, {**NEEDED, "modules": "400"})["mistakes"]


def test_a_layout_may_be_taken_only_where_none_is_chosen(desk: Desk) -> None:
    text = begin(desk, {**NEEDED, "voc": "22 V", "isc": "6 A"})["text"]
    told = ask(desk, "layouts", {"plan.yaml": text}, "plan.yaml")["is"]
    assert told["open"]
    assert {"2s2p", "4p"} <= {each["name"] for each in told["each"]}
    chosen = ask(desk, "layouts", {"plan.yaml": example(FAULTY)[FAULTY]}, "plan.yaml")["is"]
    assert not chosen["open"]


def test_a_number_of_no_finding_is_refused(desk: Desk) -> None:
    files = {"plan.yaml": example(FAULTY)[FAULTY]}
    assert "check it again" in ask(desk, "mend", files, "plan.yaml", [99])["refused"]


def test_a_difference_is_of_the_text_that_comes(desk: Desk) -> None:
    files = {"plan.yaml": example(FAULTY)[FAULTY]}
    made = ask(desk, "mend", files, "plan.yaml", [])["is"]
    gone = [line[1:] for line in made["difference"].splitlines() if line.startswith("-")]
    assert made["told"]
    assert all(line in files["plan.yaml"] for line in gone if not line.startswith("--"))
    again = ask(desk, "mend", {"plan.yaml": made["text"]}, "plan.yaml", [])["is"]
    assert again["text"] == made["text"]
    assert again["nothing"]
