"""String fuses in one pole only of an array that is tied to nothing."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Located, Observation, rule, warning
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Backflow
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
    summary="String fuses in both poles of an array that is tied to nothing.",
    level="warning",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="In an array that is tied to nothing, a first touch of a conductor with a frame "
    "does nothing, and is not noticed. With the second one the other strings can push their "
    "current round through the frames, past a fuse that sits in one pole only.",
    caution=warning("A string lead that is fed past its fuse burns until dusk."),
    fine="Where one pole of the array is tied to ground on purpose at one place: write the bond "
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
        if study.wiring.is_grounded(array) or study.array.is_unplugged(array):
            continue
        fused = [flow for flow in array.backflows if flow.devices and flow.would_harm]
        poles = {frozenset(device.pole for device in flow.devices) for flow in fused}
        single = [flow for flow in fused if len({device.pole for device in flow.devices}) == 1]
        mixed = len({pole for each in poles for pole in each}) > 1 and len(poles) > 1
        if single and (study.codes.array.string_fuses_in_both_poles is not None or mixed):
            yield _observation(single, array, mixed)


def _observation(flows: list[Backflow], array: ArrayStudy, mixed: bool) -> Observation:
    found: dict[str, Located] = {}
    devices = [device.device for flow in flows for device in flow.devices]
    for device in sorted(devices, key=lambda each: str(each.name)):
        found[str(device.name)] = device
    names = [f"`{name}`" for name in found]
    listed = f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
    where = "in different poles" if mixed else f"in the {flows[0].devices[0].pole} only"
    verb = "sits" if len(names) == 1 else "sit"
    return Observation(
        message=f"{listed} {verb} {where} of the {array.name}, which is tied to nothing: with two "
        "faults to frames the other strings feed a lead past its fuse",
        on=tuple(found.values()),
        values=(flows[0].unlimited,) if flows[0].unlimited is not None else (),
        remedy="put a fuse of the same rating into the other pole of each string too, or tie the "
        "negative of the array as the maker of the controller says and declare it in `bonds`",
    )
