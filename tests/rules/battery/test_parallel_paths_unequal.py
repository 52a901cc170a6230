"""How three or more packs in parallel share in the current, by the resistance of their leads."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

UNLIKE = "unlike-batteries-joined"
PATHS = "parallel-paths-unequal"
OHM_PER_METRE = 0.505e-3  # of stranded 1 AWG at 75 °C, NEC Chapter 9 Table 8
RIGHT = "right-run: {from: right, to: bar, cable: bank-1, length: "


def test_a_long_lead_gives_less() -> None:
    """Each way is 3 mΩ inside and both poles of its lead, at the table's 75 °C."""
    [finding] = found(faulty(PATHS), PATHS)
    assert finding.level == "warning"
    assert finding.subjects == ("left", "middle", "right")
    short, long = (1 / (3e-3 + 2 * metres * OHM_PER_METRE) for metres in (0.6, 3.0))
    shares = [value.number for value in finding.values[1:]]
    assert shares == pytest.approx([v / (2 * short + long) for v in (short, short, long)], rel=0.01)
    assert sum(shares) == pytest.approx(1.0)
    assert "`left` gives 38.5 %, `middle` gives 38.5 %, `right` gives 23 %" in finding.message
    assert "cables of one length and size" in finding.remedy
    assert not found(sound(PATHS), PATHS)


@pytest.mark.parametrize(("length", "n"), [("1.4 m", 0), ("2 m", 1)])
def test_up_to_a_fifth(length: str, n: int) -> None:
    """1.4 m: 3.606 / 4.414 mΩ are 18 % under; 2 m: 3.606 / 5.02 mΩ are 28 %."""
    plan = edited((f"{RIGHT}60 cm", f"{RIGHT}{length}"), plan=sound(PATHS))
    assert len(found(plan, PATHS)) == n


def in_a_row(back: str) -> str:
    """Left, middle and right joined post to post by 1 m; all is taken from the left positive."""
    plan = sound(PATHS)
    start = plan.index("  left-run:")
    fuses = [
        line for line in plan.splitlines() if line.startswith(("  left-f", "  mid", "  right-f"))
    ]
    for line in (line for line in fuses if "-fuse: {rating: 50 A" in line):
        plan = plan.replace(line + "\n", "")
    start = plan.index("  charge-run:")
    links = "".join(
        f"  {a}-{b}-{pole}: {{from: {a}.{pole}, to: {b}.{pole}, cable: bank-1, length: 1 m}}\n"
        for a, b in (("left", "middle"), ("middle", "right"))
        for pole in ("positive", "negative")
    )
    plan = plan[:start] + (
        "  out: {from: left.positive, to: tracker.battery.positive, cable: batt-8, length: 1 m,\n"
        "        inline: [{charge-fuse: {from_end: from, distance: 10 cm}}]}\n"
        f"  back: {{from: {back}.negative, to: tracker.battery.negative, cable: batt-8, "
        f"length: 1 m}}\n{links}"
    )
    return plan.replace("busbars:\n  bar: {rating: 250 A, voltage: 60 V}\n", "")


def test_a_row_taken_off_at_one_end_and_at_opposite_ends() -> None:
    [finding] = found(in_a_row("left"), PATHS)
    shares = [value.number for value in finding.values[1:]]
    assert shares[0] > shares[1] > shares[2]
    assert not found(in_a_row("right"), PATHS)


def test_two_packs_lead_of_unlike_kind_and_a_short_form_are_left_alone() -> None:
    assert not found(sound(UNLIKE).replace("length: 60 cm", "length: 3 m", 1), PATHS)
    mixed = faulty(PATHS).replace("capacity: 100 Ah", "capacity: 200 Ah", 1)
    assert not found(mixed, PATHS)  # another rule tells of that


TWO = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -10 °C, hottest: 40 °C, places: {cabin: {ambient: 35 °C}}}
datasheets:
  cables:
    bank-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
batteries:
  left: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 3 kA}
  right: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 3 kA}
loads:
  heater: {current: 50 A, nominal: 12 V}
wires:
  plus: {from: left.positive, to: right.positive, cable: bank-1, length: 3 m, place: cabin}
  minus: {from: left.negative, to: right.negative, cable: bank-1, length: 3 m, place: cabin}
  run: {from: left, to: heater, cable: bank-1, length: 1 m, place: cabin}
"""


@pytest.mark.parametrize(("amps", "n"), [("49 A", 0), ("50 A", 1)])
def test_two_matter_from_50_amperes_taken_off_the_posts_of_one(amps: str, n: int) -> None:
    """4.3 mΩ inside each, and 3 mΩ of leads before the second: 63 % and 37 %."""
    findings = found(TWO.replace("current: 50 A", f"current: {amps}"), PATHS)
    assert len(findings) == n
    for finding in findings:
        inside, leads = 12.9 / 3000.0, 6.0 * OHM_PER_METRE
        share = (inside + leads) / (2.0 * inside + leads)
        assert finding.values[1].number == pytest.approx(share, rel=0.02)


def test_two_of_which_each_pole_is_taken_elsewhere_share_alike() -> None:
    crossed = edited(
        ("  run: {from: left, to: heater, cable: bank-1, length: 1 m, place: cabin}\n",
         "  run: {from: left.positive, to: heater.positive, cable: bank-1, length: 1 m}\n"
         "  back: {from: right.negative, to: heater.negative, cable: bank-1, length: 1 m}\n"),
        plan=TWO,
    )  # fmt: skip
    assert not found(crossed, PATHS)
