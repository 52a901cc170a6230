"""Twenty battery sides drawn by chance, lasting currents and faults, against ngspice.

Two to six packs, rings, several sources and loads, both poles with lengths of their own. Branch
currents agree within 0.1 %, faults within 0.5 %.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from external.battery_sides import BatterySide, drawn
from wattproof.circuit import Conductor, Passage, Terminal
from wattproof.study import Study
from wattproof.testing import study_of

SEEDS = range(20)


def positive_parts(study: Study) -> dict[str, Conductor]:
    return {e.name: e for e in study.circuit.elements if isinstance(e, Conductor)}


def lasting_by_ngspice(side: BatterySide, folder: Path) -> dict[str, float]:
    """The largest current either way of each run, of all ports that push it that way."""
    found: dict[str, list[float]] = {}
    for port, amps in side.ports.items():
        for wire, share in side.currents(port, folder).items():
            found.setdefault(wire, []).append(share * abs(amps))
    return {
        wire: max(sum(a for a in amps if a > 0), -sum(a for a in amps if a < 0))
        for wire, amps in found.items()
    }


@pytest.mark.parametrize("seed", SEEDS)
def test_lasting_currents(seed: int, tmp_path: Path) -> None:
    side = drawn(seed)
    study = study_of(side.plan())
    theirs = lasting_by_ngspice(side, tmp_path)
    parts = positive_parts(study)
    worst = 0.0
    for wire, amps in theirs.items():
        ours = study.wiring.network.lasting(parts[wire])
        number = ours.number if ours is not None else 0.0
        worst = max(worst, abs(number - amps) / max(amps, 0.01))
        assert number == pytest.approx(amps, rel=1e-3, abs=1e-4), wire
    print(f"\n{len(side.packs)} packs, {len(theirs)} runs: within {worst:.1e}", end="")


@pytest.mark.parametrize("seed", SEEDS)
def test_shorts_at_every_part(seed: int, tmp_path: Path) -> None:
    side = drawn(seed)
    study = study_of(side.plan())
    for place in (*side.packs, *side.bars, *side.ports):
        theirs, _ = side.shorted(f"{place}-positive", f"{place}-negative", tmp_path)
        short = study.wiring.network.short_at(Terminal(place, "", "positive"))
        assert short is not None
        assert short.current.number == pytest.approx(theirs, rel=5e-3), place
        parts = sum(amps.number for _, amps in short.banks)
        assert parts == pytest.approx(short.current.number, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_each_fuse_has_to_break(seed: int, tmp_path: Path) -> None:
    """A fuse at 20 cm in one pole: the short lies between it and the other pole as far along."""
    side = drawn(seed)
    study = study_of(side.plan())
    passages = {e.name: e for e in study.circuit.elements if isinstance(e, Passage)}
    for number, run in enumerate(side.runs):
        if not run.fuse:
            continue
        twin = drawn(seed)  # the same with a joint in the negative, as far along as the fuse is
        back = twin.runs[number + 1]
        back.fuse, back.fuse_at = "joint", run.fuse_at / run.metres * back.metres
        device = passages[run.fuse]
        for start, behind in ((True, "after"), (False, "before")):
            _, carried = twin.shorted(f"{run.wire}-{behind}", f"{back.wire}-before", tmp_path)
            theirs = carried[run.wire] * (1.0 if start else -1.0)
            short = study.wiring.network.through_from(device, start=start)
            ours = short.current.number if short is not None else 0.0
            assert ours == pytest.approx(max(theirs, 0.0), rel=5e-3, abs=1.0), (run.fuse, start)
