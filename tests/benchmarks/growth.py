"""Time of each step from a plan to its findings, curve and diagram, by the number of modules.

    PYTHONPATH=tests python tests/benchmarks/growth.py [profile]

Each plan has strings of two modules, each with its fuse and its own lead to one joint, no two leads
alike, so that strings, wires and devices grow with the modules and no string is solved for another.
`growth` compares the time for one module with that in the plan before: 1 is linear, 10 quadratic.
`profile` lists the functions that the largest plan spends its time in.
"""

from __future__ import annotations

import cProfile
import gc
import pstats
import sys
import time
from collections.abc import Callable

from plans import array_plan, edited
from wattproof.circuit import Circuit, build_circuit
from wattproof.engine import check
from wattproof.packs import discover
from wattproof.physics.arrays import _group_curve
from wattproof.plan import load_plan
from wattproof.plan.root import Plan
from wattproof.reports.one_line import svg as one_line_svg
from wattproof.study import Study
from wattproof.testing import A_DAY
from wattproof.views.figures import figures_of
from wattproof.views.one_line.view import one_line

SIZES = (10, 100, 1_000)
REPEATED = 100  # modules up to which the steps are taken three times, for the shortest
SHOWN = 25  # functions of a profile


def plan_text(modules: int) -> str:
    """A plan of so many modules, two in a string."""
    strings = leads = fuses = ""
    for n in range(1, modules // 2 + 1):
        strings += f"  s{n}: {{module: rigid-100, series: 2, mounting: roof-gap}}\n"
        leads += f"  lead-{n}: {{from: s{n}, to: joint, cable: pv-10, length: {1 + n / 100:g} m, "
        leads += f"inline: [f{n}]}}\n"
        fuses += f"  f{n}: {{rating: 10 A, voltage: 100 V, style: gpv, dc: true}}\n"
    home = "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"
    text = array_plan(strings, leads + home, "  joint: {rating: 30 A}\n")
    return edited(("\nfuses:\n", f"\nfuses:\n{fuses}"), plan=text)


def text_of_loads(loads: int) -> str:
    """A plan of so many loads, each with its fuse and its own wire from one bar."""
    wires = fuses = consumers = ""
    for n in range(1, loads + 1):
        wires += (
            f"  feed-{n}: {{from: bar, to: lamp-{n}, cable: batt-8, length: {1 + n / 100:g} m, "
        )
        wires += f"inline: [f{n}]}}\n"
        fuses += f"  f{n}: {{rating: 10 A, voltage: 58 V, style: bolt-down, dc: true}}\n"
        consumers += f"  lamp-{n}: {{current: {0.1 + n / 10_000:g} A}}\n"
    bar = "  main: {from: house, to: bar, cable: batt-8, length: 1 m, inline: [main-fuse]}\n"
    fuses += "  main-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down, dc: true}\n"
    return edited(
        ("\nfuses:\n", f"\nbusbars:\n  bar: {{rating: 100 A}}\nloads:\n{consumers}fuses:\n{fuses}"),
        ("\nwires:\n", f"\nwires:\n{bar}{wires}"),
    )


class Steps:
    """The steps of one plan in their order; each uses what the ones before have made."""

    plan: Plan
    circuit: Circuit
    study: Study

    def __init__(self, modules: int) -> None:
        self.text = plan_text(modules)
        self.rules = discover()
        self.all: dict[str, Callable[[], object]] = {
            "load": self._load,
            "circuit": self._circuit,
            "study": self._study,
            "check": self._check,
            "curve": self._curve,
            "diagram": self._diagram,
        }

    def _load(self) -> None:
        self.plan = load_plan("plan.yaml", text=self.text)

    def _circuit(self) -> None:
        self.circuit = build_circuit(self.plan)

    def _study(self) -> None:
        """Every figure, on a study that nothing has been asked of yet."""
        self.study = Study(self.circuit)
        for _ in figures_of(self.study):
            pass

    def _check(self) -> None:
        """Every rule, on a study of its own."""
        check(Study(self.circuit), self.rules, file="plan.yaml", today=A_DAY)

    def _curve(self) -> None:
        """The curve at standard test conditions, its maximum, and what flows at open circuit."""
        _group_curve.cache_clear()
        for curves in Study(self.circuit).curves.curves:
            curves.maximum("standard")
            curves.reverse_at_open_circuit("standard")

    def _diagram(self) -> None:
        """The one-line diagram without findings."""
        one_line_svg.render(one_line(Study(self.circuit), "standard"))


def times(modules: int) -> dict[str, float]:
    """Time (s) of each step."""
    steps = Steps(modules)
    found: dict[str, float] = {}
    for _ in range(3 if modules <= REPEATED else 1):
        for name, step in steps.all.items():
            gc.collect()
            start = time.perf_counter()
            step()
            seconds = time.perf_counter() - start
            found[name] = min(seconds, found.get(name, seconds))
    found["all"] = sum(found.values())
    return found


def print_table() -> None:
    before: dict[str, float] = {}
    print(f"{'modules':>8s} {'step':8s} {'time':>12s} {'a module':>12s} {'growth':>7s}")
    for modules in SIZES:
        for name, seconds in times(modules).items():
            each = seconds / modules
            growth = f"{each / before[name]:7.2f}" if name in before else ""
            line = f"{modules:8,d} {name:8s} {1e3 * seconds:9.1f} ms {1e6 * each:9.1f} µs {growth}"
            print(line.rstrip(), flush=True)
            before[name] = each


def print_profile() -> None:
    steps = Steps(SIZES[-1])
    for name, step in steps.all.items():
        profile = cProfile.Profile()
        profile.runcall(step)
        print(f"\n{name}, {SIZES[-1]:,} modules")
        pstats.Stats(profile).sort_stats("tottime").print_stats(SHOWN)


if __name__ == "__main__":
    if sys.argv[1:] == ["profile"]:
        print_profile()
    else:
        print_table()
