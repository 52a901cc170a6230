"""A return conductor against the fuses of the positives whose current it carries back."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.guards import Guard
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value

BASIS = {
    "nec-2023": Clause(
        "NEC 240.4; 240.21",
        "2014-2023",
        "every conductor is protected at its ampacity, the return among them: the device in the "
        "positive protects both when both are large enough for it",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (direct-current returns)",
        "2003 and later",
        "a return conductor, shared ones too, is large enough for the positive conductors that it "
        "serves",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-4-43 431.2",
        "2008",
        "a return of smaller size than the positive needs protection of its own",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 60364-4-43 431.2",
        "2008",
        "a return is as large as the positive, or protected by itself",
        verified=False,
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 60 °C, sunlight: true}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    batt-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 150 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, low_temperature_cutoff: true, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah,
          max_charge_current: 100 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
          max_discharge_current: 150 A, short_circuit_current: 8 kA}
busbars:
  main-bar: {rating: 150 A, voltage: 48 V}
inverters:
  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: main-bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: main-bar, cable: batt-1-0, length: 0.5 m, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  inverter-positive: {from: main-bar.positive, to: mains.positive, cable: batt-1-0, length: 0.6 m,
                      place: cabin}
  inverter-negative: {from: mains.negative, to: main-bar.negative, cable: batt-1-0, length: 0.6 m,
                      place: cabin}
"""


@rule(
    id="negative-smaller-than-positive",
    summary="A single negative conductor against the largest device of the positives it returns.",
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="All the current that leaves by the positive comes back by the negative. The fuse "
    "sits in the positive and is chosen for that wire; when what is at its end takes too much, "
    "the same current flows in the negative for just as long. A negative that is thinner has no "
    "fuse of its own, and gets hot while the fuse in the positive still carries its rating.",
    caution=warning("An overloaded negative gets as hot as a positive, and no fuse guards it."),
    sound=SOUND,
    faulty=Edit("to: main-bar.negative, cable: batt-1-0", "to: main-bar.negative, cable: batt-1"),
    acceptable=False,
)
def negative_smaller_than_positive(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        may = wire.carrying
        if wire.side != "battery" or isinstance(may, str) or wire.too_hot:
            continue
        if any(part.pole != "negative" for part in wire.conductors):
            continue
        guard = _largest(wire, study)
        if guard is None or not exceeds(guard.rating, may.device_limit):
            continue
        best = wire.device_limit_at_best()
        devices = " and ".join(
            f"`{name}`" for name in dict.fromkeys(d.name for d in guard.limiting)
        )
        yield Observation(
            message=f"negative `{wire.name}` ({wire.size.name}) returns what `{guard.wire.name}` "
            f"brings, behind {devices} with {guard.rating}; at most {may.device_limit} protects it",
            on=(wire, guard.wire),
            values=(guard.rating, may.device_limit),
            margin=margin_below(guard.rating, may.device_limit),
            remedy=_remedy(wire, guard.rating),
            whatever=best is not None and exceeds(guard.rating, best),
        )


def _largest(wire: WireStudy, study: Study) -> Guard | None:
    """The positive with the largest device, of those that end at what the negative returns."""
    returned: set[str] = set()
    for part in wire.conductors:
        sides = study.wiring.neighbours_of(part)
        banked = [bool(side.banks) for side in sides or ()]
        for side in sides or ():
            if not side.banks and any(banked):
                returned |= {str(c.name) for c in (*side.consumers, *side.sources)}
    found = [
        guard
        for guard in study.protection.guards
        if {guard.part.start.component, guard.part.end.component} & returned
        and math.isfinite(guard.rating.number)
    ]
    return max(found, key=lambda guard: guard.rating.number, default=None)


def _remedy(wire: WireStudy, rating: Value) -> Remedy | str:
    """The smallest size that the device protects."""
    for proposed in wire.larger_sizes():
        may = proposed.carrying
        if isinstance(may, Carrying) and not exceeds(rating, may.device_limit):
            words = f"use {proposed.size.name} for `{wire.name}`, as for the positive"
            return Remedy(words, ((proposed.as_change,),))
    return "use a smaller device in the positive, or divide the circuit"
