"""The count of parts: what to buy, as far as the plan declares it, with no allowance added."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from wattproof.circuit import Source
from wattproof.plan.arc_faults import ArcFaultDevice
from wattproof.plan.datasheets import CableSheet, ModuleSheet
from wattproof.plan.devices import Breaker, Busbar, Fuse, Switch, Way
from wattproof.plan.fields import component_of, is_name
from wattproof.plan.layouts import Layout
from wattproof.plan.splitting import Selector
from wattproof.plan.terminals import POLES
from wattproof.plan.told_units import ToldUnits, units_of
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.size_words import size_words
from wattproof.views.schedules.conductors import ConductorRow
from wattproof.views.schedules.stretches import Stretch, mate_of, stretches
from wattproof.working import Supposed, Value, function, shown, told_word, total

if TYPE_CHECKING:
    from wattproof.study import Study

_SLACK = 1e-9
"""Metres by which sums of lengths may be off, so that 8 m are not rounded up to 9."""

NOT_SAID = "not stated"


@record
class PartRow:
    """A kind of part, how many or how much of it, and for which components.

    group: the family of parts. unit: what is counted, in the plural; m for cable. note: what the
    amount holds or leaves out; empty without.
    """

    group: str
    part: str
    amount: Value
    unit: str
    components: tuple[str, ...]
    note: str = ""


_Rows: TypeAlias = Iterator[PartRow]


def part_rows(study: Study, conductors: Iterable[ConductorRow]) -> _Rows:
    """All parts: modules and joints, what is wired to them, devices, cable and its ends."""
    cut = list(stretches(study))
    yield from _modules(study)
    yield from _combiners(study)
    yield from _controllers(study)
    yield from _batteries(study)
    yield from _chargers(study)
    yield from _inverters(study)
    yield from _loads(study)
    yield from _busbars(study, cut)
    yield from _panels(study)
    yield from _devices(study)
    yield from _cables(study, conductors)
    yield from _plugs(study)
    yield from _connectors(study, cut)
    yield from _terminal_ends(cut)
    yield from _bonds_and_arresters(study)


def _count(number: int) -> Value:
    return Value(float(number))


def _words(*parts: object) -> str:
    """What is declared of a part, in one line."""
    return ", ".join(str(part) for part in parts if part)


def _said(quantity: Quantity | None, before: str) -> str:
    """A declared quantity behind a word, or that it is not stated."""
    return f"{before} {quantity.text if quantity is not None else NOT_SAID}"


def _modules(study: Study) -> _Rows:
    counts: dict[str, int] = {}
    strings: dict[str, dict[str, None]] = {}
    short_forms: dict[str, dict[str, None]] = {}
    for source in study.circuit.elements:
        if not isinstance(source, Source):
            continue
        for sheet in source.modules:
            name = str(sheet.name)
            counts[name] = counts.get(name, 0) + 1
            strings.setdefault(name, {})[str(source.string.name)] = None
            if source.string.arrangement is not None:
                short_forms.setdefault(name, {})[source.string.arrangement.text] = None
    for name, count in counts.items():
        sheet = study.plan.datasheets.modules[name]
        forms = ", ".join(short_forms.get(name, ()))
        note = f"joints inside {forms} are not in the plan" if forms else ""
        yield PartRow(
            "modules", _module(sheet), _count(count), "modules", tuple(strings[name]), note
        )


def _module(sheet: ModuleSheet) -> str:
    power = sheet.pmax.text if sheet.pmax is not None else ""
    return _words(f"{sheet.name}", power, f"Voc {sheet.voc}", f"Isc {sheet.isc}", sheet.build)


def _combiners(study: Study) -> _Rows:
    wired = {name for wire in study.plan.wires.values() for name in wire.components}
    for name, joint in study.plan.combiners.items():
        words = _words(joint.kind, _said(joint.rating, "rating"), _said(joint.voltage, "voltage"))
        plugged = [r for r in joint.joins or () if component_of(r) not in wired]
        note = f"{', '.join(plugged)} plug straight in" if plugged else ""
        yield PartRow("joints", words, _count(1), "joints", (name,), note)


def _controllers(study: Study) -> _Rows:
    for name, controller in study.plan.controllers.items():
        words = _words(
            told_word(controller.kind),
            _said(controller.max_input_voltage, "input to"),
            f"output {controller.max_output_current}",
        )
        set_to = controller.limited_to
        note = f"set to {set_to}" if set_to is not None else ""
        yield PartRow("controllers", words, _count(1), "controllers", (name,), note)


def _batteries(study: Study) -> _Rows:
    for name, battery in study.plan.batteries.items():
        layout = battery.arrangement
        words = _words(told_word(battery.chemistry), battery.nominal, battery.capacity)
        note = f"{layout.text}: the links between them are not in the plan" if layout else ""
        yield PartRow("batteries", words, _count(_members(layout)), "batteries", (name,), note)
        if battery.equaliser is not None:
            words = _words("equaliser", battery.equaliser)
            yield PartRow("batteries", words, _count(1), "equalisers", (name,))


def _members(layout: Layout | None) -> int:
    return layout.inner * layout.outer if layout is not None else 1


def _chargers(study: Study) -> _Rows:
    for name, charger in study.plan.chargers.items():
        words = _words(charger.kind, f"output {charger.max_output_current}")
        yield PartRow("chargers", words, _count(1), "chargers", (name,))


def _inverters(study: Study) -> _Rows:
    for name, inverter in study.plan.inverters.items():
        words = _words(inverter.power, _said(inverter.nominal, "input"))
        yield PartRow("inverters", words, _count(1), "inverters", (name,))


def _loads(study: Study) -> _Rows:
    for name, load in study.plan.all_loads.items():
        words = _words(load.note, load.current or load.power, _said(load.nominal, "nominal"))
        yield PartRow("loads", words, _count(1), "loads", (name,))


def _busbars(study: Study, cut: list[Stretch]) -> _Rows:
    """A bar for each pole that meets there."""
    meeting: dict[str, set[str]] = {name: set() for name in study.plan.busbars}
    for end in (end for stretch in cut for end in stretch.ends):
        if isinstance(end.component, Busbar):
            meeting[str(end.component.name)].add(end.pole)
    for name, bar in study.plan.busbars.items():
        poles = [pole for pole in POLES if pole in meeting[name]]
        words = _words(_said(bar.rating, "rating"), _said(bar.voltage, "voltage"))
        note = f"one for each pole: {', '.join(poles)}" if len(poles) > 1 else "".join(poles)
        yield PartRow("busbars", words, _count(max(1, len(poles))), "bars", (name,), note)


def _panels(study: Study) -> _Rows:
    for name, panel in study.plan.distribution.items():
        words = _words(
            f"{len(panel.ways)} way{'' if len(panel.ways) == 1 else 's'}",
            _said(panel.rating, "feed"),
            _said(panel.voltage, "voltage"),
        )
        yield PartRow("panels", words, _count(1), "panels", (name,))


_GROUPS: Final[dict[type[Any], str]] = {
    Fuse: "fuses",
    Way: "fuses",
    Breaker: "breakers",
    Switch: "switches",
    Selector: "switches",
    ArcFaultDevice: "switches",
}


def _devices(study: Study) -> _Rows:
    """Alike devices together: fuses, breakers, switches."""
    alike: dict[tuple[Any, ...], list[tuple[str, DeviceStudy]]] = {}
    for key, device in study.wiring.devices.items():
        alike.setdefault(_alike(device), []).append((key, device))
    for group in ("fuses", "breakers", "switches"):
        for found in alike.values():
            first = found[0][1]
            if _GROUPS[type(first.device)] == group:
                names = tuple(key for key, _ in found)
                yield PartRow(group, _device(first), _count(len(found)), group, names)


def _alike(device: DeviceStudy) -> tuple[Any, ...]:
    """What is declared of a device, as a key under which its like are found."""
    own = device.device
    keys = ("voltage", "interrupt", "style", "dc", "poles", "polarised", "load_break")
    values = (getattr(own, key, None) for key in (*keys, "ignition_protected"))
    plain = (v.value if isinstance(v, Quantity) else v for v in values)
    return (type(own), device.rating.number, *plain)


def _device(study: DeviceStudy) -> str:
    """What is printed on a device, in one line."""
    own = study.device
    if isinstance(own, Way):
        return _words(_style(own.style), own.fuse, "for a panel")
    common = (
        study.rating,
        _said(own.voltage, "voltage"),
        _marked(own.dc, "marked for DC", "AC only"),
        "ignition protected" if own.ignition_protected else "",
    )
    if isinstance(own, Fuse):
        return _words(_style(own.style), *common, _said(own.interrupt, "interrupt rating"))
    if isinstance(own, ArcFaultDevice):
        return _words("arc-fault device", *common, _poles(own.poles))
    if isinstance(own, Switch):
        kind = "selector switch" if isinstance(own, Selector) else ""
        return _words(
            kind,
            *common,
            _poles(own.poles),
            _marked(own.load_break, "load-break", "not load-break"),
        )
    assert isinstance(own, Breaker)
    polarised = "polarised" if own.polarised else ""
    style = str(own.style) if own.style is not None else ""
    return _words(
        style, *common, _poles(own.poles), _said(own.interrupt, "interrupt rating"), polarised
    )


def _poles(poles: int | None) -> str:
    return f"{poles}-pole" if poles is not None else f"poles {NOT_SAID}"


def _style(style: str | None) -> str:
    return str(style) if style is not None else f"style {NOT_SAID}"


def _marked(flag: bool | None, yes: str, no: str) -> str:
    return f"{yes}: {NOT_SAID}" if flag is None else yes if flag else no


def _cables(study: Study, conductors: Iterable[ConductorRow]) -> _Rows:
    """Each kind of cable in whole metres, all poles together.

    Those of which the size alone is told are of one kind where that is the same.
    """
    sheets = study.plan.datasheets.cables
    units = units_of(study.plan)
    of_kind: dict[str, list[ConductorRow]] = {}
    for row in conductors:
        sheet = sheets[row.cable]
        kind = size_words(sheet)[0] if _is_sized(sheet) else row.cable
        of_kind.setdefault(kind, []).append(row)
    for name, rows in of_kind.items():
        lengths = [row.needed for row in rows if row.needed is not None]
        exact = total(lengths) if lengths else Value(0.0, "m")
        whole = function("rounded up", float(math.ceil(exact.number - _SLACK)), exact)
        missing = [row.name for row in rows if row.needed is None]
        note = f"{_as_told(exact, units)} before rounding up"
        if missing:
            note += f"; length of {', '.join(missing)} {NOT_SAID}, not counted"
        names = tuple(row.name for row in rows)
        amount = whole.named(f"Lall({name})", f"length of {name} to buy", "m")
        yield PartRow("cable", _cable(sheets[rows[0].cable]), amount, "m", names, note)


def _as_told(length: Value, units: ToldUnits) -> str:
    """A length in metres, after the feet in which the plan tells its own."""
    metres = shown(length.number, "m")
    told = units.said(metres)
    return f"{told} ({metres})" if told != metres else metres


def _is_sized(sheet: CableSheet) -> bool:
    """True where a plan tells no more than its size."""
    return not is_name(sheet.name) and not isinstance(sheet.size, Supposed)


def _cable(sheet: CableSheet) -> str:
    return _words(
        "" if _is_sized(sheet) else sheet.name,
        _size(sheet),
        f"sold as {sheet.kind}" if sheet.kind is not None else f"kind {NOT_SAID}",
        sheet.material if sheet.material is not None else f"metal {NOT_SAID}",
        _said(sheet.insulation_temperature, "insulation"),
        _said(sheet.voltage, "voltage"),
        _marked(sheet.outdoor, "outdoor", "not for outdoors"),
    )


def _size(sheet: CableSheet) -> str:
    written, other = size_words(sheet)
    return f"{written} ({other})"


def _plugs(study: Study) -> _Rows:
    """The small plugs in wires, each kind and rating together."""
    alike: dict[str, list[str]] = {}
    for wire in study.plan.wires.values():
        if wire.plug is not None:
            words = _words(wire.plug, _said(wire.plug_rating, "rating"))
            alike.setdefault(words, []).append(str(wire.name))
    for words, names in alike.items():
        yield PartRow("plugs", words, _count(len(names)), "pairs", tuple(names), "plug and socket")


def _connectors(study: Study, cut: list[Stretch]) -> _Rows:
    """What the ends of wires mate with at modules and branch connectors, by style and make."""
    alike: dict[tuple[str, str], list[tuple[str, str, int]]] = {}
    for stretch in cut:
        for end in stretch.ends:
            if end.is_plugged:
                mate = mate_of(end, study)
                key = ("", "") if mate is None else (str(mate.style or ""), str(mate.make or ""))
                alike.setdefault(key, []).append((stretch.name, end.pole, stretch.count))
    for (style, make), ends in alike.items():
        counts = {pole: sum(n for _, p, n in ends if p == pole) for pole in POLES}
        names = tuple(dict.fromkeys(name for name, *_ in ends))
        note = f"for {counts['positive']} positive and {counts['negative']} negative ends of wires"
        words = f"style {style or NOT_SAID}, make {make or NOT_SAID}"
        yield PartRow("connectors", words, _count(max(counts.values())), "pairs", names, note)


def _terminal_ends(cut: list[Stretch]) -> _Rows:
    """Ends of conductors that are not plugged, by size: each takes a lug, a ferrule or a clamp."""
    alike: dict[str, list[tuple[str, int]]] = {}
    for stretch in cut:
        ends = sum(not end.is_plugged for end in stretch.ends) * stretch.count
        if ends:
            alike.setdefault(_size(stretch.sheet), []).append((stretch.name, ends))
    for size, found in alike.items():
        names = tuple(dict.fromkeys(name for name, _ in found))
        count = _count(sum(n for _, n in found))
        note = "lug, ferrule or bare, as the terminal asks"
        yield PartRow("terminal ends", size, count, "ends", names, note)


def _bonds_and_arresters(study: Study) -> _Rows:
    for name, bond in study.plan.bonds.items():
        words = _words(f"{bond.start} to {bond.to}", bond.cable, _said(bond.length, "length"))
        yield PartRow("bonds", words, _count(1), "bonds", (name,), "its cable is counted above")
    for name, arrester in study.plan.arresters.items():
        words = _words(f"across {arrester.across}", f"stands {arrester.voltage} DC")
        yield PartRow("arresters", words, _count(1), "arresters", (name,))
