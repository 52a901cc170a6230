"""Rows of batteries in series with unlike joints: cases worked by hand, with twins in ngspice."""

from __future__ import annotations

from pathlib import Path

import pytest

from external.battery_sides import COLD, HEAD, HOT, RESTING
from external.spice import Netlist, run
from wattproof.circuit import Terminal
from wattproof.study import Study
from wattproof.testing import study_of

AMPS = 3000.0
"""Short-circuit current on each label (A)."""
LOAD = 100.0


def rows(joints: list[float], cross: float | None = None) -> str:
    """Rows of two packs in series on two bars, with joints of those lengths (m), and a load.

    cross: length of a wire between the joints of the first two rows, at the upper pack of each.
    """
    label = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
        f"short_circuit_current: {AMPS:g} A}}"
    )
    banks, wires = [], []
    cable = "cable: batt-2, place: cabin"
    for k, metres in enumerate(joints):
        banks += [f"  upper-{k}: {label}", f"  lower-{k}: {label}"]
        wires += [
            f"  plus-{k}: {{from: upper-{k}.positive, to: bar.positive, {cable}, length: 0.5 m}}",
            f"  joint-{k}: {{from: lower-{k}.positive, to: upper-{k}.negative, {cable}, "
            f"length: {metres} m}}",
            f"  minus-{k}: {{from: lower-{k}.negative, to: bar.negative, {cable}, length: 0.5 m}}",
        ]
    if cross is not None:
        wires.append(
            f"  cross: {{from: upper-0.negative, to: upper-1.negative, {cable}, length: {cross} m}}"
        )
    return "\n".join(
        [
            HEAD.rstrip(),
            "batteries:",
            *banks,
            "busbars:",
            "  bar: {rating: 300 A, voltage: 58 V}",
            "loads:",
            f"  pump: {{current: {LOAD:g} A, nominal: 24 V}}",
            "wires:",
            *wires,
            f"  pump-run: {{from: bar, to: pump, {cable}, length: 1 m}}\n",
        ]
    )


def netlist(
    joints: list[float], ohms: float, emf: float, cross: float | None = None
) -> tuple[Netlist, list[str]]:
    """The same for the simulator, drawn by itself; the meters of its joints, upwards."""
    made, meters = Netlist(), []
    made.add("r", "minus", "0", 1e-6)
    for k, metres in enumerate(joints):
        low, high = f"low{k}", f"high{k}"
        for name, start, end in (("l", f"foot{k}", low), ("u", high, f"head{k}")):
            made.add("vemf", f"{name}{k}", start, "dc", emf)
            made.add("r", f"{name}{k}", end, RESTING / AMPS)
        made.add("r", low, f"meter{k}", ohms * metres)
        meters.append(made.add("vjoint", f"meter{k}", high, "dc", 0))
        made.add("r", f"head{k}", "plus", ohms * 0.5)
        made.add("r", f"foot{k}", "minus", ohms * 0.5)
    if cross is not None:
        made.add("r", "high0", "high1", ohms * cross)
    return made, meters


def lasting(study: Study, name: str) -> float:
    parts = [e for e in study.circuit.battery_side if e.name == name]
    values = [v.number for p in parts if (v := study.wiring.network.lasting(p)) is not None]
    return max(values, default=0.0)


JOINTS = [0.2, 3.0]


def test_each_row_carries_its_share_by_all_that_is_in_it(tmp_path: Path) -> None:
    """A row is two packs of 13.4 V / 3 kA and its joint and leads of 2 AWG, hot."""
    ways = [1.0 / (2 * RESTING / AMPS + (m + 1.0) * HOT["batt-2"]) for m in JOINTS]
    study = study_of(rows(JOINTS))
    made, meters = netlist(JOINTS, HOT["batt-2"], 0.0)
    made.add("i", "plus", "minus", "dc", LOAD)
    theirs = run(made, ".op", tmp_path)
    for k, way in enumerate(ways):
        by_hand = LOAD * way / sum(ways)
        assert lasting(study, f"joint-{k}") == pytest.approx(by_hand, rel=1e-3)
        assert lasting(study, f"plus-{k}") == pytest.approx(by_hand, rel=1e-3)
        assert lasting(study, f"minus-{k}") == pytest.approx(by_hand, rel=1e-3)
        assert theirs.current(meters[k])[0] == pytest.approx(by_hand, rel=1e-3)
    assert lasting(study, "joint-0") > 1.15 * lasting(study, "joint-1")
    assert lasting(study, "pump-run") == LOAD


def test_a_short_over_unlike_rows_adds_what_each_drives(tmp_path: Path) -> None:
    """2 × 13.4 V behind each row's packs, joint and leads, cold."""
    each = [2 * RESTING / (2 * RESTING / AMPS + (m + 1.0) * COLD["batt-2"]) for m in JOINTS]
    study = study_of(rows(JOINTS))
    short = study.wiring.network.short_at(Terminal("bar", "", "positive"))
    assert short is not None
    assert short.current.number == pytest.approx(sum(each), rel=1e-3)
    assert sorted(amps.number for _, amps in short.banks) == pytest.approx(sorted(each), rel=1e-3)
    made, _ = netlist(JOINTS, COLD["batt-2"], RESTING)
    meter = made.add("vfault", "plus", "minus", "dc", 0)
    theirs = run(made, ".op", tmp_path).current(meter)[0]
    assert short.current.number == pytest.approx(theirs, rel=1e-3)


def test_a_wire_across_unlike_joints_carries_what_evens_them_out(tmp_path: Path) -> None:
    """Both upper packs carry half, the lower ones by their joints, and the wire the difference.

    By hand: with the wire across so short that the joints meet at one point, the lower halves
    share as (13.4 V / 3 kA + 0.5 m + joint), the upper ones evenly.
    """
    study = study_of(rows(JOINTS, cross=0.01))
    lower = [1.0 / (RESTING / AMPS + (m + 0.5) * HOT["batt-2"]) for m in JOINTS]
    across = LOAD * lower[0] / sum(lower) - LOAD / 2
    assert lasting(study, "joint-0") == pytest.approx(LOAD * lower[0] / sum(lower), rel=5e-3)
    assert lasting(study, "plus-0") == pytest.approx(LOAD / 2, rel=5e-3)
    assert lasting(study, "cross") == pytest.approx(across, rel=2e-2)
    made, meters = netlist(JOINTS, HOT["batt-2"], 0.0, cross=0.01)
    made.add("i", "plus", "minus", "dc", LOAD)
    theirs = run(made, ".op", tmp_path)
    for k, meter in enumerate(meters):
        assert lasting(study, f"joint-{k}") == pytest.approx(theirs.current(meter)[0], rel=1e-3)
