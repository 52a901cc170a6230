"""Batteries in series and parallel against what their maker allows."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import of_capacity
from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.joined import PackCount
from wattproof.study.limits import margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "packs with a management of their own are joined in series and parallel only in the "
        "numbers that their maker allows"
    ),
}

MORE = """\
fuses:
  pack-fuse: {rating: 80 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
"""


@rule(
    id="pack-count-over-limit",
    summary="Batteries in series and in parallel against the numbers that their maker allows.",
    covers=("More packs together than allowed", "Many lead batteries in parallel"),
    level="error",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A lithium pack has a switch inside that is made for the voltage of one pack. In "
    "series, the pack that opens first gets the voltage of all the others across that switch, "
    "which can destroy it, so that it never opens again. In parallel, packs of unequal charge pour "
    "into each other, and when one opens the rest must carry its share. Lead batteries in parallel "
    "work unequally hard by the resistance of their links, the more so the more there are.",
    caution=warning(
        "A pack whose switch has failed has no protection left, and can be overcharged into fire."
    ),
    since="0.1.0",
    sound=plan(
        "van-inverter",
        Edit(
            "low_temperature_cutoff: true",
            "low_temperature_cutoff: true, max_parallel: 2, arrangement: 2p,\n"
            "          each_pack: {fuse: pack-fuse}",
        ),
        more=MORE,
    ),
    faulty=Edit("arrangement: 2p", "arrangement: 3p"),
)
def pack_count_over_limit(study: Study) -> Iterator[Observation]:
    for count in study.battery.pack_counts:
        number, allowed = int(count.there.number), int(count.allowed.number)
        if number <= allowed:
            continue
        way = "series" if count.in_series else "parallel"
        there = f"{number} batteries of `{count.bank.name}` are in {way}"
        shares = not count.in_series and count.allowed.assumptions  # lead has no switch inside
        yield Observation(
            message=f"{there}; more than {allowed} seldom share alike, and the outer ones age first"
            if shares
            else f"{there}, and its maker allows {allowed}",
            on=(count.bank,),
            level="warning" if shares else None,
            values=(count.there, count.allowed),
            margin=margin_below(count.there, count.allowed),
            remedy=_remedy(count, number, allowed),
        )


def _remedy(count: PackCount, number: int, allowed: int) -> Remedy:
    """Fewer and larger batteries: of more volts in series, of more capacity in parallel."""
    bank = count.bank
    if count.in_series:
        if allowed == 1:
            return Remedy(f"use a battery of the full voltage in place of {number} in series")
        return Remedy(f"use at most {allowed} in series, each of more volts, in place of {number}")
    one = bank.capacity.number / 3600.0 / bank.in_parallel
    needed = math.ceil(one * number / allowed - 1e-9)
    words = f"use at most {allowed} in parallel, of {needed} Ah each, in place of {number}"
    if bank.in_parallel != number:
        return Remedy(words)  # others are joined from outside: wires change too
    layout = f"{bank.in_series}s{allowed}p" if bank.in_series > 1 else f"{allowed}p"
    fewer = Change(bank.name, "arrangement", layout if allowed > 1 or bank.in_series > 1 else "")
    return Remedy(words, ((fewer, of_capacity(bank, needed, allowed)),))
