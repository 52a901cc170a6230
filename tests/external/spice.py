"""Write and run netlists of ngspice, an independent circuit simulator.

Native `D` devices only: behavioural exponentials fail to converge and still print numbers. So the
exit status and the messages are looked at before any number is.
"""

import math
import shutil
import struct
import subprocess
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from wattproof.physics.elements import (
    Blocking,
    Bypassed,
    Cells,
    Element,
    Parallel,
    Resistance,
    Series,
)
from wattproof.physics.single_diode import Diode

NGSPICE = shutil.which("ngspice")
MISSING = (
    "the circuit simulator ngspice is not installed, and these checks need it: install the "
    "package `ngspice` (on Debian and Ubuntu: apt-get install ngspice)"
)

# k T / q at 27 °C with the constants of ngspice, V: both diodes then obey exp(V / a).
THERMAL_VOLTAGE = 1.38064852e-23 * 300.15 / 1.6021766208e-19

STIFF = 0.02  # emission coefficient of a diode of nearly constant drop

TROUBLE = ("no convergence", "singular matrix", "doanalyses", "aborted", "timestep too small")


@dataclass
class Netlist:
    """Lines of a netlist, and names that are not taken yet."""

    lines: list[str] = field(default_factory=list)
    count: int = 0
    constant_drops: bool = False  # of bypass and blocking diodes; else those of Schottky diodes

    def name(self, letter: str) -> str:
        """Return a new name of a device or a node."""
        self.count += 1
        return f"{letter}{self.count}"

    def add(self, letter: str, *words: object) -> str:
        """Add a device and return its name."""
        device = self.name(letter)
        self.lines.append(" ".join([device, *(str(word) for word in words)]))
        return device

    def model(self, saturation_current: float, emission: float) -> str:
        """Add a diode model and return its name."""
        name = self.name("m")
        self.lines.append(f".model {name} D(IS={saturation_current!r} N={emission!r})")
        return name

    def cells(self, diode: Diode, positive: str, negative: str) -> None:
        """Add the single-diode circuit, current source, diode, shunt and series resistance."""
        inner = self.name("n")
        model = self.model(diode.saturation_current, diode.modified_ideality / THERMAL_VOLTAGE)
        self.add("i", negative, inner, "dc", repr(diode.photocurrent))
        self.add("d", inner, negative, model)
        if math.isfinite(diode.shunt_resistance):
            self.add("r", inner, negative, repr(diode.shunt_resistance))
        self.add("r", inner, positive, repr(max(diode.series_resistance, 1e-9)))

    def rectifier(self, anode: str, cathode: str, drop: float, at: float) -> None:
        """Add a diode with `drop` (V) at the current `at` (A)."""
        if not self.constant_drops:
            saturation = at / math.expm1(drop / THERMAL_VOLTAGE)
            self.add("d", anode, cathode, self.model(saturation, 1.0))
            return
        middle = self.name("n")
        own = STIFF * THERMAL_VOLTAGE * math.log1p(at / 1e-9)
        self.add("d", anode, middle, self.model(1e-9, STIFF))
        self.add("vdrop", middle, cathode, "dc", repr(drop - own))

    def element(self, element: Element, positive: str, negative: str, at: float) -> None:
        """Add any element of an array; bypass and blocking diodes have their drop at `at` (A)."""
        if isinstance(element, Cells):
            self.cells(element.diode, positive, negative)
            if element.bypass_drop is not None:
                self.rectifier(negative, positive, element.bypass_drop, at)
        elif isinstance(element, Resistance):
            self.add("r", negative, positive, repr(element.ohm))
        elif isinstance(element, Blocking):
            self.rectifier(negative, positive, element.drop, at)
        elif isinstance(element, Bypassed):
            self.element(element.child, positive, negative, at)
            self.rectifier(negative, positive, element.drop, at)
        elif isinstance(element, Series):
            nodes = [negative, *(self.name("n") for _ in element.children[1:]), positive]
            for child, low, high in zip(element.children, nodes, nodes[1:], strict=False):
                self.element(child, high, low, at)
        elif isinstance(element, Parallel):
            for child in element.children:
                joint = self.name("n")
                self.add("vbranch", joint, positive, "dc", 0)
                self.element(child, joint, negative, at)


@dataclass(frozen=True)
class Results:
    """Variables by name, one value a step of the sweep."""

    values: dict[str, list[float]]

    def current(self, device: str) -> list[float]:
        """Return the currents (A) through a voltage source, from its positive terminal on."""
        return self.values[f"i({device.lower()})"]

    def branches(self) -> list[str]:
        """Return the sources of no voltage that stand in the branches, in their order."""
        names = [n[2:-1] for n in self.values if n.startswith("i(vbranch")]
        return sorted(names, key=lambda name: int(name[len("vbranch") :]))


def run(netlist: Netlist, analysis: str, folder: Path) -> Results:
    """Run `analysis` (".op" or a ".dc" line) and return every voltage and source current."""
    if NGSPICE is None:
        pytest.fail(MISSING, pytrace=False)
    deck, raw = folder / "deck.cir", folder / "deck.raw"
    options = ".options temp=27 tnom=27 gmin=1e-15 reltol=1e-9 abstol=1e-12 vntol=1e-9 itl1=1000"
    deck.write_text(
        "\n".join(["* Wattproof test", *netlist.lines, options, analysis, ".end", ""]),
        encoding="ascii",
    )
    done = subprocess.run(
        [NGSPICE, "-b", "-r", str(raw), str(deck)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    said = (done.stdout + done.stderr).lower()
    if done.returncode != 0 or any(word in said for word in TROUBLE):
        raise RuntimeError(f"ngspice ended with status {done.returncode}:\n{said[-500:]}")
    return _read(raw)


def _read(raw: Path) -> Results:
    """Return the variables of a binary raw file of real numbers."""
    header, _, data = raw.read_bytes().partition(b"Binary:\n")
    lines = header.decode("ascii").splitlines()
    fields = dict(line.split(":", 1) for line in lines if ":" in line and line[0] != "\t")
    variables, points = int(fields["No. Variables"]), int(fields["No. Points"])
    assert fields["Flags"].strip() == "real"
    start = next(k for k, line in enumerate(lines) if line.startswith("Variables:"))
    names = [line.split()[1].lower() for line in lines[start + 1 : start + 1 + variables]]
    numbers = struct.unpack(f"={variables * points}d", data[: 8 * variables * points])
    return Results({name: list(numbers[k::variables]) for k, name in enumerate(names)})
