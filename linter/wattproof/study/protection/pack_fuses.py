"""The fuses that each pack of a bank in short form has of its own."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.plan.devices import Breaker, Fuse
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.battery.bank import BankStudy
from wattproof.study.protection.breaking import breaking_capacity
from wattproof.study.wiring.inside import Inside
from wattproof.working import Value, counted, declared


@record
class PackFuse:
    """A bank and the fuse of each of its packs.

    rating: of one (A). together: what all let through for long (A). driven: what the other packs
    drive into one that shorts inside (A). breaks: what one can break at the bank's voltage (A).
    share: what one pack drives into a short behind all (A). distance: wire between each post and
    its fuse (m); None where that is not told.
    """

    bank: BankStudy
    device: Fuse | Breaker
    rating: Value
    together: Value
    driven: Value
    breaks: Value
    share: Value
    distance: Value | None


def pack_fuses(
    plan: Plan, banks: tuple[BankStudy, ...], inside: Inside, assume: Assumer
) -> Iterator[PackFuse]:
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
        breaks = breaking_capacity(device, bank.nominal, assume)
        share = (whole / count).named(
            f"Ipack({bank.name})", f"what one pack of {bank.name} drives into a short", "A"
        )
        words = f"wire between a post and its fuse in {bank.name}"
        far = own.distance
        distance = declared(far, f"d({device.name})", words) if far is not None else None
        yield PackFuse(bank, device, rating, together, driven, breaks, share, distance)
