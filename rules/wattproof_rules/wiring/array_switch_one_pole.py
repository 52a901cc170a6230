"""Whether what cuts the array off opens both of its poles."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

POLES = ("positive", "negative")

BASIS = {
    "nec-2023": Clause(
        "NEC 690.13 and 690.15",
        "2017-2023",
        "what cuts an array off opens at once every conductor that is not solidly grounded",
        verified=True,
    ),
    "iec": Clause(
        "IEC 60364-7-712 712.536; IEC 62548",
        "2017; 2016",
        "the switch-disconnector of an array opens every live conductor, so both poles where "
        "neither is earthed",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "the switch of an array opens every live conductor at once",
        verified=False,
    ),
    "common practice": Clause(
        "maintenance of solar installations",
        "",
        "of an array that is tied to nothing both poles are live, and both are opened",
        verified=True,
    ),
}


@rule(
    id="array-switch-one-pole",
    summary="Whether what cuts the array off opens both poles.",
    covers=("A switch that opens one pole of an array",),
    level="note",
    hazard="shock",
    part="switch",
    basis=BASIS,
    explanation="With one pole open no current goes the usual way, but the other wire still joins "
    "the roof to the controller and its battery. If the wire that was opened is chafed on the roof "
    "and touches metal, that metal and the other wire have the voltage of the array between them, "
    "at the controller too, and one more fault lets a current flow around the open switch. A "
    "switch of two poles leaves nothing joined. It matters most at the higher voltages of a cabin. "
    "In a van or boat whose battery negative is tied to the chassis or the engine on purpose, one "
    "pole is usual: the positive, since a switch in the tied pole alone leaves the roof live.",
    fine="In a van or boat whose battery negative is tied to the chassis or the engine on "
    "purpose, and at voltages that may be touched.",
    since="0.1.0",
    sound=plan("van-in-sun"),
    faulty=Edit("poles: 2, load_break: true", "poles: 1, load_break: true"),
)
def array_switch_one_pole(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        switches = study.array.switches_of(array)
        tied = study.wiring.grounded_poles(array)
        left = [
            pole for pole in POLES if pole not in tied and not study.array.switches_of(array, pole)
        ]
        if not switches or not left or study.array.is_unplugged(array):
            continue
        devices = {passage.name: passage.device for passage in switches}
        names = quoted(devices)
        two_poles = tuple(Change(name, "poles", "2") for name in devices)
        volts, amps = array.voc("coldest"), array.isc("bright")
        way = f"the {' and the '.join(left)} of the {array.name}"
        against = f" against the ground that its {tied[0]} is tied to" if tied else ""
        yield Observation(
            message=f"with {names} open, {way} stays joined, and the modules still give up to "
            f"{volts}{against}",
            on=(*devices.values(), array.controller),
            values=(volts,),
            level="warning" if tied or study.plan.setting == "cabin" else None,
            remedy=_in_the_other_pole(names, left[0], tied[0], two_poles)
            if tied
            else Remedy(
                f"use a switch of two poles that may be opened under load, for at least "
                f"{volts} and {amps} DC; if the negative is tied to the chassis, the water or "
                "the earth, declare that in `bonds` instead",
                (two_poles,),
            ),
        )


def _in_the_other_pole(names: str, live: str, tied: str, two_poles: tuple[Change, ...]) -> Remedy:
    words = (
        f"put {names} into the {live}, since the {tied} has another way back by its tie, or use a "
        "switch of two poles"
    )
    return Remedy(words, ((), two_poles))
