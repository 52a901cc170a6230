"""Fuses in a row of which the one for all opens before the one for a branch."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage
from wattproof.codes import NotTabulated
from wattproof.rule import Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds
from wattproof.study.wiring.devices import rated
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "each device is smaller than the one before it that serves more than it does; alike "
        "fuses of general use open in the right order from 1.6 times on (IEC 60269-2)"
    ),
}

MORE = """\
fuses:
  panel-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
loads:
  heater: {current: 40 A, nominal: 12 V}
wires:
  heater-run: {from: bar, to: heater, cable: bank-1-0, length: 1 m, place: cabin,
               inline: [{panel-fuse: {from_end: from, distance: 10 cm}}]}
"""

BEARS = 1.25
"""How many times its lasting current a device is rated, so that it stays cool."""


@record
class Limits:
    """What a project may set."""

    times: float = option(
        1.0, "How many times a branch's device the one before it must exceed; 1.6 for alike fuses."
    )


@rule(
    id="main-fuse-opens-first",
    summary="Rating of the device that serves all against that of a branch behind it.",
    covers=("A main fuse that opens before the branch's",),
    level="note",
    hazard="lost-energy",
    part="overcurrent",
    basis=BASIS,
    explanation="Where two fuses are in a row, a fault in the branch flows through both, and the "
    "weaker one opens. Should that be the main one, then one bad lamp takes everything with it: "
    "lights, pumps and instruments. Nothing burns, but one sits in the dark looking for the "
    "fault, and the fuse at hand is the wrong one.",
    fine="Where losing everything at once harms no one, and a spare of the main fuse is at hand.",
    since="0.1.0",
    sound=plan("van-inverter", Edit("power: 800 W", "power: 500 W"), more=MORE),
    faulty=Edit("panel-fuse: {rating: 60 A", "panel-fuse: {rating: 125 A"),
    options=Limits,
)
def main_fuse_opens_first(study: Study, limits: Limits) -> Iterator[Observation]:
    seen: set[tuple[Passage, Passage]] = set()
    for guard in study.protection.guards:
        for before, branch in zip(guard.devices, guard.devices[1:], strict=False):
            if (before, branch) in seen:
                continue
            seen.add((before, branch))
            if not _opens_later(before, branch, limits) and _serves_more(before, branch, study):
                yield _order(before, branch, limits, study)


def _opens_later(before: Passage, branch: Passage, limits: Limits) -> bool:
    """True where the first device is so much larger that the second opens before it."""
    return exceeds(device_rating(before), limits.times * device_rating(branch))


def _order(before: Passage, branch: Passage, limits: Limits, study: Study) -> Observation:
    main, small = device_rating(before), device_rating(branch)
    return Observation(
        message=(
            f"a fault behind `{branch.device.name}` ({small}) may open "
            f"`{before.device.name}` ({main}) first, and takes everything else on it down too"
        ),
        on=(before.device, branch.device),
        values=(main, small),
        margin=main.number / (limits.times * small.number) - 1.0,
        remedy=_remedy(before, branch, main.number / limits.times, study),
    )


def _remedy(before: Passage, branch: Passage, under: float, study: Study) -> Remedy:
    """The largest standard rating under a limit (A) that still bears the branch's load."""
    larger = f"a larger one for `{before.device.name}` if its conductors allow"
    carried = [d.current for d in study.wiring.devices.values() if branch in d.passages]
    current = max((amps.number for amps in carried if amps is not None), default=0.0)
    try:
        rating = study.codes.battery.previous_rating(under * (1.0 - 1e-6))
    except NotTabulated:
        rating = 0.0
    if rating < BEARS * current or not rating:
        return Remedy(f"use {larger}, or divide what hangs on `{branch.device.name}`")
    return Remedy(
        f"use {rating:g} A for `{branch.device.name}`, or {larger}", ((rated(branch, rating),),)
    )


def _serves_more(before: Passage, branch: Passage, study: Study) -> bool:
    """True where something hangs behind the first device that does not hang behind the second."""
    return len(_served(before, study)) > len(_served(branch, study)) > 0


def _served(device: Passage, study: Study) -> set[str]:
    """Consumers on the side of a device that has no bank; none where both sides have one."""
    sides = study.wiring.neighbours_of(device) or ()
    away = [side for side in sides if not side.banks]
    return {str(c.name) for side in away for c in side.consumers} if len(away) == 1 else set()
