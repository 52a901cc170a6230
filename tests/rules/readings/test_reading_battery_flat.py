"""Voltage read at the posts of a battery against that which harms it."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import read
from rules.wiring.plans import in_series

FLAT = "reading-battery-flat"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("at: house, voltage: 10.1 V", 0),
        (f"at: house, voltage: 10.0 V, {EXACT}", 0),
        (f"at: house, voltage: 9.9 V, {EXACT}", 1),
        ("at: house, voltage: 9.1 V", 1),
        ("at: house, voltage: -9.1 V", 0),  # the poles, which is said elsewhere
        ("at: tracker.battery, voltage: 9.2 V, posts_voltage: 9.1 V", 1),
        ("at: tracker.battery, voltage: 9.2 V", 0),  # not at the posts
    ],
)
def test_posts_below_what_harms_lithium(text: str, count: int) -> None:
    """2.5 V for each of four cells."""
    assert [f.level for f in found(read(text), FLAT)].count("warning") == count


@pytest.mark.parametrize(
    ("volts", "level"),
    [("11.6 V", None), ("11.3 V", "note"), ("10.2 V", "note"), ("9.7 V", "warning")],
)
def test_empty_is_told_before_harm(volts: str, level: str | None) -> None:
    """Lithium iron phosphate of 12.8 V is empty at 11.5 V and harmed below 10 V."""
    findings = found(read(f"at: house, voltage: {volts}"), "reading-battery-flat")
    assert [finding.level for finding in findings] == ([level] if level else [])
    if level == "note":
        assert "it is empty below 11.5 V" in findings[0].message
        assert findings[0].caution is None or findings[0].caution.text


LEAD = edited(
    ("chemistry: lithium-iron-phosphate, nominal: 12.8 V", "chemistry: agm, nominal: 12 V")
)


@pytest.mark.parametrize(
    ("text", "levels"),
    [
        (f"voltage: 11.8 V, {EXACT}", []),
        (f"voltage: 11.7 V, {EXACT}", ["note"]),
        (f"voltage: 11.2 V, current: -40 A, {EXACT}", []),  # a draw explains it
        (f"voltage: 11.2 V, current: 2 A, {EXACT}", ["note"]),
        (f"voltage: 10.4 V, {EXACT}", ["warning"]),
    ],
)
def test_lead_that_stands_flat(text: str, levels: list[str]) -> None:
    """11.8 V at rest for each 12 V (common practice)."""
    plan = f"{LEAD}readings:\n  seen: {{at: house, {text}}}\n"
    findings = found(plan, FLAT)
    assert [finding.level for finding in findings] == levels
    if levels == ["note"]:
        assert "at rest it is flat below 11.8 V" in findings[0].message


def test_harmed_lead_is_lost_and_harmed_lithium_may_burn() -> None:
    """A starting battery at 3 V was told as fire, with a caution for lithium."""
    [lead] = found(read(f"at: house, voltage: 9.1 V, {EXACT}", plan=LEAD), FLAT)
    [lithium] = found(read(f"at: house, voltage: 9.1 V, {EXACT}"), FLAT)
    assert (lead.hazard, lead.caution) == ("damage", None)
    assert lithium.hazard == "fire"
    assert lithium.caution is not None


def test_millivolts_that_were_volts() -> None:
    (finding,) = found(read("at: house, voltage: 13.3 mV"), FLAT)
    assert finding.level == "note"
    assert "; 13.3 V would be right, so the unit or the range was misread" in finding.message


OPEN = "a fuse, breaker or switch between them is open, or a lead is off"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("voltage: 0 V", f"{OPEN}, or the battery's management has cut it off"),
        ("voltage: 0.4 V", OPEN),
        ("voltage: 0 V, posts_voltage: 13.2 V", f"and its posts read 13.2 V: {OPEN}"),
        ("voltage: 6.6 V", "a joint on the way is bad, or the battery was drawn so low"),
        ("voltage: 6.6 V, posts_voltage: 13.2 V", "posts read 13.2 V: a joint on the way is bad"),
        ("voltage: 13.3 mV", "13.3 V would be right, so the unit or the range was misread"),
        ("voltage: 9.1 V", "where `house` gives 9.2 V or more"),
        ("voltage: 9.2 V", ""),  # 10 V, less the share that a bad way takes
        ("voltage: -0.3 V", OPEN),  # what a meter shows of nothing
        ("voltage: -12 V", ""),  # the poles, which is said elsewhere
    ],
)
def test_too_little_at_a_controller(text: str, said: str) -> None:
    plan = read(f"at: tracker.battery, {text}, {EXACT}")
    findings = found(plan, FLAT)
    assert [said in f.message for f in findings] == ([True] if said else [])
    assert all(f.subjects == ("r1", "tracker") for f in findings)
    assert not found(plan, "reading-charge-voltage")


def test_nothing_at_the_posts() -> None:
    (finding,) = found(read("at: house, voltage: 0.02 V"), FLAT)
    assert finding.level == "warning"
    assert "the meter was set to another kind" in finding.message
    assert "its management has cut it off" in finding.message
    (finding,) = found(read("at: tracker.battery, voltage: 0 V, posts_voltage: 0 V"), FLAT)
    assert finding.subjects == ("r1", "house")


@pytest.mark.parametrize(
    ("volts", "said"),
    [
        ("13.3 V", "read 13.3 V, as 1 of the 2 batteries in series has"),
        ("5 V", "a joint on the way is bad"),
        ("0 V", OPEN),
        ("26.6 V", ""),
    ],
)
def test_one_battery_of_two_in_series(volts: str, said: str) -> None:
    plan = in_series()
    findings = found(read(f"at: tracker.battery, voltage: {volts}", plan=plan), FLAT)
    assert [said in f.message for f in findings] == ([True] if said else [])


def test_a_battery_of_several_in_series_read_at_one() -> None:
    plan = edited(("house: {chemistry", "house: {arrangement: 4s, chemistry"))
    (finding,) = found(read("at: house, voltage: 39.6 V", plan=plan), FLAT)
    assert "as 3 of the 4 batteries in series have" in finding.message


@pytest.mark.parametrize(
    ("nominal", "where", "volts", "said"),
    [
        (
            "25.6 V",
            "house",
            "13.1 V",
            "as a bank of 12.8 V has; one of 25.6 V is harmed below 20 V",
        ),
        ("25.6 V", "tracker.battery", "13.1 V", "one of 25.6 V gives at least 18.4 V"),
        ("51.2 V", "house", "26.5 V", "as a bank of 25.6 V has"),
        ("51.2 V", "house", "13.2 V", "as a bank of 12.8 V has"),
        ("25.6 V", "house", "19.5 V", "; below 20 V it is harmed"),
        ("12.8 V", "house", "6.6 V", "; below 10 V it is harmed"),
    ],
)
def test_a_bank_of_half_the_voltage(nominal: str, where: str, volts: str, said: str) -> None:
    """Two of 12.8 V side by side where 25.6 V are planned: not flat, and not what was planned."""
    plan = read(f"at: {where}, voltage: {volts}").replace(", max_charge_voltage: 14.6 V", "")
    plan = plan.replace("nominal: 12.8 V", f"nominal: {nominal}")
    (finding,) = (f for f in found(plan, FLAT) if f.level == "warning")
    assert said in finding.message
    assert ("say so in the plan" in finding.remedy) is ("bank of" in said or "gives" in said)


@pytest.mark.parametrize(("volts", "is_told"), [("10.6 V", True), ("11.4 V", False)])
def test_lead_that_may_lack_a_cell(volts: str, is_told: bool) -> None:
    """Five cells of six at rest have 10.6 V."""
    (finding,) = found(read(f"at: house, voltage: {volts}, {EXACT}", plan=LEAD), FLAT)
    assert ("a cell is shorted" in finding.remedy) is is_told


@pytest.mark.parametrize(
    ("air", "levels"),
    [
        ("", ["note"]),
        (", air_temperature: -5 °C", ["note"]),
        (", air_temperature: -9 °C", ["warning"]),
    ],
)
def test_flat_lead_may_be_frozen(air: str, levels: list[str]) -> None:
    """The plan tells -18 °C as the coldest; flat lead freezes at -7 °C."""
    findings = found(read(f"at: house, voltage: 11.5 V, {EXACT}{air}", plan=LEAD), FLAT)
    assert [finding.level for finding in findings] == levels
    told = findings[0].message if "-9" in air else findings[0].remedy
    assert "flat it freezes at about −7 °C" in told
    assert findings[0].remedy.startswith("bring it into the warm") is ("-9" in air)
