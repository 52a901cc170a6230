"""Temperature compensation as told, by sign and size."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the charge voltage of lead falls by 3 to 6 mV for each cell and degree as it gets warmer"
    ),
}

LEAST, MOST = 0.6, 1.8
"""Shares of the usual compensation of lead, 4 mV for each cell, that makers ask for."""

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.4 V, blocks_reverse: true,
            compensation: -24 mV/°C}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_voltage: 14.7 V}
"""


@rule(
    id="compensation-odd",
    summary="Temperature compensation of each source against what lead asks for.",
    covers=("Compensation with its sign turned round",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="Lead takes charge more readily when it is warm, so the voltage has to fall as it "
    "warms up. With the sign turned round the charger gives more the hotter the "
    "battery gets, which heats it further: thermal runaway. The figure is often told "
    "for one cell, and a battery of 12 V has six of them.",
    caution=warning(
        "A sealed battery that is charged harder as it warms up can run away and burst."
    ),
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit("compensation: -24 mV/°C", "compensation: 24 mV/°C"),
)
def compensation_odd(study: Study) -> Iterator[Observation]:
    for found in study.battery.compensations:
        told = found.told
        if told is None or not found.bank.is_lead or not found.follows:
            continue
        name = found.source.name
        least, most = (found.per_kelvin * share for share in (LEAST, MOST))
        wrong = told.number > 0.0
        if not wrong and least.number <= -told.number <= most.number * (1.0 + 1e-9):
            continue
        usual, shown = _millivolts(-found.per_kelvin.number), _millivolts(told.number)
        yield Observation(
            message=(
                f"`{name}` raises its voltage by {shown} as `{found.bank.name}` warms up; it has "
                "to lower it"
            )
            if wrong
            else f"`{name}` changes its voltage by {shown} for `{found.bank.name}`, and about "
            f"{usual} is usual: is that for one cell, or for another system voltage?",
            on=(found.source, found.bank),
            values=(told, found.per_kelvin),
            remedy=Remedy(
                f"set it to what the battery's maker says, about {usual} for the whole battery",
                ((Change(name, "compensation", usual),),),
            ),
            level=None if wrong else "warning",
        )


def _millivolts(per_kelvin: float) -> str:
    return f"{per_kelvin * 1e3:.3g} mV/°C"
