"""Arrays of several solar inputs that come back over one return, as to a common negative bar."""

from __future__ import annotations

import pytest

from found import found_in_whole
from wattproof.loading import load_study
from wattproof.source import PlanUnusable
from wattproof.study import Study
from wattproof.testing import study_of

ISC = 5.8 * 1.25
"""A: of the label, in sun a quarter brighter (NEC 690.8(A)(1), IEC 62548)."""

HEAD = """\
wattproof: 1
setting: boat
code: iec
datasheets:
  modules: {slab: {pmax: 100 W, voc: 22.5 V, vmp: 18.6 V, isc: 5.8 A, imp: 5.4 A}}
strings: {port: {module: slab}, starboard: {module: slab}}
controllers:
  one: {kind: mppt, max_input_voltage: 75 V, max_output_current: 10 A}
  two: {kind: mppt, max_input_voltage: 75 V, max_output_current: 10 A}
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
busbars: {minus: {rating: 100 A}}
fuses: {first: {rating: 15 A, style: class-t}, second: {rating: 15 A, style: class-t}}
wires:
  plus-one: {from: port.positive, to: one.pv.positive, cable: 4 mm², length: 4 m}
  plus-two: {from: starboard.positive, to: two.pv.positive, cable: 4 mm², length: 4 m}
  out-one: {from: one.battery.positive, to: house.positive, cable: 4 mm², length: 1 m,
            inline: [{first: {distance: 10 cm, from_end: to}}]}
  out-two: {from: two.battery.positive, to: house.positive, cable: 4 mm², length: 1 m,
            inline: [{second: {distance: 10 cm, from_end: to}}]}
  minus-one: {from: port.negative, to: minus.negative, cable: 4 mm², length: 1 m}
  minus-two: {from: starboard.negative, to: minus.negative, cable: 4 mm², length: 1 m}
"""
BATTERY_AT_BAR = """\
  back-one: {from: one.battery.negative, to: minus.negative, cable: 4 mm², length: 1 m}
  back-two: {from: two.battery.negative, to: minus.negative, cable: 4 mm², length: 1 m}
  bank-minus: {from: minus.negative, to: house.negative, cable: 10 mm², length: 1 m}
"""
BATTERY_APART = """\
  back-one: {from: one.battery.negative, to: house.negative, cable: 4 mm², length: 1 m}
  back-two: {from: two.battery.negative, to: house.negative, cable: 4 mm², length: 1 m}
"""
EACH = """\
  home-one: {from: minus.negative, to: one.pv.negative, cable: 4 mm², length: 4 m}
  home-two: {from: minus.negative, to: two.pv.negative, cable: 4 mm², length: 4 m}
"""
SHARED = """\
  home-one: {from: minus.negative, to: one.pv.negative, cable: 4 mm², length: 4 m}
  home-two: {from: one.pv.negative, to: two.pv.negative, cable: 4 mm², length: 10 cm}
"""


def amps(study: Study, wire: str) -> float:
    current = study.wiring.wires[wire].current
    assert current is not None
    return current.number


@pytest.mark.parametrize("battery", [BATTERY_AT_BAR, BATTERY_APART])
def test_arrays_at_a_common_negative_bar_are_two(battery: str) -> None:
    """Such a plan was refused: one array fed both, it said."""
    study = study_of(HEAD + battery + EACH)
    assert [array.controller.name for array in study.array.arrays] == ["one", "two"]
    for wire in ("plus-one", "plus-two", "minus-one", "minus-two", "home-one", "home-two"):
        assert amps(study, wire) == pytest.approx(ISC)


def test_a_shared_return_carries_what_all_give() -> None:
    study = study_of(HEAD + BATTERY_APART + SHARED)
    assert amps(study, "home-one") == pytest.approx(2 * ISC)
    assert amps(study, "home-two") == pytest.approx(ISC)
    operating = study.wiring.wires["home-one"].operating
    assert operating is not None
    assert operating.number == pytest.approx(2 * 5.4)


def test_a_shared_return_too_thin_for_all_is_found() -> None:
    thin = SHARED.replace("4 mm², length: 4 m", "0.75 mm², length: 4 m")
    found = found_in_whole("plan.yaml", HEAD + BATTERY_APART + thin).each
    [small] = [f for f in found if f.rule == "conductor-too-small"]
    assert small.subjects[0] == "home-one"
    assert "14.5 A" in small.message


def test_a_switch_in_the_shared_return_carries_what_all_give() -> None:
    switch = "switches: {off: {rating: 20 A, voltage: 60 V, dc: true, poles: 1}}\nwires:"
    shared = SHARED.replace("length: 4 m}", "length: 4 m, inline: [off]}")
    study = study_of(HEAD.replace("wires:", switch) + BATTERY_APART + shared)
    current = study.wiring.devices["off"].current
    assert current is not None
    assert current.number == pytest.approx(2 * ISC)


@pytest.mark.parametrize("high", ["port", "starboard"])
def test_a_shared_return_stands_the_highest_voltage(high: str) -> None:
    """Two modules in series on one input, and one, with more current, on the other."""
    plan = HEAD.replace(f"{high}: {{module: slab}}", f"{high}: {{module: slab, series: 2}}")
    other = "starboard" if high == "port" else "port"
    plan = plan.replace(
        f"{other}: {{module: slab}}", f"{other}: {{module: slab, arrangement: 1s2p}}"
    )
    switch = "switches: {off: {rating: 20 A, voltage: 60 V, dc: true, poles: 1}}\nwires:"
    shared = SHARED.replace("length: 4 m}", "length: 4 m, inline: [off]}")
    study = study_of(plan.replace("wires:", switch) + BATTERY_APART + shared)
    cold = max(array.voc("coldest").number for array in study.array.arrays)
    for volts in (study.wiring.wires["home-one"].volts, study.wiring.devices["off"].volts):
        assert volts is not None
        assert volts.number == pytest.approx(cold)


def test_a_return_each_and_one_between_them_is_no_bridge() -> None:
    between = "  between: {from: one.pv.negative, to: two.pv.negative, length: 20 cm}\n"
    study = study_of(HEAD + BATTERY_AT_BAR + EACH + between)
    assert len(study.array.arrays) == 2


@pytest.mark.parametrize(
    ("edit", "message"),
    [
        (("one: {kind: mppt", "one: {kind: mppt, common: positive"), "have one return, and `one`"),
        (
            ("to: two.pv.positive, cable: 4 mm², length: 4 m}\n",
             "to: two.pv.positive, cable: 4 mm², length: 4 m}\n"
             "  tie: {from: one.pv.positive, to: two.pv.positive, length: 20 cm}\n"),
            "one array feeds both `one` and `two`",
        ),
        (
            ("minus-one: {from: port.negative, to: minus.negative",
             "minus-one: {from: port.negative, to: starboard.positive"),
            "one array feeds both `one` and `two`",
        ),
    ],
)  # fmt: skip
def test_what_is_no_common_negative_is_refused(edit: tuple[str, str], message: str) -> None:
    """Where one switches in its negative, where positives meet, and where an array has a tap."""
    old, new = edit
    plan = HEAD + BATTERY_APART + EACH
    assert old in plan
    with pytest.raises(PlanUnusable) as unusable:
        load_study("plan.yaml", text=plan.replace(old, new))
    assert any(message in problem.message for problem in unusable.value.problems)
