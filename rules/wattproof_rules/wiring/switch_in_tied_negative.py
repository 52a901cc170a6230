"""Switches that open a negative alone which stays tied to the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule, warning
from wattproof.study import Study
from wattproof.words import enumerated
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 404.2(B)",
        "2014-2023",
        "a switch or breaker does not open a conductor that is tied to ground, unless it opens all "
        "conductors of its circuit together",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11, switches",
        "2003 and later",
        "switches are in the conductors that are not tied to ground; one in a negative opens all "
        "conductors together",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-5-53, switching",
        "2019",
        "a single switching device does not open the conductor that is tied to earth alone",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297, switches",
        "2020",
        "a switch with one pole is in the positive conductor of a system whose negative is tied to "
        "ground",
        verified=False,
    ),
    "common practice": Clause(
        "vehicle and boat wiring",
        "",
        "a switch for one consumer is in its positive",
        verified=True,
    ),
}

MORE = """\
bonds:
  chassis-bond: {from: house.negative, to: chassis, cable: batt-8, length: 50 cm}
loads:
  pump: {current: 5 A}
switches:
  pump-off: {rating: 16 A, voltage: 48 V, dc: true, poles: 1, load_break: true}
fuses:
  pump-fuse: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  pump-plus: {from: house.positive, to: pump.positive, cable: batt-8, length: 2 m, place: cabin,
              inline: [{pump-fuse: {from_end: from, distance: 0 cm}}, pump-off]}
  pump-minus: {from: pump.negative, to: house.negative, cable: batt-8, length: 2 m, place: cabin}
"""


@rule(
    id="switch-in-tied-negative",
    summary="Which pole a switch opens, where the negative is tied to ground.",
    covers=("A switch that leaves the positive live",),
    level="warning",
    hazard="fire",
    part="switch",
    basis=BASIS,
    explanation="A negative that is tied to the chassis, the water or the earth has a way back "
    "past its cable: through every bolt, hinge and shaft. A switch in it stops the current of the "
    "cable, and the positive stays live as far as the consumer. Where its insulation wears through "
    "there, or its case touches metal, the current flows on with the switch off, and a pump starts "
    "or a winding burns while everybody takes it for dead.",
    caution=warning(
        "What is switched off so is live: whoever works on it can draw an arc, or start it."
    ),
    fine="Where the switch parts the battery from all of it, tie included, as the main switch of "
    "many lorries does; or where the maker of a device has it switched in its negative.",
    since="0.3.0",
    sound=plan("van", more=MORE),
    faulty=Edit(
        "inline: [{pump-fuse: {from_end: from, distance: 0 cm}}, pump-off]}\n"
        "  pump-minus: {from: pump.negative, to: house.negative, cable: batt-8, length: 2 m, "
        "place: cabin}",
        "inline: [{pump-fuse: {from_end: from, distance: 0 cm}}]}\n"
        "  pump-minus: {from: pump.negative, to: house.negative, cable: batt-8, length: 2 m, "
        "place: cabin, inline: [pump-off]}",
    ),
)
def switch_in_tied_negative(study: Study) -> Iterator[Observation]:
    for each in study.wiring.tied_switches:
        name = each.device.name
        behind = enumerated(f"`{consumer.name}`" for consumer in each.behind)
        yield Observation(
            message=f"`{name}` opens the negative of {behind} alone, and that of `{each.bank}` is "
            f"tied to the {each.ground} by `{each.tie.name}`: the positive stays live",
            on=(each.device, each.tie, *each.behind),
            remedy=f"put `{name}` into the positive of {behind}, behind its fuse; or use a switch "
            "that opens both poles, and draw it in both",
            level="note" if each.by_itself else None,
        )
