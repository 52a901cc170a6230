"""Strings that are alike against each other, by what was read at them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import LEAST_SPREAD, exceeds, margin_below
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.alike import Alike


BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.4 and 6.5",
        "2016",
        "readings of strings that are alike are compared with each other in steady sun; for "
        "currents, a difference of more than 5 % is looked into",
        verified=False,
    ),
    "common practice": practice(
        "two strings of the same modules in the same sun are each other's measure; the meter's own "
        "error is in both and falls out"
    ),
}

MORE = """\
datasheets:
  cables:
    batt-4: {size: 4 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  port: {module: rigid-100, series: 3, mounting: roof-gap}
  starboard: {module: rigid-100, series: 3, mounting: roof-gap}
combiners:
  roof-joint: {joins: [port, starboard], kind: combiner-box, rating: 30 A, voltage: 600 V}
readings:
  port-shorted: {at: port, isc: 4.9 A, taken: "21 June 12:40, clear"}
  starboard-shorted: {at: starboard, isc: 4.8 A, taken: "21 June 12:40, clear"}
"""


@record
class Limits:
    """What a project may set."""

    spread: float = option(LEAST_SPREAD, "Share by which one string may lie under another like it.")


@rule(
    id="reading-strings-unequal",
    summary="Readings of strings that are alike, against each other.",
    covers=("One string unlike its neighbours",),
    level="warning",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="Strings of the same modules, on the same roof, at the same moment, see the same "
    "sun and are as warm. What one gives, the other should. This needs no irradiance and no label, "
    "and the same meter is wrong in the same way at both. One that lies lower is shaded, dirty, "
    "aimed another way, badly joined, or ageing.",
    fine="Where the strings differ in a way that the plan should tell: another tilt, another age, "
    "a chimney's shadow.",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("rating: 40 A", "rating: 70 A"),
        Edit("max_output_current: 30 A", "max_output_current: 50 A"),
        Edit("capacity: 100 Ah", "capacity: 200 Ah"),
        Edit("from: roof-string", "from: roof-joint"),
        Edit("cable: batt-8", "cable: batt-4"),
        less=(
            "datasheets.cables.batt-8",
            "strings.roof-string",
        ),
        more=MORE,
    ),
    faulty=Edit("at: starboard, isc: 4.8 A", "at: starboard, isc: 4.1 A"),
    options=Limits,
)
def reading_strings_unequal(study: Study, limits: Limits) -> Iterator[Observation]:
    for alike in study.readings.alike:
        if not exceeds(alike.apart, limits.spread):
            continue
        weak, strong = alike.weak, alike.strong
        yield Observation(
            message=f"`{weak.where}` read {alike.shown(weak)} {alike.words} and the like "
            f"`{strong.where}` {alike.shown(strong)}: {alike.apart.number * 100:.0f} % "
            f"apart{alike.allowed_for}{_because(alike)}",
            on=(*weak.subjects, *strong.subjects),
            values=(alike.shown(weak), alike.shown(strong), alike.apart),
            margin=margin_below(alike.apart, limits.spread),
            level="note" if alike.may_be_full else None,
            remedy=_remedy(alike),
        )


def _because(alike: Alike) -> str:
    """What hardly any current points to, or little of it; empty where there is enough."""
    if alike.may_be_full:
        return (
            "; a battery that is nearly full would explain it, since strings share so little "
            "unevenly"
        )
    if not alike.is_dark:
        return ""
    both = ", or the clamp was around both its leads" if alike.quantity == "current" else ""
    return f": a fuse, switch or connector of it is open, or it is covered{both}"


def _remedy(alike: Alike) -> str:
    where = f"`{alike.weak.where}`"
    if alike.may_be_full:
        return "read both again in bulk charging, with loads on, and write `stage: bulk`"
    if alike.is_dark:
        return (
            f"put the clamp around one lead of {where} alone; if still nothing flows, stop the "
            "current of the array and look for the fuse, switch or connector that is open"
        )
    if alike.quantity == "voc":
        return f"read each module of {where} by itself, and its temperature behind a cell"
    return (
        f"clean {where} and look for shade on it; then read both again within a minute, and if it "
        "stays, each of its modules by itself"
    )
