"""Batteries of a kind, a voltage and a capacity."""

from __future__ import annotations

from wattproof.plan.power import Battery
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.completing import voltages
from wattproof.study.assumptions.completing.filling import HOUR, Figure, Filling


def banks(filling: Filling) -> None:
    """Every battery. What feeds and is fed is looked for where one does not tell its voltage."""
    batteries = {n: _of_a_kind(filling, b) for n, b in filling.plan.batteries.items()}
    untold = [name for name, battery in batteries.items() if battery.nominal is None]
    joined = {name: voltages.joined(filling, name) for name in untold}
    known = any(joined.values()) or any(voltages.told_at(filling, name) for name in batteries)
    for name in untold:
        figure = _nominal(filling, batteries[name], joined[name], known=known)
        wanted = ("nominal", labels.NO_NOMINAL, "voltage", figure)
        batteries[name] = filling.part("batteries", batteries[name], wanted)
    capacity = Figure(labels.CAPACITY.value * HOUR)
    wanted = ("capacity", labels.NO_CAPACITY, "charge", capacity)
    each = {n: filling.part("batteries", _each_of(b), wanted) for n, b in batteries.items()}
    filling.put("batteries", each)


def _nominal(filling: Filling, battery: Battery, joined: float | None, *, known: bool) -> Figure:
    """The nominal voltage (V) of one battery, by what it is joined to or by what the plan tells.

    joined: that of what it is joined to. known: whether any battery has one, told or joined. What
    others feed then tells nothing of one that stands apart: that of an engine before a charger.
    """
    volts = labels.NOMINAL.value[str(battery.chemistry)]
    system, why = joined, "by what it feeds"
    apart = joined is None and known
    chain = voltages.one_behind_another(filling, str(battery.name))
    if battery.max_charge_voltage is not None and (system is None or len(chain) > 1):
        return Figure(_by_label(battery), "by its highest charge voltage")
    for other in (filling.plan.batteries[name] for name in chain if name != battery.name):
        if other.nominal is not None:
            return Figure(other.nominal.value, "as those in series with it")
        if other.max_charge_voltage is not None:
            return Figure(_by_label(_of_a_kind(filling, other)), "as those in series with it")
        system = system or voltages.joined(filling, str(other.name))
    if system is None and (charged := voltages.charged_to(filling, str(battery.name))) is not None:
        system, why = charged, "by what charges it"
    if system is None and (low := voltages.given_up_at(filling, str(battery.name))) is not None:
        system, why = low, "by the voltage at which its inverter switches off"
    if system is None and not apart:
        system = voltages.of_system(filling)
    if system is None and voltages.has_high_input(filling, str(battery.name)):
        system, why = labels.LARGE_SYSTEM.value, "as is usual with such a controller"
    if system is None:
        return Figure(volts, reach=(labels.NOMINAL_OF_TRUCKS,) if apart else ())
    twelves = system / 12.0 / voltages.in_series(battery) / len(chain)
    cells = 4 if battery.chemistry == "lithium-iron-phosphate" else 6
    in_cells = max(1, round(twelves * cells)) / cells
    count = in_cells if twelves < labels.NEARLY_12_V else round(twelves)
    return Figure(volts * count, why)


def _by_label(battery: Battery) -> float:
    """The nominal voltage (V) of a battery that tells what it may be charged to, by its cells."""
    assert battery.max_charge_voltage is not None
    chemistry = str(battery.chemistry)
    of_twelve = 4 if chemistry == "lithium-iron-phosphate" else 6
    cells = battery.max_charge_voltage.value / labels.FULL_12_V * of_twelve
    return labels.NOMINAL.value[chemistry] / of_twelve * max(1, round(cells))


def _of_a_kind(filling: Filling, battery: Battery) -> Battery:
    """The battery with a chemistry: by its nominal voltage, where that tells it."""
    usual, why, silence = labels.CHEMISTRY.value, "as is usual", labels.NO_CHEMISTRY
    ends = ("flooded", "lithium-iron-phosphate")
    volts = battery.nominal.value if battery.nominal is not None else None
    if volts in labels.LITHIUM_VOLTS:
        usual, why, ends = ends[1], "by its nominal voltage", (ends[1], ends[1])
    elif volts is not None and volts <= labels.LEAD_BLOCK:
        usual, why, ends = "flooded", "by its nominal voltage", ("flooded", "agm")
    elif voltages.is_of_an_engine(filling, str(battery.name)):
        why, silence = "as is usual for an engine", labels.NO_CHEMISTRY_BY_ENGINE
    return filling.word(battery, "chemistry", silence, usual, why, ends)


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
