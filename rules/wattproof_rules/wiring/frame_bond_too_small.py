"""Size of the conductors that tie the frames of modules to earth."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.working import Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.45, 250.120(C) and 250.122",
        "2023",
        "sized by the device before it, at least 14 AWG; smaller than 6 AWG only where nothing can "
        "damage it",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-7-712 (bonding of frames)",
        "2017",
        "at least 4 mm² of copper, at least 6 mm² where it is exposed in use",
        verified=False,
    ),
    "common practice": practice("6 mm² (10 AWG) of copper or more, on lugs made for frames"),
}

LEAST = 5.26
"""Area of 10 AWG (mm²), which is taken as good as 6 mm²."""

SLACK = 1.002  # between the areas that tables print for one gauge

MORE = """\
setting: cabin
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
    bond-8: {size: 8 AWG, material: copper, kind: building}
frame_bonds:
  roof-frames: {strings: [roof-string], to: earth, cable: bond-8, length: 6 m}
"""


@rule(
    id="frame-bond-too-small",
    summary="Size and metal of conductors that bond the frames of modules.",
    covers=("Frames of modules on a thin bond",),
    level="warning",
    hazard="shock",
    part="bonding",
    basis=BASIS,
    explanation="This conductor carries nothing for twenty years, and then, when a lead wears "
    "through on a frame, all that the array gives, for as long as nobody notices. On "
    "a roof it is stepped on, pulled and frozen. A thin one breaks unseen, and "
    "aluminium that touches copper and rain is eaten away.",
    caution=warning("A frame whose bond is broken gives a shock to whoever touches it."),
    fine="Where the frame stands on metal that bonds it by itself, with parts that are made and "
    "listed for that.",
    since="0.2.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("bond-8: {size: 8 AWG", "bond-8: {size: 14 AWG"),
)
def frame_bond_too_small(study: Study) -> Iterator[Observation]:
    for bond in study.plan.frame_bonds.values():
        sheet = study.plan.datasheets.cables[bond.cable]
        area = declared(sheet.size, f"A({bond.name})", f"conductor of {bond.name}")
        aluminium = sheet.material in ("aluminium", "copper-clad-aluminium")
        least, name = _least({str(each) for each in bond.strings}, study)
        if aluminium:
            yield Observation(
                message=f"`{bond.name}` is of {sheet.material}, on frames in the rain",
                on=(bond,),
                remedy="use copper, tinned where it is in the wet, on lugs made for frames",
            )
        elif least.number > area.number * SLACK:
            yield Observation(
                message=f"`{bond.name}` is {area}; frames need at least {name} of copper",
                on=(bond,),
                values=(area, least),
                margin=area.number / least.number - 1.0,
                remedy=Remedy(
                    f"use {name} or larger for `{bond.name}`",
                    ((Change(bond.name, "cable.size", name.split(" (")[0]),),),
                ),
            )


def _least(strings: set[str], study: Study) -> tuple[Value, str]:
    """The least conductor (m²), and its name: by practice, or by the body's table where more.

    The table goes by the overcurrent device before it; without one, by that which the array's
    short-circuit current would ask for.
    """
    usual = tabled(LEAST * 1e-6, "m²", "Amin", "least bond of frames", "common practice")
    code = study.codes.array
    amps = 0.0
    for array in study.array.arrays:
        if strings.isdisjoint(str(s.name) for s in array.declared_strings):
            continue
        isc = array.isc("standard").number
        devices = [d for d in study.wiring.devices.values() if d.array is array]
        ratings = [d.rating.number for d in devices if d.is_overcurrent]
        without = code.string_fuse_window(isc)[0].value * isc
        amps = max(amps, *(ratings or [without]))
    asked = code.equipment_grounding(amps) if amps else None
    if asked is None or asked.size.area_mm2 <= LEAST * SLACK:
        return usual, "6 mm² (10 AWG)"
    area = asked.figure
    return tabled(area.value * 1e-6, "m²", "Amin", area.what, area.cited), asked.size.name
