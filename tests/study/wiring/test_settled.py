"""Consumers of a power take the current that the voltage at their terminals asks for.

Worked by hand where one consumer hangs on one bank: I = P / (U - I R) is a quadratic. With several
on a common lead, and with packs that share, the simulator solves the same network with sources that
draw their power over their voltage.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from external.battery_sides import HEAD, HOT, RESTING
from external.spice import Netlist, run
from wattproof.study import Study
from wattproof.testing import study_of

LOW = 12.8
"""Voltage under load of a bank of 12.8 V, as is usual."""
CABLE = "cable: batt-8, place: cabin"
OHMS = HOT["batt-8"]


def plan(consumers: dict[str, tuple[float, float]], packs: int = 1, feed: float = 2.0) -> str:
    """Packs on a bar, a feed (m) from it to a stud, and there consumers (W) on leads (m)."""
    label = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
        "short_circuit_current: 3000 A}"
    )
    lines = [HEAD.rstrip(), "batteries:", *(f"  pack-{k}: {label}" for k in range(packs))]
    lines += ["busbars:", "  bar: {rating: 300 A}", "  stud: {rating: 300 A}", "loads:"]
    lines += [f"  {name}: {{power: {watts:g} W}}" for name, (watts, _) in consumers.items()]
    lines.append("wires:")
    for k in range(packs):
        lines.append(f"  lead-{k}: {{from: pack-{k}, to: bar, {CABLE}, length: {0.5 + k} m}}")
    lines.append(f"  feed: {{from: bar, to: stud, {CABLE}, length: {feed:g} m}}")
    for name, (_, metres) in consumers.items():
        lines.append(f"  {name}-run: {{from: stud, to: {name}, {CABLE}, length: {metres:g} m}}")
    return "\n".join(lines) + "\n"


def lasting(study: Study, name: str) -> float:
    current = study.wiring.wires[name].current
    assert current is not None
    return current.number


def by_hand(watts: float, ohms: float) -> float:
    """The smaller root of R I² - U I + P = 0."""
    return (LOW - math.sqrt(LOW * LOW - 4.0 * ohms * watts)) / (2.0 * ohms)


@pytest.mark.parametrize(("watts", "metres"), [(60.0, 1.0), (400.0, 3.0), (700.0, 4.0)])
def test_one_consumer_by_hand(watts: float, metres: float) -> None:
    """Both poles of 0.5 m, 2 m and its own lead of 8 AWG, hot."""
    study = study_of(plan({"heater": (watts, metres)}))
    amps = by_hand(watts, 2.0 * (0.5 + 2.0 + metres) * OHMS)
    assert amps > watts / LOW
    for wire in ("heater-run", "feed", "lead-0"):
        assert lasting(study, wire) == pytest.approx(amps, rel=1e-6)
    heater = study.plan.loads["heater"]
    drawn = study.wiring.network.drawn(heater, "")
    assert drawn is not None
    assert drawn.number == lasting(study, "heater-run")
    [group] = study.wiring.drawn
    assert group.current.number == drawn.number


def test_more_than_the_way_can_carry_is_held_where_consumers_switch_off() -> None:
    """2 kW over 40 m has no answer: it is held at 80 % of 12.8 V."""
    study = study_of(plan({"heater": (2000.0, 40.0)}))
    assert lasting(study, "heater-run") == pytest.approx(2000.0 / (0.8 * LOW))


def test_one_that_is_held_does_not_end_the_search_for_others() -> None:
    """The heater draws what it is held at; the lamp, behind the same feed, has its own answer."""
    study = study_of(plan({"heater": (500.0, 80.0), "lamp": (200.0, 4.0)}))
    heater, common = 500.0 / (0.8 * LOW), 2.0 * (0.5 + 2.0) * OHMS
    left, ohms = LOW - common * heater, common + 2.0 * 4.0 * OHMS
    lamp = (left - math.sqrt(left * left - 4.0 * ohms * 200.0)) / (2.0 * ohms)
    assert lasting(study, "heater-run") == pytest.approx(heater)
    assert lasting(study, "lamp-run") == pytest.approx(lamp, rel=1e-6)


def test_what_draws_a_current_or_tells_where_it_switches_off_is_not_moved() -> None:
    text = plan({"heater": (400.0, 3.0)}).replace("power: 400 W", "current: 30 A")
    assert lasting(study_of(text), "heater-run") == 30.0
    inverter = plan({"mains": (400.0, 3.0)}).replace(
        "loads:\n  mains: {power: 400 W}", "inverters:\n  mains: {power: 400 W, LOW}"
    )
    held = study_of(inverter.replace("LOW", "efficiency: 80 %, low_voltage: 10 V"))
    assert lasting(held, "mains-run") == pytest.approx(400.0 / 0.8 / 10.0)
    free = study_of(inverter.replace("LOW", "efficiency: 80 %"))
    assert lasting(free, "mains-run") == pytest.approx(by_hand(500.0, 2.0 * 5.5 * OHMS), rel=1e-6)


@pytest.mark.parametrize("packs", [1, 2, 3])
def test_several_on_one_feed_as_the_simulator_has_them(packs: int, tmp_path: Path) -> None:
    """Posts of packs at the low voltage on average, by what each gives: the twin has it so too."""
    consumers = {"heater": (300.0, 1.0), "pump": (120.0, 4.0), "lamp": (20.0, 6.0)}
    study = study_of(plan(consumers, packs))
    mine = {name: lasting(study, f"{name}-run") for name in consumers}
    # The emf at which posts, by their shares, stand at 12.8 V under these currents.
    ways = [1.0 / (RESTING / 3000.0 + 2.0 * (0.5 + k) * OHMS) for k in range(packs)]
    total = sum(mine.values())
    shares = [way / sum(ways) for way in ways]
    emf = LOW + sum(s * s * total * RESTING / 3000.0 for s in shares)
    made = Netlist()
    for k in range(packs):
        inner, post = f"emf{k}", f"post{k}"
        made.add("v", inner, "0", "dc", emf)
        made.add("r", inner, post, RESTING / 3000.0)
        made.add("r", post, "bar", 2.0 * (0.5 + k) * OHMS)
    made.add("r", "bar", "stud", 2.0 * 2.0 * OHMS)
    meters = {}
    for name, (watts, metres) in consumers.items():
        made.add("r", "stud", f"{name}m", 2.0 * metres * OHMS)
        meters[name] = made.add("vmeter", f"{name}m", name, "dc", 0)
        made.add("b", name, "0", f"I={watts}/max(v({name}),1)")
    theirs = run(made, ".op", tmp_path)
    for name in consumers:
        assert mine[name] == pytest.approx(theirs.current(meters[name])[0], rel=1e-4)
    assert lasting(study, "feed") == pytest.approx(total, rel=1e-9)


def test_one_that_stands_still_at_once_waits_for_one_that_does_not() -> None:
    """A lamp a hand's breadth from its own bank, and a heater 4 m from another."""
    label = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
        "short_circuit_current: 3000 A}"
    )
    text = HEAD + (
        f"batteries:\n  one: {label}\n  two: {label}\n"
        "loads:\n  lamp: {power: 1 W}\n  heater: {power: 700 W}\nwires:\n"
        f"  lamp-run: {{from: one, to: lamp, {CABLE}, length: 1 mm}}\n"
        f"  heater-run: {{from: two, to: heater, {CABLE}, length: 7 m}}\n"
    )
    study = study_of(text)
    amps = by_hand(700.0, 2.0 * 7.0 * OHMS)
    assert amps > 1.1 * 700.0 / LOW
    assert lasting(study, "heater-run") == pytest.approx(amps, rel=1e-6)
    assert lasting(study, "lamp-run") == pytest.approx(1.0 / LOW, rel=1e-4)
