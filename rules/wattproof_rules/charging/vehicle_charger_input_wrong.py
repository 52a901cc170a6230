"""Vehicle chargers whose input is on the side that they charge."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.charging.alternators import WrongInput

BASIS = {
    "common practice": practice(
        "a vehicle charger takes from the side of the alternator and gives to the other battery"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: iso-13297
site: {coldest: -10 °C, hottest: 35 °C,
       places: {inside: {ambient: 40 °C, coldest: 3 °C}, bay: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    flex-16: {size: 16 mm², kind: marine, material: copper, insulation_temperature: 105 °C,
              voltage: 600 V}
    starter-50: {size: 50 mm², kind: marine, material: copper, insulation_temperature: 105 °C,
                 voltage: 600 V}
fuses:
  alternator-fuse: {rating: 150 A, voltage: 58 V, interrupt: 10 kA, style: stud-mounted, dc: true}
  start-fuse: {rating: 60 A, voltage: 58 V, interrupt: 10 kA, style: stud-mounted, dc: true}
  house-fuse: {rating: 60 A, voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true}
controllers:
  twin: {kind: vehicle-charger, max_input_voltage: 25 V, max_output_current: 30 A, boost: true,
         charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah, max_charge_current: 120 A,
          max_charge_voltage: 14.8 V, short_circuit_current: 2.7 kA, place: bay}
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, place: inside,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
chargers:
  alternator: {kind: alternator, max_output_current: 110 A, charge_voltage: 14.4 V, nominal: 12 V}
wires:
  alternator-run: {from: alternator, to: start, cable: starter-50, length: 1 m, place: bay,
                   inline: [{alternator-fuse: {from_end: to, distance: 10 cm}}]}
  input-run: {from: start, to: twin.alternator, cable: flex-16, length: 5 m, place: [bay, inside],
              inline: [{start-fuse: {from_end: from, distance: 10 cm}}]}
  output-run: {from: twin.battery, to: house, cable: flex-16, length: 80 cm, place: inside,
               inline: [{house-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="vehicle-charger-input-wrong",
    summary="Side from which a vehicle charger takes its input, against the alternator's.",
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A vehicle charger is a one-way pump from its alternator terminals to its battery "
    "terminals. Where both are on one battery it pumps in a circle, and what it loses as heat "
    "comes out of that battery. Where the two sides are exchanged it empties the battery that it "
    "was bought to fill, into one that the alternator fills anyway.",
    sound=SOUND,
    faulty=Edit("input-run: {from: start,", "input-run: {from: house,"),
)
def vehicle_charger_input_wrong(study: Study) -> Iterator[Observation]:
    for wrong in study.charging.wrong_inputs:
        others = (wrong.alternator,) if wrong.alternator else (b.battery for b in wrong.itself)
        yield Observation(
            message=_message(wrong),
            on=(wrong.charger, *others),
            remedy=f"lead `{wrong.charger.name}.alternator` to the side of the alternator, and "
            f"`{wrong.charger.name}.battery` to the battery that it is to fill",
        )


def _message(wrong: WrongInput) -> str:
    name = wrong.charger.name
    if wrong.alternator is not None:
        return (
            f"`{name}` charges the side that `{wrong.alternator.name}` charges, and takes from one "
            "that has no alternator: its two sides are exchanged"
        )
    banks = " and ".join(f"`{bank.name}`" for bank in wrong.itself) or "the side that it charges"
    return f"`{name}` takes its input from what it charges, {banks}: it pumps in a circle"
