"""Array voltage that kills whoever touches it, by how it can be touched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.remedies.proposals import guarded_contacts, if_borne, in_series
from wattproof.rule import Clause, Edit, Observation, Remedy, option, record, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import StringStudy
from wattproof.study.limits import DEADLY, exceeds, margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.31(A)",
        "2014-2023",
        "conductors of an array above 30 V that are readily accessible are guarded or in raceway",
        verified=True,
    ),
    "common practice": Clause(
        "IEC 60364-4-41 414; IEC 61140",
        "2005 with A1:2017; 2016",
        "120 V is the end of extra-low direct voltage: above it whoever can touch both poles, or "
        "one and the ground, is protected as from mains",
        verified=False,
    ),
}


DRY = 60.0
"""V: below which contacts that nobody says are guarded may be touched in dry places."""


@record
class Limits:
    """What a project may set."""

    volts: float = option(DEADLY, "Direct voltage (V) from which a touch can kill.")


@rule(
    id="array-voltage-shock",
    summary="Cold voltage of an array against what kills, where hands can come to it.",
    covers=("An array whose voltage kills",),
    level="warning",
    hazard="shock",
    part="connector",
    basis=BASIS,
    explanation="Above some 120 V direct current passes through a body, dry or wet, in a strength "
    "that cramps the hand around what it holds and stops the heart. An array cannot be switched "
    "off: as long as there is light the voltage is there, at every plug that is opened and every "
    "lead that is cut. Modules that are set up by hand, with leads on the ground that people and "
    "animals tread on, have no place in such a circuit; on a roof its joints are out of reach and "
    "their contacts guarded.",
    caution=warning(
        "Touching both poles, or one and the ground, can kill. Cover the modules before you join "
        "or part anything, and check with a meter that nothing is left."
    ),
    fine="On a roof or a rack that is out of reach, with guarded contacts all the way, where "
    "everyone who opens it has learnt to work on such voltage: write the contacts down as "
    "guarded.",
    since="0.2.0",
    sound=plan(
        "van",
        Edit("{style: locking-pv}", "{style: locking-pv, rating: 30 A, voltage: 1000 V}"),
        Edit("series: 3", "series: 5"),
        Edit("max_input_voltage: 100 V", "max_input_voltage: 150 V"),
        Edit("max_output_current: 30 A", "max_output_current: 40 A"),
        Edit("rating: 40 A, voltage: 125 V", "rating: 60 A, voltage: 125 V"),
        Edit("batt-8: {size: 8 AWG", "batt-8: {size: 4 AWG"),
    ),
    faulty=Edit(
        "connector: {style: locking-pv, rating: 30 A, voltage: 1000 V}",
        "connector: {style: flat-two-pin, rating: 30 A, voltage: 1000 V}",
    ),
    options=Limits,
)
def array_voltage_shock(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        volts = array.voc("coldest")
        if not exceeds(volts, limits.volts):
            continue
        moved = [s for s in array.declared_strings if s.portable]
        bare = [] if moved else list(study.array.touched(array).bare)
        if not moved and not bare:
            continue
        on = moved or list({s.source.string.name: s.source.string for s in bare}.values())
        names = quoted(string.name for string in on)
        how = (
            f"{names} {_is(on)} set up by hand" if moved else f"contacts of {names} can be touched"
        )
        yield Observation(
            message=f"the {array.name} reaches {volts} on the coldest morning and {how}; above "
            f"{limits.volts:g} V a touch can kill",
            on=tuple(on),
            values=(volts,),
            margin=margin_below(volts, limits.volts),
            remedy=_remedy(study, array, bare, limits),
            deadly=True,
        )


def _is(on: Sequence[object]) -> str:
    return "is" if len(on) == 1 else "are"


def _remedy(study: Study, array: ArrayStudy, bare: list[StringStudy], limits: Limits) -> Remedy:
    """Fewer in series; for what is fixed, guarded contacts will do."""
    words, ways = [], []
    if bare:
        guard, guarded = guarded_contacts(bare)
        words.append(guard)
        ways.append(guarded)
    fewer = array.fitting_in_series(DRY if bare else limits.volts)
    if fewer:
        shorter = if_borne(in_series(array, fewer), array, study.array)
        words.append(f"put at most {fewer} in series{shorter.rest}")
        ways.append(shorter.changes)
    return Remedy(", or ".join(words) or "use modules of a lower voltage", tuple(ways))
