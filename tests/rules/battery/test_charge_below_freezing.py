"""The coldest place of a lithium battery against the cold in which it may be charged."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import edited
from rule_runs import build, found, levels, sound
from rules.battery.plans import SHORE
from wattproof.testing import check_text

COLD = "charge-below-freezing"


def cold(*edits: tuple[str, str], label: str = ", min_charge_temperature: 0 °C") -> str:
    return edited(
        ("low_temperature_cutoff: true", f"low_temperature_cutoff: false{label}, place: cabin"),
        ("blocks_reverse: true", "blocks_reverse: true, low_temperature_cutoff: false"),
        *edits,
        plan=sound(COLD),
    )


def test_cold_is_an_error_where_everything_is_stated() -> None:
    [finding] = found(cold(), COLD)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.message == (
        "`house` may not be charged below 0 °C and gets as cold as −18 °C; nothing stops `tracker` "
        "from charging it then"
    )
    assert "write `low_temperature_cutoff: true` there" in finding.remedy
    assert "`coldest: 0 °C` or more" in finding.remedy


@pytest.mark.parametrize(
    "edit",
    [
        ("low_temperature_cutoff: false}\nbatteries", "low_temperature_cutoff: true}\nbatteries"),
        ("cutoff: false, min_charge", "cutoff: true, min_charge"),
        ("cabin: {ambient: 35 °C}", "cabin: {ambient: 35 °C, coldest: 0 °C}"),
        ("min_charge_temperature: 0 °C", "min_charge_temperature: -18 °C"),
        ("site: {coldest: -18 °C", "site: {coldest: 1 °C"),
        ("chemistry: lithium-iron-phosphate", "chemistry: agm"),
    ],
)
def test_each_remedy_and_other_reasons_make_it_silent(edit: tuple[str, str]) -> None:
    assert not found(cold(edit), COLD)


@pytest.mark.parametrize("edit", [
    ("cabin: {ambient: 35 °C}", "cabin: {ambient: 35 °C, coldest: -1 °C}"),
    ("min_charge_temperature: 0 °C", "min_charge_temperature: -17 °C"),
])  # fmt: skip
def test_just_under(edit: tuple[str, str]) -> None:
    assert levels(cold(edit), COLD) == ["error"]


def test_what_is_not_stated_makes_it_a_warning() -> None:
    assert levels(cold(label=""), COLD) == ["error"]  # colder than any lithium is charged at
    silent = edited((", low_temperature_cutoff: true", ""), plan=sound(COLD))
    [finding] = found(silent, COLD)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert [a.key for a in finding.assumptions] == ["charge temperature"]


def test_every_source_must_stop() -> None:
    stops = (
        "low_temperature_cutoff: false}\nbatteries",
        "low_temperature_cutoff: true}\nbatteries",
    )
    [finding] = found(cold(stops, ("wires:\n", SHORE % "")), COLD)
    assert "nothing stops `shore` from" in finding.message
    both = cold(stops, ("wires:\n", SHORE % ", low_temperature_cutoff: true"))
    assert not found(both, COLD)


def test_a_heater_stands_in_for_a_cut_off_as_far_as_it_keeps_warm() -> None:
    plan = build("cabin-heated-battery")
    assert not found(plan, "charge-below-freezing")
    cold = edited(("keeps: 5 °C", "keeps: -5 °C"), plan=plan)
    assert [f.level for f in found(cold, "charge-below-freezing")] == ["warning"]


def test_a_heater_that_no_wire_leads_to_keeps_nothing_warm() -> None:
    wire = """\
  mat-run: {from: house, to: mat, cable: wire-12, length: 1 m, place: shed,
            inline: [{mat-fuse: {from_end: from, distance: 0 cm}}]}
"""
    assert levels(edited((wire, ""), plan=build("cabin-heated-battery")), COLD) == ["warning"]


TOLD = ("blocks_reverse: true,", "blocks_reverse: true, low_temperature_cutoff: false,")
FED = "inline: [{mat-fuse: {from_end: from, distance: 0 cm}}"
BAR = """\
busbars:
  bar: {rating: 100 A}
wires:
  bar-run: {from: house, to: bar, cable: batt-6, length: 1 m, inline: [main-off]}
"""


def heated(*edits: tuple[str, str], stops: str = "false") -> str:
    """A battery that is kept warm, of which battery and controller say whether they stop."""
    cells = "max_temperature: 55 °C,"
    own = (cells, f"{cells} low_temperature_cutoff: {stops},")
    return edited(own, TOLD, *edits, plan=build("cabin-heated-battery"))


def through(device: str) -> tuple[tuple[str, str], tuple[str, str]]:
    """The heater fed through a switch of its own."""
    return ("switches:\n", f"switches:\n  mat-off: {{{device}}}\n"), (FED, f"{FED}, mat-off")


@pytest.mark.parametrize(
    ("device", "level"),
    [
        ("rating: 40 A, dc: true, opens_below: 12 V", "error"),
        ("rating: 40 A, dc: true, opened_by: house", "error"),
        ("rating: 40 A, dc: true", "warning"),
    ],
)
def test_a_heater_that_a_switch_stops_while_the_sun_charges(device: str, level: str) -> None:
    [finding] = found(heated(*through(device)), COLD)
    assert (finding.level, finding.subjects) == (level, ("house", "mat-off", "mat"))
    assert "nothing stops `tracker` from charging `house` then, at −10 °C" in finding.message


def test_no_matter_where_the_battery_stops_its_own_charge() -> None:
    assert not found(heated(*through("rating: 40 A, dc: true"), stops="true"), COLD)


def test_no_matter_where_the_same_switch_stops_the_charge() -> None:
    both = heated(
        ("wires:\n", BAR),
        ("switches:\n", "switches:\n  main-off: {rating: 100 A, dc: true}\n"),
        ("from: house, to: mat", "from: bar, to: mat"),
        ("from: tracker.battery, to: house", "from: tracker.battery, to: bar"),
    )
    assert not found(both, COLD)


@pytest.mark.parametrize(
    ("told", "coldest", "told_at"),
    [
        ("", "-10 °C", []),  # what is inside is not told
        (", low_temperature_cutoff: true", "-10 °C", []),
        (", low_temperature_cutoff: false", "-10 °C", ["warning"]),
        (", low_temperature_cutoff: false", "-1 °C", ["warning"]),
        (", low_temperature_cutoff: false", "0 °C", []),
        (", low_temperature_cutoff: false, place: cabin", "-10 °C", []),  # 5 °C there
    ],
)
def test_a_power_box_that_charges_on_in_the_cold(
    told: str, coldest: str, told_at: list[str]
) -> None:
    text = (Path(__file__).parents[2] / "sound/portable-box-iec.yaml").read_text()
    plan = edited(
        ("load_current: 10 A", f"load_current: 10 A{told}"),
        ("coldest: -10 °C", f"coldest: {coldest}"),
        plan=text,
    )
    assert levels(plan, COLD) == told_at


def test_what_is_asked_is_what_nobody_told() -> None:
    """The battery says that it does not stop; whether its controller does was asked of it."""
    text = """
wattproof: 1
setting: cabin
datasheets: {modules: {small: {pmax: 100 W}}}
strings: {roof: {module: small, feeds: tracker}}
controllers: {tracker: {kind: mppt, max_output_current: 20 A, feeds: house}}
batteries: {house: {chemistry: LFP, nominal: 12 V, capacity: 100 Ah, low_temperature_cutoff: false}}
"""
    asked = [q.asks for q in check_text(text).questions if "in the cold" in q.asks]
    assert asked == ["whether `tracker` stops the charge in the cold"]


FOLDING = """
wattproof: 1
setting: portable
site: {coldest: -10 °C}
datasheets: {modules: {folding: {pmax: 120 W, isc: 9 A, build: folding, regulated: true}}}
strings: {set: {module: folding, arrangement: 1s2p}}
batteries: {house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 20 Ah,
                    max_charge_current: 6 A, low_temperature_cutoff: false}}
fuses: {f: {rating: 30 A, style: blade}}
wires: {lead: {from: set, to: house, length: 5 m, inline: [{f: {from_end: to, distance: 10 cm}}]}}
"""


def test_a_regulator_on_a_module_charges_in_the_cold_like_any_other() -> None:
    """It was passed over, as if such a module charged nothing."""
    [finding] = found(FOLDING, COLD)
    assert "nothing stops `set` from charging it then" in finding.message
    assert "or let `set`" not in finding.remedy
    assert not found(FOLDING.replace("cutoff: false", "cutoff: true"), COLD)
    assert not found(FOLDING.replace("lithium-iron-phosphate", "agm"), COLD)


@pytest.mark.parametrize("outputs", [("house", "start"), ("start", "house")])
def test_what_charges_through_a_diode_isolator_charges_in_the_cold_too(
    outputs: tuple[str, str],
) -> None:
    """The bank behind one was taken to be charged by nothing."""
    plan = f"""\
wattproof: 1
setting: vehicle
site: {{coldest: -10 °C}}
chargers: {{mains: {{kind: shore, max_output_current: 20 A, charge_voltage: 14.4 V,
                   low_temperature_cutoff: false}}}}
diode_isolators: {{splitter: {{rating: 50 A, outputs: [{outputs[0]}, {outputs[1]}], drop: 0.05 V}}}}
batteries:
  start: {{chemistry: flooded, nominal: 12 V, capacity: 80 Ah}}
  house: {{chemistry: LiFePO4, nominal: 12.8 V, capacity: 100 Ah, low_temperature_cutoff: false,
          min_charge_temperature: 0 °C}}
wires:
  in: {{from: mains, to: splitter.input}}
  start-run: {{from: splitter.start, to: start}}
  house-run: {{from: splitter.house, to: house}}
"""
    [finding] = found(plan, COLD)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert "nothing stops `mains` from charging it then" in finding.message
    stops = ("low_temperature_cutoff: false}}", "low_temperature_cutoff: true}}")
    assert not found(edited(stops, plan=plan), COLD)
