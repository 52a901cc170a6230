"""The overcurrent and switch schedule: every fuse, breaker, switch and panel way in its place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.plan.wiring import Inline
from wattproof.record import record
from wattproof.study.array.switching import opens_by_hand
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value, declared, largest

if TYPE_CHECKING:
    from wattproof.study import Study


@record
class DeviceRow:
    """A device in the way of the current.

    is_overcurrent: opens by itself. is_switch: need not break a fault. rated_voltage: as printed
    (V). opens: the highest voltage across it when open (V). interrupt: as printed (A). fault: what
    may flow through it in a short (A). load_break: of a switch. sits_in: its wire, the wires that
    it stands between, or its panel. distance: m from the end named in measured_from.
    protects: wires, and modules of strings. cuts_off: what it parts by hand. current: lasting (A),
    None where none is known to flow.
    """

    name: str
    kind: str
    style: str | None
    is_overcurrent: bool
    is_switch: bool
    rating: Value
    rated_voltage: Value | None
    opens: Value | None
    dc: bool | None
    interrupt: Value | None
    fault: Value | None
    poles: int | None
    load_break: bool | None
    is_inline: bool
    sits_in: tuple[str, ...]
    in_pole: tuple[str, ...]
    distance: Value | None
    measured_from: str | None
    place: str | None
    protects: tuple[str, ...]
    cuts_off: tuple[str, ...]
    current: Value | None


def device_rows(study: Study) -> Iterator[DeviceRow]:
    """Every device, in the order in which the circuit meets them."""
    places = {str(p.component.name): str(p.place.name) for p in study.site.placed}
    duties = {id(duty.device): duty.prospective for duty in study.protection.duties}
    protected = _protected(study)
    parted = _cut_off(study)
    ending = _wires_ending_at(study)
    back = _coming_back(study)
    for key, device in study.wiring.devices.items():
        wire, inline = device.passages[0].wire, device.passages[0].inline
        measured = inline.from_end if inline is not None else None
        assert wire is not None or measured is None
        yield DeviceRow(
            key,
            f"{device.kind}, polarised" if device.polarised else device.kind,
            getattr(device.device, "style", None),
            device.is_overcurrent,
            device.is_switch,
            device.rating,
            _printed(device, "voltage", "Un", "rated voltage"),
            device.volts,
            device.dc,
            _printed(device, "interrupt", "Ibreak", "interrupt rating"),
            duties.get(id(device)) or _fault_on_array(device, back),
            _poles(device),
            device.load_break,
            inline is not None,
            _sits_in(device, ending),
            tuple(dict.fromkeys(p.pole for p in device.passages)),
            _distance(device.name, inline),
            str(wire.start if measured == "from" else wire.to) if wire and measured else None,
            places.get(key),
            tuple(protected.get(id(device.device), ())),
            tuple(parted.get(id(device.device), ())),
            device.current,
        )


def _printed(device: DeviceStudy, key: str, symbol: str, words: str) -> Value | None:
    """What is printed on it, or on its panel."""
    printed_on = device.panel if device.panel is not None else device.device
    written = getattr(printed_on, key, None)
    if written is None:
        return None
    return declared(written, f"{symbol}({device.name})", f"{words} of {device.name}")


def _coming_back(study: Study) -> dict[int, list[Value]]:
    """For each device of an array, what shorts behind it draw back through it (A)."""
    found: dict[int, list[Value]] = {}
    for array in study.array.arrays:
        for inflow in array.inflows:
            if inflow.unlimited is not None:
                for passage in inflow.devices:
                    found.setdefault(id(passage.device), []).append(inflow.unlimited)
    return found


def _fault_on_array(device: DeviceStudy, back: dict[int, list[Value]]) -> Value | None:
    """Through a device of an array (A): what is behind it drives, or what comes back through it."""
    if device.array is None or not device.is_overcurrent or device.current is None:
        return None
    words = f"largest fault current through {device.name}"
    through = [device.current, *back.get(id(device.device), ())]
    return largest(through).named(f"Ik({device.name})", words, "A")


def _poles(device: DeviceStudy) -> int | None:
    """Poles that it breaks: a fuse one; of others as declared."""
    if device.kind in ("fuse", "panel way"):
        return 1
    written = getattr(device.device, "poles", None)
    return int(written) if written is not None else None


def _distance(name: str, inline: Inline | None) -> Value | None:
    if inline is None or inline.distance is None:
        return None
    return declared(inline.distance, f"d({name})", f"distance of {name} from an end of its wire")


def _sits_in(device: DeviceStudy, ending: dict[str, dict[str, None]]) -> tuple[str, ...]:
    """Its wire, its panel, or the wires that it stands between."""
    first = device.passages[0]
    if first.wire is not None:
        return (str(first.wire.name),)
    if device.panel is not None:
        return (str(device.panel.name),)
    return tuple(ending.get(device.name, ()))


def _wires_ending_at(study: Study) -> dict[str, dict[str, None]]:
    """The wires at each component."""
    found: dict[str, dict[str, None]] = {}
    for wire in study.plan.wires.values():
        for name in wire.components:
            found.setdefault(name, {})[str(wire.name)] = None
    return found


def _protected(study: Study) -> dict[int, dict[str, None]]:
    """For each overcurrent device, the wires that it protects by the fault sweep, and the modules.

    Modules are protected where the smallest device is not over their maximum series fuse.
    """
    found: dict[int, dict[str, None]] = {}
    for fault in study.protection.fault_sweep.faults:
        for feed in fault.feeds:
            if feed.verdict == "cleared":
                for passage in feed.devices:
                    found.setdefault(id(passage.device), {})[fault.wire.name] = None
    for flow in (flow for array in study.array.arrays for flow in array.backflows):
        if flow.guarded_by is not None and not flow.is_over_label:
            own = found.setdefault(id(flow.guarded_by.device), {})
            own[f"modules of {flow.string.name}"] = None
    return found


def _cut_off(study: Study) -> dict[int, dict[str, None]]:
    """For each switch and breaker, what it parts from what: by itself, or with its like."""
    found: dict[int, dict[str, None]] = {}
    for array in study.array.arrays:
        for passage in study.array.switches_of(array):
            found.setdefault(id(passage.device), {})[array.name] = None
        for passage in study.wiring.battery_switches_of(array):
            if opens_by_hand(passage):
                name = f"{array.controller.name} from its battery"
                found.setdefault(id(passage.device), {})[name] = None
    return found
