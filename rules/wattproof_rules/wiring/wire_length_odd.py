"""Lengths that no wire of a vehicle or boat has, or none at all, as when a unit is mistaken."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, tabled

BASIS = {
    "common practice": practice(
        "no wire of this kind is much longer than what it is in; a length that is, was measured in "
        "another unit or counts the way back"
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
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 13 ft, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""

FOOT = 0.3048  # m


@record
class Limits:
    """What a project may set."""

    vehicle: float = option(20.0, "Longest plausible wire of a vehicle, one way, in m.")
    boat: float = option(40.0, "Longest plausible wire of a boat, one way, in m.")
    shortest: float = option(0.02, "Shortest plausible wire between two terminals, in m.")


@rule(
    id="wire-length-odd",
    summary="Length of a wire against what a vehicle or boat can have.",
    level="note",
    hazard="lost-energy",
    part="conductor",
    basis=BASIS,
    explanation="The drop in a wire and the current of a fault both follow its length. A foot that "
    "was written as a metre makes the wire three times too long in the reckoning, and a way there "
    "and back counts it twice; then a good wire looks bad, and one buys copper for nothing.",
    sound=SOUND,
    faulty=Edit("length: 13 ft", "length: 42 m"),
    options=Limits,
)
def wire_length_odd(study: Study, limits: Limits) -> Iterator[Observation]:
    shortest = tabled(limits.shortest, "m", "Lmin", "shortest plausible wire", "common practice")
    for wire in study.wiring.wires.values():
        if exceeds(shortest, wire.length):
            yield _too_short(wire, shortest)
    longest = {"vehicle": limits.vehicle, "boat": limits.boat}.get(str(study.plan.setting))
    if longest is None:
        return
    limit = tabled(longest, "m", "Lmax", "longest plausible wire", "common practice")
    for wire in study.wiring.wires.values():
        if not exceeds(wire.length, limit):
            continue
        yield Observation(
            message=f"`{wire.name}` is {wire.length} long one way, in a {study.plan.setting}",
            on=(wire,),
            values=(wire.length, limit),
            margin=margin_below(wire.length, limit),
            remedy=_remedy(wire, limit),
        )


def _remedy(wire: WireStudy, limit: Value) -> Remedy:
    """The lengths that it would have, had it been written in feet or there and back."""
    metres = wire.length.number
    there = f"there and back counts once, {metres / 2.0:.3g} m; where it is right, accept it"
    once = metres / 2.0, f"{metres / 2.0:.3g} m"
    text = wire.wire.length.text
    if not text.endswith("m") or text.endswith(("cm", "mm")):
        return Remedy(f"measure it again: the way {there}", _shorter(wire, limit, once))
    feet = metres * FOOT, f"{metres:g} ft"
    return Remedy(
        f"measure it again: {metres:.3g} ft would be {feet[0]:.3g} m, and the way {there}",
        _shorter(wire, limit, feet, once),
    )


def _shorter(
    wire: WireStudy, limit: Value, *lengths: tuple[float, str]
) -> tuple[tuple[Change], ...]:
    return tuple(
        (Change(wire.name, "length", text),) for metres, text in lengths if metres <= limit.number
    )


def _too_short(wire: WireStudy, shortest: Value) -> Observation:
    """A length that two terminals and a hand's breadth of cable do not fit into."""
    thousand = 1000.0 * wire.length.number
    return Observation(
        message=f"`{wire.name}` is {wire.length} long, shorter than its own terminals",
        on=(wire,),
        values=(wire.length, shortest),
        margin=wire.length.number / shortest.number - 1.0,
        remedy=f"measure it again, and check the unit: perhaps {thousand:.3g} m is meant; where it "
        "is right, accept it",
    )
