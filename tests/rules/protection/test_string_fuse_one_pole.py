"""String fuses in one pole only of an array that is tied to nothing."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

ONE_POLE = "string-fuse-one-pole"


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("nec-2023", []),
        ("abyc-e11", []),
        ("iec", ["warning"]),
        ("as-nzs-3001", ["warning"]),
    ],
)
def test_by_body_of_rules(code: str, expected: list[str]) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), plan=sound(ONE_POLE))
    assert levels(plan, ONE_POLE) == expected


def test_it_names_the_fuses_and_the_pole() -> None:
    [finding] = found(faulty(ONE_POLE), ONE_POLE)
    assert finding.subjects == ("middle-fuse", "port-fuse", "starboard-fuse")
    assert "in the positive only" in finding.message


def test_where_the_negative_is_tied_one_pole_is_enough() -> None:
    bond = "bonds:\n  tie: {from: house.negative, to: chassis, cable: batt-6, length: 1 m}\n"
    assert not found(faulty(ONE_POLE) + bond, ONE_POLE)


def test_where_the_modules_stand_what_can_be_pushed_back_no_fuse_is_needed() -> None:
    plan = edited(("max_series_fuse: 11 A", "max_series_fuse: 12 A"), plan=faulty(ONE_POLE))
    assert not found(plan, ONE_POLE)


def test_fuses_in_different_poles_are_told_under_every_body() -> None:
    plan = edited(
        ("  middle-lead: {from: middle, to: roof-joint, cable: pv-10, length: 2 m, place: roof,",
         "  middle-plus: {from: middle.positive, to: roof-joint.positive, cable: pv-10, "
         "length: 2 m, place: roof}\n"
         "  middle-lead: {from: middle.negative, to: roof-joint.negative, cable: pv-10, "
         "length: 2 m, place: roof,"),
        plan=sound(ONE_POLE),
    )  # fmt: skip
    [finding] = found(plan, ONE_POLE)
    assert "in different poles" in finding.message


BOND = "bonds:\n  tie: {from: house.negative, to: chassis, cable: batt-6, length: 1 m}\n"


def in_the_negatives(plan: str) -> str:
    """The fuse of each string in its negative, its positive bare."""
    for name in ("port", "middle", "starboard"):
        [line] = [each for each in plan.splitlines() if each.startswith(f"  {name}-lead: ")]
        bare = (
            f"  {name}-plus: {{from: {name}.positive, to: roof-joint.positive, "
            "cable: pv-10, length: 2 m}"
        )
        minus = line.replace(f"from: {name},", f"from: {name}.negative,").replace(
            "to: roof-joint,", "to: roof-joint.negative,"
        )
        plan = plan.replace(line, f"{bare}\n{minus}")
    return plan


def test_fuses_in_the_tied_negative_alone() -> None:
    [finding] = found(in_the_negatives(faulty(ONE_POLE)) + BOND, ONE_POLE)
    assert finding.level == "warning"
    assert finding.subjects == ("middle-fuse", "port-fuse", "starboard-fuse")
    assert (
        "in the negative only of the array at tracker, which is tied to ground" in finding.message
    )


def test_a_body_that_lets_either_pole_have_them_says_nothing_of_the_tied_one() -> None:
    assert not found(in_the_negatives(sound(ONE_POLE)) + BOND, ONE_POLE)


def test_a_negative_that_a_vehicle_charger_shares_with_a_tied_battery() -> None:
    """The array is tied at the starting battery, whose bond ends at the engine side."""
    plan = edited(("code: nec-2023", "code: iec"), plan=sound(ONE_POLE))
    assert levels(plan, ONE_POLE) == ["warning"]
    charger = """\
  link: {kind: vehicle-charger, max_output_current: 30 A, charge_voltage: 14.2 V}
"""
    wires = """\
  link-in: {from: engine-battery, to: link.alternator, cable: batt-6, length: 1 m}
  link-out: {from: link.battery, to: house, cable: batt-6, length: 1 m}
"""
    battery = "  engine-battery: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"
    tie = (
        "bonds:\n  body: {from: engine-battery.negative, to: chassis, cable: batt-6, length: 1 m}\n"
    )
    plan = edited(
        ("controllers:\n", f"controllers:\n{charger}"),
        ("batteries:\n", f"batteries:\n{battery}"),
        ("wires:\n", f"{tie}wires:\n{wires}"),
        plan=plan,
    )
    assert not found(plan, ONE_POLE)
    apart = edited(("kind: vehicle-charger,", "kind: vehicle-charger, isolated: true,"), plan=plan)
    assert levels(apart, ONE_POLE) == ["warning"]


def test_a_string_with_a_fuse_in_each_pole_beside_others_with_one() -> None:
    """All positives have one, and the second of one string is more than is asked for."""
    lead = "  middle-lead: {from: middle, to: roof-joint,"
    minus = (
        "  middle-minus: {from: middle.negative, to: roof-joint.negative, cable: pv-10, "
        "length: 2 m, place: roof, inline: [more]}\n"
    )
    more = "  more: {rating: 15 A, voltage: 1000 V, style: gpv, interrupt: 20 kA, dc: true}\n"
    plus = lead.replace("middle,", "middle.positive,").replace("joint,", "joint.positive,")
    edits = ((lead, minus + plus), ("fuses:\n", f"fuses:\n{more}"))
    plan = edited(*edits, ("code: as-nzs-3001", "code: nec-2023"), plan=faulty(ONE_POLE))
    assert not found(plan, ONE_POLE)
    [finding] = found(edited(("code: nec-2023", "code: iec"), plan=plan), ONE_POLE)
    assert finding.message.startswith("`port-fuse` and `starboard-fuse` sit in the positive only")
