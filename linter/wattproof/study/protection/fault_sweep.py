"""The fault sweep: a short in every stretch of wire, and what each source drives into it.

For each source one of these must hold: it cannot exceed what the conductor carries (inherently
limited), or a device on the way opens at a rating that protects the conductor. Batteries are
stiff: an open-circuit voltage behind a small resistance. Modules, trackers and other outputs are
limited to their current. Conductors are taken cold and as short as the plan says, which gives the
largest current; it is steady, the rise being left out. Source: IEC 61660-1:1997, sources as an
emf behind a resistance, partial currents that add up.
"""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Conductor, Passage, place_of
from wattproof.kept import kept
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.protection.answers import Allowed, worst_of
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.shorts import largest_of
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, total


@record
class Feed:
    """What one source drives into a short.

    prospective: the current (A) before any device opens; None where nothing says. stiff: True for
    a battery. allowed: what the one judge says of it. to_chassis: the current (A) of the same
    stretch touching the chassis, where the negative is tied to it.
    """

    source: str
    stiff: bool
    prospective: Value | None
    allowed: Allowed
    to_chassis: Value | None = None

    @property
    def sustained(self) -> Value:
        """What lasts (A), no limit where no device is on the way."""
        return self.allowed.lasting

    @property
    def devices(self) -> tuple[Passage, ...]:
        """Those that limit it, the stretch's own first."""
        return self.allowed.devices

    @property
    def verdict(self) -> str:
        """The reason why it is not allowed, else the verdict."""
        return self.allowed.reason or self.allowed.verdict

    @property
    def why(self) -> str:
        """The verdict in words."""
        return self.allowed.why


@record
class Fault:
    """A short, pole to pole, in a stretch of wire, and what feeds it."""

    wire: WireStudy
    part: Conductor
    number: int
    feeds: tuple[Feed, ...]

    @property
    def name(self) -> str:
        """The stretch: the wire's name, with a number where devices divide it."""
        return f"{self.wire.name} part {self.number}" if self.number else self.wire.name

    @property
    def at(self) -> Place:
        """Where the plan names the wire."""
        return place_of(self.part)

    @property
    def prospective(self) -> Value | None:
        """All prospective currents together (A)."""
        known = [f.prospective for f in self.feeds if f.prospective is not None]
        if not known:
            return None
        words = f"prospective current of a short in {self.name}"
        return total(known).named(f"Isc({self.name})", words, "A")


@record
class FaultSweep:
    """Every stretch of every wire, shorted in turn."""

    allowed: tuple[Allowed, ...]
    wires: dict[str, WireStudy]
    network: Network

    @kept
    def faults(self) -> tuple[Fault, ...]:
        """One for each stretch, in the order of the plan's wires."""
        answers: dict[Conductor, list[Allowed]] = {}
        for answer in self.allowed:
            if answer.kind != "return":
                answers.setdefault(answer.part, []).append(answer)
        found: list[Fault] = []
        for wire in self.wires.values():
            parts = [c for c in wire.conductors if c in answers]
            for number, part in enumerate(parts, start=1):
                shown = number if len(parts) > 1 else 0
                found.append(Fault(wire, part, shown, tuple(self._feeds(part, answers[part]))))
        return tuple(found)

    def _feeds(self, part: Conductor, answers: list[Allowed]) -> Iterator[Feed]:
        """What each bank drives, from whichever side is worse, then what all others give."""
        driven, touching = self._driven(part), self._touching(part)
        from_banks = [answer for answer in answers if answer.kind == "bank"]
        for name in dict.fromkeys(name for answer in from_banks for name in answer.sources):
            own = worst_of(answer for answer in from_banks if name in answer.sources)
            assert own is not None
            yield Feed(name, True, driven.get(name), own, touching.get(name))
        for answer in answers:
            if answer.kind != "bank":
                yield Feed(answer.sources[0], False, answer.drives, answer)

    def _driven(self, part: Conductor) -> dict[str, Value]:
        """What each bank drives into a short in a stretch, at its end where that is most (A)."""
        short = self.network.short_along(part)
        return {bank.name: amps for bank, amps in short.banks} if short is not None else {}

    def _touching(self, part: Conductor) -> dict[str, Value]:
        """The same where the positive of a stretch touches the chassis (A)."""
        most = largest_of(self.network.to_chassis(end) for end in (part.start, part.end))
        return {bank.name: amps for bank, amps in most.banks} if most is not None else {}
