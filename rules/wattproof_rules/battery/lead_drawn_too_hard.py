"""All that draws from a lead bank against its capacity."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import in_capacity
from wattproof.rule import Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.discharging import Drawn
from wattproof.words import quoted
from wattproof.working import Value, tabled, total
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the capacity on the label of a lead battery holds for a discharge over twenty hours; at a "
        "quarter of it in amperes some two thirds to four fifths come out, and at all of it about "
        "half"
    ),
}

MORE = """\
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 400 Ah, max_charge_current: 60 A,
          max_charge_voltage: 14.7 V}
"""


@record
class Limits:
    """What a project may set."""

    rate: float = option(25.0, "Current for each 100 Ah of a lead bank, in A, at the most.")


@rule(
    id="lead-drawn-too-hard",
    summary="Current of everything that draws from a lead bank against its capacity.",
    covers=("Lead drawn so hard that half is left in it",),
    level="note",
    hazard="lost-energy",
    part="battery",
    basis=BASIS,
    explanation="In a lead battery the acid must creep into the plates as fast as current is "
    "drawn. Drawn slowly, it gives what is printed on it; drawn hard, the plates starve while "
    "there is still charge inside, the voltage sags, and the inverter switches off with a battery "
    "that is far from empty. Nothing is broken, but the bank is much smaller than one thinks.",
    fine="Where the draw lasts seconds to minutes and the bank is near full then.",
    since="0.1.0",
    sound=plan("van-inverter", Edit("charge_voltage: 14.2 V", "charge_voltage: 14.4 V"), more=MORE),
    faulty=Edit("capacity: 400 Ah", "capacity: 200 Ah"),
    options=Limits,
)
def lead_drawn_too_hard(study: Study, limits: Limits) -> Iterator[Observation]:
    for each in study.charging.at_rest:
        drawn, current = each.drawn, each.current
        if not all(bank.is_lead for bank in drawn.banks):
            continue
        names = quoted(bank.name for bank in drawn.banks)
        capacity = total([bank.capacity for bank in drawn.banks])
        words = "highest rate of discharge at which lead gives most of its charge"
        rate = tabled(limits.rate / 100.0 / 3600.0, "1/s", "cmax", words, "common practice")
        limit = (rate * capacity).named("Ieasy", "current at that rate", "A")
        if not exceeds(current, limit):
            continue
        yield Observation(
            message=f"{current} is drawn from {names} when everything runs; above {limit} "
            "lead gives much less than its label says",
            on=(*drawn.banks, *(consumer for consumer, _ in drawn.consumers)),
            values=(current, limit),
            margin=margin_below(current, limit),
            remedy=_remedy(drawn, current, limits.rate),
        )


def _remedy(drawn: Drawn, current: Value, rate: float) -> Remedy:
    """Capacity at which lead gives most of what its label says."""
    needed = math.ceil(current.number / rate * 10.0 - 1e-9) * 10
    words = f"use a bank of at least {needed} Ah, let loads run in turn, or use lithium"
    return Remedy(words, (in_capacity(drawn.banks, needed),))
