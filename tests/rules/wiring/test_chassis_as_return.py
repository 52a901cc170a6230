"""Currents that go back through the body of a vehicle, the hull of a boat or the earth."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import RULES, asked, build, found, sound
from wattproof.source import PlanUnusable

CHASSIS = "chassis-as-return"
RETURNED = RULES.rules[CHASSIS].faulty.of(sound(CHASSIS))


@pytest.mark.parametrize(
    ("setting", "found_at"),
    [
        ("vehicle", {("inverter-negative", "warning")}),  # 4 A of the lamp may
        ("boat", {("inverter-negative", "error"), ("lamp-negative", "error")}),
        ("cabin", {("inverter-negative", "error"), ("lamp-negative", "error")}),
    ],
)
def test_currents_through_the_body(setting: str, found_at: set[tuple[str, str]]) -> None:
    plan = edited(("setting: vehicle", f"setting: {setting}"), plan=RETURNED)
    assert {(f.subjects[0], f.level) for f in found(plan, CHASSIS)} == found_at


def test_the_battery_may_be_tied_to_the_body_by_a_bond() -> None:
    ground = (
        "  ground: {from: main-bar.negative, to: chassis, cable: batt-1-0, length: 0.5 m, "
        "place: cabin}\n"
    )
    bond = "bonds: {tie: {from: house.negative, to: chassis, cable: batt-1-0}}\nwires:\n"
    tied = edited((ground, ""), ("wires:\n", bond), plan=RETURNED)
    messages = [f.message for f in found(tied, CHASSIS)]
    assert messages == [f.message for f in found(RETURNED, CHASSIS)]
    assert len(messages) == 1
    with pytest.raises(PlanUnusable, match="leads only to the chassis, which no battery") as untied:
        found(edited((ground, ""), plan=RETURNED), CHASSIS)
    assert all("under `bonds`" in problem.instead for problem in untied.value.problems)


def test_a_boat_whose_bank_is_tied_to_the_water_and_whose_consumers_to_the_hull() -> None:
    """Hull and water are one, and no conductor of the plan joins them."""
    hull = edited(("setting: vehicle", "setting: boat"), plan=RETURNED)
    water = edited(
        ("ground: {from: main-bar.negative, to: chassis", "ground: {from: main-bar, to: water"),
        plan=hull,
    )
    told = {(f.message, f.level) for f in found(water, CHASSIS)}
    assert told == {(f.message, f.level) for f in found(hull, CHASSIS)}
    assert len(told) == 2


def test_numbers_of_a_return_through_the_body() -> None:
    [inverter] = [f for f in found(RETURNED, CHASSIS) if f.subjects == ("inverter-negative",)]
    # 800 W / (0.9 × 11 V)
    assert inverter.message == (
        "`inverter-negative` returns 80.8 A through the chassis; 30 A is the most that should "
        "go that way"
    )
    assert inverter.margin == pytest.approx(1 - 80.808 / 30, abs=1e-3)


def test_a_tie_beside_a_full_negative_carries_nothing() -> None:
    """The case of the inverter is tied to the chassis as well as to the bar."""
    plan = edited(
        ("wires:\n", "wires:\n  case: {from: mains.negative, to: chassis, cable: batt-8, "
         "length: 1 m}\n"),
        plan=sound(CHASSIS),
    )  # fmt: skip
    assert not found(plan, CHASSIS)


def test_the_engines_own_circuit_goes_through_its_block() -> None:
    plan = edited(
        ("batteries:\n", "chargers: {alternator: {kind: alternator, max_output_current: 90 A, "
         "charge_voltage: 14.2 V}}\nbatteries:\n"),
        ("wires:\n", "wires:\n  alt-plus: {from: alternator.positive, to: main-bar.positive, "
         "cable: batt-1-0, length: 1 m}\n"
         "  alt-minus: {from: alternator.negative, to: chassis, cable: batt-1-0, length: 1 m}\n"),
        plan=sound(CHASSIS),
    )  # fmt: skip
    assert not found(plan, CHASSIS)


def test_an_array_whose_negative_goes_through_the_body() -> None:
    plan = edited(
        ("home-run: {from: roof-string, to: tracker.pv, cable: pv-10",
         "home-run: {from: roof-string.positive, to: tracker.pv.positive, cable: pv-10"),
        ("wires:\n",
         "wires:\n"
         "  roof-return: {from: roof-string.negative, to: chassis, cable: pv-10, length: 1 m}\n"
         "  pv-return: {from: tracker.pv.negative, to: chassis, cable: pv-10, length: 1 m}\n"),
        ("setting: vehicle", "setting: boat"),
        ("code: nec-2023", "code: abyc-e11"),
        plan=sound(CHASSIS),
    )  # fmt: skip
    findings = found(plan, CHASSIS)
    assert {"roof-return", "pv-return"} <= {f.subjects[0] for f in findings}
    assert {f.level for f in findings} == {"error"}
    [back] = [f for f in findings if f.subjects[0] == "roof-return"]
    assert "to `tracker.pv` by a conductor of its own" in back.remedy


def test_a_bar_whose_negative_reaches_the_battery_by_the_body_alone() -> None:
    """What an inverter and the board draw passes two ties, and the body between them."""
    old = "bank-minus: {from: house.negative, to: minus-bar.negative"
    plan = edited((old, "bank-minus: {from: house.negative, to: chassis"),
                  plan=build("van-body-bonds-at-both-ends"))  # fmt: skip
    [finding] = found(plan, "chassis-as-return")
    assert finding.subjects == ("body",)
    assert finding.remedy == (
        "lead `minus-bar.negative` back to the battery by a conductor of its own, as large as the "
        "positive"
    )
    assert not found(build("van-body-bonds-at-both-ends"), "chassis-as-return")


def test_what_an_inverter_returns_is_asked_where_nobody_tells_its_power() -> None:
    """The smallest are of 150 W, and what they draw the body may carry back."""
    power = re.search(r"power: [\d.]+ W", RETURNED)
    assert power is not None
    untold = edited((power[0], "power: unknown"), plan=RETURNED)
    assert not found(untold, CHASSIS)
    assert "power" in asked(untold, CHASSIS)


TRAILER = """
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    line: {size: 10 mm², kind: marine, insulation_temperature: 105 °C}
batteries:
  tug: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
fuses:
  tow-fuse: {rating: 30 A, voltage: 58 V, interrupt: 10 kA, style: bolt-down, dc: true}
loads:
  fridge: {current: 12 A, nominal: 12 V}
bonds:
  tug-bond: {from: tug.negative, to: chassis, cable: line, length: 0.5 m}
wires:
  tow: {from: tug.positive, to: fridge.positive, cable: line, length: 8 m, PLUG
        inline: [{tow-fuse: {from_end: from, distance: 10 cm}}]}
  back: {from: fridge.negative, to: chassis, cable: line, length: 0.5 m}
"""


@pytest.mark.parametrize("plug", ["trailer-7", "trailer-13"])
def test_what_a_trailers_plug_feeds_comes_back_through_the_hitch(plug: str) -> None:
    """It was judged by what the body of one vehicle carries, which 12 A are well below."""
    plan = TRAILER.replace("PLUG", f"plug: {plug},")
    [finding] = found(plan, "chassis-as-return")
    assert (finding.level, finding.subjects) == ("warning", ("back",))
    assert finding.message == (
        "`back` returns 12 A through the chassis and the hitch of the trailer, since no conductor "
        "in its plug leads back"
    )
    assert "over a pin of the plug" in finding.remedy
    by_pin = plan.replace("{from: fridge.negative, to: chassis,",
                          f"{{from: fridge.negative, to: tug.negative, plug: {plug},")  # fmt: skip
    assert not found(by_pin, "chassis-as-return")


def test_without_such_a_plug_the_body_carries_as_much_as_ever() -> None:
    assert not found(TRAILER.replace("PLUG", ""), "chassis-as-return")


def test_a_trailer_with_a_battery_of_its_own_returns_to_that() -> None:
    own = TRAILER.replace("PLUG", "plug: trailer-7,").replace(
        "batteries:\n",
        "batteries:\n  own: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}\n",
    )
    own = own.replace("wires:\n", "wires:\n  own-run: {from: own.positive, to: fridge.positive, "
                      "cable: line, length: 1 m}\n")  # fmt: skip
    own = own.replace("bonds:\n", "bonds:\n  own-bond: {from: own.negative, to: chassis, "
                      "cable: line, length: 0.5 m}\n")  # fmt: skip
    assert not found(own, "chassis-as-return")
