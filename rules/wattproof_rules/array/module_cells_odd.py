"""The open-circuit voltage of each cell that a label stands for."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import labelled
from wattproof.rule import Edit, Observation, Remedy, practice, rule
from wattproof.study import Study
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import counted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a crystalline cell has 0.55 to 0.76 V at open circuit, so that the voltage on a label "
        "tells how many are in series: 98 in a hundred of 20,946 crystalline modules in an open "
        "set do so, and most others count both halves of half cells"
    ),
}

LOWEST = 0.55  # V
HIGHEST = 0.76  # V
MOST_OF_ANY = 1.0  # V: no one cell of any kind of silicon comes near


@rule(
    id="module-cells-odd",
    summary="Open-circuit voltage on a label for each of the cells in series.",
    covers=("Cells miscounted, or the voltage of two modules",),
    level="note",
    hazard="damage",
    part="module",
    basis=BASIS,
    explanation="Each cell of silicon gives its own half to three quarters of a volt, whatever its "
    "size, and the module gives as many times that as cells follow one after another. Where the "
    "two numbers on a label do not fit, one of them is wrong: the cells were counted with both "
    "halves of half cells, or the voltage is that of two modules, or that of the battery.",
    fine="Where both values were read on the label again, and the maker counts cells in another "
    "way. Keep a picture of the label.",
    since="0.1.0",
    sound=plan("van", Edit("rigid-100: {", "rigid-100: {cells_in_series: 36, ")),
    faulty=Edit("cells_in_series: 36", "cells_in_series: 72"),
)
def module_cells_odd(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        cells = module.sheet.cells_in_series
        if cells is None or module.sheet.technology != "crystalline":
            continue
        words = f"cells in series of {module.name}"
        count = counted(cells, cells.text, cells.place, "Ncells", words)
        each = (module.voc / count).named("Vcell", f"voltage of each cell of {module.name}", "V")
        if LOWEST <= each.number <= HIGHEST:
            continue
        yield Observation(
            message=f"{module.voc} over {int(cells)} cells in series makes {each} for each cell of "
            f"`{module.name}`; cells of silicon have {LOWEST:g} to {HIGHEST:g} V",
            on=(module.sheet,),
            values=(each,),
            margin=margin_below(each, HIGHEST)
            if exceeds(each, HIGHEST)
            else each.number / LOWEST - 1.0,
            level="warning" if each.number > MOST_OF_ANY else None,
            remedy=_remedy(study, module, int(cells)),
        )


def _remedy(study: Study, module: ModuleStudy, cells: int) -> Remedy | str:
    """The usual miscount that fits, else the counts that would."""
    volts = module.voc.number
    for fitting in (cells // 2, cells * 2):
        if fitting and LOWEST <= volts / fitting <= HIGHEST:
            words = (
                f"count the cells again: {fitting} in series would fit; of half cells, those side "
                "by side count once"
            )
            users = study.array.users_of(module)
            return Remedy(words, (labelled(users, module, "cells_in_series", f"{fitting}"),))
    fewest, most = round(volts / HIGHEST + 0.5), max(1, int(volts / LOWEST))
    return f"read the label again: with that voltage it has {fewest} to {most} cells in series"
