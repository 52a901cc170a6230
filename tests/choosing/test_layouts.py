"""Layouts: every way to join modules, each the same as its plan written by hand."""

from __future__ import annotations

import json

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from cli.calls import ROOT
from found import found_alone
from wattproof.choosing import layouts as comparing
from wattproof.choosing.closing import closing
from wattproof.choosing.joining import MOST_WAYS, forms, joinings
from wattproof.choosing.laid_out import names_of
from wattproof.choosing.layouts import Layouts, Tried, equal, layouts_of
from wattproof.engine import Result
from wattproof.packs import RuleSet, discover
from wattproof.plan import load_plan
from wattproof.reports.layouts import json as as_json
from wattproof.reports.layouts import markdown, text
from wattproof.source import PlanUnusable
from wattproof.testing import A_DAY

ONE = """\
wattproof: 1
setting: vehicle
code: iec
site: {{coldest: -10 °C}}
datasheets:
  modules:
    panel: {{voc: 22.4 V, isc: 9.8 A, vmp: 18.6 V, pmax: 170 W, bypass_diodes: 2,
            max_series_fuse: 20 A, voc_coefficient: -0.3 %/°C}}
strings:
  roof: {{module: panel, arrangement: {form}{feeds}}}
controllers:
  tracker: {{kind: mppt, max_input_voltage: {volts} V, max_output_current: 60 A, feeds: house}}
batteries:
  house: {{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 300 Ah}}
"""
TWO = """\
wattproof: 1
setting: cabin
code: nec-2023
site: {{coldest: -15 °C}}
datasheets:
  modules:
    panel: {{voc: 37.6 V, isc: 11.2 A, vmp: 31.2 V, pmax: 330 W, max_series_fuse: 20 A}}
strings:
{strings}
controllers:
  left: {{kind: mppt, max_input_voltage: 150 V, max_output_current: 60 A, feeds: house}}
  right: {{kind: mppt, max_input_voltage: 150 V, max_output_current: 60 A, feeds: house}}
batteries:
  house: {{chemistry: lithium-iron-phosphate, nominal: 25.6 V, capacity: 400 Ah}}
"""
SPLIT = TWO.format(
    strings="  roof: {module: panel, arrangement: open, count: 4, controllers: [left, right]}"
)


@pytest.fixture(scope="module")
def rules() -> RuleSet:
    return discover()


def one(form: str, volts: float = 100.0, feeds: str = ", feeds: tracker") -> str:
    return ONE.format(form=form, volts=f"{volts:g}", feeds=feeds)


def compared(plan: str, rules: RuleSet) -> Layouts:
    read = load_plan("plan.yaml", text=plan)
    return layouts_of(read, rules, file="plan.yaml", today=A_DAY)


def by_name(found: Layouts) -> dict[str, Tried]:
    return {each.name: each for each in found.tried}


def said(result: Result) -> set[tuple[object, ...]]:
    """What a result says, without places."""
    return {(f.rule, f.level, f.verdict, f.message, f.subjects, f.when) for f in result.each}


def by_hand(plan: str, rules: RuleSet) -> Result:
    """What is found in a layout that is written out, without its remedies and questions."""
    return found_alone("plan.yaml", plan, rules)


@pytest.fixture(scope="module")
def four(rules: RuleSet) -> Layouts:
    return compared(one("open, count: 4"), rules)


def test_forms_are_series_parallel_and_both_either_first() -> None:
    assert forms(1) == ("1s",)
    assert forms(2) == ("2p", "2s")
    assert forms(8) == ("8p", "2s4p", "4p2s", "4s2p", "2p4s", "8s")
    assert forms(7) == ("7p", "7s")


def test_alike_inputs_are_counted_once() -> None:
    names = {j.name for j in joinings(load_plan("plan.yaml", text=SPLIT))}
    assert "left 2s, right 2p" in names or "left 2p, right 2s" in names
    assert not {"left 2s, right 2p", "left 2p, right 2s"} <= names
    assert not any(n.startswith("right") for n in names)
    unlike = SPLIT.replace(
        "right: {kind: mppt, max_input_voltage: 150", "right: {kind: mppt, max_input_voltage: 100"
    )
    names = {j.name for j in joinings(load_plan("plan.yaml", text=unlike))}
    assert {"left 2s, right 2p", "left 2p, right 2s", "left 4p", "right 4p"} <= names


HAND = [("4s", 100.0), ("2s2p", 100.0), ("2p2s", 75.0), ("4p", 50.0)]


@pytest.mark.parametrize(("form", "volts"), HAND)
def test_the_same_layout_by_hand_gives_the_same_findings(
    form: str, volts: float, rules: RuleSet
) -> None:
    tried = by_name(compared(one("open, count: 4", volts), rules))[form]
    assert said(tried.result) == said(by_hand(one(form, volts), rules))


BODIES = (
    ("vehicle", "iec", "4 m"),
    ("cabin", "nec-2023", "18 ft"),
    ("boat", "abyc-e11", "12 ft"),
    ("boat", "iso-13297", "6 m"),
    ("vehicle", "as-nzs-3001", "unknown"),
)
"""Every body of rules, in both systems of units."""


@pytest.mark.parametrize(("setting", "code", "length"), BODIES, ids=[code for _, code, _ in BODIES])
@settings(max_examples=a_quarter_of(4), deadline=None, derandomize=True)
@given(
    voc=st.integers(18, 50),
    isc=st.sampled_from([3.5, 6.2, 9.8, 13.1]),
    count=st.sampled_from([2, 3, 4, 6]),
    volts=st.sampled_from([50, 75, 100, 150]),
    coldest=st.integers(-30, 5),
    opened=st.booleans(),
)
def test_any_array_by_hand_gives_the_same_findings(
    rules: RuleSet,
    setting: str,
    code: str,
    length: str,
    voc: int,
    isc: float,
    count: int,
    volts: int,
    coldest: int,
    opened: bool,
) -> None:
    def plan(form: str) -> str:
        led = "tracker" if length == "unknown" else f"{{to: tracker, length: {length}}}"
        made = one(form, volts, f", feeds: {led}").replace("coldest: -10", f"coldest: {coldest}")
        made = made.replace("setting: vehicle", f"setting: {setting}")
        made = made.replace("code: iec", f"code: {code}")
        if opened:
            made = made.replace("max_output_current: 60 A", "max_output_current: open")
        return made.replace(
            "voc: 22.4 V, isc: 9.8 A, vmp: 18.6 V, pmax: 170 W",
            (f"voc: {voc} V, isc: {isc} A, vmp: {0.83 * voc:.2f} V, imp: {0.94 * isc:.2f} A"),
        )

    found = compared(plan(f"open, count: {count}"), rules)
    assert found.tried
    for tried in found.tried[:4]:
        [share] = tried.joining.shares
        assert said(tried.result) == said(by_hand(plan(share.form), rules))
        assert {"standard", "hottest", comparing.ONE_SHADED} <= tried.power.keys()


def test_a_split_one_by_hand_gives_the_same_findings(rules: RuleSet) -> None:
    found = compared(SPLIT, rules)
    assert len(found.tried) > 5
    for tried in found.tried[:3]:
        names = names_of(found.plan, tried.joining)
        lines = [
            f"  {name}: {{module: panel, arrangement: {share.form}, feeds: {share.input}}}"
            for share, name in names.items()
        ]
        if len(lines) < 2:
            continue
        hand = TWO.format(strings="\n".join(lines))
        assert said(tried.result) == said(by_hand(hand, rules))


def test_four_in_series_are_over_the_limit_in_the_cold(four: Layouts) -> None:
    """22.4 V x 4 x (1 + 0.3 % x 35) = 99.0 V: common practice, by the label's coefficient."""
    cold = by_name(four)["4s"].inputs[0].cold
    assert cold.number == pytest.approx(4 * 22.4 * (1 + 0.003 * 35), rel=1e-3)
    assert by_name(four)["4s"].reason is None


def test_over_the_limit_it_fails_with_the_numbers(rules: RuleSet) -> None:
    tried = by_name(compared(one("open, count: 4", 75.0), rules))["4s"]
    assert tried.reason is not None
    assert tried.reason.rule == "cold-voltage-over-controller"
    assert "over the 75 V input limit" in tried.reason.message


def test_either_first_is_the_same_without_shade(rules: RuleSet) -> None:
    """The same modules as 4s2p and as 4p2s... have one power: common practice."""
    found = by_name(compared(one("open, count: 8", 250.0), rules))
    for a, b in (("4s2p", "2p4s"), ("2s4p", "4p2s")):
        for state in ("standard", "hottest"):
            assert found[a].power[state].number == pytest.approx(
                found[b].power[state].number, rel=0.002
            )


def test_parallel_gives_more_with_one_module_shaded(four: Layouts) -> None:
    """Where its voltage allows: common practice."""
    shaded = {name: t.power[comparing.ONE_SHADED].number for name, t in by_name(four).items()}
    assert shaded["4p"] > shaded["4s"]
    assert shaded["4p"] > shaded["2s2p"]


def test_series_loses_less_in_a_long_thin_cable(rules: RuleSet) -> None:
    """The loss goes with the square of the current: common practice."""
    wires = "wires:\n  home: {from: roof, to: tracker.pv, cable: thin, length: 30 m}\n"
    thin = one("open, count: 4", 150.0, feeds="").replace(
        "strings:\n", "  cables:\n    thin: {size: 4 mm²}\nstrings:\n"
    )
    found = by_name(compared(thin + wires, rules))
    watts = {name: each.power["standard"].number for name, each in found.items()}
    assert watts["4s"] > watts["2s2p"] > watts["4p"]


def test_they_stand_in_order_and_the_first_is_taken(four: Layouts) -> None:
    fits = [each.reason is None for each in four.tried]
    assert fits == sorted(fits, reverse=True)
    assert closing(four).startswith(f"Take `{four.tried[0].name}`:")
    scores = [each.score(four.weights) for each in four.fitting]
    assert scores[0] >= (1.0 - comparing.CLOSE) * max(scores)


def test_risks_and_parts_decide_between_what_gives_about_the_same(four: Layouts) -> None:
    """99.0 V under a limit of 100 V, and four fuses with thick cable, for 2 % of power."""
    names = [each.name for each in four.fitting]
    assert names[0] == "2s2p"
    assert {"4s", "4p"} <= set(names)
    found = by_name(four)
    assert found["4s"].score(four.weights) > found["2s2p"].score(four.weights)
    assert found["4s"].dangers > found["2s2p"].dangers
    assert "fewer parts" in closing(four)


def test_alike_arrays_stand_before_fewer_parts(rules: RuleSet) -> None:
    """Twelve of 100 W on two inputs that neither 1000 W nor 800 W fill: all give the same.

    5s2p beside 2s and 4s2p beside 4s have three strings in place of four, so one joint and two
    pairs of connectors less, and two arrays to know in place of one: common practice.
    """
    panel = "{voc: 24.3 V, isc: 5.2 A, vmp: 20.4 V, pmax: 100 W, max_series_fuse: 15 A}"
    roof = "  roof: {module: panel, arrangement: open, count: 12, controllers: [left, right]}"
    large = "{voc: 37.6 V, isc: 11.2 A, vmp: 31.2 V, pmax: 330 W, max_series_fuse: 20 A}"
    made = compared(TWO.format(strings=roof).replace(large, panel), rules)
    assert made.fitting[0].name == "left 3s2p, right 3s2p"
    found = by_name(made)
    for other in ("left 5s2p, right 2s", "left 4s2p, right 4s"):
        assert found[other].needs.parts < made.fitting[0].needs.parts
        score = made.fitting[0].score(made.weights)
        assert found[other].score(made.weights) == pytest.approx(score, rel=0.01)


def test_a_shade_that_is_told_decides_where_it_takes_more_than_a_tenth(rules: RuleSet) -> None:
    """Side by side one shaded module costs its own power alone: common practice."""
    shaded = one("open, count: 4", 90.0).replace("voc: 22.4", "voc: 24.0").replace("18.6", "20.0")
    shaded += "shade:\n  mast: {shadows: [{string: roof, module: 2, light: 20 %}]}\n"
    found = compared(shaded, rules)
    assert found.fitting[0].name == "4p"
    by = by_name(found)
    assert by["2s2p"].score(found.weights) > 0.95 * by["4p"].score(found.weights)
    assert not by["2s2p"].keeps_up_with(by["4p"])


def test_equal_ones_are_called_equal(four: Layouts) -> None:
    found = by_name(four)
    assert not equal(found["4p"], found["2s2p"])
    assert equal(found["4s"], found["4s"])


def test_fewer_modules_where_no_layout_of_all_fits(rules: RuleSet) -> None:
    """Five of 22.4 V: in parallel one joint carries too much, in series 123.7 V are too many."""
    low = one("open, count: 5", 50.0).replace(
        "max_input_voltage: 50 V,", "max_input_voltage: 50 V, max_input_current: 30 A,"
    )
    found = compared(low, rules)
    assert found.fitting
    assert found.fitting[0].joining.unused > 0
    assert "left over" in found.fitting[0].name
    assert "unused, since no layout of all fits" in closing(found)


def test_where_none_fits_it_says_what_would_have_to_differ(rules: RuleSet) -> None:
    found = compared(one("open, count: 4", 20.0), rules)
    assert not found.fitting
    assert "No layout fits" in closing(found)
    assert "takes 26 V or more" in closing(found)  # 24.8 V, and 3 % for labels: the rule's remedy


def test_where_none_fits_what_would_be_lost_all_the_same_is_told(rules: RuleSet) -> None:
    """Modules of 40.2 V at a pulse-width controller of 12.8 V, which takes 30 V."""
    large = one("open, count: 2", 30.0).replace("kind: mppt", "kind: pwm")
    large = large.replace("voc: 22.4 V", "voc: 49 V").replace("vmp: 18.6 V", "vmp: 40.2 V")
    said_ = closing(compared(large.replace("pmax: 170 W, ", ""), rules))
    assert "No layout fits. " in said_
    assert " Even so: even with hot cells the array at tracker gives most at" in said_
    assert "Even so" not in closing(compared(one("open, count: 4", 20.0), rules))


@pytest.mark.parametrize(("voc", "said_of"), [("89.6 V", "write `voc: 22.4 V`"), ("22.4 V", "")])
def test_where_none_fits_volts_of_all_modules_are_told(
    voc: str, said_of: str, rules: RuleSet
) -> None:
    """Four of 22.4 V in series, told as those of one."""
    told = one("open, count: 4", 20.0).replace("voc: 22.4 V", f"voc: {voc}")
    told = told if voc == "22.4 V" else told.replace("vmp: 18.6 V", "vmp: 74.4 V")
    told = told if voc == "22.4 V" else told.replace("pmax: 170 W", "pmax: 680 W")
    said_ = closing(compared(told, rules))
    assert "No layout fits" in said_
    assert ("Few modules have" in said_) is bool(said_of)
    assert said_of in said_


def test_an_open_controller_is_told_what_it_must_stand(rules: RuleSet) -> None:
    text_ = one("open, count: 4").replace("max_input_voltage: 100 V", "max_input_voltage: open")
    text_ = text_.replace("max_output_current: 60 A", "max_output_current: open")
    found = compared(text_, rules)
    said_ = closing(found)
    assert "needs a `tracker` that takes 150 V and gives 40 A or more" in said_
    [asked] = found.fitting[0].inputs
    assert asked.to_choose == ("150 V", "40 A")
    assert asked.limit.number == 150.0
    assert "46.6 A" in said_  # 680 W at 14.6 V


def test_what_no_layout_can_mend_is_told_of_the_one_to_take(rules: RuleSet) -> None:
    said_ = closing(compared(one("open, count: 4").replace("60 A", "10 A"), rules))
    assert "Look again: " in said_
    assert "`tracker` passes on 10 A at most" in said_


def test_a_danger_of_the_one_to_take_is_told_with_it(rules: RuleSet) -> None:
    """3 x 22.4 V x 1.105 = 74.3 V under 75 V is all that charges 25.6 V: within what labels err."""
    made = compared(one("open, count: 3", 75.0).replace("12.8 V", "25.6 V"), rules)
    assert [each.name for each in made.fitting] == ["3s"]
    assert "Look again: cold open-circuit voltage 74.3 V is only 1.0 % below" in closing(made)


def test_what_would_take_the_modules_that_are_left_over(rules: RuleSet) -> None:
    """3 x 9.8 A x 1.25 = 36.8 A through a pulse-width controller of 30 A."""
    pulse = one("open, count: 3", 50.0).replace("kind: mppt", "kind: pwm").replace("60 A", "30 A")
    found = compared(pulse, rules)
    assert found.fitting[0].joining.unused == 1
    said_ = closing(found)
    assert "`3p` would fit with a controller in the place of `tracker` that is rated 37 A" in said_


def test_labels_that_nobody_told_are_told_as_taken(rules: RuleSet) -> None:
    bare = one("open, count: 4").replace(
        "voc: 22.4 V, isc: 9.8 A, vmp: 18.6 V, pmax: 170 W", "pmax: 170 W"
    )
    made = " ".join(
        text.render(compared(bare.replace("coldest: -10 °C", "hottest: 40 °C"), rules)).split()
    )
    assert "open-circuit voltage of `panel` is assumed" in made
    assert "Look that up first" in made
    assert "Look that up first" not in text.render(compared(one("open, count: 4"), rules))


def test_the_cold_that_nobody_told_is_told_as_taken(rules: RuleSet) -> None:
    """By it a string fits or fails; of a vehicle it is -20 °C."""
    bare = one("open, count: 4").replace("coldest: -10 °C", "hottest: 40 °C")
    made = " ".join(text.render(compared(bare, rules)).split())
    assert "coldest air with daylight is assumed to be −20 °C" in made


def test_a_label_that_cannot_be_right_is_told_whatever_the_layout(rules: RuleSet) -> None:
    """It leaves no module over, and no power is told that no curve gives."""
    lost = one("open, count: 2").replace("-0.3 %/°C", "0.3 %/°C")
    found = compared(lost, rules)
    assert {each.joining.unused for each in found.tried} == {0}
    made = " ".join(text.render(found).split())
    assert "0.3 %/°C for Voc" in made
    assert [f.rule for f in found_alone("plan.yaml", lost, rules).each if f.level == "error"] == [
        "module-coefficient-odd"
    ]
    exchanged = one("open, count: 2").replace("voc: 22.4 V", "voc: 18.4 V")
    exchanged = exchanged.replace("vmp: 18.6 V, pmax: 170 W", "vmp: 22.6 V, imp: 9.2 A")
    found = compared(exchanged, rules)
    assert "0 W" not in closing(found)
    assert "what each gives is not known" in closing(found)
    said = {f.rule for f in found_alone("plan.yaml", exchanged, rules).each}
    assert "module-values-impossible" in said


def test_the_bound_is_told(rules: RuleSet, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(comparing, "MOST", 4)
    sixteen = SPLIT.replace("count: 4", "count: 16")
    found = compared(sixteen, rules)
    assert len(found.tried) == 4
    assert found.unchecked > 50
    assert f"{found.unchecked} more were not checked" in text.render(found)


def test_a_case_of_shade_counts_the_modules_through(rules: RuleSet) -> None:
    shaded = SPLIT + "shade:\n  mast: {shadows: [{string: roof, module: 3, light: 20 %}]}\n"
    found = compared(shaded, rules)
    split = next(t for t in found.tried if len(t.joining.shares) == 2)
    [shadow] = split.plan.shade["mast"].shadows
    first = split.joining.shares[0].modules
    assert shadow.module == (3 if first >= 3 else 3 - first)
    assert "mast" in split.power
    assert comparing.ONE_SHADED not in split.power


def test_unlike_modules_never_share_a_string(rules: RuleSet) -> None:
    strings = (
        "  roof: {module: panel, arrangement: open, count: 2, controllers: [left, right]}\n"
        "  shed: {module: other, arrangement: open, count: 2, portable: true, "
        "controllers: [left, right]}"
    )
    plan = TWO.format(strings=strings).replace(
        "strings:\n", "    other: {voc: 21 V, isc: 6.1 A, vmp: 17.5 V, pmax: 100 W}\nstrings:\n", 1
    )
    found = compared(plan, rules)
    for tried in found.tried:
        for string in tried.plan.strings.values():
            assert string.modules is None
        on_one = {s.input for s in tried.joining.shares if s.string == "roof"}
        shed = {s.input for s in tried.joining.shares if s.string == "shed"}
        if on_one & shed:
            volts = [31.2 if s.string == "roof" else 17.5 for s in tried.joining.shares]
            assert max(volts) < 1.8 * min(volts)
    assert "may be taken away" in text.render(found, full=True)


def test_nothing_open_is_told() -> None:
    with pytest.raises(PlanUnusable, match="no arrangement is open"):
        compared(one("2s2p"), RuleSet({}, ()))


def test_high_voltages_keep_their_columns_apart(rules: RuleSet) -> None:
    """Six of 22.4 V at their hottest noon and 120 V that are needed: eleven letters."""
    high = one("open, count: 7", 450.0).replace("60 A,", "60 A, min_input_voltage: 120 V,")
    made = text.render(compared(high, rules))
    row = next(line for line in made.splitlines() if "1. 7s" in line)
    assert [part.count("/") for part in row.split()[2:]] == [0, 1, 1, 0, 0, 0, 0]
    assert max(map(len, made.splitlines())) <= 80


def test_the_text_has_80_columns_and_the_deferral(four: Layouts) -> None:
    for full in (False, True):
        made = text.render(four, full=full)
        assert max(map(len, made.splitlines())) <= 80
        assert "A layout is a proposal" in made
        assert "licensed electrician" in made


def test_json_is_as_its_schema_says(four: Layouts) -> None:
    schema = json.loads((ROOT / "schemas" / "layouts.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    document = json.loads(as_json.render(four))
    jsonschema.Draft202012Validator(schema).validate(document)
    assert [each["name"] for each in document["layouts"]] == [t.name for t in four.tried]


def test_markdown_has_every_layout(four: Layouts) -> None:
    made = markdown.render(four)
    for each in four.tried:
        assert each.name in made
    assert "A layout is a proposal" in made


@pytest.mark.parametrize(("count", "inputs"), [(12, 30), (60, 3), (60, 40), (1, 50)])
def test_many_modules_on_many_inputs_end(count: int, inputs: int) -> None:
    names = [f"tracker-{n}" for n in range(inputs)]
    controllers = "".join(f"  {name}: {{{MANY}}}\n" for name in names)
    text = MANY_INPUTS.format(count=count, names=", ".join(names), controllers=controllers)
    found = joinings(load_plan("plan.yaml", text=text))
    assert 1 <= len(found) <= MOST_WAYS
    assert len(found) == len(set(found))
    most = max(share.modules for share in found[0].shares)
    assert most == -(-count // inputs)  # the even ones first


MANY = "kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, feeds: house"
MANY_INPUTS = """\
wattproof: 1
setting: cabin
code: iec
datasheets:
  modules:
    panel: {{voc: 22 V, isc: 6 A, vmp: 18 V, pmax: 100 W}}
strings:
  roof: {{module: panel, arrangement: open, count: {count}, controllers: [{names}]}}
controllers:
{controllers}batteries:
  house: {{chemistry: agm, nominal: 12 V, capacity: 200 Ah}}
"""


def test_a_voltage_over_a_limit_that_is_guessed_is_not_recommended(rules: RuleSet) -> None:
    """Nobody told voltage or limit: four in series by usual labels are over the usual 100 V."""
    text = MANY_INPUTS.format(
        count=4, names="one", controllers="  one: {kind: mppt, feeds: house}\n"
    )
    text = text.replace("voc: 22 V, isc: 6 A, vmp: 18 V, ", "")
    found = compared(text, rules)
    assert found.tried[0].name != "4s"
    assert [each.reason is not None for each in found.tried if each.name == "4s"] == [True]


def test_what_every_input_takes_goes_before_what_rests_on_a_limit_that_nobody_told(
    rules: RuleSet,
) -> None:
    """Four of 22 V in series reach 95 V at 0 °C: many inputs take 100 V, and many 50 or 75 V."""
    told = MANY_INPUTS.format(count=4, names="one", controllers=f"  one: {{{MANY}}}\n")
    told = told.replace("setting: cabin", "setting: cabin\nsite: {coldest: 0 °C}")
    untold = told.replace("max_input_voltage: 100 V, ", "")
    assert untold != told
    assert compared(told, rules).fitting[0].guessed is None
    found = compared(untold, rules)
    assert found.fitting[0].guessed is None
    assert found.fitting[0].inputs[0].cold.number < 50.0
    by = by_name(found)
    guessed = by["4s"].guessed
    assert guessed is not None
    assert guessed.cold.number > 90.0
    assert found.fitting.index(by["4s"]) > found.fitting.index(by["2s2p"])
    made = text.render(found)
    assert "/100? " in made
    assert "/100? " not in text.render(compared(told, rules))


def test_the_one_to_take_says_that_it_rests_on_a_limit_that_nobody_told(rules: RuleSet) -> None:
    """Two in series alone charge 24 V, so nothing safer is about as good."""
    untold = MANY_INPUTS.format(
        count=2,
        names="one",
        controllers="  one: {kind: mppt, max_output_current: 20 A, feeds: house}\n",
    ).replace("nominal: 12 V", "nominal: 24 V")
    made = closing(compared(untold.replace("voc: 22 V", "voc: 23 V"), rules))
    assert made.startswith("Take `2s`")
    assert "Look again: nobody told what `one` takes, and there are inputs that" in made


@pytest.mark.parametrize(("kind", "guessed"), [("mppt", False), ("vehicle-charger", True)])
def test_small_inputs_take_less(rules: RuleSet, kind: str, guessed: bool) -> None:
    """One module of 37 V: the smallest trackers take 50 V, the smallest vehicle chargers 25 V."""
    untold = MANY_INPUTS.format(
        count=1, names="one", controllers=f"  one: {{kind: {kind}, feeds: house}}\n"
    ).replace("voc: 22 V, isc: 6 A, vmp: 18 V", "voc: 37 V, isc: 3.6 A, vmp: 30 V")
    assert (compared(untold, rules).tried[0].guessed is not None) is guessed


def test_the_next_step_is_told_where_a_layout_fits(four: Layouts) -> None:
    assert "Next      `wattproof choose`" in text.render(four)


def test_alike_inputs_that_only_one_string_may_use_are_not_alike() -> None:
    """The second string is on `two` in any case: the first may go there too, or to `one`."""
    text = MANY_INPUTS.format(count=2, names="one, two", controllers=f"  one: {{{MANY}}}\n")
    text = text.replace("batteries:", f"  two: {{{MANY}}}\nbatteries:")
    more = "  side: {module: panel, arrangement: open, count: 2, controllers: [two]}\ncontrollers:"
    names = {
        j.name
        for j in joinings(
            load_plan("plan.yaml", text=text.replace("controllers:\n", more + "\n", 1))
        )
    }
    assert {"roof one 2s, side two 2s", "roof two 2s, side two 2s"} <= names
    told = more.replace("arrangement: open, count: 2, controllers: [two]", "series: 2, feeds: two")
    names = {
        j.name
        for j in joinings(
            load_plan("plan.yaml", text=text.replace("controllers:\n", told + "\n", 1))
        )
    }
    assert {"one 2s", "two 2s"} <= names


def test_modules_are_left_over_where_all_of_them_need_a_fuse_that_is_not_sold(
    rules: RuleSet,
) -> None:
    """Five of 11.3 A side by side ask for fuses of 17 A, and their label allows 15 A."""
    text = MANY_INPUTS.format(count=5, names="one", controllers=f"  one: {{{MANY}}}\n")
    label = "voc: 49.2 V, isc: 11.3 A, vmp: 41 V, pmax: 430 W, max_series_fuse: 15 A"
    text = text.replace("voc: 22 V, isc: 6 A, vmp: 18 V, pmax: 100 W", label)
    text = text.replace("max_input_voltage: 100 V", "max_input_voltage: 150 V")
    found = compared(text, rules)
    assert not found.tried[0].needs.unmet
    assert found.tried[0].joining.unused > 0
    assert "unused, since no layout of all fits" in closing(found)


SIXTEEN = """\
wattproof: 1
setting: cabin
code: nec-2023
site: {coldest: -28 °C}
datasheets:
  modules:
    panel: {voc: 37.5 V, vmp: 31 V, isc: 9.2 A, voc_coefficient: -0.31 %/°C}
strings:
  roof: {module: panel, arrangement: open, count: 16, feeds: {to: tracker, length: 40 m}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 145 V, max_output_current: 85 A, feeds: house}
batteries:
  house: {chemistry: agm, nominal: 48 V, capacity: 600 Ah}
"""


def test_one_module_is_left_over_where_all_of_them_lose_far_more_by_their_voltage(
    rules: RuleSet,
) -> None:
    """Two in series have too little voltage at noon, four too much in the cold; 16 is no 3 x n."""
    found = compared(SIXTEEN, rules)
    assert found.tried[0].name == "3s5p (1 left over)"
    assert "since all of them lose more, however they are joined" in closing(found)
    lossy = by_name(found)["2s8p"]
    assert lossy.reason is None
    assert lossy.loses
    fewer = [each for each in found.tried if each.joining.unused]
    most = lossy.score(found.weights)
    assert all(each.score(found.weights) > 1.1 * most for each in fewer)
    assert all(each.reason is None and not each.loses for each in fewer)


def test_none_is_left_over_where_fewer_lose_as_much(rules: RuleSet) -> None:
    """A pulse-width controller wastes the voltage of such a module, however many there are."""
    plan = one("open, count: 3").replace("kind: mppt", "kind: pwm")
    plan = plan.replace("voc: 22.4 V", "voc: 37.6 V").replace("vmp: 18.6 V", "vmp: 31 V")
    assert not any(each.joining.unused for each in compared(plan, rules).tried)


def test_the_answer_comes_before_the_table_and_once_more_in_short_at_the_end(
    four: Layouts, rules: RuleSet
) -> None:
    lines = text.render(four).splitlines()
    answers = [n for n, line in enumerate(lines) if line.startswith("Answer ")]
    assert len(answers) == 2
    table = next(n for n, line in enumerate(lines) if line.strip().startswith("layout  "))
    assert answers[0] < table < answers[1]
    best = four.fitting[0].name
    assert f"Take `{best}`:" in lines[answers[0]]
    assert lines[answers[1]].split(None, 1)[1] == f"Take `{best}`."
    none = text.render(compared(one("open, count: 4", volts=20.0), rules)).splitlines()
    assert [line.split(None, 1)[1] for line in none if line.startswith("Answer ")][1] == (
        "No layout fits."
    )


def test_what_gives_nothing_does_not_fit_and_an_untold_limit_is_asked_for(rules: RuleSet) -> None:
    """Two modules of 22 V for 24 V of lead: one alone cannot charge it, two may be too many."""
    plan = """\
wattproof: 1
setting: cabin
datasheets: {modules: {panel: {voc: 22 V, pmax: 100 W}}}
strings: {roof: {module: panel, arrangement: open, count: 2, feeds: controller}}
controllers: {controller: {kind: pwm, max_output_current: 10 A, feeds: house}}
batteries: {house: {chemistry: flooded, nominal: 24 V}}
"""
    found = layouts_of(load_plan("plan.yaml", text=plan), rules, file="plan.yaml", today=A_DAY)
    assert not found.fitting
    assert {each.name for each in found.tried if each.is_idle} == {"2p", "1s (1 left over)"}
    assert "`2s` would, with `controller`, if its label says that it takes 55 V" in closing(found)
    told = plan.replace("kind: pwm", "kind: pwm, max_input_voltage: 60 V")
    found = layouts_of(load_plan("plan.yaml", text=told), rules, file="plan.yaml", today=A_DAY)
    assert [each.name for each in found.fitting] == ["2s"]


def test_an_untold_limit_is_the_same_for_every_layout(rules: RuleSet) -> None:
    """100 V, as trackers commonly stand: not more because the string that is compared is long.

    170 V of eight in series, and 85 V of four in the cold, of which the first alone is too much.
    """
    plan = one("open, count: 8").replace("max_input_voltage: 100 V, ", "")
    found = compared(plan, rules)
    limits = {each.name: [i.limit.number for i in each.inputs] for each in found.tried}
    assert set(map(tuple, limits.values())) == {(100.0,)}
    reasons = {each.name: each.reason for each in found.tried}
    assert reasons["8s"] is not None
    assert reasons["8s"].verdict == "likely"
    assert reasons["2s4p"] is None
    assert found.tried[0].name != "8s"
    assert found.taken


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("pmax: 170 W", "pmax: 1700 W", "the label of `panel` cannot be right"),
        ("-0.3 %/°C", "0.3 %/°C", "the label of `panel` gives 0.3 %/°C for Voc"),
        ("coldest: -10 °C", "coldest: 45 °C", "the coldest air is told as 45 °C"),
    ],
)
def test_a_value_that_cannot_be_right_goes_before_what_follows_from_it(
    old: str, new: str, said: str, rules: RuleSet
) -> None:
    found = compared(one("open, count: 4").replace(old, new), rules)
    words = closing(found)
    assert words.startswith(f"Read this again before anything else: {said}")
    assert ". By what is told: " in words or "? By what is told: " in words
    lines = text.render(found).splitlines()
    short = [line.split(None, 1)[1] for line in lines if line.startswith("Answer ")][1]
    assert short.startswith("Read again what is named above; by what is told, ")


def test_where_one_module_is_too_much_a_check_says_so_too(rules: RuleSet) -> None:
    """What fails whatever is chosen is found before anything is; other counts are no way out."""
    plan = one("open, count: 2", volts=20.0)
    found = compared(plan, rules)
    assert not found.fitting
    assert all(e.reason is not None for e in found.tried)
    assert "cold-voltage-over-controller" in {f.rule for f in by_hand(plan, rules).findings}
    assert closing(found).endswith("or modules of less voltage.")
    more = compared(one("open, count: 1", volts=20.0), rules)
    assert not more.fitting


UNDER_48_V = """\
wattproof: 1
setting: boat
code: iso-13297
told: part
datasheets: {{modules: {{m: {{pmax: 160 W}}}}}}
strings: {{roof: {{module: m, count: 12, arrangement: open, feeds: mppt}}}}
controllers: {{mppt: {{kind: mppt{limit}, feeds: bank}}}}
batteries: {{bank: {{chemistry: agm, nominal: 48 V, bank_capacity: 800 Ah}}}}
"""


def test_a_tracker_of_48_v_that_nobody_told_takes_what_such_take(rules: RuleSet) -> None:
    """100 V leaves a bank of 48 V no layout that charges it in heat, and few such are sold."""
    best = compared(UNDER_48_V.format(limit=""), rules).fitting[0]
    assert best.name == "4s3p"
    assert best.power["hottest"].number > 1000.0


def test_that_the_one_to_take_gives_nothing_in_heat_is_told_with_it(rules: RuleSet) -> None:
    layouts = compared(UNDER_48_V.format(limit=", max_input_voltage: 100 V"), rules)
    assert layouts.fitting[0].power["hottest"].number == 0.0
    assert (
        "Look again: it gives nothing at the hottest noon, when `mppt` gets 45.4 V and needs "
        "59.8 V to charge." in closing(layouts)
    )
