"""Air around a controller or an inverter, against that up to which it gives its rating."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "controllers and inverters give their rating up to an air temperature in their manual, "
        "most often 40 °C, and less above it; they have free air on all sides that it names"
    ),
}

MORE = """\
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true,
            derates_above: 40 °C, place: cabin}
"""


@rule(
    id="unit-too-hot",
    summary="Hottest air around controllers and inverters against that of their rated output.",
    covers=("A unit without air to cool it",),
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A controller or inverter turns some percent of what passes into heat, and its own "
    "air must carry that away. In a closed cupboard the air gets hotter with it. Above the "
    "temperature of its manual it protects itself by giving less, just at noon in summer, and then "
    "by switching off; its capacitors age twice as fast for every ten degrees.",
    caution=notice("A unit that is always too hot fails within a few years."),
    fine="Where it is ventilated so that its own air stays cooler than the place: measure it "
    "there, and write that down.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("derates_above: 40 °C", "derates_above: 30 °C"),
)
def unit_too_hot(study: Study) -> Iterator[Observation]:
    for cooled in study.charging.cooled:
        unit, air, limit = cooled.unit, cooled.air, cooled.limit
        if not exceeds(air, limit):
            continue
        yield Observation(
            message=f"`{unit.name}` is in `{unit.place}` at up to {air}, and gives its rating only "
            f"up to {limit}",
            on=(unit,),
            values=(air, limit),
            margin=margin_below(air, limit),
            remedy=Remedy(
                f"move `{unit.name}` to a place that stays below {limit}, or let air in below it "
                "and out above it, and write what it reaches then as the place's `ambient`; else "
                "reckon with the smaller output in its manual",
                ((Change(unit.name, "place.ambient", f"{limit.number:g} °C"),),),
            ),
        )
