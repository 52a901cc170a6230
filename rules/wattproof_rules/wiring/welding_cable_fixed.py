"""Welding cable as fixed wiring."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 630.41; 400.12",
        "2008-2023",
        "cable that is listed for the secondary of welders is for that; flexible cable does not "
        "take the place of fixed wiring",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (conductors); UL 1426",
        "2003 and later",
        "conductors on boats are boat cable of stranded, preferably tinned copper, or a type with "
        "marked oil, moisture and temperature rating",
        verified=False,
    ),
    "common practice": Clause(
        "ISO 13297; IEC 60364-5-52 521",
        "2022; 2009",
        "fixed wiring is of a type that is made and marked for it",
        verified=False,
    ),
}

MORE = """\
setting: boat
code: abyc-e11
"""


@rule(
    id="welding-cable-fixed",
    summary="Welding cable used as fixed wiring.",
    covers=("Welding cable left in place",),
    level="warning",
    hazard="legal",
    part="conductor",
    basis=BASIS,
    explanation="Welding cable bends easily and is cheap for its copper, so it is often used "
    "between battery and inverter. It is made to lie on a workshop floor for an hour, not to run "
    "for years through oil, damp and heat, and its bare copper strands draw in water. Inspectors "
    "of houses and surveyors of boats refuse it unless it is marked for fixed wiring as well.",
    fine="Where it is marked for fixed wiring as well, or whoever inspects it has agreed.",
    since="0.1.0",
    sound=plan("van-in-sun", Edit("kind: battery", "kind: marine"), more=MORE),
    faulty=Edit("batt-8: {size: 8 AWG, kind: marine", "batt-8: {size: 8 AWG, kind: welding"),
)
def welding_cable_fixed(study: Study) -> Iterator[Observation]:
    sheets = {
        w.sheet.name: w.sheet for w in study.wiring.wires.values() if w.sheet.kind == "welding"
    }
    for name, sheet in sheets.items():
        wires = tuple(w for w in study.wiring.wires.values() if w.sheet is sheet)
        forbidden = any(w.code.forbids("welding-cable", study.plan.setting) for w in wires)
        shown = ", ".join(f"`{w.name}`" for w in wires)
        yield Observation(
            message=f"welding cable `{name}` ({wires[0].size.name}) is the fixed wiring of {shown}",
            on=wires,
            level=None if forbidden else "note",
            remedy=Remedy(
                f"use {wires[0].size.name} of boat cable or battery cable; where it is marked "
                "for fixed wiring too, write that kind",
                tuple(
                    tuple(Change(w.name, "cable.kind", kind) for w in wires)
                    for kind in ("marine", "battery")
                ),
            ),
        )
