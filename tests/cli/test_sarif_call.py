"""SARIF as called: fixes of what was read, from a file or standard input, and pages of rules."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from cli.calls import ROOT, SOUND, UNUSABLE, call

FAULTY = (ROOT / "examples" / "faulty" / "van-cold-morning.yaml").read_text(encoding="utf-8")


def run(output: bytes) -> dict[str, Any]:
    [found] = json.loads(output)["runs"]
    assert isinstance(found, dict)
    return found


def test_fixes_are_of_what_was_read(tmp_path: Path) -> None:
    (tmp_path / "van.yaml").write_text("\ufeff" + FAULTY, encoding="utf-8")
    (tmp_path / "unusable.yaml").write_text(UNUSABLE, encoding="utf-8")
    named = run(call("check", ".", "--format", "sarif", cwd=tmp_path).stdout)
    call_ = ("check", "-", "--name", "van.yaml", "--format", "sarif")
    piped = run(call(*call_, stdin=FAULTY.encode(), cwd=tmp_path).stdout)
    fixes = [found.get("fixes") for found in named["results"]]
    assert sum(each is not None for each in fixes) >= 3
    assert json.dumps(fixes) == json.dumps([found.get("fixes") for found in piped["results"]])


def test_what_cannot_be_read_is_told_as_in_every_format(tmp_path: Path) -> None:
    for data in (b"\xff\xfe", b"", b"a: [", b"x" * 1_100_000):
        as_sarif = call("check", "-", "--format", "sarif", stdin=data, cwd=tmp_path)
        as_json = call("check", "-", "--format", "json", stdin=data, cwd=tmp_path)
        assert as_sarif.returncode == as_json.returncode == 2
        [note] = run(as_sarif.stdout)["invocations"][0]["toolExecutionNotifications"][:1]
        problem = json.loads(as_json.stdout)["plans"][0]["problems"][0]
        shown = note["message"]["text"].replace("{{", "{").replace("}}", "}").replace("\\[", "[")
        assert shown.startswith(problem["message"])


@pytest.mark.parametrize(
    "address", ["", "docs", "javascript:alert(1)", "https://", "https://a b/", "https://[x", "//a"]
)
def test_an_address_that_no_browser_opens_is_refused(tmp_path: Path, address: str) -> None:
    (tmp_path / "van.yaml").write_text(SOUND, encoding="utf-8")
    call_ = ("check", "van.yaml", "--format", "sarif", "--documentation", address)
    done = call(*call_, cwd=tmp_path)
    assert done.returncode == 2
    assert b"--documentation takes an address" in done.stderr


def test_rules_lead_to_the_published_pages(tmp_path: Path) -> None:
    (tmp_path / "van.yaml").write_text(SOUND, encoding="utf-8")
    call_ = ("check", "van.yaml", "--format", "sarif", "--documentation", "https://example.org/w")
    rules = run(call(*call_, cwd=tmp_path).stdout)["tool"]["driver"]["rules"]
    assert all(rule["helpUri"].startswith("https://example.org/w/") for rule in rules)
