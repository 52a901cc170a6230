"""The other commands, and what becomes of a failure of our own."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from pathlib import Path

import pytest

from cli.calls import FAULTY, SOUND, UNUSABLE, call, failing_pack, folder
from wattproof import __version__
from wattproof.cli import main as program
from wattproof.cli.plans import find_plans
from wattproof.engine import OWN_FINDINGS, Result
from wattproof.packs import RuleSet, discover


def test_version() -> None:
    done = call("--version")
    assert (done.returncode, done.stdout.decode()) == (0, f"wattproof {__version__}\n")


def test_help_names_every_command_and_the_deferral() -> None:
    shown = call("--help").stdout.decode()
    for word in ("check", "figures", "basis", "rules", "schema", "licensed electrician"):
        assert word in shown
    assert "Exit status" in call("check", "--help").stdout.decode()


def test_rules_lists_every_rule_by_part() -> None:
    done = call("rules")
    shown = done.stdout.decode()
    for rule in discover().rules.values():
        assert f"  {rule.id}\n" in shown
    assert max(map(len, shown.splitlines())) <= 80


def test_rules_says_which_pack_cannot_be_used(tmp_path: Path) -> None:
    done = call("rules", packs=failing_pack(tmp_path, "def broken(:\n"))
    assert done.returncode == 3
    assert b"`ill_pack.ill_rule` of pack `ill` cannot be used" in done.stderr


def test_basis_tells_everything_about_every_rule(capfd: pytest.CaptureFixture[str]) -> None:
    for rule in discover().rules.values():
        assert program.run(["basis", rule.id]) == 0
        page = capfd.readouterr().out
        shown = " ".join(page.split())
        texts = [rule.id, rule.summary, rule.explanation, rule.faulty.old, rule.faulty.new]
        texts += [clause.says for clause in rule.basis.values()]
        texts += [f"{o.name}, {o.default} unless set" for o in fields(rule.options or _None)]
        if rule.caution is not None:
            texts.append(f"{rule.caution.signal} {rule.caution.text}")
        for text in texts:
            assert " ".join(text.split()) in shown, rule.id
        assert "Ask" in shown or "Whom to ask" in shown
        told = page[: page.index("A plan without this finding")]
        assert max(map(len, told.splitlines())) <= 80


@dataclass
class _None:
    """No options."""


@pytest.mark.parametrize("rule_id", sorted(OWN_FINDINGS))
def test_basis_knows_what_the_engine_itself_finds(rule_id: str) -> None:
    done = call("basis", rule_id)
    assert done.returncode == 0
    assert rule_id in done.stdout.decode()


def test_basis_of_an_unknown_rule_names_the_nearest() -> None:
    done = call("basis", "cold-voltage-over-controler")
    assert done.returncode == 2
    assert b"did you mean `cold-voltage-over-controller`?" in done.stderr


def test_figures_in_both_formats(tmp_path: Path) -> None:
    folder(tmp_path, sound=SOUND, unusable=UNUSABLE)
    shown = call("figures", "sound.yaml", cwd=tmp_path)
    assert shown.returncode == 0
    assert "open-circuit voltage               coldest" in shown.stdout.decode()
    document = json.loads(call("figures", "sound.yaml", "--format", "json", cwd=tmp_path).stdout)
    assert document["file"] == "sound.yaml"
    assert document["figures"][0]["working"] is not None
    for format in ("text", "json"):
        bad = call("figures", "unusable.yaml", "--format", format, cwd=tmp_path)
        assert bad.returncode == 2
        assert b"has no unit" in bad.stdout
    whole = call("figures", "-", "--working", stdin=SOUND.encode())
    assert "standard-input:" in whole.stdout.decode()
    assert call("figures", "sound.yaml", "--name", "x.yaml", cwd=tmp_path).returncode == 2


def test_no_rules_at_all_is_a_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("wattproof.cli.packs.discover", lambda: RuleSet({}))
    folder(tmp_path, sound=SOUND)
    assert program.run(["check", str(tmp_path / "sound.yaml")]) == 3
    assert "no rules are installed" in capfd.readouterr().err


def test_a_fault_of_ours_is_one_line_and_status_3(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object, **__: object) -> str:
        raise ZeroDivisionError("a\nb")

    monkeypatch.setattr("wattproof.reports.findings.brief.render", broken)
    folder(tmp_path, faulty=FAULTY)
    assert program.run(["check", str(tmp_path / "faulty.yaml")]) == 3
    said = capfd.readouterr().err
    assert said.count("\n") == 1
    assert "ZeroDivisionError: a b" in said
    assert "a fault of wattproof, not of your plan" in said


def test_a_fault_in_the_study_of_one_plan_does_not_silence_the_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    from wattproof import loading

    whole = loading.Study

    def sometimes(circuit: object) -> object:
        if circuit.plan.title == "breaks":  # type: ignore[attr-defined]
            raise RecursionError("too deep")
        return whole(circuit)  # type: ignore[arg-type]

    monkeypatch.setattr(loading, "Study", sometimes)
    folder(tmp_path, a=SOUND.replace("setting:", "title: breaks\nsetting:"), b=FAULTY)
    assert program.run(["check", str(tmp_path), "--format", "json"]) == 3
    first, second = json.loads(capfd.readouterr().out)["plans"]
    assert first["failed"]
    assert first["findings"][0]["rule"] == "rule-failed"
    assert second["findings"]


def test_an_interrupt_is_quiet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object, **__: object) -> Result:
        raise KeyboardInterrupt

    monkeypatch.setattr("wattproof.engine.examine", interrupted)
    folder(tmp_path, sound=SOUND)
    assert program.run(["check", str(tmp_path / "sound.yaml")]) == 130
    assert capfd.readouterr().err == ""


def test_a_plan_named_twice_is_checked_once(tmp_path: Path) -> None:
    folder(tmp_path, a=SOUND)
    plan = str(tmp_path / "a.yaml")
    assert find_plans([plan, str(tmp_path), plan], lambda plan: False) == [plan]


@pytest.mark.parametrize(
    ("name", "text", "is_plan"),
    [
        ("a.yaml", "wattproof: 1\nsetting: boat\n", True),
        ("a.yml", "'wattproof': 1\nsetting: boat\n", True),
        ("a.yaml", "{wattproof: 1, setting: boat}\n", True),
        ("a.yaml", "\ufeffwattproof: 1\nstrings: {}\n", True),
        ("a.yaml", "wattproof: 1\ndatasheets: {}\n", False),
        ("a.yaml", "jobs:\n  wattproof: 1\n  setting: x\n", False),
        ("a.yaml", "", False),
        ("a.json", "wattproof: 1\nsetting: boat\n", False),
    ],
)
def test_what_counts_as_a_plan_in_a_folder(
    tmp_path: Path, name: str, text: str, is_plan: bool
) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "z.yaml").write_text(SOUND, encoding="utf-8")
    assert (str(tmp_path / name) in find_plans([str(tmp_path)], lambda plan: False)) is is_plan


def test_a_plan_saved_in_another_encoding_is_not_passed_over(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_bytes("wattproof: 1\nsetting: boat\n".encode("utf-16"))
    done = call("check", str(tmp_path))
    assert done.returncode == 2
    assert b"not UTF-8" in done.stdout
