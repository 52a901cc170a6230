"""The air around a cable against what its insulation stands."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof_rules.plans import plan

CLASSES = (60.0, 75.0, 90.0, 105.0, 125.0, 150.0, 200.0)  # °C, of insulations that are sold
ROOM = 20.0  # K, what a class must have over the air to carry a useful current

BASIS = {
    "nec-2023": Clause(
        "NEC 310.14(A)(3) and 310.15(B)",
        "2020-2023",
        "no conductor is used where its insulation would get hotter than it is rated for; above "
        "the end of the tables of factors the equation behind them holds",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.16.1.3.4); 33 CFR 183.430",
        "2003 and later",
        "conductors in engine spaces are rated for at least 75 °C, and carry less there",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-5-52 522.1 and 523.1",
        "2009",
        "wiring is chosen so that the highest local temperature and the heat of its own current "
        "stay within what its insulation stands",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2022",
        "conductors in engine spaces are rated for at least 70 °C, and carry less there",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000 3.4.2; AS/NZS 3008.1",
        "2018; 2017",
        "a conductor is chosen so that the air around it and its own current keep it within what "
        "its insulation stands",
        verified=False,
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 60 °C, sunlight: true}, cabin: {ambient: 35 °C},
                beside-engine: {ambient: 60 °C}}}
"""


@rule(
    id="insulation-too-cool",
    summary="Ambient on the way of a cable against the temperature rating of its insulation.",
    covers=("Insulation cooler than its surroundings",),
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="The rating of an insulation is the heat that it stands in all: that of the air "
    "and that of the current together. Where the air takes up the whole of it, nothing is left for "
    "the current, however thick the metal is. The plastic softens and creeps away under a clip or "
    "on an edge, or gets brittle and cracks, and then the conductor lies bare.",
    caution=warning("Softened insulation bares a live conductor on metal, behind panels, unseen."),
    since="0.1.0",
    sound=plan("van-in-sun", Edit("place: cabin", "place: beside-engine"), more=MORE),
    faulty=Edit(
        "material: copper, insulation_temperature: 105 °C",
        "material: copper, insulation_temperature: 60 °C",
    ),
)
def insulation_too_cool(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        if not wire.too_hot:
            continue
        ambient, insulation = wire.ambient, wire.insulation
        yield Observation(
            message=_message(wire),
            on=(wire,),
            values=(ambient, insulation),
            margin=margin_below(ambient, insulation),
            remedy=_remedy(wire),
        )


def _message(wire: WireStudy) -> str:
    if wire.refused is not None and wire.ambient < wire.insulation:
        return f"`{wire.name}`: {wire.refused}"
    return (
        f"the air around `{wire.name}` reaches {wire.ambient} and its insulation is rated "
        f"{wire.insulation}: it may carry no current there"
    )


def _remedy(wire: WireStudy) -> Remedy | str:
    needed = wire.ambient.number + ROOM
    enough = (each for each in CLASSES if each >= needed)
    fitting = next((each for each in enough if not wire.insulated_for(each).too_hot), None)
    if fitting is None:
        return "lead it where it is cooler: by the tables no insulation carries current in that air"
    words = f"use cable with insulation for {fitting:g} °C or more, or lead it where it is cooler"
    return Remedy(words, ((Change(wire.name, "cable.insulation_temperature", f"{fitting:g} °C"),),))
