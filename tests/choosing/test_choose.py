"""Values for what a plan leaves open: they pass, none can be smaller, and what is left is told.

Over generated plans with everything open, of all bodies of rules. A sample in the ordinary run,
more with WATTPROOF_WHOLE=1; WATTPROOF_LONG=1 takes them all.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from amounts import amount
from choosing.opened import CODES, plans
from plans import edited
from wattproof.amend.edits import with_value
from wattproof.choosing.choice import CannotChoose, Chosen
from wattproof.choosing.choose import chosen
from wattproof.choosing.controllers import of_open_controllers
from wattproof.choosing.first_plan import plan_text
from wattproof.choosing.joining import joinings
from wattproof.choosing.ladders import Knob
from wattproof.choosing.laid_out import laid_out
from wattproof.choosing.layouts import Layouts, layouts_of
from wattproof.choosing.written import with_joining
from wattproof.codes import body
from wattproof.engine import Result, check_file, examine
from wattproof.finding import LEVELS, Finding
from wattproof.packs import discover
from wattproof.plan import load_plan
from wattproof.remedies.trials import gravest_of, is_told
from wattproof.reports.choosing import text as choosing_text
from wattproof.settings import NOTHING_SET
from wattproof.testing import A_DAY

COUNT = amount(5, 120, whole=10)
ALL = discover()
CASES = list(plans(COUNT))


@cache
def choose(text: str, layout: str = "") -> Chosen:
    """What is chosen; what several tests start from is chosen once."""
    return chosen("plan.yaml", text, ALL, today=A_DAY, shown_as="plan.yaml", layout=layout)


@cache
def ranked(text: str) -> Layouts:
    return layouts_of(load_plan("plan.yaml", text=text), ALL, file="plan.yaml", today=A_DAY)


def check(text: str) -> Result:
    return check_file("plan.yaml", ALL, today=A_DAY, text=text, try_remedies=False)


def as_asked(text: str) -> list[Finding]:
    """What is found as it is asked of what is chosen, and what hangs on a guess alone."""
    result = examine(
        "plan.yaml",
        ALL,
        today=A_DAY,
        text=text,
        settings=of_open_controllers(NOTHING_SET),
        try_remedies=False,
        ask=False,
    ).result
    guessed = [d.as_finding() for question in result.questions for d in question.decides]
    return [*result.each, *guessed]


def words(made: Chosen) -> str:
    return " ".join(choosing_text.render(made, "plan.yaml", "").split())


@pytest.mark.parametrize(("name", "text"), CASES, ids=[name for name, _ in CASES])
def test_what_is_chosen_passes_and_nothing_can_be_smaller(name: str, text: str) -> None:
    made = choose(text)
    assert made.whole
    plan = load_plan("plan.yaml", text=made.text)
    assert not list(plan.opens())
    assert not any(part.feeds for part in (*plan.strings.values(), *plan.controllers.values()))
    after = check(made.text)
    assert [f.message for f in after.findings] == [f.message for f in made.after.findings]
    told = words(made)
    for finding in after.findings:
        if finding.level != "note":
            assert f"`{finding.rule}`" in told, finding.message
            assert finding.remedy.split()[0] in told
    known = gravest_of(as_asked(made.text))
    for choice in made.choices:
        if not choice.smaller:
            continue
        smaller = as_asked(with_value(made.text, choice.path, choice.smaller))
        new = [f for f in smaller if not is_told(f.identity, LEVELS.index(f.level), known)]
        assert new, (choice.path, choice.text, choice.smaller)
        assert choice.reason is not None
        assert choice.reason.rule in {f.rule for f in new}
    awg = body(name.split("-", 2)[2]).size_system == "awg"
    sizes = [choice.text for choice in made.choices if choice.path[-1] == "size"]
    assert len(sizes) == (3 if plan.combiners else 2)  # leads to a joint have one cable
    assert all(("AWG" in size) == awg for size in sizes)


def test_every_body_of_rules_is_among_them() -> None:
    codes = {code for each in CODES.values() for code in each}
    assert codes == {name.split("-", 2)[2] for name, _ in plans(10)}


EASY = dict(plans(10))["1-boat-iso-13297"]


def test_the_rest_of_the_file_stays() -> None:
    text = EASY.replace("batteries:\n", "batteries:  # bought already\n")
    made = choose(text)
    assert made.text.startswith("# everything open\n")
    assert "batteries:  # bought already\n" in made.text
    kept = [line for line in text.splitlines() if line in made.text.splitlines()]
    assert len(kept) >= len(text.splitlines()) - 5


def test_a_fuse_has_a_range_and_each_choice_a_reason_with_its_numbers() -> None:
    made = choose(EASY)
    [fuse] = [c for c in made.choices if c.path[0] == "fuses"]
    assert fuse.reason is not None
    assert fuse.reason.values
    told = words(made)
    assert f"{fuse.smaller} would not do: " in told
    if fuse.largest:
        assert f"(up to {fuse.largest} passes as well)" in told
        larger = check(with_value(made.text, fuse.path, fuse.largest)).findings
        assert all(finding.level == "note" for finding in larger)
    assert "A choice is a proposal" in told
    assert "licensed electrician" in told


def test_a_layout_that_is_asked_for() -> None:
    made = choose(EASY, "2s2p")
    assert made.told
    assert "arrangement: 2s2p" in made.text
    assert "it was asked for" in words(made)
    with pytest.raises(CannotChoose, match="does not fit"):
        choose(EASY, "5s3p")
    with pytest.raises(CannotChoose, match="no arrangement is open"):
        choose(EASY.replace("arrangement: open, count: 4", "series: 4"), "2s2p")


def test_what_cannot_be_met_is_told_with_what_would() -> None:
    text = EASY.replace("max_input_voltage: open", "max_input_voltage: 20 V")
    text = text.replace("max_input_voltage: 250 V", "max_input_voltage: 20 V")
    text = text.replace("max_input_voltage: 150 V", "max_input_voltage: 20 V")
    made = choose(text)
    assert any(f.rule == "cold-voltage-over-controller" for f in made.after.findings)
    told = words(made)
    assert "Not met by anything that is open:" in told
    assert "It would" in told


THREE = dict(plans(34))["33-cabin-iec"]
"""Three modules: in series too high, and side by side with more current than one label stands."""
SHADED = "shade:\n  mast: {shadows: [{string: roof, module: 2, light: 20 %}]}  # by noon\n"
TIED = """\
  cables:
    tie: {size: 6 mm²}
strings:"""


def test_a_module_is_left_over_where_all_of_them_cannot_be_joined() -> None:
    """No fuse that is sold protects a label of 10 A and carries its modules."""
    text = THREE.replace("max_series_fuse: 20 A", "max_series_fuse: 10 A")
    made = choose(text)
    assert made.joining is not None
    assert made.joining.unused == 1
    assert not [f for f in made.after.findings if f.level == "error"]
    assert made.with_all is not None
    told = words(made)
    assert "(1 left over)" in told
    assert "With all" in told
    assert choose(text, "3p").with_all is None


def test_strings_of_an_array_that_is_tied_to_nothing_get_a_fuse_in_each_pole() -> None:
    """IEC 62548-1 asks for it where no pole of the array is earthed."""
    made = choose(THREE)
    assert made.joining is not None
    assert made.joining.name == "3p"
    plan = load_plan("plan.yaml", text=made.text)
    for string in ("roof", "roof-2", "roof-3"):
        for pole in ("positive", "negative"):
            [lead] = [w for w in plan.wires.values() if w.start == f"{string}.{pole}"]
            assert lead.to == f"roof-joint.{pole}"
            [inline] = lead.inline
            assert plan.fuses[inline.device].rating.text == "20 A"
    assert "string-fuse-one-pole" not in {f.rule for f in made.after.findings}


def test_shade_and_bonds_name_the_strings_that_one_is_split_into() -> None:
    text = THREE.replace("strings:", TIED, 1) + SHADED
    text += "frame_bonds:\n  frames: {strings: [roof], to: earth, cable: tie, length: 2 m}\n"
    made = choose(text)
    plan = load_plan("plan.yaml", text=made.text)
    [shadow] = plan.shade["mast"].shadows
    assert (shadow.string, shadow.module) == ("roof-2", 1)
    assert plan.frame_bonds["frames"].strings == ("roof", "roof-2", "roof-3")
    assert "# by noon" in made.text


@pytest.mark.parametrize(
    ("form", "shadow", "falls"),
    [
        ("left 2s, right 2s", "module: 3", [("roof-right", 1)]),
        ("left 3p, right 1s", "module: 3", [("roof-left", 3)]),
        ("left 2p, right 2s", "light: 20 %", [("roof-left", None), ("roof-right", None)]),
    ],
)
def test_shade_falls_on_the_same_modules_where_they_are_split(
    form: str, shadow: str, falls: list[tuple[str, int | None]]
) -> None:
    """As the layout that is compared has it, and as a study of the written plan has it."""
    light = "" if shadow.startswith("light") else ", light: 20 %"
    text = EIGHT + f"shade:\n  mast:\n    shadows:\n      - {{string: roof, {shadow}{light}}}\n"
    plan = load_plan("plan.yaml", text=text)
    joining = next(j for j in joinings(plan) if j.name == form)
    written = with_joining(text, plan, joining)
    read = load_plan("plan.yaml", text=written)
    assert [(s.string, s.module) for s in read.shade["mast"].shadows] == falls
    laid = laid_out(plan, joining)
    assert [(s.string, s.module) for s in laid.shade["mast"].shadows] == falls


LISTED = """\
wattproof: 1
setting: cabin
code: nec-2023
site: {coldest: -10 °C}
datasheets:
  modules:
    panel: {voc: 49.5 V, vmp: 41.6 V, isc: 11.3 A, imp: 10.7 A, pmax: 445 W,
            voc_coefficient: -0.27 %/°C, max_series_fuse: 20 A}
strings:
  roof: {module: panel, arrangement: open, count: 6}
combiners:
  box: {joins: [roof], rating: 100 A, voltage: 600 V, feeds: {to: tracker, length: 8 m}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 150 V, max_output_current: 85 A,
            feeds: {to: house, length: 1 m}}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 51.2 V, capacity: 200 Ah,
          low_temperature_cutoff: true}
shade:
  tree: {shadows: [{string: roof, module: 3, light: 20 %}]}
accepted:
  - {rule: voltage-drop-high, where: roof, reason: a long way, margin: 4 %}  # for now
arresters:
  spd: {across: roof, voltage: 200 V}
"""


def test_all_that_names_a_string_follows_where_it_is_split() -> None:
    """Three of 11.3 A side by side, labels of 20 A: a fuse each, in leads to the joint there is."""
    made = choose(LISTED, "2s3p")
    plan = load_plan("plan.yaml", text=made.text)
    pieces = ("roof", "roof-2", "roof-3")
    assert list(plan.combiners) == ["box"]
    assert plan.combiners["box"].joins == pieces
    leads = [wire for wire in plan.wires.values() if wire.to == "box"]
    assert tuple(wire.start for wire in leads) == pieces
    assert all(wire.inline for wire in leads)
    [shadow] = plan.shade["tree"].shadows
    assert (shadow.string, shadow.module) == ("roof-2", 1)
    assert tuple(each.where for each in plan.accepted) == pieces
    assert "# for now" in made.text
    assert plan.arresters["spd"].across == "box"
    assert "string-fuse-missing" not in {f.rule for f in made.after.findings}


def test_wires_bonds_and_readings_of_a_split_string_lead_to_its_joint() -> None:
    text = LISTED.replace("combiners:\n  box: {joins: [roof], rating: 100 A, voltage: 600 V, ", "")
    text = text.replace("feeds: {to: tracker, length: 8 m}}\ncontrollers", "controllers")
    text += """\
bonds:
  tie: {from: roof.negative, to: earth, cable: open, length: 2 m}
wires:
  home-run: {from: roof, to: tracker.pv, cable: open, length: 8 m}
"""
    text = text.replace("cable: open, length: 2 m", "cable: green, length: 2 m").replace(
        "datasheets:\n", "datasheets:\n  cables: {green: {size: 8 AWG}}\n"
    )
    plan = load_plan("plan.yaml", text=choose(text, "2s3p").text)
    assert plan.wires["home-run"].start == "roof-joint"
    assert plan.bonds["tie"].start == "roof-joint.negative"
    assert plan.arresters["spd"].across == "roof-joint"
    assert {w.start for w in plan.wires.values() if w.to == "roof-joint"} == {
        "roof",
        "roof-2",
        "roof-3",
    }


@pytest.mark.parametrize(
    ("more", "then"),
    [
        ("bonds: {tie: {from: roof.negative, to: earth, cable: green, length: 2 m}}", "bonds"),
        ("arresters: {spd: {across: roof, voltage: 200 V}}", "arresters"),
    ],
)
def test_each_of_several_arrays_has_what_was_told_of_the_whole(more: str, then: str) -> None:
    text = EIGHT.replace("datasheets:\n", "datasheets:\n  cables: {green: {size: 16 mm²}}\n")
    assert ranked(text + more).tried  # none of them fails
    made = load_plan("plan.yaml", text=choose(text + more, "left 2s, right 2s").text)
    ends = [
        str(getattr(p, "start", getattr(p, "across", ""))) for p in getattr(made, then).values()
    ]
    assert [end.partition(".")[0] for end in ends] == ["roof-left", "roof-right"]


def test_a_reading_of_a_string_that_is_to_be_split_is_told() -> None:
    text = EIGHT + "readings: {one: {at: roof, voc: 80 V, date: 2026-05-01}}\n"
    with pytest.raises(CannotChoose, match="`one` is of it as a whole: take that out first"):
        choose(text, "left 2s, right 2s")


def test_a_string_that_a_joint_lists_feeds_no_inputs_of_its_own() -> None:
    text = LISTED.replace("count: 6}", "count: 6, controllers: [tracker]}")
    [problem] = check(text).problems
    assert problem.message == "`box` leads on from `roof` already"


EIGHT = """\
wattproof: 1
setting: cabin
code: iec
datasheets:
  modules:
    panel: {voc: 22 V, isc: 6 A, vmp: 18 V, pmax: 100 W}
strings:
  roof: {module: panel, arrangement: open, count: 4, controllers: [left, right]}
controllers:
  left: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, feeds: house}
  right: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, feeds: house}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah}
"""


def test_leads_are_not_so_thin_that_the_run_behind_them_has_to_make_up_for_it() -> None:
    """Four of 5.6 A at 20 V, 6 m from the controller: 25 mm² for the run, were each lead 1 mm²."""
    made = choose(MAST)
    sizes = {c.path[2]: c.text for c in made.choices if c.path[-1] == "size"}
    assert sizes["deck-joint-lead-cable"] == "1.5 mm²"
    assert sizes["deck-joint-to-tracker-cable"] == "16 mm²"
    plan = load_plan("plan.yaml", text=made.text)
    leads = [wire.length for wire in plan.wires.values() if wire.to == "deck-joint"]
    assert [str(length) for length in leads] == ["1 m"] * 4
    assert "among the modules, with leads of 1 m to it" in words(made)
    known = gravest_of(as_asked(made.text))
    for choice in made.choices:
        if choice.path[-1] == "size" and choice.smaller:
            smaller = as_asked(with_value(made.text, choice.path, choice.smaller))
            graver = [f for f in smaller if not is_told(f.identity, LEVELS.index(f.level), known)]
            assert graver, choice.path


MAST = """\
wattproof: 1
setting: boat
code: iso-13297
site: {coldest: 0 °C}
datasheets:
  modules:
    panel: {voc: 24.0 V, isc: 5.6 A, vmp: 20.0 V, pmax: 100 W, bypass_diodes: 2,
            voc_coefficient: -0.3 %/°C, max_series_fuse: 20 A}
strings:
  deck: {module: panel, arrangement: open, count: 4, feeds: {to: tracker, length: 6 m}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 40 A, feeds: house}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah}
shade:
  mast: {shadows: [{string: deck, module: 2, light: 20 %}]}
"""


def test_a_layout_that_needs_more_leads_is_not_left_for_one_that_wastes_modules() -> None:
    """Three side by side and two in series, on two inputs of 50 A: none stays unused."""
    text = EIGHT.replace("count: 4", "count: 5").replace(
        "max_output_current: 30", "max_output_current: 50"
    )
    text = text.replace("{voc: 22 V, isc: 6 A, vmp: 18 V, pmax: 100 W}", FIVE)
    made = choose(text)
    assert made.joining is not None
    assert made.joining.modules == 5
    assert (
        max(sum(s.modules for s in made.joining.shares if s.input == i) for i in ("left", "right"))
        == 3
    )
    assert made.whole


FIVE = "{voc: 37.2 V, isc: 13.8 A, vmp: 31.0 V, pmax: 410 W, max_series_fuse: 25 A}"


def test_strings_that_feed_one_input_meet_at_a_joint_with_a_switch_behind_it() -> None:
    """One run to a controller is what one switch can cut: common practice."""
    text = THREE.replace("count: 3", "count: 2").replace("length: 5 m}},", "length: 5 m}},")
    roof = next(line for line in text.splitlines() if line.startswith("  roof:"))
    rest = text.splitlines()[text.splitlines().index(roof) + 1]
    text = text.replace(
        f"{roof}\n{rest}\n", f"{roof}\n{rest}\n{roof.replace('roof', 'shed')}\n{rest}\n"
    )
    made = choose(text)
    plan = load_plan("plan.yaml", text=made.text)
    [run] = [wire for wire in plan.wires.values() if wire.to == "tracker.pv"]
    assert plan.combiners["tracker-joint"].rating is not None
    assert run.start == "tracker-joint"
    assert [str(i.device) for i in run.inline] == ["tracker-joint-to-tracker-switch"]
    lengths = {str(w.start): w.length for w in plan.wires.values() if w.to == "tracker-joint"}
    assert len(lengths) == 2
    assert None not in lengths.values()  # as told of each string's own way


def test_a_size_that_hangs_on_a_length_that_nobody_told_says_so() -> None:
    text = EIGHT.replace("controllers: [left, right]", "feeds: left")
    made = choose(re.sub(r"  right: .*\n", "", text), "4p")
    told = words(made)
    assert "Length not told. `left-to-house` is assumed to be 2 m long" in told
    assert "Measure it, and choose again" in told


def test_an_untold_length_gives_the_size_that_layouts_tell() -> None:
    """Both by the usual length, not the thinnest that some length would allow."""
    told = {run.wire: run.size for run in ranked(PAIRS).tried[0].needs.runs}
    made = choose(PAIRS)
    sizes = {c.owner: c.text for c in made.choices if c.path[-1] == "size"}
    assert told == {name: sizes[name] for name in told}
    assert sizes["one-to-house"] == "10 mm²"  # 30 A over 1.5 m: 2 % of 12 V are 0.24 V


def test_so_it_is_where_a_thinner_one_loses_little_more_than_usual() -> None:
    """14 AWG over the usual 5 m loses 3.7 % of 17.2 V, which a check tells as a note at most."""
    text = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: 5 °C}
datasheets:
  modules:
    panel: {voc: 21.3 V, vmp: 17.2 V, isc: 6.4 A, imp: 6 A}
strings:
  roof: {module: panel, arrangement: open, count: 1, feeds: {to: tracker, length: LENGTH}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A, feeds: house}
batteries:
  house: {chemistry: agm, nominal: 12 V}
"""
    for length in ("unknown", "5 m"):
        told = text.replace("LENGTH", length)
        sizes = {c.owner: c.text for c in choose(told).choices if c.path[-1] == "size"}
        [run] = ranked(told).tried[0].needs.runs
        assert sizes["roof-to-tracker"] == run.size == "12 AWG"


def test_so_it_is_where_neither_the_current_nor_the_rules_are_told() -> None:
    """A wire that is too small by what is usual alone is a note, and its size was passed over."""
    text = """\
wattproof: 1
setting: cabin
site: {coldest: -25 °C}
datasheets:
  modules:
    panel: {vmp: 30 V, pmax: 250 W}
strings:
  roof: {module: panel, arrangement: open, count: 4, feeds: tracker}
controllers:
  tracker: {kind: mppt, max_input_voltage: 150 V, max_output_current: 60 A, feeds: house}
batteries:
  house: {chemistry: flooded, nominal: 24 V, capacity: 400 Ah}
"""
    [run] = ranked(text).tried[0].needs.runs
    sizes = {c.owner: c.text for c in choose(text).choices if c.path[-1] == "size"}
    assert sizes["roof-to-tracker"] == run.size == "10 AWG"


PAIRS = """\
wattproof: 1
setting: vehicle
code: iec
site: {coldest: -15 °C}
datasheets:
  modules:
    big: {voc: 24.1 V, vmp: 20.2 V, isc: 10.6 A, imp: 9.9 A, pmax: 200 W,
          voc_coefficient: -0.28 %/°C, max_series_fuse: 20 A}
    small: {voc: 22.0 V, vmp: 18.2 V, isc: 5.9 A, imp: 5.5 A, pmax: 100 W,
            voc_coefficient: -0.30 %/°C, max_series_fuse: 15 A}
strings:
  front: {module: big, arrangement: open, count: 2, controllers: [one, two]}
  rear: {module: small, arrangement: open, count: 2, controllers: [one, two]}
controllers:
  one: {kind: mppt, max_input_voltage: 75 V, max_output_current: 30 A,
        feeds: {to: house, length: 1.5 m}}
  two: {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A,
        feeds: {to: house, length: 1.5 m}}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 220 Ah}
"""


def test_the_layout_is_the_first_of_those_that_are_compared() -> None:
    """A fuse and a switch for each of two controllers are no reason to leave one out."""
    made = choose(PAIRS)
    assert made.joining is not None
    assert made.joining.name == "front one 2s, rear two 2s"
    assert made.before_it is None
    assert "it stands first in the order of `wattproof layouts`" in words(made)
    assert made.after.findings == ()


def test_a_layout_is_asked_for_by_its_whole_name() -> None:
    made = choose(PAIRS, "front one 2p,  rear two 2p")
    assert made.joining is not None
    assert made.joining.name == "front one 2p, rear two 2p"
    with pytest.raises(CannotChoose, match="there is no layout"):
        choose(PAIRS, "front one 2p, rear three 2p")


def test_what_is_put_there_has_its_voltage_told() -> None:
    """A joint without one would be asked about; 53.6 V in the cold at both."""
    text = PAIRS.replace("controllers: [one, two]", "feeds: {to: one, length: 3 m}")
    made = choose(re.sub(r"  two: .*\n.*\n", "", text), "2s")
    [joint] = load_plan("plan.yaml", text=made.text).combiners.values()
    assert joint.voltage is not None
    assert joint.voltage.text == "60 V"
    assert "beside `one`, with 0.5 m of wire from it" in words(made)
    assert not [q for q in made.after.questions if q.instead == "voltage"]


def test_strings_that_need_a_fuse_get_leads_of_their_own_for_it() -> None:
    """Three side by side: two drive 28.3 A into a third whose label stands 20 A."""
    made = choose(dict(plans(34))["33-cabin-iec"].replace("code: iec", "code: nec-2023"))
    assert made.joining is not None
    assert made.joining.name == "3p"
    plan = load_plan("plan.yaml", text=made.text)
    leads = [wire for wire in plan.wires.values() if wire.to == "roof-joint"]
    assert [str(wire.start) for wire in leads] == ["roof", "roof-2", "roof-3"]
    assert len({wire.cable for wire in leads}) == 1
    for wire in leads:
        [inline] = wire.inline
        assert plan.fuses[inline.device].rating.text == "20 A"
    assert not [f for f in made.after.findings if f.level != "note"]


def test_a_fuse_that_the_thinnest_lead_does_not_stand_comes_with_a_thicker_one() -> None:
    """Leads of 1.5 mm² stand no fuse that carries 10.9 A."""
    made = choose(
        """\
wattproof: 1
setting: boat
code: iso-13297
site: {coldest: 0 °C}
datasheets:
  modules: {panel: {voc: 37.8 V, isc: 10.9 A, vmp: 31.4 V, pmax: 320 W, max_series_fuse: 20 A}}
strings:
  roof: {module: panel, arrangement: open, count: 5, feeds: {to: tracker, length: 5 m}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 60 A, feeds: house}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 25.6 V, capacity: 200 Ah}
""",
        layout="5p",
    )
    plan = load_plan("plan.yaml", text=made.text)
    fuses = [fuse for name, fuse in plan.fuses.items() if name.startswith("roof")]
    assert [fuse.rating.text for fuse in fuses] == ["20 A"] * 5
    assert not [f for f in made.after.findings if f.level == "error"]


def test_modules_that_may_go_to_two_inputs() -> None:
    text = EASY.replace("count: 4", "count: 4, controllers: [tracker, second]")
    start = text.index("         feeds: {to: tracker")
    text = text[:start] + text[text.index("}}", start) + 1 :] if start else text
    text = text.replace("frames_bonded: true,\n}", "frames_bonded: true}")
    controller = "  tracker: {kind: mppt"
    assert controller in text
    whole = text[text.index(controller) : text.index("batteries:")]
    text = text.replace(whole, whole + whole.replace("tracker:", "second:"))
    made = choose(text)
    assert made.joining is not None
    assert not list(load_plan("plan.yaml", text=made.text).opens())


def test_nothing_open_is_nothing_chosen() -> None:
    text = ALL.rules["conductor-too-small"].sound
    made = choose(text)
    assert (made.text, made.choices, made.joining) == (text, (), None)
    assert "nothing: the plan leaves nothing open" in words(made)


def test_open_values_of_told_parts() -> None:
    """A fuse's rating and style, the size of a cable, what a controller has to stand and give."""
    text = edited(
        ("batt-8: {size: 8 AWG", "batt-8: {size: open"),
        ("charge-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down", OPEN_FUSE),
        ("max_input_voltage: 100 V, max_output_current: 20 A", OPEN_LIMITS),
        ("blocks_reverse: true}", "blocks_reverse: true, low_temperature_cutoff: true}"),
    )
    made = choose(text)
    keys = {choice.path[-1] for choice in made.choices}
    assert keys == {"size", "rating", "style", "max_input_voltage", "max_output_current"}
    before = {f.rule for f in check(text).findings if f.level != "note"}
    left = {f.rule for f in made.after.findings if f.level != "note"}
    assert left <= before | {"array-switch-missing"}, left
    assert "  pv-10: {size: 10 AWG" in made.text  # what is told stays


OPEN_FUSE = "charge-fuse: {rating: open, voltage: 58 V, style: open"
OPEN_LIMITS = "max_input_voltage: open, max_output_current: open"


def test_a_battery_holds_what_is_used_in_a_day() -> None:
    text = EASY.replace("capacity: 300 Ah", "capacity: open")
    text += """\
loads:
  fridge: {current: 4 A}
fuses:
  fridge-fuse: {rating: 10 A, voltage: 58 V, style: blade, dc: true, interrupt: 5 kA}
wires:
  fridge-run: {from: house, to: fridge, cable: open, length: 3 m,
               inline: [{fridge-fuse: {from_end: from, distance: 5 cm}}]}
energy:
  sun_hours: {winter: 1.5 h, summer: 5 h}
  uses: {fridge: {hours: 10 h}}
"""
    made = choose(text)
    [bank] = [choice for choice in made.choices if choice.path[-1] == "capacity"]
    assert float(bank.text.split()[0]) >= 50.0  # 40 Ah a day, of which four fifths are used
    assert bank.reason is not None


def test_a_knob_finds_the_step_that_is_large_enough() -> None:
    knob = Knob(("fuses", "f", "rating"), ("10 A", "16 A", "20 A"), "f")
    assert knob.at_least("12 A") == 1
    assert knob.at_least("16 A") == 1
    assert knob.at_least("25 A") is None
    sizes = Knob(("datasheets", "cables", "c", "size"), ("12 AWG", "10 AWG", "8 AWG"), "w")
    assert sizes.at_least("10 AWG") == 1


def test_a_controller_for_modules_of_which_one_voltage_is_told() -> None:
    """Where a label leaves the working voltage out, what is lost is likely only, and counts."""
    text = """\
wattproof: 1
setting: boat
code: abyc-e11
datasheets:
  modules:
    panel: {pmax: 400 W, voc: 45 V, isc: 10.9 A}
strings:
  roof: {module: panel, arrangement: 2s, feeds: {to: tracker, length: 25 ft}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 150 V, max_output_current: open, feeds: house}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 400 Ah}
"""
    [output] = [c for c in choose(text).choices if c.path[-1] == "max_output_current"]
    assert output.text == "50 A"  # 800 W at 14.7 V are 54 A, of which 1.25 times less is 44 A
    assert output.reason is not None
    assert output.reason.rule == "controller-clips"


def test_a_bank_that_drives_more_than_usual_fuses_break_is_fused_all_the_same() -> None:
    """600 Ah of lithium drive some 21 kA; the strongest of the usual styles breaks 20 kA."""
    text = EIGHT.replace("agm, nominal: 12 V, capacity: 200 Ah", BIG_BANK)
    made = choose(text, "left 2s, right 2s")
    assert "battery-fuse-missing" not in {f.rule for f in made.after.findings}
    fuses = load_plan("plan.yaml", text=made.text).fuses
    assert len(fuses) == 2
    for fuse in fuses.values():
        assert fuse.style is None
        assert fuse.interrupt is not None
        assert fuse.interrupt.value > 20e3


BIG_BANK = "lithium-iron-phosphate, nominal: 12.8 V, capacity: 600 Ah, low_temperature_cutoff: true"


def test_only_what_is_sold_is_chosen() -> None:
    """No photovoltaic cable under 1.5 mm², and no stud-mounted fuse under 30 A."""
    made = choose(PAIRS)
    plan = load_plan("plan.yaml", text=made.text)
    assert plan.fuses["two-to-house-fuse"].rating.text == "15 A"
    assert plan.fuses["two-to-house-fuse"].style == "class-t"
    assert plan.fuses["one-to-house-fuse"].style == "stud-mounted"
    short = choose(EASY.replace("length: 9 m", "length: 1 m").replace("length: 5 m", "length: 1 m"))
    sizes = [c.text for c in short.choices if c.path[-1] == "size"]
    assert all(float(text.split()[0]) >= 1.5 for text in sizes)


def test_no_module_is_left_over_for_a_current_that_can_be_set() -> None:
    """Four of 170 W could give 48 A to a bank that may get 18 A: the controller is set lower."""
    text = EIGHT.replace("capacity: 200 Ah}", "capacity: 100 Ah, max_charge_current: 18 A}")
    text = text.replace("pmax: 100 W", "pmax: 170 W").replace("isc: 6 A", "isc: 9.8 A")
    first = ranked(text).fitting[0]
    assert first.joining.unused == 0
    made = choose(text)
    assert made.joining is not None
    assert made.joining.name == first.name
    assert "`limited_to: " in words(made)


def test_a_first_plan_for_two_controllers_is_chosen_with_its_remarks() -> None:
    """Each of its entries has remarks, which stay with what they are about."""
    told = {"setting": "cabin", "code": "iec", "modules": "4", "battery": "agm", "controllers": "2"}
    labels = {"voc": "40 V", "vmp": "33 V", "isc": "9 A", "pmax": "300 W"}
    limits = {"input-voltage": "100 V", "output-current": "30 A", "nominal": "12 V"}
    text = plan_text({**told, **labels, **limits})
    made = choose(text)
    assert made.joining is not None
    assert made.joining.name == "tracker-1 2s, tracker-2 2s"
    remarks = [line.partition("#")[2] for line in text.splitlines() if "#" in line]
    for remark in remarks:
        assert remark in made.text
    one = choose(text, "tracker-1 2s2p")
    plan = load_plan("plan.yaml", text=one.text)
    assert list(plan.controllers) == ["tracker-1"]


def test_a_joint_for_many_strings_is_rated_and_not_spoken_against() -> None:
    """Five of 10.9 A carry 68 A: more than a usual joint, and each needs its fuse of 20 A."""
    label = "voc: 37.8 V, isc: 10.9 A, vmp: 31.4 V, pmax: 320 W, max_series_fuse: 20 A"
    text = EIGHT.replace("voc: 22 V, isc: 6 A, vmp: 18 V, pmax: 100 W", label)
    text = text.replace("count: 4, controllers: [left, right]", "count: 5, feeds: left")
    made = choose(re.sub(r"  right: .*\n", "", text), "5p")
    assert "string-fuse-missing" not in {f.rule for f in made.after.findings}
    [joint] = load_plan("plan.yaml", text=made.text).combiners.values()
    assert joint.rating is not None
    assert joint.rating.value >= 68.0
