"""Diode isolators, by the current of their sources."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice("a diode isolator is rated for all that its sources give together"),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
fuses:
  house-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  start-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.4 V, blocks_reverse: true, compensates_temperature: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_voltage: 14.7 V}
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah, max_charge_voltage: 14.7 V}
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
  start-run: {from: splitter.start-side, to: start, cable: batt-1-0, length: 1 m, place: engine,
              pole: positive, inline: [{start-fuse: {from_end: to, distance: 10 cm}}]}
  house-run: {from: splitter.house-side, to: house, cable: batt-1-0, length: 3 m,
              place: [engine, cabin], pole: positive,
              inline: [{house-fuse: {from_end: to, distance: 10 cm}}]}
  back-run: {from: house.negative, to: start.negative, cable: batt-1-0, length: 3 m,
             place: [engine, cabin]}
"""


@rule(
    id="isolator-over-rating",
    summary="Current of the sources of a diode isolator against its rating.",
    covers=("A diode isolator overloaded",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="A diode turns some 0.7 V of all that passes into heat: at a hundred amperes as "
    "much as a small stove. An isolator is built to get rid of that up to its rating. "
    "Above it the diodes run hot until they fail, most often as a short, and then one "
    "battery feeds the other through a lead that nobody thought of.",
    caution=warning("An overloaded isolator gets hot enough to set fire to what touches it."),
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit("splitter: {rating: 120 A", "splitter: {rating: 70 A"),
)
def isolator_over_rating(study: Study) -> Iterator[Observation]:
    for each in study.charging.isolated:
        if not exceeds(each.current, each.rating):
            continue
        names = " and ".join(f"`{source.name}`" for source in each.sources)
        amps = f"{math.ceil(each.current.number - 1e-9)} A"
        yield Observation(
            message=f"`{each.isolator.name}` gets up to {each.current} from {names} and is rated "
            f"{each.rating}",
            on=(each.isolator, *each.sources),
            values=(each.current, each.rating),
            margin=margin_below(each.current, each.rating),
            remedy=Remedy(
                f"use an isolator rated at least {amps}",
                ((Change(each.isolator.name, "rating", amps),),),
            ),
        )
