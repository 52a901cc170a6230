"""Negatives of a controller with a common positive that are tied past the controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.grounding import TiedPole
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a controller whose positives are common switches the negatives; its array and load "
        "negatives are joined to nothing else"
    ),
}

WHAT = {"pv": "array", "load": "load"}

MORE = """\
controllers:
  regulator: {kind: pwm, max_input_voltage: 50 V, max_output_current: 20 A, charge_voltage: 14.4 V,
              load_current: 15 A, blocks_reverse: true, common: negative}
batteries:
  house: {chemistry: flooded, nominal: 12 V, capacity: 110 Ah, max_charge_current: 25 A,
          max_charge_voltage: 14.8 V}
loads:
  lights: {current: 3 A, nominal: 12 V}
wires:
  lights-feed: {from: regulator.load.positive, to: lights.positive, cable: batt-8, length: 3 m,
                place: cabin}
  lights-return: {from: lights.negative, to: house.negative, cable: batt-8, length: 3 m,
                  place: cabin}
  load-return: {from: regulator.load.negative, to: lights.negative, cable: batt-8, length: 3 m,
                place: cabin}
"""


@rule(
    id="common-positive-controller-grounded",
    summary="Array and load negatives of a controller with a common positive, tied elsewhere.",
    covers=("A controller that switches the negative, grounded past it",),
    level="error",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="A controller has its switch in one of the two poles; the other runs straight "
    "through. Where the positive runs through, the switch is in the negative, so array, load and "
    "battery negative are at unlike voltages on purpose. A tie between them, over a busbar or "
    "over the chassis, bridges the switch: the array then charges without control, or the loads "
    "are never switched off, through a path that has no fuse.",
    caution=warning(
        "With the switch bridged the battery is overcharged without limit and can gas, burst or "
        "burn."
    ),
    since="0.1.0",
    sound=plan(
        "van",
        Edit("series: 3", "series: 1"),
        Edit("to: tracker.pv", "to: regulator.pv"),
        Edit("from: tracker.battery", "from: regulator.battery"),
        less=("controllers.tracker",),
        more=MORE,
    ),
    faulty=Edit("common: negative", "common: positive"),
)
def common_positive_controller_grounded(study: Study) -> Iterator[Observation]:
    for tied in study.wiring.tied_poles:
        yield Observation(
            message=f"`{tied.controller.name}` has its positive in common, and its "
            f"{WHAT[tied.port]} negative is tied to {_tied_to(tied)}",
            on=(tied.controller,),
            remedy=Remedy(
                f"leave `{tied.controller.name}.{tied.port}.negative` joined to nothing but the "
                f"{WHAT[tied.port]}; or use a controller with a common negative",
                ((Change(tied.controller.name, "common", "negative"),),),
            ),
            level=None if tied.sure else "warning",
        )


def _tied_to(tied: TiedPole) -> str:
    if not tied.ground:
        return "the battery's negative"
    beyond = ", as the battery's is" if tied.sure else ", which other negatives may share"
    return f"the {tied.ground}{beyond}"
