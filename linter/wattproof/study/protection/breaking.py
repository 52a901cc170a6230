"""What a fuse or breaker can break: printed, by its style at its voltage, or as of its size."""

from __future__ import annotations

from wattproof.codes import style
from wattproof.plan.devices import Breaker, Device, Fuse, Way
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.devices import NO_INTERRUPT_RATING, NO_STYLE
from wattproof.working import Supposed, Value, declared


def breaking_capacity(device: Device | Way, nominal: Value, assume: Assumer) -> Value:
    """The largest fault current (A) that a device opens, on banks of a nominal voltage (V)."""
    name = str(device.name)
    written = getattr(device, "interrupt", None)
    if written is not None:
        return declared(written, f"Ibreak({name})", f"interrupt rating of {name}")
    named = getattr(device, "style", None)
    made = style(named) if named is not None else None
    usual = made.interrupt_at(nominal.number) if made is not None else None
    if made is None or usual is None:
        return assume.value(NO_STYLE, name, device.at, kind=_by_size(device))
    return assume.value(NO_INTERRUPT_RATING, name, device.at, number=usual.value, kind=made.title)


def is_breaker(device: Device | Way) -> bool:
    """True for a breaker, and for a way of a panel that has one."""
    if isinstance(device, Way):
        return device.style is not None and style(device.style).kind == "breaker"
    return isinstance(device, Breaker)


def _by_size(device: Device | Way) -> str:
    """Which row of the table by size is meant; the middle one where its rating is not told."""
    if isinstance(device, Way):
        return "panel way"
    if not isinstance(device, Fuse):
        return "breaker"
    if isinstance(device.rating, Supposed):
        return "fuse to 100 A"
    amps = device.rating.value
    return "fuse to 40 A" if amps <= 40.0 else "fuse to 100 A" if amps <= 100.0 else "larger fuse"
