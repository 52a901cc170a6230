"""A return conductor against the fuses of the positives whose current it carries back."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted
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
    since="0.1.0",
    sound=plan("van-in-sun-inverter", less=("wires.inverter-run",), more=MORE),
    faulty=Edit("to: main-bar.negative, cable: batt-1-0", "to: main-bar.negative, cable: batt-1"),
)
def negative_smaller_than_positive(study: Study) -> Iterator[Observation]:
    seen = {
        back.wire.name for each in study.protection.over_both.values() for back in each
    }  # of which the device of both is said to be too large
    for answer in study.protection.allowed:
        wire = answer.wire
        if answer.kind != "return" or answer.reason != "too large" or wire.name in seen:
            continue
        assert answer.most is not None
        seen.add(wire.name)
        devices = quoted(dict.fromkeys(d.name for d in answer.devices))
        returns = f"the return of `{answer.brings.name}`" if answer.brings else "a return"
        yield Observation(
            message=f"`{wire.name}` ({wire.size.name}), {returns}, is guarded by {devices} only, "
            f"{answer.lasting}; {answer.most} is the largest that protects it",
            on=(wire, *([answer.brings] if answer.brings else [])),
            values=(answer.lasting, answer.most),
            margin=margin_below(answer.lasting, answer.most),
            remedy=_remedy(wire, answer.lasting),
        )


def _remedy(wire: WireStudy, rating: Value) -> Remedy | str:
    """The smallest size that the device protects."""
    for proposed in wire.larger_sizes():
        if proposed.is_protected_by(rating):
            words = f"use {proposed.size.name} for `{wire.name}`, as for the positive"
            return Remedy(words, ((proposed.as_change,),))
    return "use a smaller device in the positive, or divide the circuit"
