"""From the text of a plan to the current of each string, against ngspice.

Each case is one sketch, written twice: as a plan, and as a netlist drawn node by node. The netlist
knows nothing of plans, circuits or studies; it has the labels' diodes as the physics fits them
(compared with pvlib in `test_pvlib_modules.py`), cells as warm as King's model has them (compared
in `test_pvlib_cell_temperature.py`), and wires by NEC 2023, chapter 9, table 8. So what is compared
is all that lies between: reader, short forms, circuit, light and temperature by state, resistance
of each pole, and the solver.

Power agrees within 0.5 %. The current of the array and of each string agrees within 1 % (of the
larger of it and a tenth of the array's short-circuit current) at the maximum, below it, above it
and at open circuit; the reverse current into a weak string within 1 % of itself. `pytest -s` shows
the table.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest

from external.spice import Netlist, run
from plans import array_plan, edited
from wattproof.circuit import Source, leaves
from wattproof.physics.arrays import Solution, maximum_power, voltage
from wattproof.physics.cell_temperature import cell_temperature
from wattproof.physics.conditions import Module, at_conditions, module
from wattproof.physics.curve import current_at
from wattproof.physics.elements import Cells
from wattproof.physics.extraction import Datasheet, fit
from wattproof.physics.single_diode import share
from wattproof.study.array.module_models import Light
from wattproof.study.curves.curves import CurveStudy
from wattproof.study.site.states import State
from wattproof.testing import study_of

STEPS = 800
POWER_WITHIN = 5e-3
CURRENT_WITHIN = 1e-2

OHM_PER_METRE = 1.29 / 304.8
"""10 AWG, stranded coated copper at 75 °C, as photovoltaic cable has: NEC 2023, chapter 9, table 8,
1.29 ohm per 1000 ft."""

CELLS: dict[State, float] = {
    "standard": 25.0,
    "coldest": -18.0,
    "hottest": cell_temperature(40.0, 1000.0, "roof-gap"),
}
"""Cell temperatures (°C) of the base plan: coldest air, and a roof in the hottest air."""

BYPASS_DROP = 0.5  # V, a Schottky diode at some amperes
AT = 5.0  # A at which the netlist's diodes have their drop

Shade = dict[tuple[str, int], float]
"""Irradiance (W/m²) on a module of a source, where it is not full sun."""


@dataclass(frozen=True)
class Label:
    """A module's label; coefficients in %/°C."""

    name: str
    voc: float
    isc: float
    vmp: float
    imp: float
    voc_coefficient: float
    isc_coefficient: float
    pmax_coefficient: float
    cells: int
    groups: int

    def __str__(self) -> str:
        return (
            f"    {self.name}: {{voc: {self.voc} V, isc: {self.isc} A, vmp: {self.vmp} V, "
            f"imp: {self.imp} A, voc_coefficient: {self.voc_coefficient} %/°C, "
            f"isc_coefficient: {self.isc_coefficient} %/°C, "
            f"pmax_coefficient: {self.pmax_coefficient} %/°C, cells_in_series: {self.cells}, "
            f"bypass_diodes: {self.groups}}}\n"
        )


RIGID = Label("rigid", 24.3, 5.2, 20.4, 4.9, -0.29, 0.05, -0.36, 36, 2)
BROAD = Label("broad", 22.8, 10.3, 18.9, 9.7, -0.27, 0.045, -0.35, 36, 3)
FOLDING = Label("folding", 28.6, 5.4, 23.9, 5.02, -0.30, 0.05, -0.38, 44, 0)


@cache
def _fitted(label: Label) -> Module:
    sheet = Datasheet(
        label.voc,
        label.isc,
        label.vmp,
        label.imp,
        label.cells,
        label.voc * label.voc_coefficient / 100.0,
        label.isc * label.isc_coefficient / 100.0,
        label.pmax_coefficient / 100.0,
    )
    return module(fit(sheet), sheet)


@dataclass
class Drawing:
    """A netlist drawn between the node of the controller's positive, `out`, and its negative, 0.

    meters: for each string the source of no voltage that its current leaves it by.
    """

    cells: float
    shade: Shade
    netlist: Netlist = field(default_factory=Netlist)
    meters: dict[str, str] = field(default_factory=dict)

    def wire(self, start: str, end: str, metres: float) -> None:
        """One pole of a wire."""
        self.netlist.add("r", start, end, repr(OHM_PER_METRE * metres))

    def string(
        self,
        name: str,
        labels: list[Label],
        negative: str,
        positive: str,
        blocking: float | None = None,
    ) -> None:
        """Modules in series, at the positive end a meter and a blocking diode where it has one."""
        low = negative
        for number, label in enumerate(labels):
            sun = self.shade.get((name, number), 1000.0)
            low = self._module(label, sun, low)
        end = positive if blocking is None else self.netlist.name("n")
        self.meters[name] = self.netlist.add("vmeter", low, end, "dc", 0)
        if blocking is not None:
            self.netlist.rectifier(end, positive, blocking, AT)

    def _module(self, label: Label, sun: float, low: str) -> str:
        """A module above the node `low`; the node at its positive end."""
        whole = at_conditions(_fitted(label), self.cells, sun)
        for _ in range(label.groups or 1):
            high = self.netlist.name("n")
            self.netlist.cells(share(whole, 1.0 / (label.groups or 1)), high, low)
            if label.groups:
                self.netlist.rectifier(low, high, BYPASS_DROP, AT)
            low = high
        return low


@dataclass(frozen=True)
class Case:
    """A sketch: as a plan, and as a drawing."""

    text: str
    draw: Callable[[Drawing], None]
    shade: Shade = field(default_factory=dict)


def _plan(strings: str, wires: str, combiners: str = "") -> str:
    sheets = f"{RIGID}{BROAD}{FOLDING}"
    return edited(
        ("  modules:\n", f"  modules:\n{sheets}"), plan=array_plan(strings, wires, combiners)
    )


def _string(name: str, rest: str) -> str:
    return f"  {name}: {{{rest}, mounting: roof-gap}}\n"


def _wire(name: str, start: str, end: str, metres: float) -> str:
    return f"  {name}: {{from: {start}, to: {end}, cable: pv-10, length: {metres:g} m}}\n"


HOME = _wire("home", "joint", "tracker.pv", 6)


def _home(drawing: Drawing) -> None:
    """Both poles of the wire from the joint, whose nodes are `jp` and `jm`."""
    drawing.wire("jp", "out", 6)
    drawing.wire("jm", "0", 6)


def _with_leads(strings: dict[str, tuple[list[Label], float]], blocking: str = "") -> Case:
    """Strings, each with a lead to the joint (m); `blocking` names those with a diode."""

    def draw(drawing: Drawing) -> None:
        for name, (labels, metres) in strings.items():
            drop = 0.5 if name in blocking.split() else None
            drawing.string(name, labels, f"{name}m", f"{name}p", drop)
            drawing.wire(f"{name}p", "jp", metres)
            drawing.wire(f"{name}m", "jm", metres)
        _home(drawing)

    written = leads = ""
    for name, (labels, metres) in strings.items():
        modules = f"modules: [{', '.join(label.name for label in labels)}]"
        diode = ", blocking_diode: 0.5 V" if name in blocking.split() else ""
        written += _string(name, modules + diode)
        leads += _wire(f"{name}-lead", name, "joint", metres)
    return Case(_plan(written, leads + HOME, "  joint: {rating: 60 A}\n"), draw)


def _four_in_series(names: tuple[str, str]) -> Callable[[Drawing], None]:
    def draw(drawing: Drawing) -> None:
        for name in names:
            drawing.string(name, [RIGID] * 4, "jm", "jp")
        _home(drawing)

    return draw


def _four_in_parallel(prefix: str, link: float) -> Callable[[Drawing], None]:
    """Modules 1 to 4 below, 5 to 8 above; between them a wire of `link` metres, or none."""

    def draw(drawing: Drawing) -> None:
        upper = "upper" if link else "lower"
        for number in range(1, 9):
            ends = ("jm", "lower") if number <= 4 else (upper, "jp")
            drawing.string(f"{prefix}{number}", [RIGID], *ends)
        if link:
            drawing.wire("lower", "upper", link)
        _home(drawing)

    return draw


SHORT_4S2P = _plan(_string("joint", "module: rigid, arrangement: 4s2p"), HOME)
SHORT_4P2S = _plan(_string("joint", "module: rigid, arrangement: 4p2s"), HOME)
LONG_4S2P = _plan(
    _string("east", "module: rigid, series: 4") + _string("west", "module: rigid, series: 4"),
    HOME,
    "  joint: {joins: [east, west]}\n",
)
LONG_4P2S = _plan(
    "".join(_string(f"m{number}", "module: rigid") for number in range(1, 9)),
    _wire("link", "low.positive", "high.negative", 2)
    + _wire("plus", "high.positive", "tracker.pv.positive", 6)
    + _wire("minus", "low.negative", "tracker.pv.negative", 6),
    "  low: {joins: [m1, m2, m3, m4]}\n  high: {joins: [m5, m6, m7, m8]}\n",
)

PAIR = _string("left", "module: folding") + _string("right", "module: folding")
PAIR_IN_SERIES = _plan(
    PAIR,
    _wire("link", "left.negative", "right.positive", 1)
    + _wire("plus", "left.positive", "tracker.pv.positive", 6)
    + _wire("minus", "right.negative", "tracker.pv.negative", 6),
)
PAIR_IN_PARALLEL = _plan(PAIR, HOME, "  joint: {joins: [left, right], kind: branch-connector}\n")


def _pair_in_series(drawing: Drawing) -> None:
    drawing.wire("0", "rm", 6)
    drawing.string("right", [FOLDING], "rm", "rp")
    drawing.wire("rp", "lm", 1)
    drawing.string("left", [FOLDING], "lm", "lp")
    drawing.wire("lp", "out", 6)


def _pair_in_parallel(drawing: Drawing) -> None:
    for name in ("left", "right"):
        drawing.string(name, [FOLDING], "jm", "jp")
    _home(drawing)


DEVICES = edited(
    (
        "fuses:\n",
        "switches:\n  off: {rating: 30 A, poles: 2, voltage: 200 V}\n"
        "fuses:\n  fore-fuse: {rating: 10 A}\n  aft-fuse: {rating: 15 A}\n"
        "  spare-fuse: {rating: 15 A}\n",
    ),
    plan=_plan(
        _string("fore", "module: rigid, series: 2") + _string("aft", "module: broad, series: 2"),
        "  fore-lead: {from: fore, to: joint, cable: pv-10, length: 3 m, inline: [fore-fuse]}\n"
        "  aft-lead: {from: aft, to: joint, cable: pv-10, length: 9 m,\n"
        "             inline: [{aft-fuse: {from_end: from, distance: 1 m}}, spare-fuse]}\n"
        "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 12 m, parallel: 2,\n"
        "         inline: [off]}\n",
        "  joint: {rating: 30 A}\n",
    ),
)
"""Leads of 3 and 9 m, and two conductors of 12 m in parallel; devices in them add nothing."""


def _unlike_strings(drawing: Drawing) -> None:
    for name, label, metres in (("fore", RIGID, 3.0), ("aft", BROAD, 9.0)):
        drawing.string(name, [label] * 2, f"{name}m", f"{name}p")
        drawing.wire(f"{name}p", "jp", metres)
        drawing.wire(f"{name}m", "jm", metres)
    _home(drawing)


FOUR = [RIGID] * 4
WEAK = {"sound": (FOUR, 2.0), "alike": (FOUR, 5.0), "weak": ([RIGID] * 3, 3.0)}
HALF = {("right", 0): 500.0}

CASES: dict[str, Case] = {
    "unlike strings with leads": _with_leads(
        {"fore": ([RIGID] * 2, 3.0), "aft": ([BROAD] * 2, 9.0)}
    ),
    "unlike strings, fuses in their leads": Case(DEVICES, _unlike_strings),
    "a mixed string beside a plain one": _with_leads(
        {"mixed": ([RIGID, BROAD, RIGID], 4.0), "plain": ([RIGID] * 3, 4.0)}
    ),
    "4s2p, short form": Case(SHORT_4S2P, _four_in_series(("joint-1", "joint-2"))),
    "4s2p, long form": Case(LONG_4S2P, _four_in_series(("east", "west"))),
    "4s2p, one module shaded": Case(
        LONG_4S2P, _four_in_series(("east", "west")), {("west", 2): 200.0}
    ),
    "4p2s, short form": Case(SHORT_4P2S, _four_in_parallel("joint-", 0.0)),
    "4p2s, long form": Case(LONG_4P2S, _four_in_parallel("m", 2.0)),
    "4p2s, one module shaded": Case(LONG_4P2S, _four_in_parallel("m", 2.0), {("m3", 0): 200.0}),
    "folding pair in series": Case(PAIR_IN_SERIES, _pair_in_series),
    "folding pair in series, one turned away": Case(PAIR_IN_SERIES, _pair_in_series, HALF),
    "folding pair in parallel": Case(PAIR_IN_PARALLEL, _pair_in_parallel),
    "folding pair in parallel, one turned away": Case(PAIR_IN_PARALLEL, _pair_in_parallel, HALF),
    "weak string": _with_leads(WEAK),
    "weak string, blocking diodes": _with_leads(WEAK, "sound alike weak"),
    "weak string, its own blocking diode": _with_leads(WEAK, "weak"),
}


@dataclass(frozen=True)
class Swept:
    """By ngspice, from short to open circuit: voltages (V), currents (A), those of each string."""

    voltages: list[float]
    currents: list[float]
    strings: dict[str, list[float]]

    @property
    def top(self) -> int:
        """The step of the greatest power."""
        return max(range(len(self.voltages)), key=lambda k: self.voltages[k] * self.currents[k])


def _swept(case: Case, state: State, last: float, folder: Path) -> Swept:
    """Sweep the drawing from no voltage to `last` (V); downwards, where ngspice converges."""
    drawing = Drawing(CELLS[state], case.shade)
    case.draw(drawing)
    drawing.netlist.lines.append("vterminal out 0 dc 0")
    sweep = f".dc vterminal {last!r} {-1e-9 * last!r} {-last / STEPS!r}"
    results = run(drawing.netlist, sweep, folder)
    return Swept(
        results.values["v(out)"][::-1],
        results.current("vterminal")[::-1],
        {name: results.current(meter)[::-1] for name, meter in drawing.meters.items()},
    )


def _curves(case: Case) -> CurveStudy:
    [curves] = study_of(case.text).curves.curves
    return curves


def _solution(case: Case, curves: CurveStudy, state: State) -> Solution:
    """The study's array in full sun, or in the case's shade."""
    if not case.shade:
        return curves.solution(state)

    def lights(source: Source, number: int) -> tuple[Light, ...]:
        sun = case.shade.get((source.name, number), 1000.0)
        return (Light(sun, CELLS[state]),) * curves.models[source.modules[number].name].groups

    return curves.solve(lights)


def _string_currents(curves: CurveStudy, solved: Solution, at: float) -> dict[str, float]:
    """The study's current of each string: of its cells, which come in the order of the circuit."""
    cells = iter([part for part in curves.parts(solved, at) if isinstance(part.element, Cells)])
    found: dict[str, float] = {}
    for leaf in leaves(curves.array.tree):
        if isinstance(leaf.element, Source):
            groups = sum(curves.models[sheet.name].groups for sheet in leaf.element.modules)
            own = [next(cells).current for _ in range(groups)]
            assert own == pytest.approx([own[0]] * groups)
            found[leaf.element.name] = own[0]
    assert next(cells, None) is None
    return found


@pytest.fixture(scope="module")
def rows() -> Iterator[list[str]]:
    """Lines of the table of agreement, printed when all are there."""
    found: list[str] = []
    yield found
    titles = f"{'plan':42s} {'state':9s} {'ours, W':>9s} {'ngspice, W':>10s} {'power':>9s} currents"
    print("\n\n" + "\n".join([titles, *found]))


@pytest.mark.parametrize("state", ["standard", "coldest", "hottest"])
@pytest.mark.parametrize("name", CASES)
def test_power_and_the_current_of_each_string(
    name: str, state: State, rows: list[str], tmp_path: Path
) -> None:
    case = CASES[name]
    curves = _curves(case)
    solved = _solution(case, curves, state)
    swept = _swept(case, state, voltage(solved, 0.0), tmp_path)
    top = swept.top
    ours, theirs = maximum_power(solved).power, swept.voltages[top] * swept.currents[top]
    worst = 0.0
    for step in (top // 2, int(0.9 * top), top, (top + STEPS) // 2, STEPS):
        at = swept.voltages[step]
        mine = _string_currents(curves, solved, at)
        pairs = [(current_at(solved.curve, at), swept.currents[step])]
        pairs += [(mine[string], currents[step]) for string, currents in swept.strings.items()]
        assert mine.keys() == swept.strings.keys()
        for one, other in pairs:
            worst = max(worst, abs(one - other) / max(abs(other), 0.1 * swept.currents[0]))
    rows.append(
        f"{name:42s} {state:9s} {ours:9.3f} {theirs:10.3f} {100 * (ours / theirs - 1):+8.4f}% "
        f"{100 * worst:7.4f}%"
    )
    assert ours == pytest.approx(theirs, rel=POWER_WITHIN)
    assert worst < CURRENT_WITHIN
    if not case.shade:
        assert curves.maximum(state)[2].number == pytest.approx(theirs, rel=POWER_WITHIN)


@pytest.mark.parametrize("state", ["standard", "coldest", "hottest"])
@pytest.mark.parametrize("name", [name for name in CASES if name.startswith("weak")])
def test_reverse_current_at_open_circuit(
    name: str, state: State, rows: list[str], tmp_path: Path
) -> None:
    """What the two sound strings push into the weak one; nothing where a diode blocks it."""
    curves = _curves(CASES[name])
    fed = curves.reverse_at_open_circuit(state)
    swept = _swept(CASES[name], state, voltage(curves.solution(state), 0.0), tmp_path)
    theirs = -swept.strings["weak"][-1]
    ours = 0.0 if fed is None else fed.number
    rows.append(f"{name:42s} {state:9s} {ours:9.4f} {theirs:10.4f}  A, fed at open circuit")
    if "diode" in name:
        assert fed is None
        assert abs(theirs) < 1e-6
    else:
        assert theirs > 1.0
        assert ours == pytest.approx(theirs, rel=CURRENT_WITHIN)
