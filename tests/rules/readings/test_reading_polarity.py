"""The sign of what was read."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found
from rules.readings.plans import read, strings
from wattproof.testing import check_text

POLARITY = "reading-polarity"
EVERY = sorted(rule.id for rule in RULES.rules.values() if rule.part == "reading")


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("at: roof-string, voc: -65 V", "error"),
        ("at: tracker.pv, voltage: -50 V, current: 4 A", "error"),
        ("at: house, voltage: −13.2 V", "error"),
        ("at: tracker.battery, voltage: 14.2 V, posts_voltage: -13.9 V", "error"),
        ("at: roof-string, isc: -4.5 A", "warning"),
        ("at: roof-string, voc: 65 V", None),
        ("at: roof-string, voc: -0.3 V", None),  # of nothing, a meter shows either sign
        ("at: roof-string, isc: -0.2 A", None),
        ("at: roof-string, isc: -0.4 A", "warning"),
        ("at: house, voltage: 13.2 V, current: -4 A", None),
    ],
)
def test_the_sign_of_a_reading(text: str, level: str | None) -> None:
    assert [f.level for f in found(read(text), POLARITY)] == ([level] if level else [])


@pytest.mark.parametrize(("hour", "is_dark"), [("23:30", True), ("12:30", False)])
def test_in_the_dark_nothing_but_the_battery_drives_a_current(hour: str, is_dark: bool) -> None:
    """The clamp may be turned round in the sun; at night the sign tells of the controller."""
    text = f'at: tracker.pv, current: -0.6 A, date: 2026-06-20, time: "{hour}"'
    plan = read(text, plan=edited(("site:\n", "site:\n  latitude: 46°\n")))
    (finding,) = found(plan, POLARITY)
    assert finding.level == "warning"
    assert ("back through `tracker` into the modules" in finding.message) is is_dark
    assert ("turn the clamp" in finding.remedy) is not is_dark


def test_a_reversed_reading_is_told_once() -> None:
    rules = {f.rule for f in check_text(read("at: roof-string, voc: -65 V"), RULES).each}
    assert rules & set(EVERY) == {POLARITY}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("at: tracker.battery, voltage: 13.2 V, current: -18 A", True),
        ("at: tracker.battery, voltage: 13.2 V, current: -0.2 A", False),  # the clamp drifts
        ("at: tracker.battery, voltage: 13.2 V, current: 18 A", False),
        ("at: house, voltage: 13.0 V, current: -60 A", False),  # a load draws from the battery
    ],
)
def test_current_out_of_the_battery_at_a_controller(text: str, told: bool) -> None:
    sun = "irradiance: 850 W/m², back_temperature: 48 °C, stage: bulk"
    findings = [f for f in found(read(f"{text}, {sun}"), POLARITY) if "A: the clamp" in f.message]
    assert bool(findings) is told
    assert {f.level for f in findings} <= {"note"}
    assert not (told and found(read(f"{text}, {sun}"), "reading-charge-under-array"))


@pytest.mark.parametrize(
    ("sun", "is_dark"), [("0 W/m²", True), ("8 W/m²", True), ("300 W/m²", False)]
)
def test_an_irradiance_of_nothing_is_the_dark_as_well(sun: str, is_dark: bool) -> None:
    (finding,) = found(
        read(f"at: tracker.pv, voltage: 12.9 V, current: -0.8 A, irradiance: {sun}"), POLARITY
    )
    assert ("A in the dark: it comes out of the battery" in finding.message) is is_dark


@pytest.mark.parametrize(("at", "is_whole"), [("tracker.pv", True), ("string-1", False)])
def test_no_other_string_feeds_all_of_them(at: str, is_whole: bool) -> None:
    """What flows back at the solar input comes out of the battery; in a string, of its sisters."""
    (finding,) = found(read(f"at: {at}, current: -1.5 A", plan=strings(3)), POLARITY)
    assert ("out of the battery, back through `tracker`" in finding.message) is is_whole
    assert ("another string feeds this one" in finding.remedy) is not is_whole


@pytest.mark.parametrize(("whole", "is_fed"), [("0.1 A", True), ("6.5 A", False), ("3.0 A", False)])
def test_currents_that_add_up_with_their_signs_are_no_clamp_turned_round(
    whole: str, is_fed: bool
) -> None:
    """One string drives the other backwards while the controller takes nothing: a fire."""
    plan = read(
        "at: string-1, current: 3.3 A, taken: noon",
        "at: string-2, current: -3.2 A, taken: noon",
        f"at: tracker.pv, current: {whole}, voltage: 60 V, taken: noon",
        plan=strings(2),
    )
    (finding,) = found(plan, POLARITY)
    assert (finding.hazard == "fire") is is_fed
    assert ("the others feed it" in finding.message) is is_fed
    assert ("the clamp is turned round" in finding.message) is not is_fed
