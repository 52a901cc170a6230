"""Controllers and chargers in places that rain or spray reaches."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

WET = "charger-in-wet-place"


def test_a_controller_in_the_rain() -> None:
    [finding] = found(faulty(WET), WET)
    assert (finding.level, finding.subjects) == ("warning", ("tracker", "cabin"))
    assert "`tracker` is in `cabin`, where rain or spray reaches it" in finding.message


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (
            "inverters: {mains: {power: 300 W, nominal: 12 V, place: deck}}",
            [],
        ),  # told by another rule
        ("chargers: {shore: {kind: shore, max_output_current: 10 A, place: deck}}", ["shore"]),
        ("chargers: {engine: {kind: alternator, place: deck}}", []),  # made for it
        ("breakers: {spare: {rating: 30 A, place: deck}}", []),  # so are many of these
    ],
)
def test_units_and_not_devices(more: str, told: list[str]) -> None:
    deck = ("roof: {ambient: 65 °C}", "roof: {ambient: 65 °C}, deck: {wet: true}")
    plan = f"{edited(deck, plan=sound(WET))}{more}\n"
    assert [finding.subjects[0] for finding in found(plan, WET)] == told


def test_what_is_carried_about_is_put_under_cover() -> None:
    assert not found(edited(("setting: vehicle", "setting: portable"), plan=faulty(WET)), WET)


def test_a_power_box_in_the_rain() -> None:
    """Of a vehicle, where it has a place of its own."""
    plan = edited(
        ("roof: {ambient: 65 °C}", "roof: {ambient: 65 °C}, deck: {wet: true}"),
        ("strings:\n", "strings:\n  folding: {module: rigid-100, feeds: box}\n"),
        plan=sound(WET),
    )
    box = "power_boxes: {box: {max_input_voltage: 60 V, place: deck}}\n"
    assert [finding.subjects[0] for finding in found(plan + box, WET)] == ["box"]
