"""Conductors that tell a size in the place of a cable: each gets a datasheet that says no more."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from wattproof.plan.datasheets import CableSheet
from wattproof.plan.fields import is_name, size_in
from wattproof.plan.resemblance import nearest
from wattproof.plan.root import Plan
from wattproof.quantities import Quantity
from wattproof.source import Text

CABLED: Final = ("wires", "bonds", "frame_bonds")
"""Families of what has a cable."""
OF: Final = " of "
"""Stands in the names of datasheets that no plan declares, before the part that they are of."""
OF_A_CABLE: Final = f"cable{OF}"
"""How the names of datasheets begin that stand for cables without one; the conductor follows."""


def with_sized_cables(plan: Plan, *, all_sheets_read: bool) -> Plan:
    """The plan with a datasheet for each size that stands in the place of a cable's name.

    all_sheets_read: False where a file of parts could not be read: a word may be a name there.
    """
    declared = plan.datasheets.cables
    cables = dict(declared)
    update: dict[str, Any] = {}
    for family in CABLED:
        parts = dict(getattr(plan, family))
        for name, part in parts.items():
            written = part.cable
            if written is None:
                continue
            size = size_told(written, declared, all_sheets_read=all_sheets_read)
            if size is None:
                continue
            sheet = Text.at(f"{OF_A_CABLE}{name}", written.place)
            cables[sheet] = CableSheet.model_construct(name=sheet, size=size)
            parts[name] = part.model_copy(update={"cable": sheet})
            update[family] = parts
    if not update:
        return plan
    sheets = plan.datasheets.model_copy(update={"cables": cables})
    return plan.model_copy(update={**update, "datasheets": sheets})


def size_told(
    written: Text, cables: Mapping[str, object], *, all_sheets_read: bool = True
) -> Quantity | None:
    """The size in the place of a cable's name; None where a cable is called that, or nearly.

    all_sheets_read: False where a cable may be called so that could not be read.
    """
    if written in cables or (is_name(written) and not all_sheets_read):
        return None
    size = size_in(written)
    return size if size is not None and nearest(written, tuple(cables)) is None else None
