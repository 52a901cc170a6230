"""wattproof check as called: exit status, formats, folders, standard input, hostile callers."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from cli.calls import FAULTY, SOUND, SOURCES, UNUSABLE, call, failing_pack, folder, heavy_loaded

RAISES = """
from wattproof.rule import Edit, rule, practice

@rule(id="ill-rule", summary="Fails.", level="note", hazard="fire", part="plan",
      basis={"common practice": practice("none")}, explanation="It fails.", sound="",
      faulty=Edit("a", "b"))
def ill_rule(study):
    raise RuntimeError("it broke")
"""
CANNOT_BE_READ = "def broken(:\n"


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(tmp_path, sound=SOUND, faulty=FAULTY, unusable=UNUSABLE)


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["sound.yaml"], 0),
        (["sound.yaml", "--level", "note"], 0),
        (["faulty.yaml"], 1),
        (["faulty.yaml", "--level", "error"], 1),
        (["sound.yaml", "faulty.yaml"], 1),
        (["unusable.yaml"], 2),
        (["missing.yaml"], 2),
        (["faulty.yaml", "unusable.yaml"], 2),
        (["."], 2),
        ([], 2),
        (["sound.yaml", "--format", "pdf"], 2),
        (["sound.yaml", "--level", "loud"], 2),
        (["sound.yaml", "--option", "no-such-rule.a=1"], 2),
        (["sound.yaml", "--option", "cold-voltage-over-controller.nothing=1"], 2),
        (["sound.yaml", "--option", "cold-voltage-over-controller.label_tolerance=much"], 2),
        (["sound.yaml", "--option", "cold-voltage-over-controller.label_tolerance=nan"], 2),
        (["sound.yaml", "--option", "cold-voltage-over-controller.label_tolerance"], 2),
        (["sound.yaml", "--name", "x.yaml"], 2),
        (["sound.yaml", "--unknown"], 2),
    ],
)
def test_exit_status(plans: Path, arguments: list[str], status: int) -> None:
    done = call("check", *arguments, cwd=plans)
    assert done.returncode == status, done.stderr
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize("format", ["text", "json", "sarif"])
@pytest.mark.parametrize(("plan", "status"), [("sound", 0), ("faulty", 1), ("unusable", 2)])
def test_every_format_ends_with_the_same_status(
    plans: Path, format: str, plan: str, status: int
) -> None:
    done = call("check", f"{plan}.yaml", "--format", format, cwd=plans)
    assert done.returncode == status
    assert done.stderr == b""
    if format == "json":
        assert json.loads(done.stdout)["status"] == status
    if format == "sarif":
        assert json.loads(done.stdout)["runs"][0]["invocations"][0]["exitCode"] == status


@pytest.mark.parametrize("rule", [RAISES, CANNOT_BE_READ], ids=["raises", "cannot be read"])
@pytest.mark.parametrize("plan", ["sound", "faulty"])
def test_a_rule_or_pack_that_fails_wins_over_findings(
    plans: Path, tmp_path: Path, rule: str, plan: str
) -> None:
    packs = failing_pack(tmp_path / "packs", rule)
    done = call("check", f"{plan}.yaml", "--level", "error", cwd=plans, packs=packs)
    assert done.returncode == 3
    assert b"ill_rule" in done.stdout
    assert b"no rule found a fault" not in done.stdout
    log = json.loads(
        call("check", f"{plan}.yaml", "--format", "sarif", cwd=plans, packs=packs).stdout
    )
    assert log["runs"][0]["invocations"][0]["executionSuccessful"] is False


def test_failed_rules_win_over_unusable_plans(plans: Path, tmp_path: Path) -> None:
    packs = failing_pack(tmp_path / "packs", RAISES)
    assert call("check", "unusable.yaml", "sound.yaml", cwd=plans, packs=packs).returncode == 3


def test_an_option_changes_what_a_rule_says(plans: Path) -> None:
    setting = "cold-voltage-over-controller.label_tolerance=0.9"
    done = call("check", "sound.yaml", "--option", setting, cwd=plans)
    assert done.returncode == 1
    assert b"within the tolerance of labels" in done.stdout


def test_standard_input_with_a_name_finds_its_parts(tmp_path: Path) -> None:
    at = tmp_path / "below"
    start, end = SOUND.index("  cables:"), SOUND.index("strings:")
    cables = "wattproof: 1\ndatasheets:\n" + SOUND[start:end]
    folder(at, cables=cables)
    text = (SOUND[:start] + SOUND[end:]).replace("wattproof: 1", "wattproof: 1\nparts: cables.yaml")
    done = call("check", "-", "--name", "below/plan.yaml", stdin=text.encode(), cwd=tmp_path)
    assert done.returncode == 0, done.stdout.decode()
    assert "Plan      below/plan.yaml" in done.stdout.decode()
    assert call("check", "-", stdin=text.encode(), cwd=tmp_path).returncode == 2


def test_standard_input_that_is_empty_is_a_problem() -> None:
    done = call("check", "-")
    assert done.returncode == 2
    assert b"standard-input:1:1" in done.stdout


def test_a_folder_means_its_plans_sorted_without_parts_and_others(tmp_path: Path) -> None:
    folder(
        tmp_path,
        b=SOUND,
        a__c=FAULTY,
        parts="wattproof: 1\ndatasheets: {modules: {}}\n",
        other="services: {}\nsetting: x\n",
        a__forgotten="wattproof: 1\nsite: {}\n",
        **{".hidden__d": FAULTY},
    )
    (tmp_path / "notes.txt").write_text(SOUND, encoding="utf-8")
    (tmp_path / "list.yml").write_text("- wattproof: 1\n", encoding="utf-8")
    done = call("check", ".", "b.yaml", "--format", "json", cwd=tmp_path)
    assert [Path(p["file"]).as_posix() for p in json.loads(done.stdout)["plans"]] == [
        "a/c.yaml",
        "a/forgotten.yaml",
        "b.yaml",
    ]
    assert done.returncode == 2


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_named_pipe_in_a_folder_does_not_block(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    folder(tmp_path, sound=SOUND)
    assert call("check", ".", cwd=tmp_path).returncode == 0


def test_a_folder_without_a_plan_is_an_unusable_call(tmp_path: Path) -> None:
    done = call("check", str(tmp_path))
    assert done.returncode == 2
    assert b"there is no plan in the folder" in done.stderr


def test_colour_in_a_pipe_only_where_it_is_asked_for_and_80_columns(plans: Path) -> None:
    for extra, coloured in (
        ({}, False),
        ({"TERM": "xterm-256color"}, False),
        ({"FORCE_COLOR": "1"}, True),
        ({"FORCE_COLOR": "1", "NO_COLOR": "1"}, False),
    ):
        done = call("check", "faulty.yaml", "unusable.yaml", "--working", cwd=plans, **extra)
        shown = done.stdout.decode()
        assert ("\x1b" in shown) is coloured
        bare = re.sub(r"\x1b\[[0-9;]*m", "", shown)
        assert "\x1b" not in bare
        assert max(map(len, bare.splitlines())) <= 80


def test_output_is_the_same_under_two_hash_seeds(plans: Path) -> None:
    for format in ("text", "json", "sarif"):
        first, second = (
            call("check", ".", "--format", format, cwd=plans, PYTHONHASHSEED=seed).stdout
            for seed in ("0", "4242")
        )
        assert first == second


def test_signs_that_an_output_cannot_show_become_plain_ones(plans: Path) -> None:
    ascii = {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = call("check", "faulty.yaml", "--full", cwd=plans, **ascii)
    shown = done.stdout.decode("ascii")
    assert done.returncode == 1
    assert "(-18 deg C) - 25 deg C" in shown
    assert json.loads(
        call("check", "faulty.yaml", "--format", "json", cwd=plans, PYTHONIOENCODING="ascii").stdout
    )


@pytest.mark.parametrize("format", ["text", "json", "sarif"])
def test_check_loads_nothing_heavy(plans: Path, format: str) -> None:
    assert heavy_loaded("check", "faulty.yaml", "--format", format, cwd=plans) == (1, [])


FOR_FEW_PLANS = """
import sys
from importlib.util import find_spec
from wattproof.cli.main import run
status = run(sys.argv[1:])
studies = ("curves.curves", "curves.points", "energy.balance", "energy.daily_use",
           "energy.sun_hours", "readings.alike", "readings.at_arrays", "readings.conditions",
           "readings.expected", "readings.explained", "readings.at_joints", "readings.of_charging",
           "readings.part_load", "readings.standing", "readings.taken")
views = ("connection_order", "figures", "one_line", "schedules")
physics = ("arrays", "clear_sky", "curve", "elements", "operating_state", "sun_position",
           "tracking")
names = {f"wattproof.study.{name}" for name in studies}
names |= {f"wattproof.views.{name}" for name in views}
names |= {f"wattproof.physics.{name}" for name in physics}
loaded = set(sys.modules)
assert all(map(find_spec, names)), "a module has moved"
sys.stderr.write(repr((status, sorted(names & loaded))))
"""


@pytest.mark.parametrize(("plan", "status"), [("sound.yaml", 0), ("faulty.yaml", 1)])
def test_a_plan_without_use_shade_or_readings_loads_no_study_of_them(
    plans: Path, plan: str, status: int
) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FOR_FEW_PLANS, "check", plan],
        capture_output=True,
        cwd=plans,
        env={**os.environ, "PYTHONPATH": SOURCES},
        check=False,
    )
    assert done.stderr.decode() == f"({status}, [])"


@pytest.mark.skipif(os.name == "nt", reason="needs pipes and devices of Unix")
class TestOutputThatEnds:
    def _shell(self, command: str, cwd: Path) -> subprocess.CompletedProcess[bytes]:
        environment = {**os.environ, "PYTHONPATH": SOURCES, "PY": sys.executable}
        return subprocess.run(
            ["bash", "-c", command], capture_output=True, cwd=cwd, env=environment, check=False
        )

    def test_a_reader_that_leaves_early_is_no_fault(self, plans: Path) -> None:
        call_it = '"$PY" -m wattproof check faulty.yaml --working'
        done = self._shell(f"{call_it} | true; exit ${{PIPESTATUS[0]}}", plans)
        assert (done.returncode, done.stderr) == (1, b"")

    def test_a_closed_output_is_no_fault(self, plans: Path) -> None:
        done = self._shell('"$PY" -m wattproof check faulty.yaml >&-', plans)
        assert (done.returncode, done.stderr) == (1, b"")

    @pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs /dev/full")
    def test_a_full_disk_is_said_in_one_line(self, plans: Path) -> None:
        done = self._shell('"$PY" -m wattproof check faulty.yaml > /dev/full', plans)
        assert done.returncode == 2
        assert done.stderr.startswith(b"wattproof: the report cannot be written: ")
        assert done.stderr.count(b"\n") == 1


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff\xfe",
        b"\x00",
        b"wattproof: 1\n" * 3,
        b"[" * 5000,
        b"&a [*a]",
        b"- \xf0\x9f\x98\x80",
    ],
)
def test_no_text_gives_a_traceback(data: bytes) -> None:
    done = call("check", "-", stdin=data)
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
    assert re.search(rb"standard-input:\d+:\d+", done.stdout)
