"""The cold voltage of an array against what may be touched, by how hands come to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.remedies.proposals import guarded_contacts, if_borne, in_series
from wattproof.rule import Clause, Edit, Observation, Remedy, caution, option, record, rule
from wattproof.study import Study
from wattproof.study.array import ON_A_ROOF
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.connectors import Touched
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
    "iec": Clause(
        "IEC 60364-4-41 414",
        "2005 with A1:2017",
        "without basic protection direct voltage is at most 60 V in dry places, and 30 V in wet "
        "ones",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297, scope",
        "2020",
        "the standard holds up to 50 V of direct current; above that, protection against shock is "
        "asked for",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, voltage classes",
        "2021",
        "above 60 V of direct current, less in wet places, live parts of an array cannot be "
        "touched",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 60364-4-41 414",
        "2005 with A1:2017",
        "above 60 V of direct current, 30 V where it is wet and for animals, nothing that carries "
        "it can be touched",
        verified=False,
    ),
}


@record
class Limits:
    """What a project may set."""

    volts: float = option(
        30.0, "Direct voltage (V) from which contacts must be out of reach, on wet ground."
    )
    dry: float = option(
        60.0, "Direct voltage (V) from which contacts must be out of reach in dry places."
    )
    shock: float = option(DEADLY, "Direct voltage (V) from which another rule warns of shock.")


@rule(
    id="array-voltage-touchable",
    summary="Cold voltage of an array against what may be touched, by its connectors and place.",
    covers=("Voltage within reach",),
    level="note",
    hazard="shock",
    part="connector",
    basis=BASIS,
    explanation="Below about 60 V direct current hardly drives a dangerous current through dry "
    "skin; wet hands and bare feet halve that, and animals stand less than people. Modules in "
    "series add their voltages, and a plug that is pulled apart in sun shows all of it at once. "
    "Portable modules are joined and parted by hand, on wet grass, often by others than the "
    "builder, so their contacts must lie where no finger reaches. Those on a roof are out of "
    "reach until somebody opens a joint or a terminal, so there the limit of dry places counts.",
    caution=caution("Cover the modules before you join or part them, and keep wet hands away."),
    fine="Where every contact lies so that no finger reaches it, plugged or not, and no child, "
    "guest or animal parts the plugs.",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("{style: locking-pv}", "{style: locking-pv, rating: 30 A, voltage: 1000 V}"),
        Edit("mounting: roof-gap", "mounting: ground, portable: true"),
        Edit("max_output_current: 30 A", "max_output_current: 25 A"),
    ),
    faulty=Edit("connector: {style: locking-pv,", "connector: {style: flat-two-pin,"),
    options=Limits,
)
def array_voltage_touchable(study: Study, limits: Limits) -> Iterator[Observation]:
    for array in study.array.arrays:
        volts = array.voc("coldest")
        if not exceeds(volts, limits.volts):
            continue
        touched = study.array.touched(array)
        deadly = exceeds(volts, limits.shock)
        bare = () if deadly else touched.bare
        unsaid = () if deadly and _is_told_as_deadly(array, touched) else touched.unsaid
        seen = [*bare, *unsaid]
        near = [s for s in seen if s in touched.near]
        limit, found = (limits.volts, near) if near else (limits.dry, seen)
        if not found or not exceeds(volts, limit):
            continue
        by_name = {str(s.source.string.name): s.source.string for s in found}
        by_name = dict(sorted(by_name.items()))  # in whatever order the plan has them
        names = quoted(by_name)
        if near:
            message = (
                f"the {array.name} reaches {volts} on the coldest morning, and {names} can be "
                f"{_how(near)}; above {limit:g} V no contact may be within reach where it is wet"
            )
        else:
            how = (
                f"contacts of {names} can be touched"
                if any(s in bare for s in found)
                else f"the contacts of {names} are not said to be guarded"
            )
            hurts = f"above {limit:g} V a touch can hurt"
            message = f"the {array.name} reaches {volts} on the coldest morning, and {how}; " + (
                f"above {limits.shock:g} V a touch can kill" if deadly else hurts
            )
        grave = exceeds(volts, limits.dry) and any(s in bare for s in found)
        yield Observation(
            message=message,
            on=tuple(by_name.values()),
            values=(volts,),
            margin=margin_below(volts, limit),
            remedy=_remedy(study, array, found, limit),
            level="warning" if grave else None,
        )


def _is_told_as_deadly(array: ArrayStudy, touched: Touched) -> bool:
    """True where another rule warns of shock already."""
    return bool(touched.bare) or any(string.portable for string in array.declared_strings)


def _how(near: Sequence[StringStudy]) -> str:
    strings = [s.source.string for s in near]
    if all(string.portable for string in strings):
        return "plugged by hand"
    if all(string.mounting in ON_A_ROOF for string in strings):
        return "touched where rain reaches them"
    return "reached from the ground, by people and animals"


def _remedy(study: Study, array: ArrayStudy, bare: Sequence[StringStudy], limit: float) -> Remedy:
    guard, guarded = guarded_contacts(bare)
    fewer = array.fitting_in_series(limit)
    if not fewer:
        return Remedy(guard, (guarded,))
    shorter = if_borne(in_series(array, fewer), array, study.array)
    words = f"{guard}, or put at most {fewer} in series{shorter.rest}"
    return Remedy(words, (guarded, shorter.changes))
