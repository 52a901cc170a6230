"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import array_plan, edited

HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


def with_sheet(sheet: str, plan: str) -> str:
    """A plan with one more module label."""
    return edited(("  cables:\n", f"    {sheet}\n  cables:\n"), plan=plan)


def joined(one: str, other: str, joint: str = "rating: 30 A, voltage: 600 V") -> str:
    """Two strings that meet at a joint."""
    strings = f"  port: {one}\n  starboard: {other}\n"
    return array_plan(strings, HOME_RUN, f"  roof-joint: {{joins: [port, starboard], {joint}}}\n")


def in_series(one: str, other: str) -> str:
    """Two groups that a wire puts in series."""
    wires = """\
  link: {from: left.positive, to: right.negative, cable: pv-10, length: 1 m}
  plus: {from: right.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}
  minus: {from: left.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}
"""
    return array_plan(f"  left: {one}\n  right: {other}\n", wires)
