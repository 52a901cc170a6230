"""The values on a module's label against each other: which of them cannot all be true."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.labels import Slip, contradictions, slips
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import margin_below
from wattproof.words import enumerated
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.51",
        "2014-2023",
        "modules are marked with their rated voltages, currents, power and largest series fuse",
        verified=False,
    ),
    "iec": Clause(
        "IEC 61730-1, marking",
        "2016",
        "the plate states open-circuit voltage, short-circuit current, power, maximum system "
        "voltage and maximum overcurrent protection rating",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; IEC 61730-1, marking",
        "2021; 2016",
        "modules are certified to IEC 61730, by which the plate states open-circuit voltage, "
        "short-circuit current, power and maximum overcurrent protection rating",
        verified=False,
    ),
    "common practice": practice(
        "at maximum power a module gives less voltage than at open circuit and less current than "
        "in short circuit; none of 20,946 crystalline modules in an open set is otherwise"
    ),
}


@rule(
    id="module-values-impossible",
    summary="Voltage and current at maximum power against open circuit and short circuit.",
    covers=(
        "Values on a label that cannot all be true",
        "A nominal voltage copied in place of the one at maximum power",
    ),
    level="error",
    hazard="damage",
    part="module",
    basis=BASIS,
    explanation="A module gives its highest voltage with nothing connected and its highest "
    "current when shorted. In between, where it gives most power, both are lower. A label that "
    "says otherwise has two values swapped, a wrong digit, or a boast in it. Every result that "
    "reads these values is in doubt until the label is set right: voltage against the controller's "
    "limit, current against wires and fuses.",
    caution=notice(
        "Parts chosen by a wrong label may be too weak. Do not buy or connect by these values."
    ),
    fine="Never with these values. Read the label again, or leave them out.",
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("isc: 5.2 A", "isc: 4.5 A"),
)
def module_values_impossible(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        found = contradictions(module)
        if not found:
            continue
        said = enumerated(
            f"{c.power_point.symbol} {c.power_point} is not below {c.limit.symbol} {c.limit}"
            for c in found
        )
        yield Observation(
            message=f"the label of `{module.name}` cannot be right: {said}",
            on=(*study.array.users_of(module), module.sheet),
            values=tuple({id(v): v for c in found for v in (c.power_point, c.limit)}.values()),
            margin=min(margin_below(c.power_point, c.limit) for c in found),
            remedy=_remedy(module),
        )


def _remedy(module: ModuleStudy) -> str:
    """What the label most likely says."""
    likely = " or ".join(_said(slip) for slip in slips(module)[:2])
    ask = "read the label on the back of the module, ask its maker, or measure Voc and Isc in sun"
    if not likely:
        return f"no single slip explains it: {ask}"
    return f"most likely {likely}: {ask}"


def _said(slip: Slip) -> str:
    names = enumerated(value.symbol for value in slip.printed)
    if len(slip.printed) > 1:
        return f"{names} are swapped"
    return f"{names} is about {slip.likely[0]}, not {slip.printed[0]}"
