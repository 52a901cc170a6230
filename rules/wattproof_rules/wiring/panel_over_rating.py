"""What a distribution panel may come to carry, against its rating."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.codes import NotTabulated
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.panels import PanelStudy
from wattproof.study.wiring.devices import rated

BASIS = {
    "nec-2023": Clause(
        "NEC 408.36",
        "2023",
        "a panel has a device before it that is not larger than the rating of the panel",
        verified=False,
    ),
    "common practice": practice(
        "the loads of a panel together stay within its rating, and the device before it opens "
        "before the panel is overloaded"
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
  panel-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
distribution:
  panel:
    rating: 60 A
    voltage: 60 V
    ways: {fridge: {fuse: 15 A, style: blade}, lights: {fuse: 10 A, style: blade}}
loads:
  fridge: {current: 5 A, nominal: 12 V}
  lights: {current: 4 A, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  panel-feed: {from: bar, to: panel, cable: batt-8, length: 3 m, place: cabin,
               inline: [{panel-fuse: {from_end: from, distance: 10 cm}}]}
  fridge-run: {from: panel.fridge, to: fridge, cable: batt-8, length: 2 m, place: cabin}
  lights-run: {from: panel.lights, to: lights, cable: batt-8, length: 2 m, place: cabin}
"""


@rule(
    id="panel-over-rating",
    summary="Loads of a panel and the device before it against the rating of the panel.",
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="All ways of a panel hang on one strip of metal, which is rated for less than the "
    "sum of what its fuses let through. Each fuse guards its own wire and knows nothing of the "
    "others. Only a device before the panel that is no larger than the panel's rating opens when "
    "all of them together are too much.",
    caution=warning("An overloaded panel gets hot where its fuses are clipped in, and can burn."),
    sound=SOUND,
    faulty=Edit("rating: 60 A\n    voltage: 60 V", "rating: 8 A\n    voltage: 60 V"),
)
def panel_over_rating(study: Study) -> Iterator[Observation]:
    for panel in study.protection.panels:
        rating, drawn, most = panel.rating, panel.drawn, panel.most
        if drawn is not None and exceeds(drawn, rating):
            yield Observation(
                message=f"the loads of `{panel.name}` draw {drawn} together, and it is rated "
                f"{rating}",
                on=(panel,),
                values=(drawn, rating),
                margin=margin_below(drawn, rating),
                remedy=_larger(panel.name, f"{math.ceil(drawn.number - 1e-9)} A"),
            )
        elif exceeds(most, rating):
            yield Observation(
                message=f"up to {most} can flow in `{panel.name}` before anything opens, and it is "
                f"rated {rating}",
                on=(panel,),
                values=(most, rating),
                margin=margin_below(most, rating),
                remedy=_before(panel, study),
                level="warning",
            )


def _larger(panel: str, amps: str) -> Remedy:
    return Remedy(
        f"use a panel rated at least {amps}, with a device of no more than its rating before it, "
        "or divide the loads over two",
        ((Change(panel, "rating", amps),),),
    )


def _before(panel: PanelStudy, study: Study) -> Remedy:
    """The device before it made smaller, where it has one alone; else words."""
    words = f"put a fuse or breaker of at most {panel.rating} before `{panel.name}`"
    device = panel.before
    if device is None:
        return Remedy(words)
    try:
        rating = study.code.previous_rating(panel.rating.number)
    except NotTabulated:
        return Remedy(words)
    return Remedy(f"{words}, such as {rating:g} A for `{device.name}`", ((rated(device, rating),),))
