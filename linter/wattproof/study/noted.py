"""What a plan does not say of things that no number and no rule carries."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from wattproof.codes import Bodies
from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.quantities import gauge_of
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.cables import NO_BUNDLING, NO_RUN, NO_SQUARE_MILLIMETRES
from wattproof.study.assumptions.energy import NO_FEED, NO_LATITUDE, NO_USE
from wattproof.study.assumptions.plan import NO_CODE, NO_MAINS_SIDE, TWO_CODES
from wattproof.study.assumptions.readings import NOTHING_SMALLER
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import enumerated, quoted
from wattproof.working import Assumption

if TYPE_CHECKING:
    from wattproof.study.energy.daily_use import DailyUse
    from wattproof.study.energy.sun_hours import Sun
    from wattproof.study.readings import ReadingsSection


def noted_of(
    plan: Plan,
    codes: Bodies,
    wires: Iterable[WireStudy],
    use: DailyUse | None,
    sun: Sun | None,
    readings: ReadingsSection,
    assume: Assumer,
) -> Iterator[Assumption]:
    """All of them; use and sun are those of a plan that tells its use."""
    yield from _of_code(plan, codes, assume)
    yield from _of_parts(plan, assume)
    if use is not None and sun is not None:
        yield from _of_energy(plan, use, sun, assume)
    yield from _of_readings(readings, assume)
    wires = list(wires)
    if any(w.wire.bundled is None for w in wires):
        yield assume.noted(NO_BUNDLING, "wires", plan.setting.place)
    if any(w.wire.run is None for w in wires):
        yield assume.noted(NO_RUN, "wires", plan.setting.place)


def _of_code(plan: Plan, codes: Bodies, assume: Assumer) -> Iterator[Assumption]:
    if plan.code is None:
        code = codes.battery
        said = {"title": code.title, "edition": code.edition, "id": code.id}
        yield assume.noted(NO_CODE, "plan", plan.setting.place, **said)
        return
    if codes.differ:
        said = {"array": codes.array.title, "battery": codes.battery.title}
        yield assume.noted(TWO_CODES, "plan", plan.code.place, **said)
    for note in codes.notes(plan.setting):
        yield Assumption(note.key, "plan", note.says, note.instead, plan.code.place)


def _of_parts(plan: Plan, assume: Assumer) -> Iterator[Assumption]:
    """The mains side of inverters and chargers, gauges of automotive cable."""
    shore = [charger for charger in plan.chargers.values() if charger.kind == "shore"]
    if converters := [*plan.all_inverters.values(), *shore]:
        yield assume.noted(NO_MAINS_SIDE, "plan", converters[0].at, names=_names(converters))
    cables = plan.datasheets.cables.values()
    by_gauge = [c for c in cables if c.kind == "automotive" and gauge_of(c.size) is not None]
    if by_gauge:
        yield assume.noted(NO_SQUARE_MILLIMETRES, "cables", by_gauge[0].at, names=_names(by_gauge))


def _of_energy(plan: Plan, use: DailyUse, sun: Sun, assume: Assumer) -> Iterator[Assumption]:
    """What a plan that tells its use leaves out of it."""
    for consumer in use.unsaid:
        yield assume.noted(NO_USE, str(consumer.name), consumer.at)
    for consumer in use.unfed:
        yield assume.noted(NO_FEED, str(consumer.name), consumer.at)
    if any(sun.of(s, p) is None for s in plan.strings.values() for p in sun.periods):
        yield assume.noted(NO_LATITUDE, "site", plan.setting.place)


def _of_readings(readings: ReadingsSection, assume: Assumer) -> Iterator[Assumption]:
    """What readings at an array would not show, so that their silence is not taken for health."""
    for reading in readings.at_arrays:
        found = readings.finds(reading)
        if found:
            losses = enumerated(f"{_whole_percent(f.share.number)} of the {f.words}" for f in found)
            at = reading.taken.reading.at
            yield assume.noted(NOTHING_SMALLER, reading.name, at, losses=losses)


def _whole_percent(share: float) -> str:
    """A share in per cent, rounded up: it never promises to find less than it does."""
    return f"{math.ceil(share * 100.0 - 1e-6)} %"


def _names(components: Iterable[Named]) -> str:
    return quoted(component.name for component in components)
