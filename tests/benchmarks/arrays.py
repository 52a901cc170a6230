"""Times of a fit, a curve, and arrays of 10, 100 and 1,000 modules.

python tests/benchmarks/arrays.py
"""

import time
from collections.abc import Callable

from wattproof.physics import arrays
from wattproof.physics.arrays import Solution
from wattproof.physics.conditions import at_conditions, module
from wattproof.physics.elements import Element, Parallel, Resistance, Series
from wattproof.physics.elements import module as module_of_groups
from wattproof.physics.extraction import Datasheet, fit
from wattproof.physics.operating_state import states_at_voltage
from wattproof.physics.single_diode import curve, maximum_power

SHEET = Datasheet(22.5, 5.9, 18.9, 5.3, 36, -0.065, 0.0030, -0.0039)
MODEL = module(fit(SHEET), SHEET)


def best_of(action: Callable[[], object], repeats: int) -> float:
    """Return the shortest time (ms) of `repeats` runs."""
    shortest = float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        action()
        shortest = min(shortest, time.perf_counter() - start)
    return 1e3 * shortest


def array(modules: int, distinct: int) -> Element:
    """Return strings of ten modules in parallel; irradiance takes `distinct` values in turn."""
    strings = []
    for first in range(0, modules, 10):
        parts = []
        for index in range(first, first + 10):
            sun = 1000.0 - 800.0 * (index % distinct) / distinct
            parts.append(module_of_groups([at_conditions(MODEL, 45.0, sun)] * 2))
        strings.append(Series((*parts, Resistance(0.05))))
    return Parallel(tuple(strings))


def main() -> None:
    standard = MODEL.diode
    print(f"fit                         {best_of(lambda: fit(SHEET), 50):9.3f} ms")
    print(f"power coefficient           {best_of(lambda: module(fit(SHEET), SHEET), 50):9.3f} ms")
    hot = best_of(lambda: at_conditions(MODEL, 70.0, 800.0), 50)
    print(f"translation                 {hot:9.3f} ms")
    print(f"maximum power               {best_of(lambda: maximum_power(standard), 50):9.3f} ms")
    print(f"curve of 200 points         {best_of(lambda: curve(standard, 200), 50):9.3f} ms")
    for distinct in (1, 2, 10, 1_000):
        for modules in (10, 100, 1_000):
            tree = array(modules, distinct)

            def solved(tree: Element = tree) -> object:
                arrays._group_curve.cache_clear()
                return arrays.maximum_power(arrays.solve(tree))

            time_solved = best_of(solved, 3 if modules < 1_000 else 1)
            solution = arrays.solve(tree)
            peak = arrays.maximum_power(solution)

            def states(solution: Solution = solution, at: float = peak.voltage) -> object:
                return states_at_voltage(solution, at)

            time_states = best_of(states, 1)
            print(
                f"{modules:5d} modules, {min(distinct, modules):4d} distinct   "
                f"{time_solved:9.1f} ms solved, {time_states:9.1f} ms states, "
                f"{len(solution.curve.voltages)} points, {peak.power:.1f} W"
            )


if __name__ == "__main__":
    main()
