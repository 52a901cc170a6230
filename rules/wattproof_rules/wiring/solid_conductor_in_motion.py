"""Solid conductors where everything shakes."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import declared

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11.14",
        "2022",
        "conductors on boats are stranded, with at least 7 strands and from some sizes on with "
        "more",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2020",
        "conductors on small craft are stranded copper",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 551.48, 552.48 (trailers), as good practice",
        "2023",
        "low-voltage conductors in vehicles are stranded copper",
        verified=False,
    ),
    "common practice": practice("in what moves, conductors are of many strands"),
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
    batt-8: {size: 8 AWG, kind: battery, material: copper, strands: fine,
             insulation_temperature: 105 °C, voltage: 600 V}
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
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="solid-conductor-in-motion",
    summary="Solid conductors in a vehicle, a boat, or a set that is carried about.",
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="A wire of one piece bends at the same spot with every bump of the road or the "
    "sea, and copper that is bent often enough becomes hard and breaks, like a paper clip. Before "
    "it parts, the last bit of it carries all the current and glows inside its insulation. It also "
    "works its way out from under screws. Many fine strands bend without tiring.",
    caution=warning(
        "A conductor that is broken inside its insulation arcs and can set it on fire."
    ),
    sound=SOUND,
    faulty=Edit("strands: fine", "strands: solid"),
)
def solid_conductor_in_motion(study: Study) -> Iterator[Observation]:
    setting = study.plan.setting
    if setting == "cabin":
        return
    for wire in study.wiring.wires.values():
        if wire.sheet.strands == "solid":
            yield _solid(wire, boat=setting == "boat", setting=str(setting))


def _solid(wire: WireStudy, *, boat: bool, setting: str) -> Observation:
    where = "a set that is carried about" if setting == "portable" else f"a {setting}"
    size = declared(wire.sheet.size, f"A({wire.name})", f"size of each conductor of {wire.name}")
    return Observation(
        message=f"`{wire.name}` ({wire.size.name}) is of solid `{wire.sheet.name}`, in {where}",
        on=(wire, wire.sheet),
        values=(size,),
        remedy=Remedy(
            f"use cable of {wire.size.name} with fine strands for `{wire.name}`, and crimp its "
            "ends",
            ((Change(wire.name, "cable.strands", "fine"),),),
        ),
        level="error" if boat else None,
        whatever=True,
    )
