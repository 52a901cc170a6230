"""wattproof index as called: the site, what it never touches, and what it says of each plan."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
from pathlib import Path
from typing import Any
from urllib.parse import unquote_to_bytes

import jsonschema
import pytest

from cli.calls import FAULTY, ROOT, SOUND, UNUSABLE, call, failing_pack, folder

SCHEMA = json.loads((ROOT / "schemas" / "index.schema.json").read_text(encoding="utf-8"))
LABELS = ROOT / "examples" / "parts" / "heron-labels.yaml"
WITH_PARTS = ROOT / "examples" / "van-six-modules.yaml"


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(tmp_path / "plans", a__sound=SOUND, faulty=FAULTY, unusable=UNUSABLE)


def listing(site: Path) -> dict[str, Any]:
    document: dict[str, Any] = json.loads((site / "index.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    return document


def files(site: Path) -> dict[str, bytes]:
    return {str(p.relative_to(site)): p.read_bytes() for p in site.rglob("*") if p.is_file()}


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_a_site_holds_a_list_a_page_and_the_text_of_each_plan(plans: Path) -> None:
    done = call("index", "plans", "-o", "site", cwd=plans.parent)
    assert done.returncode == 2, done.stderr  # one cannot be read
    assert done.stdout == b""
    site = plans.parent / "site"
    assert sorted(files(site)) == [
        ".wattproof-site",
        "index.html",
        "index.json",
        "pages/a/sound.yaml.html",
        "pages/faulty.yaml.html",
        "pages/unusable.yaml.html",
        "plans/a/sound.yaml",
        "plans/faulty.yaml",
        "plans/unusable.yaml",
    ]
    sound, faulty, unusable = listing(site)["plans"]
    assert [each["status"] for each in (sound, faulty, unusable)] == [0, 1, 2]
    assert sound["verdict"]["signal"] == "NOTHING FOUND"
    assert faulty["findings"]["error"] > 0
    assert unusable["verdict"]["signal"] == "CANNOT BE CHECKED"
    assert unusable["problems"][0]["file"] == "unusable.yaml"
    assert unusable["facts"] is None
    facts = sound["facts"]
    assert (facts["setting"], facts["modules"], facts["power"]["text"]) == ("vehicle", 3, "300 W")
    [at] = facts["inputs"]
    assert at["name"] == "tracker"
    assert at["limit"]["value"] == 100.0
    # Three times 24.3 V, 43 K below the label's 25 °C at -0.29 % of it for each.
    assert at["cold_voltage"]["value"] == pytest.approx(3 * 24.3 * (1 + 0.0029 * 43), rel=1e-6)
    assert facts["coldest"]["value"] == -18.0
    assert [b["nominal"]["text"] for b in facts["batteries"]] == ["12.8 V"]


def test_what_lies_beside_a_page_is_what_was_checked(plans: Path) -> None:
    call("index", "plans", "-o", "site", cwd=plans.parent)
    site = plans.parent / "site"
    for plan in listing(site)["plans"]:
        [text] = plan["files"]
        data = (site / text["address"]).read_bytes()
        assert data == (plans / plan["file"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == text["sha256"]
        assert text["sha256"].startswith(plan["fingerprint"])
        page = (site / plan["page"]).read_text(encoding="utf-8")
        assert plan["fingerprint"] in page
        assert 'href="' + "../" * plan["page"].count("/") + 'index.html"' in page


def test_two_sites_of_the_same_plans_are_the_same(plans: Path) -> None:
    for seed, site in (("1", "one"), ("2", "two")):
        call("index", "plans", "-o", site, cwd=plans.parent, PYTHONHASHSEED=seed)
    elsewhere = plans.parent / "elsewhere"
    elsewhere.mkdir()
    call("index", str(plans), "-o", "three", cwd=elsewhere)
    one = files(plans.parent / "one")
    assert one == files(plans.parent / "two") == files(elsewhere / "three")
    assert not any(str(plans.parent).encode() in data for data in one.values())


def test_files_of_labels_lie_where_the_plan_finds_them(tmp_path: Path) -> None:
    inner = tmp_path / "repository" / "plans" / "vans"
    inner.mkdir(parents=True)
    (tmp_path / "repository" / ".git").mkdir()
    (tmp_path / "repository" / "labels").mkdir()
    (tmp_path / "repository" / "labels" / "heron.yaml").write_bytes(LABELS.read_bytes())
    text = WITH_PARTS.read_text(encoding="utf-8")
    moved = text.replace("parts/heron-labels.yaml", "../../labels/heron.yaml")
    assert moved != text
    (inner / "six.yaml").write_text(moved, encoding="utf-8")
    done = call("index", "repository/plans", "-o", "site", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    [plan] = listing(tmp_path / "site")["plans"]
    assert [f["address"] for f in plan["files"]] == [
        "plans/plans/vans/six.yaml",
        "plans/labels/heron.yaml",
    ]
    copied = call("check", str(tmp_path / "site" / plan["files"][0]["address"]), cwd=tmp_path)
    assert copied.returncode == 2  # no repository around it: labels beyond its folder are refused
    (tmp_path / "site" / ".git").mkdir()
    assert call("check", str(tmp_path / "site" / "plans/plans/vans/six.yaml")).returncode == 0


def test_the_revision_that_was_checked_is_told(plans: Path) -> None:
    def git(*arguments: str) -> str:
        who = ("-c", "user.name=someone", "-c", "user.email=someone@example.org")
        done = subprocess.run(
            ["git", *who, *arguments], cwd=plans, capture_output=True, check=True, text=True
        )
        return done.stdout.strip()

    git("init", "-q")
    git("add", ".")
    git("commit", "-q", "-m", "plans")
    commit = git("rev-parse", "HEAD")
    (plans / "faulty.yaml").write_text(FAULTY + "# more\n", encoding="utf-8")
    (plans / "a" / "sound.yaml").write_bytes(SOUND.replace("\n", "\r\n").encode())
    (plans / "new.yaml").write_text(SOUND, encoding="utf-8")
    call("index", "plans", "-o", "site", cwd=plans.parent)
    site = plans.parent / "site"
    told = {plan["file"]: plan["revision"] for plan in listing(site)["plans"]}
    assert told == {
        "a/sound.yaml": {"commit": commit, "as_kept": True},
        "faulty.yaml": {"commit": commit, "as_kept": False},
        "new.yaml": {"commit": commit, "as_kept": False},
        "unusable.yaml": {"commit": commit, "as_kept": True},
    }
    page = (site / "pages" / "faulty.yaml.html").read_text(encoding="utf-8")
    assert f"changed since {commit[:12]}" in page


def test_settings_that_were_changed_are_a_change_of_what_was_checked(plans: Path) -> None:
    who = ("-c", "user.name=someone", "-c", "user.email=someone@example.org")
    for command in (("init", "-q"), ("add", "."), ("commit", "-q", "-m", "plans")):
        subprocess.run(["git", *who, *command], cwd=plans, check=True)
    (plans / "wattproof-settings.yaml").write_text("wattproof-settings: 1\n", encoding="utf-8")
    call("index", "plans", "-o", "site", cwd=plans.parent)
    told = [plan["revision"]["as_kept"] for plan in listing(plans.parent / "site")["plans"]]
    assert told == [False, False, False]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["plans"], b"Missing option"),
        (["missing", "-o", "site"], b"there is no folder missing"),
        (["plans/faulty.yaml", "-o", "site"], b"there is no folder plans/faulty.yaml"),
        (["plans", "-o", "plans"], b"the plans lie in plans"),
        (["plans/a", "-o", "plans"], b"the plans lie in plans"),
        (["plans", "-o", "other"], b"was not written by `wattproof index`"),
        (["plans", "-o", "plans/faulty.yaml"], b"plans/faulty.yaml cannot be used"),
        (["empty", "-o", "site"], b"there is no plan in the folder"),
        (["plans", "-o", "site", "--settings", "none.yaml"], b""),
        (["plans", "-o", "site", "--option", "no-rule.x=1"], b"no-rule"),
    ],
)
def test_calls_that_cannot_be_followed(plans: Path, arguments: list[str], said: bytes) -> None:
    top = plans.parent
    (top / "empty").mkdir()
    (top / "other").mkdir()
    (top / "other" / "mine.txt").write_text("kept", encoding="utf-8")
    before = files(plans)
    done = call("index", *arguments, cwd=top)
    assert done.returncode == 2, done.stderr
    assert said in done.stderr
    assert b"Traceback" not in done.stderr
    assert files(plans) == before
    assert files(top / "other") == {"mine.txt": b"kept"}
    assert (top / "site").exists() == ("--settings" in arguments)


def test_a_site_is_written_again_and_what_is_gone_goes(plans: Path) -> None:
    top = plans.parent
    call("index", "plans", "-o", "site", cwd=top)
    site = top / "site"
    (site / "CNAME").write_text("kept", encoding="utf-8")
    (site / "plans" / "mine.yaml").write_text("kept", encoding="utf-8")
    (site / "plans" / "unusable.yaml").write_text("changed meanwhile", encoding="utf-8")
    (plans / "unusable.yaml").unlink()
    (plans / "a" / "sound.yaml").unlink()
    done = call("index", "plans", "-o", "site", cwd=top)
    assert done.returncode == 1
    assert b"left, since changed by others: plans/unusable.yaml" in done.stderr
    assert sorted(files(site)) == [
        ".wattproof-site",
        "CNAME",
        "index.html",
        "index.json",
        "pages/faulty.yaml.html",
        "plans/faulty.yaml",
        "plans/mine.yaml",
        "plans/unusable.yaml",
    ]
    assert not (site / "pages" / "a").exists()


def test_what_others_put_where_a_page_goes_is_not_overwritten(plans: Path) -> None:
    top = plans.parent
    call("index", "plans", "-o", "site", cwd=top)
    mine = top / "site" / "plans" / "later.yaml"
    mine.write_text("mine", encoding="utf-8")
    (plans / "later.yaml").write_text(SOUND, encoding="utf-8")
    done = call("index", "plans", "-o", "site", cwd=top)
    assert done.returncode == 2
    assert b"is not of this site" in done.stderr
    assert mine.read_text(encoding="utf-8") == "mine"


@pytest.mark.skipif(os.name == "nt", reason="needs links")
def test_nothing_is_written_or_taken_away_through_a_link(plans: Path) -> None:
    top = plans.parent
    outside = folder(top / "outside", kept=SOUND)
    call("index", "plans", "-o", "site", cwd=top)
    marker = top / "site" / ".wattproof-site"
    digest = hashlib.sha256(SOUND.encode()).hexdigest()
    listed = f"{digest}  ../outside/kept.yaml\n{digest}  plans/link/kept.yaml\n"
    marker.write_text(marker.read_text(encoding="utf-8") + listed, encoding="utf-8")
    (top / "site" / "plans" / "link").symlink_to(outside, target_is_directory=True)
    call("index", "plans", "-o", "site", cwd=top)
    assert (outside / "kept.yaml").read_text(encoding="utf-8") == SOUND
    (top / "site" / "plans" / "b").symlink_to(outside, target_is_directory=True)
    folder(plans, b__new=SOUND)
    done = call("index", "plans", "-o", "site", cwd=top)
    assert done.returncode == 2
    assert b"leads out of the site" in done.stderr
    assert sorted(files(outside)) == ["kept.yaml"]


def test_a_site_within_the_folder_is_not_of_its_plans(plans: Path) -> None:
    for _ in range(2):
        call("index", ".", "-o", "site", cwd=plans)
    assert len(listing(plans / "site")["plans"]) == 3


@pytest.mark.skipif(os.name == "nt", reason="names that Windows does not have")
def test_names_of_any_sign_lead_to_their_pages(tmp_path: Path) -> None:
    names = ["<b>&amp;.yaml", 'a "quoted" #1?.yaml', "javascript:alert(1).yaml", "Über\n.yaml"]
    plans = tmp_path / "plans"
    plans.mkdir()
    for name in names:
        (plans / name).write_text(SOUND, encoding="utf-8")
    strange = os.fsencode(plans) + b"/caf\xe9.yaml"
    Path(os.fsdecode(strange)).write_text(SOUND, encoding="utf-8")
    done = call("index", "plans", "-o", "site", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    found = listing(tmp_path / "site")["plans"]
    assert len(found) == len(names) + 1
    for plan in found:
        for address in (plan["page"], plan["files"][0]["address"]):
            path = os.fsencode(tmp_path / "site") + b"/" + unquote_to_bytes(address)
            assert os.path.isfile(path)
    again = call("index", "plans", "-o", "site", cwd=tmp_path)
    assert again.returncode == 0, again.stderr


def test_a_rule_that_failed_is_status_3_and_no_verdict(plans: Path, tmp_path: Path) -> None:
    pack = failing_pack(tmp_path / "pack", "raise RuntimeError('gone')\n")
    done = call("index", "plans", "-o", "site", cwd=plans.parent, packs=pack)
    assert done.returncode == 3
    sound = listing(plans.parent / "site")["plans"][0]
    assert sound["verdict"]["signal"] == "NOT FULLY CHECKED"
    assert sound["status"] == 3
