"""Compare fits and translations with a table of real modules."""

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from external.real_modules import TEMPERATURES, datasheets, reference
from wattproof.physics.conditions import at_conditions, module
from wattproof.physics.extraction import CannotFit, Datasheet, fit
from wattproof.physics.single_diode import (
    Diode,
    maximum_power,
    open_circuit_voltage,
    short_circuit_current,
)


@dataclass
class Comparison:
    """Counts and relative differences (ours over theirs, less one)."""

    counts: Counter[str] = field(default_factory=Counter)
    point_errors: list[float] = field(default_factory=list)
    moves: list[float] = field(default_factory=list)
    coefficient_errors: list[float] = field(default_factory=list)
    differences: dict[tuple[str, float], list[float]] = field(default_factory=dict)


def largest_point_error(diode: Diode, sheet: Datasheet) -> float:
    """Return the largest relative error of Voc, Isc, Vmp and Imp."""
    voltage, current, _ = maximum_power(diode)
    pairs = (
        (open_circuit_voltage(diode), sheet.voc),
        (short_circuit_current(diode), sheet.isc),
        (voltage, sheet.vmp),
        (current, sheet.imp),
    )
    return max(abs(found / declared - 1.0) for found, declared in pairs)


def compare(table: Any) -> Comparison:
    """Return what becomes of every module of the table."""
    theirs = {celsius: reference(table, celsius) for celsius in TEMPERATURES}
    found = Comparison()
    for index, sheet in enumerate(datasheets(table)):
        try:
            fitted = fit(sheet)
        except CannotFit as refusal:
            found.counts[f"cannot fit: {refusal}"] += 1
            continue
        found.counts[f"confidence {fitted.confidence}"] += 1
        found.moves.append(fitted.ideality_moved)
        found.point_errors.append(largest_point_error(fitted.diode, sheet))
        model = module(fitted, sheet)
        assert sheet.pmax_coefficient is not None
        found.coefficient_errors.append(model.pmax_coefficient - sheet.pmax_coefficient)
        for celsius in TEMPERATURES:
            diode = at_conditions(model, celsius, 1000.0)
            voltage, _, power = maximum_power(diode)
            ours = {"v_oc": open_circuit_voltage(diode), "v_mp": voltage, "p_mp": power}
            for name, value in ours.items():
                other = float(theirs[celsius][name][index])
                found.differences.setdefault((name, celsius), []).append(value / other - 1.0)
    return found


def summary(found: Comparison) -> str:
    """Return the statistics as text, in per cent."""
    lines = [f"{count:7d}  {name}" for name, count in sorted(found.counts.items())]
    within = sum(error <= 0.01 for error in found.point_errors)
    total = sum(found.counts.values())
    lines.append(f"{within:7d}  of {total} with all four points within 1 %")
    lines.append(f"largest error of a point: {max(found.point_errors):.2e}")
    lines.append(_row("ideality moved, %", found.moves))
    lines.append(_row("power coefficient, %/K", found.coefficient_errors))
    for (name, celsius), values in sorted(found.differences.items()):
        lines.append(_row(f"{name} at {celsius:g} °C, %", values))
    return "\n".join(lines)


def percentile(values: list[float], share: float) -> float:
    """Return the value below which this share (0 to 1) of the values lies."""
    return sorted(values)[min(int(share * len(values)), len(values) - 1)]


def _row(name: str, values: list[float]) -> str:
    mean = sum(values) / len(values)
    spread = [f"{100.0 * percentile(values, s):8.3f}" for s in (0, 0.01, 0.05, 0.5, 0.95, 0.99, 1)]
    return f"{name:24s} mean {100.0 * mean:7.3f}  0/1/5/50/95/99/100 % {' '.join(spread)}"
