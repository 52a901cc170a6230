"""The labels: what to print on tape for each end of a conductor, each device and each component.

The markings are common practice in the trade, in plain words, and only what the plan gives: a local
code may prescribe other words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.circuit import Source, Terminal
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.neighbours import Neighbours
from wattproof.views.schedules.stretches import End, Stretch, stretches
from wattproof.working import Value, told_word

if TYPE_CHECKING:
    from wattproof.study import Study

_SLACK = 1e-9
_SIGNS = {"positive": "+", "negative": "−"}

SOLAR = "solar, live in daylight"
NOT_UNDER_LOAD = "do not unplug under load"


@record
class LabelRow:
    """A piece of tape.

    component: what it belongs to. on: where it goes. prints: the name. markings: what else to
    print, empty where the plan gives nothing. pieces: alike ones. rests_on: the values in the
    markings.
    """

    component: str
    on: str
    prints: str
    markings: tuple[str, ...]
    pieces: int
    rests_on: tuple[Value, ...] = ()


def label_rows(study: Study) -> Iterator[LabelRow]:
    """Ends of conductors, leads of strings, devices, then components, as the plan has them."""
    for stretch in stretches(study):
        for end in stretch.ends:
            yield _of_end(stretch, end, study)
    yield from _of_strings(study)
    for key, device in study.wiring.devices.items():
        yield _of_device(key, device, study)
    yield from _of_joints(study)
    yield from _of_converters(study)
    yield from _of_batteries(study)
    yield from _of_panels(study)
    for name, arrester in study.plan.arresters.items():
        yield LabelRow(name, name, name, (f"stands {arrester.voltage} DC",), 1)


def _at_most(volts: Value | None) -> tuple[str, ...]:
    """The highest voltage in whole volts, never rounded down."""
    if volts is None or not math.isfinite(volts.number):
        return ()
    return (f"max {math.ceil(volts.number - _SLACK)} V DC",)


def _known(*values: Value | None) -> tuple[Value, ...]:
    return tuple(value for value in values if value is not None)


def _of_end(stretch: Stretch, end: End, study: Study) -> LabelRow:
    wire = study.wiring.wires.get(stretch.name)
    sign = _SIGNS[end.pole]
    prints = f"{stretch.name} {sign} {stretch.start.at} to {stretch.end.at}"
    where = f"{sign} end at {end.at}"
    if wire is None:
        return LabelRow(stretch.name, where, prints, ("bond",), stretch.count)
    solar = (SOLAR,) if wire.side == "array" else ()
    plug = (NOT_UNDER_LOAD,) if end.is_plugged else ()
    markings = (*solar, *_at_most(wire.volts), *plug)
    return LabelRow(stretch.name, where, prints, markings, stretch.count, _known(wire.volts))


def _of_strings(study: Study) -> Iterator[LabelRow]:
    """The free leads of each string, at its two terminals."""
    arrays = {s.name: a for a in study.array.arrays for s in a.declared_strings}
    leads: dict[tuple[str, str], int] = {}
    for source in (e for e in study.circuit.elements if isinstance(e, Source)):
        layout = source.string.arrangement
        inner = layout.inner if layout is not None and not layout.series_first else 0
        group, groups = ((source.index - 1) // inner, layout.outer) if inner and layout else (0, 1)
        for pole, is_free in (("positive", group == groups - 1), ("negative", group == 0)):
            key = (str(source.string.name), pole)
            leads[key] = leads.get(key, 0) + is_free
    for (name, pole), count in leads.items():
        array = arrays.get(name)
        volts = array.voc("coldest") if array is not None else None
        markings = (SOLAR, *_at_most(volts), NOT_UNDER_LOAD)
        on = f"{_SIGNS[pole]} lead of {name}"
        yield LabelRow(name, on, f"{name} {_SIGNS[pole]}", markings, count, _known(volts))


def _of_device(key: str, device: DeviceStudy, study: Study) -> LabelRow:
    markings = [str(device.rating)]
    if device.kind in ("fuse", "panel way"):
        style = getattr(device.device, "style", None) or "style not stated,"
        markings = [f"replace only by {style} {device.rating}"]
    if device.is_switch and device.load_break is None:
        markings.append("load break: not stated")
    if device.load_break is False:
        markings.append("do not open under load")
    if device.polarised:
        markings.append("polarised: line and load not to be swapped")
    if device.side == "array":
        markings.append(SOLAR)
    elif _live_on_both_sides(device, study):
        markings.append("both sides live when open")
    markings += _at_most(device.volts)
    return LabelRow(key, key, key, tuple(markings), 1, _known(device.volts))


def _live_on_both_sides(device: DeviceStudy, study: Study) -> bool:
    sides = (study.wiring.neighbours_of(passage) for passage in device.passages)
    return any(found is not None and all(map(_feeds, found)) for found in sides)


def _feeds(side: Neighbours) -> bool:
    return bool(side.banks or side.sources)


def _of_joints(study: Study) -> Iterator[LabelRow]:
    arrays = {name: array for array in study.array.arrays for name in array.components}
    for name in study.plan.combiners:
        yield _on_array(name, arrays.get(name))
    for name in study.plan.busbars:
        if name in arrays:
            yield _on_array(name, arrays[name])
        else:
            volts = study.battery.side.highest_voltage(Terminal(name, "", "positive"))
            yield LabelRow(name, name, name, _at_most(volts), 1, _known(volts))


def _on_array(name: str, array: ArrayStudy | None) -> LabelRow:
    if array is None:
        return LabelRow(name, name, name, (), 1)
    volts = array.voc("coldest")
    return LabelRow(name, name, name, (SOLAR, *_at_most(volts)), 1, (volts,))


def _of_converters(study: Study) -> Iterator[LabelRow]:
    inputs = {array.controller.name: array.voc("coldest") for array in study.array.arrays}
    for name in study.plan.controllers:
        volts = inputs.get(name)
        markings = tuple(f"solar input {text}" for text in _at_most(volts))
        yield LabelRow(name, name, name, markings, 1, _known(volts))
    for name in study.plan.chargers:
        yield LabelRow(name, name, name, (), 1)
    for name in study.plan.inverters:
        volts = study.battery.side.highest_voltage(Terminal(name, "", "positive"))
        markings = tuple(f"input {text}" for text in _at_most(volts))
        yield LabelRow(name, name, name, markings, 1, _known(volts))


def _of_batteries(study: Study) -> Iterator[LabelRow]:
    for bank in study.battery.banks:
        short = study.wiring.network.inside.short_circuit(bank)
        drives = () if short.assumptions else (f"drives {short} into a short",)
        markings = (told_word(bank.battery.chemistry), f"{bank.nominal} nominal", *drives)
        yield LabelRow(bank.name, bank.name, bank.name, markings, 1, (bank.nominal,))


def _of_panels(study: Study) -> Iterator[LabelRow]:
    for name, panel in study.plan.distribution.items():
        volts = study.battery.side.highest_voltage(Terminal(name, "", "positive"))
        feed = (f"feed {panel.rating}",) if panel.rating is not None else ()
        yield LabelRow(name, name, name, (*feed, *_at_most(volts)), 1, _known(volts))
