"""What a declared shadow costs a series array against the light that it takes."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import enumerated
from wattproof.working import LookUp, Value
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "where a shadow falls every day, modules are grouped so that it costs little more than "
        "the light that it takes"
    ),
}

MORE = """\
shade:
  roof-box: {shadows: [{string: roof-string, module: 1, groups: 1, light: 50 %}]}
"""


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.30, "Share of the power that a shadow may cost.")
    times: float = option(1.5, "How many times the share of light taken may be lost.")


@rule(
    id="shade-series-loss",
    summary="Power lost to a declared shadow against the light it takes, of modules in series.",
    covers=("A shadow that costs far more than its light",),
    level="note",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="All modules in series carry the same current, and a shaded one can make only a "
    "part of it. The tracker must choose: follow the weak one and lose current everywhere, or let "
    "its bypass diodes lead around it and lose all that it still gives. In parallel each goes on "
    "at nearly its own best, at the price of more current and thicker wires.",
    fine="Where the shadow comes at an hour or in a season that does not matter to you.",
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit(
            "pmax_coefficient: -0.36 %/°C,",
            "pmax_coefficient: -0.36 %/°C, bypass_diodes: 2,\n                cells_in_series: 36,",
        ),
        more=MORE,
    ),
    faulty=Edit("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"),
    options=Limits,
)
def shade_series_loss(study: Study, limits: Limits) -> Iterator[Observation]:
    yield from _not_told(study)
    if not study.plan.shade:
        return
    for array in study.array.arrays:
        curves = study.curves.curve_of(array)
        if curves is None or array.in_series() < 2:
            continue
        for case in study.plan.shade.values():
            shaded = curves.shaded(case)
            if shaded is None:
                continue
            lost, taken, apart = shaded.lost, shaded.light_taken, shaded.lost_apart
            if not exceeds(lost, limits.lost) or not exceeds(lost, taken * limits.times):
                continue
            yield Observation(
                message=f"`{case.name}` takes {_percent(taken)} of the light and costs the "
                f"{array.name} {_percent(lost)} of its power",
                on=(case, *array.declared_strings),
                values=(lost, taken, apart),
                margin=margin_below(lost, limits.lost),
                remedy=_remedy(study, array, apart),
            )


def _not_told(study: Study) -> Iterator[Observation]:
    """What is asked of arrays that something may shade and of which no shade is told."""
    for array in study.array.arrays:
        shaded = study.curves.shade_not_told(array)
        if shaded is None:
            continue
        obstacles = enumerated(
            [_OBSTACLES.get(str(o), str(o)) for o in study.plan.site.obstacles_in_sight]
        )
        lost = _percent(shaded.lost)
        yield Observation(
            message=f"{obstacles} may shade the {array.name}, and no shade is told; one module in "
            f"the shade would cost it {lost} of its power while that lasts",
            on=(array.controller, array.declared_strings[0]),
            values=(shaded.lost,),
            remedy="look at the modules on a clear day, at morning, noon and evening, "
            "and write what is shaded under `shade`; in winter shadows are three times as long",
            asks=LookUp(
                "which modules of {names} are shaded, and for how long",
                f"from the shadows of {obstacles} on a clear day; one module in the shade would "
                f"cost {lost} of the power",
                "often",
            ),
        )


_OBSTACLES = {
    "mast": "the mast",
    "rigging": "the rigging",
    "roof-box": "the roof box",
    "antenna": "the antenna",
    "building": "the building",
}


def _remedy(study: Study, array: ArrayStudy, apart: Value) -> str:
    """What is lost at least however the modules are joined, and how few may be in series."""
    count, fewest = array.in_series(), study.curves.window_of(array).fewest_in_series
    least = f"with every group of cells on its own {_percent(apart)} would be lost"
    if fewest < count and array.controller.kind != "pwm":
        fewer = f"{fewest} in series" if fewest > 1 else "all in parallel"
        return f"join fewer in series ({fewer} would still charge): {least}; or move the shadow"
    return f"move the shadow, or use a controller that charges from fewer in series: {least}"


def _percent(share: Value) -> str:
    return f"{share.number * 100.0:.0f} %"
