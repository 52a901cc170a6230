"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import array_plan, edited

HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


def joined(one: str, other: str, joint: str = "rating: 30 A, voltage: 600 V") -> str:
    """Two strings that meet at a joint."""
    strings = f"  port: {one}\n  starboard: {other}\n"
    return array_plan(strings, HOME_RUN, f"  roof-joint: {{joins: [port, starboard], {joint}}}\n")


PRINTED = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"


def label(values: str, *edits: tuple[str, str]) -> str:
    """The base plan with other values on the label."""
    return edited((PRINTED, values), *edits)
