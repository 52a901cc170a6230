"""What runs for minutes: cables by their warming, contacts and fuses by what they bear so long."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from plans import edited
from rule_runs import found
from wattproof.engine import check_file
from wattproof.example import Example
from wattproof.packs import discover
from wattproof.physics.conductors import warming_constant
from wattproof.study.wiring.brief import Brief, heaviest
from wattproof.testing import A_DAY, study_of
from wattproof.working import Value

ROOT = Path(__file__).parents[3]
BOAT = ROOT / "tests/sound/boat-selector-and-starter.yaml"
WINDLASS = """\
loads:
  windlass: {current: 110 A, short_duty: 2 min}
breakers:
  windlass-breaker: {rating: 100 A, voltage: 48 V, dc: true, interrupt: 5 kA,
                     style: surface-breaker}
datasheets:
  cables:
    thick: {size: 16 mm², material: copper, kind: marine, strands: fine,
            insulation_temperature: 105 °C, voltage: 600 V}
wires:
  windlass-plus: {from: second.positive, to: windlass.positive, cable: thick, length: 4 m,
                  place: [battery-box, saloon], enclosed: true,
                  inline: [{windlass-breaker: {from_end: from, distance: 10 cm}}]}
  windlass-minus: {from: windlass.negative, to: second.negative, cable: thick, length: 4 m,
                   place: [battery-box, saloon]}
"""


def boat(*edits: tuple[str, str]) -> str:
    return Example(BOAT, (), (), edited(*edits, plan=WINDLASS)).whole()


def worse(text: str) -> set[str]:
    result = check_file("plan.yaml", discover(), today=A_DAY, text=text, try_remedies=False)
    assert not result.problems
    return {f.rule for f in result.findings if f.level != "note"}


def test_the_time_constant_of_a_cable() -> None:
    """35 mm² from 30 to 105 °C at 200 A: k = 113, and (113 × 35 / 200)² = 391 s."""
    assert warming_constant(35.0, 200.0, 113.0) == pytest.approx(391, rel=1e-3)
    with pytest.raises(ValueError, match="positive"):
        warming_constant(35.0, 0.0, 113.0)


def test_what_charges_for_long_is_not_told_as_minutes() -> None:
    """The windlass hangs on the second battery's lead, which a charger loads with as much."""
    charger = "chargers:\n  shore: {kind: shore, max_output_current: 110 A}\n"
    more = edited(
        ("wires:\n", "wires:\n  shore-run: {from: shore, to: second, cable: thick, length: 1 m}\n"),
        ("from: second.positive, to: windlass", "from: first.positive, to: windlass"),
        ("windlass.negative, to: second.negative", "windlass.negative, to: first.negative"),
        plan=charger + WINDLASS,
    )  # fmt: skip
    found_in = study_of(Example(BOAT, (), (), more).whole()).wiring.wires
    brief = [wire.brief for wire in found_in.values() if wire.brief is not None and wire.current]
    assert brief
    for wire in found_in.values():
        if wire.brief is not None and wire.current is not None:
            assert wire.brief.steady.number < wire.current.number


def test_a_windlass_of_two_minutes_brings_nothing() -> None:
    assert not worse(boat())


def test_a_cable_carries_by_its_warming() -> None:
    """10 % of the heat of what runs for a tenth of the time constant, beside what lasts."""
    wire = study_of(boat(("current: 110 A", "current: 200 A"))).wiring.wires["windlass-plus"]
    assert wire.brief is not None
    assert wire.brief.steady.number == 0.0
    (_, _), (warms, may) = wire.asks(wire.current)
    tau = warming_constant(
        16.0, may.number, 226 * math.sqrt(math.log((234.5 + 105) / (234.5 + wire.ambient.number)))
    )
    assert warms.number == pytest.approx(200.0 * math.sqrt(1.0 - math.exp(-120.0 / tau)), rel=0.01)


@pytest.mark.parametrize(
    ("edit", "told"),
    [
        (("current: 110 A", "current: 120 A"), {"fuse-under-load"}),
        (("110 A, short_duty: 2 min", "110 A"), {"fuse-under-load"}),
        (
            ("rating: 100 A", "rating: 250 A"),
            {"fuse-over-conductor"},  # of both poles, which are one cable
        ),
        (
            ("current: 110 A, short_duty: 2 min", "current: 300 A, short_duty: 10 min"),
            {"fuse-under-load"},  # the breaker opens before either pole is too hot
        ),
    ],
)
def test_what_is_too_small_for_it_is_found(edit: tuple[str, str], told: set[str]) -> None:
    assert told <= worse(boat(edit))


def test_what_no_breaker_keeps_from_it_is_too_small_in_both_poles() -> None:
    edits = (
        ("rating: 100 A", "rating: 350 A"),
        ("110 A, short_duty: 2 min", "300 A, short_duty: 10 min"),
    )
    told = found(boat(*edits), "conductor-too-small")
    assert {f.subjects[0] for f in told} >= {"windlass-plus", "windlass-minus"}
    assert {f.level for f in told} == {"error"}


def test_a_strip_fuse_holds_more_for_minutes_than_a_breaker() -> None:
    plan = boat(
        ("breakers:\n  windlass-breaker", "fuses:\n  windlass-breaker"),
        ("surface-breaker", "wide-strip"),
        ("current: 110 A", "current: 125 A"),
    )
    assert "fuse-under-load" not in worse(plan)
    assert "fuse-under-load" in worse(plan.replace("current: 125 A", "current: 126 A"))
    assert "fuse-under-load" in worse(plan.replace("short_duty: 2 min", "short_duty: 6 min"))


def test_a_switch_bears_more_for_minutes() -> None:
    plan = boat(
        ("inline: [{windlass", "inline: [windlass-off, {windlass"),
        (
            "breakers:",
            "switches:\n  windlass-off: {rating: 85 A, voltage: 48 V, dc: true}\nbreakers:",
        ),
    )
    assert "switch-not-load-break" not in worse(plan)
    assert "switch-not-load-break" in worse(plan.replace("rating: 85 A", "rating: 84 A"))


def test_what_lasts_beside_it_counts_for_good() -> None:
    plan = boat(
        ("  windlass:", "  pump: {current: 95 A}\n  windlass:"),
        ("wires:", "wires:\n  pump-run: {from: windlass, to: pump, cable: thick, length: 1 m}"),
    )
    [finding] = found(plan, "fuse-under-load")
    assert "carries 205 A for 2 min" in finding.message
    wire = study_of(plan).wiring.wires["windlass-plus"]
    assert wire.brief is not None
    assert wire.brief.steady.number == 95.0


def test_the_whole_current_loses_voltage() -> None:
    wire = study_of(boat()).wiring.wires["windlass-plus"]
    assert wire.operating is not None
    assert wire.operating.number == 110.0


def test_an_hour_is_the_most() -> None:
    text = boat(("2 min", "61 min"))
    [problem] = check_file("plan.yaml", discover(), today=A_DAY, text=text).problems
    assert "no short duty" in problem.message


@pytest.mark.parametrize(
    ("seconds", "contacts", "strip"), [(300.0, 100.0, 104.0), (301.0, 130.0, 118.18)]
)
def test_some_minutes_are_five(seconds: float, contacts: float, strip: float) -> None:
    """130 A: a switch bears 1.3 times its rating for so long, a strip fuse 1.25, any other 1.1."""
    brief = Brief(Value(0.0, "A"), Value(seconds, "s"))
    assert brief.in_contacts(Value(130.0, "A")).number == pytest.approx(contacts)
    held = brief.in_overcurrent_device(Value(130.0, "A"), "bolt-down").number
    assert held == pytest.approx(strip, abs=0.01)
    assert brief.in_overcurrent_device(Value(130.0, "A"), "blade").number == pytest.approx(
        118.18, abs=0.01
    )


def test_nothing_is_gained_in_air_as_hot_as_the_insulation_stands() -> None:
    brief = Brief(Value(0.0, "A"), Value(60.0, "s"))
    current, carries = Value(130.0, "A"), Value(100.0, "A")
    for air, lasting in ((104.9, False), (105.0, True), (106.0, True)):
        found = brief.in_conductor(current, carries, 16.0, Value(air, "°C"), Value(105.0, "°C"))
        assert (found is current) is lasting


def test_the_largest_of_several_counts_and_only_where_each_is_brief() -> None:
    short, long = Brief(Value(5.0, "A"), Value(60.0, "s")), Brief(Value(2.0, "A"), Value(90.0, "s"))
    both = heaviest([short, long])
    assert both is not None
    assert (both.steady.number, both.seconds.number) == (5.0, 90.0)
    assert heaviest([short, None]) is None
    assert heaviest([]) is None
