"""Modules with a regulator built on, plugged into the solar input of a controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import labelled
from wattproof.rule import Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "one controller stands between modules and battery: the output of a regulator is never "
        "led into the solar input of another"
    ),
}


@rule(
    id="controller-feeds-controller",
    summary="Whether a module with a regulator of its own feeds a controller's solar input.",
    covers=("A regulator before a controller",),
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="A regulator on the back of a module expects a battery at its output, whose "
    "voltage tells it what to do. Behind a second controller it sees none: it switches on and "
    "off, or holds a voltage that the second one takes for a weak array. At best little is "
    "charged; at worst one of the two is destroyed by the voltage swings of the other.",
    caution=notice("Two controllers in a row can destroy each other."),
    fine="Where the makers of both say that they work behind each other.",
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit(
            "max_system_voltage: 600 V",
            "max_system_voltage: 600 V,\n                regulated: false",
        ),
    ),
    faulty=Edit("regulated: false", "regulated: true"),
)
def controller_feeds_controller(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        regulated = {
            str(s.source.string.name): s.source.string
            for s in array.all_strings
            if any(m.sheet.regulated for m in s.modules)
        }
        if not regulated:
            continue
        names = quoted(regulated)
        yield Observation(
            message=f"{names} has a regulator built on and feeds the solar input of "
            f"`{array.controller.name}`, which is a second one",
            on=(array.controller, *regulated.values()),
            remedy=_remedy(array),
        )


def _remedy(array: ArrayStudy) -> Remedy:
    words = (
        f"bypass the regulator, so that the module's own leads reach `{array.controller.name}`, "
        "where its maker allows that; or lead its output straight to the battery, through a fuse "
        "at the battery"
    )
    bypassed = dict.fromkeys(
        change
        for string in array.all_strings
        for module in string.modules
        if module.sheet.regulated
        for change in labelled([string.source.string], module, "regulated", "false")
    )
    return Remedy(words, (tuple(bypassed),))
