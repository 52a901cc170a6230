"""All that draws from a bank at once against what its packs let out."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below, stated
from wattproof.study.wiring.discharging import Discharging
from wattproof.words import quoted, stood
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "inverter and loads together stay within the discharge limits of the packs; packs in "
        "parallel count with 0.8 of their sum, since they never share equally"
    ),
}


@record
class Limits:
    """What a project may set."""

    wrong: float = option(1.25, "Times the discharge limit from which it is an error.")


@rule(
    id="load-over-battery-discharge",
    summary="Current of inverter and loads together against the discharge limit of the bank.",
    covers=("More drawn than packs let out",),
    level="error",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A lithium pack carries a switch inside that opens when more is drawn than its "
    "cells or that switch can stand. An inverter draws most when the battery is low, since it "
    "makes up with current for the voltage that is missing. Of packs in parallel the one with the "
    "shortest leads gives most and opens first; then the rest get all of it and open too, and "
    "everything goes dark at once.",
    caution=notice(
        "When the pack opens under load all lights and instruments fail together, and a charger "
        "that is running may be left without a battery."
    ),
    fine="Where the loads cannot run at once, because a switch or a relay keeps them apart.",
    since="0.1.0",
    sound=plan("van-inverter"),
    faulty=Edit("max_discharge_current: 100 A", "max_discharge_current: 70 A"),
    options=Limits,
)
def load_over_battery_discharge(study: Study, limits: Limits) -> Iterator[Observation]:
    for drawn in study.wiring.discharging:
        current, limit = drawn.current, drawn.limit
        if not exceeds(current, limit):
            continue
        grave = exceeds(current, limits.wrong * limit)
        listed = ", ".join(f"`{consumer.name}` {amps}" for consumer, amps in drawn.consumers)
        names = quoted(bank.name for bank in drawn.banks)
        parted = drawn.selectors or drawn.opened
        turned = f", {stood(drawn.selectors, drawn.opened)}" if parted else ""
        yield Observation(
            message=(
                f"{current} is drawn from {names} when everything runs ({listed}){turned}; "
                f"{stated(limit, 'the most that may be')}"
            ),
            on=(*drawn.banks, *(consumer for consumer, _ in drawn.consumers)),
            values=(current, limit),
            margin=margin_below(current, limit),
            remedy=_remedy(drawn),
            level=None if grave else "warning",
        )


def _remedy(drawn: Discharging) -> Remedy:
    """The pack that would do."""
    packs = sum(bank.in_parallel for bank in drawn.banks)
    needed = math.ceil(drawn.needed_each - 1e-9)
    give = (
        f"{packs} packs that give at least {needed} A each"
        if packs > 1
        else (f"a pack that gives at least {needed} A")
    )
    words = f"use {give}, more packs in parallel, or a smaller inverter; or let loads run in turn"
    stated = ((bank.name, bank.battery.max_discharge_current) for bank in drawn.banks)
    weak = (name for name, amps in stated if amps is None or amps.value < needed)
    stronger = tuple(Change(name, "max_discharge_current", f"{needed} A") for name in weak)
    return Remedy(words, (stronger,))
