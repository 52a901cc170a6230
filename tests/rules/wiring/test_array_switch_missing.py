"""Whether the array can be cut off its controller by hand."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, found
from wattproof.testing import check_text

MISSING = "array-switch-missing"
STRANDS = "battery-switch-strands-controller"
ARRAY = RULES.rules[MISSING].sound
BOTH = RULES.rules[STRANDS].sound
NONE = RULES.rules[MISSING].faulty.of(ARRAY)
STRANDED = RULES.rules[STRANDS].faulty.of(BOTH)


@pytest.mark.parametrize(
    ("setting", "level"),
    [("vehicle", "warning"), ("boat", "warning"), ("cabin", "error"), ("portable", "warning")],
)
def test_no_switch_by_setting(setting: str, level: str) -> None:
    [finding] = found(edited(("setting: vehicle", f"setting: {setting}"), plan=NONE), MISSING)
    assert finding.level == level
    assert finding.subjects == ("tracker", "roof-string")
    # 3 × 24.3 V × (1 + 0.0029 × 43) = 82 V; 1.25 × 5.2 A = 6.5 A
    assert "up to 82 V and 6.5 A" in finding.message
    assert "at least 82 V and 6.5 A DC" in finding.remedy


@pytest.mark.parametrize(("series", "hazard"), [("2", "damage"), ("3", "shock")])
def test_what_can_be_touched_is_no_shock(series: str, hazard: str) -> None:
    # 54.7 V and 82 V, where up to 60 V harm nobody in the dry; the contacts burn all the same
    plan = edited(("series: 3, mounting", f"series: {series}, mounting"), plan=NONE)
    assert [finding.hazard for finding in found(plan, MISSING)] == [hazard]


@pytest.mark.parametrize(
    ("series", "isc", "fires"),
    [
        ("2", "12 A", False),  # 48.6 V and 1.25 × 12 A = 15 A, at the limit
        ("2", "12.1 A", True),
        ("3", "5.2 A", True),  # 72.9 V
    ],
)
def test_a_small_portable_array_is_unplugged(series: str, isc: str, fires: bool) -> None:
    plan = edited(
        ("series: 3, mounting: roof-gap", f"series: {series}, mounting: ground, portable: true"),
        ("isc: 5.2 A", f"isc: {isc}"),
        plan=NONE,
    )
    assert bool(found(plan, MISSING)) is fires
    fixed = edited(("mounting: ground, portable: true", "mounting: ground"), plan=plan)
    assert found(fixed, MISSING)


@pytest.mark.parametrize(
    ("code", "imp", "level"),
    [
        ("iec", "4.8 A", "note"),  # 20.4 V × 4.8 A = 97.9 W, and 24.3 V
        ("iec", "5 A", "warning"),  # 102 W
        ("nec-2023", "4.8 A", "warning"),
    ],
)
def test_a_body_that_leaves_out_small_arrays_asks_no_switch_of_them(
    code: str, imp: str, level: str
) -> None:
    """Under 100 W and 35 V: scope of IEC 62548:2016, from memory."""
    plan = edited(
        ("series: 3, mounting", "series: 1, mounting"),
        ("imp: 4.9 A", f"imp: {imp}"),
        ("code: nec-2023", f"code: {code}"),
        plan=NONE,
    )
    assert [finding.level for finding in found(plan, MISSING)] == [level]


@pytest.mark.parametrize(
    ("voc", "isc", "level"),
    [
        # cold, 1.125 times the label: 27.3 V, three strings of 1.25 × 10 A unplugged one by one
        ("24.3 V", "10 A", "note"),
        ("24.3 V", "12.1 A", "warning"),
        ("26.8 V", "10 A", "warning"),  # 30.1 V: an arc may live on 37.5 A
    ],
)
def test_at_a_low_voltage_each_string_is_unplugged_by_itself(
    voc: str, isc: str, level: str
) -> None:
    plan = edited(
        ("series: 3, mounting: roof-gap", "arrangement: 1s3p, mounting: roof-gap"),
        ("voc: 24.3 V", f"voc: {voc}"),
        ("isc: 5.2 A", f"isc: {isc}"),
        ("code: nec-2023\n", ""),
        plan=NONE,
    )
    assert [f.level for f in found(plan, MISSING)] == [level]


@pytest.mark.parametrize(("series", "level"), [("2", "warning"), ("3", "error")])
def test_in_a_cabin_what_a_touch_does_not_harm_is_no_error(series: str, level: str) -> None:
    plan = edited(
        ("setting: vehicle", "setting: cabin"), ("series: 3", f"series: {series}"), plan=NONE
    )
    assert [f.level for f in found(plan, MISSING)] == [level]


@pytest.mark.parametrize(
    ("code", "series", "level"),
    [
        ("nec-2023", "4", "warning"),  # 109 V
        ("nec-2023", "5", "error"),  # 137 V kill
        ("iec", "5", "error"),
        ("abyc-e11", "5", "warning"),  # which says nothing of it
        ("", "5", "warning"),
    ],
)
def test_what_kills_is_an_error_where_a_body_of_rules_wants_a_switch(
    code: str, series: str, level: str
) -> None:
    told = f"code: {code}\n" if code else ""
    plan = edited(("code: nec-2023\n", told), ("series: 3", f"series: {series}"), plan=NONE)
    assert [f.level for f in found(plan, MISSING)] == [level]


def test_a_fuse_does_not_count_and_a_breaker_does() -> None:
    sheet = "{rating: 30 A, voltage: 150 V, dc: true}"
    switch = "{rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}"
    breaker = edited(
        (f"switches:\n  pv-off: {switch}", f"breakers:\n  pv-off: {sheet}"), plan=ARRAY
    )
    assert not found(breaker, MISSING)
    fuse = edited(
        (f"switches:\n  pv-off: {switch}\n", ""),
        ("fuses:\n", f"fuses:\n  pv-off: {sheet}\n"),
        plan=ARRAY,
    )
    assert found(fuse, MISSING)


TWO = edited(
    ("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}\n",
     "  port: {module: rigid-100, series: 3, mounting: roof-gap}\n"
     "  star: {module: rigid-100, series: 3, mounting: roof-gap}\n"
     "combiners: {joint: {joins: [port, star], rating: 30 A, voltage: 600 V}}\n"),
    ("  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
     "place: [roof, cabin],\n             inline: [pv-off]}\n",
     "  port-lead: {from: port, to: joint, cable: pv-10, length: 1 m, inline: [pv-off]}\n"
     "  star-lead: {from: star, to: joint, cable: pv-10, length: 1 mINLINE}\n"
     "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"),
    plan=ARRAY,
)  # fmt: skip
"""Two strings, of which one has a switch of its own."""


def test_each_string_or_all_together() -> None:
    [finding] = found(TWO.replace("INLINE", ""), MISSING)
    assert finding.message.startswith(
        "`star` keeps `tracker` live with `pv-off` open: up to 82 V and 6.5 A stay on it"
    )
    assert finding.subjects == ("tracker", "star")
    bare = TWO.replace("INLINE", "").replace(", inline: [pv-off]", "")
    [finding] = found(bare, MISSING)
    assert "nothing disconnects the array from `tracker`: up to 82 V and 13 A" in finding.message
    other = TWO.replace("INLINE", ", inline: [star-off]") + (
        "  star-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}\n"
    )
    assert not found(other, MISSING)


def test_a_second_way_to_a_battery_keeps_the_controller_on() -> None:
    plan = edited(
        ("batteries:\n", "batteries:\n  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"),
        ("wires:\n", "wires:\n  other-run: {from: tracker.battery, to: start, cable: batt-8, "
         "length: 1 m}\n"),
        plan=STRANDED,
    )  # fmt: skip
    assert not found(plan, STRANDS)
    assert found(plan, MISSING)


BOX = """\
wattproof: 1
setting: portable
code: as-nzs-3001
site: {coldest: -18 °C}
datasheets:
  modules: {folding: {voc: 24.3 V, isc: ISC, vmp: 20.4 V, voc_coefficient: -0.29 %/°C}}
  cables: {lead: {size: 6 mm²}}
strings:
  left: {module: folding, mounting: ground, portable: true}
  right: {module: folding, mounting: ground, portable: true}
combiners: {plug: {joins: [left, right], kind: branch-connector}}
power_boxes: {box: {max_input_voltage: 50 V}}
wires: {run: {from: plug, to: box.pv, cable: lead, length: 5 m}}
"""


@pytest.mark.parametrize(("isc", "fires"), [("10 A", False), ("12.1 A", True)])
def test_portable_modules_on_a_box_are_unplugged_one_by_one(isc: str, fires: bool) -> None:
    """27.3 V when cold, under any body of rules; 1.25 × 12 A = 15 A for each plug."""
    assert bool(found(BOX.replace("ISC", isc), MISSING)) is fires


@pytest.mark.parametrize(("series", "graver"), [(3, "fire"), (4, "fire"), (8, "shock")])
def test_a_bare_battery_stands_before_a_missing_switch_up_to_some_240_volts(
    series: int, graver: str
) -> None:
    """A switch parts an array from its controller, and leaves it as live as it was."""
    plan = f"""\
wattproof: 1
setting: cabin
code: iec
datasheets: {{modules: {{m: {{voc: 45 V, vmp: 37 V, isc: 9 A, imp: 8.5 A}}}}}}
strings: {{roof: {{module: m, series: {series}}}}}
controllers: {{tracker: {{kind: mppt, max_input_voltage: 450 V, max_output_current: 60 A}}}}
batteries: {{bank: {{chemistry: agm, nominal: 12 V, capacity: 1000 Ah}}}}
wires:
  roof-run: {{from: roof, to: tracker.pv}}
  charge-run: {{from: tracker.battery, to: bank}}
"""
    errors = [f for f in check_text(plan).findings if f.rule in (MISSING, "battery-fuse-missing")]
    assert {f.hazard for f in errors} == {"fire", "shock"}
    assert errors[0].hazard == graver
