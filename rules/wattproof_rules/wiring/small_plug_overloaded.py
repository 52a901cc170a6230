"""The current of a wire against the small plug in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    practice,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.assumptions.cables import (
    NO_PLUG_RATING,
    PLUG_RATING,
    PLUG_RATING_AT_BEST,
)
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared

BASIS = {
    "nec-2023": Clause(
        "NEC 110.3(B), 690.33",
        "2020-2023",
        "connectors are used within the current that they are marked for",
        verified=False,
    ),
    "common practice": practice(
        "a plug carries what is printed on it; unmarked, 10 A for a flat one with two pins, 8 A "
        "for one of a cigar socket, 50 A for a genderless one of the 50 A size"
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
             inline: [pv-off], plug: flat-two-pin, plug_rating: 15 A}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""

NAMES = {
    "trailer-7": "charge line of the trailer's plug of 7 pins",
    "trailer-13": "charge line of the trailer's plug of 13 pins",
    "flat-two-pin": "flat two-pin plug",
    "cigar": "cigar-socket plug",
    "genderless-50": "genderless plug",
}


@rule(
    id="small-plug-overloaded",
    summary="Current of a wire against the rating of the small plug in it.",
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="Two small contacts carry the whole current of the wire, and heat grows with its "
    "square. A flat plug with two pins or one for a cigar socket is made for lamps and chargers; "
    "its springs loosen when they become warm, which makes them warmer. No fuse opens, since the "
    "current is the usual one of the array or the load.",
    caution=warning("An overloaded plug melts and can set fire to what lies around it."),
    sound=SOUND,
    faulty=Edit("plug: flat-two-pin, plug_rating: 15 A", "plug: cigar, plug_rating: 5 A"),
    acceptable=False,
)
def small_plug_overloaded(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        plug, current = wire.wire.plug, wire.current
        if plug is None or current is None:
            continue
        rating = _rating(wire, str(plug), study)
        if not exceeds(current, rating):
            continue
        best = PLUG_RATING_AT_BEST.value[plug] if rating.assumptions else rating.number
        yield Observation(
            message=f"the {NAMES[plug]} in `{wire.name}` carries up to {current} and is "
            f"{'taken as good for' if rating.assumptions else 'rated'} {rating}",
            on=(wire,),
            values=(current, rating),
            margin=margin_below(current, rating),
            remedy=_remedy(wire, current),
            whatever=not current.assumptions and current.number > best,
        )


def _rating(wire: WireStudy, plug: str, study: Study) -> Value:
    written = wire.wire.plug_rating
    if written is None:
        return study.assume.value(NO_PLUG_RATING, wire.name, wire.at, kind=plug)
    words = f"rating of the plug in {wire.name}"
    return declared(written, f"In({wire.name} plug)", words)


def _remedy(wire: WireStudy, current: Value) -> Remedy:
    """A plug that carries it."""
    amps = math.ceil(current.number - 1e-9)
    rated = Change(wire.name, "plug_rating", f"{amps} A")
    if amps <= PLUG_RATING.value["genderless-50"]:
        words = (
            f"use a plug rated at least {amps} A: a genderless one of the 50 A size, or connectors "
            "made for arrays"
        )
        none = (Change(wire.name, "plug", ""), Change(wire.name, "plug_rating", ""))
        return Remedy(words, ((Change(wire.name, "plug", "genderless-50"), rated), none))
    return Remedy(f"use a plug or terminals rated at least {amps} A", ((rated,),))
