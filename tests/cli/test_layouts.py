"""`wattproof layouts` as a call: exit statuses, standard input, and what it refuses."""

from __future__ import annotations

import json
from pathlib import Path

from choosing.test_page_section import PLAN
from cli.calls import UNUSABLE, call

OPEN = PLAN.replace("FORM", "arrangement: open, count: 2")


def test_a_layout_that_fits_is_status_0_and_none_is_1(tmp_path: Path) -> None:
    done = call("layouts", "-", stdin=OPEN.encode())
    assert done.returncode == 0, done.stderr
    assert b"Take `" in done.stdout
    low = OPEN.replace("max_input_voltage: 100 V", "max_input_voltage: 20 V")
    done = call("layouts", "-", stdin=low.encode())
    assert done.returncode == 1
    assert b"No layout fits" in done.stdout


def test_nothing_to_choose_and_what_cannot_be_read_are_status_2() -> None:
    chosen = PLAN.replace("FORM", "arrangement: 2s2p")
    done = call("layouts", "-", stdin=chosen.encode())
    assert done.returncode == 2
    assert b"no arrangement is open" in done.stdout
    assert call("layouts", "-", stdin=UNUSABLE.encode()).returncode == 2
    done = call("layouts", "-", "--format", "json", stdin=chosen.encode())
    assert done.returncode == 2
    assert not done.stdout
    assert b"no arrangement is open" in done.stderr


def test_weights_are_three_shares() -> None:
    for wrong in ("1,2", "a,b,c", "0,0,0", "-1,1,1", "inf,1,1", "nan,1,1"):
        done = call("layouts", "-", f"--weights={wrong}", stdin=OPEN.encode())
        assert done.returncode == 2, wrong
        assert b"three numbers" in done.stderr
    done = call("layouts", "-", "--weights", "1,0,1", "--format", "json", stdin=OPEN.encode())
    weights = json.loads(done.stdout)["weights"]
    assert weights == {"standard": 0.5, "hottest": 0.0, "shade": 0.5}
