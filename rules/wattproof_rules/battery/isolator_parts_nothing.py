"""Diode isolators, by whether the banks behind them are kept apart."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "each output of a diode isolator leads to one bank, and nothing joins two of them behind it"
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
fuses:
  house-fuse: {rating: 150 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  start-fuse: {rating: 150 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.4 V, blocks_reverse: true, compensates_temperature: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_voltage: 14.7 V}
  start: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_voltage: 14.7 V}
chargers:
  alternator: {kind: alternator, max_output_current: 90 A, charge_voltage: 14.4 V}
diode_isolators:
  splitter: {rating: 120 A, outputs: [start-side, house-side], sensed: true}
bonds:
  start-bond: {from: start.negative, to: chassis, cable: batt-1-0}
wires:
  alternator-run: {from: alternator, to: splitter.input, cable: batt-1-0, length: 1 m,
                   place: engine,
                   pole: positive}
  start-run: {from: splitter.start-side, to: start, cable: batt-1-0, length: 50 cm, place: engine,
              pole: positive, inline: [{start-fuse: {from_end: to, distance: 10 cm}}]}
  house-run: {from: splitter.house-side, to: house, cable: batt-1-0, length: 1 m,
              place: [engine, cabin], pole: positive,
              inline: [{house-fuse: {from_end: to, distance: 10 cm}}]}
  back-run: {from: house.negative, to: start.negative, cable: batt-1-0, length: 1 m,
             place: [engine, cabin]}
"""


@rule(
    id="isolator-parts-nothing",
    summary="Banks that conductors join behind the diode isolator that should keep them apart.",
    covers=("Two banks on one output of an isolator",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="An isolator passes current to each bank and never from one to the other. Where "
    "two banks hang on one output, or a wire joins two outputs, they are in parallel all the same: "
    "what runs at night empties the battery that has to start the engine, and the diodes do "
    "nothing but cost voltage.",
    caution=notice(
        "Both batteries are found empty together, and deep discharge ruins a starter's."
    ),
    fine="Where a switch that the plan does not tell parts the two banks.",
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit("house-run: {from: splitter.house-side,", "house-run: {from: splitter.start-side,"),
)
def isolator_parts_nothing(study: Study) -> Iterator[Observation]:
    for each in study.charging.unparted:
        name, banks = str(each.isolator.name), quoted(str(bank.name) for bank in each.banks)
        if len(each.outputs) == 1:
            unused = next(str(o) for o in each.isolator.outputs if str(o) not in each.outputs)
            message = (
                f"`{name}` keeps {banks} not apart: all of them hang on its output "
                f"`{each.outputs[0]}`"
            )
            remedy = f"lead one of them to `{name}.{unused}`"
        else:
            outputs = quoted(f"{name}.{output}" for output in each.outputs)
            message = f"`{name}` keeps nothing apart: {outputs} are joined behind it, at {banks}"
            remedy = f"take out the wire that joins {outputs}, or put a switch into it"
        yield Observation(message=message, on=(each.isolator, *each.banks), remedy=remedy)
