"""A module's label against itself: values that cannot all be true, and which slip explains it.

At maximum power a module gives less voltage than with nothing connected and less current than in
short circuit. A printed value may be off by half of its last digit; what that explains is left.
The bands hold for all but about one in a hundred of 20,946 crystalline modules in an open set of
datasheets; those of thin film and the typical shares are trade practice.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.array.strings import ModuleStudy
from wattproof.working import Value, function


class Band(NamedTuple):
    """Imp / Isc and Vmp / Voc as real modules have them: smallest, typical, largest."""

    current: tuple[float, float, float]
    voltage: tuple[float, float, float]


BANDS: Final = {
    "crystalline": Band((0.80, 0.94, 0.99), (0.72, 0.82, 0.88)),
    "thin-film": Band((0.75, 0.88, 0.99), (0.60, 0.76, 0.88)),
}
FILL_FACTORS: Final = {"crystalline": (0.65, 0.83), "thin-film": (0.55, 0.83)}
"""Smallest and largest fill factor of real modules."""
NOMINAL_VOLTAGES: Final = (6.0, 12.0, 24.0, 36.0, 48.0)
POWER_TOLERANCE: Final = 0.03
"""Share by which power and voltage times current may differ (common practice; no text sets one)."""


@record
class Contradiction:
    """A value at maximum power that is not below what the label gives without load or shorted."""

    power_point: Value
    limit: Value


@record
class Slip:
    """One slip that explains a label: printed values that are wrong, and what they would be."""

    printed: tuple[Value, ...]
    likely: tuple[Value, ...]


@record
class PowerGap:
    """Voltage times current against the printed power.

    product: Vmp × Imp (W). share: by how much the two differ, beyond what rounding explains.
    """

    product: Value
    share: Value


def contradictions(module: ModuleStudy) -> tuple[Contradiction, ...]:
    """What cannot be true together on a module's label."""
    sheet = module.sheet
    band = BANDS[sheet.technology]
    found: list[Contradiction] = []
    if sheet.imp is not None:
        _add(found, module.imp, _least(sheet.imp), module.isc, _most(sheet.isc), band.current)
    _add(found, module.vmp, _least(sheet.vmp), module.voc, _most(sheet.voc), band.voltage)
    if sheet.pmax is not None:
        current = (module.pmax / module.vmp).named("Pmax/Vmp", "current by power", "A")
        least = _least(sheet.pmax) / _most(sheet.vmp)
        _add(found, current, least, module.isc, _most(sheet.isc), band.current)
    if sheet.pmax is not None and sheet.imp is not None:
        voltage = (module.pmax / module.imp).named("Pmax/Imp", "voltage by power", "V")
        least = _least(sheet.pmax) / _most(sheet.imp)
        _add(found, voltage, least, module.voc, _most(sheet.voc), band.voltage)
    return tuple(found)


def power_gap(module: ModuleStudy) -> PowerGap | None:
    """Printed power against printed voltage times current; None where one is not printed."""
    sheet = module.sheet
    if sheet.imp is None or sheet.pmax is None:
        return None
    pmax = module.pmax
    product = (module.vmp * module.imp).named("Vmp×Imp", "power by voltage and current", "W")
    least = _least(sheet.vmp) * _least(sheet.imp) / _most(sheet.pmax)
    most = _most(sheet.vmp) * _most(sheet.imp) / _least(sheet.pmax)
    apart = function("difference beyond rounding", max(0.0, 1.0 - most, least - 1.0), product, pmax)
    return PowerGap(product, apart.named("ΔP", f"gap in the power of {module.name}", "%"))


def fill_factor(module: ModuleStudy, power: Value, symbol: str) -> Value:
    """Share of Voc × Isc that a power is."""
    words = f"fill factor of {module.name} by {power.symbol}"
    return (power / (module.voc * module.isc)).named(symbol, words, "")


def odd_fill_factor(module: ModuleStudy) -> Value | None:
    """The fill factor of a label where it is no real module's, even with all rounding.

    None too where the label contradicts itself, which says more.
    """
    gap = power_gap(module)
    if contradictions(module) or (gap is not None and gap.share.number > POWER_TOLERANCE):
        return None
    sheet = module.sheet
    if sheet.pmax is not None:
        least, most = _least(sheet.pmax), _most(sheet.pmax)
    else:
        assert sheet.imp is not None
        least = _least(sheet.vmp) * _least(sheet.imp)
        most = _most(sheet.vmp) * _most(sheet.imp)
    low, high = FILL_FACTORS[sheet.technology]
    smallest = least / (_most(sheet.voc) * _most(sheet.isc))
    largest = most / (_least(sheet.voc) * _least(sheet.isc))
    if low <= largest and smallest <= high:
        return None
    return fill_factor(module, module.pmax, "FF")


def is_nominal(module: ModuleStudy) -> bool:
    """True where the voltage at maximum power looks like the class of a battery, not its own."""
    low, _, _ = BANDS[module.sheet.technology].voltage
    share = module.vmp.number / module.voc.number
    return module.vmp.number in NOMINAL_VOLTAGES and share < low


def usual_vmp(module: ModuleStudy) -> float:
    """Voltage at maximum power (V) that modules of its open-circuit voltage typically have."""
    return BANDS[module.sheet.technology].voltage[1] * module.voc.number


def slips(module: ModuleStudy) -> tuple[Slip, ...]:
    """Single slips after which a label would be that of a real module, the likeliest first.

    Two values swapped come before one value wrong, and of those the one that leaves the label
    nearest to typical.
    """
    printed = _printed(module)
    label = {symbol: value.number for symbol, value in printed.items()}
    band = BANDS[module.sheet.technology]
    swaps = [_swapped(label, a, b) for a, b in (("Imp", "Isc"), ("Vmp", "Voc")) if a in label]
    found = [changed for changed in swaps if _oddity(changed, band) is not None]
    if not found:
        alone = [_corrected(label, symbol, band) for symbol in label]
        ranked = [(odd, c) for c in alone if (odd := _oddity(c, band)) is not None]
        found = [changed for _, changed in sorted(ranked, key=lambda pair: pair[0])]
    return tuple(_slip(printed, changed) for changed in found)


def _least(printed: Quantity) -> float:
    return printed.value - printed.resolution / 2


def _most(printed: Quantity) -> float:
    return printed.value + printed.resolution / 2


def _add(
    found: list[Contradiction],
    power_point: Value,
    least: float,
    limit: Value,
    most: float,
    band: tuple[float, float, float],
) -> None:
    """Add a contradiction where the printed values show one that rounding does not explain."""
    if power_point >= limit and least / most > band[2]:
        found.append(Contradiction(power_point, limit))


def _printed(module: ModuleStudy) -> dict[str, Value]:
    """The values that a label gives, by symbol."""
    values = {"Voc": module.voc, "Isc": module.isc, "Vmp": module.vmp}
    if module.sheet.imp is not None:
        values["Imp"] = module.imp
    if module.sheet.pmax is not None:
        values["Pmax"] = module.pmax
    return values


def _swapped(label: dict[str, float], first: str, second: str) -> dict[str, float]:
    return {**label, first: label[second], second: label[first]}


def _corrected(label: dict[str, float], symbol: str, band: Band) -> dict[str, float]:
    """The label with one value as the others make it, or as it typically is."""
    voc, isc, vmp = label["Voc"], label["Isc"], label["Vmp"]
    imp, pmax = label.get("Imp"), label.get("Pmax")
    usual_current, usual_voltage = band.current[1], band.voltage[1]
    made = {
        "Voc": vmp / usual_voltage,
        "Isc": _current(label) / usual_current,
        "Vmp": pmax / imp if pmax and imp else usual_voltage * voc,
        "Imp": pmax / vmp if pmax else usual_current * isc,
        "Pmax": vmp * (imp or usual_current * isc),
    }
    return {**label, symbol: made[symbol]}


def _current(label: dict[str, float]) -> float:
    """Current at maximum power, printed or by power and voltage (A)."""
    return label["Imp"] if "Imp" in label else label["Pmax"] / label["Vmp"]


def _oddity(label: dict[str, float], band: Band) -> float | None:
    """How far a label lies from typical; None where no real module has such a one."""
    current, voltage = _current(label), label["Vmp"]
    if "Pmax" in label and abs(1.0 - voltage * current / label["Pmax"]) > POWER_TOLERANCE:
        return None
    oddity = 0.0
    for share, (low, typical, high) in (
        (current / label["Isc"], band.current),
        (voltage / label["Voc"], band.voltage),
    ):
        if not low <= share <= high:
            return None
        oddity += abs(share - typical)
    return oddity


def _slip(printed: dict[str, Value], label: dict[str, float]) -> Slip:
    changed = [value for symbol, value in printed.items() if label[symbol] != value.number]
    likely = [
        Value(label[value.symbol], value.unit, value.symbol, value.words) for value in changed
    ]
    return Slip(tuple(changed), tuple(likely))
