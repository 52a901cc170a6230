"""Whether a cable that sun or rain reaches is made for it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.study.wiring.wires import WireStudy
from wattproof_rules.plans import plan

FOR_OUTDOORS = ("pv", "marine")
"""Kinds of cable that standards make for sun, salt and rain."""
TOUCH_VOLTS = 60.0  # V, above which a bared conductor is dangerous to touch

BASIS = {
    "nec-2023": Clause(
        "NEC 690.31(C); 310.10(C) and (D)",
        "2017-2023",
        "single conductors in the open are PV wire or marked sunlight resistant and for wet places",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548; IEC 62930; EN 50618",
        "2016; 2017; 2014",
        "cable of an array stands ultraviolet light, water and the heat of a roof",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; IEC 62930",
        "2021; 2017",
        "cable of an array stands ultraviolet light, water and the heat of a roof",
        verified=False,
    ),
    "common practice": Clause(
        "print on the cable",
        "as supplied",
        "cable in the open is marked for sunlight and wet places",
        verified=True,
    ),
}

MORE = """\
datasheets:
  cables:
    roof-10: {size: 10 AWG, kind: building, insulation_temperature: 90 °C, voltage: 600 V,
            outdoor: true}
"""


@rule(
    id="cable-not-for-outdoors",
    summary="Cable in sunlight or wet places against what it is marked for.",
    covers=("Indoor cable in sun and rain",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Ultraviolet light breaks down the plastic of ordinary cable within a few summers: "
    "it chalks, cracks, and lets rain in. Water creeps along the strands to the nearest joint and "
    "eats it. Cable for roofs has an insulation that is cross-linked and blackened against the "
    "sun, and is marked for it.",
    fine="Where no sun and no water ever reaches it: write the place as it really is. A short "
    "piece under a module still has sun and rain from the side.",
    since="0.1.0",
    sound=plan(
        "van-in-sun",
        Edit("ambient: 60 °C", "ambient: 50 °C"),
        Edit("cable: pv-10", "cable: roof-10"),
        less=("datasheets.cables.pv-10",),
        more=MORE,
    ),
    faulty=Edit("outdoor: true", "outdoor: false"),
)
def cable_not_for_outdoors(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        told = wire.sheet.outdoor
        if told or (told is None and wire.sheet.kind in FOR_OUTDOORS):
            continue
        where = _in_the_open(wire, study)
        if not where:
            continue
        if not wire.made_for_outdoors:
            yield _not_marked(wire, where)


def _not_marked(wire: WireStudy, where: str) -> Observation:
    volts = wire.volts
    covered = wire.wire.enclosed or wire.wire.run == "conduit"
    contradicts = wire.sheet.kind in FOR_OUTDOORS  # and is told not to be marked for it
    touchable = volts is not None and exceeds(volts, TOUCH_VOLTS)
    at = f" at up to {volts}" if volts is not None else ""
    return Observation(
        message=f"`{wire.name}` ({wire.sheet.name}) lies in {where}{at}, and its cable is not made "
        "for that",
        on=(wire,),
        values=(volts,) if volts is not None else (),
        level="note" if covered or contradicts else "error" if touchable else None,
        remedy=_remedy(wire),
    )


def _remedy(wire: WireStudy) -> Remedy:
    marked = Change(wire.name, "cable.outdoor", "true")
    if wire.side != "array":
        words = "use cable of the same size that is marked for sunlight and wet places"
        return Remedy(words, ((marked,),))
    changes = [Change(wire.name, "cable.kind", "pv"), marked]
    if wire.sheet.type is not None:  # what is printed on the old one does not fit the new one
        changes.insert(0, Change(wire.name, "cable.type", wire.pv_type))
    return Remedy("use PV cable of the same size there", (tuple(changes),))


def _in_the_open(wire: WireStudy, study: Study) -> str:
    """The places on its way that sun or rain reaches, in words."""
    for name in wire.wire.place or ():
        place = study.plan.site.places[name]
        if place.sunlight or place.wet:
            what = [w for w, there in (("sun", place.sunlight), ("wet", place.wet)) if there]
            return f"`{name}` ({' and '.join(what)})"
    return ""
