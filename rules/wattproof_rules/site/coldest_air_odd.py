"""The coldest air of a site against what even mild coasts get at its latitude."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.working import Value
from wattproof_rules.plans import plan

COLDEST_ANYWHERE = 45.0
"""Figure past which a minus was hardly lost: few live where it is so cold (common practice)."""
FREEZING_F = 32.0
"""Figure from which degrees Fahrenheit are likelier than a lost minus."""

BASIS = {
    "common practice": practice(
        "away from the tropics every place has cold mornings: by the records of island stations, "
        "from memory, the mildest coasts get as cold as 10 °C at 35° of latitude, 6 °C at 45° and "
        "2 °C at 55°; no island of the tropics stays above 25 °C all year"
    ),
}


def _meant(coldest: Value, mildest: Value, text: str) -> str:
    """What it would be without the commonest slip: in °F, or with its sign."""
    celsius = (coldest.number - 32.0) / 1.8
    if coldest.number >= FREEZING_F and "F" not in text and celsius <= mildest.number:
        return f"; is it {coldest.number:g} °F, which are {celsius:.0f} °C?"
    lost = not exceeds(-1.0 * coldest, mildest) and coldest.number <= COLDEST_ANYWHERE
    return f"; is it −{text}?" if lost else ""


@rule(
    id="coldest-air-odd",
    summary="Coldest air of the site against what the mildest coasts have at its latitude.",
    covers=("A lost minus sign in the coldest air",),
    level="warning",
    hazard="damage",
    part="plan",
    basis=BASIS,
    explanation="The colder the cells, the higher their voltage, and the coldest bright morning "
    "decides whether a controller survives. A lost minus sign, the mean of winter in place of its "
    "coldest morning, or degrees Fahrenheit written as Celsius take a tenth off that voltage, and "
    "every limit that it is held against is passed. The array stands in the cold in winter too, "
    "whether anybody is there or not.",
    caution=notice("A controller that gets more than its input stands is destroyed at once."),
    fine="Where the modules are taken down before the cold, or the site lies in a valley or on an "
    "island that is known to be so mild: write it down with its source.",
    since="0.5.0",
    sound=plan("van", Edit("hottest: 40 °C,", "hottest: 40 °C, latitude: 52°,")),
    faulty=Edit("coldest: -18 °C", "coldest: 18 °C"),
)
def coldest_air_odd(study: Study) -> Iterator[Observation]:
    climate, told = study.site.climate, study.site.climate.coldest_told
    mildest = climate.mildest
    if told is None or not exceeds(climate.coldest, mildest):
        return
    where = "even the mildest islands"
    if told.latitude is not None:
        where = f"at {told.latitude.text} of latitude the mildest coasts"
    yield Observation(
        message=f"the coldest air is told as {climate.coldest}, and {where} get as cold as "
        f"{mildest}{_meant(climate.coldest, mildest, told.air.text)}",
        on=(told,),
        values=(climate.coldest, mildest),
        remedy="write the lowest air temperature with daylight of the coldest place that it will "
        "go to, from the records of a weather station there",
    )
