"""Every command that README and pages print is one that the program takes, from the root."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import typer

from wattproof.cli.app import build_app

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]
_BLOCK = re.compile(r"```(?:sh|powershell|console)\n(.*?)```", re.DOTALL)
_SHOWN = re.compile(r"^```\{(?:run|drawing)\} (.*)$", re.MULTILINE)
_IN_TEXT = re.compile(r"`wattproof ([a-z][^`]*)`")
_WORDS = re.compile(r"\b[A-Z]{3,}\b|…|\.\.\.")


def printed(path: Path) -> list[str]:
    """The calls of a page, without the program's name, as a shell would read them."""
    text = path.read_text(encoding="utf-8")
    calls = _SHOWN.findall(text)
    for block in _BLOCK.findall(text):
        for line in block.replace("\\\n", " ").splitlines():
            for part in re.split(r"&&|\|\|", line.partition(" #")[0]):
                called = re.match(r"\s*(?:\S*[/\\])?wattproof (.*)", part.split(">")[0])
                if called:
                    calls.append(called[1])
    return calls


CALLS = [(path.name, call) for path in PAGES for call in printed(path)]
IN_TEXT = [
    (path.name, call)
    for path in PAGES
    for call in _IN_TEXT.findall(path.read_text(encoding="utf-8"))
    if not _WORDS.search(call)
]


def understood(call: str) -> None:
    """Let the program read a call without running it. Raises what it would say."""
    arguments = shlex.split(call.replace("\\", "/"))
    group: Any = typer.main.get_command(build_app())
    context = group.context_class(group, info_name="wattproof", **group.context_settings)
    name, command, rest = group.resolve_command(context, arguments)
    command.make_context(name, rest, parent=context)


@pytest.mark.parametrize(("page", "call"), sorted(set(CALLS)))
def test_a_printed_call_is_one_that_the_program_takes(page: str, call: str) -> None:
    understood(call)
    for word in shlex.split(call.replace("\\", "/")):
        if word.startswith(("examples/", "docs/", "schemas/")):
            assert (ROOT / word).exists(), word


@pytest.mark.parametrize(("page", "call"), sorted(set(IN_TEXT)))
def test_a_call_named_in_the_text_names_a_command_and_options_that_there_are(
    page: str, call: str
) -> None:
    group: Any = typer.main.get_command(build_app())
    words = shlex.split(call.replace("\\", "/"))
    command = group.commands.get(words[0])
    assert command is not None, words[0]
    taken = {name for parameter in command.params for name in parameter.opts}
    for word in words[1:]:
        if word.startswith("-") and word != "-":
            assert word.partition("=")[0] in {*taken, "-h", "--help"}, word


def test_pages_print_enough_to_be_worth_it() -> None:
    assert len(set(CALLS)) > 40
    assert len(set(IN_TEXT)) > 20


@pytest.mark.parametrize(
    "call",
    sorted({call for page, call in CALLS if page in ("README.md", "installing.md", "printing.md")}),
)
def test_the_first_calls_of_a_builder_run_as_printed(call: str, tmp_path: Path) -> None:
    """In a copy, since a report is written beside its plan."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    done = subprocess.run(
        [sys.executable, "-m", "wattproof", *shlex.split(call.replace("\\", "/"))],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == int("faulty" in call), done.stdout + done.stderr
    assert "NOTHING FOUND" in done.stdout or "DO NOT CONNECT" in done.stdout or "bench" in call
