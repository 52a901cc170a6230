"""Voltage read at the posts of a battery against the highest that it may be charged with."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value

if TYPE_CHECKING:
    from wattproof.study.readings.in_service import ChargeReading

BASIS = {
    "common practice": practice(
        "the highest charge voltage on a battery's label holds at its posts, whatever charges it "
        "and whatever the controller is set to; that of lead holds at 25 °C, and rises in the cold "
        "by 3 to 5 mV for each degree and cell"
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
        limit = reading.allowed
        if reading.true_posts is None or limit is None:
            continue
        if exceeds(reading.true_posts.low, limit):
            yield _observation(reading, reading.true_posts.low, limit)


def _observation(reading: ChargeReading, read: Value, limit: Value) -> Observation:
    assert reading.bank is not None
    bank, in_cold = reading.bank, reading.allowed_in_cold
    may_be_cold = in_cold is not None and not exceeds(read, in_cold)
    remedy = (
        "switch the charging off; then look which source does it, at the profile that is set in "
        f"it, and set at most {limit}"
    )
    message = f"the posts of `{bank.name}` read {reading.posts}, over the {limit} that it may be "
    message += "charged with"
    if may_be_cold:
        message += f" at 25 °C; in the coldest air, {in_cold} would be right"
        remedy = f"write the air beside it as `air_temperature`; unless it was cold, {remedy}"
    return Observation(
        message=message,
        on=(reading.reading, bank.battery),
        values=(read, limit),
        margin=margin_below(read, limit),
        remedy=remedy,
        level="warning" if may_be_cold else None,
        whatever=reading.overcharged_whatever,
    )
