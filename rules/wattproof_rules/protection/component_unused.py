"""Components that a plan declares, and that nothing in it uses."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study

BASIS = {
    "common practice": practice(
        "what a plan lists and joins to nothing protects nothing and carries nothing"
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
  roof-string: {module: rigid-100, series: 2, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
  charge-off: {rating: 60 A, voltage: 60 V, dc: true, poles: 1, load_break: true}
fuses:
  charge-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [charge-off, {charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="component-unused",
    summary="Components that are declared and that no wire leads to.",
    level="warning",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="A part that stands in the list and in no wire does nothing. Of a fuse or a "
    "switch that matters most: whoever reads the list believes that something is protected or "
    "can be switched off, and nothing is. Either it was forgotten in a wire, or it is left over "
    "from an earlier plan.",
    sound=SOUND,
    faulty=Edit("inline: [charge-off, {charge", "inline: [{charge"),
)
def component_unused(study: Study) -> Iterator[Observation]:
    for each in study.circuit.unused:
        component, device, name = each.component, each.device, each.component.name
        yield Observation(
            message=f"`{name}` is declared, but no wire leads to it"
            + (" and none holds it: it protects and switches nothing" if device else ""),
            on=(component,),
            remedy=f"put `{name}` into the `inline` of its wire, or delete it"
            if device
            else f"wire `{name}`, or delete it",
            level=None if device else "note",
        )
