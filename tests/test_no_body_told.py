"""What rests on one body of rules alone, where a plan names none, is never certain."""

from __future__ import annotations

import pytest

from wattproof.codes import Bodies, body
from wattproof.finding import Finding
from wattproof.testing import check_text

PLAN = """
wattproof: 1
title: A heater behind one fuse
setting: vehicle
datasheets:
  cables:
    wire: {size: 4 AWG, insulation_temperature: 90 °C}
batteries:
  bank: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah,
         max_discharge_current: 200 A}
fuses:
  main-fuse: {rating: 100 A, style: class-t, voltage: 125 V, interrupt: 20 kA, dc: true}
loads:
  heater: {current: 60 A}
wires:
  run: {from: bank, to: heater, cable: wire, length: 1 m,
        inline: [{main-fuse: {from_end: from, distance: 5 cm}}]}
"""


def over_conductor(text: str) -> Finding | None:
    found = [f for f in check_text(text).each if f.rule == "fuse-over-conductor"]
    return next(iter(found), None)


def test_what_one_body_lets_pass_is_likely_and_says_so() -> None:
    # NEC: 85 A at 75 °C, next standard rating 90 A; at 90 °C IEC and AS/NZS let 100 A pass on
    # 21.15 mm², and so does ABYC, which the battery side of a vehicle may take.
    found = over_conductor(PLAN)
    assert found is not None
    assert (found.level, found.verdict) == ("warning", "likely")
    told = [a.says for a in found.assumptions if a.key == "body of rules"]
    assert len(told) == 3
    assert any("by ABYC E-11 it would be no fault" in says for says in told)


def test_what_all_bodies_forbid_stays_certain() -> None:
    # 8 AWG: NEC 50 A, IEC 55.7 A and ABYC 70 A, all under 100 A.
    found = over_conductor(PLAN.replace("4 AWG", "8 AWG"))
    assert found is not None
    assert (found.level, found.verdict) == ("error", "certain")
    assert not [a for a in found.assumptions if a.key == "body of rules"]


@pytest.mark.parametrize(
    ("code", "level"),
    [
        ("nec-2023", "error"),
        ("iec", None),
        ("{array: nec-2023, battery: abyc-e11}", None),
    ],
)
def test_a_body_that_is_told_decides_alone(code: str, level: str | None) -> None:
    found = over_conductor(f"{PLAN}code: {code}\n")
    assert (found and (found.level, found.verdict)) == (level and (level, "certain"))


def test_it_is_so_where_nothing_else_is_left_out() -> None:
    # What no rule reads of a plan is no unknown; the body alone is.
    found = over_conductor(PLAN.replace("heater: {", "heater: {nominal: 12 V, "))
    assert found is not None
    assert found.verdict == "likely"


def test_which_others_may_hold() -> None:
    nec, abyc = body("nec-2023"), body("abyc-e11")
    usual = Bodies(nec, nec)
    ids = [each.id for each in usual.others_in("vehicle")]
    assert ids == ["as-nzs-3001", "iec", "{array: nec-2023, battery: abyc-e11}"]
    assert [each.id for each in usual.others_in("cabin")] == ["iec"]
    assert [each.id for each in Bodies(abyc, abyc).others_in("boat")] == ["iso-13297"]


def test_where_all_is_told_in_square_millimetres_no_body_of_gauges_may_hold() -> None:
    iec, iso = body("iec"), body("iso-13297")
    assert [each.id for each in Bodies(iec, iec).others_in("vehicle")] == ["as-nzs-3001"]
    assert Bodies(iso, iso).others_in("boat") == ()
