"""What each overcurrent device of the battery side may have to break, and what it can.

The short is just beyond the device, on the side where more current passes through it to get there.
A battery's own management does not count: its switch is no device for breaking a short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field

from wattproof.circuit import Passage, Terminal, is_overcurrent
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.devices import NO_INTERRUPT_RATING
from wattproof.study.battery.side import BankStudy
from wattproof.study.limits import exceeds
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.shorts import Short
from wattproof.working import Value, declared

AT_BEST = 0.4
"""Share of an assumed short-circuit current that a kind battery still drives."""
RATING_AT_BEST = 2.0
"""How many times a style's usual interrupt rating a good maker's may be."""


@record
class Duty:
    """A device, what it may have to break, and what it can.

    prospective: through it in a short beside it (A). interrupt: what it can break (A), None where
    nothing says. nominal: of the banks (V). before: for each bank, the devices on the way to it.
    """

    device: DeviceStudy
    prospective: Value
    interrupt: Value | None
    nominal: Value
    before: tuple[tuple[Passage, ...], ...]
    backed_by: tuple[str, ...] = field(default=())

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
        """True where it cannot break what it may have to."""
        return self.interrupt is not None and exceeds(self.prospective, self.interrupt)

    @property
    def too_low_at_best(self) -> bool:
        """True even if all that is assumed is as kind as can be."""
        if self.interrupt is None:
            return False
        drives = AT_BEST if self.prospective.assumptions else 1.0
        breaks = RATING_AT_BEST if self.interrupt.assumptions else 1.0
        return exceeds(drives * self.prospective, breaks * self.interrupt.number)


class Duties:
    """Every device that battery current can blow."""

    def __init__(
        self,
        devices: dict[str, DeviceStudy],
        network: Network,
        assume: Assumer,
    ) -> None:
        self.devices = devices
        self.network = network
        self.circuit = network.circuit
        self.assume = assume
        self._passed: dict[str, dict[Terminal, tuple[Passage, ...]]] = {}

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
            interrupt = self._interrupt(device, nominal)
            yield Duty(device, self._named(device, short), interrupt, nominal, before)

    def _named(self, device: DeviceStudy, short: Short) -> Value:
        words = f"prospective current through {device.name}"
        return short.current.named(f"Ik({device.name})", words, "A")

    def _interrupt(self, device: DeviceStudy, nominal: Value) -> Value | None:
        """What it can break (A): printed, or the least of its style at the bank's voltage."""
        written = getattr(device.device, "interrupt", None)
        if written is not None:
            words = f"interrupt rating of {device.name}"
            return declared(written, f"Ibreak({device.name})", words)
        made = device.style
        usual = made.interrupt_at(nominal.number) if made is not None else None
        if made is None or usual is None:
            return None
        return self.assume.value(
            NO_INTERRUPT_RATING, device.name, device.at, number=usual.value, kind=made.title
        )

    def _on_the_way(
        self, bank: BankStudy, terminal: Terminal, device: DeviceStudy
    ) -> tuple[Passage, ...]:
        """Overcurrent devices between a bank and a terminal, nearest the bank first."""
        post = bank.parts[0 if terminal.pole == "positive" else -1].name
        key = f"{post} {terminal.pole}"
        if key not in self._passed:
            self._passed[key] = self._walk(Terminal(post, "", terminal.pole))
        passed = self._passed[key].get(terminal, ())
        return tuple(p for p in passed if p.device is not device.device)

    def _walk(self, start: Terminal) -> dict[Terminal, tuple[Passage, ...]]:
        passed: dict[Terminal, tuple[Passage, ...]] = {start: ()}
        waiting = [start]
        while waiting:
            here = waiting.pop(0)
            for element in self.circuit.around.get(here, ()):
                there = element.end if element.start == here else element.start
                if there in passed:
                    continue
                opens = isinstance(element, Passage) and is_overcurrent(element)
                own = (element,) if opens and isinstance(element, Passage) else ()
                passed[there] = (*passed[here], *own)
                waiting.append(there)
        return passed

    def _backed(self, duty: Duty, found: dict[int, Duty]) -> Duty:
        """The same with the devices nearer to each bank that can break what it cannot."""
        names: list[str] = []
        for way in duty.before:
            able = [p for p in way if _able(found.get(id(p.device)))]
            if not able:
                return duty
            names.append(able[-1].name)
        backed = tuple(dict.fromkeys(names))
        return Duty(
            duty.device, duty.prospective, duty.interrupt, duty.nominal, duty.before, backed
        )


def _able(duty: Duty | None) -> bool:
    return duty is not None and duty.interrupt is not None and not duty.too_low
