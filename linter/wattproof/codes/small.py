"""Conductors below the smallest row of a table: what they may carry, told down from that row.

Heat is made in the metal and leaves by the surface, so the current of a conductor goes with a power
of its area: about the 0.625th in the formulas of IEC 60364-5-52 Annex D (from memory). A table says
nothing of such sizes; without a figure a wire of 0.8 mm² behind 40 A could not be judged at all.
"""

from wattproof.codes.values import Ampacity
from wattproof.physics.conductors import ConductorSize

EXPONENT = 0.625


def told_down(smallest: Ampacity, size: ConductorSize) -> Ampacity:
    """The ampacity of a smaller size, in the same surroundings and column, as our own extension.

    smallest: that of the smallest row. Its limit by terminals goes down alike.
    """
    row = smallest.size_used
    share = (size.area_mm2 / row.area_mm2) ** EXPONENT
    limit = smallest.terminal_limit
    note = (
        f"{size.name} is smaller than {row.name}, the smallest conductor of "
        f"{smallest.base.source}: its figure is told down by the area (our own extension)"
    )
    return smallest._replace(
        size_used=size,
        base=smallest.base._replace(value=smallest.base.value * share, own=True),
        terminal_limit=limit and limit._replace(value=limit.value * share, own=True),
        notes=(*smallest.notes, note),
    )
