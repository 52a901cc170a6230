"""Air around a controller or an inverter, against that up to which it gives its rating."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below

BASIS = {
    "common practice": practice(
        "controllers and inverters give their rating up to an air temperature in their manual, "
        "most often 40 °C, and less above it; they have free air on all sides that it names"
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
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true,
            derates_above: 40 °C, place: cabin}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="unit-too-hot",
    summary="Hottest air around controllers and inverters against that of their rated output.",
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A controller or inverter turns some percent of what passes into heat, and its own "
    "air must carry that away. In a closed cupboard the air gets hotter with it. Above the "
    "temperature of its manual it protects itself by giving less, just at noon in summer, and then "
    "by switching off; its capacitors age twice as fast for every ten degrees.",
    caution=notice("A unit that is always too hot fails within a few years."),
    sound=SOUND,
    faulty=Edit("derates_above: 40 °C", "derates_above: 30 °C"),
)
def unit_too_hot(study: Study) -> Iterator[Observation]:
    for cooled in study.charging.cooled:
        unit, air, limit = cooled.unit, cooled.air, cooled.limit
        if not exceeds(air, limit):
            continue
        yield Observation(
            message=f"`{unit.name}` is in `{unit.place}` at up to {air}, and gives its rating only "
            f"up to {limit}",
            on=(unit,),
            values=(air, limit),
            margin=margin_below(air, limit),
            remedy=Remedy(
                f"move `{unit.name}` to a place that stays below {limit}, or let air in below it "
                "and out above it, and write what it reaches then as the place's `ambient`; else "
                "reckon with the smaller output in its manual",
                ((Change(unit.name, "place.ambient", f"{limit.number:g} °C"),),),
            ),
        )
