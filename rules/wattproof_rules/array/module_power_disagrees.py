"""The power on a module's label against the voltage and current on it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.labels import contradictions, fill_factor, power_gap, slips
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 61215 and EN 50380",
        "2016; 2017",
        "the values on a plate belong to one measurement, and the maker states their tolerance; "
        "neither text sets one, and 3 % of power is common practice",
        verified=False,
    ),
    "common practice": practice(
        "power is voltage times current at maximum power; fewer than one in a hundred of 19,934 "
        "crystalline modules in an open set is off by more than 3 % from the class in its name"
    ),
}

MORE = """\
datasheets:
  modules:
    rigid-200: {voc: 24.6 V, vmp: 20.5 V, isc: 10.2 A, imp: 9.76 A, pmax: 200 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 20 A, max_system_voltage: 600 V}
"""


@record
class Limits:
    """What a project may set."""

    tolerance: float = option(0.03, "Share by which power may differ from voltage times current.")
    wrong: float = option(0.10, "Share from which the label counts as wrong.")


@rule(
    id="module-power-disagrees",
    summary="Power on a label against its voltage times its current at maximum power.",
    covers=("Power that is not voltage times current",),
    level="error",
    hazard="damage",
    part="module",
    basis=BASIS,
    explanation="Power is voltage times current. The three values at maximum power on a label come "
    "from one measurement, so two of them give the third. Where they do not, one is a slip or a "
    "boast. It matters which: a current that is really higher loads wires and fuses, a power that "
    "is really lower leaves the battery empty. The fill factor, which is power as a share of Voc "
    "times Isc, tells which value looks least like a real module's.",
    fine="Hardly ever. Where the label really says so, count with the lower power and the higher "
    "current.",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("module: rigid-100, series: 3", "module: rigid-200, series: 2"),
        Edit("max_input_voltage: 100 V", "max_input_voltage: 75 V"),
        less=("datasheets.modules",),
        more=MORE,
    ),
    faulty=Edit("imp: 9.76 A", "imp: 9.26 A"),
    options=Limits,
)
def module_power_disagrees(study: Study, limits: Limits) -> Iterator[Observation]:
    for module in study.array.modules.values():
        gap = power_gap(module)
        if gap is None or contradictions(module):
            continue  # an impossible label has a finding of its own
        if not exceeds(gap.share, limits.tolerance):
            continue
        by_power = fill_factor(module, module.pmax, "FF by Pmax")
        by_product = fill_factor(module, gap.product, "FF by Vmp×Imp")
        yield Observation(
            message=f"the label of `{module.name}` gives Pmax {module.pmax}, but Vmp {module.vmp} "
            f"times Imp {module.imp} is {gap.product}: {gap.share.number * 100:.1f} % apart, "
            f"rounding allowed for (fill factor {by_power} by the one, {by_product} by the other)",
            on=(*study.array.users_of(module), module.sheet),
            values=(gap.product, module.pmax, by_power, by_product, gap.share),
            margin=margin_below(gap.share, limits.tolerance),
            remedy=_remedy(module),
            level=None if exceeds(gap.share, limits.wrong) else "warning",
        )


def _remedy(module: ModuleStudy) -> str:
    """Which of the values is likely wrong, and what the others make it."""
    likely = [
        f"{slip.printed[0].symbol} (by the others {slip.likely[0]}, not {slip.printed[0]})"
        for slip in slips(module)
    ]
    ask = "read the label on the back of the module, or ask its maker"
    if not likely:
        return f"no single slip gives a usual fill factor, so more than one is wrong: {ask}"
    others = f", less likely {' or '.join(likely[1:])}" if likely[1:] else ""
    return f"most likely wrong is {likely[0]}{others}: {ask}"
