"""A return conductor against the fuses of the positives whose current it carries back."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.guards import Guard
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 240.4; 240.21",
        "2014-2023",
        "every conductor is protected at its ampacity, the return among them: the device in the "
        "positive protects both when both are large enough for it",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (direct-current returns)",
        "2003 and later",
        "a return conductor, shared ones too, is large enough for the positive conductors that it "
        "serves",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-4-43 431.2",
        "2008",
        "a return of smaller size than the positive needs protection of its own",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 60364-4-43 431.2",
        "2008",
        "a return is as large as the positive, or protected by itself",
        verified=False,
    ),
}

MORE = """\
datasheets:
  cables:
    batt-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
wires:
  inverter-positive: {from: main-bar.positive, to: mains.positive, cable: batt-1-0, length: 0.6 m,
                      place: cabin}
  inverter-negative: {from: mains.negative, to: main-bar.negative, cable: batt-1-0, length: 0.6 m,
                      place: cabin}
"""


@rule(
    id="negative-smaller-than-positive",
    summary="A single negative conductor against the largest device of the positives it returns.",
    covers=("A negative thinner than its positive",),
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="All the current that leaves by the positive comes back by the negative. The fuse "
    "sits in the positive and is chosen for that wire; when what is at its end takes too much, "
    "the same current flows in the negative for just as long. A negative that is thinner has no "
    "fuse of its own, and gets hot while the fuse in the positive still carries its rating.",
    caution=warning("An overloaded negative gets as hot as a positive, and no fuse guards it."),
    sound=plan("van-in-sun-inverter", less=("wires.inverter-run",), more=MORE),
    faulty=Edit("to: main-bar.negative, cable: batt-1-0", "to: main-bar.negative, cable: batt-1"),
    acceptable=False,
)
def negative_smaller_than_positive(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        may = wire.carrying
        if wire.side != "battery" or isinstance(may, str) or wire.too_hot:
            continue
        if any(part.pole != "negative" for part in wire.conductors):
            continue
        guard = _largest(wire, study)
        if guard is None or not exceeds(guard.rating, may.device_limit):
            continue
        best = wire.device_limit_at_best()
        devices = " and ".join(
            f"`{name}`" for name in dict.fromkeys(d.name for d in guard.limiting)
        )
        yield Observation(
            message=f"negative `{wire.name}` ({wire.size.name}) returns what `{guard.wire.name}` "
            f"brings, behind {devices} with {guard.rating}; at most {may.device_limit} protects it",
            on=(wire, guard.wire),
            values=(guard.rating, may.device_limit),
            margin=margin_below(guard.rating, may.device_limit),
            remedy=_remedy(wire, guard.rating),
            whatever=best is not None and exceeds(guard.rating, best),
        )


def _largest(wire: WireStudy, study: Study) -> Guard | None:
    """The positive with the largest device, of those that end at what the negative returns."""
    returned: set[str] = set()
    for part in wire.conductors:
        sides = study.wiring.neighbours_of(part)
        banked = [bool(side.banks) for side in sides or ()]
        for side in sides or ():
            if not side.banks and any(banked):
                returned |= {str(c.name) for c in (*side.consumers, *side.sources)}
    found = [
        guard
        for guard in study.protection.guards
        if {guard.part.start.component, guard.part.end.component} & returned
        and math.isfinite(guard.rating.number)
    ]
    return max(found, key=lambda guard: guard.rating.number, default=None)


def _remedy(wire: WireStudy, rating: Value) -> Remedy | str:
    """The smallest size that the device protects."""
    for proposed in wire.larger_sizes():
        may = proposed.carrying
        if isinstance(may, Carrying) and not exceeds(rating, may.device_limit):
            words = f"use {proposed.size.name} for `{wire.name}`, as for the positive"
            return Remedy(words, ((proposed.as_change,),))
    return "use a smaller device in the positive, or divide the circuit"
