"""Cable of aluminium, or of aluminium under a skin of copper."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import material_factor
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.site.climate import from_table
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 110.14; 310.3(B)",
        "2014-2023",
        "terminals are marked for the metal that they clamp; aluminium conductors are larger than "
        "copper ones for the same current",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (conductors); 33 CFR 183.425(b)",
        "2003 and later; current CFR",
        "conductors on boats are stranded copper",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (conductors)", "2022", "conductors on small craft are stranded copper", False
    ),
    "common practice": Clause(
        "makers of terminals",
        "as supplied",
        "lugs and clamps of batteries, controllers and fuse holders are made for copper",
        verified=False,
    ),
}

MORE = """\
datasheets:
  cables:
    batt-4: {size: 4 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
"""


@rule(
    id="aluminium-conductor",
    summary="Cable whose conductor is aluminium or copper-clad aluminium.",
    covers=("Aluminium sold as copper",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Aluminium conducts about six tenths as well as copper, so that a cable of the "
    "same size drops more voltage and gets hotter. Worse are its ends: it creeps away under a "
    "screw, and its surface grows a skin that does not conduct, so that a joint that was tight "
    "warms, loosens, and warms more. Copper-clad strands look like copper until they are cut. The "
    "sums here already count the metal as stated; the ends are what no sum covers.",
    fine="Where every end has a lug, a paste and a tool that are made for aluminium, and somebody "
    "tightens them again each year. Copper-clad strands are never fine in a moving vehicle.",
    since="0.1.0",
    sound=plan(
        "van-in-sun",
        Edit("cable: batt-8", "cable: batt-4"),
        less=("datasheets.cables.batt-8",),
        more=MORE,
    ),
    faulty=Edit(
        "kind: battery, material: copper,", "kind: battery, material: copper-clad-aluminium,"
    ),
)
def aluminium_conductor(study: Study) -> Iterator[Observation]:
    metals = ("aluminium", "copper-clad-aluminium")
    sheets = {
        w.sheet.name: w.sheet for w in study.wiring.wires.values() if w.sheet.material in metals
    }
    for name, sheet in sheets.items():
        wires = tuple(w for w in study.wiring.wires.values() if w.sheet is sheet)
        shown = ", ".join(f"`{w.name}`" for w in wires)
        on_resistance, on_ampacity = material_factor(str(sheet.material))
        resistance = from_table(on_resistance, "kresistance")
        ampacity = from_table(on_ampacity, "kampacity")
        yield Observation(
            message=f"cable `{name}` of {shown} is {sheet.material}: {resistance} times the "
            f"resistance of copper, and {ampacity} of what copper carries",
            on=wires,
            values=(resistance, ampacity),
            remedy=Remedy(
                f"use copper cable of {wires[0].size.name}, or lugs and clamps that are marked "
                "for aluminium, and look at each joint after the first month",
                (tuple(Change(w.name, "cable.material", "copper") for w in wires),),
            ),
        )
