"""Adapters between plugs, each of which may swap the poles."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, counted
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33",
        "2023",
        "connectors of arrays are polarised, and do not fit others of the same premises",
        verified=True,
    ),
    "common practice": practice(
        "makers wire flat and genderless plugs both ways round, so that the pole of every contact "
        "is measured at the last adapter before it is plugged in"
    ),
}


@rule(
    id="plug-polarity-unsure",
    summary="Adapters from one kind of plug to another, each of which may swap the poles.",
    covers=("Adapters that swap the poles",),
    level="warning",
    hazard="damage",
    part="connector",
    basis=BASIS,
    explanation="Plugs with two like contacts have no fixed pole: one maker puts positive on the "
    "left, the next on the right, and an adapter between them may cross them once more. The plan "
    "shows what is meant, not what the adapter in the hand does. A controller that gets an array "
    "the wrong way round while its battery is connected can be destroyed at once.",
    caution=warning(
        "The bare pins of an adapter are live while the sun shines on the array; a crossed one "
        "makes a short or a fire in what it is plugged into."
    ),
    fine="Where the polarity behind every adapter was measured, and the pair is marked or tied "
    "together for good.",
    since="0.1.0",
    sound=plan("van", Edit("],", "],\n             plug: genderless-50, adapters: 0,")),
    faulty=Edit("adapters: 0", "adapters: 1"),
)
def plug_polarity_unsure(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        written = wire.wire.adapters
        if not written:
            continue
        count = counted(written, written.text, written.place, "n", f"adapters in {wire.name}")
        volts = wire.volts
        adapters = "an adapter" if int(written) == 1 else f"{int(written)} adapters"
        each = "which may swap" if int(written) == 1 else "each of which may swap"
        yield Observation(
            message=f"`{wire.name}` has {adapters} in it, {each} the poles"
            + (f" of up to {volts}" if volts is not None else ""),
            on=(wire,),
            values=_shown(count, wire),
            remedy=Remedy(
                "put one kind of plug on both sides and leave the adapters out; else measure which "
                "contact is positive at the last one, mark it, and tie the adapters to the lead",
                ((Change(wire.name, "adapters", "0"),),),
            ),
        )


def _shown(count: Value, wire: WireStudy) -> tuple[Value, ...]:
    return (count,) if wire.volts is None else (count, wire.volts)
