"""Plans that are not finished: `feeds` for wires that nobody told, `open` for what is to choose."""

from __future__ import annotations

import datetime

import pytest

from plans import BASE, edited, unknown_at
from wattproof.engine import Result, examine
from wattproof.packs import RuleSet, discover
from wattproof.plan import load_plan
from wattproof.plan.ways import FedWire
from wattproof.source import PlanUnusable

SMALL = """\
wattproof: 1
setting: vehicle
code: iec
site: {coldest: -10 °C}
datasheets:
  modules:
    panel: {voc: 22.4 V, isc: 9.8 A, vmp: 18.6 V, pmax: 170 W}
strings:
  roof: {module: panel, arrangement: 2s2p, feeds: {to: tracker, length: 5 m}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 50 A, feeds: house}
batteries:
  house: {chemistry: lithium-iron-phosphate, capacity: 200 Ah}
"""
OPEN = SMALL.replace("arrangement: 2s2p", "arrangement: open, count: 4")


@pytest.fixture(scope="module")
def rules() -> RuleSet:
    return discover()


def checked(text: str, rules: RuleSet) -> Result:
    return examine("plan.yaml", rules, today=datetime.date(2026, 1, 1), text=text).result


def test_a_way_is_a_wire_whose_cable_is_open() -> None:
    plan = load_plan("plan.yaml", text=SMALL)
    home, out = plan.wires["roof-to-tracker"], plan.wires["tracker-to-house"]
    assert isinstance(home, FedWire)
    assert (home.start, home.to, home.length.text) == ("roof", "tracker.pv", "5 m")
    assert (out.start, out.to, out.length) == ("tracker.battery", "house", None)
    assert unknown_at(plan, "tracker-to-house", "length") is not None
    opens = [(o.family, o.name, o.key) for o in plan.opens()]
    assert opens == [("wires", "roof-to-tracker", "cable"), ("wires", "tracker-to-house", "cable")]
    assert home.at.line == 9  # where `feeds` stands


WRONG = [
    # (old, new, line holds, message, instead)
    ("feeds: house", "feeds: hause", "hause", "no component `hause`", "`house`"),
    ("feeds: house", "feeds: tracker", "tracker: {", "feeds itself", "what it feeds"),
    ("feeds: house", "feeds: roof", "tracker: {", "nothing feeds a string", "combiner"),
    ("feeds: house", "feeds: [house]", "tracker: {", "a list", "write `feeds"),
    ("feeds: house", "feeds: {to: house, size: 4 mm²}", "size", "no key `size`", "under `wires`"),
    ("feeds: house", "feeds: {length: 2 m}", "tracker: {", "does not say what", "to: tracker"),
    ("length: 5 m", "length: -5 m", "roof: {", "is negative", "`5 m`"),
    ("arrangement: 2s2p", "count: 4", "roof: {", "`count` alone", "compare all ways"),
    (
        "arrangement: 2s2p",
        "arrangement: 2s2p, count: 4",
        "roof: {",
        "`arrangement: 2s2p` tells how many",
        "delete `count: 4`",
    ),
    (
        "arrangement: 2s2p",
        "series: 2, count: 6",
        "roof: {",
        "`series: 2` tells how many",
        "write how 6 are joined: it stands for 2",
    ),
    ("arrangement: 2s2p", "arrangement: open", "roof: {", "how many modules", "`count: …`"),
    (
        "arrangement: 2s2p",
        "arrangement: open, count: 4, series: 2",
        "roof: {",
        "contradicts",
        "delete",
    ),
    ("arrangement: 2s2p", "arrangement: open, count: 4000", "roof: {", "1 to 1000", "count"),
    ("arrangement: 2s2p", "arrangement: open, count: 400", "roof: {", "at most 60", "split"),
    ("voc: 22.4 V", "voc: open", "panel: {", "not yours to choose", "unknown"),
    ("capacity: 200 Ah", "capacity: open", "house: {", "what `house` has to hold", "`energy`"),
    ("feeds: house", "feeds: {to: house, length: open}", "tracker: {", "`open`", ""),
    (
        "arrangement: 2s2p, feeds: {to: tracker, length: 5 m}",
        "arrangement: open, count: 4",
        "roof: {",
        "which controller",
        "`feeds: tracker`",
    ),
    (
        "arrangement: 2s2p, feeds: {to: tracker, length: 5 m}",
        "arrangement: open, count: 4, controllers: [trakker]",
        "roof: {",
        "no controller with a solar input",
        "`tracker`",
    ),
    (
        "arrangement: 2s2p, feeds",
        "arrangement: open, count: 4, controllers: [tracker], feeds",
        "roof: {",
        "twice",
        "keep",
    ),
]


@pytest.mark.parametrize(("old", "new", "holds", "message", "instead"), WRONG)
def test_what_fits_no_way_or_choice_is_told_at_its_line(
    old: str, new: str, holds: str, message: str, instead: str
) -> None:
    text = edited((old, new), plan=SMALL)
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=text)
    [problem] = caught.value.problems
    assert message in problem.message
    assert instead in problem.instead
    assert holds in text.splitlines()[problem.place.line - 1]


def test_a_circle_is_told_once() -> None:
    joints = "combiners:\n  one: {feeds: two}\n  two: {feeds: one}\n"
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=SMALL + joints)
    [problem] = [p for p in caught.value.problems if "circle" in p.message]
    assert problem.message == "`one` feeds `two`, `two` feeds `one`: this is a circle"


def test_feeds_and_wires_for_one_pair_are_told() -> None:
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=edited(("blocks_reverse: true}", "feeds: house}")))
    [problem] = caught.value.problems
    assert problem.message == "`tracker` feeds `house`, and the wire `charge-run` joins the two"
    assert "keep `charge-run`" in problem.instead


def test_a_way_may_end_at_any_of_several_inputs_that_is_named() -> None:
    several = edited(
        ("max_output_current: 50 A", "max_output_current: 50 A, inputs: {east: {}, west: {}}"),
        plan=SMALL,
    )
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=several)
    assert "write one of `tracker.east`, `tracker.west`" in caught.value.problems[0].instead
    plan = load_plan("plan.yaml", text=several.replace("to: tracker", "to: tracker.west"))
    assert plan.wires["roof-to-tracker"].to == "tracker.west"


def test_missing_fuses_and_switches_of_a_way_are_questions(rules: RuleSet) -> None:
    result = checked(SMALL, rules)
    assert {f.rule for f in result.findings} == {"charge-below-freezing"}
    asked = {d.rule for q in result.questions for d in q.decides}
    assert {"battery-fuse-missing", "array-switch-missing"} <= asked


def test_a_fuse_missing_in_a_told_wire_stays_a_finding(rules: RuleSet) -> None:
    told = edited((", feeds: house", ""), plan=SMALL)
    told += "wires:\n  out: {from: tracker.battery, to: house, cable: unknown, length: 1 m}\n"
    assert "battery-fuse-missing" in {f.rule for f in checked(told, rules).findings}


def test_what_is_not_chosen_is_told_once_and_is_no_finding(rules: RuleSet) -> None:
    result = checked(OPEN, rules)
    assert [(o.name, o.key) for o in result.opens] == [
        ("roof", "arrangement"),
        ("tracker-to-house", "cable"),
    ]
    assert not [f for f in result.findings if f.part in ("module", "string", "plan")]
    assert not [a for a in result.uses if a.open]


OPEN_BASE = [
    ("size: 8 AWG", "size: open"),
    ("rating: 40 A", "rating: open"),
    ("rating: 40 A, voltage: 58 V, style: bolt-down", "rating: open, style: open, voltage: 58 V"),
    ("max_input_voltage: 100 V", "max_input_voltage: open"),
    ("max_output_current: 20 A", "max_output_current: open"),
    ("cable: batt-8", "cable: open"),
]


@pytest.mark.parametrize(("old", "new"), OPEN_BASE)
def test_a_choice_left_open_brings_no_finding(old: str, new: str, rules: RuleSet) -> None:
    before = checked(BASE, rules)
    result = checked(edited((old, new)), rules)
    assert not result.problems
    assert result.opens
    assert {f.rule for f in result.findings} <= {f.rule for f in before.findings}
    subjects = {s for q in result.questions for s in q.subjects}
    names = {o.name for o in result.opens if o.family in ("fuses", "wires", "cables")}
    assert not subjects & names


def test_nothing_is_asked_of_what_is_still_to_be_bought(rules: RuleSet) -> None:
    text = edited(
        ("fuses:\n", "switches:\n  off: {rating: open}\nfuses:\n"),
        ("place: [roof, cabin]}", "place: [roof, cabin], inline: [off]}"),
    )
    result = checked(text, rules)
    assert result.opens
    assert not [q for q in result.questions if "off" in q.subjects]


def test_what_fails_whatever_is_chosen_is_found(rules: RuleSet) -> None:
    dangerous = edited(
        ("max_input_voltage: 100 V", "max_input_voltage: open"),
        ("max_system_voltage: 600 V", "max_system_voltage: 60 V"),
    )
    assert "cold-voltage-over-module" in {f.rule for f in checked(dangerous, rules).findings}


def test_a_cable_may_still_be_called_open() -> None:
    plan = load_plan(
        "plan.yaml", text=edited(("    batt-8:", "    open:"), ("cable: batt-8", "cable: open"))
    )
    assert plan.wires["charge-run"].cable == "open"
    assert not list(plan.opens())


def test_what_comes_from_an_engine_goes_where_it_is_taken() -> None:
    text = SMALL + (
        "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A, feeds: booster}\n"
    )
    booster = "controllers:\n  booster: {kind: vehicle-charger, max_output_current: 30 A,"
    text = text.replace("controllers:\n", f"{booster} feeds: house}}\n")
    plan = load_plan("plan.yaml", text=text)
    assert plan.wires["alternator-to-booster"].to == "booster.alternator"
    assert plan.wires["booster-to-house"].start == "booster.battery"
    converter = text.replace("feeds: booster}", "feeds: down}") + (
        "converters:\n  down: {input_nominal: 24 V, output_nominal: 12 V, "
        "max_output_current: 20 A, feeds: house}\n"
    )
    plan = load_plan("plan.yaml", text=converter)
    assert plan.wires["alternator-to-down"].to == "down.input"
    assert plan.wires["down-to-house"].start == "down.output"
