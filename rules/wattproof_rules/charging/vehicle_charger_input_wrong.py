"""Vehicle chargers whose input is on the side that they charge."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import exchanged
from wattproof.rule import Edit, Observation, Remedy, practice, rule
from wattproof.study import Study
from wattproof.study.charging.alternators import WrongInput
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a charger between two batteries takes from the side of the alternator and gives to the "
        "other battery"
    ),
}


@rule(
    id="vehicle-charger-input-wrong",
    summary="Side from which a charger between batteries takes its input, against the "
    "alternator's.",
    covers=("A vehicle charger the wrong way round", "Two chargers that feed each other"),
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A vehicle charger is a one-way pump from its alternator terminals to its battery "
    "terminals. Where both are on one battery it pumps in a circle, and what it loses as heat "
    "comes out of that battery; so it does with a second charger that leads back. Where the two "
    "sides are exchanged it empties the battery that it was bought to fill, into one that the "
    "alternator fills anyway.",
    fine="Where the charger is made to work both ways and says so, or a converter is there to keep "
    "the starting battery full.",
    since="0.1.0",
    sound=plan("alternator"),
    faulty=Edit("input-run: {from: start,", "input-run: {from: house,"),
)
def vehicle_charger_input_wrong(study: Study) -> Iterator[Observation]:
    for wrong in study.charging.wrong_inputs:
        others = (wrong.alternator,) if wrong.alternator else (b.battery for b in wrong.itself)
        yield Observation(
            message=_message(wrong),
            on=(wrong.charger, *others),
            remedy=_remedy(wrong, study),
        )
    for ring in study.charging.rings:
        names = quoted(charger.name for charger in ring.chargers)
        alone = len(ring.chargers) == 1
        yield Observation(
            message=f"{names} takes its input from what it charges: it pumps in a circle"
            if alone
            else f"{names} each take from what the other charges: together they pump in a circle",
            on=ring.chargers,
            remedy=f"lead the input of {names} to another battery"
            if alone
            else f"let {names} never work at once, as by the signal of the ignition, and write "
            "that under `never_with`; or leave one of them out",
        )


def _remedy(wrong: WrongInput, study: Study) -> Remedy:
    name = wrong.charger.name
    words = (
        f"lead `{name}.{wrong.input}` to the side of the alternator, and `{name}.{wrong.output}` "
        "to the battery that it is to fill"
    )
    if wrong.alternator is None:
        return Remedy(words)
    return exchanged(study.plan, name, wrong.input, wrong.output, words)


def _message(wrong: WrongInput) -> str:
    name = wrong.charger.name
    if wrong.alternator is not None:
        return (
            f"`{name}` charges the side that `{wrong.alternator.name}` charges, and takes from one "
            "that has no alternator: its two sides are exchanged"
        )
    banks = quoted(bank.name for bank in wrong.itself) or "the side that it charges"
    return f"`{name}` takes its input from what it charges, {banks}: it pumps in a circle"
