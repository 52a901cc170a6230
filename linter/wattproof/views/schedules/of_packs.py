"""The fuse that each pack of a bank has: a row among the devices, and a label on each."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.circuit import Terminal
from wattproof.quantities import Quantity
from wattproof.study.protection.pack_fuses import PackFuse
from wattproof.views.schedules.devices import DeviceRow
from wattproof.views.schedules.labels import LabelRow
from wattproof.working import Value, declared

if TYPE_CHECKING:
    from wattproof.study import Study


def pack_fuse_rows(study: Study) -> Iterator[DeviceRow]:
    """One row for each such fuse, however many packs have it."""
    for each in study.protection.pack_fuses:
        device, bank = each.device, each.bank
        name = str(device.name)
        own = bank.battery.each_pack
        distance = own.distance if own is not None else None
        words = f"distance of {name} from the post of each pack"
        yield DeviceRow(
            name,
            "fuse" if device.name in study.plan.fuses else "breaker",
            str(device.style) if device.style is not None else None,
            True,
            False,
            each.rating,
            _printed(device.voltage, f"Un({name})", f"rated voltage of {name}"),
            study.battery.side.highest_voltage(_post(bank.name)),
            device.dc,
            _printed(device.interrupt, f"Ibreak({name})", f"interrupt rating of {name}"),
            each.driven,
            1,
            None,
            False,
            (bank.name,),
            ("positive",),
            _printed(distance, f"d({name})", words),
            bank.name if distance is not None else None,
            None,
            (bank.name,),
            (),
            _share(each, study),
        )


def pack_fuse_labels(study: Study) -> Iterator[LabelRow]:
    """A label for each of them."""
    for each in study.protection.pack_fuses:
        name = str(each.device.name)
        volts = study.battery.side.highest_voltage(_post(each.bank.name))
        style = each.device.style or "style not stated,"
        known = (volts,) if volts is not None else ()
        most = tuple(f"max {math.ceil(v.number - 1e-9)} V DC" for v in known)
        markings = (f"replace only by {style} {each.rating}", *most)
        yield LabelRow(name, f"{name} of each pack", name, markings, each.bank.in_parallel, known)


def _post(bank: str) -> Terminal:
    return Terminal(bank, "", "positive")


def _share(each: PackFuse, study: Study) -> Value | None:
    """What each of them carries for long where all packs share alike (A)."""
    drawn = next((g.current for g in study.wiring.drawn if each.bank in g.banks), None)
    if drawn is None:
        return None
    words = f"share of each pack of {each.bank.name}"
    return (drawn / each.bank.count("parallel")).named(f"I({each.device.name})", words, "A")


def _printed(written: Quantity | None, symbol: str, words: str) -> Value | None:
    return declared(written, symbol, words) if written is not None else None
