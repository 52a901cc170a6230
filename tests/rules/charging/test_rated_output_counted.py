"""The rated output of a controller larger than its array, where a body of rules counts it."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

COUNTED = "rated-output-counted"
FIRE = ("conductor-too-small", "fuse-under-load", "fuse-over-conductor")


def test_a_small_array_on_a_large_controller_is_a_matter_of_rules() -> None:
    """Two modules give 2 × 100 W × 1.25 in the cold, some 22 A; 75 A are 125 % of the 60 A."""
    findings = found(faulty(COUNTED), COUNTED)
    assert [(f.subjects, f.level, f.hazard) for f in findings] == [
        (("charge-fuse",), "warning", "legal"),
        (("charge-run",), "warning", "legal"),
    ]
    assert all("75 A" in f.message and "the array gives less" in f.message for f in findings)
    assert all("set the output of `tracker` to 32 A" in f.remedy for f in findings)
    for rule in FIRE:
        assert not found(faulty(COUNTED), rule), rule


@pytest.mark.parametrize("code", ["abyc-e11", "iec", "iso-13297", "as-nzs-3001"])
def test_other_bodies_do_not_count_it(code: str) -> None:
    assert not found(edited(("nec-2023", code), plan=faulty(COUNTED)), COUNTED)


def test_what_the_array_itself_overloads_is_not_said_twice() -> None:
    """Ten modules give some 110 A: then the cable is too small for what it really carries."""
    plan = edited(("series: 2", "arrangement: 2s5p"), plan=faulty(COUNTED))
    assert not found(plan, COUNTED)
    assert found(plan, "conductor-too-small")


def test_a_limit_that_is_set_is_what_counts() -> None:
    plan = edited(("max_output_current: 60 A", "max_output_current: 60 A, limited_to: 32 A"),
                  plan=faulty(COUNTED))  # fmt: skip
    assert not found(plan, COUNTED)
    assert not found(sound(COUNTED), COUNTED)


def test_only_the_controllers_that_feed_it_are_named() -> None:
    """A second one on a bank of its own has nothing to do with the fuse of the first."""
    second = edited(
        ("wires:\n", SECOND),
        ("fuses:\n", "fuses:\n  second-fuse: {rating: 40 A, voltage: 125 V, style: class-t,\n"
                      "                interrupt: 20 kA, dc: true}\n"),
        ("strings:\n", "strings:\n  other: {module: rigid-100, series: 2, mounting: roof-gap}\n"),
        ("controllers:\n", "controllers:\n  second: {kind: mppt, max_input_voltage: 100 V,\n"
                            "           max_output_current: 70 A, charge_voltage: 14.2 V,\n"
                            "           low_temperature_cutoff: true, blocks_reverse: true}\n"),
        ("batteries:\n", "batteries:\n  spare: {chemistry: lithium-iron-phosphate,\n"
                          "          nominal: 12.8 V, capacity: 100 Ah, max_charge_current: 50 A,\n"
                          "          max_charge_voltage: 14.6 V, low_temperature_cutoff: true}\n"),
        plan=faulty(COUNTED),
    )  # fmt: skip
    told = {s: f for f in found(second, COUNTED) for s in f.subjects if s.endswith("-fuse")}
    assert "of `tracker`, even" in told["charge-fuse"].message
    assert "75 A" in told["charge-fuse"].message
    assert "set the output of `tracker` to" in told["charge-fuse"].remedy
    assert "of `second`, even" in told["second-fuse"].message
    assert "87.5 A" in told["second-fuse"].message


SECOND = """\
wires:
  other-run: {from: other, to: second.pv, cable: pv-10, length: 4 m, place: [roof, cabin]}
  second-run: {from: second.battery, to: spare, cable: batt-8, length: 1 m, place: cabin,
               inline: [{second-fuse: {from_end: to, distance: 10 cm}}]}
"""
