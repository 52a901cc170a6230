"""Batteries of a kind, a voltage and a capacity."""

from __future__ import annotations

from wattproof.plan.power import Battery
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.completing import voltages
from wattproof.study.assumptions.completing.filling import HOUR, Figure, Filling


def banks(filling: Filling) -> None:
    filling.put("batteries", {n: _battery(filling, b) for n, b in filling.plan.batteries.items()})


def _battery(filling: Filling, battery: Battery) -> Battery:
    battery = _of_a_kind(filling, battery)
    volts = labels.NOMINAL.value[str(battery.chemistry)]
    name = str(battery.name)
    system, why = voltages.joined(filling, name), "by what it feeds"
    apart = system is None and voltages.stands_apart(filling, name)
    if system is None and not apart:
        system = voltages.of_system(filling)
    if system is None and voltages.has_high_input(filling, name):
        system, why = labels.LARGE_SYSTEM.value, "as is usual with such a controller"
    figure = Figure(volts, reach=(labels.NOMINAL_OF_TRUCKS,) if apart else ())
    if system is not None and battery.nominal is None:
        twelves = system / 12.0 / voltages.in_series(battery)
        cells = 4 if battery.chemistry == "lithium-iron-phosphate" else 6
        in_cells = max(1, round(twelves * cells)) / cells
        count = in_cells if twelves < labels.NEARLY_12_V else round(twelves)
        figure = Figure(volts * count, why)
    hours = labels.CAPACITY.value * HOUR
    return filling.part(
        "batteries",
        _each_of(battery),
        ("nominal", labels.NO_NOMINAL, "voltage", figure),
        ("capacity", labels.NO_CAPACITY, "charge", Figure(hours)),
    )


def _of_a_kind(filling: Filling, battery: Battery) -> Battery:
    """The battery with a chemistry: by its nominal voltage, where that tells it."""
    usual, why = labels.CHEMISTRY.value, "as is usual"
    ends = ("flooded", "lithium-iron-phosphate")
    volts = battery.nominal.value if battery.nominal is not None else None
    if volts in labels.LITHIUM_VOLTS:
        usual, why, ends = ends[1], "by its nominal voltage", (ends[1], ends[1])
    elif volts is not None and volts <= labels.LEAD_BLOCK:
        usual, why, ends = "flooded", "by its nominal voltage", ("flooded", "agm")
    return filling.word(battery, "chemistry", labels.NO_CHEMISTRY, usual, why, ends)


def _each_of(battery: Battery) -> Battery:
    """The battery with the capacity of one, where the plan tells that of the bank."""
    whole, layout = battery.bank_capacity, battery.arrangement
    if whole is None:
        return battery
    count = layout.in_parallel if layout is not None else 1
    each = whole.value / count
    told = whole._replace(
        value=each,
        text=f"{each / HOUR:.4g} Ah" if count > 1 else whole.text,
        resolution=whole.resolution / count,
    )
    return battery.model_copy(update={"capacity": told})
