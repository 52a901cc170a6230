"""Slips of who writes a first plan: what is meant is told at their line."""

from __future__ import annotations

import pytest

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
        f"{family[:-1]} `unit` has no key `{key.split(':')[0]}`",
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
    ],
)
def test_a_value_in_another_form_is_told_as_it_is_written(old: str, new: str, instead: str) -> None:
    assert PLAN.count(old) == 1
    told = problems_of(PLAN.replace(old, new))
    assert any(instead in problem.instead for problem in told), told
