"""Cables of a starter motor, by how long they bear its current."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import (
    Clause,
    Edit,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 60364-4-43 434.5.2; IEC 60364-5-54 Annex A",
        "2008; 2011",
        "in so short a time no heat leaves the conductor: it bears a current for (k S / I)²",
        verified=False,
    ),
    "common practice": practice(
        "a starter turns for up to 10 s at a time, and its cables have no fuse"
    ),
}


@record
class Limits:
    """What a project may set."""

    seconds: float = option(10.0, "How long (s) the starter turns at a time.")


MORE = """\
datasheets:
  cables:
    batt-10: {size: 10 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
              voltage: 600 V}
"""


@rule(
    id="cranking-cable-overheats",
    summary="How long the cables of a starter motor bear its current.",
    covers=("A starter on a cable that melts while the engine turns",),
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="A starter takes hundreds of amperes, and its cables have no fuse: nothing stops "
    "the current but the person at the key. In some seconds no heat leaves the copper, so how hot "
    "it gets depends on its area alone, however short it is. Half the area heats four times as "
    "fast, and an engine that does not start is turned again and again.",
    caution=warning(
        "The insulation of a starter cable that is too thin melts and burns within one start, with "
        "nothing to open the circuit."
    ),
    since="0.2.0",
    sound=plan("van-starter", more=MORE),
    faulty=Edit(
        "to: engine-starter, cable: batt-1-0, length: 1.5 m",
        "to: engine-starter, cable: batt-10, length: 25 cm",
    ),
    options=Limits,
)
def cranking_cable_overheats(study: Study, limits: Limits) -> Iterator[Observation]:
    for each in study.charging.cranking:
        for warmed in each.warmed:
            if warmed.lasts.number >= limits.seconds:
                continue
            wire, name = warmed.wire, each.starter.name
            enough = math.sqrt(limits.seconds / warmed.lasts.number)
            larger = next(
                (w for w in wire.larger_sizes() if w.size.area_mm2 >= enough * wire.size.area_mm2),
                None,
            )
            yield Observation(
                message=(
                    f"`{name}` draws {each.current}, which heats `{wire.name}` "
                    f"({wire.size.name}) from {wire.ambient} to the {wire.insulation} limit of "
                    f"its insulation in {warmed.lasts}"
                ),
                on=(wire, each.starter),
                values=(each.current, warmed.lasts, wire.ambient, wire.insulation),
                margin=warmed.lasts.number / limits.seconds - 1.0,
                remedy=Remedy(
                    f"use {larger.size.name} or larger for `{wire.name}`, as short as can be",
                    ((larger.as_change,),),
                )
                if larger is not None
                else f"use a cable of {enough:.1f} times the copper for `{wire.name}`",
            )
