"""What a plan does not tell: no guess makes a finding that is certain, and no telling hides one.

Sampled: the faulty examples with one told value in turn made unknown, and published builds.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from external.published_builds import FOLDER
from rule_runs import RULES
from wattproof.engine import Result, check_file
from wattproof.testing import A_DAY

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
LABELS = re.compile(
    r"\b(rating|interrupt|size|insulation_temperature|max_input_voltage|max_output_current"
    r"|capacity|voc|isc|vmp|max_series_fuse|length): ([^,}#\n]+)"
)
STEP = 6
"""Every so many labels of an example one is made unknown."""


def checked(text: str) -> Result:
    return check_file("plan.yaml", RULES, today=A_DAY, text=text, try_remedies=False)


def untold(text: str) -> Iterator[str]:
    """The plan with one label in turn unknown."""
    for match in list(LABELS.finditer(text))[::STEP]:
        yield text[: match.start(2)] + "unknown" + text[match.end(2) :]


def known(result: Result) -> set[tuple[str, str]]:
    """What is found, likely or certain, and what is asked: by rule and first component."""
    found = {(f.rule, f.subjects[0]) for f in result.each}
    return found | {(d.rule, d.subjects[0]) for q in result.questions for d in q.decides}


@pytest.mark.parametrize("name", ["van-cold-morning", "boat-thin-cable"])
def test_what_is_certain_is_found_or_asked_when_a_label_is_unknown(name: str) -> None:
    text = (EXAMPLES / "faulty" / f"{name}.yaml").read_text(encoding="utf-8")
    certain = {
        (f.rule, f.subjects[0])
        for f in checked(text).each
        if f.level != "note" and f.verdict == "certain"
    }
    assert certain
    for other in untold(text):
        result = checked(other)
        if result.problems:
            continue  # a key that has to be told
        lost = certain - known(result) if not result.at_worst else set()
        assert not lost, (lost, other)


def test_a_plan_that_tells_all_asks_nothing_of_its_labels() -> None:
    result = checked((EXAMPLES / "van-two-modules.yaml").read_text(encoding="utf-8"))
    assert not [q for q in result.questions if not q.marginal]
    assert all(f.verdict == "certain" for f in result.each)


@pytest.mark.parametrize("name", ["hut-large-inverter", "cruiser-larger-fuse"])
def test_no_error_of_a_build_hangs_on_a_guess(name: str) -> None:
    """Errors hold whatever a guess may turn out to be; they do not go when it is told kindly."""
    result = checked((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))
    for finding in result.each:
        if finding.level == "error":
            assert finding.verdict == "certain", finding.message


TWO_WIRES = """\
wattproof: 1
setting: cabin
code: iec
datasheets:
  modules:
    panel: {{voc: 37.8 V, isc: 10.9 A, vmp: 31.4 V, pmax: 320 W}}
  cables:
    thin: {{size: 4 mm², kind: pv}}
    pv: {{size: {size}, kind: pv}}
strings:
  roof: {{module: panel, arrangement: 2p}}
controllers:
  tracker: {{kind: mppt, max_input_voltage: 100 V, max_output_current: 60 A, feeds: house}}
combiners:
  box: {{rating: 60 A}}
batteries:
  house: {{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 300 Ah}}
wires:
  lead: {{from: roof, to: box, cable: thin, length: unknown}}
  run: {{from: box, to: tracker.pv, cable: pv, length: 10 m}}
"""


@pytest.mark.parametrize(("size", "told"), [("10 mm²", True), ("95 mm²", False)])
def test_a_loss_is_found_whichever_of_its_wires_loses_the_most(size: str, told: bool) -> None:
    """With the lead as long as usual (5 m) it loses the most, with one of 1.5 m the run does.

    20 m x 20.4 A / (48 m/Ωmm² x 10 mm²) = 0.85 V of 31.4 V are lost in the run alone, hot.
    """
    result = checked(TWO_WIRES.format(size=size))
    lost = [f for f in result.each if f.rule == "voltage-drop-high" and "run" in f.subjects]
    assert bool(lost) == told
    assert all(f.verdict == "certain" for f in lost)
    if not told:
        assert any(d.rule == "voltage-drop-high" for q in result.questions for d in q.decides)
