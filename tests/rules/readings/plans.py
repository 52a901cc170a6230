"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import array_plan, edited
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.testing import study_of

EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"
FULL_SUN = f"irradiance: 1000 W/m², back_temperature: 48 °C, {EXACT}"
"""Where the curve meets the label's own values: cells at 49 °C, one kelvin over the back."""


def read(*readings: str, plan: str | None = None) -> str:
    """The base plan, or another, with readings."""
    lines = "".join(f"  r{number}: {{{text}}}\n" for number, text in enumerate(readings, start=1))
    return (plan if plan is not None else edited()) + f"readings:\n{lines}"


def first(plan: str) -> ArrayReading:
    return study_of(plan).readings.at_arrays[0]


def strings(count: int, **controller: str) -> str:
    """So many strings of three side by side at one joint."""
    names = [f"string-{number}" for number in range(1, count + 1)]
    each = "{module: rigid-100, series: 3, mounting: roof-gap}"
    return array_plan(
        "".join(f"  {name}: {each}\n" for name in names),
        "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        f"  roof-joint: {{joins: [{', '.join(names)}], rating: 60 A, voltage: 600 V}}\n",
        **controller,
    )


def voc_by_hand(cells: float) -> float:
    return 3 * 24.3 * (1 - 0.0029 * (cells - 25))
