"""A conductor's size in words, in both systems."""

from __future__ import annotations

from itertools import pairwise

from wattproof.physics.conductors import (
    ConductorSize,
    gauge_area_mm2,
    gauge_name,
    known_gauges,
)
from wattproof.plan.datasheets import CableSheet
from wattproof.study.wiring.wires import conductor_size
from wattproof.working import Supposed, shown


def size_words(sheet: CableSheet) -> tuple[str, str]:
    """A cable's size as written, and in the other system: mm² for a gauge, gauges for mm².

    One that nobody told has none in the other either.
    """
    if isinstance(sheet.size, Supposed):
        return sheet.size.text, sheet.size.text
    size = conductor_size(sheet)
    if size.gauge is not None:
        return sheet.size.text, shown(sheet.size.value, "m²")
    return sheet.size.text, _between_gauges(size)


def _between_gauges(size: ConductorSize) -> str:
    gauges = known_gauges()
    for smaller, larger in pairwise(gauges):
        if gauge_area_mm2(smaller) <= size.area_mm2 < gauge_area_mm2(larger):
            first = gauge_name(smaller) if "kcmil" in larger else smaller
            return f"between {first} and {gauge_name(larger)}"
    if size.area_mm2 < gauge_area_mm2(gauges[0]):
        return f"below {gauge_name(gauges[0])}"
    return f"{gauge_name(gauges[-1])} or above"
