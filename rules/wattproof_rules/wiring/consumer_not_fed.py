"""Loads and inverters on whose positive nothing gives current."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "each consumer is fed by a battery, or by a source whose output may feed it"
    ),
}

MORE = """\
fuses:
  lamp-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
loads:
  lamp: {current: 2 A, nominal: 12 V}
busbars:
  bar: {rating: 60 A, voltage: 60 V}
wires:
  bar-run: {from: house, to: bar, cable: batt-8, length: 50 cm, place: cabin,
            inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 2 m, place: cabin}
"""


@rule(
    id="consumer-not-fed",
    summary="Loads and inverters that are wired, and to which nothing gives current.",
    covers=("A consumer that is drawn apart from all sources",),
    level="warning",
    hazard="damage",
    part="conductor",
    basis=BASIS,
    explanation="What no source feeds draws no current in the calculation, so its wires, fuses and "
    "switches pass every check, however thin or large they are. It is a slip of the plan: a wire "
    "that ends at another terminal than was meant, or one that was forgotten. Whoever builds it "
    "will feed it somehow, past all that was checked.",
    fine="Where it is fed by something that the plan leaves out on purpose, as a second system.",
    since="0.7.0",
    sound=plan("van", more=MORE),
    faulty=Edit("bar-run: {from: house, to: bar", "bar-run: {from: lamp, to: bar"),
)
def consumer_not_fed(study: Study) -> Iterator[Observation]:
    for consumer in study.circuit.unfed:
        name = consumer.name
        yield Observation(
            message=f"nothing feeds `{name}`: no battery and no source is on its positive, so that "
            "nothing was checked of what leads to it",
            on=(consumer,),
            remedy=f"lead `{name}` to the panel, busbar or battery that is to feed it, through a "
            "fuse that protects its wire",
        )
