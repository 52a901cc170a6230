"""wattproof curve as called: exit status, where the curves go, hostile calls."""

from __future__ import annotations

import os
from pathlib import Path
from xml.etree import ElementTree

import pytest

from cli.calls import ROOT, SOUND, UNUSABLE, call, folder, heavy_loaded

IMPOSSIBLE = str(ROOT / "examples" / "faulty" / "boat-thin-cable.yaml")
NO_ARRAY = """\
wattproof: 1
setting: vehicle
datasheets:
  cables:
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah}
inverters:
  mains: {power: 300 W, nominal: 12 V}
wires:
  run: {from: house, to: mains, cable: batt-8, length: 1 m}
"""


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(tmp_path, sound=SOUND, unusable=UNUSABLE, none=NO_ARRAY)


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["sound.yaml"], 0),
        (["sound.yaml", "--csv", "a.csv", "--svg", "a.svg"], 0),
        (["sound.yaml", "--csv", "-"], 0),
        (["sound.yaml", "--svg", "-", "--csv", "a.csv"], 0),
        (["unusable.yaml"], 2),
        (["unusable.yaml", "--csv", "-"], 2),
        (["none.yaml"], 2),
        (["missing.yaml"], 2),
        ([IMPOSSIBLE], 2),
        ([IMPOSSIBLE, "--svg", "-"], 2),
        ([], 2),
        (["."], 2),
        (["sound.yaml", "sound.yaml"], 2),
        (["sound.yaml", "--name", "x.yaml"], 2),
        (["sound.yaml", "--csv", "-", "--svg", "-"], 2),
        (["sound.yaml", "--csv", "a", "--svg", "./a"], 2),
        (["sound.yaml", "--csv", "./sound.yaml"], 2),
        (["sound.yaml", "--csv", "no/such/folder/a.csv"], 2),
        (["sound.yaml", "--svg", "."], 2),
        (["sound.yaml", "--pdf", "a"], 2),
    ],
)
def test_exit_status(plans: Path, arguments: list[str], status: int) -> None:
    done = call("curve", *arguments, cwd=plans)
    assert done.returncode == status, done.stderr
    assert b"Traceback" not in done.stderr
    assert (plans / "sound.yaml").read_text(encoding="utf-8") == SOUND


def test_table_says_what_was_saved_and_files_hold_it(plans: Path) -> None:
    done = call("curve", "sound.yaml", "--csv", "a.csv", "--svg", "a.svg", cwd=plans)
    shown = done.stdout.decode()
    assert "Saved     a.csv\nSaved     a.svg\n" in shown
    assert "the controller works at" in shown
    assert max(map(len, shown.splitlines())) <= 80
    rows = (plans / "a.csv").read_bytes()
    assert rows == call("curve", "sound.yaml", "--csv", "-", cwd=plans).stdout
    assert rows.startswith(
        b"controller,state,shade,voltage_v,current_a,power_w\ntracker,standard,,0.0"
    )
    picture = (plans / "a.svg").read_bytes()
    assert picture == call("curve", "sound.yaml", "--svg", "-", cwd=plans).stdout
    assert ElementTree.fromstring(picture).attrib["role"] == "img"


def test_an_impossible_label_is_told_in_words_and_nothing_is_saved(tmp_path: Path) -> None:
    done = call("curve", IMPOSSIBLE, "--csv", "a.csv", "--svg", "a.svg", cwd=tmp_path)
    shown = " ".join(done.stdout.decode().split())
    assert "at the solar input of `regulator` cannot be drawn: on the label of" in shown
    assert "the current at maximum power is not below the short-circuit current" in shown
    assert "no curve could be drawn" in shown
    assert list(tmp_path.iterdir()) == []


def test_beside_an_input_that_cannot_be_drawn_the_others_are(tmp_path: Path) -> None:
    bad = "    bad: {voc: 22 V, vmp: 18 V, isc: 5 A, imp: 6 A, max_series_fuse: 15 A}\n  cables:\n"
    small = "  small: {kind: pwm, max_input_voltage: 50 V, max_output_current: 10 A}\n"
    wires = (
        "  back: {from: back-string, to: small.pv, cable: pv-10, length: 2 m}\n"
        "  to-house: {from: small.battery, to: house, cable: batt-8, length: 1 m}\n"
    )
    text = SOUND.replace("  cables:\n", bad)
    for key, more in (
        ("strings", "  back-string: {module: bad}\n"),
        ("controllers", small),
        ("wires", wires),
    ):
        text = text.replace(f"\n{key}:\n", f"\n{key}:\n{more}")
    folder(tmp_path, mixed=text)
    done = call("curve", "mixed.yaml", cwd=tmp_path)
    shown = " ".join(done.stdout.decode().split())
    assert done.returncode == 0
    assert "Solar input of tracker" in shown
    assert "input of `small` cannot be drawn: on the label of `bad`" in shown
    rows = call("curve", "mixed.yaml", "--csv", "-", cwd=tmp_path)
    assert rows.returncode == 0
    assert b"small" not in rows.stdout
    assert b"cannot be drawn" in rows.stderr


def test_problems_do_not_mix_with_rows(plans: Path) -> None:
    done = call("curve", "unusable.yaml", "--csv", "-", cwd=plans)
    assert done.stdout == b""
    assert b"unusable.yaml:3:" in done.stderr
    assert b"has no unit" in done.stderr
    assert b"has no unit" in call("curve", "unusable.yaml", cwd=plans).stdout


def test_a_plan_without_an_array_has_no_curve(plans: Path) -> None:
    assert b"No array reaches the solar input" in call("curve", "none.yaml", cwd=plans).stdout


def test_standard_input_with_a_name() -> None:
    done = call("curve", "-", "--name", "below/plan.yaml", stdin=SOUND.encode())
    assert done.returncode == 0
    assert "Plan      below/plan.yaml" in done.stdout.decode()


def test_output_is_the_same_under_two_hash_seeds(plans: Path) -> None:
    for target in ("--csv", "--svg"):
        first, second = (
            call("curve", "sound.yaml", target, "-", cwd=plans, PYTHONHASHSEED=seed).stdout
            for seed in ("0", "4242")
        )
        assert first == second
    first, second = (
        call("curve", "sound.yaml", cwd=plans, PYTHONHASHSEED=seed).stdout for seed in ("1", "77")
    )
    assert first == second


def test_documents_are_utf_8_whatever_the_terminal_is(tmp_path: Path) -> None:
    folder(tmp_path, sound=SOUND.replace("setting:", "title: Süd − Ω\nsetting:", 1))
    done = call("curve", "sound.yaml", "--svg", "-", cwd=tmp_path, PYTHONIOENCODING="ascii")
    assert "Süd − Ω" in done.stdout.decode("utf-8")
    assert call("curve", "sound.yaml", cwd=tmp_path, PYTHONIOENCODING="ascii").returncode == 0


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs /dev/full")
def test_a_full_disk_is_said_in_one_line(plans: Path) -> None:
    done = call("curve", "sound.yaml", "--csv", "/dev/full", cwd=plans)
    assert done.returncode == 2
    assert done.stderr.startswith(b"wattproof: /dev/full cannot be written: ")
    assert done.stderr.count(b"\n") == 1


def test_curve_loads_nothing_heavy(plans: Path) -> None:
    assert heavy_loaded("curve", "sound.yaml", "--csv", "a.csv", "--svg", "-", cwd=plans) == (0, [])
