"""Fuses in a row of which the one for all opens before the one for a branch."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage
from wattproof.codes import NotTabulated
from wattproof.rule import Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds
from wattproof.study.wiring.devices import rated

BASIS = {
    "common practice": practice(
        "each device is smaller than the one before it that serves more than it does; alike "
        "fuses of general use open in the right order from 1.6 times on (IEC 60269-2)"
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
  panel-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
inverters:
  mains: {power: 500 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}
loads:
  heater: {current: 40 A, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  inverter-run: {from: bar, to: mains, cable: bank-1-0, length: 60 cm, place: cabin}
  heater-run: {from: bar, to: heater, cable: bank-1-0, length: 1 m, place: cabin,
               inline: [{panel-fuse: {from_end: from, distance: 10 cm}}]}
"""


BEARS = 1.25
"""How many times its lasting current a device is rated, so that it stays cool."""


@record
class Limits:
    """What a project may set."""

    times: float = option(
        1.0, "How many times a branch's device the one before it must exceed; 1.6 for alike fuses."
    )


@rule(
    id="main-fuse-opens-first",
    summary="Rating of the device that serves all against that of a branch behind it.",
    level="note",
    hazard="lost-energy",
    part="overcurrent",
    basis=BASIS,
    explanation="Where two fuses are in a row, a fault in the branch flows through both, and the "
    "weaker one opens. Should that be the main one, then one bad lamp takes everything with it: "
    "lights, pumps and instruments. Nothing burns, but one sits in the dark looking for the "
    "fault, and the fuse at hand is the wrong one.",
    sound=SOUND,
    faulty=Edit("panel-fuse: {rating: 60 A", "panel-fuse: {rating: 125 A"),
    options=Limits,
)
def main_fuse_opens_first(study: Study, limits: Limits) -> Iterator[Observation]:
    seen: set[tuple[Passage, Passage]] = set()
    for guard in study.protection.guards:
        for before, branch in zip(guard.devices, guard.devices[1:], strict=False):
            if (before, branch) in seen:
                continue
            seen.add((before, branch))
            if _serves_more(before, branch, study):
                yield from _order(before, branch, limits, study)


def _order(before: Passage, branch: Passage, limits: Limits, study: Study) -> Iterator[Observation]:
    main, small = device_rating(before), device_rating(branch)
    if exceeds(main, limits.times * small):
        return
    yield Observation(
        message=f"`{before.device.name}` ({main}) serves more than `{branch.device.name}` "
        f"({small}) behind it, and does not stay closed when that should open",
        on=(before.device, branch.device),
        values=(main, small),
        margin=main.number / (limits.times * small.number) - 1.0,
        remedy=_remedy(before, branch, main.number / limits.times, study),
    )


def _remedy(before: Passage, branch: Passage, under: float, study: Study) -> Remedy:
    """The largest standard rating under a limit (A) that still bears the branch's load."""
    larger = f"a larger one for `{before.device.name}` if its conductors allow"
    carried = [d.current for d in study.wiring.devices.values() if branch in d.passages]
    current = max((amps.number for amps in carried if amps is not None), default=0.0)
    try:
        rating = study.code.previous_rating(under * (1.0 - 1e-6))
    except NotTabulated:
        rating = 0.0
    if rating < BEARS * current or not rating:
        return Remedy(f"use {larger}, or divide what hangs on `{branch.device.name}`")
    return Remedy(
        f"use {rating:g} A for `{branch.device.name}`, or {larger}", ((rated(branch, rating),),)
    )


def _serves_more(before: Passage, branch: Passage, study: Study) -> bool:
    """True where something hangs behind the first device that does not hang behind the second."""
    return len(_served(before, study)) > len(_served(branch, study)) > 0


def _served(device: Passage, study: Study) -> set[str]:
    """Consumers on the side of a device that has no bank; none where both sides have one."""
    sides = study.wiring.neighbours_of(device) or ()
    away = [side for side in sides if not side.banks]
    return {str(c.name) for side in away for c in side.consumers} if len(away) == 1 else set()
