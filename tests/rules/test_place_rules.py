"""Rules on places: gas, people, buildings, and what holds a module on a roof."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text

RULES = discover()
BATTERY = "battery-place-unsafe"
SPARK = "spark-in-gas-space"
BUILDING = "building-rules-apply"
MOUNT = "mount-not-proven"


def sound(rule: str) -> str:
    return RULES.rules[rule].sound


def faulty(rule: str) -> str:
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


@pytest.mark.parametrize("rule", [BATTERY, SPARK, BUILDING, MOUNT])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Batteries.


def test_flooded_where_people_live() -> None:
    [finding] = found(faulty(BATTERY), BATTERY)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.message == ("`house` is flooded and stands in `cabin`, a living space, unvented")
    assert "write `vented: true` in `cabin`" in finding.remedy
    assert not found(sound(BATTERY), BATTERY)


def test_a_vent_that_is_not_stated_is_undecided() -> None:
    [finding] = found(edited((", vented: true", ""), plan=sound(BATTERY)), BATTERY)
    assert (finding.level, finding.certainty) == ("warning", "undecided")


@pytest.mark.parametrize(
    "edit",
    [
        ("chemistry: flooded", "chemistry: agm"),
        ("living_space: true, ", ""),
        (", place: cabin}\nwires", "}\nwires"),
    ],
)
def test_sealed_elsewhere_or_nowhere_stated(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(BATTERY)), BATTERY)


SEALED_OFF = [
    ("agm", "vented: false", "warning"),
    ("gel", "vented: false", "warning"),
    ("lithium-iron-phosphate", "vented: false", "warning"),
    ("lithium-iron-phosphate", "vented: true", None),
    ("flooded", "vented: false", "error"),
]


@pytest.mark.parametrize(("chemistry", "vent", "level"), SEALED_OFF)
def test_every_battery_is_sealed_off_in_australia(
    chemistry: str, vent: str, level: str | None
) -> None:
    """AS/NZS 3001.2:2022 5.4 (second-hand and from memory): none among people unless vented."""
    plan = edited(
        ("code: nec-2023", "code: as-nzs-3001"), ("chemistry: flooded", f"chemistry: {chemistry}"),
        ("vented: true", vent), plan=sound(BATTERY),
    )  # fmt: skip
    findings = found(plan, BATTERY)
    assert [f.level for f in findings] == ([level] if level else [])
    assert not any("or use a sealed battery" in f.remedy for f in findings)
    if level == "warning":
        assert f"`house` is {chemistry}, which this code wants sealed off," in findings[0].message
        assert "sealed from the room and vented outside" in findings[0].remedy
        assert not found(plan.replace("code: as-nzs-3001", "code: iec"), BATTERY)


def test_no_battery_in_a_gas_locker() -> None:
    plan = edited(("living_space: true, vented: true", "gas_locker: true"),
                  ("chemistry: flooded", "chemistry: agm"), plan=sound(BATTERY))  # fmt: skip
    [finding] = found(plan, BATTERY)
    assert finding.level == "error"
    assert "stands in `cabin`, a gas locker" in finding.message


# Sparks.


def test_a_fuse_in_petrol_vapour() -> None:
    [finding] = found(faulty(SPARK), SPARK)
    assert (finding.level, finding.acceptable) == ("error", False)
    assert finding.message == (
        "`charge-fuse` is in `bilge`, where petrol vapour can gather, and it is not protected "
        "against ignition"
    )
    assert "move `charge-fuse` out of `bilge`" in finding.remedy
    assert not found(sound(SPARK), SPARK)


def test_protection_that_is_not_stated_is_undecided() -> None:
    unsaid = edited((",\n                ignition_protected: true", ""), plan=sound(SPARK))
    [finding] = found(unsaid, SPARK)
    assert (finding.level, finding.certainty) == ("warning", "undecided")


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
    assert {f.subjects[0] for f in found(boat, SPARK)} == {"alternator", "alternator-fuse"}


# Buildings.


def test_on_a_building_from_80_volts_on() -> None:
    """3 × 24.3 V × (1 + 0.0029 × 43) = 81.99 V; at −9 °C it is 80.09 V, at −8 °C 79.88 V."""
    [finding] = found(faulty(BUILDING), BUILDING)
    assert finding.level == "note"
    assert finding.message == (
        "`rack-string` on a building, up to 81.99 V: building rules ask for a disconnect that "
        "opens under load, a rapid shutdown, protection against arcs, protection against faults "
        "to earth, labels where it is cut off and along its cables"
    )
    for coldest, arcs in (("-9 °C", True), ("-8 °C", False)):
        plan = edited(("coldest: -18 °C", f"coldest: {coldest}"), plan=faulty(BUILDING))
        assert ("arcs" in found(plan, BUILDING)[0].message) == arcs


def test_the_international_rules_and_their_list() -> None:
    plan = edited(("code: nec-2023", "code: iec"), plan=faulty(BUILDING))
    [finding] = found(plan, BUILDING)
    assert "shutdown" not in finding.message
    assert "a disconnect that opens under load" in finding.remedy


@pytest.mark.parametrize(
    "edit",
    [
        ("on_building: true", "sunlight: true"),
        ("setting: cabin", "setting: vehicle"),
        ("open-rack, place: rack", "open-rack"),
    ],
)
def test_elsewhere_it_is_silent(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(BUILDING)), BUILDING)


def test_faults_to_earth_from_30_volts_or_8_amperes_on() -> None:
    """At 25 °C two of 24.3 V have 48.6 V, one has 24.3 V; 6.4 A × 1.25 is 8 A."""
    words, one = "protection against faults to earth", ("series: 3", "series: 1")
    mild = ("coldest: -18 °C", "coldest: 25 °C")
    assert (
        words
        in found(edited(("series: 3", "series: 2"), plan=faulty(BUILDING)), BUILDING)[0].message
    )
    assert words not in found(edited(one, mild, plan=faulty(BUILDING)), BUILDING)[0].message
    for isc, expected in (("6.4 A", False), ("6.41 A", True)):
        plan = edited(one, mild, ("isc: 5.2 A", f"isc: {isc}"), plan=faulty(BUILDING))
        assert (words in found(plan, BUILDING)[0].message) == expected


def test_protection_that_is_there_is_not_asked_for_and_one_that_is_not_is_a_warning() -> None:
    unsaid = "blocks_reverse: true}"
    for fitted, level in (("true", "note"), ("false", "warning")):
        plan = edited(
            (unsaid, f"blocks_reverse: true, ground_fault_protection: {fitted}}}"),
            plan=faulty(BUILDING),
        )
        [finding] = found(plan, BUILDING)
        assert finding.level == level
        assert ("faults to earth" in finding.message) == (fitted == "false")
        assert ("tracker" in finding.subjects) == (fitted == "false")


def test_it_is_said_once_for_all_strings() -> None:
    plan = edited(
        ("wires:\n", "combiners: {joint: {joins: [rack-string, other], rating: 30 A}}\nwires:\n"),
        ("strings:\n", "strings:\n  other: {module: rigid-100, series: 3, place: rack}\n"),
        ("home-run: {from: rack-string", "home-run: {from: joint"),
        plan=faulty(BUILDING),
    )
    [finding] = found(plan, BUILDING)
    assert set(finding.subjects) == {"other", "rack-string"}


# Glue.


def test_the_pull_of_the_wind() -> None:
    """0.5 × 1.2 × (130/3.6)² × 1.5 × 0.55 = 645.5 N; three times that are 1936 N."""
    [finding] = found(faulty(MOUNT), MOUNT)
    assert finding.level == "note"
    assert finding.message == (
        "only glue holds `roof-string`, and at 130 km/h the wind pulls at each `rigid-100` with up "
        "to 645.5 N"
    )
    assert finding.values[0].number == pytest.approx(0.6 * (130 / 3.6) ** 2 * 1.5 * 0.55)
    assert "hold 1936 N" in finding.remedy
    assert not found(sound(MOUNT), MOUNT)


@pytest.mark.parametrize(
    "edit",
    [
        (", fixing: bonded", ""),
        ("fixing: bonded", "fixing: bolted"),
        ("fixing: bonded", "fixing: clamped"),
        ("area: 0.55 m², ", ""),
        ("setting: vehicle", "setting: boat"),
        ("mounting: roof-gap", "mounting: ground"),
    ],
)
def test_not_declared_or_not_a_roof(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(MOUNT)), MOUNT)


def test_area_in_feet() -> None:
    plan = edited(("area: 0.55 m²", "area: 5.92 ft²"), plan=faulty(MOUNT))
    [finding] = found(plan, MOUNT)
    assert finding.values[0].number == pytest.approx(645.5, rel=2e-3)
