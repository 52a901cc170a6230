"""The curves as rows, for spreadsheets and other programs: one row a point.

In full sun `shade` is empty.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import Final

from wattproof.reports.curves.data import InputCurves

HEADER: Final = ("controller", "state", "shade", "voltage_v", "current_a", "power_w")


def render(inputs: Iterable[InputCurves]) -> str:
    """All curves of a plan: decimals with a dot, lines that end with a line feed."""
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\n")
    rows.writerow(HEADER)
    for curves in inputs:
        for curve in curves.curves:
            of = (curves.controller, curve.state, curve.shade)
            for voltage, current in curve.points:
                numbers = (voltage, current, voltage * current)
                rows.writerow((*of, *(f"{n:.6f}" for n in numbers)))
    return written.getvalue()
