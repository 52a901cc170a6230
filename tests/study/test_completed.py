"""Plans with unknown values: checked end to end, each figure told as assumed."""

from __future__ import annotations

import re
from typing import Any

import pytest

from plans import BASE, EXAMPLES, edited
from wattproof.engine import check
from wattproof.packs import discover
from wattproof.plan import array, datasheets, devices, load_plan, power, wiring
from wattproof.plan.datasheets import ModuleSheet
from wattproof.plan.fields import is_needed
from wattproof.plan.root import Plan
from wattproof.study.assumptions.completing import Figure, completed
from wattproof.testing import A_DAY, check_text, study_of
from wattproof.working import Supposed


def test_a_plan_that_tells_all_stays_itself() -> None:
    plan = load_plan("plan.yaml", text=BASE)
    assert completed(plan) is plan


def test_completing_twice_changes_nothing() -> None:
    plan = completed(load_plan("plan.yaml", text=edited(("voc: 24.3 V", "voc: unknown"))))
    assert completed(plan) is plan


def module(plan: Plan) -> ModuleSheet:
    return plan.datasheets.modules["rigid-100"]


@pytest.mark.parametrize(
    ("edits", "read", "value"),
    [
        # a label by the rest of it: Voc = Vmp / 0.82 = 20.4 / 0.82
        (
            [("voc: 24.3 V", "voc: unknown")],
            lambda p: p.datasheets.modules["rigid-100"].voc,
            24.878,
        ),
        (
            [("vmp: 20.4 V", "vmp: unknown")],
            lambda p: p.datasheets.modules["rigid-100"].vmp,
            19.926,
        ),
        ([("isc: 5.2 A", "isc: unknown")], lambda p: p.datasheets.modules["rigid-100"].isc, 5.2128),
        # half of the thin-film modules above 70 W have more than 60 V
        (
            [
                ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,", ""),
                ("rigid-100: {", "rigid-100: {technology: thin-film, pmax: 100 W,"),
            ],
            lambda p: p.datasheets.modules["rigid-100"].vmp,
            60.0,
        ),
        # Imp = Isc x 0.94
        (
            [("imp: 4.9 A, pmax: 100 W,", "")],
            lambda p: p.datasheets.modules["rigid-100"].imp,
            4.888,
        ),
        # a fuse by the cable that it is in: 8 AWG
        ([("rating: 40 A", "rating: unknown")], lambda p: p.fuses["charge-fuse"].rating, 40.0),
        # a cable by the fuse in it: 40 A wants 8 AWG, and 10 mm² is the next size sold
        ([("size: 8 AWG", "size: unknown")], lambda p: p.datasheets.cables["batt-8"].size, 10e-6),
        ([("size: 10 AWG", "size: unknown")], lambda p: p.datasheets.cables["pv-10"].size, 6e-6),
        ([("length: 4 m", "length: unknown")], lambda p: p.wires["home-run"].length, 5.0),
        ([("length: 1 m", "length: unknown")], lambda p: p.wires["charge-run"].length, 2.0),
        (
            [("max_input_voltage: 100 V", "max_input_voltage: unknown")],
            lambda p: p.controllers["tracker"].max_input_voltage,
            100.0,
        ),
        (
            [("max_output_current: 20 A", "max_output_current: unknown")],
            lambda p: p.controllers["tracker"].max_output_current,
            40.0,  # 1.25 × 300 W / 12 V
        ),
        ([("nominal: 12.8 V", "nominal: unknown")], lambda p: p.batteries["house"].nominal, 12.8),
        # what hangs on it is made for 24 V
        (
            [("nominal: 12.8 V", "nominal: unknown"), ("kind: mppt", "kind: mppt, nominal: 24 V")],
            lambda p: p.batteries["house"].nominal,
            25.6,
        ),
        (
            [("capacity: 100 Ah", "capacity: unknown")],
            lambda p: p.batteries["house"].capacity,
            360_000.0,
        ),
    ],
)
def test_figures(edits: list[tuple[str, str]], read: Any, value: float) -> None:
    figure = read(study_of(edited(*edits)).plan)
    assert isinstance(figure, Supposed)
    assert figure.value == pytest.approx(value, rel=1e-3)
    assert str(figure) == "unknown"


def test_another_figure_may_be_chosen() -> None:
    """By family, name and key; what hangs on it follows."""
    asked = []

    def choose(family: str, name: str, key: str, usual: Figure) -> Figure:
        asked.append((family, name, key, usual.value))
        return Figure(30.0)

    plan = load_plan("plan.yaml", text=edited(("voc: 24.3 V", "voc: unknown")))
    found = completed(plan, choose)
    assert found.datasheets.modules["rigid-100"].voc.value == 30.0
    assert [each[:3] for each in asked] == [("modules", "rigid-100", "voc")]


def test_leaving_out_and_saying_unknown_is_the_same() -> None:
    out = check_text(edited(("rating: 40 A, ", "")))
    said = check_text(edited(("rating: 40 A", "rating: unknown")))
    assert [(f.rule, f.message) for f in out.findings] == [
        (f.rule, f.message) for f in said.findings
    ]
    assert {a.says for a in out.uses} == {a.says for a in said.uses}


def test_a_finding_on_an_unknown_size_is_no_error() -> None:
    inline = "{charge-fuse: {from_end: to, distance: 10 cm}}"
    edits = [("size: 8 AWG", "size: unknown"), (inline, "charge-fuse"), ("40 A", "400 A")]
    result = check_text(edited(*edits))
    on_size = [f for f in result.findings if f.rule == "fuse-over-conductor"]
    assert all(f.level != "error" for f in on_size)


def test_no_question_hangs_on_a_cable_thicker_than_any_table() -> None:
    """A 125 A fuse is usual on 70 mm²; at 2.5 times that "what 175 mm² may carry is not known"."""
    edits = [("size: 8 AWG", "size: unknown"), ("40 A", "125 A"), ("nec-2023", "iso-13297")]
    told = [each.message for q in check_text(edited(*edits)).questions for each in q.decides]
    assert not any("is not known" in message for message in told)


BARE = (
    """\
wattproof: 1
setting: boat
strings: {roof: {module: unknown}}
fuses: {main: unknown, array: {}}
breakers: {spare: unknown}
switches: {off: unknown}
controllers: {tracker: {kind: mppt}}
batteries: {house: {chemistry: agm}, start: {chemistry: flooded, nominal: unknown}}
busbars: {bar: unknown}
distribution: {panel: {ways: {lights: unknown}}}
inverters: {mains: unknown}
loads: {lamp: unknown}
chargers: {shore: {kind: shore}, engine: {kind: alternator}}
arresters: {surge: {across: tracker.pv}}
bonds: {tie: {from: house.negative, to: chassis}}
wires:
  array: {from: roof, to: tracker.pv, inline: [array-fuse, off]}
  charge: {from: tracker.battery, to: house, cable: unknown, length: unknown}
  feed: {from: house, to: bar, inline: [main]}
  spare-run: {from: house, to: panel, inline: [spare]}
  lights: {from: panel.lights, to: lamp}
  inverter: {from: bar, to: mains}
  shore-run: {from: shore, to: house}
  engine-run: {from: engine, to: start}
""".replace("array: {}", "array-fuse: {}")
    .replace("  array: {from", "  roof-run: {from")
    .replace("  charge: {", "  charge-run: {")
    .replace("  feed: {", "  feed-run: {")
    .replace("  lights: {from", "  lights-run: {from")
    .replace("  inverter: {", "  inverter-run: {")
)


def test_a_plan_of_nothing_but_unknown_values_is_checked() -> None:
    result = check_text(BARE)
    assert not result.failed, [f.message for f in result.findings if f.rule == "rule-failed"]
    assert set(result.ran) == set(result.planned)
    assert not [f for f in result.findings if f.level == "error" and f.verdict != "certain"]


def _needed_keys() -> set[str]:
    """Keys of components and labels that plans need and need not tell."""
    models = [
        getattr(home, name)
        for home in (array, datasheets, devices, power, wiring)
        for name in dir(home)
        if hasattr(getattr(home, name), "model_fields")
    ]
    return {
        field.alias or key
        for model in models
        for key, field in model.model_fields.items()
        if is_needed(field)
    }


@pytest.mark.parametrize("name", ["van-six-modules", "boat-lead-bank", "van-vehicle-charger"])
def test_no_rule_fails_for_want_of_a_value(name: str) -> None:
    """Examples with one key after the other unknown wherever it stands."""
    path = EXAMPLES / f"{name}.yaml"
    text = path.read_text(encoding="utf-8")
    rule_set = discover()
    changed = {}
    for key in sorted(_needed_keys() - {"voltage", "current"}):  # which readings have too
        value = rf"\b{key}: [^,{{}}\[\]\n#]+?(?=[,}}\n]| +#)"
        if key == "kind":  # which the rest of a charger hangs on, and which others must tell
            value = r"\bkind: (?:mppt|pwm)\b"
        changed[key] = re.sub(value, f"{key}: unknown", text)
    for key, each in changed.items():
        if each != text:
            study = study_of(each, name=str(path))
            assert list(load_plan(str(path), text=each).unknowns()), key
            result = check(study, rule_set, file="p", today=A_DAY, try_remedies=False).result
            assert not result.failed, (key, [f.message for f in result.findings])


@pytest.mark.parametrize(
    ("positive", "size", "length"),
    [
        ("cable: batt-8, length: 3 m", 8.37, 3.0),  # 8 AWG, as its positive
        ("cable: unknown, length: unknown", 10.0, 2.0),  # behind 40 A, and no link beside a battery
    ],
)
def test_a_negative_of_which_nothing_is_told_is_as_its_positive(
    positive: str, size: float, length: float
) -> None:
    """Its fuse sits in the other pole: by the draw alone it would be thinner than its fuse."""
    run = "charge-run: {from: tracker.battery, to: house"
    text = edited((f"{run}, cable: batt-8, length: 1 m", f"{run}, pole: positive, {positive}"))
    back = "  charge-back: {from: house, to: tracker.battery, pole: negative, cable: unknown,\n"
    plan = completed(load_plan("plan.yaml", text=f"{text}{back}               length: unknown}}\n"))
    wire = plan.wires["charge-back"]
    assert plan.datasheets.cables[wire.cable].size.value * 1e6 == pytest.approx(size, rel=0.01)
    assert wire.length is not None
    assert wire.length.value == length


PACKS = """
wattproof: 1
setting: boat
datasheets: {cables: {thin: {size: 6 AWG, kind: marine}}}
batteries: {bank: {chemistry: LiFePO4, nominal: 12 V, capacity: 200 Ah, arrangement: 4p,
                   each_pack: {fuse: post-fuse, distance: 0 cm}}}
fuses: {post-fuse: {style: stud-mounted}}
chargers: {shore: {kind: shore, max_output_current: 30 A}}
wires: {charge: {from: shore, to: bank, cable: thin, length: 3 m}}
"""


def test_a_fuse_at_each_pack_is_as_large_as_what_a_pack_gives() -> None:
    """200 Ah at 1 A for each is 200 A, by its label 90 A: the next fuse sold is 100 A."""
    rating = completed(load_plan("plan.yaml", text=PACKS)).fuses["post-fuse"].rating
    assert rating is not None
    assert rating.value == pytest.approx(200.0)
    labelled = edited(("200 Ah,", "200 Ah, max_discharge_current: 90 A,"), plan=PACKS)
    rating = completed(load_plan("plan.yaml", text=labelled)).fuses["post-fuse"].rating
    assert rating is not None
    assert rating.value == pytest.approx(100.0)


def test_what_fuses_at_four_packs_let_through_is_too_much_for_a_thin_wire() -> None:
    """Four of at least 100 A on 6 AWG, whatever they are; they were taken for 15 A each."""
    [finding] = [f for f in check_text(PACKS).each if f.rule == "battery-fuse-missing"]
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert "`post-fuse` of each pack lets 800 A through in all" in finding.message


def test_a_bank_of_which_little_is_told_may_bear_its_chargers() -> None:
    """20 A and 30 A of usual chargers over 40 A of a usual bank: three guesses, and a question."""
    text = """
wattproof: 1
setting: boat
batteries: {house: {chemistry: agm, nominal: 12 V}}
chargers: {shore: {kind: shore, feeds: house}, wind: {kind: wind, feeds: house}}
"""
    result = check_text(text)
    assert "charge-current-over-battery" not in {f.rule for f in result.each}
    asked = {d.rule for q in result.questions for d in q.decides}
    assert "charge-current-over-battery" in asked


def test_a_cable_larger_than_the_tables_may_be_several() -> None:
    """558 A behind a fuse of 600 A, where the table ends at 4/0 AWG, and nobody tells the cable."""
    text = """
wattproof: 1
setting: boat
code: abyc-e11
batteries: {house: {chemistry: LiFePO4, nominal: 25.6 V, capacity: 1000 Ah}}
inverters: {mains: {power: 12 kW, nominal: 24 V}}
fuses: {main: {rating: 600 A, style: class-t}}
datasheets: {cables: {told: {size: 4/0 AWG, kind: marine}}}
wires: {run: {from: house, to: mains, length: 1 m, inline: [{main: {from_end: from}}]}}
"""
    rule = "conductor-too-small"
    result = check_text(text)
    assert rule not in {f.rule for f in result.each}
    assert rule in {d.rule for q in result.questions for d in q.decides}
    told = edited(("run: {", "run: {cable: told, "), plan=text)
    assert [f.level for f in check_text(told).each if f.rule == rule] == ["error"]


ANY_MODULE = """
wattproof: 1
setting: cabin
strings: {roof: {module: unknown, feeds: controller}}
controllers: {controller: {kind: pwm, max_input_voltage: 40 V, max_output_current: 10 A, feeds: b}}
batteries: {b: {chemistry: agm, nominal: 12 V, capacity: 300 Ah}}
"""


@pytest.mark.parametrize(
    "rule",
    [
        "cold-voltage-over-controller",  # 45 V of a large module: 22.8 V of a small one were sure
        "controller-input-over-current",  # 15 A of it: 5.7 A were sure
        "charge-current-too-small",  # 8 A of 100 W, where 9 A are wanted
    ],
)
def test_a_module_of_which_nothing_is_told_may_be_any(rule: str) -> None:
    result = check_text(ANY_MODULE)
    assert rule not in {f.rule for f in result.each}
    assert rule in {d.rule for q in result.questions for d in q.decides}


THIN_FILM = """
wattproof: 1
setting: boat
datasheets: {modules: {film: {pmax: 135 W, technology: thin-film}}}
strings: {hatches: {module: film, arrangement: 1s12p, feeds: tracker}}
controllers: {tracker: {kind: mppt, max_input_voltage: 75 V, feeds: house}}
batteries: {house: {chemistry: flooded, nominal: 24 V, capacity: 430 Ah}}
"""


def test_a_thin_film_module_of_which_the_power_is_told_may_be_of_17_to_108_volts() -> None:
    """Its 47 V were taken for 18.7 V, too low for 24 V, and its 3.4 A for 8.2 A."""
    result = check_text(THIN_FILM)
    decided = {d.rule for q in result.questions for d in q.decides}
    assert "cold-voltage-over-controller" in decided
    told = {f.rule for f in result.each}
    assert told.isdisjoint({"hot-voltage-under-battery", "cold-voltage-over-controller"})


def test_a_battery_behind_a_controller_for_450_volts_is_none_of_12() -> None:
    """16 modules of 325 W were said to charge it with 354 A, and the limit to be 45 V."""
    plan = """
wattproof: 1
setting: cabin
datasheets: {modules: {m: {pmax: 325 W}}}
strings: {barn: {module: m, series: 8, feeds: hybrid}}
controllers: {hybrid: {kind: mppt, max_input_voltage: 450 V, feeds: house}}
batteries: {house: {}}
"""
    assert _supposed(plan, "batteries", "house", "nominal").value == 48.0


TWO_UNKNOWN = """
wattproof: 1
setting: boat
datasheets: {modules: {big: {}, little: {}}}
strings: {pair: {modules: [big, little], feeds: regulator}}
controllers: {regulator: {kind: pwm, feeds: house}}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah}}
"""


def test_of_two_unknown_values_that_are_set_against_each_other_each_is_kind_at_its_own_end() -> (
    None
):
    """51 V of two modules is over 50 V, and both the voltages and the limit are guesses.

    All of them small, or all large, it failed as well, and was certain.
    """
    rule = "cold-voltage-over-controller"
    result = check_text(TWO_UNKNOWN)
    assert rule not in {f.rule for f in result.each}
    assert rule in {d.rule for q in result.questions for d in q.decides}
    told = edited(("kind: pwm,", "kind: pwm, max_input_voltage: 25 V,"), plan=TWO_UNKNOWN)
    assert [f.level for f in check_text(told).each if f.rule == rule] == ["error"]


JOINED = """
wattproof: 1
setting: vehicle
batteries:
  rack: {chemistry: CHEMISTRY}
  start: {chemistry: agm}
busbars: {plus: {rating: 200 A}, minus: {rating: 200 A}}
converters: {down: {input_nominal: 48 V, output_nominal: 12 V}}
loads: {lamp: {current: 1 A, nominal: 12 V}, horn: {current: 5 A, nominal: 12 V}}
fuses: {main: {rating: 60 A}, own: {rating: 10 A}, horns: {rating: 10 A}}
wires:
  plus-run: {from: rack.positive, to: plus, inline: main}
  minus-run: {from: rack.negative, to: minus}
  in-run: {from: plus, to: down.input.positive, inline: own}
  in-return: {from: minus, to: down.input.negative}
  lamp-run: {from: down.output, to: lamp}
  start-return: {from: start.negative, to: minus}
  horn-run: {from: start.positive, to: horn.positive, inline: horns}
  horn-return: {from: minus, to: horn.negative}
"""


@pytest.mark.parametrize(
    ("chemistry", "volts"),
    [
        ("lifepo4", 51.2),
        ("agm", 48.0),
        ("lifepo4, arrangement: 16s", 3.2),
        ("lifepo4, arrangement: 2s2p", 25.6),
        ("flooded, arrangement: 8s", 6.0),
        ("flooded, arrangement: 24s", 2.0),
    ],
)
def test_a_battery_is_of_the_voltage_of_what_it_is_joined_to(chemistry: str, volts: float) -> None:
    """And not of what hangs behind a converter, nor on another battery that shares its negative.

    It was taken for 12 V, as most consumers are, and the plan refused for unlike voltages.
    """
    plan = study_of(JOINED.replace("CHEMISTRY", chemistry)).plan
    nominal = {name: battery.nominal.value for name, battery in plan.batteries.items()}
    assert nominal == {"rack": pytest.approx(volts), "start": 12.0}


def _supposed(plan: str, family: str, name: str, key: str) -> Supposed:
    found = getattr(getattr(completed(load_plan("plan.yaml", text=plan)), family)[name], key)
    assert isinstance(found, Supposed)
    return found


LINE = """
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
chargers: {alternator: {kind: alternator}}
fuses: {line-fuse: {STYLE}}
wires:
  line: {from: alternator, to: house, PLUG inline: line-fuse}
"""


AN_ENGINE_BEFORE_A_CHARGER = """\
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: LiFePO4, capacity: 200 Ah}, start: unknown}
controllers: {booster: {kind: vehicle-charger}}
chargers: {alternator: {kind: alternator}}
inverters: {mains: {power: 2 kW, nominal: 24 V}}
wires:
  turned: {from: alternator, to: start}
  engine: {from: start, to: booster.alternator}
  charge: {from: booster.battery, to: house}
  mains-run: {from: house, to: mains}
"""
A_RELAY_BETWEEN = "  between: {from: start, to: house, inline: relay}\nswitches: {relay: unknown}\n"


@pytest.mark.parametrize(("more", "volts"), [("", (12.0, 24.0)), (A_RELAY_BETWEEN, (24.0, 24.0))])
def test_what_others_feed_tells_nothing_of_a_battery_that_stands_apart(
    more: str, volts: tuple[float, float]
) -> None:
    # of an engine before a charger: 12 V as usual, 24 V in trucks; by a relay it shares the bank's
    plan = completed(load_plan("plan.yaml", text=AN_ENGINE_BEFORE_A_CHARGER + more))
    nominal = plan.batteries["start"].nominal
    assert isinstance(nominal, Supposed)
    assert (nominal.value, nominal.ends[1]) == pytest.approx(volts)
    assert plan.batteries["house"].nominal.value == pytest.approx(25.6, rel=0.07)  # type: ignore[union-attr]


def test_a_rating_is_bound_by_the_style_and_by_a_plug_beside_it() -> None:
    bare = LINE.replace("STYLE", "").replace("PLUG", "")
    assert _supposed(bare, "fuses", "line-fuse", "rating").ends == (5.0, 350.0)
    blade = LINE.replace("STYLE", "style: blade").replace("PLUG", "")
    assert _supposed(blade, "fuses", "line-fuse", "rating").ends[1] == 40.0
    glass = LINE.replace("STYLE", "style: glass").replace("PLUG", "")
    assert _supposed(glass, "fuses", "line-fuse", "rating").value == 16.0
    plugged = LINE.replace("STYLE", "").replace("PLUG", "plug: trailer-13,")
    assert _supposed(plugged, "fuses", "line-fuse", "rating").value == 20.0


def test_a_surge_arrester_is_as_is_bought_for_the_array() -> None:
    """A field of 365 V was told that its arrester stands 150 V, which nobody had told."""
    field = "arresters: {field: {across: tracker.pv}}\nwires:\n"
    plan = edited(("series: 3", "series: 12"), ("wires:\n", field))
    voltage = _supposed(plan, "arresters", "field", "voltage")
    assert voltage.value > 12 * 24.3
    assert voltage.ends == (16.0, 1500.0)


DRIVE = """\
wattproof: 1
setting: boat
code: abyc-e11
batteries: {a: {chemistry: agm, nominal: 12 V}, b: {chemistry: agm, nominal: 12 V}}
fuses: {a-fuse: {rating: 200 A, style: class-t}, b-fuse: {rating: 200 A, style: class-t}}
busbars: {bar: {}}
loads: {drive: {LOAD}, MORE}
wires:
  a-run: {from: a, to: bar, inline: [{a-fuse: {from_end: from, distance: 10 cm}}]}
  b-run: {from: b, to: bar, inline: [{b-fuse: {from_end: from, distance: 10 cm}}]}
  drive-run: {from: bar, to: drive}
"""
LAMP = ("lamp: {}", "  lamp-run: {from: bar, to: lamp}\n")


def test_the_only_consumer_of_a_bar_is_taken_for_what_the_fuses_before_it_are_for() -> None:
    """Two fuses of 200 A were taken to feed 1.5 mm², which nobody had told, and for certain."""
    rule = "fuse-over-conductor"
    untold = DRIVE.replace("LOAD", "").replace(", MORE", "")
    result = check_text(untold)
    assert rule not in [f.rule for f in result.findings]
    asked = [d for q in result.questions for d in q.decides if d.rule == rule]
    assert "drive-run" in {d.subjects[0] for d in asked}
    told = check_text(DRIVE.replace("LOAD", "current: 5 A").replace(", MORE", ""))
    assert [f.level for f in told.findings if f.rule == rule] == ["error"]
    beside = check_text(DRIVE.replace("LOAD", "").replace("MORE", LAMP[0]) + LAMP[1])
    assert rule in [f.rule for f in beside.findings]  # of one lamp among others nobody knows less


CHARGED = """\
wattproof: 1
setting: cabin
batteries: {bank: {BANK, capacity: 200 Ah}}
controllers: {tracker: {kind: mppt, SET}}
busbars: {bar: {}}
fuses: {main: {rating: 100 A}}
wires:
  charge: {from: tracker.battery, to: bar}
  run: {from: bank, to: bar, inline: main}
"""


@pytest.mark.parametrize(
    ("bank", "set_to", "volts"),
    [
        ("chemistry: LiFePO4, max_charge_voltage: 57.6 V", "", 51.2),
        ("chemistry: LiFePO4, max_charge_voltage: 28.0 V", "", 25.6),
        ("chemistry: gel, max_charge_voltage: 14.1 V", "", 12.0),
        ("chemistry: flooded, arrangement: 2s2p, max_charge_voltage: 7.4 V", "", 6.0),
        ("chemistry: LiFePO4", "charge_voltage: 56.0 V", 51.2),
        ("chemistry: LiFePO4", "charge_voltage: 28.4 V", 25.6),
        ("chemistry: flooded, arrangement: 2s2p", "charge_voltage: 14.4 V", 6.0),
        ("chemistry: agm, max_charge_voltage: 14.7 V", "nominal: 24 V", 24.0),  # as it was read
    ],
)
def test_a_battery_is_of_the_voltage_that_it_is_charged_to(
    bank: str, set_to: str, volts: float
) -> None:
    """A bank charged to 57.6 V was taken for one of 12 V, which that would destroy."""
    text = CHARGED.replace("BANK", bank).replace(", SET", f", {set_to}" if set_to else "")
    assert _supposed(text, "batteries", "bank", "nominal").value == pytest.approx(volts)


def test_a_cable_is_as_large_as_its_fuse_wants_and_not_its_switch() -> None:
    """Behind 40 A and a switch of 300 A it was taken for 120 mm², and bonds were too thin."""
    text = edited(
        ("fuses:\n", "switches:\n  main-off: {rating: 300 A}\nfuses:\n"),
        ("size: 8 AWG", "size: unknown"),
        ("inline: [{charge-fuse", "inline: [main-off, {charge-fuse"),
    )
    size = completed(load_plan("plan.yaml", text=text)).datasheets.cables["batt-8"].size
    assert size.value == pytest.approx(10e-6)


@pytest.mark.parametrize(("low", "volts"), [("10.5 V", 12.8), ("23 V", 25.6), ("44 V", 51.2)])
def test_a_battery_is_of_the_voltage_at_which_its_inverter_gives_up(low: str, volts: float) -> None:
    """One under an inverter that works down to 44 V was taken for one of 12 V."""
    text = f"""\
wattproof: 1
setting: cabin
batteries: {{bank: {{chemistry: LiFePO4}}}}
inverters: {{mains: {{power: 900 W, low_voltage: {low}}}}}
wires: {{run: {{from: bank, to: mains}}}}
"""
    assert _supposed(text, "batteries", "bank", "nominal").value == pytest.approx(volts)


HALVES = """\
wattproof: 1
setting: cabin
batteries: {lower: {chemistry: agm, LOWER}, upper: {chemistry: agm}}
loads: {pump: {current: 2 A, nominal: 24 V}}
wires:
  link: {from: lower.positive, to: upper.negative}
  plus: {from: upper.positive, to: pump.positive}
  minus: {from: lower.negative, to: pump.negative}
"""


@pytest.mark.parametrize("lower", ["nominal: 12 V", "max_charge_voltage: 14.6 V", ""])
def test_batteries_in_series_share_the_voltage_of_what_lies_across_them(lower: str) -> None:
    """That on top was taken for one of 24 V, and the plan refused for 36 V."""
    text = HALVES.replace(", LOWER", f", {lower}" if lower else "")
    assert _supposed(text, "batteries", "upper", "nominal").value == 12.0
    assert study_of(text).battery.banks


def test_the_battery_of_a_starter_is_of_its_voltage() -> None:
    """It was tried as one of 24 V too, and the plan refused for that."""
    starter = "starters: {motor: {nominal: 12 V}}\nwires:\n  crank: {from: start, to: motor}\n"
    text = AN_ENGINE_BEFORE_A_CHARGER.replace("wires:\n", starter)
    assert _supposed(text, "batteries", "start", "nominal").ends == (12.0, 12.0)


@pytest.mark.parametrize(("beside", "length"), [("0.6 m", 0.6), ("3 m", 3.0)])
def test_the_lead_of_a_battery_is_as_long_as_those_beside_it(beside: str, length: float) -> None:
    """One of three of which the length was not told was found to share the current unequally."""
    text = f"""\
wattproof: 1
setting: boat
datasheets: {{cables: {{lead: {{size: 50 mm²}}}}}}
batteries: {{one: {{}}, two: {{}}, three: {{}}}}
busbars: {{bar: {{}}}}
wires:
  first: {{from: one, to: bar, cable: lead, length: {beside}}}
  second: {{from: bar, to: two, cable: lead, length: {beside}}}
  third: {{from: three, to: bar, cable: lead}}
"""
    assert _supposed(text, "wires", "third", "length").value == pytest.approx(length)


ON_A_BANK = """\
wattproof: 1
setting: cabin
told: part
datasheets: {{modules: {{m: {{pmax: 300 W, voc: 38 V, vmp: 32 V}}}}}}
strings: {{roof: {{module: m, arrangement: 2s4p, feeds: tracker}}}}
controllers: {{tracker: {{kind: mppt{more}, feeds: bank}}}}
batteries: {{bank: {bank}}}
inverters: {{mains: {{power: 4 kW}}}}
wires: {{run: {{from: bank, to: mains}}}}
"""


@pytest.mark.parametrize(
    ("bank", "amps", "volts", "size"),
    [
        ("{nominal: 48 V}", 80.0, 150.0, "70 mm²"),  # 2,400 W at 48 V, times 1.25
        ("{nominal: 12 V, arrangement: 4s}", 80.0, 150.0, "70 mm²"),
        ("{nominal: 51.2 V}", 80.0, 150.0, "70 mm²"),
        ("{nominal: 12.8 V}", 100.0, 100.0, "120 mm²"),  # the largest that is sold
    ],
)
def test_a_bank_tells_the_voltage_of_what_hangs_on_it(
    bank: str, amps: float, volts: float, size: str
) -> None:
    """It was taken for 12 V unless a consumer told another, and currents for four times theirs."""
    text = ON_A_BANK.format(bank=bank, more="")
    assert _supposed(text, "controllers", "tracker", "max_output_current").value == amps
    assert _supposed(text, "controllers", "tracker", "max_input_voltage").value == volts
    assert study_of(text).wiring.wires["run"].size.name == size


def test_a_tracker_that_boosts_takes_no_more_for_the_bank_that_it_raises_to() -> None:
    text = ON_A_BANK.format(bank="{nominal: 48 V}", more=", boost: true")
    assert _supposed(text, "controllers", "tracker", "max_input_voltage").value == 100.0
