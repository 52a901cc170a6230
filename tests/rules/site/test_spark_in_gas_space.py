"""Devices that can spark, in places where gas or petrol vapour can gather."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import faulty, found, found_beside_all, sound
from wattproof.plan.amend import Addition

SPARK = "spark-in-gas-space"


def test_a_fuse_in_petrol_vapour() -> None:
    [finding] = found(faulty(SPARK), SPARK)
    assert (finding.level, finding.acceptable) == ("error", False)
    assert finding.message == (
        "`charge-fuse` is in `bilge`, where petrol vapour can gather, and it is not protected "
        "against ignition"
    )
    assert "move `charge-fuse` out of `bilge`" in finding.remedy
    assert not found(sound(SPARK), SPARK)


def test_protection_that_is_not_stated_is_likely_not_there() -> None:
    unsaid = edited((",\n                ignition_protected: true", ""), plan=sound(SPARK))
    [finding] = found(unsaid, SPARK)
    assert (finding.level, finding.verdict) == ("warning", "likely")


@pytest.mark.parametrize(
    "edit",
    [
        ("petrol: true", "engine_space: true"),
        ("length: 1 m, place: bilge", "length: 1 m, place: [bilge, arch]"),  # it may be in either
        ("length: 1 m, place: bilge,", "length: 1 m,"),
        ("dc: true,\n                ignition", "dc: true, place: arch,\n                ignition"),
    ],
)
def test_other_places_are_silent(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(SPARK)), SPARK)


def test_controllers_and_switches_in_a_gas_locker() -> None:
    plan = edited(
        ("petrol: true", "gas_locker: true"),
        ("blocks_reverse: true", "blocks_reverse: true, place: bilge, ignition_protected: false"),
        ("load_break: true", "load_break: true, place: bilge, ignition_protected: true"),
        plan=sound(SPARK),
    )
    [finding] = found(plan, SPARK)
    assert "`tracker` is in `bilge`, a gas locker" in finding.message
    protected = ("bilge, ignition_protected: false", "bilge, ignition_protected: true")
    assert not found(edited(protected, plan=plan), SPARK)


def test_a_vehicles_own_alternator_is_left_alone() -> None:
    plan = edited(
        ("bay: {engine_space: true", "bay: {petrol: true"),
        ("nominal: 12 V}\nwires", "nominal: 12 V, place: bay}\nwires"),
        plan=sound("alternator-overloaded"),
    )
    assert [f.subjects[0] for f in found(plan, SPARK)] == ["alternator-fuse"]
    boat = edited(("setting: vehicle", "setting: boat"), plan=plan)
    in_boat = {"alternator", "alternator-fuse", "start-fuse"}
    assert {f.subjects[0] for f in found(boat, SPARK)} == in_boat


def test_what_is_bolted_to_a_battery_is_where_that_is() -> None:
    """Its wire leads through two places; a fuse of each pack of a bank has none at all."""
    box = ("batteries:\n  house: {", "batteries:\n  house: {place: bilge, ")
    post = edited(
        ("place: bilge,\n               inline", "place: [arch, bilge],\n               inline"),
        ("from_end: to, distance: 10 cm", "from_end: to, distance: 0 cm"),
        ("ignition_protected: true", "ignition_protected: false"),
        plan=sound(SPARK),
    )  # fmt: skip
    assert not found(post, SPARK)
    assert [f.subjects[0] for f in found(edited(box, plan=post), SPARK)] == ["charge-fuse"]
    packs = edited(
        ("cabin: {ambient: 35 °C}", "cabin: {ambient: 35 °C, petrol: true}"),
        ("arrangement: 3p,", "arrangement: 3p, place: cabin,"),
        plan=sound("pack-fuse-unfit"),
    )
    assert "pack-fuse" in {f.subjects[0] for f in found(packs, SPARK)}


IN_BILGE = ("max_charge_current: 50 A,", "max_charge_current: 50 A, place: bilge,")


@pytest.mark.parametrize("places", ["", ", place: [bilge, arch]"])
def test_a_fuse_beside_a_battery_in_petrol_vapour_is_likely_there_too(places: str) -> None:
    """10 cm from the post it is in the same locker, whatever the wire passes later."""
    plan = edited(
        ("length: 1 m, place: bilge", f"length: 1 m{places}"), IN_BILGE, plan=faulty(SPARK)
    )
    [finding] = found(plan, SPARK)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert "`charge-fuse` is in `bilge`" in finding.message
    assert not found(edited(("distance: 10 cm", "distance: 40 cm"), plan=plan), SPARK)
    assert not found(edited(("{from_end: to,", "{from_end: from,"), plan=plan), SPARK)


@pytest.mark.parametrize(("place", "told"), [("bilge", True), ("arch", False), ("", False)])
def test_a_device_between_two_wires_that_are_in_one_place(place: str, *, told: bool) -> None:
    """A fuse in a wire was found, and one that stands between two of them was not."""
    where = f", place: {place}" if place else ""
    more = f"  last: {{from: charge-fuse, to: house, cable: batt-8, length: 10 cm{where}}}\n"
    plan = edited(
        ("to: house, cable: batt-8, length: 1 m, place: bilge,\n               inline: "
         "[{charge-fuse: {from_end: to, distance: 10 cm}}]}\n",
         "to: charge-fuse, cable: batt-8, length: 90 cm, place: bilge}\n" + more),
        plan=faulty(SPARK),
    )  # fmt: skip
    assert [f.subjects[0] for f in found(plan, SPARK)] == (["charge-fuse"] if told else [])


@pytest.mark.parametrize(
    ("place", "is_protected"),
    [("petrol: true", True), ("gas_locker: true", True), ("engine_space: true", False)],
)
def test_what_a_remedy_adds_there_is_protected_against_ignition(
    place: str, is_protected: bool
) -> None:
    """A fuse put beside the battery in the bilge would be the next danger."""
    plan = edited(
        ("petrol: true", place),
        (",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", ""),
        plan=sound(SPARK),
    )
    [finding] = found_beside_all(plan, "battery-fuse-missing", tried=True)
    assert ("marked as protected against ignition" in finding.remedy) is is_protected
    [[fuse, *_], *_] = finding.ways
    assert isinstance(fuse, Addition)
    assert (("ignition_protected", "true") in fuse.values) is is_protected
    assert SPARK not in {brought.rule for brought in finding.trials[0].brings}


@pytest.mark.parametrize(
    ("home", "is_protected"),
    [
        ("place: bilge", True),
        ("place: [arch, bilge]", False),  # a switch can be put where there is none
        ("place: arch", False),
    ],
)
def test_so_is_a_switch_of_the_array(home: str, is_protected: bool) -> None:
    plan = edited(("length: 4 m, place: arch", f"length: 4 m, {home}"), plan=sound(SPARK))
    plan = re.sub(r",\s*inline: \[pv-off\]", "", plan)
    [finding] = found_beside_all(plan, "array-switch-missing")
    [[switch]] = finding.ways
    assert isinstance(switch, Addition)
    assert (("ignition_protected", "true") in switch.values) is is_protected
    assert ("marked as protected against ignition" in finding.remedy) is is_protected
