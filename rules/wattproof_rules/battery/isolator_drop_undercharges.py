"""Batteries behind a diode isolator, by what it leaves of the charge voltage."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "where diodes split the charge, the source senses behind them or is set higher by them"
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
    id="isolator-drop-undercharges",
    summary="Charge voltage behind a diode isolator against what fills the battery.",
    covers=("A diode that keeps a battery from getting full",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A diode takes some 0.7 V for itself. What is set to 14.4 V at the alternator "
    "then reaches the battery as 13.7 V, at which lead takes months to get full and "
    "hardens in the meantime. Sources for such isolators sense the voltage behind "
    "them and make up for it; isolators with transistors lose next to nothing.",
    caution=notice("Lead that never gets full loses its capacity within a year or two."),
    fine="Where the source senses the voltage behind the isolator, or another charger fills the "
    "battery regularly.",
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit(
        "outputs: [start-side, house-side], sensed: true", "outputs: [start-side, house-side]"
    ),
)
def isolator_drop_undercharges(study: Study) -> Iterator[Observation]:
    for each in study.charging.behind_diodes:
        least = each.bank.full_at
        if not exceeds(least, each.left) or each.filled or not each.bank.is_lead:
            continue
        yield Observation(
            message=f"`{each.isolator.name}` takes {each.drop} of what `{each.source.name}` gives: "
            f"`{each.bank.name}` gets {each.left}, and gets full from {least} on",
            on=(each.isolator, each.source, each.bank),
            values=(each.left, least),
            margin=each.left.number / least.number - 1.0,
            remedy=f"let `{each.source.name}` sense the voltage behind `{each.isolator.name}`, and "
            "write `sensed: true` there; or use an isolator with transistors, and write its `drop`",
        )
