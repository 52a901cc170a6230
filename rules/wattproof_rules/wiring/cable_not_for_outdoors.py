"""Whether a cable that sun or rain reaches is made for it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.study.wiring.wires import WireStudy

FOR_OUTDOORS = ("pv", "marine")
"""Kinds of cable that standards make for sun, salt and rain."""
TOUCH_VOLTS = 60.0  # V, above which a bared conductor is dangerous to touch

BASIS = {
    "nec-2023": Clause(
        "NEC 690.31(C); 310.10(C) and (D)",
        "2017-2023",
        "single conductors in the open are PV wire or marked sunlight resistant and for wet places",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548; IEC 62930; EN 50618",
        "2016; 2017; 2014",
        "cable of an array stands ultraviolet light, water and the heat of a roof",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; IEC 62930",
        "2021; 2017",
        "cable of an array stands ultraviolet light, water and the heat of a roof",
        verified=False,
    ),
    "common practice": Clause(
        "print on the cable",
        "as supplied",
        "cable in the open is marked for sunlight and wet places",
        verified=True,
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 50 °C, sunlight: true}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    roof-10: {size: 10 AWG, kind: building, insulation_temperature: 90 °C, voltage: 600 V,
            outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, low_temperature_cutoff: true, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
          short_circuit_current: 5 kA}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: roof-10, length: 4 m,
             place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="cable-not-for-outdoors",
    summary="Cable in sunlight or wet places against what it is marked for.",
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="Ultraviolet light breaks down the plastic of ordinary cable within a few summers: "
    "it chalks, cracks, and lets rain in. Water creeps along the strands to the nearest joint and "
    "eats it. Cable for roofs has an insulation that is cross-linked and blackened against the "
    "sun, and is marked for it.",
    sound=SOUND,
    faulty=Edit("outdoor: true", "outdoor: false"),
)
def cable_not_for_outdoors(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        kind = wire.sheet.kind
        if wire.sheet.outdoor or kind in FOR_OUTDOORS:
            continue
        where = _in_the_open(wire, study)
        if not where:
            continue
        if wire.sheet.outdoor is False:
            yield _not_marked(wire, where)
        elif kind is not None:
            yield _not_stated(wire, where, str(kind))


def _not_marked(wire: WireStudy, where: str) -> Observation:
    volts = wire.volts
    covered = wire.wire.enclosed or wire.wire.run == "conduit"
    touchable = volts is not None and exceeds(volts, TOUCH_VOLTS)
    at = f" at up to {volts}" if volts is not None else ""
    return Observation(
        message=f"`{wire.name}` ({wire.sheet.name}) lies in {where}{at}, and its cable is not made "
        "for that",
        on=(wire,),
        values=(volts,) if volts is not None else (),
        level="note" if covered else "error" if touchable else None,
        remedy=_remedy(wire),
    )


def _remedy(wire: WireStudy) -> Remedy:
    marked = Change(wire.name, "cable.outdoor", "true")
    if wire.side != "array":
        words = "use cable of the same size that is marked for sunlight and wet places"
        return Remedy(words, ((marked,),))
    words = "use PV cable of the same size there"
    return Remedy(words, ((Change(wire.name, "cable.kind", "pv"), marked),))


def _not_stated(wire: WireStudy, where: str, kind: str) -> Observation:
    return Observation(
        message=f"`{wire.name}` ({wire.sheet.name}, {kind} cable) lies in {where}, and nothing "
        "says whether its cable is made for that",
        on=(wire,),
        level="note",
        undecided=True,
        remedy="look for a mark for sunlight and wet places, and write `outdoor: true` or "
        "`outdoor: false`",
    )


def _in_the_open(wire: WireStudy, study: Study) -> str:
    """The places on its way that sun or rain reaches, in words."""
    for name in wire.wire.place or ():
        place = study.plan.site.places[name]
        if place.sunlight or place.wet:
            what = [w for w, there in (("sun", place.sunlight), ("wet", place.wet)) if there]
            return f"`{name}` ({' and '.join(what)})"
    return ""
