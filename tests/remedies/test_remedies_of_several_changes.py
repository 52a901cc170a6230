"""Remedies that change or add several things at once, written into the plan."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.plan.amend import Addition, Change
from wattproof.testing import check_remedy, check_text

RULES = discover()

PACK = (
    "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
    "max_charge_voltage: 14.6 V, low_temperature_cutoff: true}"
)
TWO_BATTERIES = f"""\
wattproof: 1
setting: vehicle
code: nec-2023
site: {{coldest: 0 °C, hottest: 40 °C, places: {{cabin: {{ambient: 35 °C}}}}}}
datasheets:
  cables:
    thick: {{size: 2 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
            voltage: 600 V}}
    thin: {{size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
           voltage: 600 V}}
batteries:
  one: {PACK}
  two: {PACK}
"""
ONE_WIRE = "wires:\n  link: {from: one, to: two, cable: thick, length: 3 m, place: cabin}\n"
BY_A_BAR = """\
busbars:
  bar: {rating: 300 A}
wires:
  port: {from: one, to: bar, cable: thick, length: 2 m, place: cabin}
  starboard: {from: bar, to: two, cable: thin, length: 2 m, place: cabin}
"""


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


@pytest.mark.parametrize(
    ("wires", "rating", "names"),
    [
        (ONE_WIRE, "100 A", ["link-fuse", "link-fuse-2"]),
        (BY_A_BAR, "40 A", ["port-fuse", "starboard-fuse"]),  # of the thinner wire on the way
    ],
)
def test_a_fuse_at_each_of_two_batteries(wires: str, rating: str, names: list[str]) -> None:
    finding = found(TWO_BATTERIES + wires, "battery-fuse-missing")[0]
    check_remedy(finding)
    [changes] = finding.ways
    added = [change for change in changes if isinstance(change, Addition)]
    assert [fuse.name for fuse in added] == names
    assert {dict(fuse.values)["rating"] for fuse in added} == {rating}
    assert rating in finding.remedy


def test_a_larger_fuse_with_the_wire_that_it_no_longer_protects() -> None:
    sound = RULES.rules["fuse-under-load"].sound
    plan = edited(("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 35 A"), plan=sound)
    [plain] = found(plan, "fuse-under-load")
    assert plain.ways == ((Change("charge-fuse", "rating", "40 A"),),)
    thin = plan.replace("batt-8: {size: 8 AWG", "batt-8: {size: 10 AWG")
    [finding] = found(thin, "fuse-under-load")
    [changes] = finding.ways
    assert [change.target for change in changes] == [
        ("charge-fuse", "rating"),
        ("charge-run", "cable.size"),
    ]
    check_remedy(finding)
    assert "and 8 AWG for `charge-run`, too thin for that now" in finding.remedy


def test_a_larger_fuse_with_both_poles_that_are_drawn_for_themselves() -> None:
    """The negative has no fuse of its own, and carries what that of the positive lets through."""
    sound = RULES.rules["fuse-under-load"].sound
    run = (
        "  charge-run: {from: tracker.battery.positive, to: house.positive, cable: batt-8,\n"
        "               length: 1 m, place: cabin,\n"
        "               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n"
        "  charge-back: {from: tracker.battery.negative, to: house.negative, cable: batt-8,\n"
        "                length: 1 m, place: cabin}\n"
    )
    plan = edited(("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 35 A"), plan=sound)
    plan = plan.replace("batt-8: {size: 8 AWG", "batt-8: {size: 10 AWG")
    plan = plan[: plan.index("  charge-run:")] + run
    [finding] = found(plan, "fuse-under-load")
    [changes] = finding.ways
    assert {change.target for change in changes} == {
        ("charge-fuse", "rating"),
        ("charge-run", "cable.size"),
        ("charge-back", "cable.size"),
    }
    check_remedy(finding)


def test_a_tracker_is_set_to_what_the_bank_stands() -> None:
    sound = RULES.rules["pwm-voltage-wasted"].sound
    plan = edited(("series: 1", "series: 2"), plan=sound)
    amps = "max_charge_current: 50 A"
    assert amps in plan
    weak = plan.replace(amps, "max_charge_current: 9 A")
    [finding] = found(weak, "pwm-voltage-wasted")
    assert "set to at most 9 A, the most that `house` may get" in finding.remedy
    last = [change for change in finding.ways[-1] if isinstance(change, Change)]
    assert {change.key: change.text for change in last} == {"kind": "mppt", "limited_to": "9 A"}
