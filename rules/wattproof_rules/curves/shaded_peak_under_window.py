"""The best point of a shaded array, at a voltage that its controller cannot use."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "enough modules are in series that those left when some are shaded still give more than "
        "the battery's voltage and the tracker's margin"
    ),
}

MORE = """\
shade:
  roof-box: {shadows: [{string: roof-string, module: 1, light: 90 %},
                       {string: roof-string, module: 2, groups: 1, light: 90 %}]}
"""


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.20, "Share of the shaded array's best power that may be out of reach.")


@rule(
    id="shaded-peak-under-window",
    summary="Voltage of a shaded array at its best point against what its controller needs.",
    covers=("A best point under shade that no one can use",),
    level="warning",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="Bypass diodes lead the current around what is shaded, and the voltage of those "
    "modules is then missing. The best point of what is left may lie under the voltage of the "
    "battery, where a controller that only lowers voltage cannot go. It then works at a far worse "
    "point, or stops, although half the array lies in full sun.",
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
    faulty=Edit(
        "module: 1, light: 90 %},\n                       {string: roof-string, module: 2, "
        "groups: 1, light: 90 %}",
        "module: 1, light: 10 %},\n                       {string: roof-string, module: 2, "
        "groups: 1, light: 10 %}",
    ),
    options=Limits,
)
def shaded_peak_under_window(study: Study, limits: Limits) -> Iterator[Observation]:
    if not study.plan.shade:
        return
    for array in study.array.arrays:
        curves = study.curves.curve_of(array)
        if curves is None or curves.window.needed is None or array.controller.kind == "pwm":
            continue
        needed = curves.window.needed
        for case in study.plan.shade.values():
            shaded = curves.shaded(case)
            point = shaded.operating if shaded is not None else None
            if shaded is None or point is None or not exceeds(needed, shaded.peak_voltage):
                continue
            lost = 1.0 - point.power / shaded.power
            lost = lost.named(f"lost({case.name})", "share of the best power out of reach", "%")
            if not exceeds(lost, limits.lost):
                continue
            yield Observation(
                message=f"under `{case.name}` the {array.name} is best at {shaded.peak_voltage}, "
                f"and `{array.controller.name}` needs {needed}: {_percent(lost)} of {shaded.power} "
                "is out of its reach",
                on=(case, array.controller, *array.declared_strings),
                values=(shaded.peak_voltage, needed, lost),
                margin=margin_below(lost, limits.lost),
                remedy=_remedy(array),
            )


def _remedy(array: ArrayStudy) -> str:
    count = array.in_series()
    return (
        f"put more than {count} in series where the controller's limit allows, use a controller "
        "that can raise the voltage, or move what throws the shadow"
    )


def _percent(share: Value) -> str:
    return f"{share.number * 100.0:.0f} %"
