"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import array_plan, edited


def with_sheet(sheet: str, plan: str) -> str:
    """A plan with one more module label."""
    return edited(("  cables:\n", f"    {sheet}\n  cables:\n"), plan=plan)


def in_series(one: str, other: str) -> str:
    """Two groups that a wire puts in series."""
    wires = """\
  link: {from: left.positive, to: right.negative, cable: pv-10, length: 1 m}
  plus: {from: right.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}
  minus: {from: left.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}
"""
    return array_plan(f"  left: {one}\n  right: {other}\n", wires)
