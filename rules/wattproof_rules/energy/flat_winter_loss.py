"""Sun that modules lose by lying level where the winter sun is low."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below

if TYPE_CHECKING:
    from wattproof.study.energy.sun_hours import Lying

BASIS = {
    "common practice": practice(
        "where winter counts, modules are raised towards the noon sun, about 15° steeper than the "
        "latitude, or a module that can be raised is carried along"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {latitude: 47°, coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
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
  roof-string: {module: rigid-100, series: 2, mounting: open-rack,
                tilt: 60°, facing: south}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  load-fuse: {rating: 15 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
loads:
  refrigerator: {power: 45 W, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  load-run: {from: house, to: refrigerator, cable: batt-8, length: 2 m, place: cabin,
             inline: [{load-fuse: {from_end: from, distance: 10 cm}}]}
energy:
  sun_hours: {winter: 1.5 h, summer: 5 h}
  uses:
    refrigerator: {hours: {winter: 3 h, summer: 8 h}}
"""


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.50, "Share of a clear winter day's sun that lying level may cost.")


@rule(
    id="flat-winter-loss",
    summary="Sun lost by level modules in the darkest month against raised ones.",
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="In winter the sun stays low, and its light strikes a level module at a flat "
    "angle, spread over a large area. Raised towards the noon sun the same module gets twice as "
    "much on a clear day, and snow slides off. Under clouds the light comes from all of the sky "
    "and raising gains little, so that the figure is that of clear days.",
    sound=SOUND,
    faulty=Edit("tilt: 60°, facing: south", "tilt: 0°"),
    options=Limits,
)
def flat_winter_loss(study: Study, limits: Limits) -> Iterator[Observation]:
    short = [lying for lying in study.energy.lying if exceeds(lying.loss, limits.lost)]
    for loss in dict.fromkeys(lying.loss.number for lying in short):
        yield _observation([each for each in short if each.loss.number == loss], limits)


def _observation(alike: list[Lying], limits: Limits) -> Observation:
    """Strings that lie alike and lose the same."""
    first = alike[0]
    names = " and ".join(f"`{each.string.name}`" for each in alike)
    loses = "loses" if len(alike) == 1 else "each lose"
    tilt = f"{first.best:g}°"
    raised = [
        change
        for lying in alike
        for change in (
            Change(lying.string.name, "tilt", tilt),
            Change(lying.string.name, "facing", first.noon),
        )
    ]
    return Observation(
        message=f"level in {first.month}, {names} {loses} {first.loss} of a clear day's sun "
        "against the best tilt",
        on=tuple(lying.string for lying in alike),
        values=(first.loss,),
        margin=margin_below(first.loss, limits.lost),
        remedy=Remedy(
            f"raise the modules by about {tilt} towards the noon sun when parked, in the "
            f"{first.noon}, or carry a module that can be raised; accept it where winter is spent "
            "elsewhere",
            (tuple(raised),),
        ),
    )
