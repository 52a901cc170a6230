"""Ratings of devices, by the conductors that they are in."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from wattproof.codes import style
from wattproof.plan.array import String
from wattproof.plan.power import Battery
from wattproof.plan.terminals import without_pole
from wattproof.plan.wiring import Wire
from wattproof.study.assumptions import batteries, labels
from wattproof.study.assumptions.cables import PLUG_RATING
from wattproof.study.assumptions.completing import conductors, copper
from wattproof.study.assumptions.completing.filling import HOUR, Figure, Filling
from wattproof.working import Supposed


def ratings(filling: Filling) -> None:
    """Ratings by the conductors that devices are in."""
    for family in ("fuses", "breakers", "switches", "selectors", "diode_isolators"):
        parts = getattr(filling.plan, family)
        filling.put(family, {n: _device(filling, family, d) for n, d in parts.items()})
    panels = filling.plan.distribution
    filling.put("distribution", {n: _panel(filling, p) for n, p in panels.items()})


def _device(filling: Filling, family: str, device: Any) -> Any:
    if device.rating is not None:
        return device
    amps = _rating(filling, family, str(device.name))
    made = style(device.style) if getattr(device, "style", None) is not None else None
    if made is not None and made.largest is not None:
        largest = made.largest.value
        amps = amps._replace(value=min(amps.value, largest), bound=largest)
    return filling.part(family, device, ("rating", labels.NO_RATING, "current", amps))


def _rating(filling: Filling, family: str, name: str) -> Figure:
    plan = filling.plan
    packs = [b for b in plan.batteries.values() if b.each_pack and b.each_pack.fuse == name]
    if packs:
        return _pack_fuse(filling, packs)
    wires = filling.wires_through(name) or filling.wires_at(name)
    strings = [s for w in wires for end in w.components if (s := plan.strings.get(end)) is not None]
    if strings and family in ("fuses", "breakers"):
        return _string_fuse(filling, strings[0])
    found = [amps for w in wires if (amps := _fuse_on(filling, w)) is not None]
    usual = Figure(labels.STRING_FUSE.value)
    figure = min(found, key=lambda figure: figure.value, default=usual)
    plugs = [_plug_stands(wire) for wire in wires if wire.plug is not None]
    if plugs and min(plugs) < figure.value:
        figure = Figure(min(plugs), "as the plug beside it stands")
    if any(_tells_size(filling, wire) for wire in wires):
        return figure
    least = labels.SMALLEST_DEVICE if family in ("fuses", "breakers") else figure.value
    return figure._replace(reach=(least, labels.LARGEST_DEVICE))


def _plug_stands(wire: Wire) -> float:
    """What the plug in a wire is rated for, or usually good for (A)."""
    if wire.plug_rating is not None:
        return wire.plug_rating.value
    amps: float = PLUG_RATING.value[str(wire.plug)]
    return amps


def _tells_size(filling: Filling, wire: Wire) -> bool:
    """True where the size of its conductors is told, and not supposed as well."""
    sheet = filling.plan.datasheets.cables.get(wire.cable)
    return sheet is not None and not isinstance(sheet.size, Supposed)


def _pack_fuse(filling: Filling, banks: Iterable[Battery]) -> Figure:
    """The rating (A) usual at the post of each pack: by what the smallest of them gives."""
    given = [_given_by(filling, bank) for bank in banks]
    return Figure(copper.fuse_sold(min(given)), "by what a pack gives")


def _given_by(filling: Filling, bank: Battery) -> float:
    """What one pack of a bank gives for long (A): told, or as is usual for its capacity."""
    if bank.max_discharge_current is not None:
        return bank.max_discharge_current.value
    assert bank.capacity is not None
    return batteries.DISCHARGE_RATE.value * bank.capacity.value / HOUR


def _string_fuse(filling: Filling, string: String) -> Figure:
    names = string.modules or (string.module,)
    sheets = [filling.plan.datasheets.modules[m] for m in names if m is not None]
    isc = max((s.isc.value for s in sheets), default=0.0)
    printed = [s.max_series_fuse.value for s in sheets if s.max_series_fuse is not None]
    amps = max(labels.STRING_FUSE.value, 1.56 * isc)
    return Figure(min([amps, *printed]), "as in a string of such modules")


def _fuse_on(filling: Filling, wire: Wire) -> Figure | None:
    """The rating (A) usual on the conductors of a wire; None where the cable is not known."""
    area = conductors.copper_of(filling, wire)
    if area is None:
        return None
    return Figure(copper.fuse_on(area), f"as on the cable of `{wire.name}`")


def _panel(filling: Filling, panel: Any) -> Any:
    ways = {name: _way(filling, str(panel.name), way) for name, way in panel.ways.items()}
    if all(ways[name] is panel.ways[name] for name in ways):
        return panel
    return panel.model_copy(update={"ways": ways})


def _way(filling: Filling, panel: str, way: Any) -> Any:
    if way.fuse is not None:
        return way
    end = f"{panel}.{way.name}"
    wires = [
        w for w in filling.wires_at(panel) if end in (without_pole(w.start), without_pole(w.to))
    ]
    found = [amps for w in wires if (amps := _fuse_on(filling, w)) is not None]
    usual = Figure(labels.WAY_FUSE.value)
    amps = min([usual, *found], key=lambda figure: figure.value)
    drawn = [
        d for w in wires for e in w.components if (d := conductors.drawn_by(filling, e)) is not None
    ]
    least = labels.SPARE.value * max(drawn, default=0.0)
    if amps.value < least:
        larger = (size for size in labels.SOLD_FUSES if size >= least)
        amps = Figure(next(larger, labels.SOLD_FUSES[-1]), "by what hangs on it")
    return filling.part("distribution", way, ("fuse", labels.NO_WAY_FUSE, "current", amps))
