"""Voltage read at the posts of a battery against the highest that it may be charged with."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study, exceeds, margin_below

BASIS = {
    "common practice": practice(
        "the highest charge voltage on a battery's label holds at its posts, whatever charges it "
        "and whatever the controller is set to"
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
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
readings:
  at-the-posts: {at: house, voltage: 14.2 V, stage: absorption}
"""


@rule(
    id="reading-battery-overcharged",
    summary="Voltage read at a battery's posts, against the highest that its label allows.",
    level="error",
    hazard="fire",
    part="reading",
    basis=BASIS,
    explanation="The voltage at the posts is what the cells really get. Above the label a lead "
    "battery boils its acid away and gives off hydrogen, and a lithium battery is pushed until its "
    "management cuts it off, if that works. The setting of the controller proves nothing: another "
    "source may be charging too, a sensor may be off, or a profile for another chemistry may be "
    "in use.",
    caution=warning(
        "An overcharged lead battery gives off hydrogen, which explodes at a spark. Air the place, "
        "and switch the charging off before anything is disconnected."
    ),
    sound=SOUND,
    faulty=Edit("voltage: 14.2 V, stage", "voltage: 15.1 V, stage"),
    acceptable=False,
)
def reading_battery_overcharged(study: Study) -> Iterator[Observation]:
    for reading in study.readings.of_charging:
        if reading.posts is None or reading.bank is None or reading.true_posts is None:
            continue
        limit = reading.allowed
        if limit is not None and exceeds(reading.true_posts.low, limit):
            yield Observation(
                message=f"the posts of `{reading.bank.name}` read {reading.posts}, over the "
                f"{limit} that it may be charged with",
                on=(reading.reading, reading.bank.battery),
                values=(reading.true_posts.low, limit),
                margin=margin_below(reading.true_posts.low, limit),
                remedy="switch the charging off; then look which source does it, at the profile "
                f"that is set in it, and set at most {limit}",
                whatever=reading.overcharged_whatever,
            )
