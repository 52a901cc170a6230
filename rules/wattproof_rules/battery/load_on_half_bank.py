"""What hangs on the joint between batteries in series."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.side import BankStudy
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "loads and chargers are across the whole of a bank in series; what needs a lower voltage "
        "gets it from a converter, or the bank has an equaliser"
    ),
}

MORE = """\
fuses:
  lamp-fuse: {rating: 5 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
  lower: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A,
          max_charge_voltage: 14.7 V}
loads:
  lamp: {current: 2 A}
wires:
  charge-run: {from: tracker.battery.positive, to: upper.positive, cable: batt-8, length: 1 m,
               place: cabin, inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  link: {from: upper.negative, to: lower.positive, cable: batt-8, length: 20 cm, place: cabin}
  back: {from: lower.negative, to: tracker.battery.negative, cable: batt-8, length: 1 m,
         place: cabin}
  lamp-run: {from: upper.positive, to: lamp.positive, cable: batt-8, length: 1 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
  lamp-back: {from: lamp.negative, to: lower.negative, cable: batt-8, length: 1 m, place: cabin}
"""


@rule(
    id="load-on-half-bank",
    summary="Loads and chargers across only some of the batteries of a bank in series.",
    covers=("Loads on half of a bank",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Batteries in series all get the same charge. When a load takes from one of them "
    "alone, that one is behind by so much every day, and the charger, which sees only the sum, "
    "drives the other too high while the first never gets full. Lead boils dry on the one side and "
    "hardens on the other; the management of a lithium pack cuts off.",
    caution=warning(
        "The battery that is not drawn from is overcharged, which gases lead and endangers lithium."
    ),
    sound=plan(
        "van",
        Edit("charge_voltage: 14.2 V", "charge_voltage: 28.8 V"),
        less=("batteries.house",),
        more=MORE,
    ),
    faulty=Edit(
        "lamp-back: {from: lamp.negative, to: lower.negative",
        "lamp-back: {from: lamp.negative, to: upper.negative",
    ),
)
def load_on_half_bank(study: Study) -> Iterator[Observation]:
    charged = {tap.bank for tap in study.battery.taps if tap.charges}
    for tap in study.battery.taps:
        if tap.charges and _others(tap.bank, study) <= charged:
            continue  # one charger for each battery
        verb = "charges" if tap.charges else "draws from"
        what = "charger across the whole bank" if tap.charges else "converter from the whole bank"
        yield Observation(
            message=f"`{tap.component.name}` {verb} `{tap.bank.name}` alone, which is in series "
            f"with other batteries, with {tap.current}",
            on=(tap.component, tap.bank),
            values=(tap.current,),
            remedy=f"use a {what} for `{tap.component.name}`, or put an equaliser on the batteries "
            "and accept this with a note of it",
            level=None if tap.bank.is_lead else "error",
        )


def _others(bank: BankStudy, study: Study) -> set[BankStudy]:
    """The batteries that follow or precede one in series."""
    pairs = [(j.first, j.second) for j in study.battery.joined if j.in_series]
    return {other for pair in pairs if bank in pair for other in pair if other is not bank}
