"""Adapters between plugs, each of which may swap the poles."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, counted

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33",
        "2023",
        "connectors of arrays are polarised, and do not fit others of the same premises",
        verified=False,
    ),
    "common practice": practice(
        "makers wire flat and genderless plugs both ways round, so that the pole of every contact "
        "is measured at the last adapter before it is plugged in"
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
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             plug: genderless-50, adapters: 0,
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="plug-polarity-unsure",
    summary="Adapters from one kind of plug to another, each of which may swap the poles.",
    level="warning",
    hazard="damage",
    part="connector",
    basis=BASIS,
    explanation="Plugs with two like contacts have no fixed pole: one maker puts positive on the "
    "left, the next on the right, and an adapter between them may cross them once more. The plan "
    "shows what is meant, not what the adapter in the hand does. A controller that gets an array "
    "the wrong way round while its battery is connected can be destroyed at once.",
    caution=warning(
        "The bare pins of an adapter are live while the sun shines on the array; a crossed one "
        "makes a short or a fire in what it is plugged into."
    ),
    sound=SOUND,
    faulty=Edit("adapters: 0", "adapters: 1"),
)
def plug_polarity_unsure(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        written = wire.wire.adapters
        if not written:
            continue
        count = counted(written, written.text, written.place, "n", f"adapters in {wire.name}")
        volts = wire.volts
        adapters = "an adapter" if int(written) == 1 else f"{int(written)} adapters"
        each = "which may swap" if int(written) == 1 else "each of which may swap"
        yield Observation(
            message=f"`{wire.name}` has {adapters} in it, {each} the poles"
            + (f" of up to {volts}" if volts is not None else ""),
            on=(wire,),
            values=_shown(count, wire),
            remedy=Remedy(
                "put one kind of plug on both sides and leave the adapters out; else measure which "
                "contact is positive at the last one, mark it, and tie the adapters to the lead",
                ((Change(wire.name, "adapters", "0"),),),
            ),
        )


def _shown(count: Value, wire: WireStudy) -> tuple[Value, ...]:
    return (count,) if wire.volts is None else (count, wire.volts)
