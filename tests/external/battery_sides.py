"""Battery sides drawn by chance: packs, bars, sources and loads between them, as plan and netlist.

The netlist is written from the same draws as the plan, never from the circuit that the plan builds.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from external.spice import Netlist, run

HEAD = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {cabin: {ambient: 35 °C}}}
datasheets:
  cables:
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    batt-2: {size: 2 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
"""
HOT = {"batt-8": 0.778 / 304.8, "batt-2": 0.194 / 304.8}
"""Resistance of copper at 75 °C (Ω/m), NEC Chapter 9 Table 8 (0.778 and 0.194 Ω/kft)."""
COLD = {cable: ohms * (1 + 0.00323 * (20 - 75)) for cable, ohms in HOT.items()}
RESTING = 13.4
"""Voltage of a charged 12.8 V pack at rest (V)."""


@dataclass
class Run:
    """One pole of a wire: cable, length (m); the fuse in it, and how far from its start (m)."""

    wire: str
    pole: str
    start: str
    end: str
    cable: str
    metres: float
    fuse: str = ""
    fuse_at: float = 0.0


@dataclass
class BatterySide:
    """What was drawn. packs: short-circuit current (A). ports: current (A), + for a source."""

    packs: dict[str, float] = field(default_factory=dict)
    bars: list[str] = field(default_factory=list)
    ports: dict[str, float] = field(default_factory=dict)
    runs: list[Run] = field(default_factory=list)

    def plan(self) -> str:
        """The plan's text."""
        lines = [HEAD.rstrip()]
        fuses = [run.fuse for run in self.runs if run.fuse]
        made = "voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true"
        if fuses:
            lines += ["fuses:", *(f"  {name}: {{rating: 200 A, {made}}}" for name in fuses)]
        lines.append("batteries:")
        for name, amps in self.packs.items():
            lines.append(
                f"  {name}: {{chemistry: lithium-iron-phosphate, nominal: 12.8 V, "
                f"capacity: 100 Ah, short_circuit_current: {amps:g} A}}"
            )
        lines += ["busbars:", *(f"  {bar}: {{rating: 300 A}}" for bar in self.bars)]
        loads = {name: -amps for name, amps in self.ports.items() if amps < 0}
        gives = {name: amps for name, amps in self.ports.items() if amps > 0}
        if loads:
            lines += ["loads:", *(f"  {n}: {{current: {a:g} A}}" for n, a in loads.items())]
        if gives:
            kind = "kind: shore, max_output_current"
            lines += ["chargers:", *(f"  {n}: {{{kind}: {a:g} A}}" for n, a in gives.items())]
        lines.append("wires:")
        for r in self.runs:
            inline = (
                f", inline: [{{{r.fuse}: {{from_end: from, distance: {r.fuse_at:g} m}}}}]"
                if r.fuse
                else ""
            )
            lines.append(
                f"  {r.wire}: {{from: {r.start}.{r.pole}, to: {r.end}.{r.pole}, "
                f"cable: {r.cable}, length: {r.metres:g} m, place: cabin{inline}}}"
            )
        return "\n".join(lines) + "\n"

    def currents(self, port: str, folder: Path) -> dict[str, float]:
        """What one ampere of a port drives through each run, hot, from its start to its end (A)."""
        netlist = Netlist()
        meters = self._draw(netlist, HOT, 0.0)
        sign = 1.0 if self.ports[port] > 0 else -1.0
        ends = (f"{port}-negative", f"{port}-positive")
        netlist.add("i", *ends, "dc", sign)
        results = run(netlist, ".op", folder)
        return {wire: results.current(meter)[0] for wire, meter in meters.items()}

    def shorted(self, plus: str, minus: str, folder: Path) -> tuple[float, dict[str, float]]:
        """Current (A) of a short between two nodes, cold, and what each run carries into it."""
        netlist = Netlist()
        meters = self._draw(netlist, COLD, RESTING)
        meter = netlist.add("vfault", plus, minus, "dc", 0)
        results = run(netlist, ".op", folder)
        carried = {wire: results.current(m)[0] for wire, m in meters.items()}
        return results.current(meter)[0], carried

    def _draw(self, netlist: Netlist, ohms: dict[str, float], emf: float) -> dict[str, str]:
        for name, amps in self.packs.items():
            inner = netlist.name("n")
            netlist.add("vemf", inner, f"{name}-negative", "dc", emf)
            netlist.add("r", inner, f"{name}-positive", RESTING / amps)
        netlist.add("r", f"{next(iter(self.packs))}-negative", "0", 1e-6)
        meters = {}
        for r in self.runs:
            start, end = f"{r.start}-{r.pole}", f"{r.end}-{r.pole}"
            own, metered = ohms[r.cable], netlist.name("n")
            if not r.fuse:
                netlist.add("r", start, metered, own * r.metres)
                meters[r.wire] = netlist.add("vrun", metered, end, "dc", 0)
                continue
            before, after = f"{r.wire}-before", f"{r.wire}-after"
            netlist.add("r", start, before, own * r.fuse_at)
            meters[r.wire] = netlist.add("vrun", before, after, "dc", 0)
            netlist.add("r", after, end, own * (r.metres - r.fuse_at))
        return meters


def drawn(seed: int) -> BatterySide:
    """A battery side: two to six packs on one to four bars, rings among them, several ports."""
    dice = Random(seed)
    side = BatterySide(bars=[f"bar-{k}" for k in range(dice.randint(1, 4))])
    for k in range(dice.randint(2, 6)):
        side.packs[f"pack-{k}"] = float(dice.choice((2000, 3000, 5000, 8000)))
    for k in range(dice.randint(1, 3)):
        side.ports[f"load-{k}"] = -float(dice.randint(5, 120))
    for k in range(dice.randint(0, 2)):
        side.ports[f"shore-{k}"] = float(dice.randint(10, 60))
    for k, bar in enumerate(side.bars[1:], start=1):
        _join(side, dice, f"link-{k}", dice.choice(side.bars[:k]), bar)
    for k in range(dice.randint(0, 2) if len(side.bars) > 1 else 0):
        _join(side, dice, f"ring-{k}", *dice.sample(side.bars, 2))
    for name in side.packs:
        _join(side, dice, f"{name}-lead", name, dice.choice(side.bars), fused=True)
        if dice.random() < 0.2:
            _join(side, dice, f"{name}-second", name, dice.choice(side.bars))
    for name in side.ports:
        _join(side, dice, f"{name}-run", name, dice.choice(side.bars))
    return side


def _join(
    side: BatterySide, dice: Random, name: str, start: str, end: str, *, fused: bool = False
) -> None:
    """Both poles between two parts, of one length or not."""
    cable = dice.choice(("batt-8", "batt-2"))
    metres = dice.randint(4, 40) / 10
    back = metres if dice.random() < 0.5 else dice.randint(4, 40) / 10
    fuse = f"{name}-fuse" if fused else ""
    side.runs.append(Run(name, "positive", start, end, cable, metres, fuse, 0.2 if fuse else 0.0))
    side.runs.append(Run(f"{name}-back", "negative", start, end, cable, back))
