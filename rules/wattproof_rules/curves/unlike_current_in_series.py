"""The currents of what is joined in series against each other."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Chain, Link
from wattproof.study.limits import exceeds, margin_below, spread
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.5",
        "2016 with A1",
        "the currents of like strings agree within 5 %; what makes up a string is alike",
        verified=False,
    ),
    "common practice": practice(
        "modules in series are of one current, within 5 %; the weakest sets it for all"
    ),
}

MORE = """\
datasheets:
  modules:
    north-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
    south-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
"""


@record
class Limits:
    """What a project may set."""

    spread: float = option(0.05, "Share by which the smallest current may lie under the largest.")
    wide: float = option(0.10, "Share from which the loss is said to be large.")


@rule(
    id="unlike-current-in-series",
    summary="Spread of current at maximum power over what is joined in series.",
    covers=("Modules of unlike current in series",),
    level="warning",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="One current flows through everything in series, like water through one pipe. The "
    "module that gives least at its best voltage holds the others down to its own current, or is "
    "passed by through its bypass diodes and gives nothing. Voltages add in series, currents do "
    "not: a strong module beside a weak one is worth little more than two weak ones.",
    fine="Where the loss is known and smaller than the price of other modules.",
    since="0.1.0",
    likeness=True,
    sound=plan(
        "van-two-modules",
        Edit("module: rigid-100, series: 2", "modules: [north-100, south-100]"),
        less=("datasheets.modules",),
        more=MORE,
    ),
    faulty=Edit(
        "south-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,",
        "south-100: {voc: 24.3 V, vmp: 20.4 V, isc: 4.2 A, imp: 3.92 A, pmax: 80 W,",
    ),
    options=Limits,
)
def unlike_current_in_series(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        for chain in array.chains:
            currents = [link.current for link in chain.links]
            apart = spread(currents, f"spread of current in {chain.name}")
            if not exceeds(apart, limits.spread):
                continue
            weak = min(chain.links, key=lambda link: link.current.number)
            strong = max(chain.links, key=lambda link: link.current.number)
            curves = study.curves.curve_of(array)
            loss = curves.loss_in(chain) if curves else chain.loss
            wide = "as much as " if exceeds(apart, limits.wide) else ""
            yield Observation(
                message=f"`{weak.name}` ({weak.current}) and `{strong.name}` "
                f"({strong.current}), in series in `{chain.name}`, differ in current by "
                f"{wide}{_percent(apart)}; {'' if curves else 'at most '}{_percent(loss)} of the "
                "power is lost",
                on=chain.strings,
                values=(apart, loss),
                margin=margin_below(apart, limits.spread),
                remedy=_remedy(weak, strong, chain, array),
            )


def _remedy(weak: Link, strong: Link, chain: Chain, array: ArrayStudy) -> Remedy | str:
    """As many side by side in each group; where they are, like modules in a row."""
    alone = f"give `{weak.name}` a controller of its own"
    if weak.in_parallel != strong.in_parallel:
        return (
            f"`{weak.name}` has {weak.in_parallel} side by side and `{strong.name}` "
            f"{strong.in_parallel}: put as many side by side in both, or {alone}"
        )
    words = f"put modules of one kind in series, or {alone}"
    return Remedy(words, (_of_one_kind(chain, array),))


def _of_one_kind(chain: Chain, array: ArrayStudy) -> tuple[Change, ...]:
    """All of the kind with the largest current, where each string is of one kind."""
    kinds = {str(string.module) for string in chain.strings}
    if any(string.module is None for string in chain.strings):
        return ()
    best = max((m for m in array.modules if m.name in kinds), key=lambda m: m.imp.number)
    others = (s for s in chain.strings if s.module != best.name)
    return tuple(Change(s.name, "module", best.name) for s in others)


def _percent(share: Value) -> str:
    return f"{share.number * 100:.1f} %"
