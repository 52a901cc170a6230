"""Conductors that are too thin to stand being pulled and shaken."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.working import declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11.14",
        "2022",
        "single conductors are of 16 AWG or more; 18 AWG only inside a sheath or loom and no "
        "longer than 760 mm beyond it",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2020",
        "single conductors have 1 mm² or more, those in a sheath of several 0.75 mm²",
        verified=False,
    ),
}

MORE = """\
setting: boat
code: abyc-e11
datasheets:
  cables:
    thin: {size: 16 AWG, kind: marine, insulation_temperature: 105 °C, voltage: 600 V}
fuses:
  lamp-fuse: {rating: 5 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
loads:
  lamp: {current: 0.5 A, nominal: 12 V}
wires:
  lamp-run: {from: house, to: lamp, cable: thin, length: 2 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="conductor-too-thin",
    summary="Size of conductors against the thinnest that a boat's rules allow for their strength.",
    covers=("Wire that is too thin to be handled",),
    level="note",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="The current of a small lamp would go through a hair of copper. But what hangs "
    "along a boat is pulled at, stepped on and shaken for years, and a thin conductor breaks at "
    "its ends or chafes through. So the rules for boats set a least size that has nothing to do "
    "with current.",
    fine="Inside a case or a loom that takes the strain, where your body of rules lets it be.",
    since="0.1.0",
    sound=plan("van", Edit("kind: battery", "kind: marine"), more=MORE),
    faulty=Edit("thin: {size: 16 AWG", "thin: {size: 18 AWG"),
)
def conductor_too_thin(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        enclosed = bool(wire.wire.enclosed)
        least = wire.code.thinnest_conductor(enclosed=enclosed)
        if least is None or wire.size.area_mm2 >= least.size.area_mm2 * (1.0 - 1e-6):
            continue
        words = f"size of each conductor of {wire.name}"
        size = declared(wire.sheet.size, f"A({wire.name})", words)
        figure = least.figure
        limit = tabled(figure.value * 1e-6, "m²", "Amin", figure.what, figure.source)
        yield Observation(
            message=(
                f"`{wire.name}` is {size}; {least.size.name} is the thinnest that the "
                "rules for boats allow"
            )
            + (" in a sheath" if enclosed else ""),
            on=(wire,),
            values=(size, limit),
            margin=wire.size.area_mm2 / least.size.area_mm2 - 1.0,
            remedy=Remedy(
                f"use {least.size.name} or more for `{wire.name}`",
                ((wire.in_size(least.size).as_change,),),
            ),
        )
