"""Which device protects what, and what it has to break."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.circuit import Circuit, Conductor, Passage, Terminal, is_overcurrent
from wattproof.codes import Bodies
from wattproof.kept import kept
from wattproof.study.array import ArraySection
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery import BatterySection
from wattproof.study.limits import is_told, over
from wattproof.study.protection.allowed import Judge
from wattproof.study.protection.answers import Allowed
from wattproof.study.protection.fault_sweep import FaultSweep
from wattproof.study.protection.guards import Exit, Guard, exits, guards, link_guards
from wattproof.study.protection.held import Held, held
from wattproof.study.protection.interrupts import Duties, Duty
from wattproof.study.protection.outlets import outlets
from wattproof.study.protection.pack_fuses import PackFuse, pack_fuses
from wattproof.study.protection.panels import PanelStudy, UnratedPanel, panels, unrated
from wattproof.study.protection.ways import Ways
from wattproof.study.site import SiteSection
from wattproof.study.wiring import WiringSection
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, largest

_LAID: Final = ("place", "run", "depth", "bundled", "enclosed", "parallel", "terminal_temperature")
"""Keys of a wire by which what it may carry follows from its cable."""
_MADE: Final = ("type", "size", "material", "kind", "strands", "insulation_temperature")
"""Keys of a cable by which that follows from its metal."""
OPENS_SOON: Final = 1.6
"""How many times its rating a fuse or breaker opens at within the hour (IEC 60269-1, 60898-1)."""


class ProtectionSection:
    """What stands between sources and conductors."""

    def __init__(
        self,
        circuit: Circuit,
        codes: Bodies,
        assume: Assumer,
        site: SiteSection,
        battery: BatterySection,
        array: ArraySection,
        wiring: WiringSection,
    ) -> None:
        self._circuit = circuit
        self._codes = codes
        self._assume = assume
        self._site = site
        self._battery = battery
        self._array = array
        self._wiring = wiring

    @kept
    def exits(self) -> tuple[Exit, ...]:
        """Every way out of every bank, to its first overcurrent device."""
        return tuple(e for bank in self._battery.banks for e in exits(bank, self._circuit))

    @kept
    def guards(self) -> tuple[Guard, ...]:
        """For every stretch of wire that banks feed, the overcurrent devices in between."""
        return tuple(guards(self._battery.positive_net, self._wiring.wires))

    @kept
    def link_guards(self) -> tuple[Guard, ...]:
        """What limits the current in links between batteries in series."""
        return tuple(link_guards(self._battery.side, self._circuit, self._wiring.wires))

    @kept
    def fault_sweep(self) -> FaultSweep:
        """A short in every stretch of every wire."""
        return FaultSweep(self.allowed, self._wiring.wires, self._wiring.network)

    @kept
    def ways(self) -> Ways:
        """The ways out of banks, each judged."""
        return Ways(
            self.exits,
            self._circuit,
            self._codes.battery,
            self._site.placed,
            self._wiring.wires,
            self.pack_fuses,
        )

    @kept
    def allowed(self) -> tuple[Allowed, ...]:
        """What feeds each stretch of each wire from each side, and whether that is allowed."""
        judge = Judge(
            self._circuit,
            self._codes,
            self._wiring.wires,
            self._wiring.devices,
            self._array.arrays,
            self._battery.side,
            self._wiring.network,
            self.guards,
            self.link_guards,
            self.ways,
            self.duties,
        )
        return tuple(judge.all())

    @kept
    def _allowed_of(self) -> dict[str, list[Allowed]]:
        """The same by the name of the wire."""
        found: dict[str, list[Allowed]] = {}
        for each in self.allowed:
            found.setdefault(each.wire.name, []).append(each)
        return found

    @kept
    def over_both(self) -> dict[str, tuple[Allowed, ...]]:
        """Negatives that the device of their positive is too large for, as for that one itself.

        By the name of the positive, of an alike cable in the same places: one cause.
        """
        own: dict[str, list[Allowed]] = {}
        for answer in self.allowed:
            if answer.kind in ("bank", "output", "siblings") and answer.reason is not None:
                own.setdefault(answer.wire.name, []).append(answer)
        found: dict[str, dict[str, Allowed]] = {}
        for back in self.allowed:
            if back.kind != "return" or back.reason != "too large" or back.brings is None:
                continue
            there = own.get(back.brings.name, [])
            if there and all(_of_one_cause(answer, back) for answer in there):
                found.setdefault(back.brings.name, {}).setdefault(back.wire.name, back)
        return {name: tuple(each.values()) for name, each in found.items()}

    def is_cleared(self, wire: WireStudy) -> bool:
        """True where devices in its way open before what lasts in a wire is too much for it.

        One stretch is enough: what flows in a wire flows in all of it.
        """
        answers: dict[Conductor, list[Allowed]] = {}
        for answer in self.allowed:
            if answer.kind == "bank" and answer.wire.name == wire.name:
                answers.setdefault(answer.part, []).append(answer)
        return any(all(each.opens for each in own) for own in answers.values())

    def opens_first(self, wire: WireStudy) -> bool:
        """True where a device that protects a wire opens before its lasting current flows for long.

        One that sits in it or at its end, wherever that is; else one before it, from whichever bank
        it is fed. What the device lets flow for good, the wire has to carry with all that is asked
        of it. One of which nobody told the rating may be larger than the wire bears.
        """
        if wire.current is None:
            return False
        rated = [device_rating(device) for device in self._in_line(wire)]
        ratings = [each for each in rated if is_told(each)]
        if any(
            wire.is_protected_by(rating)
            and (_holds(wire, rating, wire.current) or _opens_soon(rating, wire.current))
            for rating in ratings
        ):
            return True
        own = self._allowed_of.get(wire.name, [])
        # A negative alone: the fuses in the positives of what it returns.
        fed = [a for a in own if a.kind == "bank"]
        returned = [a for a in own if a.kind == "return"] if not fed else []
        if returned and self._is_charged_bare(wire):
            return False
        return bool(fed or returned) and all(
            each.verdict == "cleared"
            and is_told(each.in_all[1])
            and _holds(wire, each.in_all[1], wire.current)
            for each in (*fed, *returned)
        )

    def returns_less(self, wire: WireStudy, current: Value) -> bool:
        """True for a negative alone in which the fuses of its positives hold a current (A) down.

        wire: in the size of the plan or another, which has to carry what they let through.
        """
        own = self._allowed_of.get(wire.name, [])
        if not own or any(a.kind != "return" for a in own) or self._is_charged_bare(wire):
            return False
        most = largest([a.in_all[1] for a in own])
        held = _holds(wire, most, current) or _opens_soon(most, current)
        return is_told(most) and wire.is_protected_by(most) and held

    def _is_charged_bare(self, wire: WireStudy) -> bool:
        """True where what sources give is too much for a negative, and comes back past all fuses.

        What a source gives to a bank that it reaches without a device, and that has no other way
        back to it, passes no fuse of the banks.
        """
        network, own = self._wiring.network, set(wire.conductors)
        given = (network.lasting_of(part, "charge") for part in wire.conductors)
        if not any(amps is not None and wire.fails(amps) for amps in given):
            return False
        for port in network.ports:
            if port.kind != "charge" or port.minus is None:
                continue
            bare = self._circuit.walk(port.plus, passes=lambda part: not is_overcurrent(part))
            for name in self._circuit.plan.batteries:
                post = Terminal(name, "", "negative")
                back = self._circuit.walk(post, passes=lambda part: part not in own)
                if Terminal(name, "", "positive") in bare and port.minus not in back:
                    return True
        return False

    def _in_line(self, wire: WireStudy) -> Iterator[Passage]:
        """Overcurrent devices in a wire, and those at its ends that all of its current passes."""
        for part in wire.conductors:
            for end in (part.start, part.end):
                at_it = self._circuit.around[end]
                if len(at_it) == len({part, *at_it}) == 2:
                    yield from (e for e in at_it if isinstance(e, Passage) and is_overcurrent(e))

    def limits(self, device: DeviceStudy) -> bool:
        """True where fuses let no more through a switch for long than it is rated for."""
        return self._stands("switch", device.name)

    def guards_plug(self, wire: WireStudy) -> bool:
        """True where fuses let no more through the plug in a wire for long than it is rated for."""
        return self._stands("plug", wire.name)

    def _stands(self, what: str, name: str) -> bool:
        found = [held for held in self.held if held.what == what and held.name == name]
        return bool(found) and all(held.reason is None for held in found)

    @kept
    def duties(self) -> tuple[Duty, ...]:
        """What each overcurrent device of the battery side may have to break, and can."""
        code = self._codes.battery
        network, packs = self._wiring.network, self.pack_fuses
        return Duties(self._wiring.devices, network, self._assume, code, packs).all()

    @kept
    def pack_fuses(self) -> tuple[PackFuse, ...]:
        """Banks in short form that tell the fuse of each of their packs."""
        inside = self._wiring.network.inside_at_most
        return tuple(pack_fuses(self._circuit.plan, self._battery.side, inside, self._assume))

    @kept
    def held(self) -> tuple[Held, ...]:
        """Switches, relays, plugs, bars and panels, and what the fuse before them lets through."""
        net = self._battery.positive_net
        fed = outlets(self._battery.side)
        return tuple(held(self._circuit, net, self._wiring.wires, self.allowed, fed))

    @kept
    def panels(self) -> tuple[PanelStudy, ...]:
        """Every panel of known rating."""
        return tuple(panels(self.held, self._wiring.devices, self.guards))

    @kept
    def unrated_panels(self) -> tuple[UnratedPanel, ...]:
        """Every panel that tells no rating, with what its ways draw."""
        return tuple(unrated(self._circuit.plan, self._wiring.devices))


def _of_one_cause(answer: Allowed, back: Allowed) -> bool:
    """True where the same device is too large for a positive, and alike for its negative."""
    if answer.reason != "too large" or answer.kind == "output" or answer.way is not None:
        return False
    ways = [[*_made(wire), *_laid(wire)] for wire in (answer.wire, back.wire)]
    devices = [[device.name for device in each.devices] for each in (answer, back)]
    return ways[0] == ways[1] and devices[0] == devices[1]


def _made(wire: WireStudy) -> list[object]:
    """What the cable of a wire is, whether in a sheet of its own or not."""
    told = (getattr(wire.sheet, key) for key in _MADE)
    return [getattr(each, "value", each) for each in told]


def _laid(wire: WireStudy) -> list[object]:
    """How a wire lies, as its plan has it."""
    told = (getattr(wire.wire, key) for key in _LAID)
    return [getattr(each, "value", each) for each in told]


def _holds(wire: WireStudy, most: Value, current: Value) -> bool:
    """True where less than a current is the most that lasts in a wire (A), which it may carry."""
    return most.number < current.number and not wire.fails(most)


def _opens_soon(rating: Value, current: Value) -> bool:
    """True where a device opens within the hour at what a wire would carry, so that it never does.

    No allowance for what lasts is asked for then.
    """
    return over(current.number, OPENS_SOON * rating.number)
