"""What reaches the loads when a lithium battery disconnects under a pulse-width controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    notice,
    practice,
    rule,
)
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, tabled

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-13",
        "2022-2025",
        "what charges a lithium battery stands its disconnecting, and what is on the bus is "
        "warned or protected before",
        verified=False,
    ),
    "common practice": practice(
        "a pulse-width controller is no source of steady voltage without its battery; appliances "
        "of 12 V stand about 16 V"
    ),
}

LOADS_STAND = 16.0  # V for each 12 V

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
  roof-string: {module: rigid-100, series: 1, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  load-fuse: {rating: 15 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  regulator: {kind: pwm, max_input_voltage: 50 V, max_output_current: 30 A, charge_voltage: 14.2 V,
              blocks_reverse: true, holds_without_battery: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
loads:
  lights: {current: 3 A, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: regulator.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: regulator.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  lights-run: {from: bar, to: lights, cable: pv-10, length: 3 m, place: cabin,
               inline: [{load-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="lithium-cut-off-in-sun",
    summary="Array voltage that loads get when a lithium battery disconnects in sun.",
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A pulse-width controller is a switch between the array and the battery, and it "
    "is the battery that holds the voltage down. A lithium battery disconnects itself when it is "
    "full, cold or in fault, and that is most likely at noon. For a moment, or for longer, the "
    "loads on the bus then hang on the bare array and get nearly its open-circuit voltage.",
    caution=notice("Lamps, refrigerators, radios and inverters can be destroyed at once."),
    sound=SOUND,
    faulty=Edit("holds_without_battery: true", "holds_without_battery: false"),
)
def lithium_cut_off_in_sun(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        bank, controller = study.curves.bank_of(array), array.controller
        if controller.kind != "pwm" or controller.holds_without_battery:
            continue
        if bank is None or bank.is_lead:
            continue
        loads = [
            consumer
            for drawn in study.battery.discharging
            if any(b.name == bank.name for b in drawn.banks)
            for consumer, _ in drawn.consumers
        ]
        volts, stand = array.voc("coldest"), _stand(bank.nominal)
        if not loads or not exceeds(volts, stand):
            continue
        yield Observation(
            message=f"when `{bank.name}` disconnects in sun, `{controller.name}` passes up to "
            f"{volts} of the array to the loads, which stand about {stand}",
            on=(controller, bank, *loads),
            values=(volts, stand),
            margin=margin_below(volts, stand),
            remedy=_remedy(str(controller.name)),
        )


def _remedy(controller: str) -> Remedy:
    words = (
        "use a tracking controller; or one whose maker states that it holds without a battery, and "
        "write `holds_without_battery: true`"
    )
    return Remedy(words, ((Change(controller, "holds_without_battery", "true"),),))


def _stand(nominal: Value) -> Value:
    """What the loads of a bank stand (V)."""
    volts = LOADS_STAND * max(1.0, round(nominal.number / 12.8))
    words = "voltage that appliances stand"
    return tabled(volts, "V", "Uload", words, "common practice, 16 V for each 12 V")
