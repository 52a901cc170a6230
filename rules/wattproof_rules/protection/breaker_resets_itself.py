"""Breakers that close again by themselves."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import BodyOfRules
from wattproof.rule import Clause, Edit, Located, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.protection.pack_fuses import PackFuse
from wattproof.study.wiring.devices import DeviceStudy
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11 (11.10.2)",
        "July 2025",
        "breakers are of the manually reset type, except where they are part of a motor",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297 (overcurrent protection)",
        "2020",
        "breakers are trip-free and reset by hand",
        verified=False,
    ),
    "common practice": practice("what opens at a fault stays open until somebody has looked"),
}

STYLE = "self-resetting-breaker"

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.4 V, blocks_reverse: true, compensates_temperature: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 30 Ah, max_charge_voltage: 14.7 V,
          short_circuit_current: 400 A, max_charge_current: 30 A}
breakers:
  main-breaker: {rating: 40 A, voltage: 48 V, dc: true, style: toggle-breaker}
loads:
  lamp: {current: 2 A}
wires:
  lamp-run: {from: house, to: lamp, cable: batt-8, length: 1 m, place: cabin,
             inline: [{main-breaker: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="breaker-resets-itself",
    summary="Whether a breaker stays open after a fault.",
    covers=("A breaker that closes on the fault again",),
    level="warning",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A breaker of this kind cools down after it has opened, and closes on the fault "
    "again, some seconds later and for hours on end. Each time the full short-circuit "
    "current flows, the contacts burn a little more, and wire and fault are heated "
    "anew. They are made for a motor that stalls for a moment, with somebody beside "
    "it.",
    caution=warning(
        "A fault that is switched on again and again sets fire to what lies around it."
    ),
    fine="At a single motor with somebody beside it, behind another device that protects the wire "
    "and stays open.",
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit("style: toggle-breaker", "style: self-resetting-breaker"),
)
def breaker_resets_itself(study: Study) -> Iterator[Observation]:
    for device in study.wiring.devices.values():
        yield from _found(device, device, study.codes.of(device.side), study)
    for each in study.protection.pack_fuses:
        yield from _found(each, each.device, study.codes.battery, study)


def _found(
    told: DeviceStudy | PackFuse, device: Located, code: BodyOfRules, study: Study
) -> Iterator[Observation]:
    """What is said of a breaker, in a wire or of each pack of a bank."""
    if told.style is None or told.style.name != STYLE:
        return
    forbidden = code.forbids("self-resetting-breaker", study.plan.setting)
    yield Observation(
        message=f"`{device.name}` closes again by itself after a fault has opened it",
        on=(device,),
        remedy=f"use a breaker that is reset by hand, or a fuse of {told.rating}",
        level="error" if forbidden else None,
    )
