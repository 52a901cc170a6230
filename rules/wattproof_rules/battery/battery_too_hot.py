"""The hottest air around a battery against what it stands."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.assumptions.batteries import (
    NO_HIGHEST_TEMPERATURE,
    NO_HIGHEST_TEMPERATURE_OF_LEAD,
)
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a battery stands where the air stays below the highest temperature on its label, away "
        "from engines and heaters"
    ),
}

MORE = """\
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
          max_temperature: 55 °C, place: cabin}
"""


@rule(
    id="battery-too-hot",
    summary="Hottest air around a battery, and what its heater keeps, against what it stands.",
    covers=(
        "A battery in too hot a place",
        "A lead battery beside an engine that it does not start",
        "A heater that cooks its battery",
    ),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="What goes on in a battery goes twice as fast for every ten degrees, its ageing "
    "above all: lead that lasts ten years at 20 °C lasts five at 30 °C. Above the limit of its "
    "label a lithium pack cuts off, and a cell that is already faulty comes nearer to the point "
    "where it heats itself further.",
    caution=warning("A battery that is charged while too hot can vent, and lithium can burn."),
    fine="Where the place is hot while the battery is away, or a thermometer beside it showed "
    "another temperature: write that one down.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("max_temperature: 55 °C", "max_temperature: 30 °C"),
)
def battery_too_hot(study: Study) -> Iterator[Observation]:
    for bank in study.battery.banks:
        air, limit = study.site.hottest_of(bank.battery), _limit(study, bank)
        yield from _heated(study, bank, limit)
        if air is None and bank.battery.place is None:
            yield from _outside(study, bank)
        if air is None or limit is None or not exceeds(air, limit):
            continue
        yield Observation(
            message=(
                f"`{bank.name}` gets up to {air} in `{bank.battery.place}`; it may be used up "
                f"to {limit}"
            ),
            on=(bank,),
            values=(air, limit),
            margin=margin_below(air, limit),
            remedy=Remedy(
                f"move `{bank.name}` to a place that stays below {limit}, or lead air through "
                f"`{bank.battery.place}`, and write what it reaches then as the place's `ambient`",
                ((Change(bank.name, "place.ambient", f"{limit.number:g} °C"),),),
            ),
        )


def _outside(study: Study, bank: BankStudy) -> Iterator[Observation]:
    """One whose place is not told, by the hottest air outside, where both are told."""
    air, written = study.site.climate.hottest_air, bank.battery.max_temperature
    if written is None or air.assumptions:
        return
    limit = declared(written, f"Tmax({bank.name})", f"highest temperature of {bank.name}")
    if not exceeds(air, limit):
        return
    yield Observation(
        message=f"the air outside reaches {air}, and `{bank.name}` may be used up to {limit}; "
        "where it stands is not told",
        on=(bank,),
        values=(air, limit),
        margin=margin_below(air, limit),
        remedy=f"put `{bank.name}` where the air stays below {limit}, and write that as its "
        "`place`, with the `ambient` that was measured there",
    )


def _heated(study: Study, bank: BankStudy, limit: Value | None) -> Iterator[Observation]:
    """One that its own heater keeps hotter than it stands."""
    for heater, kept in study.battery.heaters_of(bank):
        if limit is not None and exceeds(kept, limit):
            yield Observation(
                message=f"`{heater.name}` keeps `{bank.name}` at {kept}; it may be used up to "
                f"{limit}",
                on=(bank, heater),
                values=(kept, limit),
                margin=margin_below(kept, limit),
                remedy=Remedy(
                    f"set `{heater.name}` to some 5 °C to 10 °C, warm enough to be charged",
                    ((Change(str(heater.name), "keeps", "5 °C"),),),
                ),
                cause=str(heater.name),
            )


def _limit(study: Study, bank: BankStudy) -> Value | None:
    """Its highest temperature (°C); None for lead without a label, which only ages faster.

    But where an engine heats it: batteries that start one are made for that, no others.
    """
    written = bank.battery.max_temperature
    if written is not None:
        return declared(written, f"Tmax({bank.name})", f"highest temperature of {bank.name}")
    if bank.is_lead:
        place = study.plan.site.places.get(bank.battery.place or "")
        if place is None or not place.engine_space or bank.name in study.charging.of_engines:
            return None
        return study.assume.value(NO_HIGHEST_TEMPERATURE_OF_LEAD, bank.name, bank.at)
    return study.assume.value(NO_HIGHEST_TEMPERATURE, bank.name, bank.at)
