"""A battery that feeds its array at night, through a controller that does not block."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "between a battery and its array something blocks: the controller, or a diode"
    ),
}


MORE = """\
fuses:
  string-fuse: {rating: 10 A, voltage: 1000 V, style: gpv, interrupt: 10 kA, dc: true}
"""


@rule(
    id="controller-drains-at-night",
    summary="Whether battery current can flow back into the array when it is dark.",
    covers=("A battery that empties into its modules",),
    level="note",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="In the dark a module is a row of diodes that conducts a little from the battery's "
    "plus to its minus. A controller that does not block lets that run all night, and all day "
    "while snow lies on the modules. It also makes the battery a source on the array's side: a "
    "short in a lead there is fed with all that it can give, until the charge fuse opens.",
    fine="Where a diode in each string blocks, which `blocking_diode` tells.",
    since="0.3.0",
    sound=plan("van", Edit("inline: [pv-off]", "inline: [string-fuse, pv-off]"), more=MORE),
    faulty=Edit("blocks_reverse: true", "blocks_reverse: false"),
)
def controller_drains_at_night(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        open_ones = [s for s in array.declared_strings if s.blocking_diode is None]
        if not study.array.leaks(array.controller) or not open_ones:
            continue
        name = array.controller.name
        yield Observation(
            message=f"`{name}` does not block: in the dark the battery behind it feeds the "
            f"{array.name}, and a short on that side all day",
            on=(array.controller, *open_ones),
            remedy=Remedy(
                f"use a controller that blocks (`blocks_reverse: true` of `{name}`), or a diode "
                "for the string's current in each string (`blocking_diode`)",
                ((Change(name, "blocks_reverse", "true"),),),
            ),
        )
