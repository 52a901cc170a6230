"""String fuses in one pole only of an array that is tied to nothing, or in a tied pole."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Located, Observation, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Backflow
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 62548 6.5",
        "2016",
        "where strings need overcurrent protection and no pole of the array is earthed, both poles "
        "of each string have it",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "string fuses sit in every live conductor: in both poles of an array that is not earthed",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 690.9(C)",
        "2017-2023",
        "one device for each string is enough, if those of all strings sit in the same pole",
        verified=False,
    ),
}


@rule(
    id="string-fuse-one-pole",
    summary="String fuses in one pole of an array that is tied to nothing, or in a tied pole.",
    level="warning",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="In an array that is tied to nothing, a first touch of a conductor with a frame "
    "does nothing, and is not noticed. With the second one the other strings can push their "
    "current round through the frames, past a fuse that sits in one pole only. Where one pole is "
    "tied on purpose the first touch is enough, and a fuse in the tied pole does not see it.",
    caution=warning("A string lead that is fed past its fuse burns until dusk."),
    fine="Where the pole without fuses is tied to ground on purpose at one place: write the bond "
    "down.",
    since="0.2.0",
    sound=plan(
        "three-strings",
        Edit("max_series_fuse: 15 A", "max_series_fuse: 11 A"),
        Edit("port-fuse: {rating: 15 A", "port-fuse: {rating: 10 A"),
    ),
    faulty=Edit("code: nec-2023", "code: as-nzs-3001"),
)
def string_fuse_one_pole(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        if study.array.is_unplugged(array):
            continue
        tied = study.wiring.grounded_poles(array)
        fused = [flow for flow in array.backflows if flow.devices and flow.would_harm]
        single = [flow for flow in fused if len({device.pole for device in flow.devices}) == 1]
        both = study.codes.array.string_fuses_in_both_poles is not None
        if tied:
            single = [flow for flow in single if flow.devices[0].pole in tied]
            if single and both and len(tied) == 1:
                yield _in_the_tied_pole(single, array)
            continue
        mixed = len({flow.devices[0].pole for flow in single}) > 1
        if single and (both or mixed):
            yield _observation(single, array, mixed)


def _in_the_tied_pole(flows: list[Backflow], array: ArrayStudy) -> Observation:
    """Fuses where the current of a fault to ground does not pass."""
    pole = flows[0].devices[0].pole
    other = "positive" if pole == "negative" else "negative"
    found, listed = _named(flows)
    verb = "sits" if len(found) == 1 else "sit"
    return Observation(
        message=f"{listed} {verb} in the {pole} only of the {array.name}, which is tied to ground: "
        f"with a fault of a string's {other} to a frame the other strings feed it past its fuse",
        on=found,
        values=(flows[0].unlimited,) if flows[0].unlimited is not None else (),
        remedy=f"put {listed} into the {other} of each string, or a fuse of the same rating into "
        f"each {other} too",
    )


def _observation(flows: list[Backflow], array: ArrayStudy, mixed: bool) -> Observation:
    found, listed = _named(flows)
    where = "in different poles" if mixed else f"in the {flows[0].devices[0].pole} only"
    verb = "sits" if len(found) == 1 else "sit"
    return Observation(
        message=f"{listed} {verb} {where} of the {array.name}, which is tied to nothing: with two "
        "faults to frames the other strings feed a lead past its fuse",
        on=found,
        values=(flows[0].unlimited,) if flows[0].unlimited is not None else (),
        remedy="put a fuse of the same rating into the other pole of each string too, or tie the "
        "negative of the array as the maker of the controller says and declare it in `bonds`",
    )


def _named(flows: list[Backflow]) -> tuple[tuple[Located, ...], str]:
    """The fuses of some strings by their names, and those in words."""
    found = {str(passage.name): passage.device for flow in flows for passage in flow.devices}
    names = sorted(found)
    return tuple(found[name] for name in names), quoted(names)
