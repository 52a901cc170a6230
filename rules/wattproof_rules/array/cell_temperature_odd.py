"""Temperatures of cells as told, against the air and what modules reach."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.working import declared
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "cells in full sun are 20 to 50 K hotter than the air; labels tell 41 to 50 °C as their "
        "nominal operating temperature"
    ),
}

LEAST = 5.0
"""Least by which cells in full sun are hotter than the air (K)."""

LOW, HIGH = 36.0, 58.0
"""Nominal operating cell temperatures beyond which a label is doubtful (°C)."""

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 2, mounting: roof-gap,
                hottest_cells: 72 °C}
"""


@rule(
    id="cell-temperature-odd",
    summary="Told temperatures of cells against the hottest air, and against usual labels.",
    covers=("The air's temperature told for the cells",),
    level="warning",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="Cells in the sun are always hotter than the air: they turn four fifths of the "
    "light into heat. Whoever writes the temperature of the air, or that of the "
    "label's test, for the cells makes the voltage on a hot day look higher than it "
    "will be, and a controller that cannot charge then passes as one that can.",
    fine="Where the temperature was measured at the back of a module in full sun on a hot day, "
    "with the module under load.",
    since="0.2.0",
    sound=plan(
        "van-two-modules",
        Edit(
            "max_system_voltage: 600 V", "max_system_voltage: 600 V,\n                noct: 45 °C"
        ),
        Edit("max_charge_current: 50 A", "max_charge_current: 100 A"),
        more=MORE,
    ),
    faulty=Edit("hottest_cells: 72 °C", "hottest_cells: 35 °C"),
)
def cell_temperature_odd(study: Study) -> Iterator[Observation]:
    air = study.site.climate.hottest_air
    for array in study.array.arrays:
        for string in array.declared_strings:
            if string.hottest_cells is None:
                continue
            told = declared(string.hottest_cells, f"Tcell({string.name})", "hottest cells, as told")
            if exceeds(air + LEAST, told):
                yield Observation(
                    message=(
                        f"the cells of `{string.name}` are given as {told} at their hottest, "
                        f"and the air there reaches {air}: in full sun cells are 20 to 50 K "
                        "above it"
                    ),
                    on=(string,),
                    values=(told, air),
                    remedy="measure at the back of a module at noon, or leave `hottest_cells` out",
                )
    for module in study.array.modules.values():
        noct = module.sheet.noct
        if noct is not None and not LOW <= noct.value <= HIGH:
            told = declared(noct, f"NOCT({module.name})", "nominal operating cell temperature")
            yield Observation(
                message=(
                    f"the nominal operating cell temperature of `{module.name}` is given as "
                    f"{told}; labels say 41 to 50 °C"
                ),
                on=(module.sheet,),
                values=(told,),
                remedy="look at the label again; leave `noct` out where it tells none",
            )
