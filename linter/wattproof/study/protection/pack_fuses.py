"""The fuses that each pack of a bank in short form has of its own."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Terminal
from wattproof.codes.styles import DeviceStyle, style
from wattproof.plan.devices import Breaker, Fuse
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import exceeds
from wattproof.study.protection.breaking import breaking_capacity
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.device_voltages import of_bank, rated_voltage
from wattproof.study.wiring.inside import Inside
from wattproof.working import Value, declared


@record
class PackFuse:
    """A bank and the fuse of each of its packs.

    rating: of one (A). together: what all let through for long (A). driven: what the other packs
    drive into one that shorts inside (A). breaks: what one can break at the bank's voltage (A).
    share: what one pack drives into a short behind all (A). distance: wire between each post and
    its fuse (m); None where that is not told. volts: rated DC voltage (V); None for a style that is
    made for alternating current and not marked. reaches: the highest voltage of the bank (V).
    """

    bank: BankStudy
    device: Fuse | Breaker
    rating: Value
    together: Value
    driven: Value
    breaks: Value
    share: Value
    distance: Value | None
    volts: Value | None
    reaches: Value

    @property
    def only_for_ac(self) -> bool:
        """True where it is marked for alternating current only."""
        return self.device.dc is False

    @property
    def made_for_ac(self) -> str:
        """Its style, where that is made for alternating current and no mark says otherwise."""
        kind = self.style
        return kind.title if kind is not None and not kind.dc_by_make and not self.device.dc else ""

    @property
    def too_low(self) -> Value | None:
        """Its rated voltage (V), where that is under what the bank is charged to."""
        volts = self.volts
        return volts if volts is not None and exceeds(self.reaches, volts) else None

    @property
    def largest(self) -> Value | None:
        """The largest of its style (A), where it is told larger than that."""
        kind = self.style
        if kind is None or kind.largest is None:
            return None
        most = from_table(kind.largest, "Inlargest")
        return most if exceeds(self.rating, most) else None

    @property
    def polarised(self) -> bool:
        """True for a breaker that works in one direction only."""
        return bool(getattr(self.device, "polarised", False))

    @property
    def style(self) -> DeviceStyle | None:
        """Its style, where declared."""
        return style(str(self.device.style)) if self.device.style is not None else None


def pack_fuses(
    plan: Plan, side: BatterySide, inside: Inside, assume: Assumer
) -> Iterator[PackFuse]:
    """Every bank that tells the fuse of its packs."""
    guards: dict[str, Fuse | Breaker] = {**plan.fuses, **plan.breakers}
    for bank in side.banks.values():
        own, layout = bank.battery.each_pack, bank.battery.arrangement
        if own is None or own.fuse is None or layout is None or layout.place is None:
            continue
        device = guards[own.fuse]
        rating = declared(device.rating, f"In({device.name})", f"rating of {device.name}")
        count = bank.count("parallel")
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
        made = style(str(device.style)) if device.style is not None else None
        volts = rated_voltage(device, device, made, of_bank(bank.nominal), assume)
        reaches = side.highest_voltage(Terminal(bank.name, "", "positive"))
        yield PackFuse(
            bank,
            device,
            rating,
            together,
            driven,
            breaks,
            share,
            distance,
            volts,
            reaches if reaches is not None else bank.charge_voltage_limit,
        )
