"""What flows backwards into a string that fails short, against what its modules and leads stand."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wattproof.circuit import Conductor
from wattproof.remedies.proposals import (
    against_ignition,
    fuse_in,
    photovoltaic_fuse,
    values_of,
)
from wattproof.rule import Addition, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Backflow
from wattproof.study.array.string_fuses import most_without
from wattproof.study.limits import margin_below
from wattproof.study.protection.answers import Allowed
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(A)",
        "2014-2023",
        "a string needs no overcurrent device where no other source, the other strings included, "
        "can drive more current into it than its conductors and its modules' series fuse rating "
        "allow; the other strings count with 125 % of their short-circuit current",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548 6.5.3",
        "2016; IEC 62548-1:2023",
        "every string has a protective device where the other strings together, (Np - 1) x Isc, "
        "can drive more current backwards through a module than its maximum overcurrent "
        "protection rating",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, in the shape of IEC 62548",
        "2021",
        "every string has a protective device where the other strings together, (Np - 1) x Isc, "
        "can drive more current backwards through a module than its maximum overcurrent "
        "protection rating",
        verified=False,
    ),
    "common practice": Clause(
        "NEC 690.9(A) and IEC 62548 6.5.3, as marine rules have no text on arrays",
        "2023; 2016",
        "a string has a device where other sources can drive more current into it than its "
        "modules and leads stand",
        verified=False,
    ),
}


@rule(
    id="string-fuse-missing",
    summary="Current that other sources drive backwards into a string, where no fuse is in it.",
    covers=(
        "Other strings feeding a shorted one",
        "One fuse for many strings, or for a group whose lead is thin",
    ),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A module is a source of limited current: it cannot blow a fuse with its own. "
    "But when one string of several in parallel fails short, all the others push their current "
    "backwards through it, and its cells and joints heat. A module stands that up to the maximum "
    "series fuse on its label, a lead up to its ampacity. How many strings need fuses is "
    "therefore a sum, not a rule of thumb: small modules with a large label may do without at "
    "three, others not at two.",
    caution=warning(
        "A shorted module that is fed by its neighbours burns in full sun, on the roof, with "
        "nothing to stop it before dusk."
    ),
    since="0.1.0",
    sound=plan(
        "three-strings",
        Edit("isc: 6 A, imp: 5.6 A, pmax: 114 W", "isc: 5.2 A, imp: 4.9 A, pmax: 100 W"),
        Edit("cable: pv-8", "cable: pv-10"),
        less=(
            "datasheets.cables.pv-8",
            "fuses.port-fuse",
            "fuses.middle-fuse",
            "fuses.starboard-fuse",
            "wires.port-lead",
            "wires.middle-lead",
            "wires.starboard-lead",
        ),
    ),
    faulty=Edit("max_series_fuse: 15 A", "max_series_fuse: 10 A"),
)
def string_fuse_missing(study: Study) -> Iterator[Observation]:
    thin = {
        answer.part: answer
        for answer in study.protection.allowed
        if answer.kind == "siblings" and answer.reason == "no device" and not answer.wire.cooled
    }
    for array in study.array.arrays:
        bare = [_bare(flow, thin) for flow in array.backflows if not flow.devices]
        found = [b for b in bare if b.fails]
        failing = [b for b in found if not b.has_diode]
        yield from _behind_diodes([b for b in found if b.has_diode])
        for joint in dict.fromkeys(b.flow.joint for b in failing):
            yield _observation([b for b in failing if b.flow.joint == joint], study, array)


class _Limit(NamedTuple):
    """What a string stands backwards (A). whose: in words."""

    amps: Value
    whose: str


class _Bare(NamedTuple):
    """A string without a device of its own, what it stands, and whether more can flow.

    thin: its leads that carry less than can flow.
    """

    flow: Backflow
    limit: _Limit
    fails: bool
    thin: tuple[WireStudy, ...] = ()

    @property
    def has_diode(self) -> bool:
        """True where a diode of its own lets no current back into the string."""
        return self.flow.string.source.string.blocking_diode is not None

    @property
    def fitting(self) -> float | None:
        """The smallest rating that carries the string and protects it (A)."""
        return self._smallest(self.limit.amps)

    @property
    def fitting_its_modules(self) -> float | None:
        """The smallest rating that carries the string and protects its modules alone (A)."""
        return self._smallest(self.flow.string.max_series_fuse)

    def _smallest(self, most: Value) -> float | None:
        standard = self.flow.string.fuse_window.standard
        return next((rating for rating in standard if rating <= most.number), None)

    @property
    def margin(self) -> float:
        current = self.flow.current
        return margin_below(current, self.limit.amps) if current is not None else 1.0


def _bare(flow: Backflow, thin: dict[Conductor, Allowed]) -> _Bare:
    """By the smaller of its modules' label and what those of its leads carry that are too thin."""
    limits = [_Limit(flow.string.max_series_fuse, "its modules bear")]
    answers = [thin[lead] for lead in flow.leads if lead in thin]
    for answer in answers:
        if answer.most is not None:
            limits.append(_Limit(answer.most, f"its lead `{answer.wire.name}` may carry"))
    least = min(limits, key=lambda limit: limit.amps.number)
    wires = tuple(dict.fromkeys(answer.wire for answer in answers))
    return _Bare(flow, least, flow.harms or len(limits) > 1, wires)


def _observation(bare: list[_Bare], study: Study, array: ArrayStudy) -> Observation:
    """One finding for all strings at a joint, by the numbers of the worst."""
    worst = min(bare, key=lambda b: b.margin)
    flow, limit = worst.flow, worst.limit
    assert flow.current is not None
    strings = {b.flow.string.source.string.at: b.flow.string.source.string for b in bare}
    whence = "the battery" if flow.from_battery else "its neighbours"
    if flow.from_battery and flow.joint:
        whence = "the battery and its neighbours"
    finite = flow.current.number < float("inf")
    return Observation(
        message=(
            f"if {flow.string.said} fails short, {whence} can drive "
            f"{_amps(flow.current)} backwards into it; {limit.whose} {limit.amps} at most, and "
            "no fuse is in between"
        ),
        on=tuple(strings.values()),
        values=(flow.current, limit.amps) if finite else (limit.amps,),
        margin=worst.margin if finite else None,
        remedy=_remedy(worst, bare, study, array),
        absent="fuses",
    )


def _behind_diodes(bare: list[_Bare]) -> Iterator[Observation]:
    """A diode stops the current as long as it is whole; most fail short, and nobody sees it.

    It is no substitute for a device (IEC 62548, blocking diodes; from memory).
    """
    if not bare:
        return
    strings = {b.flow.string.source.string.at: b.flow.string.source.string for b in bare}
    names = quoted(str(string.name) for string in strings.values())
    worst = min(bare, key=lambda b: b.margin)
    yield Observation(
        message=f"only the blocking diodes keep the neighbours' current out of {names}; a diode "
        "that fails is most often a short, which nothing shows",
        on=tuple(strings.values()),
        values=(worst.limit.amps,),
        remedy="put a photovoltaic fuse in each string; until then measure the diodes once a year",
        level="warning",
    )


def _amps(current: Value) -> str:
    return f"{current}" if current.number < float("inf") else "thousands of amperes"


def _remedy(worst: _Bare, bare: list[_Bare], study: Study, array: ArrayStudy) -> Remedy | str:
    """A fuse for each string that protects and fits, and how many branches may do without."""
    flow, limit = worst.flow, worst.limit.amps.number
    without = _most_without(flow, study, limit)
    fewer = f"join at most {without} in parallel, more in series" if without else ""
    layout = flow.string.source.string.arrangement
    in_groups = (
        layout is not None
        and not layout.series_first
        and min(layout.in_parallel, layout.in_series) > 1
    )
    if in_groups:
        return (
            "groups of modules in parallel would need a fuse in the leads of each module: wire "
            "series strings in parallel instead, each with its own fuse"
            f"{'; or ' + fewer if fewer else ''}"
        )
    fitting = {b.flow: b.fitting for b in bare}
    if fitting[flow] is None:
        return (
            _with_thicker_leads(worst, bare, array, fewer)
            or fewer
            or f"{flow.string.fuse_window.words}: give each string a controller of its own"
        )
    added = _added(fitting, array)
    put = _put(fitting, flow, array) + against_ignition(added)
    if layout is not None and layout.in_parallel > 1:
        put += " (declare each as a string with a wire of its own)"
    words = f"{put}; or {fewer}" if fewer else put
    return Remedy(words, (added,))


def _with_thicker_leads(
    worst: _Bare, bare: list[_Bare], array: ArrayStudy, fewer: str
) -> Remedy | None:
    """A fuse for each string that protects its modules, and leads that it protects too.

    None where no rating fits the modules, or no size the fuse.
    """
    ratings = {b.flow: b.fitting_its_modules for b in bare}
    leads: list[WireStudy] = []
    for each in bare:
        rating = ratings[each.flow]
        if rating is None:
            return None
        for wire in each.thin:
            fuse = Value(rating, "A")
            thick = next((w for w in wire.larger_sizes() if w.is_protected_by(fuse)), None)
            if thick is None:
                return None
            leads.append(thick)
    added = _added(ratings, array)
    largest = max(leads, key=lambda wire: wire.size.area_mm2).size.name
    fuses = _put(ratings, worst.flow, array) + against_ignition(added)
    put = f"{fuses}, and make its lead {largest}"
    words = f"{put}; or {fewer}" if fewer else put
    return Remedy(words, ((*(wire.as_change for wire in leads), *added),) if added else ())


def _put(fitting: dict[Backflow, float | None], flow: Backflow, array: ArrayStudy) -> str:
    """Which fuses to put where."""
    amps = f"{fitting[flow]:g} A"
    if not flow.joint:
        between = f"between `{flow.string.source.string.name}` and `{array.controller.name}`"
        return f"put a photovoltaic fuse of {amps} {between}"
    if len(set(fitting.values())) == 1:
        return f"put a photovoltaic fuse of {amps} in each string's lead, at the joint"
    each = ", ".join(f"{r:g} A for `{f.string.name}`" for f, r in fitting.items() if r is not None)
    return f"put a photovoltaic fuse in each string's lead, at the joint: {each}"


def _added(fitting: dict[Backflow, float | None], array: ArrayStudy) -> tuple[Addition, ...]:
    """A fuse in the lead of each string; empty where a string has none of its own, or no fuse."""
    found = [_fuse(flow, rating, array) for flow, rating in fitting.items()]
    added = tuple(fuse for fuse in found if fuse is not None)
    return added if len({fuse.wire for fuse in added}) == len(fitting) else ()


def _fuse(flow: Backflow, rating: float | None, array: ArrayStudy) -> Addition | None:
    volts = array.voc("coldest").number
    made = photovoltaic_fuse(volts, rating) if rating is not None else None
    if rating is None or made is None:
        return None
    beside = flow.joint or str(array.controller.name)
    leads = [lead.wire for lead in flow.leads if lead.wire.pole != "negative"]
    found = (fuse_in(wire, beside, rating, values_of(made, volts), array.plan) for wire in leads)
    return next((fuse for fuse in found if fuse is not None), None)


def _most_without(flow: Backflow, study: Study, limit: float) -> int:
    """How many alike strings may be in parallel without fuses; 0 where the battery feeds too."""
    if flow.from_battery:
        return 0
    return most_without(flow.string.isc("standard"), limit, study.codes.array)
