"""The voltages of branches that meet in parallel against each other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
)
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Branch, Joint
from wattproof.study.limits import exceeds, margin_below, spread
from wattproof.working import Value, total
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.curves.curves import CurveStudy, Fed

BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.4",
        "2016 with A1",
        "the open-circuit voltages of like strings agree within 5 % of each other",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, in the shape of IEC 62548",
        "2021",
        "strings in parallel are matched, with open-circuit voltages within 5 % of each other",
        verified=False,
    ),
    "common practice": practice(
        "branches in parallel are of one voltage, within 5 %; unlike voltages in parallel cost "
        "power"
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
strings:
  port: {module: north-100, series: 2, mounting: roof-gap}
  starboard: {module: south-100, series: 2, mounting: roof-gap}
combiners:
  roof-joint: {joins: [port, starboard], kind: branch-connector, rating: 30 A, voltage: 600 V}
"""


ALIKE: Final = 0.9
"""Share of the others' power from which a kind may stand in their place (common practice)."""


@record
class Limits:
    """What a project may set."""

    spread: float = option(0.05, "Share by which the lowest voltage may lie under the highest.")
    wide: float = option(0.10, "Share from which the loss is said to be large.")
    heat: float = option(1.0, "Heat at rest that is told, as a share of the string's own power.")


@rule(
    id="unlike-voltage-in-parallel",
    summary="Spread of voltage over the branches that meet at a joint.",
    covers=(
        "Strings of unlike voltage or length side by side",
        "A shorter string that its neighbours heat whenever the battery is full",
    ),
    level="warning",
    hazard="lost-energy",
    part="combiner",
    basis=BASIS,
    explanation="Branches in parallel are held at one voltage. A branch that would work best at a "
    "higher voltage is pulled down and loses what lies above; one that would work best at a lower "
    "voltage gives little or nothing where the others do well. Their currents add, their voltages "
    "do not. While the battery is full and takes nothing, the higher ones drive their current "
    "backwards through the lower one, with no fault anywhere, and its cells get hotter than the "
    "sun alone makes them: foils brown and solder cracks. The usual cause is an unequal number of "
    "modules in series, or modules of another class side by side.",
    fine="Where the loss is known and smaller than the price of other modules, and nothing flows "
    "backwards at night.",
    since="0.1.0",
    likeness=True,
    sound=plan(
        "van",
        Edit("max_input_voltage: 100 V", "max_input_voltage: 75 V"),
        Edit("from: roof-string", "from: roof-joint"),
        less=(
            "datasheets.modules",
            "strings.roof-string",
        ),
        more=MORE,
    ),
    faulty=Edit(
        "south-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A,",
        "south-100: {voc: 21.6 V, vmp: 18.0 V, isc: 5.8 A, imp: 5.56 A,",
    ),
    options=Limits,
)
def unlike_voltage_in_parallel(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        for joint in array.joints:
            at_power = _compared(array, joint, "voltage at maximum power")
            at_rest = _compared(array, joint, "open-circuit voltage")
            worst = max(at_power, at_rest, key=lambda found: found.spread.number)
            if not exceeds(worst.spread, limits.spread):
                continue
            curves = study.curves.curve_of(array)
            loss = curves.loss_at(joint) if curves else array.loss_at(joint)
            heated = _heated(curves, joint, limits.heat) if curves else None
            wide = "as much as " if exceeds(worst.spread, limits.wide) else ""
            yield Observation(
                message=f"`{worst.low.name}` ({worst.least}) and `{worst.high.name}` "
                f"({worst.most}), joined at `{joint.name}`, differ in {worst.words} by "
                f"{wide}{_percent(worst.spread)}; {'' if curves else 'at most '}"
                f"{_percent(loss)} of the power is lost"
                + (
                    f", and {heated.heat} heats `{heated.string.name}` while the battery is full"
                    if heated
                    else ""
                ),
                on=(joint, *_strings(worst)),
                values=(worst.spread, loss, *((heated.current, heated.heat) if heated else ())),
                margin=margin_below(worst.spread, limits.spread),
                remedy=_remedy(array, joint, worst.low, worst.high),
            )


class Compared(NamedTuple):
    """The branches of a joint with the lowest and the highest voltage."""

    words: str
    low: Branch
    least: Value
    high: Branch
    most: Value
    spread: Value


def _heated(curves: CurveStudy, joint: Joint, share: float) -> Fed | None:
    """The string of the joint that the others heat most with nothing drawn, where it is much."""
    strings = {string.name for branch in joint.branches for string in branch.declared_strings}
    much = [
        fed
        for fed in curves.fed_at_rest("standard")
        if fed.string.source.string.name in strings
        and exceeds(fed.heat, total([module.pmax for module in fed.string.modules]) * share)
    ]
    return max(much, key=lambda fed: fed.heat.number, default=None)


def _compared(array: ArrayStudy, joint: Joint, words: str) -> Compared:
    figure = array.vmp if words == "voltage at maximum power" else array.voc
    volts = [(branch, figure("standard", branch.tree)) for branch in joint.branches]
    low, least = min(volts, key=lambda pair: pair[1].number)
    high, most = max(volts, key=lambda pair: pair[1].number)
    apart = spread([v for _, v in volts], f"spread of {words} at {joint.name}")
    return Compared(words, low, least, high, most, apart)


def _strings(found: Compared) -> tuple[Located, ...]:
    """The plan's strings in the two branches, each once."""
    both = (*found.low.declared_strings, *found.high.declared_strings)
    return tuple({string.name: string for string in both}.values())


def _remedy(array: ArrayStudy, joint: Joint, low: Branch, high: Branch) -> Remedy | str:
    """As many in series in each; where they are, like modules side by side."""
    fewer, more = array.in_series(low.tree), array.in_series(high.tree)
    alone = f"give `{low.name}` a controller of its own"
    if fewer != more:
        words = (
            f"`{low.name}` has {fewer} in series and `{high.name}` {more}: put {fewer} in series "
            f"in both, or {alone}"
        )
        return Remedy(words, (_as_many(joint),))
    words = f"put modules of one kind in both, or {alone}"
    return Remedy(words, (_of_one_kind(joint, array),))


def _of_one_kind(joint: Joint, array: ArrayStudy) -> tuple[Change, ...]:
    """All of the kind with the lowest voltage, if its current is no larger than the others'.

    What follows the joint stands that; empty too where a string lists unlike modules, and where it
    is a kind of less power: that would lose more than it saves.
    """
    strings = [string for branch in joint.branches for string in branch.declared_strings]
    names = {str(string.module) for string in strings}
    kinds = [module for module in array.modules if module.name in names]
    if any(string.module is None for string in strings):
        return ()
    least = min(kinds, key=lambda m: m.cold_voc().number)
    if least.isc.number > min(m.isc.number for m in kinds):
        return ()
    if least.pmax.number < ALIKE * max(m.pmax.number for m in kinds):
        return ()
    return tuple(Change(s.name, "module", least.name) for s in strings if s.module != least.name)


def _as_many(joint: Joint) -> tuple[Change, ...]:
    """Plain strings of one kind of module all made as short as the shortest of them."""
    strings = [string for branch in joint.branches for string in branch.declared_strings]
    if any(s.modules is not None or s.arrangement is not None for s in strings):
        return ()
    fewest = min(int(s.series or 1) for s in strings)
    longer = tuple(s for s in strings if int(s.series or 1) > fewest)
    if len({s.module for s in strings}) > 1:
        return ()
    return tuple(Change(s.name, "series", f"{fewest}") for s in longer)


def _percent(share: Value) -> str:
    return f"{share.number * 100:.1f} %"
