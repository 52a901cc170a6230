"""wattproof compare as called: two files, and a revision beside the working tree."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from cli.calls import FAULTY, ROOT, SOUND, UNUSABLE, call, folder

WORSE = FAULTY.replace("series: 4", "series: 5")
SCHEMA = json.loads((ROOT / "schemas" / "comparison.schema.json").read_text(encoding="utf-8"))
VALID = jsonschema.Draft202012Validator(SCHEMA)


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(tmp_path, sound=SOUND, faulty=FAULTY, worse=WORSE, unusable=UNUSABLE)


def document(at: Path, *arguments: str, status: int) -> Any:
    done = call("compare", *arguments, "--format", "json", cwd=at)
    assert done.returncode == status, done.stderr
    made = json.loads(done.stdout)
    VALID.validate(made)
    return made


def test_what_comes_is_told_with_its_margin_and_the_figures_behind_it(plans: Path) -> None:
    done = call("compare", "sound.yaml", "faulty.yaml", cwd=plans)
    text = done.stdout.decode()
    assert done.returncode == 1
    assert "Findings: 1 new; none as before." in text
    assert "9.3 % past the limit [cold-voltage-over-controller]" in text
    assert "roof-string, open-circuit voltage (coldest): 82 V -> 109 V" in text
    assert max(map(len, text.splitlines())) <= 80


def test_worse_counts_and_better_and_gone_do_not(plans: Path) -> None:
    made = document(plans, "faulty.yaml", "worse.yaml", status=1)
    [pair] = [p for p in made["worse"] if p["new"]["rule"] == "cold-voltage-over-controller"]
    assert pair["new"]["margin"] < pair["old"]["margin"] < 0
    back = document(plans, "worse.yaml", "faulty.yaml", status=0)
    assert [p["old"] for p in back["better"]] == [p["new"] for p in made["worse"]]
    assert len(document(plans, "faulty.yaml", "sound.yaml", status=0)["gone"]) == 1


def test_a_plan_and_itself_differ_in_nothing(plans: Path) -> None:
    made = document(plans, "faulty.yaml", "faulty.yaml", status=0)
    assert (made["come"], made["gone"], made["worse"], made["better"]) == ([], [], [], [])
    assert (made["same"], made["figures"]) == (1, [])


def test_markdown_for_a_comment(plans: Path) -> None:
    text = call("compare", "sound.yaml", "worse.yaml", "--format", "markdown", cwd=plans).stdout
    assert b"### New" in text
    assert b"### Figures that moved by more than 1 %" in text


@pytest.mark.parametrize("pair", [("unusable", "sound"), ("sound", "unusable"), ("no", "sound")])
def test_one_that_cannot_be_checked(plans: Path, pair: tuple[str, str]) -> None:
    done = call("compare", *(f"{name}.yaml" for name in pair), cwd=plans)
    assert done.returncode == 2
    assert b"The two cannot be compared." in done.stdout
    document(plans, *(f"{name}.yaml" for name in pair), status=2)


@pytest.mark.parametrize(
    "arguments", [("sound.yaml",), ("a", "b", "c"), ("a", "b", "--since", "HEAD")]
)
def test_calls_that_contradict_themselves(plans: Path, arguments: tuple[str, ...]) -> None:
    done = call("compare", *arguments, cwd=plans)
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"name two plans, OLD and NEW; or one plan with --since REVISION" in done.stderr


@pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
class TestRevision:
    @pytest.fixture
    def repository(self, tmp_path: Path) -> Path:
        start, end = SOUND.index("  cables:"), SOUND.index("strings:")
        cables = "wattproof: 1\ndatasheets:\n" + SOUND[start:end]
        plan = (SOUND[:start] + SOUND[end:]).replace(
            "wattproof: 1", "wattproof: 1\nparts: labels.yaml"
        )
        folder(tmp_path, vans__plan=plan, vans__labels=cables)
        own = ["-c", "user.name=test", "-c", "user.email=test@invalid"]
        for arguments in (["init", "-q"], ["add", "."], [*own, "commit", "-qm", "first"]):
            subprocess.run(["git", *arguments], cwd=tmp_path, check=True)
        folder(tmp_path, vans__plan=plan.replace("series: 3", "series: 4"), vans__labels=cables)
        return tmp_path

    def test_a_revision_with_its_parts_and_the_working_tree(self, repository: Path) -> None:
        (repository / "vans" / "labels.yaml").rename(repository / "vans" / "cables.yaml")
        plan = repository / "vans" / "plan.yaml"
        plan.write_text(plan.read_text().replace("parts: labels", "parts: cables"))
        made = document(repository, "vans/plan.yaml", "--since", "HEAD", status=1)
        assert made["old"] == {"file": "HEAD:vans/plan.yaml", "problems": []}
        assert [f["rule"] for f in made["come"]] == ["cold-voltage-over-controller"]

    @pytest.mark.parametrize("revision", ["nowhere", "-x", "HEAD~9"])
    def test_one_that_is_not_there(self, repository: Path, revision: str) -> None:
        done = call("compare", "vans/plan.yaml", f"--since={revision}", cwd=repository)
        assert (done.returncode, done.stdout) == (2, b"")
        assert b"the revision cannot be read" in done.stderr

    def test_a_plan_that_it_does_not_have(self, repository: Path) -> None:
        folder(repository, new=SOUND)
        done = call("compare", "new.yaml", "--since", "HEAD", cwd=repository)
        assert done.returncode == 2
        assert b"the revision HEAD has no file new.yaml" in done.stderr

    def test_no_repository(self, tmp_path: Path) -> None:
        folder(tmp_path, plan=SOUND)
        done = call("compare", "plan.yaml", "--since", "HEAD", cwd=tmp_path)
        assert done.returncode == 2
        assert b"the revision cannot be read" in done.stderr
