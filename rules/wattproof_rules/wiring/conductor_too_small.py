"""The lasting current of a conductor against what it may carry in its place."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.8(B) with 110.14(C)",
        "2014-2023",
        "a conductor carries the larger of two demands: 125 % of the highest current before any "
        "correction, read in the column of its weakest terminal, and the highest current after "
        "correction for ambient and bundling; they are not multiplied",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11; 33 CFR 183.425 Table 5",
        "2003 and later; current CFR",
        "the current in a conductor stays within the table for its size and insulation, "
        "multiplied by the factor for engine spaces",
        verified=True,
    ),
    "iec": Clause(
        "IEC 62548 Table 5; IEC 60364-4-43 433.1",
        "2016; 2008",
        "a conductor carries its design current after corrections; in an array that is 1.25 times "
        "the short-circuit current",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297, ampacity table (from ISO 10133 Table A.1)",
        "2022",
        "the current in a conductor stays within the table for its area and insulation, "
        "multiplied by the factor for engine spaces",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3000 2.5.3; AS/NZS 5033; AS/NZS 3008.1",
        "2018; 2021; 2017",
        "a conductor carries its design current after corrections, by the tables of AS/NZS "
        "3008.1, for which those of IEC 60364-5-52 stand in here; in an array that is 1.25 times "
        "the short-circuit current",
        verified=False,
    ),
}


@rule(
    id="conductor-too-small",
    summary="Lasting current of a conductor against its current-carrying capacity in its place.",
    covers=(
        "Light on the backs of modules, which adds current",
        "Wires too thin for their current and heat",
        "Terminals that stand less heat than the wire",
        "Many loaded wires in one bundle",
        "Cable and fuse of an inverter",
    ),
    level="error",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="A conductor warms up with the square of its current, on top of the heat around "
    "it. What a table lets it carry is the current at which its insulation just stays within its "
    "temperature: less on a hot roof, less in a bundle, and never more than the terminals at its "
    "ends stand. Above that the insulation ages, softens, and finally bares the metal.",
    caution=warning(
        "An overloaded cable heats for hours without tripping anything, behind panels and foam."
    ),
    since="0.1.0",
    sound=plan("two-strings"),
    faulty=Edit("to: tracker.pv, cable: pv-8", "to: tracker.pv, cable: pv-10"),
)
def conductor_too_small(study: Study) -> Iterator[Observation]:
    for placed in (*study.wiring.wires.values(), *study.wiring.bonds_in_use):
        wire = placed.in_bearable_air  # that the air is too hot for it is said elsewhere
        if wire.cooled and wire.insulation.assumptions:
            continue  # with another insulation it would not be
        if isinstance(wire.carrying, str):
            if wire.current is not None:
                yield _unknown(wire, wire.current, wire.carrying)
            continue
        over = wire.fails(wire.current) if wire.current is not None else ()
        if not over or wire.current is None:
            continue
        need, may = min(over, key=lambda test: margin_below(*test))
        less = study.protection.returns_less(wire, wire.current)
        first = less or study.protection.opens_first(wire)
        yield Observation(
            message=(
                f"`{wire.name}` ({wire.size.name}) has to carry {need}{_briefly(wire)}; "
                f"{may} is the most that it may{', even in cool air' if wire.cooled else ''}"
                f"{'; its fuse opens before that' if first else ''}"
            ),
            on=(wire,),
            values=(need, may),
            margin=margin_below(need, may),
            remedy=_remedy(wire, study),
            level="note" if first or _spare_only(wire, study) else None,
            cause=f"{wire.current}",
        )


def _briefly(wire: WireStudy) -> str:
    """What that stands for, where it is the warming of a larger current in its time."""
    if wire.brief is None or wire.current is None:
        return ""
    return f" for good, which warms it as much as {wire.current} for {wire.brief.runs} does"


def _spare_only(wire: WireStudy, study: Study) -> bool:
    """True where it carries its current, and lacks a spare quarter that no named rules ask for."""
    return study.plan.code is None and not wire.is_overloaded


def _unknown(wire: WireStudy, current: Value, why: str) -> Observation:
    return Observation(
        message=f"what `{wire.name}` ({wire.size.name}) may carry is not known: {why}",
        on=(wire,),
        values=(current,),
        level="note",
        remedy="take a size and an insulation that the body of rules has in its tables",
    )


def _remedy(wire: WireStudy, study: Study) -> Remedy | str:
    """The smallest size that carries, in the same place, what it would let through."""
    current = study.wiring.in_full(wire)
    assert current is not None
    for proposed in wire.larger_sizes():
        may = proposed.carrying
        if isinstance(may, str):
            continue
        if not proposed.fails(current) or study.protection.returns_less(proposed, current):
            words = f"use {proposed.size.name} of the same kind ({may.value})"
            return Remedy(words, ((proposed.as_change,),))
    return "no single size in the tables will do: run conductors in parallel, or raise the voltage"
