"""Open-circuit voltage on the coldest morning against every part between array and controller."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from wattproof.remedies.proposals import fewer_in_series, if_borne, photovoltaic_fuse
from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds, margin_below, share_below
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value, declared
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B) with 690.7(A)",
        "2014-2023",
        "devices in direct-current circuits are rated for direct current and for the cold voltage",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548 7.2; IEC 60269-6",
        "2016; 2010",
        "all equipment is rated for the open-circuit voltage at the lowest expected operating "
        "temperature; string fuses are of the photovoltaic type, rated for direct current at it",
        verified=True,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (11.10)",
        "2003 and later",
        "overcurrent devices are rated for direct current at the voltage of the circuit",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033",
        "2021",
        "all equipment of an array is rated, in direct current, for its open-circuit voltage at "
        "the lowest expected temperature",
        verified=False,
    ),
    "common practice": practice(
        "whatever lies between array and controller is rated for its cold voltage, in direct "
        "current"
    ),
}


@record
class Limits:
    """What a project may set."""

    label_tolerance: float = option(
        0.03, "Share by which a module's open-circuit voltage may lie above its label."
    )


class Part(NamedTuple):
    """Something on the array side and the DC voltage it is rated for.

    rated: printed or usual (V); None for a device that is made for alternating current. keys:
    components of the plan and their keys that hold the rated voltage. also: what else the plan
    holds of what is used instead.
    """

    shown: str
    on: tuple[Located, ...]
    array: ArrayStudy
    rated: Value | None
    instead: str
    keys: tuple[tuple[str, str], ...]
    also: tuple[Change, ...] = ()


@rule(
    id="cold-voltage-over-device",
    summary="Cold open-circuit voltage of an array against the DC voltage of each part on its way.",
    covers=("Cold voltage over fuses, switches, joints, cable",),
    level="error",
    hazard="fire",
    part="overcurrent",
    basis=BASIS,
    explanation="A fuse, breaker or switch must put out the arc that it draws when it opens. "
    "Direct current never passes through zero by itself, so above the rated voltage the arc burns "
    "on, in a case that was not built for it. Cables, plugs and joints give way likewise, "
    "through insulation that is too weak. Parts made for 12 V and 24 V vehicles are often rated "
    "32 V, and two modules in series pass that on a cold morning.",
    caution=warning(
        "A device that opens above its voltage can burst and burn while the sun feeds the arc. "
        "Cover the modules before you open anything in such a circuit."
    ),
    since="0.1.0",
    sound=plan("van-two-modules"),
    faulty=Edit("voltage: 150 V", "voltage: 48 V"),
    options=Limits,
)
def cold_voltage_over_device(study: Study, limits: Limits) -> Iterator[Observation]:
    for part in _parts(study):
        cold = part.array.voc("coldest")
        if part.rated is None:
            continue
        taken = "taken as " if part.rated.assumptions else ""
        tolerance = 0.0 if taken else part.array.label_tolerance(limits.label_tolerance)
        if not exceeds(cold, (1.0 - tolerance) * part.rated.number):
            continue
        over = exceeds(cold, part.rated)
        left = share_below(cold, part.rated)
        near = "" if over else f", only {left} below it, within the tolerance of labels"
        yield Observation(
            message=(
                f"{part.shown} is {taken}rated {part.rated} DC and gets {cold}, the cold "
                f"open-circuit voltage of the {part.array.name}{near}"
            ),
            on=part.on,
            values=(cold, part.rated),
            margin=margin_below(cold, part.rated),
            remedy=_remedy(study, part, cold, tolerance),
            level=None if over else "warning",
        )


def _parts(study: Study) -> Iterator[Part]:
    """Everything on the array side that has a voltage rating."""
    for device in study.wiring.devices.values():
        if device.array is not None:
            yield _device(device, device.array)
    for array in study.array.arrays:
        yield from _cables(study, array)
        yield from _joints(study, array)
        yield from _connectors(study, array)
    for name, arrester in study.plan.arresters.items():
        across = study.array.array_at(study.circuit.ends.arresters[name])
        if across is not None:
            words = f"continuous voltage of {arrester.name}"
            rated = declared(arrester.voltage, f"Uc({arrester.name})", words)
            shown = f"surge arrester `{arrester.name}`"
            keys = ((str(arrester.name), "voltage"),)
            yield Part(shown, (arrester,), across, rated, "use an arrester", keys)


def _device(device: DeviceStudy, array: ArrayStudy) -> Part:
    """A fuse, breaker, switch or panel way: by its label, or by the least of its style."""
    what = device.style.title if device.style is not None else device.kind
    instead, also = _instead(device, array)
    shown = f"`{device.name}` ({what})"
    panel = device.kind == "panel way"
    keys = ((device.passages[0].end.component if panel else device.name, "voltage"),)
    return Part(shown, (device,), array, device.rated_voltage, instead, keys, also)


def _instead(device: DeviceStudy, array: ArrayStudy) -> tuple[str, tuple[Change, ...]]:
    """One of its kind; of fuses the style of photovoltaic fuse whose usual voltage would do."""
    if device.kind != "fuse":
        return f"use a {device.kind}", ()
    found = photovoltaic_fuse(array.voc("coldest").number, device.rating.number)
    if found is None:
        return "use a photovoltaic fuse", ()
    return f"use a {found.title},", (Change(device.name, "style", found.name),)


def _cables(study: Study, array: ArrayStudy) -> Iterator[Part]:
    """Each kind of cable once, with all the wires that are made of it."""
    wires = [wire for wire in study.wiring.wires.values() if study.wiring.array_of(wire) is array]
    for sheet in {wire.sheet.name: wire.sheet for wire in wires}.values():
        first, *others = [wire for wire in wires if wire.sheet is sheet]
        shown = f"cable `{sheet.name}`"
        on: tuple[Located, ...] = (first, sheet, *others)
        keys = tuple((wire.name, "cable.voltage") for wire in (first, *others))
        yield Part(shown, on, array, first.rated_voltage, "use photovoltaic cable", keys)


def _joints(study: Study, array: ArrayStudy) -> Iterator[Part]:
    """Combiners and bars, and connectors of combiners where their voltage is stated."""
    for joint in array.joined:
        kind = str(getattr(joint, "kind", "busbar")).replace("-", " ")
        shown, keys = f"`{joint.name}` ({kind})", ((str(joint.name), "voltage"),)
        rated = study.array.voltage_of_joint(joint)
        yield Part(shown, (joint,), array, rated, f"use a {kind}", keys)
        connector = getattr(joint, "connector", None)
        if connector is not None and connector.voltage is not None:
            words = f"rated voltage of connectors of {joint.name}"
            rated = declared(connector.voltage, f"Uplug({joint.name})", words)
            shown, keys = f"the connector of `{joint.name}`", ((joint.name, "connector.voltage"),)
            yield Part(shown, (joint,), array, rated, "use connectors", keys)


def _connectors(study: Study, array: ArrayStudy) -> Iterator[Part]:
    """Modules' connectors where their voltage is stated; else they share the module's own."""
    for module in array.modules:
        connector = module.sheet.connector
        if connector is None or connector.voltage is None:
            continue
        name = module.name
        rated = declared(connector.voltage, f"Un({name})", f"rated voltage of connectors of {name}")
        strings = [s for s in study.array.users_of(module) if s in array.declared_strings]
        on: tuple[Located, ...] = (*strings, module.sheet)
        shown = f"the connector of `{name}`"
        key = f"modules.{name}.connector.voltage"
        keys = tuple((str(string.name), key) for string in strings)
        yield Part(shown, on, array, rated, "use connectors", keys)


def _remedy(study: Study, part: Part, cold: Value, tolerance: float) -> Remedy:
    """The rating that would do, and fewer modules in series where that is possible."""
    assert part.rated is not None
    needed = f"{math.ceil(cold.number / (1.0 - tolerance))} V"
    larger = f"{part.instead} rated at least {needed} DC"
    if part.rated.assumptions:
        larger = f"write its `voltage` if its label says at least {needed} DC, else {larger}"
    fit = part.array.fitting_in_series(part.rated.number * (1.0 - tolerance))
    other = (*(Change(name, key, needed) for name, key in part.keys), *part.also)
    now = part.array.in_series()
    fewest = study.curves.window_of(part.array).fewest_nearly
    if not fewest <= fit < now:
        return Remedy(larger, (other,))
    fewer = if_borne(fewer_in_series(part.array, fit, fewest), part.array, study.array)
    words = f"{larger}; or put at most {fit} in series instead of {now}{fewer.rest}"
    return Remedy(words, (other, fewer.changes))
