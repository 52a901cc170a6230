"""What other groups of strings drive into a shorted lead of a group, against what it carries."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import (
    against_ignition,
    fuse_in,
    moved,
    photovoltaic_fuse,
    values_of,
)
from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Remedy,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy, Inflow
from wattproof.study.assumptions.devices import NO_DEVICE_PLACE
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.answers import Allowed
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.words import quoted
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(A)",
        "2014-2023",
        "an array circuit needs no overcurrent device only where no source can drive more current "
        "into it than its conductors carry",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548, sub-array protection",
        "2016",
        "cables of sub-arrays are protected by devices or carry what the other sub-arrays drive "
        "into them",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, sub-array protection",
        "2021",
        "cables of sub-arrays are protected by devices or carry what the other sub-arrays drive "
        "into them",
        verified=False,
    ),
    "common practice": Clause(
        "NEC 690.9(A); IEC 62548, sub-array protection",
        "2023; 2016",
        "the lead of a group of strings carries what the other groups drive into it, or has a "
        "device at the joint",
        verified=False,
    ),
}

MORE = """\
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 35 A, max_system_voltage: 600 V}
  cables:
    pv-6: {size: 6 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    pv-12: {size: 12 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-4: {size: 4 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  port: {module: rigid-100, arrangement: 2s2p, mounting: roof-gap}
  middle: {module: rigid-100, arrangement: 2s2p, mounting: roof-gap}
  starboard: {module: rigid-100, arrangement: 2s2p, mounting: roof-gap}
combiners:
  roof-box: {joins: [port, middle, starboard], kind: combiner-box, rating: 60 A, voltage: 600 V}
wires:
  port-lead: {from: port, to: roof-box, cable: pv-10, length: 1 m, place: roof}
  middle-lead: {from: middle, to: roof-box, cable: pv-10, length: 1 m, place: roof}
  starboard-lead: {from: starboard, to: roof-box, cable: pv-10, length: 1 m, place: roof}
"""


@rule(
    id="group-lead-unprotected",
    summary="Current of other groups into a shorted group lead, against what the lead carries.",
    covers=("One fuse for many strings, or for a group whose lead is thin",),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A lead that brings several strings to a joint is sized for their current. When "
    "it is pinched and shorted, all the other groups at the joint push their current into it from "
    "the far end, and that sum may be more than the lead carries. Fuses in single strings do not "
    "see it, since each of them gives no more than usual. A fuse at the joint, in the lead of "
    "each group, does.",
    caution=warning("A shorted lead that is fed by the rest of the array burns until dusk."),
    since="0.1.0",
    sound=plan(
        "two-strings",
        Edit("ambient: 65 °C", "ambient: 60 °C"),
        Edit("rating: 40 A", "rating: 60 A"),
        Edit("rating: 50 A", "rating: 70 A"),
        Edit("max_output_current: 40 A", "max_output_current: 50 A"),
        Edit("from: roof-joint", "from: roof-box"),
        Edit("cable: pv-8", "cable: pv-6"),
        Edit("cable: batt-6", "cable: batt-4"),
        less=(
            "datasheets.modules",
            "datasheets.cables.pv-8",
            "datasheets.cables.batt-6",
            "combiners.roof-joint",
        ),
        more=MORE,
    ),
    faulty=Edit(
        "port-lead: {from: port, to: roof-box, cable: pv-10",
        "port-lead: {from: port, to: roof-box, cable: pv-12",
    ),
)
def group_lead_unprotected(study: Study) -> Iterator[Observation]:
    inflows = {i.part: (i, array) for array in study.array.arrays for i in array.inflows}
    seen: set[str] = set()
    for answer in study.protection.allowed:
        if answer.kind not in ("array", "siblings") or answer.wire.name in seen:
            continue
        before_its_fuse = answer.bare is not None and answer.verdict != "short enough"
        if not before_its_fuse and (answer.kind == "siblings" or answer.reason is None):
            continue  # a single string without a fuse, or behind one, has findings of its own
        seen.add(answer.wire.name)
        inflow, array = inflows[answer.part]
        assert answer.most is not None
        if before_its_fuse:
            yield _before_its_fuse(answer, answer.most, inflow, array)
        else:
            yield _observed(answer, answer.most, inflow, array, study)


def _observed(
    answer: Allowed, limit: Value, inflow: Inflow, array: ArrayStudy, study: Study
) -> Observation:
    return _over(inflow, answer.wire, limit, answer.lasting, array, study)


def _before_its_fuse(
    answer: Allowed, limit: Value, inflow: Inflow, array: ArrayStudy
) -> Observation:
    """The stretch between the joint and the lead's own device may be short."""
    wire, current, most = answer.wire, answer.lasting, answer.bare_at_most
    assert most is not None
    unknown = answer.verdict == "not known"
    where = f"`{inflow.joint}`" if inflow.joint else "the controller"
    how = "how much is not stated" if unknown else f"{answer.bare_length}"
    return Observation(
        message=f"of `{wire.name}` ({wire.size.name}) a stretch lies between {where} and its own "
        f"device ({how}); {current} can be driven into it and it carries {limit}",
        on=(wire,),
        values=(current, limit),
        margin=margin_below(current, limit),
        remedy=Remedy(
            f"put the device within {most} of {where} and write its distance from there",
            (_moved(wire, inflow, most, array),),
        ),
        level="note" if unknown else "warning",
        asks=NO_DEVICE_PLACE.look_up if unknown else None,
    )


def _over(
    inflow: Inflow,
    wire: WireStudy,
    limit: Value,
    current: Value,
    array: ArrayStudy,
    study: Study,
) -> Observation:
    finite = current.number < float("inf")
    return Observation(
        message=f"if `{wire.name}` ({wire.size.name}) is shorted, "
        f"{_said(inflow, limit, f'{current}' if finite else 'thousands of amperes', array)}",
        on=(
            wire,
            *_devices(inflow),
            *dict.fromkeys(s.source.string for s in array.strings_of(inflow.behind)),
        ),
        values=(current, limit) if finite else (limit,),
        margin=margin_below(current, limit) if finite else None,
        remedy=_remedy(inflow, wire, current, array, study),
    )


def _said(inflow: Inflow, limit: Value, amps: str, array: ArrayStudy) -> str:
    """What can flow into it, and what it stands."""
    others = f"the other branches at `{inflow.joint}`"
    if inflow.devices:
        names = quoted(device.name for device in inflow.devices)
        return f"{names} lets {amps} of {others} last, and at most {limit} protects it"
    if not inflow.joint:
        through = f"through `{array.controller.name}`, which does not block it"
        return f"the battery can drive {amps} into it {through}, and it carries {limit}"
    return f"{others} can drive {amps} into it with nothing in between, and it carries {limit}"


def _devices(inflow: Inflow) -> tuple[Located, ...]:
    return tuple({str(d.name): d.device for d in inflow.devices}.values())


def _moved(wire: WireStudy, inflow: Inflow, most: Value, array: ArrayStudy) -> tuple[Change, ...]:
    """The only device of the wire beside the joint."""
    if len(wire.wire.inline) != 1:
        return ()
    beside = inflow.joint or str(array.controller.name)
    return moved(wire.wire, wire.wire.inline[0].device, beside, most.number)


def _remedy(
    inflow: Inflow, wire: WireStudy, current: Value, array: ArrayStudy, study: Study
) -> Remedy | str:
    """A fuse at the joint that carries the group and protects the lead; or a thicker lead."""
    where = f"at `{inflow.joint}`" if inflow.joint else "at the controller"
    own = wire.current.number * study.codes.array.continuous_factor.value if wire.current else 0.0
    largest = wire.largest_fitting_device
    thicker = next(
        (
            proposed
            for proposed in wire.larger_sizes()
            if isinstance(proposed.carrying, Carrying)
            and not exceeds(current, proposed.carrying.value)
        ),
        None,
    )
    name = str(array.controller.name)
    ways: list[Remedy] = []
    if not inflow.joint:
        blocks = (Change(name, "blocks_reverse", "true"),)
        ways.append(Remedy("use a controller that lets no battery current back", (blocks,)))
    if largest is not None and largest >= own * (1.0 - 1e-9):
        volts = array.voc("coldest").number
        made = photovoltaic_fuse(volts, largest)
        beside = inflow.joint or name
        label = values_of(made, volts) if made else {}
        added = fuse_in(wire.wire, beside, largest, label, study.plan) if made else None
        words = f"put a photovoltaic fuse of {largest:g} A into `{wire.name}` {where}"
        words += against_ignition([added])
        ways.append(Remedy(words, ((added,),) if added is not None else ()))
    if thicker is not None:
        ways.append(Remedy(f"use {thicker.size.name} for `{wire.name}`", ((thicker.as_change,),)))
    if not ways:
        return "join fewer groups in parallel, with more modules in series"
    return Remedy("; or ".join(w.words for w in ways), tuple(c for w in ways for c in w.ways))
