"""Temperatures of places that the climate of the plan contradicts."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.site.places import Surroundings
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the hottest air of a place is at least that of the coldest day; in the sun and beside an "
        "engine it is hotter than in the shade outside; no place is colder than outside for good"
    ),
}


@record
class Limits:
    """What a project may set."""

    cooler: float = option(
        5.0, "How far (K) a place in the sun may stay under the hottest air in the shade."
    )
    hot: float = option(95.0, "Air (°C) that is found beside engines alone.")
    kept: float = option(25.0, "Warmth (°C) in which nothing is kept that is heated for people.")
    frost: float = option(5.0, "Coldest air (°C) of the site below which that is looked at.")


@rule(
    id="place-temperature-odd",
    summary="Temperatures of each place against the coldest and hottest air of the site.",
    covers=("A place that is told colder than it can be",),
    level="warning",
    hazard="fire",
    part="plan",
    basis=BASIS,
    explanation="How hot the air around a cable gets decides what it may carry, and how cold a "
    "place gets decides whether a battery there may be charged. A lost minus sign, degrees "
    "Fahrenheit written as Celsius, or the two ends of a climate exchanged make every cable look "
    "thick enough and every battery warm enough.",
    fine="Where the place really is so, beside an engine or in a cold store: measure it, and keep "
    "the value with a note.",
    since="0.2.0",
    sound=plan("van"),
    faulty=Edit("cabin: {ambient: 35 °C}", "cabin: {ambient: -30 °C}"),
    options=Limits,
)
def place_temperature_odd(study: Study, limits: Limits) -> Iterator[Observation]:
    coldest, hottest = study.site.climate.coldest, study.site.climate.hottest_air
    for place in study.plan.site.places.values():
        if place.ambient is not None:
            words = f"hottest air in {place.name}"
            air = declared(place.ambient, f"Ta({place.name})", words)
            yield from _too_cool(place, air, coldest, hottest, limits)
            yield from _too_hot(place, air, limits)
        if place.coldest is not None:
            low = declared(place.coldest, f"Tcold({place.name})", f"coldest air in {place.name}")
            if low > hottest and not hottest.assumptions:
                yield Observation(
                    message=f"`{place.name}` is never colder than {low}, and the hottest air of "
                    f"the site is {hottest}",
                    on=(place,),
                    values=(low, hottest),
                    remedy=_remedy(place),
                    cause="coldest",
                )
            elif low.number >= limits.kept and coldest.number < limits.frost:
                yield Observation(
                    message=f"`{place.name}` is never colder than {low}, and outside it gets as "
                    f"cold as {coldest}: is that {low.number:.3g} °F?",
                    on=(place,),
                    values=(low, coldest),
                    remedy=f"write the coldest air of `{place.name}` with its unit: what is heated "
                    "for people goes down to some 5 to 18 °C at night, and what is not to that "
                    "outside",
                    cause="coldest",
                )
            elif coldest > low and not coldest.assumptions:
                yield Observation(
                    message=f"`{place.name}` gets as cold as {low}, and the coldest air of the "
                    f"site is {coldest}",
                    on=(place,),
                    values=(low, coldest),
                    remedy=f"look for a lost minus sign in the `coldest` of the site; else write "
                    f"the coldest air of `{place.name}`, which is not under that outside",
                    cause="coldest",
                )


def _too_hot(place: Surroundings, air: Value, limits: Limits) -> Iterator[Observation]:
    """Air that is only beside engines so hot: degrees Fahrenheit written as Celsius."""
    if air.number < limits.hot or place.engine_space:
        return
    yield Observation(
        message=f"the hottest air in `{place.name}` is {air}, and under a roof in the sun it gets "
        f"to some 70 °C: is that {air.number:.3g} °F?",
        on=(place,),
        values=(air,),
        remedy=_remedy(place),
        cause="ambient",
    )


def _too_cool(
    place: Surroundings, air: Value, coldest: Value, hottest: Value, limits: Limits
) -> Iterator[Observation]:
    if coldest > air:
        yield Observation(
            message=f"the hottest air in `{place.name}` is {air}, colder than the coldest of the "
            f"site, {coldest}",
            on=(place,),
            values=(air, coldest),
            remedy=_remedy(place),
            cause="ambient",
        )
    elif hottest.assumptions:
        return
    elif (place.sunlight or place.engine_space) and air.number < hottest.number - limits.cooler:
        where = "in the sun" if place.sunlight else "beside an engine"
        yield Observation(
            message=f"the hottest air in `{place.name}`, {where}, is {air}, and in the shade "
            f"outside it is {hottest}",
            on=(place,),
            values=(air, hottest),
            remedy=_remedy(place),
            cause="ambient",
        )


def _remedy(place: Surroundings) -> str:
    return (
        f"write the hottest air of `{place.name}` as its `ambient`, the coldest as its `coldest`, "
        "each with its sign and unit"
    )
