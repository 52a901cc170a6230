"""Current-voltage curves of an array, by state and under shade, and where its controller works.

The circuit's tree becomes a tree of cells, conductors and diodes, which one solver takes as it is:
unlike modules, shade, bypass diodes and reverse currents need nothing of their own.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, field

from wattproof.circuit import Conductor, Leaf, Parallel, Passage, Series, Source, Tree, leaves
from wattproof.kept import KeptEach, kept
from wattproof.physics import arrays as solver
from wattproof.physics import elements
from wattproof.physics.arrays import Solution
from wattproof.physics.curve import Curve, Maximum
from wattproof.physics.elements import Element
from wattproof.physics.modules import STANDARD_IRRADIANCE
from wattproof.physics.operating_state import (
    ElementState,
    Path,
    fed_branches_at_open_circuit,
    states_at_open_circuit,
    states_at_voltage,
)
from wattproof.physics.tracking import (
    Limit,
    TiedPoint,
    TrackedPoint,
    Tracker,
    tied_point,
    tracked_point,
)
from wattproof.plan.shade import ShadeCase, Shadow
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy, Chain, Joint
from wattproof.study.array.module_models import Light, ModuleModel
from wattproof.study.array.strings import StringStudy
from wattproof.study.curves.points import Points, sampled
from wattproof.study.curves.window import Window
from wattproof.study.site.states import WORDS, State
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, once

CURVE_STATES: tuple[State, ...] = ("standard", "coldest", "hottest")

WHERE_IT_WORKS = "where the controller works"

Lights = Callable[[Source, int], tuple[Light, ...]]
"""For a source and a module's number in it: the light on each group of its cells."""


@record
class OperatingPoint:
    """Where the controller makes the array work.

    output: current into the battery (A), None of a sealed box, whose battery nobody tells.
    limited_by: what keeps it from the array's maximum.
    """

    voltage: Value
    current: Value
    power: Value
    output: Value | None
    limited_by: Limit
    local_maxima: tuple[Maximum, ...]


@record
class Shaded:
    """An array under a case of shade."""

    curves: CurveStudy
    case: ShadeCase
    state: State
    solution: Solution

    @property
    def name(self) -> str:
        """The case's name."""
        return str(self.case.name)

    @kept
    def power(self) -> Value:
        """The array's greatest power under shade (W)."""
        top = solver.maximum_power(self.solution).power
        words = f"greatest power of the {self.curves.array.name} under {self.name}"
        return self._found(top, f"Pmp({self.name})", words, "W")

    @kept
    def peak_voltage(self) -> Value:
        """The voltage at which the array gives that power (V)."""
        voltage = solver.maximum_power(self.solution).voltage
        words = f"voltage of the {self.curves.array.name} at its best point under {self.name}"
        return self._found(voltage, f"Ump({self.name})", words, "V")

    @kept
    def lost(self) -> Value:
        """Share of the power that the array gives without the shade."""
        _, _, whole = self.curves.maximum(self.state)
        words = f"power lost to {self.name}, as a share"
        return (1.0 - self.power / whole).named(f"loss({self.name})", words, "%")

    @kept
    def light_taken(self) -> Value:
        """Share of the light on all modules, by their power, that the shadows take."""
        taken = self.curves.light_taken(self.case)
        inputs = self.curves.shade_inputs(self.case, self.state)
        words = f"light taken by {self.name}, as a share"
        return function("light taken", taken, *inputs).named(f"taken({self.name})", words, "%")

    @kept
    def lost_apart(self) -> Value:
        """Share of the power that the shade costs if every group of cells worked alone."""
        _, _, whole = self.curves.maximum(self.state)
        apart = self._found(
            solver.power_of_parts(self.solution), "Papart", f"cells apart under {self.name}", "W"
        )
        words = f"power lost to {self.name} with all cells apart, as a share"
        share = 1.0 - apart / whole
        return share.named(f"lossapart({self.name})", words, "%")

    @property
    def maxima(self) -> tuple[Maximum, ...]:
        """Every maximum of power, from low voltage to high."""
        return tuple(solver.maxima(self.solution))

    @property
    def points(self) -> Points:
        """About 200 points of voltage (V) and current (A), as `CurveStudy.points` has them."""
        return sampled(self.solution.curve, self.maxima)

    @kept
    def operating(self) -> OperatingPoint | None:
        """Where the controller works under this shade."""
        inputs = self.curves.shade_inputs(self.case, self.state)
        return self.curves.operating_on(self.solution, self.state, inputs)

    @kept
    def hottest_group(self) -> Value:
        """The most heat (W) that any group of cells takes from the others at the maximum."""
        voltage = solver.maximum_power(self.solution).voltage
        states = self.curves.parts(self.solution, voltage)
        cells = [s.dissipation for s in states if isinstance(s.element, elements.Cells)]
        words = f"heat in the most loaded group of cells under {self.name}"
        return self._found(max(cells, default=0.0), f"Phot({self.name})", words, "W")

    def _found(self, number: float, symbol: str, words: str, unit: str) -> Value:
        inputs = self.curves.shade_inputs(self.case, self.state)
        return function("curve", number, *inputs).named(symbol, words, unit)


@record
class Fed:
    """A string that the others feed with nothing connected: current (A) into it and heat (W)."""

    string: StringStudy
    current: Value
    heat: Value


@dataclass(eq=False)
class CurveStudy:
    """The curves of one array."""

    array: ArrayStudy
    wires: dict[str, WireStudy]
    models: dict[str, ModuleModel]
    window: Window
    _solved: KeptEach[Hashable, Solution] = field(default_factory=KeptEach)

    @property
    def name(self) -> str:
        """The controller that the array feeds."""
        return str(self.array.controller.name)

    @kept
    def drawable(self) -> bool:
        """False where a module's label belongs to no curve, or to none in the cold or the heat."""
        return all(
            self.models[module.name].has_curve_at(string.cells(state).number)
            for string in self.array.all_strings
            for module in set(string.modules)
            for state in CURVE_STATES
        )

    def solution(self, state: State) -> Solution:
        """The array solved in a state, every module in full sun."""
        return self._solved.of(state, lambda: self.solve(self.lights(state)))

    def solve(self, lights: Lights) -> Solution:
        """The array solved with each module in its own light."""
        element = self._element(self.array.tree, lights)
        assert element is not None
        return solver.solve(element)

    def in_light(
        self, tree: Tree, irradiance: float, cells: Callable[[StringStudy], float]
    ) -> Solution:
        """A part of the array solved in some sun (W/m²), its cells (°C) by string.

        Raises ValueError where a label's coefficients leave no curve at that temperature.
        """

        def light(source: Source, number: int) -> tuple[Light, ...]:
            model, string = self._model_of(source, number), self.array.strings[source]
            return (Light(irradiance, cells(string)),) * model.groups

        element = self._element(tree, light)
        assert element is not None
        return solver.solve(element)

    def groups_of(self, string: StringStudy) -> int:
        """Groups of cells in a string, each with a bypass diode where it has any."""
        return sum(self.models[module.name].groups for module in string.modules)

    def curve(self, state: State) -> Curve:
        """Current against voltage at the controller's terminals, from short to open circuit."""
        return self.solution(state).curve

    def maxima(self, state: State) -> tuple[Maximum, ...]:
        """All maxima of power of the curve, from low voltage to high."""
        return tuple(solver.maxima(self.solution(state)))

    def points(self, state: State) -> Points:
        """About 200 points of voltage (V) and current (A), from short to open circuit.

        The maxima of power are among them.
        """
        return sampled(self.curve(state), self.maxima(state))

    def lights(self, state: State) -> Lights:
        """Full sun on every module, its cells as warm as the state has them."""

        def light(source: Source, number: int) -> tuple[Light, ...]:
            cells = self.array.strings[source].cells(state).number
            return self._even(self.models[source.modules[number].name], cells)

        return light

    def maximum(self, state: State) -> tuple[Value, Value, Value]:
        """Voltage (V), current (A) and power (W) of the curve's global maximum."""
        top = solver.maximum_power(self.solution(state))
        return self._point(top, state, "at the curve's maximum", "mp", self._inputs(state))

    def mismatch(self, state: State) -> Value:
        """Power (W) of all cells apart, less what the array gives together."""
        solved = self.solution(state)
        apart = solver.power_of_parts(solved)
        together = solver.maximum_power(solved).power
        words = f"lost to mismatch and wires in the {self.array.name}, {WORDS[state]}"
        inputs = self._inputs(state)
        parts = function("sum of maxima", apart, *inputs).named("Pparts", "cells apart", "W")
        whole = function("maximum of curve", together, *inputs).named("Pwhole", "array", "W")
        return (parts - whole).named(f"Plost({self.name})", words, "W")

    def loss_at(self, joint: Joint) -> Value:
        """Share of power that the common voltage of a joint costs, at standard conditions."""
        parts = [self._element(m, self.lights("standard")) for m in joint.tree.members]
        return self._loss(joint.name, joint.tree, parts)

    def loss_in(self, chain: Chain) -> Value:
        """Share of power that the common current of a chain costs, at standard conditions."""
        lights, whole = self.lights("standard"), chain.whole
        if isinstance(whole, Leaf):
            source = whole.element
            assert isinstance(source, Source)
            parts = self._modules(source, lights)
        else:
            parts = [self._element(member, lights) for member in whole.members]
        return self._loss(chain.name, whole, parts)

    def _loss(self, name: str, whole: Tree, parts: Sequence[Element | None]) -> Value:
        together = self._element(whole, self.lights("standard"))
        assert together is not None
        apart = sum(solver.maximum_power(part).power for part in parts if part is not None)
        inputs = self._inputs("standard")
        joined = function("maximum of curve", solver.maximum_power(together).power, *inputs)
        alone = function("maxima of curves", apart, *inputs)
        share = 1.0 - joined.named(f"P({name})", f"power of {name} together", "W") / alone.named(
            "Papart", f"power of what meets at {name}, each alone", "W"
        )
        return share.named(f"loss({name})", f"lost at {name} by the curves", "%")

    def shaded(self, case: ShadeCase) -> Shaded | None:
        """The array under a case of shade; None where no shadow falls on it."""
        if not any(shadow.string in self._numbered for shadow in case.shadows):
            return None
        state: State = next(s for s in CURVE_STATES if s == case.state)
        shade = ("shade", str(case.name))
        solved = self._solved.of(shade, lambda: self.solve(self._dimmed_by(case, state)))
        return Shaded(self, case, state, solved)

    def _dimmed_by(self, case: ShadeCase, state: State) -> Lights:
        """The light on every module in a case of shade."""
        numbered, even = self._numbered, self.lights(state)
        dimmed: dict[tuple[Source, int], tuple[Light, ...]] = {}
        for shadow in case.shadows:
            modules = numbered.get(shadow.string, [])
            if shadow.module is not None:
                modules = modules[shadow.module - 1 : shadow.module]
            for source, number in modules:
                lights = dimmed.get((source, number)) or even(source, number)
                dimmed[source, number] = _dimmed(lights, shadow)

        def light(source: Source, number: int) -> tuple[Light, ...]:
            return dimmed.get((source, number)) or even(source, number)

        return light

    @kept
    def shades(self) -> tuple[Shaded, ...]:
        """The array under each case of shade that falls on it, in the plan's order."""
        found = (self.shaded(case) for case in self.array.plan.shade.values())
        return tuple(shaded for shaded in found if shaded is not None)

    def light_taken(self, case: ShadeCase) -> float:
        """Share of the light on all modules, by their power, that a case of shade takes."""
        left = {key: [1.0] * self._model_of(*key).groups for key in self._all_modules}
        for shadow in case.shadows:
            modules = self._numbered.get(shadow.string, [])
            if shadow.module is not None:
                modules = modules[shadow.module - 1 : shadow.module]
            for key in modules:
                shaded = min(int(shadow.groups or len(left[key])), len(left[key]))
                left[key][:shaded] = [part * shadow.light.value for part in left[key][:shaded]]
        powers = {key: self._label_power(*key) for key in left}
        kept = sum(powers[key] * sum(parts) / len(parts) for key, parts in left.items())
        return 1.0 - kept / sum(powers.values())

    def operating(self, state: State) -> OperatingPoint | None:
        """Where the controller works; None where its battery's voltage is not known."""
        return self.operating_on(self.solution(state), state, self._inputs(state))

    def operating_on(
        self, solved: Solution, state: State, drawn_from: list[Value]
    ) -> OperatingPoint | None:
        """Where the controller works on a solved array. drawn_from: what led to that."""
        charge = self.window.charge_voltage
        if not self.works:
            return None
        point = self.point_on(solved, charge)
        inputs = [*drawn_from, *self.held_to]
        if isinstance(point, TiedPoint):
            assert charge is not None
            return self._tied(point, state, inputs)
        return self._tracked(point, state, charge, inputs)

    @property
    def works(self) -> bool:
        """False where nobody can say where the controller works: its battery is not told."""
        return self.array.controller.sealed or self.window.charge_voltage is not None

    @kept
    def held_to(self) -> list[Value]:
        """What the controller holds its array to: the battery, and limits of its own."""
        controller, charge = self.array.controller, self.window.charge_voltage
        battery = [] if charge is None else [charge]
        if controller.kind == "pwm":
            return battery
        limits = (
            (controller.limited_to or controller.max_output_current, "Iout", "output current"),
            (controller.max_input_power, "Pmax", "most input power"),
            (controller.usable_input_current, "Iuse", "most current that it uses"),
        )
        told = [
            declared(written, f"{symbol}({self.name})", f"{words} of {self.name}")
            for written, symbol, words in limits
            if written is not None
        ]
        window = [self.array.input_limit, *([self.window.needed] if self.window.needed else [])]
        return [*battery, *told, *window]

    def point_on(self, solved: Solution, battery: Value | None) -> TrackedPoint | TiedPoint:
        """Where the controller works on a solved array, its battery at a voltage (V).

        None for the battery of a sealed box.
        """
        controller = self.array.controller
        charge = battery.number if battery is not None else None
        if controller.kind == "pwm":
            assert charge is not None
            return tied_point(solved.curve, charge, 0.0)
        output = controller.limited_to or controller.max_output_current
        limit = output.value if output is not None else math.inf  # of a box only watts are told
        most = controller.max_input_power.value if controller.max_input_power else math.inf
        usable = controller.usable_input_current
        needed = self.window.needed
        lowest = needed.number if needed is not None else 0.0
        highest = max(controller.input_limit.value, lowest)
        tracker = Tracker(
            lowest,
            highest,
            output_current_limit=limit,
            power_limit=most,
            input_current_limit=usable.value if usable is not None else math.inf,
        )
        return tracked_point(solved.curve, tracker, charge)

    def lost_to_voltage(self, state: State) -> Value | None:
        """Share of what could flow into the battery that too little voltage keeps back.

        Of a tracker: of the greatest power, what lies below its window. Of a pulse-width
        controller: of the current into a battery at its nominal voltage, what is missing at the
        charge voltage. None where that voltage is not known, or where there is nothing to lose.
        """
        window, solved = self.window, self.solution(state)
        charge, needed = window.charge_voltage, window.needed
        words = f"share that {self.name} does not get for want of voltage, {WORDS[state]}"
        if self.array.controller.kind == "pwm":
            if charge is None or window.bank is None:
                return None
            rest = window.bank.nominal
            most = tied_point(solved.curve, rest.number, 0.0).current
            left = tied_point(solved.curve, charge.number, 0.0).current
            inputs = (*self._inputs(state), charge, rest)
        else:
            if needed is None:
                return None
            window_alone = Tracker(needed.number, math.inf)
            point = tracked_point(solved.curve, window_alone, needed.number)
            most, left = point.available_power, point.power
            inputs = (*self._inputs(state), needed)
        if not most > 0.0:
            return None
        lost = function("curve", 1.0 - left / most, *inputs)
        return lost.named(f"lost({self.name})", words, "%")

    def string_currents(self, state: State, voltage: Value) -> list[tuple[str, Value]]:
        """Current (A) of each string with a voltage (V) at the controller's terminals."""
        strings = dict(self._string_paths(self.array.tree, ()))
        lengths = {len(path) for path in strings}
        inputs = self._inputs(state)
        found: dict[str, Value] = {}
        for part in states_at_voltage(self.solution(state), voltage.number):
            for length in lengths:
                name = strings.get(part.path[:length])
                if name is not None and name not in found:
                    words = f"current of {name} {WHERE_IT_WORKS}, {WORDS[state]}"
                    value = function("curve", part.current, voltage, *inputs)
                    found[name] = value.named(f"I({name})", words, "A")
        return list(found.items())

    def parts(self, solved: Solution, voltage: float) -> list[ElementState]:
        """Voltage, current and dissipation of every group of cells at a voltage (V)."""
        return states_at_voltage(solved, voltage)

    def reverse_at_open_circuit(self, state: State) -> Value | None:
        """Largest current (A) fed into a branch with nothing connected; None where none is."""
        fed = fed_branches_at_open_circuit(self.solution(state))
        if not fed:
            return None
        worst = max(branch.reverse_current for branch in fed)
        words = f"fed into a weak branch of the {self.array.name} at open circuit, {WORDS[state]}"
        return function("curve", worst, *self._inputs(state)).named("Ifed", words, "A")

    def fed_at_rest(self, state: State) -> tuple[Fed, ...]:
        """Strings that the others feed with nothing connected to the array."""
        if not fed_branches_at_open_circuit(self.solution(state)):
            return ()
        cells = [
            part
            for part in states_at_open_circuit(self.solution(state))
            if isinstance(part.element, elements.Cells)
        ]
        paths = list(self._string_paths(self.array.tree, ()))
        inputs = self._inputs(state)
        found = []
        for path, name in paths:
            own = [part for part in cells if part.path[: len(path)] == path]
            if own[0].current >= 0.0:
                continue
            string = next(s for s in self.array.all_strings if s.name == name)
            amps = function("curve", -own[0].current, *inputs)
            watts = function("curve", sum(part.dissipation for part in own), *inputs)
            words = f"{name} at open circuit, {WORDS[state]}"
            found.append(
                Fed(
                    string,
                    amps.named(f"Ifed({name})", f"current into {words}", "A"),
                    watts.named(f"Pfed({name})", f"heat in {words}", "W"),
                )
            )
        return tuple(found)

    @kept
    def _numbered(self) -> dict[str, list[tuple[Source, int]]]:
        """The modules of each string of the plan, from its negative lead."""
        numbered: dict[str, list[tuple[Source, int]]] = {}
        for string in self.array.all_strings:
            source = string.source
            modules = numbered.setdefault(str(source.string.name), [])
            modules += [(source, number) for number in range(len(source.modules))]
        return numbered

    @property
    def _all_modules(self) -> list[tuple[Source, int]]:
        return [key for keys in self._numbered.values() for key in keys]

    def _model_of(self, source: Source, number: int) -> ModuleModel:
        return self.models[source.modules[number].name]

    def _label_power(self, source: Source, number: int) -> float:
        return self.array.strings[source].modules[number].pmax.number

    def _string_paths(self, tree: Tree, path: Path) -> Iterator[tuple[Path, str]]:
        """The way to each string in the solved tree, where closed devices do not stand."""
        if isinstance(tree, Leaf):
            if isinstance(tree.element, Source):
                yield path, self.array.strings[tree.element].name
            return
        for number, member in enumerate(m for m in tree.members if _has_physics(m)):
            yield from self._string_paths(member, (*path, number))

    def _even(self, model: ModuleModel, cells: float) -> tuple[Light, ...]:
        return (Light(STANDARD_IRRADIANCE, cells),) * model.groups

    def _inputs(self, state: State) -> list[Value]:
        """What the curve of the array is drawn from."""
        cells = [string.cells(state) for string in self.array.all_strings]
        return [*self.drawn_from, *once(cells)]

    @kept
    def drawn_from(self) -> list[Value]:
        """What a curve is drawn from, beside light and warmth: labels, strings, wires."""
        found: list[Value] = []
        for leaf in leaves(self.array.tree):
            if isinstance(leaf.element, Source):
                found += self.array.strings[leaf.element].drawn_from
            elif isinstance(leaf.element, Conductor):
                found.append(self.wires[leaf.element.name].resistance)
        return once(found)

    def shade_inputs(self, case: ShadeCase, state: State) -> list[Value]:
        """What a curve under shade is drawn from."""
        shadows = [
            declared(shadow.light, "G/Gstc", f"light left on {shadow.string}")
            for shadow in case.shadows
        ]
        return [*self._inputs(state), *shadows]

    def _point(
        self, point: Maximum, state: State, words: str, mark: str, inputs: list[Value]
    ) -> tuple[Value, Value, Value]:
        where = f"{words} of the {self.array.name}, {WORDS[state]}"

        def made(number: float, symbol: str, what: str, unit: str) -> Value:
            symbol = f"{symbol}{mark}({self.name})"
            return function("curve", number, *inputs).named(symbol, f"{what} {where}", unit)

        return (
            made(point.voltage, "V", "voltage", "V"),
            made(point.current, "I", "current", "A"),
            made(point.power, "P", "power", "W"),
        )

    def _tracked(
        self, point: TrackedPoint, state: State, charge: Value | None, inputs: list[Value]
    ) -> OperatingPoint:
        at = Maximum(point.voltage, point.current, point.power)
        voltage, current, power = self._point(at, state, WHERE_IT_WORKS, "op", inputs)
        words = f"current that {self.name} gives its battery, {WORDS[state]}"
        output = None
        if charge is not None:
            output = (power / charge).named(f"Iout({self.name})", words, "A")
        return OperatingPoint(voltage, current, power, output, point.limited_by, point.local_maxima)

    def _tied(self, point: TiedPoint, state: State, inputs: list[Value]) -> OperatingPoint:
        at = Maximum(point.voltage, point.current, point.power)
        voltage, current, power = self._point(at, state, WHERE_IT_WORKS, "op", inputs)
        limit: Limit = "none" if point.current > 0 else "no operation"
        return OperatingPoint(voltage, current, power, current, limit, ())

    def _element(self, tree: Tree, lights: Lights) -> Element | None:
        """The physics of a part of the circuit; None for closed devices, which have none."""
        if isinstance(tree, Leaf):
            return self._leaf(tree, lights)
        members = [e for m in tree.members if (e := self._element(m, lights)) is not None]
        if not members:
            return None
        if isinstance(tree, Parallel):
            return elements.Parallel(tuple(members))
        assert isinstance(tree, Series)
        return elements.Series(tuple(members))

    def _leaf(self, leaf: Leaf, lights: Lights) -> Element | None:
        if isinstance(leaf.element, Conductor):
            return elements.Resistance(self._resistance(leaf.element))
        if not isinstance(leaf.element, Source):
            return None
        source = leaf.element
        parts = tuple(m for m in self._modules(source, lights) if m is not None)
        blocking = source.string.blocking_diode
        if blocking is not None:
            parts = (*parts, elements.Blocking(blocking.value))
        return elements.Series(parts)

    def _modules(self, source: Source, lights: Lights) -> list[Element | None]:
        """The modules of a string, each in its light."""
        return [
            self.models[sheet.name].element(lights(source, number))
            for number, sheet in enumerate(source.modules)
        ]

    def _resistance(self, conductor: Conductor) -> float:
        """Resistance (Ω) of one part of one pole of a wire."""
        wire = self.wires[conductor.name]
        length = conductor.length
        if length is None:  # stretches of unknown length share what the known ones leave
            parts = [c for c in wire.conductors if c.pole == conductor.pole]
            known = sum(c.length for c in parts if c.length is not None)
            length = (wire.length.number - known) / sum(c.length is None for c in parts)
        return wire.resistance.number * length / wire.length.number


def _has_physics(tree: Tree) -> bool:
    """False for closed devices, which are left out of the solved tree."""
    return any(not isinstance(leaf.element, Passage) for leaf in leaves(tree))


def _dimmed(lights: tuple[Light, ...], shadow: Shadow) -> tuple[Light, ...]:
    """The light on a module's groups with a shadow on the first of them, or on all."""
    shaded = min(int(shadow.groups or len(lights)), len(lights))
    left = shadow.light.value
    dim = tuple(Light(light.irradiance * left, light.cells) for light in lights[:shaded])
    return (*dim, *lights[shaded:])
