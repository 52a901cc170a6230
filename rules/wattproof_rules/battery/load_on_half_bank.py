"""What hangs on the joint between batteries in series."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import Tap
from wattproof.study.limits import exceeds
from wattproof.working import Value, declared, total
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "loads and chargers are across the whole of a bank in series; what needs a lower voltage "
        "gets it from a converter, or a lead bank has an equaliser that moves as much"
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
    fine="With an equaliser that is made for the difference: write it down. A clock or a memory "
    "of some milliamperes does not count for much either.",
    since="0.1.0",
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
    charged = {tap.bank for tap in study.wiring.taps if tap.charges}
    for tap in study.wiring.taps:
        bank = tap.bank
        if tap.charges and _others(bank, study) <= charged:
            continue  # one charger for each battery
        evened = _evened(bank, study)
        current = _current(tap, study)
        all_on_it = total([_current(t, study) for t in study.wiring.taps if t.bank is bank])
        if evened is not None and not exceeds(all_on_it, evened):
            continue
        alone = f"`{bank.name}` alone"
        does = f"charges {alone} with {current}" if tap.charges else f"draws {current} from {alone}"
        values = (current,) if evened is None else (current, evened)
        yield Observation(
            message=f"`{tap.component.name}` {does}, which is in series with other batteries"
            + (f", and its equaliser is rated {evened}" if evened is not None else ""),
            on=(tap.component, bank),
            values=values,
            remedy=_remedy(tap, all_on_it),
            level=None if bank.is_lead else "error",
        )


def _current(tap: Tap, study: Study) -> Value:
    """What is drawn from a battery alone, or given to it: no more than a small array gives (A)."""
    return study.charging.given_to_half(tap) if tap.charges else tap.current


def _evened(bank: BankStudy, study: Study) -> Value | None:
    """What its equaliser moves, or that of one in series with it; packs with management have none.

    An equaliser stands across both batteries, so that it may be written with either.
    """
    if not bank.is_lead:
        return None
    for each in (bank, *sorted(_others(bank, study), key=lambda b: b.name)):
        rating = each.battery.equaliser
        if rating is not None:
            return declared(rating, f"Ieq({each.name})", f"equaliser of {each.name}")
    return None


def _remedy(tap: Tap, current: Value) -> Remedy:
    """Across the whole bank, or with lead an equaliser that moves what is drawn."""
    name, bank = tap.component.name, tap.bank
    what = "charger across the whole bank" if tap.charges else "converter from the whole bank"
    words = f"use a {what} for `{name}`"
    if not bank.is_lead:
        return Remedy(words)
    amps = f"{math.ceil(current.number - 1e-9)} A"
    more = f", or an equaliser of at least {amps} across the bank (`equaliser: {amps}`)"
    return Remedy(words + more, ((Change(str(bank.name), "equaliser", amps),),))


def _others(bank: BankStudy, study: Study) -> set[BankStudy]:
    """The batteries that follow or precede one in series."""
    pairs = [(j.first, j.second) for j in study.battery.joined if j.in_series]
    return {other for pair in pairs if bank in pair for other in pair if other is not bank}
