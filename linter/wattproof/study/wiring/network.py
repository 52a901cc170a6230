"""Currents of the battery side, lasting and prospective, from one network of both poles."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from wattproof.circuit import Circuit, Conductor, Passage, Terminal
from wattproof.kept import kept
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller
from wattproof.plan.wiring import Bond
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.uncontrolled import RegulatedOn, StraightOn
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import over
from wattproof.study.wiring.brief import Brief
from wattproof.study.wiring.inside import Inside
from wattproof.study.wiring.laid import Laid
from wattproof.study.wiring.lasting import CutOff, Lasting
from wattproof.study.wiring.lengths import lengths_of
from wattproof.study.wiring.ports import Flow, Port, ports_of
from wattproof.study.wiring.shorts import Short, Shorts
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value


class Network:
    """What conductors and devices outside arrays carry, each question answered once.

    Of all that is part of an array every answer is None, or empty.
    """

    def __init__(
        self,
        circuit: Circuit,
        battery_side: BatterySide,
        wires: dict[str, WireStudy],
        arrays: Iterable[ArrayStudy],
        past: Iterable[StraightOn | RegulatedOn],
    ) -> None:
        """Take the wires with or without their currents: only their resistances are read.

        past: strings that no controller stands before.
        """
        self.circuit = circuit
        self.battery_side = battery_side
        self.wires = wires
        self.arrays = tuple(arrays)
        self.past = tuple(past)
        self.inside = Inside(battery_side.assume)
        self.inside_at_most = Inside(battery_side.assume, doubting=True)

    def lasting(self, part: Conductor | Passage) -> Value | None:
        """The largest lasting current (A) over all that can run at once; None where it has none."""
        return self._lasting.current(part)

    def through_bond(self, bond: Bond) -> Value | None:
        """The same of a bond that alone brings a current back; None where it brings none."""
        return self._lasting.through_bond(bond)

    def consumed_through(self, bond: Bond) -> Value | None:
        """What of that consumers draw, vehicle chargers left out; None for nothing."""
        return self._lasting.consumed_through(bond)

    def brief(self, part: Conductor | Passage | Bond) -> Brief | None:
        """What of it lasts, where the rest runs for minutes; None where nothing does."""
        return self._lasting.brief(part)

    def in_full(self, part: Conductor | Passage | Bond) -> Value | None:
        """The same where larger wires leave each source all its current (A)."""
        return _through(part, self._unbounded)

    def after_minutes(self, part: Conductor | Passage | Bond) -> Value | None:
        """The same once what alternators charge is no longer empty (A)."""
        return _through(part, self._settling)

    def lasting_of(self, part: Conductor | Passage, kind: Flow, *, along: str = "") -> Value | None:
        """The same of one kind (A): what sources charge with, or what consumers draw.

        along: only the way in which the current of that component passes, where it does.
        """
        return self._lasting.current(part, kind, along=along)

    def rated(self, part: Conductor | Passage) -> Value | None:
        """The same with controllers at their rating (A); None where their arrays can give that."""
        if not self.under_rating:
            return None
        own, rated = self.lasting(part), self._lasting.current(part, rated=True)
        if rated is None or (own is not None and not over(rated.number, own.number)):
            return None
        return rated

    @kept
    def under_rating(self) -> tuple[Port, ...]:
        """Controllers whose arrays cannot give what they are rated for."""
        return tuple(port for port in self.ports if port.rated is not port.current)

    def rated_through(self, parts: Iterable[Conductor | Passage]) -> tuple[Port, ...]:
        """Those of them whose output passes any of some parts."""
        parts = [part for part in parts if part in self.circuit.battery_side]
        return tuple(
            port
            for port in self.under_rating
            if any(self._lasting.driven_by(part, port.name) for part in parts)
        )

    def share_of(self, part: Conductor | Passage, at: Terminal) -> Value | None:
        """What share of a current taken out at a terminal, and put back at its other pole, passes.

        Whichever way. None where nothing does.
        """
        return self._lasting.share_of(part, at)

    def when_cut_off(self, part: Conductor | Passage, *, fused: bool = False) -> tuple[CutOff, ...]:
        """What it carries with each of several banks cut off, where that is more than `lasting`.

        A source that is cut off leaves nothing that carries more. fused: with a fuse at each bank.
        """
        return self._lasting.when_cut_off(part, fused=fused)

    def output(self, source: Controller | Charger) -> Value:
        """The most that a source gives (A): its output, or less where its array is small."""
        given = (p.current for p in self.ports if p.component is source and p.kind == "charge")
        return next(given, self.battery_side.output(source))

    def shares(self, banks: Sequence[BankStudy], port: Port) -> list[Value] | None:
        """The share of each bank in what a port gives or draws; None where they have none."""
        return self._lasting.shares(banks, port)

    def let_into(self, bank: BankStudy, source: Named) -> Value | None:
        """The most that the wires let into a bank and its packs from an alternator (A).

        None where they leave it all its current.
        """
        given = (p for p in self.ports if p.component is source and p.kind == "charge")
        found = [self._lasting.let_into(bank, port) for port in given]
        return next((amps for amps in found if amps is not None), None)

    def held_back(self, source: Named) -> bool:
        """True where the wires leave a source less than its current, full banks or none."""
        given = (p for p in self.ports if p.component is source and p.kind == "charge")
        return any(self._lasting.held_back(port) for port in given)

    def short_at(self, terminal: Terminal) -> Short | None:
        """A short across both poles at a terminal; None where no bank reaches both."""
        return self._shorts.at(terminal)

    def short_along(self, part: Conductor) -> Short | None:
        """The larger of the shorts at the two ends of a stretch; None where no bank reaches it."""
        return self._shorts.along(part)

    def through(self, device: Passage) -> Short | None:
        """What a device may have to break: the larger of what comes from its two sides.

        The short is just beyond it; `banks` are those that feed it through the device.
        """
        return self._hardest_shorts.through(device)

    def through_from(self, device: Passage, *, start: bool) -> Short | None:
        """The same from one side: into a short just beyond its end, or its start."""
        return self._shorts.through_from(device, start=start)

    def to_chassis(self, terminal: Terminal) -> Short | None:
        """The positive there touching the chassis; None where no bank is tied to it."""
        return self._shorts.to_chassis(terminal)

    def resistance(self, banks: Sequence[BankStudy], terminal: Terminal) -> Value | None:
        """Resistance (Ω) from a terminal through some banks and back, cold; None without a way."""
        return self._shorts.resistance(list(banks), terminal)

    @kept
    def ports(self) -> tuple[Port, ...]:
        """Where current enters and leaves the battery side."""
        return self._lasting.ports

    def drawn(self, component: Named, port: str) -> Value | None:
        """Current (A) that a consumer draws from a low bank; None for what draws nothing.

        What draws a power draws more the less voltage is left at its terminals.
        """
        at = Terminal(str(component.name), port, "positive")
        return self._drawn.get(at) or self.battery_side.drawn(component, port)

    def exchanged(self, component: Named, port: str) -> Value | None:
        """What a source gives or a consumer draws at a port (A); None for what does neither."""
        return self.battery_side.exchanged(component, port, self.drawn(component, port))

    @kept
    def _drawn(self) -> dict[Terminal, Value]:
        return {port.plus: port.current for port in self.ports if port.at_power is not None}

    @kept
    def lengths(self) -> dict[Conductor, float]:
        """The length of every conductor (m): those of a wire add up to its own."""
        return lengths_of(self.circuit)

    @kept
    def _lasting(self) -> Lasting:
        return Lasting(self._laid)

    @kept
    def _unbounded(self) -> Lasting:
        return Lasting(self._laid.with_large_wires())

    @kept
    def _settling(self) -> Lasting:
        return Lasting(self._laid.after_minutes())

    @kept
    def _laid(self) -> Laid:
        drawn = ports_of(self.circuit, self.battery_side, self.arrays, self.past)
        return Laid(self.circuit, self.battery_side, self.wires, self.lengths, drawn, self.inside)

    @kept
    def _shorts(self) -> Shorts:
        return Shorts(self.circuit, self.battery_side, self.wires, self.lengths, self.inside)

    @kept
    def _hardest_shorts(self) -> Shorts:
        """The same where no label is believed that tells less than any battery gives."""
        if not any(part.short_is_odd for b in self.battery_side.banks.values() for part in b.parts):
            return self._shorts
        inside = self.inside_at_most
        return Shorts(self.circuit, self.battery_side, self.wires, self.lengths, inside)


def _through(part: Conductor | Passage | Bond, currents: Lasting) -> Value | None:
    return currents.through_bond(part) if isinstance(part, Bond) else currents.current(part)
