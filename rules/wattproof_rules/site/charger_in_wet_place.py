"""Controllers and chargers in places that rain or spray reaches."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 60364-5-51 table 51A; IEC 60529",
        "2005; 1989",
        "equipment has the degree of protection that the water where it stands asks for",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 110.11 and 110.28",
        "2023",
        "equipment is not put in damp or wet places unless it is made for them",
        verified=False,
    ),
    "common practice": practice(
        "controllers and chargers are made for dry rooms, unless their case is marked for rain"
    ),
}


@rule(
    id="charger-in-wet-place",
    summary="Controllers and chargers in places that rain or spray reaches.",
    covers=("Electronics in rain or spray",),
    level="warning",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="The cases of most controllers and chargers are open for their cooling. Water that "
    "runs in joins what must stay apart, bridges the battery over boards made for milliamperes, "
    "and leaves salts behind that go on conducting when it is dry. Array and battery feed what "
    "glows there from both sides.",
    caution=warning("Wet electronics between an array and a battery char and burn."),
    fine="Where its case is marked for rain or spray (IP65 and the like), or it stands in a box "
    "that keeps both off: give that box a place of its own without `wet`.",
    settings=("vehicle", "boat", "cabin"),
    elsewhere="what is carried about is put under cover by who carries it",
    since="0.5.0",
    sound=plan(
        "van",
        Edit("cabin: {ambient: 35 °C}", "cabin: {ambient: 35 °C, wet: false}"),
        Edit("blocks_reverse: true", "blocks_reverse: true, place: cabin"),
    ),
    faulty=Edit("wet: false", "wet: true"),
)
def charger_in_wet_place(study: Study) -> Iterator[Observation]:
    declared = study.plan
    charging = {*declared.all_controllers, *declared.chargers, *declared.converters}
    for placed in study.site.placed:
        unit, place = placed.component, placed.place
        if not (place.wet and unit.name in charging):
            continue
        if getattr(unit, "kind", "") == "alternator":
            continue  # made for the spray under a bonnet
        yield Observation(
            message=f"`{unit.name}` is in `{place.name}`, where rain or spray reaches it, and such "
            "units are made for dry places",
            on=(unit, place),
            remedy=f"put `{unit.name}` in the dry, or in a box that keeps rain and spray off, with "
            "a place of its own; or use one whose case is marked for it",
            cause=str(place.name),
        )
