"""Voltage in operation at both ends of a way, read at once."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from rules.readings.plans import read, strings
from wattproof.study.readings.ways import WayRead
from wattproof.testing import study_of

WAY = "reading-way-drop"
MISSING = "reading-conditions-missing"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A}"
NOON = f'taken: "noon", {EXACT}'


def upper(volts: str, current: str = ", current: 4.000 A", at: str = "roof-string") -> str:
    return f"at: {at}, voltage: {volts}{current}, {NOON}"


def lower(volts: str, current: str = "") -> str:
    return f"at: tracker.pv, voltage: {volts}{current}, {NOON}"


def way(*readings: str, plan: str | None = None) -> WayRead:
    (found_one,) = study_of(read(*readings, plan=plan)).readings.ways
    return found_one


def test_what_the_wires_take_by_hand() -> None:
    """10 AWG out and back over 4 m at 4 A, and a tenth of a volt at plugs."""
    found_one = way(upper("56.000 V"), lower("55.000 V"))
    [(wire, times)] = found_one.wires
    assert times == 1.0
    assert found_one.usual.number == pytest.approx(2 * 4.0 * wire.resistance.number + 0.1)
    assert found_one.lost.number == pytest.approx(1.0 - 2 * 0.0005)  # half of the last digit, twice
    assert found_one.ohms is not None
    rest = found_one.lost.number - found_one.usual.number
    assert found_one.ohms.number == pytest.approx(rest / 4.0)
    assert found_one.heat is not None
    assert found_one.heat.number == pytest.approx(rest * 4.0)


def test_at_the_limit() -> None:
    usual = way(upper("56.000 V"), lower("55.000 V")).usual.number
    over = read(upper("56.000 V"), lower(f"{56.0 - usual - 0.003:.3f} V"))
    under = read(upper("56.000 V"), lower(f"{56.0 - usual + 0.003:.3f} V"))
    [finding] = found(over, WAY)
    assert finding.level == "warning"
    assert "plug or joint" in finding.message
    assert finding.caution is not None
    assert not found(under, WAY)


def test_a_meter_that_errs_takes_its_part() -> None:
    plan = read(upper("56.000 V"), lower("54.800 V"))
    assert found(plan, WAY)
    assert not found(plan.replace("voltage: 0 %", "voltage: 1 %"), WAY)


def test_a_fuse_on_the_way_takes_two_tenths() -> None:
    text = edited(
        ("fuses:\n", "fuses:\n  string-fuse: {rating: 15 A, voltage: 600 V, dc: true}\n"),
        (
            "length: 4 m, place: [roof, cabin]",
            "length: 4 m, place: [roof, cabin], "
            "inline: [{string-fuse: {from_end: from, distance: 1 m}}]",
        ),
    )
    bare, fused = (way(upper("56 V"), lower("55 V"), plan=plan) for plan in (None, text))
    assert fused.devices == 1
    assert fused.usual.number == pytest.approx(bare.usual.number + 0.2)


class TestSeveralStrings:
    def test_the_shared_run_carries_all_of_them(self) -> None:
        """Three strings: 4 A in one are 12 A in the run from the joint."""
        told = way(upper("56 V", at="string-1"), lower("55 V"), plan=strings(3))
        assert {w.name: t for w, t in told.wires} == {"home-run": 3.0}

    def test_a_current_at_the_input_is_shared(self) -> None:
        told = way(
            upper("56 V", "", at="string-1"), lower("55 V", ", current: 12.0 A"), plan=strings(3)
        )
        assert told.current is not None
        assert told.current.number == pytest.approx(4.0)

    def test_the_nearest_place_below_is_taken(self) -> None:
        readings = (
            upper("56 V", at="string-1"),
            f"at: roof-joint, voltage: 55.9 V, {NOON}",
            lower("55 V"),
        )
        ways = study_of(read(*readings, plan=strings(3))).readings.ways
        assert [(w.upper.where, w.lower.where) for w in ways] == [
            ("string-1", "roof-joint"),
            ("roof-joint", "tracker.pv"),
        ]
        assert [[w.name for w, _ in each.wires] for each in ways] == [[], ["home-run"]]

    def test_one_string_is_no_lower_end_of_another(self) -> None:
        plan = read(upper("56 V", at="string-1"), upper("50 V", at="string-2"), plan=strings(2))
        assert not study_of(plan).readings.ways


def test_without_a_current_the_most_that_the_sun_gives_counts() -> None:
    told = way(upper("56 V", ""), lower("55 V"))
    assert told.ohms is None
    [(wire, _)] = told.wires
    most = told.upper.expected.most_current.number
    assert told.usual.number == pytest.approx(2 * most * wire.resistance.number + 0.1)
    [finding] = found(read(upper("56 V", ""), lower("50 V")), WAY)
    assert "Ω" not in finding.message


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ('taken: "noon"', 'taken: "later"'),
        ('taken: "noon", ', ""),
    ],
)
def test_what_was_not_read_at_once_is_not_compared(first: str, second: str) -> None:
    plan = read(upper("56 V"), lower("50 V"))
    head, tail = plan.rsplit(first, 1)
    assert not found(head + second + tail, WAY)


def test_a_voltage_alone_says_what_is_missing_beside_it() -> None:
    [finding] = found(read(upper("56 V", "")), MISSING)
    assert "further down" in finding.message
    assert "`voltage` at the solar input" in finding.remedy
    assert not found(read(upper("56 V", ""), lower("55.8 V", ", current: 4 A")), MISSING)[1:]


def test_reversed_probes_are_another_finding() -> None:
    assert not found(read(upper("-56 V"), lower("50 V")), WAY)


def test_its_examples() -> None:
    assert not found(sound(WAY), WAY)
    [finding] = found(faulty(WAY), WAY)
    assert "346 mΩ" in finding.message
