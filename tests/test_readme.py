"""What the README shows is what a run gives."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

from wattproof.codes import body, known
from wattproof.testing import check_text

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, flags=re.DOTALL)


def test_the_plan_shown_is_sound() -> None:
    [plan] = blocks("yaml")
    assert "2s2p" in plan
    assert [f.message for f in check_text(plan).findings] == []


def test_every_body_of_rules_is_offered_for_a_setting_that_it_fits() -> None:
    table = README.split("### Which `code` to take")[1].split("\n\n")[1]
    words = {"Van": "vehicle", "Vehicle": "vehicle", "Boat": "boat", "Cabin": "cabin"}
    offered = set()
    for where, code in re.findall(r"^\| (\w+)[^|]*\| (`[^|]*`) \|$", table, flags=re.MULTILINE):
        for name in re.findall(r"[a-z]+-[\w-]+|iec", code):
            offered.add(name)
            if "array" not in code:
                assert words[where] in body(name).settings, (where, name)
    assert offered == set(known())


def test_every_link_leads_to_a_file() -> None:
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", README):
        assert (ROOT / target).exists(), target


def test_the_first_command_runs_the_main_job_on_an_example() -> None:
    run, _ = blocks("sh")
    command = run.strip().split(" && ")[-1].split()
    assert command[0].endswith("wattproof")
    done = subprocess.run(
        [sys.executable, "-m", "wattproof", *command[1:]],
        cwd=ROOT,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout.decode() + done.stderr.decode()


def test_the_second_command_is_what_runs_before_landing() -> None:
    _, test = blocks("sh")
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    command = "pytest -n auto --dist worksteal"
    assert f'grep -m1 "^python3 -m venv .*{command}$" README.md' in ci
    assert re.fullmatch(rf"python3 -m venv .*{command}", test.strip())


def test_every_command_is_named_and_no_other() -> None:
    from wattproof.cli.app import build_app

    named = set(re.findall(r"^\| `wattproof ([\w-]+)", README, flags=re.MULTILINE))
    commands = [c.callback for c in build_app().registered_commands if c.callback]
    known = {command.__name__.replace("_", "-") for command in commands}
    assert named == known
