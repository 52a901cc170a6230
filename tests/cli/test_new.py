"""`wattproof new`: a first plan by options, or by questions on a real pseudo-terminal."""

from __future__ import annotations

import contextlib
import os
import pty
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cli.calls import SOURCES, call
from wattproof.choosing.first_plan import ASKS, BY_KEY, answer, contradiction, plan_text
from wattproof.choosing.layouts import layouts_of
from wattproof.packs import discover
from wattproof.plan import load_plan
from wattproof.quantities import Mistake
from wattproof.testing import A_DAY

EIGHT = (
    *("--modules", "4", "--voc", "22.4 V", "--vmp", "18.6 V", "--isc", "9.8 A"),
    *("--coldest", "-10 °C", "--input-voltage", "100 V", "--output-current", "50 A"),
    *("--battery", "lithium-iron-phosphate"),
)
"""Eight values: the labels, a count, a controller, a battery, and how cold it gets."""


class Terminal:
    """The program on a pseudo-terminal, as a person sees it."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        self.main, side = pty.openpty()
        environment = {**os.environ, "PYTHONPATH": SOURCES, "TERM": "dumb", "COLUMNS": "80"}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "wattproof", "new", *arguments],
            stdin=side,
            stdout=side,
            stderr=side,
            cwd=folder,
            env=environment,
            start_new_session=True,
            preexec_fn=lambda: _own_terminal(side),
        )
        os.close(side)
        self.seen = ""

    def until(self, wanted: str) -> str:
        """What came on the screen until a text stood there."""
        begun, before = time.monotonic(), len(self.seen)
        while wanted not in self.seen[before:]:
            assert time.monotonic() - begun < 60, self.seen
            if not select.select([self.main], [], [], 1)[0]:
                continue
            try:
                read = os.read(self.main, 65536)
            except OSError:  # the other end is closed
                break
            if not read:
                break
            self.seen += read.decode("utf-8", "replace")
        return self.seen[before:]

    def say(self, text: str) -> None:
        os.write(self.main, text.encode())

    def ended(self) -> int:
        self.until("\0")
        return self.process.wait(60)

    def interrupt(self) -> None:
        """Press control-C, again where it came before the program had begun to read."""
        for _ in range(20):
            self.say("\x03")
            with contextlib.suppress(subprocess.TimeoutExpired):
                self.process.wait(1)
                return


def _own_terminal(side: int) -> None:
    import fcntl
    import termios

    fcntl.ioctl(side, termios.TIOCSCTTY, 0)
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # it is ignored where tests run in the background


ANSWERS = {
    "setting": "vehicle",
    "coldest": "-10 °C",
    "modules": "4",
    "voc": "22.4 V",
    "vmp": "18.6 V",
    "isc": "9.8 A",
    "controller": "mppt",
    "input-voltage": "100 V",
    "output-current": "open",
    "battery": "agm",
}


def test_options_alone_end_in_a_justified_answer(tmp_path: Path) -> None:
    begun = time.monotonic()
    done = call("new", *EIGHT, cwd=tmp_path)
    shown = done.stdout.decode()
    assert done.returncode == 0, done.stderr
    assert "Take `2s2p`" in shown
    assert "Remember" in shown
    again = call("layouts", "plan.yaml", cwd=tmp_path)
    assert again.returncode == 0
    assert "Take `2s2p`" in again.stdout.decode()
    assert time.monotonic() - begun < 60  # ten seconds on a machine with nothing else to do
    text = (tmp_path / "plan.yaml").read_text(encoding="utf-8")
    assert "imp: unknown" in text
    assert "arrangement: open" in text
    assert "setting: vehicle  # taken, since nobody said" in text


def test_the_file_can_be_checked_and_opens_are_told(tmp_path: Path) -> None:
    call("new", "first.yaml", *EIGHT, cwd=tmp_path)
    checked = call("check", "first.yaml", cwd=tmp_path)
    assert checked.returncode in (0, 1)
    shown = checked.stdout.decode()
    assert "Not chosen yet" in shown
    assert "`wattproof layouts`" in shown


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (
            ("--voc-coefficient", "-0.29", "--modules", "4", "--battery", "agm"),
            "--voc-coefficient: `-0.29` has no unit",
        ),
        (("--coldest", "14", "--modules", "4", "--battery", "agm"), "--coldest: `14` has no unit"),
        (("--voc", "20 V", "--vmp", "22 V", "--modules", "4", "--battery", "agm"), "contradicts"),
        (("--isc", "5 A", "--imp", "6 A", "--modules", "4", "--battery", "agm"), "contradicts"),
        (
            ("--voc", "24 V", "--isc", "5.2 mA", "--modules", "4", "--battery", "agm"),
            "no module gives so few amperes: look at the unit",
        ),
        (
            ("--voc", "5.2", "--isc", "24.3", "--modules", "4", "--battery", "agm"),
            "stand in each other's place",
        ),
        (
            ("--voc", "24.3", "--isc", "5200", "--modules", "4", "--battery", "agm"),
            "look at the unit",
        ),
        (
            ("--nominal", "100", "--capacity", "12", "--modules", "4", "--battery", "agm"),
            "stand in each other's place",
        ),
        (
            (
                *("--pmax", "400 W", "--vmp", "18 V", "--imp", "5 A"),
                *("--modules", "4", "--battery", "agm"),
            ),
            "about 90 W",
        ),
        (("--modules", "4"), "--battery is needed"),
        (("--battery", "agm"), "--modules is needed"),
        (("--modules", "4000", "--battery", "agm"), "from 1 to 1000"),
        (("--modules", "400", "--battery", "agm"), "at most 60"),
        (("--modules", "0", "--battery", "agm"), "from 1 to 1000"),
        (("--modules", "4", "--battery", "lead"), "none of"),
        (("--modules", "4", "--battery", "agm", "--voc", "open"), "not yours to choose"),
        (
            ("--modules", "4", "--battery", "agm", "--controllers", "2", "--length", "5 m"),
            "--length",
        ),
        ((), "no terminal to ask on"),
    ],
)
def test_what_cannot_be_is_one_line_and_writes_nothing(
    options: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    done = call("new", *options, cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr.decode()
    assert len(done.stderr.decode().splitlines()) == 1
    assert not list(tmp_path.iterdir())


def test_all_that_is_wrong_or_missing_is_told_a_line_each(tmp_path: Path) -> None:
    """All stood in one line, and of what is missing the first alone was told, in another run."""
    done = call("new", "--voc", "24,3", "--coldest", "10", cwd=tmp_path)
    told = done.stderr.decode().splitlines()
    assert done.returncode == 2
    assert all(line.startswith("wattproof: --") for line in told)
    for said in ("--voc: ", "--coldest: ", "--modules is needed", "--battery is needed"):
        assert len([line for line in told if said in line]) == 1
    assert len(told) == 4


def test_who_does_not_know_the_battery_says_so(tmp_path: Path) -> None:
    asked = call("new", "--modules", "2", "--pmax", "200 W", cwd=tmp_path)
    assert "or --battery unknown where nobody can tell" in asked.stderr.decode()
    done = call("new", "--modules", "2", "--pmax", "200", "--battery", "unknown", cwd=tmp_path)
    assert done.returncode == 0
    assert "chemistry: unknown" in (tmp_path / "plan.yaml").read_text(encoding="utf-8")


def test_an_existing_file_is_never_overwritten(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text("mine\n")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "nowhere")
    for name in ("plan.yaml", "link.yaml"):
        done = call("new", name, *EIGHT, cwd=tmp_path)
        assert done.returncode == 2
        assert "not overwritten" in done.stderr.decode()
    assert (tmp_path / "plan.yaml").read_text() == "mine\n"
    assert call("new", "no/such.yaml", *EIGHT, cwd=tmp_path).returncode == 2


def test_questions_are_asked_one_by_one_on_a_terminal(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path)
    for ask in ASKS:
        shown = terminal.until("> ")
        plain = " ".join(shown.split())
        assert ask.asks.split("?")[0].split(",")[0] in plain
        assert ask.where[1:20] in plain
        terminal.say(f"{ANSWERS.get(ask.key, '')}\n")
    assert terminal.ended() == 0
    assert "Take `" in terminal.seen
    text = (tmp_path / "plan.yaml").read_text(encoding="utf-8")
    assert "voc: 22.4 V" in text
    assert "max_output_current: open" in text
    assert "capacity: unknown" in text
    assert "coldest: -10 °C" in text


def test_a_wrong_answer_is_asked_again_and_a_needed_one_too(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path)
    terminal.until("> ")
    terminal.say("\n")
    assert "needed" in terminal.until("> ")
    terminal.say("balloon\n")
    assert "none of" in terminal.until("> ")
    terminal.say("\x04")
    assert terminal.ended() == 130
    assert not list(tmp_path.iterdir())


def test_control_c_leaves_nothing_behind(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path)
    terminal.until("> ")
    terminal.say("boat\n")
    terminal.until("> ")
    terminal.interrupt()
    assert terminal.ended() == 130
    assert "nothing was written" in terminal.seen
    assert not list(tmp_path.iterdir())


def test_a_signal_while_it_asks_leaves_nothing_behind(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path)
    terminal.until("> ")
    terminal.process.send_signal(signal.SIGTERM)
    terminal.ended()
    assert not list(tmp_path.iterdir())


def test_every_text_of_answers_is_a_plan() -> None:
    needed = {"setting": "cabin", "modules": "3", "controller": "pwm", "battery": "gel"}
    assert load_plan("plan.yaml", text=plan_text(needed)).strings["roof"].count == 3
    several = {**needed, "controllers": "3", "controller": "mppt"}
    plan = load_plan("plan.yaml", text=plan_text(several))
    assert plan.strings["roof"].controllers == ("tracker-1", "tracker-2", "tracker-3")


def test_a_vehicle_charger_with_a_solar_input_is_one_of_the_controllers() -> None:
    """By any of its names; layouts then hold against what its solar input takes."""
    written = answer(BY_KEY["controller"], "DC-DC")
    told = {"setting": "vehicle", "modules": "2", "controller": written, "battery": "agm"}
    told |= {"voc": "24.4 V", "isc": "5.6 A", "coldest": "0 °C", "input-voltage": "25 V"}
    plan = load_plan("plan.yaml", text=plan_text(told))
    assert plan.controllers["charger"].kind == "vehicle-charger"
    ranked = layouts_of(plan, discover(), file="plan.yaml", today=A_DAY)
    assert {f.rule for f in ranked.tried[0].result.each if f.level == "error"} == {
        "cold-voltage-over-controller"
    }


def test_no_value_is_made_up() -> None:
    text = plan_text({"setting": "cabin", "modules": "3", "controller": "mppt", "battery": "gel"})
    assert not any(sign in text for sign in (" V\n", " A\n", " W\n", " Ah\n", "°C  "))


def test_answers_are_read_as_the_plan_will_read_them() -> None:
    asks = {ask.key: ask for ask in ASKS}
    assert answer(asks["voc"], " 22.4 V ") == "22.4 V"
    assert answer(asks["voc"], "unknown") == ""
    assert answer(asks["output-current"], "open") == "open"
    with pytest.raises(Mistake):
        answer(asks["voc"], "22,4 V")
    assert contradiction({"voc": "22 V", "vmp": "18 V"}) is None


@pytest.mark.parametrize(
    ("key", "written", "meant"),
    [
        ("battery", "LiFePO4", "lithium-iron-phosphate"),
        ("battery", "AGM", "agm"),
        ("controller", "PWM", "pwm"),
        ("setting", "van", "vehicle"),
        ("code", "NEC", "nec-2023"),
    ],
)
def test_a_word_may_be_spelt_as_people_spell_it(key: str, written: str, meant: str) -> None:
    assert answer(next(ask for ask in ASKS if ask.key == key), written) == meant


@pytest.mark.parametrize(
    ("key", "written", "meant"),
    [
        ("voc", "22.4", "22.4 V"),
        ("isc", " .8 ", ".8 A"),
        ("pmax", "100", "100 W"),
        ("capacity", "200", "200 Ah"),
        ("output-current", "30", "30 A"),
    ],
)
def test_a_number_alone_is_taken_in_the_unit_of_its_question(
    key: str, written: str, meant: str
) -> None:
    assert answer(BY_KEY[key], written) == meant


@pytest.mark.parametrize(
    ("key", "written"),
    [
        ("coldest", "14"),  # °C or °F
        ("length", "5"),  # m or ft
        ("voc-coefficient", "-0.29"),  # of the voltage, or in V or mV
        ("isc", "-7"),
        ("voc", "22,4"),
    ],
)
def test_a_number_that_may_mean_two_things_is_not(key: str, written: str) -> None:
    with pytest.raises(Mistake):
        answer(BY_KEY[key], written)


def test_all_options_that_cannot_be_read_are_told_at_once(tmp_path: Path) -> None:
    done = call("new", "--battery", "lithium", "--isc", "7.1 V", "--modules", "4", cwd=tmp_path)
    assert done.returncode == 2
    assert "--battery: `lithium` is none of" in done.stderr.decode()
    assert "--isc: `7.1 V` is a voltage, not a current" in done.stderr.decode()
    assert not list(tmp_path.iterdir())
