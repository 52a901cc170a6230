"""What a plan does not tell: no guess makes a finding that is certain, and no telling hides one.

Sampled: the faulty examples with one told value in turn made unknown, and published builds.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from external.published_builds import FOLDER
from plans import edited
from rule_runs import RULES
from wattproof.engine import Result, check_file
from wattproof.loading import load_study
from wattproof.study.assumptions.supposed import supposed_in, where_supposed
from wattproof.testing import A_DAY
from wattproof.working import Supposed

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


UNITS = {
    "voltage": ("V", 1.0),
    "current": ("A", 1.0),
    "power": ("W", 1.0),
    "charge": ("Ah", 3600.0),
    "length": ("m", 1.0),
    "conductor size": ("mm²", 1e-6),
}
VALUES = {"length:", "rating:", "capacity:", "max_output_current:", "size:", "power:", "current:"}
"""Keys that hold a value and not a part of which nothing is known."""


def told_as_usual(text: str) -> Iterator[str]:
    """The plan with one value in turn, which it says is unknown, told as its usual figure."""
    lines = text.splitlines(keepends=True)
    plan = load_study("plan.yaml", text=text).plan
    for value in supposed_in(plan, where_supposed(plan)):
        if not isinstance(value, Supposed):
            continue
        place, (unit, factor) = value.assumption.place, UNITS[value.dimension]
        line, start = lines[place.line - 1], place.column - 1
        key = line[:start].rstrip().rpartition(" ")[2]
        if line[start:].startswith("unknown") and key in VALUES:
            amount = f"{value.value / factor:.6g} {unit}"
            new = line[:start] + amount + line[start + len("unknown") :]
            yield "".join([*lines[: place.line - 1], new, *lines[place.line :]])


@pytest.mark.parametrize("name", ["cube-four-modules", "van-fifty-amp-charger"])
def test_telling_one_value_more_hides_nothing_certain_and_brings_nothing_unasked(name: str) -> None:
    text = (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")
    before = checked(text)
    certain = {
        (f.rule, f.subjects[0]) for f in before.each if f.verdict == "certain" and f.level != "note"
    }
    assert not before.problems
    told = list(told_as_usual(text))
    assert told
    for other in told:
        after = checked(other)
        assert not after.problems, (after.problems, other)
        assert certain <= {(f.rule, f.subjects[0]) for f in after.each}, other
        if not before.at_worst:
            graver = {(f.rule, f.subjects[0]) for f in after.each if f.level == "error"}
            assert graver <= known(before), other


def test_the_input_limit_that_nobody_tells_is_asked() -> None:
    """The rule compares with a share of it; the number that is shown carries the label."""
    text = edited(("max_input_voltage: 100 V", "max_input_voltage: unknown"))
    assert "max_input_voltage: unknown" in text
    keys = {label.key for question in checked(text).questions for label in question.labels}
    assert "highest input voltage" in keys


def test_an_inverter_of_which_nothing_is_told_fits_the_cable_that_is() -> None:
    text = (FOLDER / "box-folding-module.yaml").read_text(encoding="utf-8")
    assert not [f for f in checked(text).each if f.level == "error"]


def test_a_wire_behind_too_large_a_fuse_may_have_one_of_its_own_where_a_part_is_told() -> None:
    whole = edited(("rating: 40 A", "rating: 80 A"))
    part = whole.replace("setting: vehicle\n", "setting: vehicle\ntold: part\n")
    assert checked(whole).problems == checked(part).problems == ()
    assert {f.rule for f in checked(part).each} <= {f.rule for f in checked(whole).each}


SMALL_SET = """\
wattproof: 1
setting: cabin
told: part
datasheets: {modules: {module: {pmax: 100 W}}}
strings: {roof: {module: module, arrangement: 4p, mounting: open-rack, feeds: charger}}
controllers: {charger: {kind: mppt, max_output_current: 30 A, feeds: bank}}
batteries: {bank: {chemistry: agm, nominal: 12 V, capacity: 68 Ah}}
"""


def test_whether_a_fuse_is_there_is_asked_before_what_is_printed_on_anything() -> None:
    """An electrician looks for the fuse first, and then for the size of each wire."""
    first = checked(SMALL_SET).questions[0]
    assert first.asks.startswith("whether there is a fuse or breaker")


@pytest.mark.parametrize(
    ("power", "joined", "found"),
    [("100 W", "4p", True), ("130 W", "3p", True), ("150 W", "3p", False)],
)
def test_small_modules_have_a_current_by_their_power_and_larger_ones_a_guess(
    power: str, joined: str, found: bool
) -> None:
    """Of 150 W there are modules of 36 cells and of 72, with half the current."""
    text = SMALL_SET.replace("100 W", power).replace("told: part\n", "").replace("4p", joined)
    text = text.replace("feeds: charger", "").replace(", }", "}")
    text += "wires: {run: {from: roof, to: charger.pv, cable: unknown, length: unknown}}\n"
    result = checked(text)
    told = {(f.rule, f.verdict) for f in result.each}
    assert (("string-fuse-missing", "likely") in told) == found
    assert ("string-fuse-missing", "roof") in known(result)


@pytest.mark.parametrize(
    ("rated", "said"),
    [("10 A", "nothing"), ("25 A", "asked"), ("40 A", "likely"), ("80 A", "certain")],
)
def test_a_sealed_battery_takes_what_its_label_says(rated: str, said: str) -> None:
    """Labels of AGM differ from 0.2 to 1 A for each Ah: 14 A, 27 A and 68 A of 68 Ah."""
    text = SMALL_SET.replace("30 A", rated).replace("100 W", "400 W").replace("4p", "3p")
    result = checked(text)
    rule = "charge-current-over-battery"
    told = {f.verdict for f in result.each if f.rule == rule}
    if said in ("certain", "likely"):
        assert told == {said}
    else:
        assert not told
        assert ((rule, "bank") in known(result)) == (said == "asked")


@pytest.mark.parametrize(
    ("kind", "boost", "said"),
    [
        ("vehicle-charger", "", "asked"),
        ("vehicle-charger", ", boost: false", "found"),
        ("vehicle-charger", ", boost: true", "nothing"),
        ("mppt", "", "found"),
    ],
)
def test_whether_a_vehicle_charger_raises_the_voltage_is_asked(
    kind: str, boost: str, said: str
) -> None:
    text = SMALL_SET.replace("mppt", kind + boost).replace("open-rack", "roof-bonded")
    text = text.replace("pmax: 100 W", "pmax: 100 W, vmp: 17.6 V, build: flexible")
    result = checked(text)
    rule = "hot-voltage-under-battery"
    assert any(f.rule == rule for f in result.each) == (said == "found")
    asked = any("of a lower voltage than" in q.asks for q in result.questions)
    assert asked == (said == "asked")


THICK_OR_SHORT = """\
wattproof: 1
setting: cabin
batteries: {bank: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
fuses: {main: {rating: 60 A}}
loads: {heater: {current: 20 A}}
wires: {run: {from: bank, to: heater, cable: CABLE, length: LENGTH, inline: main}}
"""


@pytest.mark.parametrize(
    ("cable", "length", "verdict"),
    [("unknown", "unknown", ""), ("unknown", "60 m", "certain"), ("thin", "12 m", "certain")],
)
def test_what_a_thick_and_short_wire_loses_is_tried_too(
    cable: str, length: str, verdict: str
) -> None:
    """Size and length stand at the same end of what is plausible in neither kind reading alone."""
    text = THICK_OR_SHORT.replace("CABLE", cable).replace("LENGTH", length)
    text += "datasheets: {cables: {thin: {size: 4 mm²}}}\n"
    found = {f.verdict for f in checked(text).each if f.rule == "voltage-drop-high"}
    assert found == ({verdict} if verdict else set())


@pytest.mark.parametrize(
    ("rating", "level"), [("40 A", "note"), ("100 A", "error"), ("none", "error")]
)
def test_a_wire_whose_fuse_opens_before_its_load_flows_is_no_fire(rating: str, level: str) -> None:
    """90 A on 8 AWG: behind 40 A, which fits it, the fuse blows and the wire stays cool."""
    text = THICK_OR_SHORT.replace("20 A", "90 A").replace("60 A", rating)
    text = text.replace("CABLE", "ten").replace("LENGTH", "2 m").replace("4 mm²", "10 mm²")
    text += "datasheets: {cables: {ten: {size: 8 AWG, insulation_temperature: 105 °C}}}\n"
    if rating == "none":
        text = text.replace(", inline: main", "").replace("fuses: {main: {rating: none}}\n", "")
    [found] = [f for f in checked(text).each if f.rule == "conductor-too-small"]
    assert found.level == level
    assert ("its fuse opens before that" in found.message) == (level == "note")


def test_where_a_flooded_battery_stands_is_asked() -> None:
    text = THICK_OR_SHORT.replace("CABLE", "unknown").replace("LENGTH", "2 m")
    asked = "where `bank` stands, and whether its gas gets outside"
    assert asked not in {q.asks for q in checked(text).questions}
    flooded = text.replace("agm", "flooded")
    assert asked in {q.asks for q in checked(flooded).questions}
    assert asked not in {
        q.asks
        for q in checked(
            flooded.replace("flooded", "flooded, place: shed")
            + "site: {places: {shed: {vented: true}}}\n"
        ).questions
    }


@pytest.mark.parametrize(("rating", "told"), [("200 A", False), ("225 A", True)])
def test_what_is_past_its_limit_by_a_hair_is_asked(rating: str, told: bool) -> None:
    """35 mm² of an insulation that nobody tells is protected by 192 A at 90 °C, by more at 105."""
    text = (FOLDER / "camper-contactor.yaml").read_text(encoding="utf-8")
    result = checked(text.replace("main-fuse: {rating: 200 A", f"main-fuse: {{rating: {rating}"))
    about = ("fuse-over-conductor", "bank-run")
    assert (about in {(f.rule, f.subjects[0]) for f in result.each}) is told
    assert about in known(result)
