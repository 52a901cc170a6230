"""A relay between two banks that the charge from the sun closes."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below

BASIS = {
    "common practice": practice(
        "a relay that senses voltage takes any charge for the engine's; where the sun is to fill "
        "the house bank alone, it is switched by the engine or stands behind a charger"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  joiner: {rating: 100 A, voltage: 32 V, dc: true, load_break: true}
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  start-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  house-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.4 V, blocks_reverse: true}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  joining-run: {from: start, to: house, cable: batt-8, length: 30 cm, place: cabin,
                inline: [{start-fuse: {from_end: from, distance: 10 cm}}, joiner,
                         {house-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="relay-closes-in-sun",
    summary="Charge voltage from the sun against the voltage at which a relay joins two banks.",
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
    sound=SOUND,
    faulty=Edit(
        "dc: true, load_break: true}\n  pv-off",
        "dc: true, load_break: true, closes_above: 13.3 V}\n  pv-off",
    ),
)
def relay_closes_in_sun(study: Study) -> Iterator[Observation]:
    for sensed in study.charging.sensed_in_sun:
        relay, controller = sensed.relay, sensed.controller
        charge, closes = sensed.charge, sensed.closes
        if not exceeds(charge, closes):
            continue
        first, second = sensed.banks
        yield Observation(
            message=f"`{controller.name}` charges to {charge} in the sun, and `{relay.name}` "
            f"closes at {closes}: `{first.name}` and `{second.name}` then share the charge",
            on=(relay, controller),
            values=(charge, closes),
            margin=margin_below(charge, closes),
            remedy=Remedy(
                f"switch `{relay.name}` by the engine instead of by voltage and leave "
                "`closes_above` out, or put a battery charger in its place; or accept it as a "
                "trickle for the starter battery",
                ((Change(relay.name, "closes_above", ""),),),
            ),
        )
