"""Consumers and chargers that are made for another voltage than that of their bank."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from wattproof.circuit import Unlike, nominal_class
from wattproof.kinds import Hazard, Level
from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "what hangs on a bank, or charges it, is made for the nominal voltage of that bank; what "
        "is not gets its voltage from a converter"
    ),
}

MORE = """\
fuses:
  lamp-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
loads:
  lamp: {current: 2 A, nominal: 12 V}
wires:
  lamp-run: {from: house, to: lamp, cable: batt-8, length: 2 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""


class _Kind(NamedTuple):
    """What comes of it."""

    words: str
    level: Level
    hazard: Hazard


BURNS: Final = _Kind("that burns it", "error", "fire")
BREAKS: Final = _Kind("that breaks it", "error", "damage")
BOILS: Final = _Kind("that drives the battery far past full", "error", "fire")
IDLE: Final = _Kind("too little for it to work", "warning", "lost-energy")
NO_CHARGE: Final = _Kind("that breaks it, or it never charges", "error", "damage")


@rule(
    id="nominal-voltage-unlike",
    summary="Loads, inverters and chargers that are made for another voltage than their bank's.",
    covers=("A load, inverter or charger for another voltage than the bank's",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="A lamp, pump or refrigerator for 12 V on a bank of 24 V takes about twice its "
    "current and four times its heat, and a small fuse may bear that until something burns. What "
    "is electronic, an inverter or a controller, breaks at once, and so may the output of a "
    "charger. A charger for 24 V on 12 V boils a lead battery dry and drives a lithium one into "
    "its cut-off, if it has one. What is made for more than its bank has is not harmed, and does "
    "not work.",
    caution=warning("What gets twice its voltage overheats, and can set fire to what it is in."),
    since="0.16.0",
    sound=plan("van", more=MORE),
    faulty=Edit("lamp: {current: 2 A, nominal: 12 V}", "lamp: {current: 2 A, nominal: 6 V}"),
)
def nominal_voltage_unlike(study: Study) -> Iterator[Observation]:
    for each in study.circuit.unlike:
        name, bank = each.component.name, each.bank.name
        kind = _kind(each, study)
        has = f"`{bank}` gives" if bank in study.plan.converters else f"`{bank}` has"
        if each.in_series:
            has = f"`{bank}` and those in series with it have"
        yield Observation(
            message=f"`{name}` is for {each.nominal}, and {has} {each.volts:g} V: {kind.words}",
            on=(each.component, each.bank),
            remedy=_remedy(each),
            level=kind.level,
            hazard=kind.hazard,
        )


def _kind(each: Unlike, study: Study) -> _Kind:
    name = each.component.name
    controls = name in study.plan.all_controllers
    if each.nominal.value > each.volts:
        return BOILS if controls or name in study.plan.all_chargers else IDLE
    if controls or name in study.plan.all_inverters:
        return BREAKS
    return BURNS if name in study.plan.all_loads else NO_CHARGE


def _remedy(each: Unlike) -> Remedy:
    name, fits = each.component.name, f"{nominal_class(each.volts) or each.volts:g} V"
    words = (
        f"use one for {fits} in place of `{name}`, or put a converter between them; where its "
        "label names a range of voltages, leave `nominal` out"
    )
    if each.instead:
        return Remedy(each.instead + words)
    return Remedy(words, ((Change(name, "nominal", fits),),))
