"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import edited

PRINTED = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"


def label(values: str, *edits: tuple[str, str]) -> str:
    """The base plan with other values on the label."""
    return edited((PRINTED, values), *edits)
