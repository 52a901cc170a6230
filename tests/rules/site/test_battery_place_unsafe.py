"""Whether a battery stands where its gas can harm no one."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, sound

BATTERY = "battery-place-unsafe"


def test_flooded_where_people_live() -> None:
    [finding] = found(faulty(BATTERY), BATTERY)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.message == "`house` is flooded, unvented in `cabin`, a living space"
    assert "write `vented: true` in `cabin`" in finding.remedy
    assert not found(sound(BATTERY), BATTERY)


def test_a_vent_that_is_not_stated_is_asked() -> None:
    plan = edited((", vented: true", ""), plan=sound(BATTERY))
    assert not found(plan, BATTERY)
    assert asked(plan, BATTERY) == ["vent of a place"]


@pytest.mark.parametrize(
    "edit",
    [
        ("chemistry: flooded", "chemistry: agm"),
        ("living_space: true, vented: false", "vented: true"),
        (", place: cabin}\nwires", "}\nwires"),
    ],
)
def test_sealed_elsewhere_or_nowhere_stated(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(BATTERY)), BATTERY)


@pytest.mark.parametrize(
    ("told", "asks"),
    [
        ("", True),
        (", vented: true", False),
        (", sunlight: true", False),  # outside
        (", engine_space: true", False),
    ],
)
def test_flooded_in_a_place_of_which_only_the_name_is_told_is_asked(told: str, asks: bool) -> None:
    plan = edited((", living_space: true, vented: true", told), plan=sound(BATTERY))
    assert not found(plan, BATTERY)
    assert asked(plan, BATTERY) == (["vent of a place"] if asks else [])
    assert not asked(plan.replace("chemistry: flooded", "chemistry: agm"), BATTERY)


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
        assert f"`house` is {chemistry}, which this code wants sealed off, " in findings[0].message
        assert "sealed from the room and vented outside" in findings[0].remedy
        assert not found(plan.replace("code: as-nzs-3001", "code: iec"), BATTERY)


def test_no_battery_in_a_gas_locker() -> None:
    plan = edited(("living_space: true, vented: true", "gas_locker: true"),
                  ("chemistry: flooded", "chemistry: agm"), plan=sound(BATTERY))  # fmt: skip
    [finding] = found(plan, BATTERY)
    assert finding.level == "error"
    assert "is in `cabin`, a gas locker" in finding.message


@pytest.mark.parametrize("code", ["abyc-e11", "iso-13297", "iec"])
@pytest.mark.parametrize(("kind", "level"), [("agm", "warning"), ("flooded", "error")])
def test_no_lead_is_excepted_on_boats(code: str, kind: str, level: str) -> None:
    """33 CFR 183.420(e) (from memory): hydrogen is led out of the boat, whatever the kind."""
    plan = edited(
        ("setting: vehicle", "setting: boat"), ("code: nec-2023", f"code: {code}"),
        ("chemistry: flooded", f"chemistry: {kind}"), plan=faulty(BATTERY),
    )  # fmt: skip
    [finding] = found(plan, BATTERY)
    assert finding.level == level
    assert "use a sealed battery" not in finding.remedy
    assert "vented outside from its top" in finding.remedy
    assert not found(plan.replace("vented: false", "vented: true"), BATTERY)


def test_a_sealed_battery_is_no_remedy_where_it_would_be_found_too() -> None:
    [on_land] = found(faulty(BATTERY), BATTERY)
    assert "or use a sealed battery" in on_land.remedy
    lithium = edited(("setting: vehicle", "setting: boat"),
                     ("chemistry: flooded", "chemistry: lithium-iron-phosphate"),
                     plan=faulty(BATTERY))  # fmt: skip
    assert not found(lithium, BATTERY)


SHUT_IN = [
    ("vehicle", "flooded", "vented: false", "warning"),
    ("boat", "flooded", "vented: false", "error"),
    ("boat", "agm", "vented: false", "warning"),
    ("vehicle", "agm", "vented: false", None),
    ("boat", "lithium-iron-phosphate", "vented: false", None),
    ("boat", "flooded", "vented: true", None),
    ("boat", "flooded", "wet: false", None),
]


@pytest.mark.parametrize(("setting", "chemistry", "vent", "level"), SHUT_IN)
def test_what_gasses_is_not_shut_in(
    setting: str, chemistry: str, vent: str, level: str | None
) -> None:
    """A space of its own that is told to be closed; where nothing is told, nothing is said."""
    plan = edited(
        ("setting: vehicle", f"setting: {setting}"),
        ("chemistry: flooded", f"chemistry: {chemistry}"),
        ("living_space: true, vented: true", vent), plan=sound(BATTERY),
    )  # fmt: skip
    findings = found(plan, BATTERY)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all("which has no vent" in f.message for f in findings)


def test_sealed_lead_among_people_is_told_in_one_sentence() -> None:
    boat = edited(
        ("chemistry: flooded", "chemistry: agm"),
        ("vented: true", "vented: false"),
        ("setting: vehicle", "setting: boat"),
        ("code: nec-2023", "code: iso-13297"),
        plan=sound(BATTERY),
    )
    [finding] = found(boat, BATTERY)
    assert "valves open when it is overcharged, unvented in `cabin`" in finding.message


def test_sealed_lead_shut_in_is_told_in_one_sentence() -> None:
    boat = edited(
        ("chemistry: flooded", "chemistry: agm"),
        ("living_space: true, vented: true", "vented: false"),
        ("setting: vehicle", "setting: boat"),
        ("code: nec-2023", "code: iso-13297"),
        plan=sound(BATTERY),
    )
    [finding] = found(boat, BATTERY)
    assert ",," not in finding.message
    assert "valves open when it is overcharged, in `cabin`, which has no vent" in finding.message
