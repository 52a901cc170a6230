"""The current of a joint, and of each of its legs, against what it is rated for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Remedy,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Joint
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import LookUp, Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.33, 690.8(A)(1)",
        "2020-2023",
        "connectors are rated for the circuit; its highest current is 125 % of the sum of the "
        "short-circuit currents in parallel",
        verified=True,
    ),
    "iec": Clause(
        "IEC 62852; IEC 62548-1, factor K_I",
        "2014 with A1:2020; 2023",
        "connectors and joints are rated for the circuit; its design current is 1.25 times the "
        "short-circuit current",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "connectors and joints are rated for the circuit; its design current is 1.25 times the "
        "short-circuit current",
        verified=False,
    ),
    "common practice": Clause(
        "label of the joint; NEC 690.8(A)(1)",
        "as supplied",
        "a joint carries the sum of its branches, in sun a quarter brighter than the standard",
        verified=True,
    ),
}

BRANCH_CONNECTOR = tabled(
    50.0, "A", "Ijoint", "largest rating of branch connectors of plugs", "common practice"
)
JOINT = LookUp(
    "what joins the branches of {names}, and what it is rated for",
    "on the connector or the box, in A; tell it under `combiners`, with a string for each branch",
)


@rule(
    id="combiner-over-rating",
    summary="Current of a joint of strings, and of each leg, against its rating.",
    covers=(
        "Light on the backs of modules, which adds current",
        "Overloaded branch connectors and boxes",
    ),
    level="error",
    hazard="fire",
    part="combiner",
    basis=BASIS,
    explanation="Where branches meet in parallel their currents add up, and the joint and "
    "everything after it carry the sum. A branch connector often has the rating of a single "
    "connector printed on it, whatever the number of its legs. No fuse opens when it is "
    "overloaded, since every string gives no more than it should: the plastic softens, the "
    "contact loosens, and heat does the rest.",
    caution=warning("An overloaded joint chars on the roof for weeks before anybody sees it."),
    since="0.1.0",
    sound=plan("two-strings", less=("datasheets.cables.pv-10",)),
    faulty=Edit("kind: branch-connector, rating: 30 A", "kind: branch-connector, rating: 20 A"),
)
def combiner_over_rating(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        for joint in array.joints_of_each_pole:
            yield from _whole(joint, array, study)
            yield from _legs(joint, array)
        yield from _of_short_forms(array, study)


def _of_short_forms(array: ArrayStudy, study: Study) -> Iterator[Observation]:
    """The joint that a short form such as 2s6p tells nothing of, where few stand its current."""
    strings = study.plan.strings
    currents = {
        joint.name: array.isc("bright", joint.tree)
        for joint in array.joints
        if joint.name in strings
    }
    for name, current in currents.items():
        if exceeds(current, BRANCH_CONNECTOR):
            yield Observation(
                message=f"{current} come together where the branches of `{name}` meet, and what "
                f"joins them is not told; branch connectors are sold for {BRANCH_CONNECTOR} at most"
                ", most for less",
                on=(strings[name],),
                values=(current, BRANCH_CONNECTOR),
                asks=JOINT,
            )


def _whole(joint: Joint, array: ArrayStudy, study: Study) -> Iterator[Observation]:
    combiner = joint.combiner
    if combiner is None:
        return  # of a short form, which is asked about, or made by wires
    current = array.isc("bright", joint.tree)
    rating = study.array.rating_of_joint(combiner)
    if exceeds(current, rating):
        yield Observation(
            message=f"`{joint.name}` carries {current} from {len(joint.branches)} branches in "
            f"bright sun and is rated {rating}",
            on=(combiner, *_strings(joint)),
            values=(current, rating),
            margin=margin_below(current, rating),
            remedy=Remedy(
                f"use a joint rated at least {_amps(current)}, or wire more modules in series and "
                "fewer branches in parallel",
                ((Change(joint.name, "rating", _amps(current)),),),
            ),
        )


def _legs(joint: Joint, array: ArrayStudy) -> Iterator[Observation]:
    """Each leg against what is printed for legs, and against its connector's own rating."""
    if joint.combiner is None:
        return
    leg, connector = joint.combiner.leg_rating, joint.combiner.connector
    plug = connector.rating if connector is not None else None
    for what, printed, key, instead in (
        ("leg", leg, "leg_rating", "a joint whose legs are"),
        ("connector", plug, "connector.rating", "a joint whose connectors are"),
    ):
        if printed is None:
            continue
        rating = declared(
            printed, f"I{what}({joint.name})", f"rating of each {what} of {joint.name}"
        )
        for branch in joint.branches:
            current = array.isc("bright", branch.tree)
            if exceeds(current, rating):
                yield Observation(
                    message=f"the {what} of `{joint.name}` from `{branch.name}` carries {current} "
                    f"in bright sun and is rated {rating}",
                    on=(joint.combiner, *dict.fromkeys(s.source.string for s in branch.strings)),
                    values=(current, rating),
                    margin=margin_below(current, rating),
                    remedy=Remedy(
                        f"use {instead} rated at least {_amps(current)}",
                        ((Change(joint.name, key, _amps(current)),),),
                    ),
                )


def _strings(joint: Joint) -> tuple[Located, ...]:
    by_name = {s.source.string.name: s.source.string for b in joint.branches for s in b.strings}
    return tuple(by_name.values())


def _amps(current: Value) -> str:
    return f"{math.ceil(current.number - 1e-9)} A"
