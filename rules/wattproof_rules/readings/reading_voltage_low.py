"""Open-circuit voltage read against the least that the curve gives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.remedies.proposals import which_is_which
from wattproof.rule import Clause, Edit, Observation, practice, rule, warning
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.working import Value


BASIS = {
    "iec": Clause(
        "IEC 62446-1 6.4",
        "2016",
        "the open-circuit voltage of every string is measured before it is joined to others, in "
        "steady sun, and compared with what is expected at that temperature or with strings alike; "
        "what differs points to wrong wiring, failed bypass diodes or failed modules",
        verified=False,
    ),
    "common practice": practice(
        "a string that reads low by the voltage of one module lacks one; by that of two, one is "
        "connected the wrong way round; by a half or a third of one, a bypass diode has failed"
    ),
}

MORE = """\
readings:
  roof-open: {at: roof-string, voc: 66.9 V, isc: 4.4 A, irradiance: 850 W/m²,
              back_temperature: 48 °C,
              meter: {voltage: 0.5 %, current: 2 %, zero: 0.3 A, irradiance: 5 %}}
"""


@rule(
    id="reading-voltage-low",
    summary="Open-circuit voltage read, against the least that the plan's curve gives.",
    covers=("A module reversed, open or shorted",),
    level="warning",
    hazard="damage",
    part="reading",
    basis=BASIS,
    explanation="With nothing connected every cell adds its half volt, and only heat and weak "
    "light take some away. Both can be reckoned. What is missing beyond that is missing whole: "
    "a module that is not in the string, one that works against the others, or a group of cells "
    "that its own bypass diode shorts. Such a diode heats its box in every hour of sun, and a low "
    "string takes current from its neighbours.",
    caution=warning(
        "The leads are live and cannot be switched off. Cover the modules or wait for dusk before "
        "parting a connector, and never part one that carries current: the arc burns."
    ),
    fine="In weak light, early or late in the day. Read again in steady sun.",
    since="0.1.0",
    sound=plan("van", more=MORE),
    faulty=Edit("voc: 66.9 V", "voc: 44.8 V"),
)
def reading_voltage_low(study: Study) -> Iterator[Observation]:
    for reading in study.readings.at_arrays:
        if reading.stands.voc_is_low:
            exchanged = study.readings.exchanged_with(reading)
            yield _observation(reading, exchanged, _all_alike(study, reading))
        elif (least := reading.stands.voc_under_label) is not None:
            yield _under_label(reading, least)


def _under_label(reading: ArrayReading, least: Value) -> Observation:
    """Less than any label of such modules leaves in any heat, where theirs belongs to no curve."""
    read = reading.taken.true_voc
    assert read is not None
    return Observation(
        message=f"`{reading.where}` read {read.expected} open circuit where any such module "
        f"leaves {least} in the hottest cells",
        on=reading.subjects,
        values=(read.high, least),
        margin=read.high.number / least.number - 1.0,
        remedy="look at the unit on the meter, for a switch, fuse or connector that is open and at "
        "the label again; then read each module by itself",
    )


def _all_alike(study: Study, reading: ArrayReading) -> str:
    """Other strings that read as low, quoted; empty where none does, or nothing arrives."""
    if reading.stands.is_dead or _slip(reading):
        return ""
    others = study.readings.as_far_off(reading, "voc")
    return quoted(dict.fromkeys(each.where for each in others)) if others else ""


def _observation(reading: ArrayReading, exchanged: ArrayReading | None, alike: str) -> Observation:
    taken = reading.taken
    assert taken.true_voc is not None
    band, read = reading.expected.voc, taken.true_voc
    return Observation(
        message=f"`{reading.where}` read {read.expected} open circuit where {band.low} to "
        f"{band.high} is expected{_because(reading, exchanged)}"
        + (f"; {alike} read as low: likelier meter, label or count of modules" if alike else ""),
        on=reading.subjects,
        values=(read.high, band.low, band.expected),
        margin=read.high.number / band.low.number - 1.0,
        remedy=(
            "prove the meter at a battery of known voltage, read the label again and count the "
            f"modules in series; then {_remedy(reading, exchanged)}"
            if alike
            else _remedy(reading, exchanged)
        ),
    )


def _because(reading: ArrayReading, exchanged: ArrayReading | None) -> str:
    """What the size of the deficit points to."""
    if exchanged is not None:
        return f": it would be right at `{exchanged.where}`, and what was read there here"
    explained = reading.explained
    slip = _slip(reading)
    if slip:
        return f": {slip}"
    taken, stands = reading.taken, reading.stands
    if stands.is_dead and taken.isc is not None and not stands.is_unlit:
        return f", though it gave {taken.isc} shorted: the meter was set to another kind or range"
    if stands.is_dead:
        return _nothing(reading)
    if len(reading.taken.strings) > 1:
        fewer = explained.fewer_in_series
        other = f", or there {_is_or_are(fewer)} in series where {taken.in_series} are planned"
        return ", so at least one of the strings in it is low" + (other if fewer else "")
    because = ""
    if explained.causes:
        because = ": as with " + ", or ".join(cause.words for cause in explained.causes[:3])
    if explained.is_left_open:
        return (
            f"{because}, which takes more, or cells hotter than was read under a label that "
            "promises too much: that is left open"
        )
    heat = explained.explaining_cells
    if heat is not None:
        because += f"{'; or' if because else ':'} cells at {round(heat.number)} °C would explain it"
    part = "a group of cells" if reading.taken.in_series == 1 else "a module"
    return because or f": too much for heat and too little for {part}, so what takes it is open"


def _is_or_are(count: int | None) -> str:
    return "is 1 module" if count == 1 else f"are {count} modules"


def _nothing(reading: ArrayReading) -> str:
    """What leaves no voltage at all: of several strings, one that is reversed shorts the others."""
    taken = reading.taken
    if taken.in_parallel > 1:
        first = "the way is open, " if taken.at_input else ""
        return (
            f": nothing arrives, so {first}one of its strings is joined the wrong way round and "
            "shorts the others, both poles touch, or the modules are covered"
        )
    turned = ", or one of its two modules is joined the wrong way round"
    return (
        ": nothing arrives, so the circuit is open, or the modules are covered"
        f"{turned if taken.in_series == 2 else ''}"
    )


def _slip(reading: ArrayReading) -> str:
    """What would be right if it was written or read amiss; empty where nothing would."""
    if reading.explained.are_exchanged:
        return "it would be right as the short-circuit current, and that as the voltage"
    meant = reading.explained.meant_voc
    if meant:
        return f"{meant} would be right, so the unit or the range was misread"
    point = None if reading.explained.causes else reading.explained.voc_by_its_point
    return f"{point} would be right, so the decimal point or the range was misread" if point else ""


def _remedy(reading: ArrayReading, exchanged: ArrayReading | None) -> str:
    if exchanged is not None:
        return which_is_which(reading.where, exchanged.where)
    if _slip(reading):
        return "look at the unit, decimal point and range on the meter, and write what it showed"
    stands = reading.stands
    if stands.is_dead and reading.taken.isc is not None and not stands.is_unlit:
        return "set the meter to voltage of direct current, look at its leads, and read it again"
    if stands.is_dead and reading.taken.in_parallel > 1:
        first = "look for a switch or fuse that is open; if none is, " * reading.taken.at_input
        return (
            f"{first}cover the modules, prove with a clamp that nothing flows, part the strings "
            "from each other, and read each by itself, its poles first"
        )
    if stands.is_dead:
        alone = ", then each module of it by itself" if reading.taken.in_series == 2 else ""
        return (
            "look for a switch or fuse that is open, a connector that is not home, and a cover "
            f"on the modules; then read it again{alone}"
        )
    if len(reading.taken.strings) > 1:
        alone = f"read each string of `{reading.where}` by itself, unplugged from the others"
        return alone + (", and count its modules" if reading.explained.fewer_in_series else "")
    if reading.taken.in_series == 1:
        return (
            f"cover the cells of `{reading.where}` with something opaque, one half or third after "
            "the other: where the voltage stays, that part gives nothing, and its bypass diode is "
            "shorted"
        )
    remedy = f"read each module of `{reading.where}` by itself and look at which way it is joined"
    each = reading.expected.each
    return remedy if each is None else f"{remedy}; each should give {each.low} to {each.high}"
