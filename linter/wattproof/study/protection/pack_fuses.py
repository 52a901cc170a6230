"""The fuses that each pack of a bank in short form has of its own."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.codes import style
from wattproof.plan.devices import Breaker, Fuse
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.study.battery.side import BankStudy
from wattproof.study.wiring.inside import Inside
from wattproof.working import Value, counted, declared, tabled


@record
class PackFuse:
    """A bank and the fuse of each of its packs.

    rating: of one (A). together: what all let through for long (A). driven: what the other packs
    drive into one that shorts inside (A). breaks: what one can break at the bank's voltage (A);
    None where neither label nor style says.
    """

    bank: BankStudy
    device: Fuse | Breaker
    rating: Value
    together: Value
    driven: Value
    breaks: Value | None


def pack_fuses(plan: Plan, banks: tuple[BankStudy, ...], inside: Inside) -> Iterator[PackFuse]:
    """Every bank that tells the fuse of its packs."""
    guards: dict[str, Fuse | Breaker] = {**plan.fuses, **plan.breakers}
    for bank in banks:
        own, layout = bank.battery.each_pack, bank.battery.arrangement
        if own is None or own.fuse is None or layout is None or layout.place is None:
            continue
        device = guards[own.fuse]
        rating = declared(device.rating, f"In({device.name})", f"rating of {device.name}")
        count = counted(bank.in_parallel, layout.text, layout.place, "n", "packs in parallel")
        together = (count * rating).named(
            f"In({bank.name})", f"ratings of the fuses of the packs of {bank.name}, together", "A"
        )
        whole = inside.short_circuit(bank)
        driven = (whole * (count - 1.0) / count).named(
            f"Ifault({bank.name})", "what the other packs drive into one that shorts inside", "A"
        )
        yield PackFuse(bank, device, rating, together, driven, _breaks(device, bank))


def _breaks(device: Fuse | Breaker, bank: BankStudy) -> Value | None:
    if device.interrupt is not None:
        words = f"interrupt rating of {device.name}"
        return declared(device.interrupt, f"Icu({device.name})", words)
    made = style(device.style) if device.style is not None else None
    usual = made.interrupt_at(bank.nominal.number) if made is not None else None
    if usual is None:
        return None
    return tabled(usual.value, "A", f"Icu({device.name})", usual.what, usual.cited)
