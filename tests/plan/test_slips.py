"""Slips of who writes a first plan: what is meant is told at their line."""

from __future__ import annotations

import pytest

from found import found_in_whole
from wattproof.loading import load_study
from wattproof.source import PlanUnusable, Problem

PLAN = """\
wattproof: 1
setting: vehicle
datasheets:
  modules:
    p100: {pmax: 100 W, voc: 22 V, isc: 6 A}
  cables:
    c6: {size: 6 mm²}
strings:
  roof: {module: p100, series: 2, mounting: roof-gap}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}
fuses:
  charge-fuse: {rating: 20 A}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
wires:
  home-run: {from: roof, to: tracker.pv, cable: c6, length: 4 m}
  charge-run: {from: tracker.battery, to: house, cable: c6, length: 1 m,
               inline: [{charge-fuse: {from_end: to, distance: 15 cm}}]}
"""
"""Sound enough to be read."""
BATTERY = "{chemistry: agm, nominal: 12 V, capacity: 100 Ah}"
INLINE = "[{charge-fuse: {from_end: to, distance: 15 cm}}]"


def problems_of(text: str) -> list[Problem]:
    with pytest.raises(PlanUnusable) as unusable:
        load_study("plan.yaml", text=text)
    return list(unusable.value.problems)


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("100 Ah", "'1.000,5 Ah'", "write `1000.5 Ah`"),
        ("100 Ah", "1.000,5 Ah", "write `1000.5 Ah`"),
        ("rating: 20 A", "rating: 1,000.5 A", "write `1000.5 A`"),
        ("100 Ah", "'1,000,000 Ah'", "write `1000000 Ah`"),
        ("100 Ah", "1280 Wh", "ampere-hours from the label"),
        ("6 mm²", "2 aught", "write `2/0`"),
        ("6 mm²", "3-0", "write `3/0`"),
        ("length: 1 m", "length: 1 m 20 cm", "write `1.2 m`"),
        ("75 V", "75/15", "write `75 V`, if its label says so"),
        ("15 A}\nfuses", "75/15}\nfuses", "write `15 A`, if its label says so"),
        ("series: 2", "series: two", "write `2`"),
        ("to: tracker.pv", "to: controller.pv", "write `tracker.pv`, the only one here"),
        ("to: house", "to: battery", "write `house`, the only one here"),
        ("length: 4 m", "length: 4 m, place: roof to cabin", "write `[roof, cabin]`"),
        ("cable: c6, length: 1", "cable: [c6], length: 1", "write `c6`"),
        ("from: roof", "from: [roof]", "write `roof`"),
        ("setting: vehicle\n", "setting: vehicle\nlocation: somewhere\n", "under `site:`"),
        ("setting: vehicle", "location: van", "write `setting: vehicle`"),
        ("100 Ah}", "100 Ah, location: under the bed}", "its `place:`"),
        ("length: 1 m", "length: 1 m, at: cabin", "its `place:`"),
        ("{from_end: to, distance: 15 cm}", "{at: house}", "{NAME: {from_end: …"),
        ("from_end: to", "from_end: house", "write `to`"),
        (INLINE, INLINE[1:-1], f"write `inline: {INLINE}`"),
        (f"inline: {INLINE}", "fuse: charge-fuse, distance: 15 cm", "distance: 15 cm}}]`"),
        ("100 Ah}", "100 Ah, fuse: 30 A}", "in the wire that it protects"),
        ("kind: mppt,", "model: XY, kind: mppt,", "names no product"),
        (
            "max_input_voltage: 75 V, max_output_current: 15 A",
            "rating: 75/15",
            "volts of its solar",
        ),
        (f"house: {BATTERY}", "chemistry: agm\n  nominal: 12 V", "write a name above them"),
        ("  cables:", "  batteries: {lead: {chemistry: agm}}\n  cables:", "with the part itself"),
        ("wattproof: 1\n", "wattproof: 1\nplan: {setting: vehicle, wires: {}}\n", "at the margin"),
    ],
)
def test_what_is_meant_is_told(old: str, new: str, instead: str) -> None:
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in problem.instead for problem in told), told


def test_a_way_behind_a_breaker_is_told_with_the_rating_that_was_written() -> None:
    panel = "distribution: {panel: {ways: {lights: {breaker: 10 A}}}}\nwires:\n"
    [problem] = problems_of(PLAN.replace("wires:\n", panel))
    assert problem.instead.startswith("write `fuse: 10 A`")


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("kind: mppt", "kind: mppt, absorption_voltage: 14.4 V", "write `charge_voltage`"),
        ("kind: mppt", "kind: mppt, equalization_voltage: 15 V", "write `equalise_voltage`"),
        ("kind: mppt", "kind: mppt, lvd: 11.5 V", "`opens_below` of a switch"),
        ("kind: mppt", "kind: microinverter", "no part of a plan"),
        ("100 Ah}", "100 Ah, low_voltage_cutoff: 11 V}", "`low_voltage` of an inverter"),
        ("chemistry: agm", "chemistry: NMC", "which burns more easily"),
        ("chemistry: agm", "chemistry: lithium titanate", "which burns more easily"),
        ("chemistry: agm", "chemistry: NMC", "with `unknown` it is checked as if it were lead"),
        ("chemistry: agm", "chemistry: NiCd", "checked as if it were lead"),
        ("chemistry: agm", "chemistry: nickel iron", "checked as if it were lead"),
        ("chemistry: agm", "chemistry: sodium-ion", "checked as if it were lead"),
        ("chemistry: agm", "chemistry: leisure", "its label says which"),
        ("chemistry: agm", "chemistry: agm, cells: 8", "as `8s` of `nominal: 3.2 V`"),
        ("chemistry: agm", "chemistry: agm, in_series: 2", "how they are wired"),
        ("chemistry: agm", "chemistry: agm, total_capacity: 400 Ah", "write `bank_capacity`"),
        ("pmax: 100 W", "pmax: 100 W, nominal: 12 V", "`cells_in_series: 36` of a module for 12 V"),
        ("pmax: 100 W", "pmax: 100 W, type: monocrystalline", "write `technology: crystalline`"),
        ("pmax: 100 W", "pmax: 100 W, build: amorphous", "write `technology: thin-film`"),
        (
            "wires:\n",
            "chargers: {engine: {kind: alternator, regulator: none, feeds: house}}\nwires:\n",
            "write as `charge_voltage` what a meter shows",
        ),
        (
            "wires:\n",
            "chargers: {engine: {kind: alternator, regulator: false, feeds: house}}\nwires:\n",
            "write as `charge_voltage` what a meter shows",
        ),
        (
            "wires:\n",
            "chargers: {engine: {kind: outboard, feeds: house}}\nwires:\n",
            "write `alternator`",
        ),
        ("[{charge-fuse:", "[shunt, {charge-fuse:", "a shunt stands in no wire"),
        ("wires:\n", "equalisers: {pair: {rating: 10 A}}\nwires:\n", "`equaliser: … A`"),
        ("wires:\n", "boilers: {tank: {power: 600 W}}\nwires:\n", "stands under `loads:`"),
        (
            "wires:\n",
            "heaters: {tank: {warms: water, power: 60 W}}\nwires:\n",
            "what heats water or air stands under `loads:`",
        ),
        (
            "wires:\n",
            "switches: {red: {rating: 9 A, opened_by: button}}\nwires:\n",
            "by a button too, leaves it out",
        ),
        (
            "wires:\n",
            "loads: {air-heater: {current: 2 A, start_current: 10 A}}\nwires:\n",
            "for more than some seconds",
        ),
    ],
)
def test_no_key_of_another_meaning_is_proposed(old: str, new: str, instead: str) -> None:
    """Some are spelt almost alike: `absorption_voltage` was taken for `float_voltage`."""
    assert PLAN.count(old) == 1
    assert any(instead in p.instead for p in problems_of(PLAN.replace(old, new)))


@pytest.mark.parametrize(
    ("written", "name"),
    [("Kühlbox", "kuehlbox"), ("réfrigérateur", "refrigerateur"), ("größe-1", "groesse-1")],
)
def test_a_name_keeps_its_letters_without_their_marks(written: str, name: str) -> None:
    """`k-hlbox` was proposed."""
    [problem] = problems_of(PLAN.replace("  charge-run:", f"  {written}:"))
    assert problem.instead == f"write `{name}`"


def test_a_wire_of_a_wrong_name_leaves_no_open_end() -> None:
    """What it joins was read no less for that: its name is the only slip."""
    [problem] = problems_of(PLAN.replace("  charge-run:", "  charge+:"))
    assert problem.message.startswith("`charge+` is not a name")


JOINT = PLAN.replace(
    "  home-run: {from: roof, to: tracker.pv, cable: c6, length: 4 m}\n",
    "  roof-lead: {from: roof, to: joint, cable: c6, length: 2 m}\n"
    "  shed-lead: {from: joint, to: shed, cable: c6, length: 2 m}\n"
    "  home-run: {from: joint, to: tracker.pv, cable: c6, length: 4 m}\n",
).replace(
    "controllers:\n",
    "  shed: {module: p100, series: 2, mounting: roof-gap}\n"
    "combiners:\n  joint: {joins: [LISTED], kind: terminal-block}\ncontrollers:\n",
)


def test_a_joint_may_list_the_wires_that_lead_to_it() -> None:
    listed, named = (
        load_study("plan.yaml", text=JOINT.replace("LISTED", of))
        for of in ("roof-lead, shed-lead", "roof, shed")
    )
    assert listed.plan.combiners["joint"].joins == named.plan.combiners["joint"].joins
    [array] = listed.array.arrays
    assert len(array.declared_strings) == 2
    [problem] = problems_of(JOINT.replace("LISTED", "roof-lead, charge-run"))
    assert problem.message == "there is no component `charge-run`"


HYBRID = PLAN.replace(
    "  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}\n", ""
).replace("controllers:\n", "FAMILY:\n  unit: {power: 3 kW, nominal: 12 V, KEY}\n")


@pytest.mark.parametrize("family", ["inverters", "inverter_chargers"])
@pytest.mark.parametrize("key", ["max_input_voltage: 450 V", "pv1: {}", "mppt_range: 120-430 V"])
def test_the_solar_input_of_an_inverter_is_a_controller(family: str, key: str) -> None:
    """Whoever led its string to the inverter itself would put hundreds of volts on the battery."""
    text = HYBRID.replace("FAMILY", family).replace("KEY", key).replace("tracker.pv", "unit.pv1")
    told = problems_of(text.replace("tracker.battery", "unit.battery"))
    solar = {p.message for p in told if "declare it under `controllers:`" in p.instead}
    assert solar >= {
        "`unit` has no terminal `pv1`",
        f"{family[:-1].replace('_', ' ')} `unit` has no key `{key.split(':')[0]}`",
    }


def test_an_inverter_that_charges_is_one_of_its_family() -> None:
    text = HYBRID.replace("FAMILY", "inverters").replace("KEY", "charge_voltage: 14.4 V")
    assert any("move it there" in p.instead for p in problems_of(text))


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("100 Ah", "2,000 Ah", "write `2000 Ah` if the comma marks thousands"),
        ("100 Ah", "1'000 Ah", "write `1000 Ah`"),
        ("100 Ah", "1 000 Ah", "write `1000 Ah`"),
        ("100 Ah", "400 Ah total", "`bank_capacity: 400 Ah` in the place of `capacity`"),
        ("100 Ah", "100 Ah x 2", "write `100 Ah`, and `arrangement: 2p`"),
        ("length: 4 m", "length: 8 m round trip", "write `4 m`, its length one way"),
        ("length: 4 m", "length: 40 centimeters", "write `40 cm`"),
        ("length: 4 m", "length: 4 mtr", "write `4 m`"),
        ("size: 6 mm²", "size: '10,0 AWG'", "write `10 AWG`"),
        ("size: 6 mm²", "size: 6 quadrat", "write `6 mm²`"),
        ("rating: 20 A", "rating: C20", "write `20 A`"),
        ("rating: 20 A", "rating: 20A/58V", "write `20A`"),
        ("rating: 20 A", "rating: 20 A + 20 A", "is told by `series`, `parallel`"),
        ("rating: 20 A", "rating: '= 20 A'", "write `20 A`"),
        ("rating: 20 A", "rating: {value: 20, unit: A}", "write `20 A`"),
        ("rating: 20 A", "rating: n/a", "write `unknown`, or delete the key"),
        ("from: roof", "from: {name: roof}", "write `roof`"),
        ("series: 2", "series: 2p", "is told by `arrangement`"),
        ("series: 2", "series: 2.0", "write `2`"),
        ("series: 2", "arrangement: 2s/1p", "write `2s1p`"),
        ("mounting: roof-gap", "mounting: n/a", "or delete the key if nobody knows"),
        ("mounting: roof-gap", "mounting: ground mount", "where they stand on a frame"),
        ("kind: mppt", "kind: pulse width", "write `pwm`"),
        ("length: 1 m", "length: 1 m, pole: red", "write `positive`"),
    ],
)
def test_a_value_in_another_form_is_told_as_it_is_written(old: str, new: str, instead: str) -> None:
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in problem.instead for problem in told), told


@pytest.mark.parametrize(
    "form",
    [
        "[{device: charge-fuse, from_end: to, length: 15 cm}]",
        "[{name: charge-fuse, from_end: to, distance: 15 cm}]",
        "[{charge-fuse: {from: to, distance: 15 cm}}]",
        "[{charge-fuse: {to: 15 cm}}]",
        "[{charge-fuse: 15 cm from to}]",
        "[{charge-fuse: [to, 15 cm]}]",
        "[[charge-fuse, to, 15 cm]]",
        "[[{charge-fuse: {from_end: to, distance: 15 cm}}]]",
        "{name: charge-fuse, from_end: to, distance: 15 cm}",
    ],
)
def test_a_device_in_a_wire_is_told_with_its_place(form: str) -> None:
    [problem] = problems_of(PLAN.replace(INLINE, form))
    if "device" not in form:
        assert "{charge-fuse: {from_end: to, distance: 15 cm}}" in problem.instead


@pytest.mark.parametrize(
    "form", ["[charge-fuse 15 cm]", "[charge-fuse @ 15 cm]", "{charge-fuse: 15 cm}"]
)
def test_no_end_is_told_for_a_distance_that_counts_from_none(form: str) -> None:
    """It was `to`, so that a fuse far from its battery was taken for one at it."""
    [problem] = problems_of(PLAN.replace(INLINE, form))
    assert "{charge-fuse: {from_end: …, distance: 15 cm}}" in problem.instead
    assert problem.instead.endswith("`from_end` being `from` or `to`")


@pytest.mark.parametrize(
    "form", ["[{name: charge-fuse}]", "[{charge-fuse: true}]", "[{fuse: charge-fuse}]"]
)
def test_a_device_alone_is_told_by_its_name(form: str) -> None:
    [problem] = problems_of(PLAN.replace(INLINE, form))
    assert problem.instead == "write `charge-fuse`"


BOND = "bonds:\n  body: {from: house.negative, to: chassis, cable: c6}\nwires:\n"


@pytest.mark.parametrize(
    "end",
    [
        *("huose.negative", "houses.negative", "house.battery.negative", "house.post.negative"),
        *(
            "house -",
            "house--",
            "house (-)",
            "house minus",
            "house_neg",
            "house-black",
            "house.gnd",
        ),
        *("house.negative-terminal", "House.negative", "house/negative"),
    ],
)
def test_the_pole_that_was_written_is_kept(end: str) -> None:
    """The name was told without it, and a bond of both poles is none."""
    plan = PLAN.replace("wires:\n", BOND).replace("from: house.negative", f"from: '{end}'")
    [problem] = problems_of(plan)
    assert problem.instead == "write `house.negative`"


def test_two_poles_at_one_terminal_are_asked_for() -> None:
    plan = PLAN.replace("wires:\n", BOND).replace("house.negative", "house.pos.negative")
    [problem] = problems_of(plan)
    assert problem.instead == "write `house.positive` or `house.negative`: it is of one pole"


@pytest.mark.parametrize(
    "end",
    [
        *("tracker-pv", "tracker_pv", "tracker/pv", "tracker pv", "tracker (pv)", "tracker->pv"),
        *("traker.pv", "tracker.solar", "pv.tracker", "tracker.tracker.pv", "tracker.solar_input"),
    ],
)
def test_a_terminal_is_told_in_one_answer(end: str) -> None:
    [problem] = problems_of(PLAN.replace("to: tracker.pv", f"to: '{end}'"))
    assert problem.instead.startswith("write `tracker.pv`")


@pytest.mark.parametrize("end", ["house and chassis", "house, chassis", "[house, chassis]"])
def test_an_end_of_two_parts_loses_neither(end: str) -> None:
    [problem] = problems_of(
        PLAN.replace("to: house", f"to: {end}" if "[" in end else f"to: '{end}'")
    )
    assert "takes a wire of its own" in problem.instead


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("max_input_voltage: 75 V", "pv_voltage: 75 V", "write `max_input_voltage`"),
        ("max_output_current: 15 A", "rated_current: 15 A", "write `max_output_current`"),
        ("max_output_current: 15 A", "max_charge_current: 15 A", "write `max_output_current`"),
        ("kind: mppt", "kind: mppt, voltage: 14.4 V", "`charge_voltage` for what it charges at"),
        ("kind: mppt", "kind: mppt, voltage: 12 V", "write `nominal`"),
        ("isc: 6 A", "isc: 6 A, tk_voc: -0.3 %/°C", "write `voc_coefficient`"),
        ("isc: 6 A", "isc: 6 A, voc-coeficient: -0.3 %/°C", "write `voc_coefficient`"),
        ("100 Ah}", "100 Ah, max_charge: 30 A}", "write `max_charge_current`"),
        ("100 Ah}", "100 Ah, float_voltage: 13 V}", "it is told of `controllers`"),
        ("100 Ah}", "100 Ah, type: agm}", "`chemistry` says that, and stands here already"),
        ("100 Ah}", "100 Ah, name: bank}", "is its name: delete this"),
        ("series: 2", "max_series: 2", "it is told of `batteries`"),
        ("length: 4 m", "poles: 2, length: 4 m", "it is told of `"),
        ("length: 4 m", "länge: 4 m", "write `length`"),
        ("from: roof", "source: roof", "write `from`"),
        ("fuses:\n", "sicherungen:\n", "write `fuses`"),
        ("fuses:\n", "main_fuses:\n", "write `fuses`"),
        ("wires:\n", "cables:\n", "write `wires`"),
    ],
)
def test_a_key_is_told_by_what_it_means_and_holds(old: str, new: str, instead: str) -> None:
    text = PLAN.replace(f"\n{old}", f"\n{new}") if old.endswith("\n") else PLAN.replace(old, new)
    assert text != PLAN
    told = problems_of(text)
    assert any(instead in problem.instead for problem in told), told


def test_what_stands_in_a_list_is_told_once() -> None:
    """Each wire to it was told another component of a name much like it."""
    text = PLAN.replace("  charge-fuse: {rating", "  - {name: charge-fuse, rating")
    [problem] = problems_of(text)
    assert "write each name as a key, `charge-fuse:`" in problem.instead


@pytest.mark.parametrize(
    ("old", "new", "stands"),
    [
        ("to: house", "to: charge-run", "wires"),
        ("to: house", "to: c6", "datasheets: cables"),
        ("cable: c6, length: 4 m", "cable: charge-fuse, length: 4 m", "fuses"),
        ("module: p100", "module: c6", "datasheets: cables"),
    ],
)
def test_a_part_of_another_kind_is_told_as_such(old: str, new: str, stands: str) -> None:
    told = problems_of(PLAN.replace(old, new))
    assert any(f"stands under `{stands}`" in problem.instead for problem in told), told


def test_a_number_makes_another_part() -> None:
    """`pack-3` is not `pack-2` misspelt."""
    text = PLAN.replace("house:", "pack-2:").replace("to: house", "to: pack-3")
    [problem] = problems_of(text)
    assert problem.instead == "declare it, or check the name"


def test_a_misspelt_season_is_told_where_it_stands() -> None:
    energy = "energy: {sun_hours: {wintr: 1 h}, uses: {lamp: {hours: {winter: 2 h}}}}\n"
    load = "loads: {lamp: {power: 5 W}}\n"
    [problem] = problems_of(PLAN + energy + load)
    assert (problem.instead, "`wintr`" in problem.message) == ("write `winter`", True)


@pytest.mark.parametrize("word", ["ground", "gnd", "frame"])
def test_what_means_the_body_is_answered_with_what_it_may_be(word: str) -> None:
    text = PLAN.replace("  home-run:", f"  tie: {{from: house.negative, to: {word}, cable: c6, "
                        "length: 1 m}\n  home-run:")  # fmt: skip
    [problem] = problems_of(text)
    assert all(f"`{each}`" in problem.instead for each in ("chassis", "water", "earth"))


@pytest.mark.parametrize(("word", "meant"), [("OPzS", "flooded"), ("OPzV", "gel")])
def test_a_letter_code_of_lead_batteries_is_the_kind_that_it_is(word: str, meant: str) -> None:
    """Trade facts, from memory: tubular cells with liquid acid, and closed ones with gel."""
    [problem] = problems_of(PLAN.replace("chemistry: agm", f"chemistry: {word}"))
    assert f"write `{meant}`" in problem.instead


@pytest.mark.parametrize(
    ("strings", "instead"),
    [
        ("  roof: {module: p100, series: 2}\n", "write `roof`, its string"),
        ("  roof: {module: p100}\n  rack: {module: p100}\n", "write one of `roof`, `rack`"),
        ("  roof: {module: p100, arrangement: open, count: 4}\n", "write `roof`, its string"),
        ("", "declare a string of it under `strings`"),
    ],
)
def test_a_wire_from_the_sheet_of_a_module_is_told_its_string(strings: str, instead: str) -> None:
    plan = PLAN.replace("  roof: {module: p100, series: 2, mounting: roof-gap}\n", strings)
    plan = plan.replace("strings:\ncontrollers", "controllers").replace("from: roof", "from: p100")
    [problem] = (p for p in problems_of(plan) if "p100" in p.message)
    assert instead in problem.instead


@pytest.mark.parametrize(
    ("told", "instead"),
    [
        ("pole: negative", "draw each pole for itself"),
        ("in: positive", "draw each pole for itself"),
        ("poles: 2", "says `poles: 2` where it is declared"),
        ("rating: 20 A, from_end: to, distance: 1 cm", "write `rating` once"),
        ("style: class-t", "where it is declared: under `fuses:`"),
    ],
)
def test_what_a_device_in_a_wire_is_not_told_there(told: str, instead: str) -> None:
    [problem] = problems_of(PLAN.replace("{from_end: to, distance: 15 cm}", f"{{{told}}}"))
    assert instead in problem.instead


def test_a_size_as_the_name_of_a_cable() -> None:
    """Where it is declared it only has to be spelt; where it is used it may be that or a size."""
    plan = PLAN.replace("c6: {", "2.5mm: {").replace("cable: c6", "cable: 2.5mm")
    declared, *used = problems_of(plan)
    assert declared.instead == "write `2-5mm`"
    assert used
    assert all("write `2.5 mm²` if that" in problem.instead for problem in used)
    assert all("or `2-5mm`, if a cable" in problem.instead for problem in used)


@pytest.mark.parametrize(
    ("kind", "instead"),
    [
        ("water", "write `wind`"),
        ("dynamo", "write `alternator`"),
        ("generator", "write `shore` where it is fed by a generator"),
        ("solar", "stands under `controllers:`"),
        ("inverter", "stands under `inverter_chargers:`"),
        ("dc-dc", "with `kind: vehicle-charger`"),
    ],
)
def test_the_kind_of_a_charger(kind: str, instead: str) -> None:
    charger = f"chargers: {{other: {{kind: {kind}}}}}\nwires:\n"
    assert any(instead in p.instead for p in problems_of(PLAN.replace("wires:\n", charger)))


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("setting: vehicle\n", "setting: vehicle\nname: Rosie\n", "write `title`"),
        ("voc: 22 V", "tempco: -0.3 %/°C, voc: 22 V", "write `voc_coefficient` for that of"),
        ("voc: 22 V", "size: 1.5 x 0.7 m, voc: 22 V", "as `area: … m²`"),
        ("voc: 22 V", "half_cells: 108, voc: 22 V", "two halves of a cell as one"),
        (
            "max_input_voltage: 75 V",
            "temperature_compensation: true, max_input_voltage: 75 V",
            "else `compensates_temperature: true`",
        ),
        (
            "wires:\n",
            "chargers: {shore: {kind: shore, temp_compensation: -24 mV/°C}}\nwires:\n",
            "write `compensation: … mV/°C`",
        ),
        ("series: 2", "wiring: 2s2p", "write `arrangement`"),
        ("100 Ah}", "100 Ah, connection: parallel}", "`2p` side by side"),
        ("100 Ah}", "100 Ah, cca: 800 A}", "is not told: delete this"),
        ("max_input_voltage: 75 V", "input: 75 V", "write `max_input_voltage`"),
        ("max_input_voltage: 75 V", "spd: type 2, max_input_voltage: 75 V", "under `arresters:`"),
        ("wires:\n", "generator: {gen: {power: 3 kW}}\nwires:\n", "`chargers: {generator-"),
        (
            "wires:\n",
            "hybrid_inverters: {unit: {power: 3 kW, max_pv_voltage: 450 V}}\nwires:\n",
            "a controller of its own",
        ),
        (
            "wires:\n",
            "combiners: {y: {joins: [roof], string_fuses: 15 A}}\nwires:\n",
            "stands in its wire",
        ),
        ("from: roof", "from: roof+house", "a joint under `combiners:`"),
        ("to: house", "to: house+", "write `house.positive`"),
        ("to: house", "to: house+ve", "write `house.positive`"),
        (
            "wires:\n",
            "loads: {windlass: {power: 1 kW, duration: 5 min}}\nwires:\n",
            "its `short_duty:`",
        ),
        (
            "wires:\n",
            "inverters: {mains: {power: 500 W}}\n"
            "wires:\n  ac: {from: mains.ac, to: house, cable: c6, length: 1 m}\n",
            "outside the plan: leave this wire out",
        ),
    ],
)
def test_words_of_boats_and_cabins(old: str, new: str, instead: str) -> None:
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in problem.instead for problem in told), told


@pytest.mark.parametrize(
    ("joins", "instead"),
    [
        ("left and right", "write `[left, right]`"),
        ("left & right", "write `[left, right]`"),
        ("left - right", "write `[left, right]`"),  # a hyphen on a line that is indented otherwise
        ("left right", "write `[left, right]`, where it may be several"),
        ("[left, panels]", "write the one that is meant: `left`, `right`"),
    ],
)
def test_strings_of_a_joint_that_are_no_list(joins: str, instead: str) -> None:
    roof = "{module: p100, series: 1, mounting: roof-gap}"
    plan = PLAN.replace("  roof: {module: p100, series: 2, mounting: roof-gap}\n", "")
    plan = plan.replace(
        "controllers:\n",
        f"  left: {roof}\n  right: {roof}\ncombiners:\n  roof: {{joins: {joins}}}\ncontrollers:\n",
    )
    assert problems_of(plan)[0].instead == instead


@pytest.mark.parametrize(
    ("nominal", "layout", "other", "instead"),
    [
        ("12 V", "2s2p", "12 V", "write `nominal: 6 V`, of one; else use one for 24 V"),
        ("25.6 V", "8s", "24 V", "write `nominal: 3.2 V`, of one; else put a converter"),
        ("12 V", "2s", "48 V", "use one for 24 V in place of"),  # neither of one nor of all
        ("12 V", "2p", "24 V", "use one for 12 V in place of"),
    ],
)
def test_the_voltage_of_a_bank_told_as_that_of_one_battery(
    nominal: str, layout: str, other: str, instead: str
) -> None:
    """Two batteries of 6 V told as 12 V were answered with a converter from 24 V to 12 V."""
    result = found_in_whole(
        "plan.yaml",
        f"""
wattproof: 1
setting: boat
batteries: {{house: {{nominal: {nominal}, arrangement: {layout}}}}}
inverters: {{mains: {{power: 800 W, nominal: {other}}}}}
wires: {{run: {{from: house, to: mains}}}}
""",
    )
    found = [f.remedy for f in result.findings if f.rule == "nominal-voltage-unlike"]
    [told] = [*found, *(problem.instead for problem in result.problems)]
    assert instead in told
    assert ("write" in told) is ("write" in instead)


FIRST_TRY = """\
wattproof: 1
setting: vehicle
modules:
  p100: {watts: 100, voc: 22 V, isc: 6 A}
array: {module: p100, series: 2, mounting: roof-gap}
controller:
  type: mppt
  max_pv_voltage: 75
fuses:
  - name: Charge fuse
    rating: 20
battery: {type: agm, voltage: 12 V, capacity: 100 Ah}
split-charge-relay: {amps: 140 A}
wires:
  - {from: array, to: controller.pv, length: 4}
  - {from: controller.battery, to: battery, length: 1 m, inline: [charge-fuse]}
"""
"""As people write who never saw a plan: one part without a name, parts in lists."""


def test_what_is_wrong_below_a_wrong_shape_is_told_in_the_same_run() -> None:
    """It took a run for each layer: the shape, then the keys, then the units, then the ends."""
    told = {problem.message: problem.instead for problem in problems_of(FIRST_TRY)}
    assert told["a plan has no key `array`"].startswith("write `strings:`, and below it a name")
    assert "such as `controller:`" in told["a plan has no key `controller`"]
    assert "such as `battery:`" in told["a plan has no key `battery`"]
    assert told["a plan has no key `split-charge-relay`"].startswith("write `switches:`")
    assert (
        "`charge-fuse:`"
        in told["`fuses` is a list: each entry here stands under a name of its own"]
    )
    assert told["module `p100` has no key `watts`"] == "write `pmax`"
    assert told["`pmax`: `100` has no unit"].startswith("write `100 W`")
    assert told["controller `controller` has no key `type`"] == "write `kind`"
    assert told["`max_input_voltage`: `75` has no unit"].startswith("write `75 V`")
    assert told["battery `battery` has no key `voltage`"] == "write `nominal`"
    assert told["switch `split-charge-relay` has no key `amps`"] == "write `rating`"
    assert told["`rating`: `20` has no unit"].startswith("write `20 A`")
    assert told["`length`: `4` has no unit"].startswith("write `4 m` or `4 ft`")
    ends = ("no component", "several terminals", "no device", "open end", "has no key `name`")
    assert not [message for message in told if any(end in message for end in ends)]


def test_more_of_a_family_under_another_word_is_to_be_moved() -> None:
    """It was said that one of the two is to be kept."""
    told = problems_of(PLAN + "banks: {start: {chemistry: agm, nominal: 12}}\n")
    assert next(problem.instead for problem in told).startswith("move what stands here to `batteri")
    assert told[1].message == "`nominal`: `12` has no unit"


@pytest.mark.parametrize(
    ("section", "instead"),
    [
        ("components: {a: {type: battery}}", "the family of its kind"),
        ("parts: {a: {type: battery}}", "the family of its kind"),
        ("variants: {a: {strings: {}}}", "`wattproof layouts` compares"),
        ("connectors: {anderson: {rating: 50 A}}", "a plug stands in its wire"),
        ("dcdc: {rating: 30 A}", "kind: vehicle-charger"),
    ],
)
def test_a_section_that_is_none_is_answered_with_where_it_stands(
    section: str, instead: str
) -> None:
    assert any(instead in problem.instead for problem in problems_of(f"{PLAN}{section}\n"))


def test_wires_that_are_told_as_a_chain_are_answered_with_the_form_of_a_wire() -> None:
    wires = PLAN.index("wires:")
    text = PLAN[:wires] + "wiring:\n  - roof -> fuse -> tracker -> house\n"
    assert any("under a name, and the fuses" in problem.instead for problem in problems_of(text))


def test_a_list_of_names_with_a_value_each_is_read_as_these() -> None:
    text = PLAN.replace("  charge-fuse: {rating: 20 A}", "  - charge-fuse: 20 A")
    told = {problem.message: problem.instead for problem in problems_of(text)}
    assert "write `charge-fuse: {rating: 20 A}`" in told.values()
    assert not [message for message in told if "no device" in message]


def test_a_name_that_is_none_is_read_on_under_the_one_that_is_proposed() -> None:
    text = PLAN.replace("charge-fuse: {rating: 20 A}", "Charge+: {rating: 20}")
    told = {problem.message for problem in problems_of(text)}
    assert "`rating`: `20` has no unit" in told


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("6 mm²", "8 B&S", "write `8 AWG`"),
        ("6 mm²", "10g", "write `10 AWG`"),
        ("6 mm²", "50 square mm", "write `50 mm²`"),
        ("6 mm²", "2*6mm2", "write `6mm2`"),
        ("6 mm²", "twin core 6 mm²", "write `6 mm²`"),
        ("6 mm²", "110A cable", "in its print"),
        ("6 mm²", "8 swg", "the area of its copper"),
        ("voc: 22 V", "voc: 22Voc", "write `22V`"),
        ("voc: 22 V", "voc: Voc 22 V", "write `22 V`"),
        ("voc: 22 V", "voc: 22 V?", "write `22 V` if it is measured"),
        ("pmax: 100 W", "pmax: 200 W total", "what the label of one says"),
        ("capacity: 100 Ah", "capacity: 80 Ah usable", "the whole that its label says"),
        ("capacity: 100 Ah", "capacity: 100 Amp Hour", "write `100 Ah`"),
        ("capacity: 100 Ah", "capacity: 100 Ah @ 20hr", "write `100 Ah`"),
        ("100 Ah}", "100 Ah, max_charge_current: 0.5C}", "0.5 times its ampere-hours"),
        ("length: 4 m", "length: 4", "write `4 m` or `4 ft`"),
        ("length: 4 m", "length: 1½ m", "write `1.5 m`"),
        ("length: 4 m", "length: 1m50", "write `1.50 m`"),
        ("length: 4 m", "length: less than 4 m", "write `4 m` if it is measured"),
        ("setting: vehicle", "setting: vehicle\nsite: {coldest: 10}", "`10 °C` or `10 °F`"),
        ("setting: vehicle", "setting: vehicle\nsite: {coldest: minus 5}", "`-5 °C` or `-5 °F`"),
        ("setting: vehicle", "setting: vehicle\nsite: {coldest: -5 oC}", "write `-5 °C`"),
        ("pmax: 100 W", "pmax: 100 W, voc_coefficient: -0.0029/°C", "write `-0.29 %/°C`"),
        ("wires:\n", "inverters: {i: {power: 1 kW, efficiency: 0.9}}\nwires:\n", "write `90 %`"),
    ],
)
def test_a_value_as_people_say_it_is_answered_with_what_it_means(
    old: str, new: str, instead: str
) -> None:
    """`0.9` of an efficiency was to be `0.9 %`, and `10` of an American's coldest day 10 °C."""
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in problem.instead for problem in told), told


def test_keys_that_are_read_as_a_text_lack_a_space() -> None:
    """It was said that the values of a controller belong under keys."""
    glued = "\n    max_input_voltage:75 V\n    max_output_current:15 A"
    text = PLAN.replace(" {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}", glued)
    told = [p for p in problems_of(text) if p.message.startswith("a colon and a space stand")]
    assert [p.instead for p in told] == [
        "write `max_input_voltage: 75 V`, then `max_output_current: 15 A`"
    ]


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("{size: 6 mm²}", "{size: 6 mm², length: 4 m}", "of the wire that names this cable"),
        (
            "mounting: roof-gap",
            "mounting: roof-gap, cable: c6",
            "the wire that leads to or from it",
        ),
        ("length: 4 m", "length: 4 m, connector: anderson", "write a small plug in it"),
        ("rating: 20 A}", "rating: 20 A, distance: 20 cm}", "where it sits is told in the wire"),
        ("100 Ah}", "100 Ah, connected_to: tracker}", "is told by a wire"),
        ("100 Ah}", "100 Ah, batteries: [a, b]}", "a bank of alike batteries is one part"),
        ("100 Ah}", "100 Ah, quantity: 4, wired: parallel}", "write `arrangement: 4p`"),
        ("100 Ah}", "100 Ah, number: 2, connection: in series}", "write `arrangement: 2s`"),
        (
            "series: 2",
            "count: 2, wired: side by side in parallel",
            "write `arrangement: 1s2p`, and",
        ),
        ("series: 2", "count: 1", "write `series: 1`"),
        ("15 A}\nfuses", "15 A, output_voltage: 14.4 V}\nfuses", "`charge_voltage` for what"),
        ("kind: mppt", "kind: boost mppt", "write `mppt`"),
        ("kind: mppt", "kind: mppt, price: 90", "no rule asks for it"),
        ("setting: vehicle", "setting: golf cart", "write `vehicle`"),
        ("setting: vehicle", "setting: canal houseboat", "write `boat`"),
        ("mounting: roof-gap", "mounting: bimini", "how air reaches the back: open rack"),
        ("to: house", "to: dc-panel", "declare it under `distribution`"),
        ("to: house", "to: main-fuse", "declare it under `fuses`"),
    ],
)
def test_a_key_of_another_part_is_answered_with_that_part(old: str, new: str, instead: str) -> None:
    """They got the list of all keys, or the families that have one of that name."""
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in problem.instead for problem in told), told


@pytest.mark.parametrize(
    ("part", "instead"),
    [
        ("selectors: {s: {rating: 200 A, positions: 4}}", "by wires that lead to `NAME.common`"),
        ("selectors: {s: {rating: 200 A, 1: house}}", "by wires that lead to `NAME.common`"),
        ("distribution: {p: {ways: {a: {fuse: 5 A, load: lamp}}}}", "told by a wire `from:` it"),
        ("loads: {lamp: {power: 5 W, hours: 4 h}}", "stands under `energy:`"),
        ("loads: {lamp: {power: 5 W, battery: house}}", "write a wire with `from:` the battery"),
        ("chargers: {w: {kind: wind, power: 400 W}}", "over the volts of its battery"),
        ("chargers: {w: {kind: dc-dc with solar}}", "`kind: vehicle-charger`"),
        ("chargers: {w: {kind: shore, max_pv_voltage: 30 V}}", "what has a solar input"),
        ("inverters: {i: {power: 1 kW, output: 120 VAC}}", "its mains side is outside"),
        ("inverters: {i: {power: 1 kW, voltage: 230 V}}", "its mains side is outside"),
        ("inverters: {i: {power: 1 kW, isolated: true}}", "its mains side is outside"),
        ("power_boxes: {b: {max_input_voltage: 50 V, capacity: 1 kWh}}", "inside of a box"),
        ("combiners: {y: {joins: [roof], type: 3-to-1}}", "`kind: branch-connector`"),
        ("combiners: {y: {joins: [roof], kind: 3-to-1 plug}}", "write `branch-connector`"),
    ],
)
def test_a_key_of_what_is_beside_a_part_is_answered(part: str, instead: str) -> None:
    told = problems_of(f"{PLAN}{part}\n")
    assert any(instead in problem.instead for problem in told), told


def test_what_stands_twice_is_read_on_and_no_open_end() -> None:
    """The second of two wires of one name was lost, and its ends were told as open."""
    [twice] = problems_of(PLAN.replace("  charge-run:", "  home-run:"))
    assert "give one of the two another name, such as `home-run-2`" in twice.instead
    [twice] = problems_of(PLAN + "batteries:\n  start: {chemistry: agm, nominal: 12 V}\n")
    assert twice.instead.startswith("move what stands here to the other `batteries`")
    [twice] = problems_of(PLAN.replace("voc: 22 V", "voc: 22 V, voc: 23 V"))
    assert twice.instead == "keep one of the two"


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        ("kind: mppt", "kind: DC-DC with MPPT", "write `vehicle-charger`"),
        ("max_input_voltage: 75 V", "solar_max_voltage: 75 V", "write `max_input_voltage`"),
        ("series: 2", "series: 2, azimuth: 180", "write `facing: south` if that counts from"),
        ("series: 2", "series: 2, facing: 92 °", "none of"),
        ("pmax: 100 W", "pmax: 100 W, folding: yes", "write `build: folding`"),
        ("length: 4 m", "length: 4 m, adapters: [a, b]", "write `2`"),
        ("length: 4 m", "length: 4 m, adapters: [1]", "write `1`"),
        ("length: 4 m", "length: 4 m, adapters: [1, 2]", "write one whole number"),
        ("length: 4 m", "length: 4 m, fuse: {rating: 20 A, type: gpv}", "{rating: 20 A}"),
        ("setting: vehicle", "setting: boat trailer", "write `vehicle`"),
        ("setting: vehicle", "setting: vehicle\nmetadata: {author: me}", "told as `title:`"),
        ("setting: vehicle", "setting: vehicle\nsite: {roof_temp: 60 °C}", "told of its place"),
        ("100 Ah}", "100 Ah, qty: 2, in: parallel}", "write `arrangement: 2p`"),
        ("100 Ah}", "100 Ah, feeds: panel}", "with `from:` this battery"),
        ("length: 4 m", "length: 4 m, fuse: 40A at battery", "{rating: 40A}"),
        ("length: 4 m", "length: 4 m, switch: yes", "switches: {run-off: {rating: … A}}"),
        ("setting: vehicle", "setting: van conversion", "write `vehicle`"),
    ],
)
def test_a_word_of_several_parts_is_answered_by_what_it_is(
    old: str, new: str, instead: str
) -> None:
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in f"{problem.message} {problem.instead}" for problem in told), told


@pytest.mark.parametrize(
    ("part", "instead"),
    [
        ("power_boxes: {b: {solar_input: 11-60V 15A}}", "as `max_input_voltage: … V`"),
        ("power_boxes: {b: {max_solar_voltage: 50 V}}", "write `max_input_voltage`"),
        ("busbars: {b: {rating: 100 A, studs: 4}}", "no rule asks for it"),
        ("switches: {r: {rating: 70 A, controlled_by: ignition}}", "`closes_above`"),
        ("inverters: {i: {power: 1 kW, battery: house}}", "is told by a wire"),
        ("inverters: {i: {power: 1 kW, input_fuse: 100 A}}", "in the wire that it protects"),
        ("bonds: {b: {from: house.negative, to: body, cable: c6}}", "write `chassis` where"),
        ("selectors: {s: {rating: 200 A, type: 1-2-both}}", "by wires that lead to"),
    ],
)
def test_more_of_what_is_beside_a_part_is_answered(part: str, instead: str) -> None:
    told = problems_of(f"{PLAN}{part}\n")
    assert any(instead in problem.instead for problem in told), told


def test_a_component_of_which_its_name_alone_is_known_may_have_the_name_of_a_key() -> None:
    study = load_study("plan.yaml", text=f"{PLAN}loads: {{power: unknown}}\n")
    assert list(study.plan.loads) == ["power"]
    [nameless] = problems_of(f"{PLAN}loads: {{power: 60 W}}\n")
    assert nameless.message == "the keys of a load stand right under `loads`, with no name"


def test_what_is_indented_too_little_is_one_slip() -> None:
    """It was an empty section, unknown keys, and ends and cables that nothing declares."""
    text = PLAN.replace("  roof: {module", "roof: {module")
    [problem] = problems_of(text)
    assert problem.message == "`roof` stands beside `strings`, and belongs to it"
    assert problem.instead == "indent it by two spaces more than `strings`"
    panel = "distribution:\npanel: {ways: {lights: {fuse: 5 A}}}\nwires:\n"
    [problem] = problems_of(PLAN.replace("wires:\n", panel))
    assert problem.message == "`panel` stands beside `distribution`, and belongs to it"
    [problem] = problems_of(PLAN.replace("    c6: {size", "  c6: {size"))
    assert problem.message == "`c6` stands beside `cables`, and belongs to it"


def test_a_plug_of_a_kind_that_the_language_does_not_know_is_to_be_left_out() -> None:
    """The plan was refused with a list of kinds that it is none of."""
    wired = PLAN + "wires: {run: {from: roof, to: house, plug: PLUG}}\n"
    told = [p.instead for p in problems_of(wired.replace("PLUG", "bullet-30"))]
    assert any("leave `plug` out for another kind" in each for each in told)
    near = [p.instead for p in problems_of(wired.replace("PLUG", "flat-two-pins"))]
    assert any(each.startswith("write `flat-two-pin`") for each in near)
    assert not any("leave `plug` out" in each for each in near)


HOUSE = f"house: {BATTERY}"


@pytest.mark.parametrize(
    ("old", "new", "instead"),
    [
        (HOUSE, "house: 12V 100Ah", "write `house: {nominal: 12V, capacity: 100Ah}`"),
        (HOUSE, "house: 12 V AGM", "write `house: {chemistry: agm, nominal: 12 V}`"),
        (HOUSE, "house: LiFePO4 100 Ah", "{chemistry: lithium-iron-phosphate, capacity: 100 Ah}"),
        (
            HOUSE,
            "house: 2 x 100 Ah",
            "write `house: {capacity: 100 Ah, arrangement: 2p}`, or `2s` in the place of `2p`",
        ),
        (HOUSE, "house: 12 V 24 V", "write `house: {chemistry: …, nominal: … V, capacity: … Ah}`"),
        (HOUSE, "house: twelve", "write `house: {chemistry: …, nominal: … V, capacity: … Ah}`"),
        (
            "tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}",
            "tracker: MPPT 75/15",
            "{kind: mppt, max_input_voltage: 75 V, max_output_current: 15 A}",
        ),
        ("charge-fuse: {rating: 20 A}", "charge-fuse: 20 A", "write `charge-fuse: {rating: 20 A}`"),
        ("c6: {size: 6 mm²}", "c6: 6mm2", "write `c6: {size: 6mm2}`"),
        (
            "home-run: {from: roof, to: tracker.pv, cable: c6, length: 4 m}",
            "home-run: roof -> tracker.pv",
            "write `home-run: {from: roof, to: tracker.pv}`",
        ),
        (
            "from: roof, to: tracker.pv",
            "between: [roof, tracker.pv]",
            "write `from: …` and `to: …`",
        ),
        ("to: tracker.pv", "to: tracker pv", "write `tracker.pv`"),
        ("cable: c6, length: 4 m", "cable: bell-wire, length: 4 m", "as `… AWG` or `… mm²`"),
        (INLINE, "[20 A fuse]", "as in `fuses: {run-fuse: {rating: 20 A}}`, and write"),
        (INLINE, "[20A breaker]", "as in `breakers: {run-breaker: {rating: 20A}}`, and write"),
        ("100 Ah", "700 CCA", "look for its ampere-hours and write `… Ah`, or `unknown`"),
        ("length: 4 m", "length: 1.5 m + 2.5 m", "add it up, and write the whole length, one way"),
        ("wattproof: 1", "wattproof: 0.15", "write `wattproof: 1`"),
        ("cable: c6, length: 4 m", "cable: 10/2, length: 4 m", "write `10 AWG`; a wire of a plan"),
        ("cable: c6, length: 4 m", "cable: 10, length: 4 m", "write `10 AWG` if it is a gauge"),
        ("mounting: roof-gap", "mounting: On the ground", "write `ground`"),
        ("series: 2", "series: 2, wired: series", "`series: 2` tells that already: delete this"),
        ("100 Ah}", "100 Ah, arrangement: 2p, wired: parallel}", "`arrangement: 2p` tells that"),
        ("series: 2", "series: 2, parallel: 2", "write `arrangement: 2s2p` in the place of"),
        ("cable: c6, length: 4 m", "awg: 14, length: 4 m", "write `cable: 14 AWG`"),
        ("cable: c6, length: 4 m", "size: 2.5 mm2, length: 4 m", "write `cable: 2.5 mm2`"),
        (
            "cable: c6, length: 4 m",
            "cable: c6, return: chassis",
            "a wire is a pair, plus and minus",
        ),
        ("length: 4 m", "length: 4 m, pole: both", "delete `pole`: a wire is a pair without it"),
        ("capacity: 100 Ah", "energy: 1.2 kWh", "write its `capacity`, in ampere-hours"),
        ("isc: 6 A}", "isc: 6 A, quantity: 2}", "told of the string that names it, by `series`"),
        (
            "setting: vehicle",
            "setting: vehicle\ncode: Europe",
            "write `iec`, or `iso-13297` on a boat",
        ),
        ("setting: vehicle", "setting: vehicle\nsite: {latitude: 33 S}", "write `-33°`"),
        (
            "setting: vehicle",
            "setting: vehicle\nsite: {temperature: 20 °C}",
            "write the lowest air with daylight as `coldest: … °C`",
        ),
    ],
)
def test_what_is_written_already_is_taken_over(old: str, new: str, instead: str) -> None:
    """Figures that stand where keys belong, and names in another form, are answered."""
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in p.instead for p in told), told
    line = PLAN.replace(old, new).partition(new.rpartition("\n")[2])[0].count("\n") + 1
    assert all(p.place.line == line for p in told if instead in p.instead)


def test_the_hyphen_of_a_list_among_names_is_told_where_it_stands() -> None:
    first = PLAN.replace("  home-run:", "  - home-run:")
    [told] = problems_of(first)
    assert (told.place.line, told.instead) == (17, "leave it out: write `home-run:`")
    nameless = PLAN + "  - from: house\n    to: tracker.load\n"
    [told] = problems_of(nameless)
    assert told.place.line == 20
    assert told.instead == (
        "write a name and a colon in the place of the hyphen, and the rest below it"
    )


def test_keys_of_one_part_beside_others_are_told_once() -> None:
    """They were taken for parts themselves, each with a problem of its own."""
    beside = PLAN.replace(
        "controllers:\n", "controllers:\n  kind: pwm\n  max_output_current: 10 A\n"
    )
    [told] = problems_of(beside)
    assert told.place.line == 11
    assert "`kind` of a controller stands right under `controllers`" in told.message
    assert "write the name of the part above it" in told.instead


def test_the_one_negative_of_a_charger_is_that_of_its_battery() -> None:
    """Many have three terminals; which of two negatives a wire to the body means, nothing told."""
    plan = PLAN.replace(
        "  home-run:", "  return: {from: tracker.negative, to: chassis}\n  home-run:"
    )
    [told] = problems_of(plan)
    assert told.instead.startswith("write `tracker.battery.negative` where one terminal is")


@pytest.mark.parametrize("kind", ["vehicle-charger", "vehicle charger", "vehicle", "car charger"])
def test_a_vehicle_charger_among_chargers_is_not_taken_for_the_alternator(kind: str) -> None:
    """Written so it joined the starter battery to the other without anything between."""
    plan = PLAN.replace(
        "batteries:\n",
        f"chargers:\n  booster: {{kind: {kind}, max_output_current: 30 A}}\nbatteries:\n",
    )
    told = problems_of(plan)[0]
    assert "stands under `controllers:`, with `kind: vehicle-charger`" in told.instead
