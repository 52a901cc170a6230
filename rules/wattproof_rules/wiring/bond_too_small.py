"""The conductor that ties a negative to the chassis or the water, against the least that holds."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.grounding import Ground
from wattproof.working import Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 552.10(C)(4), for trailers",
        "2008-2023",
        "the chassis is bonded by a copper conductor of at least 8 AWG",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.18)",
        "2003 and later",
        "the conductor to ground is at most one size below the largest negative conductor, and "
        "not under 16 AWG",
        verified=False,
    ),
}

SLACK = 1.002  # between the areas that tables print for one gauge

MORE = """\
datasheets:
  cables:
    bond-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
bonds:
  chassis-bond: {from: house.negative, to: chassis, cable: bond-8, length: 50 cm}
"""


@rule(
    id="bond-too-small",
    summary="Size of the tie between a bank's negative and the chassis or the water.",
    covers=("A tie too thin to clear a fault",),
    level="warning",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="When a positive cable chafes through on the chassis, the whole short-circuit "
    "current returns to the battery through this one tie. It must carry that until the fuse "
    "opens. A thin one burns first, and then the chassis stays live and nothing opens.",
    caution=warning(
        "A tie that is too thin can glow before the fuse opens and set fire to what it touches."
    ),
    fine="Where the plan's bond is only one of several ties to the same place, and together they "
    "are large enough by your body of rules.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("bond-8: {size: 8 AWG", "bond-8: {size: 10 AWG"),
)
def bond_too_small(study: Study) -> Iterator[Observation]:
    for ground in study.wiring.grounds:
        found = _least(ground, study)
        if found is None:
            continue
        least, size = found
        for bond in ground.bonds:
            sheet = study.plan.datasheets.cables[bond.cable]
            area = declared(sheet.size, f"A({bond.name})", f"conductor of {bond.name}")
            if bond.to != "earth" and least > area and least.number > area.number * SLACK:
                yield Observation(
                    message=(
                        f"`{bond.name}` is {area}; a bond to the {bond.to} must be at "
                        f"least {size} here"
                    ),
                    on=(bond,),
                    values=(area, least),
                    margin=area.number / least.number - 1.0,
                    remedy=Remedy(
                        f"use {size} or larger for `{bond.name}`",
                        ((Change(bond.name, "cable.size", size),),),
                    ),
                )


def _least(ground: Ground, study: Study) -> tuple[Value, str] | None:
    """The least area (m²) and its name; None where the body of rules states none."""
    wire = ground.largest
    copper = wire.size.area_mm2 * wire.parallel if wire is not None else None
    least = study.codes.battery.bond_size(study.plan.setting, copper)
    if least is None:
        return None
    table = least.figure
    area = tabled(table.value / 1e6, "m²", "Amin", table.what, table.cited)
    return area, least.size.name
