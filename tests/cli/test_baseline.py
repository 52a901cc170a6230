"""An older check as a baseline: only what is new or worse counts, and nothing is hidden."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from cli.calls import FAULTY, ROOT, SOUND, UNUSABLE, call, folder

WORSE = FAULTY.replace("series: 4", "series: 5")


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A folder with a faulty plan, and what a check of it found."""
    folder(tmp_path, van=FAULTY, hut=SOUND)
    done = call("check", ".", "--write-baseline", "known.json", cwd=tmp_path)
    assert done.returncode == 1
    return tmp_path


def since(at: Path, *arguments: str) -> tuple[int, str]:
    done = call("check", ".", "--baseline", "known.json", *arguments, cwd=at)
    return done.returncode, done.stdout.decode()


def test_what_was_found_before_is_shown_and_does_not_count(kept: Path) -> None:
    status, text = since(kept)
    assert status == 0
    assert "109 V is over the 100 V input limit" in text
    assert "FIX FIRST" in text
    assert "none new or worse, 1 known" in text


def test_what_is_worse_counts(kept: Path) -> None:
    folder(kept, van=WORSE)
    status, text = since(kept)
    assert status == 1
    assert "new or worse, none known" in text


def test_what_is_better_stays_known_and_what_is_gone_is_told(kept: Path) -> None:
    folder(kept, van=SOUND)
    status, text = since(kept)
    assert status == 0
    assert (
        "1 finding gone: `cold-voltage-over-controller` at `tracker` and `roof-string`"
        in " ".join(text.split())
    )
    folder(kept, van=WORSE)
    call("check", ".", "--write-baseline", "known.json", cwd=kept)
    folder(kept, van=FAULTY)
    assert since(kept)[0] == 0


def test_a_plan_that_it_does_not_know_counts_whole(kept: Path) -> None:
    folder(kept, other=FAULTY)
    assert since(kept)[0] == 1


def test_it_holds_from_any_folder(kept: Path) -> None:
    done = call("check", "..", "--baseline", "../known.json", cwd=_below(kept))
    assert done.returncode == 0


def _below(at: Path) -> Path:
    (at / "below").mkdir()
    return at / "below"


def test_every_form_tells_it(kept: Path) -> None:
    folder(kept, other=FAULTY)
    status, text = since(kept, "--format", "json")
    schema = json.loads((ROOT / "schemas" / "report.schema.json").read_text(encoding="utf-8"))
    document = json.loads(text)
    jsonschema.Draft202012Validator(schema).validate(document)
    known = {Path(p["file"]).stem: [f["known"] for f in p["findings"]] for p in document["plans"]}
    assert known["van"] == [True]
    assert known["other"] == [False]
    assert status == document["status"] == 1
    _, text = since(kept, "--format", "sarif")
    states = [r.get("baselineState") for r in json.loads(text)["runs"][0]["results"]]
    assert sorted(filter(None, states)) == ["new", "unchanged"]
    for format in ("short", "annotations"):
        _, text = since(kept, "--format", format)
        assert "other.yaml" in text
        assert "van.yaml" not in text
    _, text = since(kept, "--format", "junit")
    assert text.count("<failure") == 1
    folder(kept, van=SOUND)
    _, text = since(kept, "--format", "sarif")
    states = [r.get("baselineState") for r in json.loads(text)["runs"][0]["results"]]
    assert sorted(filter(None, states)) == ["absent", "new"]


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", '{"wattproof-baseline": 2, "plans": []}', '{"plans": []}', "\x00\xff"],
)
def test_a_file_that_is_none_is_an_unusable_call(tmp_path: Path, text: str) -> None:
    folder(tmp_path, van=SOUND)
    (tmp_path / "known.json").write_text(text, encoding="utf-8")
    done = call("check", ".", "--baseline", "known.json", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"known.json is no kept check" in done.stderr
    assert done.stderr.count(b"\n") == 1


def test_one_that_is_not_there_says_how_it_is_made(tmp_path: Path) -> None:
    folder(tmp_path, van=SOUND)
    done = call("check", ".", "--baseline", "known.json", cwd=tmp_path)
    assert done.returncode == 2
    assert b"`--write-baseline known.json` makes one" in done.stderr


def test_nothing_is_kept_of_a_plan_that_cannot_be_checked(tmp_path: Path) -> None:
    folder(tmp_path, van=UNUSABLE)
    done = call("check", ".", "--write-baseline", "known.json", cwd=tmp_path)
    assert done.returncode == 2
    assert not (tmp_path / "known.json").exists()


def test_it_is_not_written_over_a_plan(tmp_path: Path) -> None:
    folder(tmp_path, van=FAULTY)
    done = call("check", ".", "--write-baseline", "van.yaml", cwd=tmp_path)
    assert done.returncode == 2
    assert (tmp_path / "van.yaml").read_text(encoding="utf-8") == FAULTY
