"""Packs of rules that would end, stall or garble a check: told by name, with status 3."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest

from cli.calls import SOUND, call, call_apart, failing_pack, folder
from wattproof.engine import check
from wattproof.guarding import TookTooLong, guarded, guarding, reason
from wattproof.packs import RuleSet
from wattproof.rule import rule
from wattproof.testing import A_DAY, study_of

HEAD = """\
from wattproof.rule import Edit, Observation, practice, rule

META = {
    "summary": "A rule for tests.", "level": "note", "hazard": "fire", "part": "plan",
    "basis": {"common practice": practice("one does so")}, "explanation": "It is only a test.",
    "sound": "", "faulty": Edit("a", "b"),
}


class Own(BaseException):
    pass
"""
RULE = """

@rule(id="ill", **META)
def ill(study):
    {body}
    yield Observation("never", on=(study.plan.setting,))
"""


def checked(
    tmp_path: Path, code: str, *arguments: str, apart: bool = False
) -> tuple[int, str, str]:
    """Status, standard output and error output of a check with a pack of this code.

    apart: in a process of its own, which the code may end or write into.
    """
    packs = failing_pack(tmp_path / "packs", HEAD + code)
    plan = folder(tmp_path, plan=SOUND) / "plan.yaml"
    done = (call_apart if apart else call)("check", str(plan), *arguments, packs=packs)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


RAISED = ["SystemExit", "SystemExit(0)", "GeneratorExit", "Own"]


@pytest.mark.parametrize("raised", RAISED)
@pytest.mark.parametrize("where", ["import", "rule"])
def test_what_ends_a_program_does_not_end_a_check(tmp_path: Path, raised: str, where: str) -> None:
    code = RULE.format(body=f"raise {raised}")
    if where == "import":
        code = f"\nraise {raised}\n"
    status, out, _ = checked(tmp_path, code, "--format", "json", apart=True)
    assert status == 3
    report = json.loads(out)
    [finding] = [f for f in report["plans"][0]["findings"] if f["rule"] == "rule-failed"]
    assert raised.partition("(")[0] in finding["message"]
    assert "ill" in finding["message"]


@pytest.mark.parametrize("form", ["json", "sarif", "text"])
def test_what_a_pack_prints_is_no_part_of_a_report(tmp_path: Path, form: str) -> None:
    code = "\nprint('LOADED')\n" + RULE.format(body="print('RUN'); return")
    status, out, error = checked(tmp_path, code, "--format", form, apart=True)
    assert status == 0
    assert "LOADED" not in out
    assert "RUN" not in out
    assert "LOADED" in error
    if form != "text":
        json.loads(out)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"level": "note"', '"level": "grave"', "'grave' is none of error, warning, note"),
        ('"hazard": "fire"', '"hazard": "noise"', "'noise' is none of fire"),
    ],
)
def test_a_wrong_level_or_hazard_is_refused_when_the_rule_is_made(
    old: str, new: str, words: str
) -> None:
    namespace: dict[str, object] = {}
    with pytest.raises(ValueError, match=words):
        exec((HEAD + RULE.format(body="return")).replace(old, new), namespace)


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("", "it holds no rule"),
        (RULE.format(body="return") + "\nALL = [ill]\ndel ill\n", "does not stand at the top"),
        (RULE.format(body="return") + "\nALL = {1: ill}\ndel ill\n", "does not stand at the top"),
    ],
)
def test_rules_that_are_not_found_are_told(tmp_path: Path, code: str, words: str) -> None:
    status, out, _ = checked(tmp_path, code, "--format", "json")
    assert status == 3
    messages = [f["message"] for f in json.loads(out)["plans"][0]["findings"]]
    assert any(words in message for message in messages), messages


@pytest.mark.parametrize(
    ("yielded", "words"),
    [
        ("Observation(3, on=(wire,))", "the message is int"),
        ("Observation('x', on=())", "names no component"),
        ("Observation('x', on=(wire,), level='grave')", "'grave'"),
        ("Observation('x', on=(wire,), hazard='boredom')", "'boredom'"),
        ("Observation('x', on=(wire,), remedy=4)", "remedy is int"),
        ("'x'", "not an observation"),
    ],
)
@pytest.mark.parametrize("form", ["sarif", "text"])
def test_what_cannot_be_shown_is_the_failure_of_its_rule_in_every_format(
    tmp_path: Path, yielded: str, words: str, form: str
) -> None:
    status, out, _ = checked(
        tmp_path,
        RULE.format(body=f"wire = next(iter(study.plan.wires.values())); yield {yielded}"),
        "--format",
        form,
    )
    assert status == 3
    assert words in " ".join(out.split())


META = {
    "summary": "A rule for tests.",
    "level": "note",
    "hazard": "fire",
    "part": "plan",
    "basis": {},
    "explanation": "It is only a test.",
    "sound": "",
    "faulty": None,
}


def test_a_rule_that_never_comes_back_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """And is not run again for remedies and removable parts."""
    calls = []

    @rule(id="loops", **META)
    def loops(study):  # type: ignore[no-untyped-def]
        calls.append(1)
        while True:
            pass

    monkeypatch.setattr("wattproof.engine.guarding", lambda: guarding(0.2))
    result = check(study_of(SOUND), RuleSet({"loops": loops}), file="p", today=A_DAY).result
    assert result.failed
    assert "`loops`" in result.findings[0].message
    assert "did not come back within 0.2 s" in result.findings[0].message
    assert len(calls) == 1


def test_what_catches_everything_is_stopped_all_the_same() -> None:
    def stubborn() -> None:
        for _ in range(2):
            try:
                while True:
                    pass
            except BaseException:
                pass
        while True:
            pass

    with pytest.raises(TookTooLong), guarded(0.1):
        stubborn()


def test_code_that_waits_for_its_turn_is_not_stopped_before_it_has_computed_as_long() -> None:
    """On a machine that is busy with others a rule of a second took a minute, and was a failure."""
    with guarded(0.1):
        time.sleep(0.3)
    with pytest.raises(TookTooLong), guarded(0.1):
        time.sleep(60.0)


def test_code_that_comes_back_is_left_alone() -> None:
    with guarded(5.0):
        found = sum(range(1000))
    assert found == 499_500


def test_words_of_an_exception_that_fail_too() -> None:
    class Mute(Exception):
        def __str__(self) -> str:
            raise SystemExit

    assert reason(Mute()) == "Mute: without words, SystemExit while they were asked for"
