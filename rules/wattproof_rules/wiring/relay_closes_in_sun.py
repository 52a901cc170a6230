"""A relay between two banks that the charge from the sun closes."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import enumerated
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a relay that senses voltage takes any charge for the engine's; where the sun is to fill "
        "the house bank alone, it is switched by the engine or stands behind a charger"
    ),
}

MORE = """\
switches:
  joiner: {rating: 100 A, voltage: 32 V, dc: true, load_break: true}
fuses:
  start-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  house-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
wires:
  joining-run: {from: start, to: house, cable: batt-8, length: 30 cm, place: cabin,
                inline: [{start-fuse: {from_end: from, distance: 10 cm}}, joiner,
                         {house-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="relay-closes-in-sun",
    summary="Charge voltage from the sun against the voltage at which a relay joins two banks.",
    covers=("A relay that couples two banks in the sun",),
    level="note",
    hazard="lost-energy",
    part="switch",
    basis=BASIS,
    explanation="A relay that senses voltage is meant to join the banks while the engine runs, "
    "which it tells from the voltage that rises then. A solar controller raises it as well. So on "
    "every sunny day the relay joins the starter battery to the house bank, which shares in the "
    "charge and, for as long as the voltage stays up, in what the loads draw. That is welcome as a "
    "trickle, and a loss where the house bank needs all of it.",
    caution=notice(
        "When a cloud passes the relay may go on and off many times, and wear out its contacts."
    ),
    fine="Where the starter battery is meant to be kept full by the sun and its loads are small.",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("charge_voltage: 14.2 V", "charge_voltage: 14.4 V"),
        less=("batteries.house",),
        more=MORE,
    ),
    faulty=Edit(
        "dc: true, load_break: true}\nfuses",
        "dc: true, load_break: true, closes_above: 13.3 V}\nfuses",
    ),
)
def relay_closes_in_sun(study: Study) -> Iterator[Observation]:
    for sensed in study.charging.sensed_in_sun:
        relay, controller = sensed.relay, sensed.controller
        charge, closes = sensed.charge, sensed.closes
        if not exceeds(charge, closes):
            continue
        first, second = sensed.banks
        told = ("`closes_above`", *(("`opens_below`",) if relay.opens_below is not None else ()))
        yield Observation(
            message=f"`{controller.name}` charges to {charge} in the sun, and `{relay.name}` "
            f"closes at {closes}: `{first.name}` and `{second.name}` then share the charge",
            on=(relay, controller),
            values=(charge, closes),
            margin=margin_below(charge, closes),
            remedy=f"switch `{relay.name}` by the engine instead of by voltage and leave "
            f"{enumerated(told)} out, or put a battery charger in its place; or accept it as a "
            "trickle for the starter battery",
        )
