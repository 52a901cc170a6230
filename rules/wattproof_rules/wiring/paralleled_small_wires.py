"""Thin conductors in parallel in place of one thick one."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import declared
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 310.10(G) (310.10(H) before 2020)",
        "2008-2023",
        "conductors are run in parallel only from 1/0 AWG upwards, of the same length, material, "
        "size and insulation, with the same terminations",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000 3.4.3",
        "2018",
        "conductors in parallel have at least 4 mm² each, and are of one length, material and size",
        verified=False,
    ),
    "common practice": Clause(
        "NEC 310.10(G), as marine rules have no text on it",
        "2008-2023",
        "conductors in parallel are alike in length and ends, and large",
        verified=False,
    ),
}

MORE = """\
datasheets:
  cables:
    pair-2-0: {size: 2/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
    batt-2-0: {size: 2/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
wires:
  inverter-run: {from: main-bar, to: mains, cable: pair-2-0, length: 0.6 m, place: cabin,
                 parallel: 2}
"""


@rule(
    id="paralleled-small-wires",
    summary="Size of conductors that run in parallel for one pole.",
    covers=("Two thin wires in place of one",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Conductors in parallel share the current by their resistance, and at the ends of "
    "a short run that is mostly the resistance of lugs and screws. When one end loosens or one "
    "conductor breaks, the others carry its share without anything showing it. The fuse is "
    "chosen for all of them together, so that it does not protect the one that is left.",
    fine="Where each of them has a fuse of its own at both ends and your body of rules lets it be.",
    since="0.1.0",
    sound=plan(
        "van-in-sun-inverter",
        Edit("to: main-bar, cable: batt-1-0", "to: main-bar, cable: batt-2-0"),
        less=("datasheets.cables.batt-1-0",),
        more=MORE,
    ),
    faulty=Edit("pair-2-0: {size: 2/0 AWG", "pair-2-0: {size: 1 AWG"),
)
def paralleled_small_wires(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        least = wire.code.parallel_size
        if least is None or wire.parallel < 2:
            continue
        if _are_leads_of_packs(wire, study):
            continue
        if wire.size.area_mm2 >= least.figure.value * (1.0 - 1e-9):
            continue
        size = declared(
            wire.sheet.size, f"A({wire.name})", f"size of each conductor of {wire.name}"
        )
        yield Observation(
            message=f"`{wire.name}` has {wire.parallel} conductors of {wire.size.name} in parallel "
            f"for each pole; only {least.size.name} and larger are run so",
            on=(wire,),
            values=(size,),
            level="note" if least.advice else None,
            remedy=_remedy(wire, least.size.name),
        )


def _are_leads_of_packs(wire: WireStudy, study: Study) -> bool:
    """True for a wire of which each pack of a bank has one conductor of its own."""
    banks = [study.battery.side.banks.get(name) for name in wire.wire.components]
    return any(bank is not None and bank.in_parallel == wire.parallel for bank in banks)


def _remedy(wire: WireStudy, least: str) -> Remedy:
    """The smallest single conductor with at least the same copper."""
    area = wire.parallel * wire.size.area_mm2
    single = next((w for w in wire.larger_sizes() if w.size.area_mm2 >= area * 0.999), None)
    if single is None:
        words = f"use {least} or larger for each of them"
        return Remedy(words, ((Change(wire.name, "cable.size", least),),))
    words = f"use one conductor of {single.size.name} for each pole"
    return Remedy(words, ((single.as_change, Change(wire.name, "parallel", "1")),))
