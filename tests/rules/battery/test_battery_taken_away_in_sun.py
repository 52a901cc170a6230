"""What reaches the loads when a pulse-width controller loses its battery by a switch or a hand."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

AWAY = "battery-taken-away-in-sun"


def test_a_switch_leaves_a_radio_on_the_bare_array() -> None:
    """24.3 V × (1 + 0.0029 × 43) = 27.33 V."""
    [finding] = found(faulty(AWAY), AWAY)
    assert finding.level == "warning"
    assert finding.subjects == ("bank-off", "regulator", "radio")
    assert "lets up to 27.3 V from the array through to `radio`" in finding.message
    assert "to the battery's side of `bank-off`" in finding.remedy
    assert finding.margin == pytest.approx(1 - 27.33 / 16, abs=1e-3)
    assert not found(sound(AWAY), AWAY)


def test_a_battery_that_is_unplugged_leaves_the_same() -> None:
    plan = edited(("capacity: 100 Ah,", "capacity: 100 Ah, removable: true,"), plan=sound(AWAY))
    [finding] = found(plan, AWAY)
    assert finding.subjects == ("house", "regulator", "radio")
    assert "with `house` unplugged in sun" in finding.message


@pytest.mark.parametrize(
    "edit",
    [
        ("blocks_reverse: true}", "blocks_reverse: true, holds_without_battery: true}"),
        ("kind: pwm", "kind: mppt"),
        ("from: bar, to: radio", "from: house, to: radio"),  # cut off from the controller too
    ],
)
def test_silent_where_the_voltage_is_held_or_nothing_is_left(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(AWAY)), AWAY)


def test_the_fuse_or_breaker_of_the_load_takes_nothing_away() -> None:
    plan = edited(("load-fuse: {from_end: from, distance: 10 cm}", "load-fuse: {from_end: from, "
                   "distance: 10 cm}}, {bank-off: {from_end: to, distance: 10 cm}"),
                  ("}}, bank-off]", "}}]"), plan=faulty(AWAY))  # fmt: skip
    assert not found(plan, AWAY)


def test_a_fuse_that_the_sun_opens_takes_it_away_too() -> None:
    """4 A under the 5.2 A of the module; 7.5 A carries them."""
    small, fit = (
        edited(("bank-fuse: {rating: 40 A", f"bank-fuse: {{rating: {rating} A"), plan=faulty(AWAY))
        for rating in (4, 7.5)
    )
    by_fuse, by_switch = found(small, AWAY)
    assert by_fuse.subjects == ("bank-fuse", "regulator", "radio")
    assert by_fuse.message.startswith("`bank-fuse` (4 A) opens at the 5.2 A that full sun gives")
    assert by_switch.subjects[0] == "bank-off"
    assert [f.subjects[0] for f in found(fit, AWAY)] == ["bank-off"]
