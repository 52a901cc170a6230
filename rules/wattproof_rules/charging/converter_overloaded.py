"""DC converters, by what hangs on them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below, stated
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a converter gives at least what all that hangs on it draws at once"
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
fuses:
  step-fuse: {rating: 30 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
converters:
  step-up: {input_nominal: 12 V, output_nominal: 24 V, max_output_current: 8 A, efficiency: 90 %}
loads:
  radio: {current: 6 A, nominal: 24 V}
wires:
  step-run: {from: house, to: step-up.input, cable: batt-8, length: 1 m, place: cabin,
             inline: [{step-fuse: {from_end: from, distance: 10 cm}}]}
  radio-run: {from: step-up.output, to: radio, cable: pv-10, length: 2 m, place: cabin}
"""


@rule(
    id="converter-overloaded",
    summary="Current of the loads on a DC converter against what it gives.",
    covers=("A DC converter overloaded",),
    level="warning",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="A converter has no battery behind it to help out. When more is asked than it "
    "gives, its voltage falls or it switches off, and everything on it goes at once: "
    "a radio in the middle of a call, a lamp, a pump. Running at its limit for hours "
    "it gets hot and ages fast.",
    fine="Where the loads never run at once, by a switch or by what they are, and not by good "
    "intent.",
    since="0.2.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("radio: {current: 6 A", "radio: {current: 10 A"),
)
def converter_overloaded(study: Study) -> Iterator[Observation]:
    for each in study.charging.converted:
        if not exceeds(each.current, each.output):
            continue
        name, amps = each.converter.name, f"{math.ceil(each.current.number - 1e-9)} A"
        yield Observation(
            message=(
                f"the loads on `{name}` draw {each.current} together; "
                f"{stated(each.output, 'the most that it gives')}"
            ),
            on=(each.converter, *each.consumers),
            values=(each.current, each.output),
            margin=margin_below(each.current, each.output),
            remedy=f"use a converter of at least {amps}, with fuse and wires for that",
        )
