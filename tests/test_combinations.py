"""Removable parts taken away: what is wrong only then, and what goes with them."""

from __future__ import annotations

import pytest

import wattproof.combinations
from plans import EXAMPLES, array_plan, edited
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.plan.removal import removable, without
from wattproof.reports.findings import sarif, text
from wattproof.reports.findings.run import Run
from wattproof.testing import check_text

PACKS = edited(
    ("max_output_current: 20 A", "max_output_current: 30 A, low_temperature_cutoff: true"),
    ("size: 8 AWG", "size: 6 AWG"),
    ("max_charge_current: 50 A", "max_charge_current: 20 A"),
    (
        "fuses:\n",
        "fuses:\n"
        "  spare-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA,\n"
        "               dc: true}\n",
    ),
    (
        "wires:\n",
        "  spare: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,\n"
        "          max_charge_current: 20 A, max_charge_voltage: 14.6 V, removable: true}\n"
        "wires:\n"
        "  spare-lead: {from: spare, to: house, cable: batt-8, length: 1 m, place: cabin,\n"
        "               inline: [{spare-fuse: {from_end: from, distance: 10 cm}}]}\n",
    ),
)
ROOF_AND_FOLDING = array_plan(
    "  roof-string: {module: rigid-100, series: 2, mounting: roof-gap}\n"
    "  folding: {module: rigid-100, series: 2, mounting: ground, portable: true}\n",
    "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin]}\n"
    "  folding-lead: {from: folding, to: joint, cable: pv-10, length: 4 m, place: roof}\n",
    "  joint: {joins: [roof-string, folding], kind: branch-connector, rating: 30 A}\n",
)


def about_charge(plan: str) -> list[str]:
    found = check_text(plan).findings
    return [f.when for f in found if f.rule == "charge-current-over-battery"]


def test_a_battery_that_stays_takes_the_charge_meant_for_two() -> None:
    assert about_charge(PACKS) == ["when `spare` is taken away"]


def test_what_is_not_removable_stays() -> None:
    assert about_charge(PACKS.replace(", removable: true", "")) == []


def test_a_battery_that_stands_it_alone_is_not_told() -> None:
    assert about_charge(PACKS.replace("max_charge_current: 20 A", "max_charge_current: 40 A")) == []


def test_what_is_wrong_with_all_of_them_is_told_once() -> None:
    weak = PACKS.replace("max_charge_current: 20 A", "max_charge_current: 8 A")
    found = [f for f in check_text(weak).findings if f.rule == "charge-current-over-battery"]
    assert found[0].when == ""
    assert len({f.identity for f in found}) == len(found)


def test_every_report_says_when() -> None:
    result = check_text(PACKS)
    assert "    When      when `spare` is taken away" not in text.render([result])
    assert "    Only      when `spare` is taken away" in text.render([result])
    from wattproof.packs import discover

    assert "when `spare` is taken away" in sarif.render(Run([result], 1, discover()))


def test_wires_devices_and_joints_go_with_what_they_led_to() -> None:
    plan = load_plan("plan.yaml", text=PACKS)
    left = without(plan, ["spare"])
    assert set(plan.wires) - set(left.wires) == {"spare-lead"}
    assert "spare-fuse" not in left.fuses
    assert "spare" in plan.batteries
    build_circuit(left, whole=False)


def test_a_joint_keeps_what_stays() -> None:
    plan = load_plan("plan.yaml", text=ROOF_AND_FOLDING)
    left = without(plan, removable(plan))
    assert list(left.combiners["joint"].joins) == ["roof-string"]
    assert set(left.wires) == {"home-run", "charge-run"}
    [array] = build_circuit(left, whole=False).arrays
    assert array.controller.name == "tracker"


def test_nothing_is_left_of_an_array_that_is_all_portable() -> None:
    plan = load_plan(
        "plan.yaml", text=edited(("mounting: roof-gap", "mounting: ground, portable: true"))
    )
    left = without(plan, ["roof-string"])
    assert not left.strings
    assert not build_circuit(left, whole=False).arrays


def test_what_was_read_of_the_whole_says_nothing_of_a_part() -> None:
    text = (EXAMPLES / "folding-pair-series.yaml").read_text(encoding="utf-8")
    readings = """
readings:
  one: {at: left, voc: 27 V, isc: 4.2 A, irradiance: 800 W/m², air_temperature: 28 °C}
  both: {at: box-tracker.pv, voc: 54 V, irradiance: 800 W/m², air_temperature: 28 °C}
"""
    assert not check_text(text + readings).findings


def test_many_parts_are_taken_away_each_alone_and_all(monkeypatch: pytest.MonkeyPatch) -> None:
    taken = list(wattproof.combinations._taken_away(("a", "b", "c")))
    assert taken == [
        ("a",), ("b",), ("c",), ("a", "b"), ("a", "c"), ("b", "c"), ("a", "b", "c"),
    ]  # fmt: skip
    monkeypatch.setattr(wattproof.combinations, "MAX_REMOVABLE", 2)
    assert list(wattproof.combinations._taken_away(("a", "b", "c"))) == [
        ("a",), ("b",), ("c",), ("a", "b", "c"),
    ]  # fmt: skip


def test_a_finding_that_names_what_is_taken_away_is_the_same_without_it() -> None:
    """Three side by side are too many for the modules; of them each pair is still too bright."""
    third = "  folding-two: {module: rigid-100, series: 2, mounting: ground, portable: true}\n"
    plan = edited(
        ("combiners:\n", f"{third}combiners:\n"),
        ("joins: [roof-string, folding]", "joins: [roof-string, folding, folding-two]"),
        ("max_input_voltage: 100 V", "max_input_voltage: 100 V, max_input_current: 10 A"),
        plan=ROOF_AND_FOLDING,
    )
    found = [f for f in check_text(plan).findings if f.rule == "controller-input-over-current"]
    assert [f.when for f in found] == [""]


def test_a_label_that_cannot_be_right_is_told_once_whichever_string_comes_first() -> None:
    """Its first user is the portable string: without it, the same stands at the other one."""
    roof, folding = ROOF_AND_FOLDING.split("  folding: ", 1)
    folding, rest = folding.split("\n", 1)
    roof, fixed = roof.rsplit("  roof-string: ", 1)
    plan = f"{roof}  folding: {folding}\n  roof-string: {fixed}{rest}"
    plan = plan.replace("imp: 4.9 A", "imp: 5.9 A")
    found = [f for f in check_text(plan).findings if f.rule == "module-values-impossible"]
    assert [(f.subjects[0], f.when) for f in found] == [("folding", "")]


def test_a_controller_whose_only_array_is_taken_away_gives_nothing() -> None:
    """Two small folding modules charge a small battery through a controller of 20 A."""
    plan = edited(
        ("mounting: roof-gap", "mounting: ground, portable: true"),
        ("max_charge_current: 50 A", "max_charge_current: 19 A"),
        ("series: 3", "series: 1"),
    )
    assert not [f for f in check_text(plan).findings if f.rule == "charge-current-over-battery"]


def test_what_a_part_of_the_sources_alone_does_is_told_with_all_of_them() -> None:
    """The roof alone is over the limit as well, beside the folding module on its own controller."""
    plan = edited(
        ("max_charge_current: 50 A", "max_charge_current: 12 A"),
        (
            "fuses:\n",
            "  folding: {module: rigid-100, series: 1, mounting: ground, portable: true}\n"
            "fuses:\n"
            "  second-fuse: {rating: 20 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA}\n",
        ),
        (
            "controllers:\n",
            "controllers:\n"
            "  second: {kind: mppt, max_input_voltage: 50 V, max_output_current: 10 A}\n",
        ),
        (
            "wires:\n",
            "wires:\n"
            "  folding-run: {from: folding, to: second.pv, cable: pv-10, length: 4 m}\n"
            "  second-run: {from: second.battery, to: house, cable: batt-8, length: 1 m,\n"
            "               inline: [{second-fuse: {from_end: to, distance: 10 cm}}]}\n",
        ),
    )
    assert about_charge(plan) == [""]
    assert about_charge(plan.replace("12 A", "22 A", 1)) == [""]
