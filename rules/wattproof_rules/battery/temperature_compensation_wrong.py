"""Whether the charge voltage follows the temperature of lead, and leaves that of lithium."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.battery.compensation import Compensation
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the charge voltage of lead falls by 3 to 5 mV for each degree and cell above 25 °C and "
        "rises below it; that of lithium stays what it is"
    ),
}

MORE = """\
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.4 V, blocks_reverse: true, compensates_temperature: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_current: 60 A,
          max_charge_voltage: 14.7 V, place: cabin}
"""

KEY = "compensates_temperature"


@record
class Limits:
    """What a project may set."""

    off: float = option(0.3, "Volts at 12 V by which the charge of lead may miss its temperature.")


@rule(
    id="temperature-compensation-wrong",
    summary="Whether charge voltage follows temperature with lead, and does not with lithium.",
    covers=("Charge that does not follow temperature, or should not",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A warm lead battery takes charge more readily: at the voltage that is right in "
    "spring it boils and dries out in summer, and in winter it stays half empty. Chargers for lead "
    "therefore lower the voltage as it gets warmer. Lithium wants the same voltage always; "
    "a charger that raises it in the cold drives the cells to the point where the pack cuts off.",
    caution=notice("Overcharge dries lead batteries out; sealed ones can then run hot."),
    fine="Where the battery's maker asks for just that, or its temperature hardly changes over "
    "the year.",
    since="0.1.0",
    sound=plan("van", Edit("ambient: 35 °C", "ambient: 39 °C"), more=MORE),
    faulty=Edit("compensates_temperature: true", "compensates_temperature: false"),
    options=Limits,
)
def temperature_compensation_wrong(study: Study, limits: Limits) -> Iterator[Observation]:
    for found in study.battery.compensations:
        if found.follows and not found.bank.is_lead:
            yield _raised(found)
        elif not found.follows and found.bank.is_lead:
            yield from _fixed(found, limits)


def _raised(found: Compensation) -> Observation:
    """Lithium behind a source that raises its voltage in the cold."""
    source, bank, rise = found.source, found.bank, found.in_cold
    return Observation(
        message=f"`{source.name}` raises its voltage by {rise} at {found.coldest}, and "
        f"`{bank.name}` is lithium, whose charge voltage stays the same",
        on=(source, bank),
        values=(rise, bank.charge_voltage_limit),
        remedy=Remedy(
            f"switch the temperature compensation of `{source.name}` off, and write "
            "`compensates_temperature: false`",
            (_told(found, "false"),),
        ),
    )


def _fixed(found: Compensation, limits: Limits) -> Iterator[Observation]:
    """Lead behind a source whose voltage stays the same."""
    source, bank, over, under = found.source, found.bank, found.in_heat, found.in_cold
    worse = over if over.number >= under.number else under
    allowed = limits.off * bank.nominal.number / 12.0
    if not exceeds(worse, allowed):
        return
    much = f"{over} too much at {found.hottest}"
    if worse is under:
        much = f"{under} too little at {found.coldest}"
    yield Observation(
        message=(
            f"`{source.name}` does not adjust to the temperature of `{bank.name}`, a lead "
            f"battery: {much}"
        ),
        on=(source, bank),
        values=(over, under),
        margin=margin_below(worse, allowed),
        remedy=_remedy(found, allowed),
    )


def _remedy(found: Compensation, allowed: float) -> Remedy:
    """A source that follows, or a place in which it need not."""
    source, bank = found.source, found.bank
    mildest, warmest = found.mild(allowed)
    low, high = f"{math.ceil(mildest - 1e-9)} °C", f"{math.floor(warmest + 1e-9)} °C"
    mild = (Change(bank.name, "place.coldest", low), Change(bank.name, "place.ambient", high))
    return Remedy(
        f"use a charger with a sensor on the battery for `{source.name}`, or keep `{bank.name}` in "
        f"a place of {low} to {high}, with that as its `coldest` and `ambient`",
        (_told(found, "true"), mild if bank.battery.place is not None else ()),
    )


def _told(found: Compensation, follows: str) -> tuple[Change, ...]:
    """Whether it follows temperature; by how much goes with it, which would contradict it."""
    source = found.source
    amount = () if source.compensation is None else (Change(source.name, "compensation", ""),)
    return (Change(source.name, KEY, follows), *amount)
