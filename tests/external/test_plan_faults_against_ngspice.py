"""Shorts through the plan against ngspice: one bank, two cables and a fuse; two banks on a bar.

The resistances come from the tables by hand here (NEC Chapter 9 Table 8, 75 °C, brought to 20 °C),
and the netlist is drawn independently of the circuit that the plan builds.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from external.spice import Netlist, run
from plans import edited
from wattproof.circuit import Terminal
from wattproof.study import Study
from wattproof.testing import study_of

COLD = 1 + 0.00323 * (20 - 75)
OHM_PER_METRE = {"8 AWG": 0.778 / 304.8 * COLD}

PLAN = edited(
    ("max_charge_current: 50 A", "short_circuit_current: 6 kA"),
    ("fuses:\n", "busbars:\n  bar: {}\ninverters:\n  mains: {power: 300 W}\nfuses:\n"),
    ("from: tracker.battery, to: house, cable", "from: bar, to: house, cable"),
    (
        "wires:\n",
        "wires:\n"
        "  mains-run: {from: bar, to: mains, cable: batt-8, length: 2 m}\n"
        "  tracker-run: {from: tracker.battery, to: bar, cable: batt-8, length: 50 cm}\n",
    ),
)
TWO = edited(
    (
        "batteries:\n",
        "batteries:\n  second: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, "
        "capacity: 100 Ah, short_circuit_current: 4 kA}\n",
    ),
    ("wires:\n", "wires:\n  second-run: {from: second, to: bar, cable: batt-8, length: 1.5 m}\n"),
    plan=PLAN,
)
PLACES = ("house", "bar", "mains")


def simulated(banks: dict[str, tuple[float, float]], place: str, folder: Path) -> float:
    """Current (A) into a short at a place: banks by short-circuit current (A) and length (m)."""
    netlist = Netlist()
    ohm = OHM_PER_METRE["8 AWG"]
    names = {
        "house": ("h1", "h0"),
        "bar": ("b1", "b0"),
        "mains": ("m1", "m0"),
        "second": ("s1", "s0"),
    }
    plus, minus = names[place]
    ground = {minus: "0"}

    def node(name: str) -> str:
        return ground.get(name, name)

    for bank, (amps, metres) in banks.items():
        inner = netlist.name("n")
        netlist.add("vemf", inner, node(names[bank][1]), "dc", 13.4)
        netlist.add("r", inner, node(names[bank][0]), 13.4 / amps)
        for pole in (0, 1):
            netlist.add("r", node(names[bank][pole]), node(names["bar"][pole]), ohm * metres)
    for pole in (0, 1):
        netlist.add("r", node(names["bar"][pole]), node(names["mains"][pole]), ohm * 2.0)
    meter = netlist.add("vfault", node(plus), "0", "dc", 0)
    return run(netlist, ".op", folder).current(meter)[0]


def banks_drive(study: Study, place: str) -> float:
    short = study.wiring.network.short_at(Terminal(place, "", "positive"))
    assert short is not None
    return short.current.number


@pytest.mark.parametrize("place", PLACES)
def test_one_bank_two_cables_and_a_fuse(place: str, tmp_path: Path) -> None:
    ours = banks_drive(study_of(PLAN), place)
    theirs = simulated({"house": (6000.0, 1.0)}, place, tmp_path)
    print(f"\nshort at {place}: {ours:.2f} A, ngspice {theirs:.2f} A", end="")
    assert ours == pytest.approx(theirs, rel=1e-4)


@pytest.mark.parametrize("place", PLACES)
def test_two_banks_share_the_way(place: str, tmp_path: Path) -> None:
    study = study_of(TWO)
    ours = banks_drive(study, place)
    theirs = simulated({"house": (6000.0, 1.0), "second": (4000.0, 1.5)}, place, tmp_path)
    print(f"\ntwo banks, short at {place}: {ours:.2f} A, ngspice {theirs:.2f} A", end="")
    assert ours == pytest.approx(theirs, rel=1e-4)
    short = study.wiring.network.short_at(Terminal(place, "", "positive"))
    assert short is not None
    assert sum(amps.number for _, amps in short.banks) == pytest.approx(ours, rel=1e-9)
