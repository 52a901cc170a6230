"""Fault currents against ngspice: a bank and two cables, and several sources, at several places."""

from pathlib import Path

import pytest

from external.spice import Netlist, run
from wattproof.physics.faults import (
    Conductor,
    Limited,
    Source,
    Stiff,
    bank_resistance,
    fault_currents,
    prospective_current,
)

BANK = Stiff("bank", "post+", "post-", 13.4, bank_resistance(0.0034, 1, 2))
CABLES = [
    Conductor("first cable", "post+", "bus+", 0.0011),
    Conductor("second cable", "bus+", "end+", 0.0063),
    Conductor("first return", "bus-", "post-", 0.0009),
    Conductor("second return", "end-", "bus-", 0.0058),
]
PLACES = [("post+", "post-"), ("bus+", "bus-"), ("end+", "end-")]

MANY: list[Source] = [
    BANK,
    Stiff("alternator", "alternator+", "bus-", 14.4, 0.045),
    Limited("array", "end+", "end-", 21.0, 44.0),
    Limited("converter", "bus+", "bus-", 30.0, 14.4),
]
MANY_CABLES = [*CABLES, Conductor("alternator cable", "alternator+", "bus+", 0.012)]


def _simulated(
    sources: list[Source], conductors: list[Conductor], fault: tuple[str, str], folder: Path
) -> tuple[float, dict[str, float]]:
    """Return the fault current and the conductors' currents by ngspice, everything native."""
    names = {fault[1]: "0"}
    for part in (*sources, *conductors):
        ends = (
            (part.start, part.end)
            if isinstance(part, Conductor)
            else (part.positive, part.negative)
        )
        for node in ends:
            names.setdefault(node, f"k{len(names)}")
    netlist = Netlist()
    for source in sources:
        plus, minus = names[source.positive], names[source.negative]
        if isinstance(source, Stiff):
            inner = netlist.name("n")
            netlist.add("vemf", inner, minus, "dc", source.emf)
            netlist.add("r", inner, plus, source.resistance)
        else:  # a current source; a stiff diode and an emf take over at the highest voltage
            inner = netlist.name("n")
            netlist.add("i", minus, plus, "dc", source.current)
            netlist.add("d", plus, inner, netlist.model(1e-9, 0.02))
            netlist.add("vlimit", inner, minus, "dc", source.highest_voltage)
    meters = {}
    for part in conductors:
        middle = netlist.name("n")
        meters[part.name] = netlist.add("vmeter", names[part.start], middle, "dc", 0)
        netlist.add("r", middle, names[part.end], part.resistance)
    fault_meter = netlist.add("vfault", names[fault[0]], "0", "dc", 0)
    results = run(netlist, ".op", folder)
    return results.current(fault_meter)[0], {
        name: results.current(meter)[0] for name, meter in meters.items()
    }


@pytest.mark.parametrize("place", PLACES)
def test_bank_and_two_cables(place: tuple[str, str], tmp_path: Path) -> None:
    ours = fault_currents([BANK], CABLES, place)
    theirs, _ = _simulated([BANK], CABLES, place, tmp_path)
    count = 2 * PLACES.index(place)
    way = [0.0011, 0.0009, 0.0063, 0.0058][:count]
    by_hand = prospective_current(BANK.emf, BANK.resistance, way)
    print(f"\nbank, {place}: {ours.fault_current:.3f} A, ngspice {theirs:.3f} A", end="")
    assert ours.fault_current == pytest.approx(theirs, rel=1e-6)
    assert ours.fault_current == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize("place", PLACES)
def test_several_sources(place: tuple[str, str], tmp_path: Path) -> None:
    ours = fault_currents(MANY, MANY_CABLES, place)
    theirs, currents = _simulated(MANY, MANY_CABLES, place, tmp_path)
    print(f"\nfour sources, {place}: {ours.fault_current:.3f} A, ngspice {theirs:.3f} A", end="")
    assert ours.fault_current == pytest.approx(theirs, rel=1e-6)
    for name, current in currents.items():
        assert ours.conductor_currents[name] == pytest.approx(current, rel=1e-5, abs=1e-4)
