"""Whether all outputs say the same of each stretch of wire: rules, sweep, schedules and figures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from wattproof.circuit import Conductor
from wattproof.finding import Finding
from wattproof.question import Decided, Question
from wattproof.reports.curves import data as drawn
from wattproof.study import Study
from wattproof.study.protection.answers import Allowed, worst_of
from wattproof.views.figures import figures_of
from wattproof.views.schedules.conductors import conductor_rows

PROTECTION = {
    "battery-fuse-missing",
    "fuse-over-conductor",
    "group-lead-unprotected",
    "negative-smaller-than-positive",
}
"""Rules that say of a wire that nothing protects it as it should."""
OTHERS = {
    "conductor-too-small",
    "device-not-for-dc",
    "fuse-interrupt-low",
    "string-fuse-missing",
    "string-fuse-one-pole",
}
"""Rules that say it too, in other words: of what the wire carries, of the device, of the string."""


Told: TypeAlias = Finding | Decided


def disagreements(
    study: Study, findings: Iterable[Finding], questions: Iterable[Question] = ()
) -> Iterator[str]:
    """Everything that one output says of a stretch and another does not.

    What hangs on a guess is told by the question on it.
    """
    asked = [decided for question in questions for decided in question.decides]
    told = [f for whole in findings for f in whole.each if f.rule in PROTECTION | OTHERS]
    also = [decided for decided in asked if decided.rule in PROTECTION | OTHERS]
    yield from _reasons_without_finding(study, [*told, *also])
    yield from _findings_without_reason(study, told)
    yield from _schedules(study)
    yield from _figures(study)
    yield from _judged_once(study, [f for whole in findings for f in whole.each], asked)


def _reasons_without_finding(study: Study, told: list[Told]) -> Iterator[str]:
    named = {subject for finding in told for subject in finding.subjects}
    strings = {str(s) for a in study.array.arrays for s in (x.name for x in a.all_strings)}
    for answer in study.protection.allowed:
        if answer.reason is None:
            continue
        about = {answer.wire.name, *(str(d.name) for d in answer.devices)}
        about |= {str(d.device.name) for d in answer.devices}
        if answer.way is not None and answer.way.conductors:
            about.add(answer.way.conductors[0].name)
        if answer.kind == "siblings":
            about |= strings
        panels = {d.end.component for d in answer.devices}
        if not named & (about | panels):
            yield f"{answer.wire.name}: {answer.reason} ({answer.why}), and no finding says so"


def _findings_without_reason(study: Study, told: list[Finding]) -> Iterator[str]:
    bad = {a.wire.name for a in study.protection.allowed if a.reason or a.verdict == "not known"}
    bad |= {
        way.exit.conductors[0].name
        for way in study.protection.ways.all
        if way.exit.conductors and (way.verdict != "short enough" or way.is_cranking)
    }
    for finding in told:
        if finding.rule in PROTECTION and not set(finding.subjects) & bad:
            yield f"{finding.rule}: {finding.message}, and the judge finds no fault"


def _judged_once(study: Study, findings: list[Finding], asked: list[Decided]) -> Iterator[str]:
    """What a section of the study judges, against the rule that tells it: no more and no less."""
    told: dict[str, set[str]] = {}
    for finding in findings:
        told.setdefault(finding.rule, set()).update(finding.subjects)
    open_ones: dict[str, set[str]] = {}
    for decided in asked:
        open_ones.setdefault(decided.rule, set()).update(decided.subjects)
    for rule, names in _judgements(study):
        if names - told.get(rule, set()) - open_ones.get(rule, set()):
            yield f"{rule}: {sorted(names)} judged so, told of {sorted(told.get(rule, set()))}"
    for rule, allowed in _tellable(study):
        if not told.get(rule, set()) <= allowed:
            yield f"{rule}: told of {sorted(told[rule] - allowed)}, which is not judged so"


def _judgements(study: Study) -> Iterator[tuple[str, set[str]]]:
    """Rules, and what they have to name."""
    protection, wiring = study.protection, study.wiring
    over = {p.name for p in protection.panels if p.is_overloaded or p.held.reason}
    yield "panel-over-rating", over
    bars = {bar.name for bar in wiring.busbars if bar.is_overloaded}
    yield "busbar-over-rating", bars
    held = {h.name for h in protection.held if h.reason and h.what != "panel"}
    yield "device-behind-larger-fuse", held - bars
    yield "device-trips-late", {a.wire.name for a in protection.allowed if a.trips_late}
    yield "device-not-for-dc", {name for name, d in wiring.devices.items() if d.dc is False}
    inputs = [drawn.read(curves) for curves in study.curves.curves]
    shown = {i.controller for i in inputs for s in i.states if s.state == "coldest" and s.too_high}
    yield "cold-voltage-over-controller", shown
    yield (
        "string-fuse-missing",
        {
            str(flow.string.source.string.name)
            for array in study.array.arrays
            for flow in array.backflows
            if flow.harms and not flow.devices
        },
    )


def _tellable(study: Study) -> Iterator[tuple[str, set[str]]]:
    """Rules, and everything that they may name."""
    protection, wiring = study.protection, study.wiring
    yield (
        "panel-over-rating",
        {p.name for p in protection.panels if p.is_overloaded or p.held.reason},
    )
    late = [a for a in protection.allowed if a.trips_late]
    yield (
        "device-trips-late",
        {a.wire.name for a in late} | {str(d.device.name) for a in late for d in a.limiting},
    )
    yield "busbar-over-rating", {bar.name for bar in wiring.busbars if bar.is_overloaded}


def _by_stretch(study: Study) -> dict[str, list[tuple[Conductor, Allowed]]]:
    answers: dict[Conductor, list[Allowed]] = {}
    for answer in study.protection.allowed:
        answers.setdefault(answer.part, []).append(answer)
    found: dict[str, list[tuple[Conductor, Allowed]]] = {}
    for wire in study.wiring.wires.values():
        for part in wire.conductors:
            worst = worst_of(answers.get(part, ()))
            if worst is not None:
                found.setdefault(wire.name, []).append((part, worst))
    return found


def _schedules(study: Study) -> Iterator[str]:
    judged = _by_stretch(study)
    for row in conductor_rows(study):
        if row.is_bond or row.name not in judged:
            continue
        parts = [(p, worst) for p, worst in judged[row.name] if p.length != 0.0]  # no stretch
        own = [worst.reason or worst.verdict for _, worst in parts]
        shown = [protection.verdict for protection in row.protections]
        if sorted(own) != sorted(shown):
            yield f"schedule of {row.name} says {shown}, and the judge {own}"


def _figures(study: Study) -> Iterator[str]:
    said = {a.reason or a.verdict for a in study.protection.allowed}
    for figure in figures_of(study):
        if figure.quantity.startswith("short, lasting, from "):
            verdict = figure.quantity.rpartition(": ")[2]
            if verdict not in said:
                yield f"figure of {figure.subject} says {verdict}"
