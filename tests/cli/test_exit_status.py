"""One meaning of each exit status, whatever the command: 0, 1, 2, 3, and 130 where it was stopped.

0: done, and nothing found that counts. 1: done, and something was found. 2: a plan, its settings
or the call cannot be used. 3: a rule or a pack failed, or the program itself. 130: stopped by
control-C (128 and the number of the signal, common practice of shells).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

import pytest

from cli.calls import FAULTY, SOUND, UNUSABLE, folder
from wattproof.cli import main as program
from wattproof.cli.app import COMMANDS
from wattproof.packs import PackFailure, RuleSet, discover

RULES = discover()
OPEN = SOUND.replace("series: 3", "arrangement: open, count: 3")
JUDGED = ("check", "report", "index", "compare")
"""What ends with 1 where findings count."""
RUNS_RULES = (*JUDGED, "layouts", "questions", "choose", "mend", "diagram")
"""What says so where a rule or a pack failed; as do those that list rules and settings."""
OF_A_PLAN: dict[str, list[str]] = {
    "check": ["{}.yaml"],
    "layouts": ["{}.yaml"],
    "questions": ["{}.yaml"],
    "choose": ["{}.yaml"],
    "mend": ["{}.yaml"],
    "expect": ["{}.yaml"],
    "report": ["{}.yaml", "-o", "{}.html"],
    "index": ["all-{}", "-o", "site-{}"],
    "compare": ["sound.yaml", "{}.yaml"],
    "diagram": ["{}.yaml", "-o", "{}.svg"],
    "schedule": ["{}.yaml"],
    "figures": ["{}.yaml"],
    "curve": ["{}.yaml"],
    "settings": ["{}.yaml"],
}
"""Commands that end by themselves, and how they name a plan."""
OTHERS = ("new", "watch", "basis", "rules", "schema", "language-server")


@pytest.fixture(autouse=True)
def plans(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    texts = {"sound": SOUND, "faulty": FAULTY, "unusable": UNUSABLE, "open": OPEN}
    folder(tmp_path, **texts, **{f"all-{name}__plan": text for name, text in texts.items()})
    (tmp_path / "all-missing").mkdir()
    monkeypatch.chdir(tmp_path)


def status(command: str, plan: str, *more: str) -> int:
    return program.run([command, *(each.format(plan) for each in OF_A_PLAN[command]), *more])


def test_every_command_is_here() -> None:
    assert {*OF_A_PLAN, *OTHERS} == set(COMMANDS)


@pytest.mark.parametrize("command", OF_A_PLAN)
def test_0_where_nothing_is_found(command: str) -> None:
    plan = "open" if command == "layouts" else "sound"
    assert status(command, plan) == 0


@pytest.mark.parametrize("command", OF_A_PLAN)
def test_1_where_something_is_found_and_the_command_judges(command: str) -> None:
    if command in JUDGED:
        assert status(command, "faulty") == 1
        assert status(command, "faulty", "--level", "error") == 1
        accepted = {"check": ["--baseline", "known.json"]}.get(command)
        if accepted:
            assert status(command, "faulty", "--write-baseline", "known.json") == 1
            assert status(command, "faulty", *accepted) == 0
    elif command not in ("layouts", "choose", "mend"):
        assert status(command, "faulty") == 0


@pytest.mark.parametrize("command", OF_A_PLAN)
@pytest.mark.parametrize("plan", ["unusable", "missing"])
def test_2_where_a_plan_cannot_be_used(command: str, plan: str) -> None:
    if command == "settings":
        pytest.skip("reads no plan, only what is set for one of its name")
    assert status(command, plan) == 2


@pytest.mark.parametrize("command", OF_A_PLAN)
def test_2_where_settings_cannot_be_used(command: str, tmp_path: Path) -> None:
    (tmp_path / "wattproof-settings.yaml").write_text("wattproof-settings: 9\n", encoding="utf-8")
    reads_none = ("expect", "schedule", "figures", "curve")
    plan = "open" if command == "layouts" else "sound"
    assert status(command, plan) == (0 if command in reads_none else 2)


@pytest.mark.parametrize("command", COMMANDS)
def test_2_where_the_call_cannot_be_followed(command: str) -> None:
    assert program.run([command, "--no-such-option"]) == 2
    if command not in ("new", "rules", "settings", "schema", "language-server"):
        assert program.run([command]) == 2


@pytest.mark.parametrize(
    "call",
    [
        [],
        ["no-such-command"],
        ["basis", "no-such-rule"],
        ["rules", "--part", "no-such-part"],
        ["schema", "--of", "no-such-kind"],
        ["new", "sound.yaml"],
        ["new", "--pack", "1"],
        ["watch", "missing.yaml"],
    ],
)
def test_2_of_the_others(call: list[str]) -> None:
    assert program.run(call) == 2


@pytest.mark.parametrize("call", [["basis", "voltage-drop-high"], ["rules"], ["schema"], ["-V"]])
def test_0_of_the_others(call: list[str]) -> None:
    assert program.run(call) == 0


@pytest.mark.parametrize("command", [*RUNS_RULES, "settings", "rules"])
@pytest.mark.parametrize("plan", ["open", "faulty"])
def test_3_where_a_pack_failed_even_where_something_is_found(
    command: str, plan: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    if (command, plan) == ("layouts", "faulty"):
        pytest.skip("it leaves no layout open")
    failed = RuleSet(RULES.rules, (PackFailure("ill", "ill_pack", "it raised"),))
    monkeypatch.setattr("wattproof.cli.packs.discover", lambda: failed)
    assert (program.run(["rules"]) if command == "rules" else status(command, plan)) == 3


def raising(error: BaseException) -> Callable[..., NoReturn]:
    def raises(*_: object, **__: object) -> NoReturn:
        raise error

    return raises


@pytest.mark.parametrize("command", OF_A_PLAN)
@pytest.mark.parametrize(
    ("error", "expected"), [(ZeroDivisionError(), 3), (KeyboardInterrupt(), 130)]
)
def test_3_where_the_program_fails_and_130_where_it_is_stopped(
    command: str, error: BaseException, expected: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    if command == "settings":
        pytest.skip("reads no plan")
    monkeypatch.setattr("wattproof.plan.read.parse_past", raising(error))
    assert status(command, "sound") == expected
