"""An inverter that hangs on the load terminals of a controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Located, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.discharging import LoadPort
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, declared

BASIS = {
    "common practice": practice(
        "an inverter is wired to the battery or its busbar, with a fuse; makers of controllers "
        "forbid inverters on their load terminals"
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
    bank-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  inverter-fuse: {rating: 25 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, load_current: 15 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
inverters:
  mains: {power: 150 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  inverter-run: {from: bar, to: mains, cable: batt-8, length: 60 cm, place: cabin,
                 inline: [{inverter-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="inverter-on-load-terminals",
    summary="Inverters on the load terminals of a controller.",
    level="error",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="The load terminals of a controller are a small electronic switch, made for lamps "
    "and pumps of a few amperes. An inverter draws ten times that, and at the moment it is "
    "connected its capacitors draw hundreds of amperes for an instant, which welds or bursts "
    "the switch even where its steady current would fit. Its place is at the battery, behind a "
    "fuse of its own.",
    caution=warning(
        "A controller that is overloaded this way burns inside; keep it off anything that can "
        "catch fire."
    ),
    sound=SOUND,
    faulty=Edit("inverter-run: {from: bar,", "inverter-run: {from: tracker.load,"),
)
def inverter_on_load_terminals(study: Study) -> Iterator[Observation]:
    for port in study.battery.load_ports:
        for inverter, amps in port.inverters:
            yield _found(port, inverter, amps)


def _found(port: LoadPort, inverter: Located, amps: Value) -> Observation:
    controller = port.controller
    rating = None
    if controller.load_current is not None:
        words = f"rated current of the load terminals of {controller.name}"
        rating = declared(controller.load_current, f"Iload({controller.name})", words)
    over = rating is not None and exceeds(amps, rating)
    stated = f", rated {rating}" if rating is not None else ""
    return Observation(
        message=f"`{inverter.name}` draws {amps} from the load terminals of `{controller.name}`"
        f"{stated}, and no inverter belongs there",
        on=(inverter, controller),
        values=(amps,) if rating is None else (amps, rating),
        margin=margin_below(amps, rating) if over and rating is not None else None,
        remedy=f"wire `{inverter.name}` to the battery or its busbar, through a fuse of its own",
        whatever=True,
    )
