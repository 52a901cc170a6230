"""Whether a switch may be opened with the current that flows in it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule, warning
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 690.15 and 690.13",
        "2017-2023",
        "a means of parting array circuits above 30 A breaks load, or is interlocked or marked not "
        "to be opened under load; it is rated for the current of the circuit",
        verified=False,
    ),
    "iec": Clause(
        "IEC 60364-7-712 712.536; IEC 60947-3",
        "2017; as in force",
        "the array side has a switch-disconnector, which may be opened under load (DC-21B or "
        "DC-PV1 and -PV2), and not a disconnector",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (battery switches)",
        "2003 and later",
        "a battery switch is rated for the lasting current of what it feeds",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033; IEC 60947-3",
        "2021; as in force",
        "the array side has a switch that may be opened under load (DC-PV1 or -PV2), and not a "
        "mere disconnector",
        verified=False,
    ),
    "common practice": Clause(
        "label of the switch",
        "as supplied",
        "a switch is opened only up to its rated current, and an isolator not under load at all",
        verified=True,
    ),
}


@rule(
    id="switch-not-load-break",
    summary="Whether a switch may be opened under load; its rating against its current.",
    covers=("A switch too weak, or not to be opened under load",),
    level="error",
    hazard="fire",
    part="switch",
    basis=BASIS,
    explanation="A direct current does not stop by itself when a contact opens: it goes on through "
    "the air as an arc, as hot as a welder's, until the contacts are far enough apart. A switch "
    "that is made for it snaps open and stretches or blows the arc; a plain isolator does not. An "
    "array cannot be turned off first, so its switch is always opened under load.",
    caution=warning("The arc in an opened isolator burns the hand and can set the switch on fire."),
    since="0.1.0",
    sound=plan("van-in-sun"),
    faulty=Edit("poles: 2, load_break: true", "poles: 2, load_break: false"),
)
def switch_not_load_break(study: Study) -> Iterator[Observation]:
    for device in study.wiring.devices.values():
        if (
            not (device.is_switch or device.is_arc_device)
            or device.dc is False
            or device.current is None
        ):
            continue
        if device.load_break is False:
            yield _no_load(device, device.current)
        elif device.is_overloaded:
            yield _too_small(device, device.current, study.protection.limits(device))


def _no_load(device: DeviceStudy, current: Value) -> Observation:
    volts = device.volts
    at = f" at up to {volts}" if volts is not None else ""
    what = "array cannot be turned off first" if device.side == "array" else "loads may be running"
    return Observation(
        message=(
            f"`{device.name}` is not made to be opened under load, and {current}{at} flows "
            f"in it: the {what}"
        ),
        on=(device,),
        values=(current, volts) if volts is not None else (current,),
        remedy=Remedy(
            f"use a switch that may be opened under load, for at least {_whole(current)} A{at} DC",
            ((Change(device.name, "load_break", "true"), *_rated(device, current)),),
        ),
        level="error" if device.side == "array" else "warning",
    )


def _too_small(device: DeviceStudy, current: Value, first: bool) -> Observation:
    """Where a fuse opens first, which is told of that, it is a note."""
    return Observation(
        message=f"`{device.name}` carries {current} and is rated {device.rating}"
        f"{'; its fuse opens before that' if first else ''}",
        on=(device,),
        values=(current, device.rating),
        margin=margin_below(current, device.rating),
        remedy=Remedy(
            f"use a switch rated at least {_whole(current)} A", (_rated(device, current),)
        ),
        level="note" if first else None,
    )


def _rated(device: DeviceStudy, current: Value) -> tuple[Change, ...]:
    """Its rating where the present one is too small."""
    if not device.is_overloaded:
        return ()
    return (Change(device.name, "rating", f"{_whole(current)} A"),)


def _whole(current: Value) -> str:
    return f"{math.ceil(current.number - 1e-9)}"
