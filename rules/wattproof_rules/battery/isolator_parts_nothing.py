"""Diode isolators, by whether the banks behind them are kept apart."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import exchanged
from wattproof.rule import Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.charging.isolators import Unparted
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "each output of a diode isolator leads to one bank, and nothing joins two of them behind it"
    ),
}


@rule(
    id="isolator-parts-nothing",
    summary="Banks that conductors join behind the diode isolator that should keep them apart.",
    covers=("Two banks on one output of an isolator", "A battery on the input of an isolator"),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="An isolator passes current to each bank and never from one to the other. Where "
    "two banks hang on one output, or a wire joins two outputs, they are in parallel all the same: "
    "what runs at night empties the battery that has to start the engine, and the diodes do "
    "nothing but cost voltage. So does a battery on the input: the diodes lead what it holds to "
    "those on the outputs, and nothing from there back to it.",
    caution=notice(
        "Both batteries are found empty together, and deep discharge ruins a starter's."
    ),
    fine="Where a switch that the plan does not tell parts the two banks.",
    since="0.2.0",
    sound=plan(
        "van-isolator",
        Edit("house-fuse: {rating: 125 A", "house-fuse: {rating: 150 A"),
        Edit("start-fuse: {rating: 125 A", "start-fuse: {rating: 150 A"),
        Edit("capacity: 90 Ah", "capacity: 200 Ah"),
        Edit(
            "to: start, cable: batt-1-0, length: 1 m", "to: start, cable: batt-1-0, length: 50 cm"
        ),
        Edit("to: house, cable: batt-1-0, length: 3 m", "to: house, cable: batt-1-0, length: 1 m"),
        Edit(
            "to: start.negative, cable: batt-1-0, length: 3 m",
            "to: start.negative, cable: batt-1-0, length: 1 m",
        ),
    ),
    faulty=Edit("house-run: {from: splitter.house-side,", "house-run: {from: splitter.start-side,"),
)
def isolator_parts_nothing(study: Study) -> Iterator[Observation]:
    for each in study.charging.unparted:
        name, banks = str(each.isolator.name), quoted(str(bank.name) for bank in each.banks)
        if not each.outputs:
            message = f"{banks} on the input of `{name}` empties into what is on its outputs"
            remedy = _to_outputs(each, study)
        elif len(each.outputs) == 1:
            unused = next(str(o) for o in each.isolator.outputs if str(o) not in each.outputs)
            message = (
                f"`{name}` does not keep {banks} apart: they are all on its output "
                f"`{each.outputs[0]}`"
            )
            remedy = Remedy(f"lead one of them to `{name}.{unused}`")
        else:
            outputs = quoted(f"{name}.{output}" for output in each.outputs)
            message = f"`{name}` keeps nothing apart: {outputs} are joined behind it, at {banks}"
            remedy = Remedy(f"take out the wire that joins {outputs}, or put a switch into it")
        yield Observation(message=message, on=(each.isolator, *each.banks), remedy=remedy)


def _to_outputs(each: Unparted, study: Study) -> Remedy:
    name, banks = str(each.isolator.name), quoted(str(bank.name) for bank in each.banks)
    if not each.fed:
        return Remedy(f"lead {banks} to an output of `{name}`, and what charges to its input")
    words = f"lead to `{name}.input` what is on `{name}.{each.fed}`, and to that one {banks}"
    return exchanged(study.plan, name, "input", each.fed, words)
