"""Cables of a starter motor, by how long they bear its current."""

from __future__ import annotations

import math

import pytest

from plans import edited
from rule_runs import faulty, found, sound

OVERHEATS = "cranking-cable-overheats"


def test_how_long_a_cable_bears_a_start() -> None:
    """IEC 60364-5-54 Annex A: k² = 50926 ln(1 + (105 - 60)/(234.5 + 60)) for copper from 60 °C to
    105 °C; (k 5.26 mm²/200 A)²."""
    [finding] = found(faulty(OVERHEATS), OVERHEATS)
    k2 = 3.45e-3 * 254.5 / 17.241e-6 * math.log(1 + 45 / 294.5)
    assert finding.values[1].number == pytest.approx(k2 * (5.26 / 200) ** 2, rel=0.01)
    assert (finding.level, finding.hazard) == ("error", "fire")
    assert " in 5" in finding.message
    assert finding.message.endswith(" s")


@pytest.mark.parametrize(("size", "count"), [("8 AWG", 0), ("10 AWG", 1)])
def test_the_size_that_bears_ten_seconds(size: str, count: int) -> None:
    plan = edited(("batt-10: {size: 10 AWG", f"batt-10: {{size: {size}"), plan=faulty(OVERHEATS))
    assert len(found(plan, OVERHEATS)) == count


def test_aluminium_bears_less() -> None:
    """148 over 226, squared: 8 AWG of copper bears 12.7 s, of aluminium 5.4 s."""
    plan = edited(
        ("batt-10: {size: 10 AWG, kind: battery, material: copper", ""
         "batt-10: {size: 8 AWG, kind: battery, material: aluminium"),
        plan=faulty(OVERHEATS),
    )  # fmt: skip
    assert len(found(plan, OVERHEATS)) == 1
    assert not found(sound(OVERHEATS), OVERHEATS)


BY_BODY = """\
wattproof: 1
setting: boat
code: abyc-e11
datasheets: {cables: {thick: {size: 2 AWG, kind: marine}, thin: {size: 14 AWG, kind: marine}}}
batteries: {start: {chemistry: agm, nominal: 12 V, capacity: 75 Ah}}
starters: {crank: {current: 150 A}}
chargers: {engine: {kind: alternator, nominal: 12 V, max_output_current: 15 A}}
wires:
  crank-run: {from: start.positive, to: crank.positive, cable: thick, length: 1 m, enclosed: true}
  engine-run: {from: start.positive, to: engine.positive, cable: thick, length: 1 m, enclosed: true}
"""
BACK = "  back: {from: engine.negative, to: start.negative, cable: CABLE, length: 1 m}\n"
TIE = "bonds:\n  tie: {from: start.negative, to: chassis, cable: CABLE, length: 1 m}\n"


@pytest.mark.parametrize(("way", "name"), [(BACK, "back"), (TIE, "tie")])
def test_what_alone_brings_a_starters_current_back_is_heated_by_it(way: str, name: str) -> None:
    """The negative of the alternator on its engine, or the bond of the body that this stands in."""
    [finding] = found(BY_BODY + way.replace("CABLE", "thin"), OVERHEATS)
    assert finding.subjects == (name, "crank")
    assert not found(BY_BODY + way.replace("CABLE", "thick"), OVERHEATS)


def test_ways_back_that_share_a_starters_current_are_left() -> None:
    second = "  second: {from: start.negative, to: chassis, cable: thin, length: 1 m}\n"
    assert not found(BY_BODY + TIE.replace("CABLE", "thin") + second, OVERHEATS)
