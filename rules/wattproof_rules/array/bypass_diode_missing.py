"""Modules without bypass diodes in series with others."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.remedies.proposals import in_series, labelled
from wattproof.rule import Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.series import in_series_with
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 61730-1 and IEC 61215, hot-spot endurance",
        "2016",
        "modules that are connected in series are protected against hot spots, commonly by bypass "
        "diodes",
        verified=False,
    ),
    "common practice": practice("modules in series have a bypass diode each, or more"),
}

USUAL = 2  # diodes in a module
MANY = 2  # in series, above which the shaded cells take enough to burn


@rule(
    id="bypass-diode-missing",
    summary="Modules in series of which the label says that they have no bypass diode.",
    covers=("No bypass diodes in series",),
    level="error",
    hazard="fire",
    part="string",
    basis=BASIS,
    explanation="All modules in series carry one current. A shaded cell cannot make it, so the "
    "others push it through that cell backwards, and their power becomes heat in a spot of a few "
    "square centimetres. A bypass diode leads the current around the shaded cells before that "
    "happens. The more modules in series without one, the more voltage stands over the cell.",
    caution=warning(
        "A leaf or a rope can be enough to burn a hole into a folding or glued-on module."
    ),
    since="0.1.0",
    sound=plan(
        "van-two-modules",
        Edit(
            "pmax_coefficient: -0.36 %/°C,",
            "pmax_coefficient: -0.36 %/°C, bypass_diodes: 2,\n               ",
        ),
    ),
    faulty=Edit("bypass_diodes: 2", "bypass_diodes: 0"),
)
def bypass_diode_missing(study: Study) -> Iterator[Observation]:
    seen: set[str] = set()
    for array in study.array.arrays:
        for string, count in in_series_with(array):
            named = string.source.string
            bare = {m.name: m for m in string.modules if m.sheet.bypass_diodes == 0}
            if not bare or count < 2 or str(named.name) in seen:
                continue
            seen.add(str(named.name))
            volts = (
                string.voc("standard") if count == len(string.modules) else array.voc("standard")
            )
            yield Observation(
                message=(
                    f"{_named(list(bare))} in `{named.name}` has no bypass diode, and {count} "
                    f"are in series: a shaded cell can see up to {volts} backwards"
                ),
                on=(named, *(m.sheet for m in bare.values())),
                values=(volts,),
                remedy=_remedy(array, string, bare.values(), study),
                level="error" if count > MANY else "warning",
            )


def _remedy(
    array: ArrayStudy, string: StringStudy, bare: Iterable[ModuleStudy], study: Study
) -> Remedy:
    """One in series where that still charges; or modules with the usual number of diodes."""
    named = string.source.string
    ask = "ask the maker whether there are some inside the laminate"
    other = tuple(c for m in bare for c in labelled([named], m, "bypass_diodes", f"{USUAL}"))
    words = f"use modules with bypass diodes, often {USUAL}; {ask}"
    if study.curves.window_of(array).fewest_in_series > 1:
        return Remedy(words, (other,))
    apart = in_series(array, 1).changes
    return Remedy(
        f"put these modules in parallel, each with one in series, or {words}", (apart, other)
    )


def _named(names: list[str]) -> str:
    return quoted(names)
