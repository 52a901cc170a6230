"""Whether something notices an arc in an array on a building."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.site.climate import from_table
from wattproof.working import LookUp
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.11",
        "2014-2023",
        "from 80 V of direct current on, an array on or in a building has a listed device, or "
        "equipment listed to the same effect, that notices an arc and breaks it; where none is on "
        "a building, nothing is asked",
        verified=False,
    ),
    "common practice": practice(
        "where a building code asks for protection against arcs, its own text holds"
    ),
}

WHERE = LookUp(
    "whether {names} is on the roof of a building",
    "look; write its mounting, `roof-gap` or `roof-bonded` on a roof, `open-rack` or `ground` "
    "elsewhere",
)

MORE = """\
setting: cabin
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, frames_bonded: true}
"""


@rule(
    id="arc-protection-missing",
    summary="Whether something notices an arc in an array on a building, from the voltage on at "
    "which it is asked for.",
    covers=("An arc on a roof that nothing notices",),
    level="error",
    hazard="fire",
    part="string",
    basis=BASIS,
    explanation="A joint that has come loose, or a lead that an animal has bitten, goes on feeding "
    "an arc as long as there is sun: the current is no higher than usual, so no fuse opens. From "
    "some eighty volts on such an arc holds over a gap of millimetres and burns through what is "
    "around it. A device that knows the noise of an arc breaks the circuit instead.",
    caution=warning("An arc in an array burns on under its usual current and sets roofs on fire."),
    since="0.2.0",
    sound=plan(
        "van",
        Edit("blocks_reverse: true", "blocks_reverse: true, arc_fault_protection: true"),
        more=MORE,
    ),
    faulty=Edit("arc_fault_protection: true", "arc_fault_protection: false"),
)
def arc_protection_missing(study: Study) -> Iterator[Observation]:
    limit = study.codes.array.arc_protection_from
    if limit is None:
        return
    asked = from_table(limit, "Uarc")
    for array in study.array.arrays:
        volts, strings = array.voc("coldest"), study.array.on_building(array)
        strings = strings or study.array.on_cabin_roof(array)
        untold = () if strings else study.array.maybe_on_cabin_roof(array)
        strings = strings or untold
        if not strings or exceeds(asked, volts) or study.array.notices_arcs(array):
            continue
        controller = array.controller
        yield Observation(
            message=(
                f"the {array.name} is on a building and reaches {volts}; from {asked} on it "
                f"needs protection against arcs, and neither `{controller.name}` nor a device "
                "in its circuit detects one"
            ),
            on=(controller, *strings),
            values=(volts, asked),
            margin=margin_below(volts, asked),
            asks=WHERE if untold else None,
            remedy=Remedy(
                "use a controller that detects arcs and breaks them (`arc_fault_protection: "
                f"true` of `{controller.name}`); or put an arc-fault device for at least "
                f"{volts} into the wire to `{controller.name}.{array.array.port}`, under "
                "`arc_fault_devices`; or put fewer in series",
                ((Change(controller.name, "arc_fault_protection", "true"),),),
            ),
        )
