"""What each overcurrent device of the battery side may have to break, and what it can.

The short is just beyond the device, on the side where more current passes through it to get there.
A battery's own management does not count: its switch is no device for breaking a short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field, replace

from wattproof.circuit import Part, Passage, Terminal, is_overcurrent
from wattproof.circuit.walk import Walk
from wattproof.codes import BodyOfRules, TableValue
from wattproof.kept import KeptEach
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.assumptions import Assumer
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds
from wattproof.study.protection.breaking import breaking_capacity, is_breaker
from wattproof.study.protection.pack_fuses import PackFuse
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.shorts import Short
from wattproof.working import Value


@record
class Duty:
    """A device, what it may have to break, and what it can.

    prospective: through it in a short beside it (A). interrupt: what it can break (A).
    nominal: of the banks (V). before: for each bank, the devices on the way to it.
    branch: what the body of rules asks of it behind a main device (A); None where it is no breaker,
    or the body has no table for what feeds it. backed_by: the devices before it that can break
    what it cannot. banks: their names, in the order of `before`.
    """

    device: DeviceStudy
    prospective: Value
    interrupt: Value
    nominal: Value
    before: tuple[tuple[Passage, ...], ...]
    branch: TableValue | None = None
    backed_by: tuple[str, ...] = field(default=())
    banks: tuple[str, ...] = field(default=())

    @property
    def subject(self) -> Named | DeviceStudy:
        """The panel of a panel way, else the device."""
        return self.device.panel if self.device.panel is not None else self.device

    @property
    def name(self) -> str:
        """The device's name."""
        return self.device.name

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.device.at

    @property
    def placed(self) -> bool:
        """True where the plan says how far from the end of its wire it sits; else as near."""
        inline = [p.inline for p in self.device.passages if p.inline is not None]
        return all(i.distance is not None for i in inline)

    @property
    def too_low(self) -> bool:
        """True where it cannot break what it may have to.

        A branch breaker behind a main device that can need not, where it meets the body's table.
        """
        branch = self.branch if self.backed_by else None
        if branch is not None and self.interrupt >= branch.value:
            return False
        return exceeds(self.prospective, self.interrupt)


class Duties:
    """Every device that battery current can blow."""

    def __init__(
        self,
        devices: dict[str, DeviceStudy],
        network: Network,
        assume: Assumer,
        codes: BodyOfRules,
        pack_fuses: tuple[PackFuse, ...] = (),
    ) -> None:
        self.devices = devices
        self.codes = codes
        self.network = network
        self.circuit = network.circuit
        self.assume = assume
        self.pack_fuses = {str(fuses.bank.name): fuses for fuses in pack_fuses}
        self._passed: KeptEach[Terminal, Walk[Terminal, Part]] = KeptEach()

    def all(self) -> tuple[Duty, ...]:
        """One for each device, in the order of the plan, with the devices that back it."""
        found = {id(d.device.device): d for d in self._duties()}
        return tuple(self._backed(duty, found) for duty in found.values())

    def _duties(self) -> Iterator[Duty]:
        for device in self.devices.values():
            if device.side != "battery" or not device.is_overcurrent:
                continue
            found = [duty for p in device.passages for duty in self._of(device, p)]
            if found:
                yield max(found, key=lambda duty: duty.prospective.number)

    def _of(self, device: DeviceStudy, passage: Passage) -> Iterator[Duty]:
        """What one pole of it may have to break."""
        short = self.network.through(passage)
        if short is not None:
            banks = [bank for bank, _ in short.banks]
            nominal = max((b.nominal for b in banks), key=lambda v: v.number)
            before = tuple(self._on_the_way(b, short.at, device) for b in banks)
            interrupt = breaking_capacity(device.device, nominal, self.assume)
            prospective = self._named(device, short)
            branch = self._branch(device, banks, nominal)
            names = tuple(str(bank.name) for bank in banks)
            yield Duty(device, prospective, interrupt, nominal, before, branch, banks=names)

    def _branch(
        self, device: DeviceStudy, banks: list[BankStudy], nominal: Value
    ) -> TableValue | None:
        """What the body asks of a branch breaker on lead batteries (A)."""
        if not is_breaker(device.device) or not all(bank.is_lead for bank in banks):
            return None
        amps = sum(self.network.inside_at_most.short_circuit(bank).number for bank in banks)
        return self.codes.branch_breaker(amps, nominal.number)

    def _named(self, device: DeviceStudy, short: Short) -> Value:
        words = f"prospective current through {device.name}"
        return short.current.named(f"Ik({device.name})", words, "A")

    def _on_the_way(
        self, bank: BankStudy, terminal: Terminal, device: DeviceStudy
    ) -> tuple[Passage, ...]:
        """Overcurrent devices between a bank and a terminal, nearest the bank first."""
        post = bank.parts[0 if terminal.pole == "positive" else -1].name
        start = Terminal(post, "", terminal.pole)
        passed = self._passed.of(start, lambda: self.circuit.walk(start)).passed(terminal)
        return tuple(p for p in passed if is_overcurrent(p) and p.device is not device.device)

    def _backed(self, duty: Duty, found: dict[int, Duty]) -> Duty:
        """The same with the devices nearer to each bank that can break what it cannot.

        The fuse of each pack of a bank breaks the share of its own pack.
        """
        names: list[str] = []
        for bank, way in zip(duty.banks, duty.before, strict=True):
            able = [p.name for p in way if _able(found.get(id(p.device)))]
            fuses = self.pack_fuses.get(bank)
            if fuses is not None and not exceeds(fuses.share, fuses.breaks):
                able = [str(fuses.device.name), *able]
            if not able:
                return duty
            names.append(able[-1])
        backed = tuple(dict.fromkeys(names))
        return replace(duty, backed_by=backed)


def _able(duty: Duty | None) -> bool:
    return duty is not None and not duty.too_low
