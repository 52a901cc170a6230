"""What comes back through negatives: which devices limit it, and whether that is allowed.

All that leaves by the positives of what a negative leads to comes back through it. What divides at
a bar of the other pole counts together, held to what feeds that bar; each way alone counts too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from wattproof.circuit import Circuit, Conductor, Side, Terminal
from wattproof.kept import KeptEach, kept
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Distribution
from wattproof.plan.terminals import COMMON, other_pole
from wattproof.record import record
from wattproof.study.assumptions.ratings import amps_of, device_rating
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.positive_net import Devices, PositiveNet, rating_of, sum_of_ratings
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import exceeds, over
from wattproof.study.protection.answers import WORST_FIRST, Allowed, told_of
from wattproof.study.protection.asked import Asked, own_before
from wattproof.study.protection.guards import ENDS, Guard, gives
from wattproof.study.protection.ways import Ways
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value


@record
class Returns:
    """Judges every stretch of every negative.

    cranked: positives that lead to starters and what belongs to them, and to nothing else.
    """

    circuit: Circuit
    wires: dict[str, WireStudy]
    battery_side: BatterySide
    network: Network
    guards: tuple[Guard, ...]
    ways: Ways
    cranked: frozenset[Terminal]

    def all(self) -> Iterator[Allowed]:
        """Each negative on the way back of what positives bring, whichever banks are beside it."""
        for wire in (each.in_bearable_air for each in self.wires.values()):
            for part in wire.conductors:
                cut = self.circuit.battery_side.get(part)
                is_negative = part.start.pole == part.end.pole == "negative"
                if is_negative and cut is not None and cut.in_ring:
                    answer = self._shared_return(wire, part)
                    yield from [answer] if answer is not None else []
                elif is_negative and cut is not None:
                    sides = (_terminals(cut.before), _terminals(cut.after))
                    answers = [
                        answer
                        for near, far in (sides, sides[::-1])
                        if (answer := self._return(wire, part, near, far)) is not None
                    ]
                    yield from [min(answers, key=_gravest_return)] if answers else []

    def _return(
        self, wire: WireStudy, part: Conductor, near: set[Terminal], far: set[Terminal]
    ) -> Allowed | None:
        """What banks on one side of a negative drive into what is on the other, and back."""
        posts = {n: Terminal(n, "", "negative") for n in self.battery_side.banks}
        banks = [n for n, post in posts.items() if post in near]
        through_body = not banks and far.isdisjoint(posts.values())
        if through_body:
            banks = self._tied_to(near)
        if not banks:
            return None
        net = self._positive_of(tuple(banks))
        fed = {_opposite(end) for end in far} - self.cranked
        found = {plus: limiting for plus in fed if (limiting := net.at.get(plus))}
        taking = {plus for plus in fed & self._consumers if plus in net.at}
        for place in net.dividing_among(taking, self._consumers) if len(taking) > 1 else ():
            if net.at[place] and _opposite(place) not in near:  # else it comes back to that joint
                found.setdefault(place, net.at[place])
        if not found:
            return None
        plus, limiting = max(found.items(), key=lambda each: (sum_of_ratings(each[1]), each[0]))
        brings = self._bringing(plus, wire, limiting)
        if through_body and brings is not None and not over(brings.area_mm2, wire.area_mm2):
            return None  # what brings it is as thin, and judged by itself
        words = f"ratings of the devices that feed what {wire.name} returns, together"
        lasting = rating_of(limiting, words, wire.name)
        end = part.start if part.start in near else part.end
        beyond = [n for n in self.battery_side.banks if Terminal(n, "", "negative") in far]
        answer = self._judged_return(wire, part, banks, end, plus, limiting, lasting, beyond)
        charges = {plus for plus in taking if self._charges(plus)}
        together = (net.together(each) for each in (taking - charges, charges) if each)
        return answer and replace(answer, returned=max(together, key=sum_of_ratings, default=()))

    def _charges(self, plus: Terminal) -> bool:
        """True for what gives current and takes none: it adds nothing to what is drawn."""
        return gives(plus, self.circuit.components.get(plus.component))

    def _tied_to(self, near: set[Terminal]) -> list[str]:
        """Banks whose negative a bond ties to a body that is among some terminals."""
        net, ends = self.circuit.nets.net, self.circuit.ends.bonds
        bodies = {terminal.component for terminal in near} & set(COMMON)
        tied = {net(ends[b.name]) for b in self.circuit.plan.bonds.values() if str(b.to) in bodies}
        return [n for n in self.battery_side.banks if net(Terminal(n, "", "negative")) in tied]

    def _shared_return(self, wire: WireStudy, part: Conductor) -> Allowed | None:
        """What comes back through a negative beside others: of each way, its share by resistance.

        The place behind the devices that let most of it through this one decides.
        """
        banks = tuple(self.battery_side.banks)
        found: list[tuple[float, Value, Terminal, Devices]] = []
        for plus, limiting in self._positive_of(banks).at.items():
            if plus.pole != "positive" or not limiting or plus in self.cranked:
                continue
            share = self.network.share_of(part, plus)
            if share is not None:
                amps = share.number * sum(map(amps_of, limiting))
                found.append((amps, share, plus, limiting))
        if not found:
            return None
        _, share, plus, limiting = max(found, key=lambda each: (each[0], each[2]))
        words = f"ratings of the devices that feed what {wire.name} returns, together"
        rating = rating_of(limiting, words, wire.name)
        words = f"what {wire.name} returns of {rating}, by its share"
        lasting = (share * rating).named(f"Iback({wire.name})", words, "A")
        return self._judged_return(wire, part, list(banks), part.start, plus, limiting, lasting)

    def _judged_return(
        self,
        wire: WireStudy,
        part: Conductor,
        banks: list[str],
        end: Terminal,
        plus: Terminal,
        limiting: Devices,
        lasting: Value,
        beyond: Sequence[str] = (),
    ) -> Allowed | None:
        """Whether a negative stands what can come back through it for long (A).

        beyond: banks on its other side.
        """
        inside = [d for end in (part.start, part.end) for d in own_before(part, end, self.circuit)]
        own = min(inside, key=amps_of, default=None)
        if own is not None and amps_of(own) < lasting.number:
            limiting, lasting = (own,), device_rating(own)
        own_positive = self._ratings.get(wire.name, [])
        if own_positive and min(own_positive) >= lasting.number:
            return None  # its own positive is as thin and carries as much
        brings = self._bringing(plus, wire, limiting)
        may = wire.carrying
        most = may.device_limit if isinstance(may, Carrying) else None
        asked = Asked(part, wire, "return", tuple(banks), end, lasting, most, None, None, brings)
        if most is None:
            return asked.answer("not known", None, limiting, str(may))
        as_thick = brings is not None and not over(brings.area_mm2, wire.area_mm2)
        if self._unfused(banks) or (as_thick and self._unfused(beyond)):
            why = "nothing limits what comes back as long as a battery fuse is missing"
            return asked.answer("not known", None, (), why)
        if exceeds(lasting, most):
            why = f"{told_of(limiting, 'lets')} {lasting} last, and at most {most} protects it"
            return asked.answer("not allowed", "too large", limiting, why)
        why = f"{told_of(limiting, 'opens')}; {lasting} protects up to {most}"
        return asked.answer("cleared", None, limiting, why)

    @kept
    def _ratings(self) -> dict[str, list[float]]:
        """What can flow for long in each stretch (A), by its wire."""
        found: dict[str, list[float]] = {}
        for guard in self.guards:
            found.setdefault(guard.wire.name, []).append(guard.rating.number)
        return found

    def _unfused(self, banks: Sequence[str]) -> bool:
        """True where one of some banks lacks its fuse."""
        return any(way.reason is not None and way.exit.bank.name in banks for way in self.ways.all)

    def _bringing(self, plus: Terminal, wire: WireStudy, limiting: Devices) -> WireStudy | None:
        """The wire that brings a positive what a negative takes back.

        Of several that with a device which limits it.
        """
        around = self.circuit.around.get(plus, ())
        names = [e.name for e in around if isinstance(e, Conductor) and e.name != wire.name]
        held = {str(device.wire.name) for device in limiting if device.wire is not None}
        return self.wires[min(names, key=lambda name: name not in held)] if names else None

    def _positive_of(self, banks: tuple[str, ...]) -> PositiveNet:
        """What some banks drive current into, those above them in series too."""

        def net() -> PositiveNet:
            tops = dict.fromkeys(self._top_of(self.battery_side.banks[name]) for name in banks)
            return PositiveNet(tops, self.circuit)

        return self._positives.of(banks, net)

    @kept
    def _positives(self) -> KeptEach[tuple[str, ...], PositiveNet]:
        return KeptEach()

    @kept
    def _consumers(self) -> frozenset[Terminal]:
        """Positives of all that takes current and gives it back, batteries among them."""
        components, around = self.circuit.components, self.circuit.around
        return frozenset(
            terminal
            for terminal in around
            if terminal.pole == "positive"
            and _opposite(terminal) in around
            and isinstance(components.get(terminal.component), (*ENDS, Distribution, Converter))
        )

    def _top_of(self, bank: BankStudy) -> BankStudy:
        """The last of the banks in series above one, or itself."""
        seen = {bank.name}
        while True:
            onward = self.circuit.around.get(Terminal(bank.name, "", "positive"), ())
            tops = [top for e in onward if (top := self.battery_side.next_in_series(e)) is not None]
            if len(onward) != 1 or not tops or tops[0].name in seen:
                return bank
            bank = tops[0]
            seen.add(bank.name)


def _opposite(terminal: Terminal) -> Terminal:
    """The other pole of the same port."""
    return Terminal(terminal.component, terminal.port, other_pole(terminal.pole))


def _gravest_return(answer: Allowed) -> tuple[int, float]:
    return WORST_FIRST.index(answer.verdict), -answer.lasting.number


def _terminals(side: Side) -> set[Terminal]:
    return {terminal for a, b in side.runs for terminal in side.order[a:b]}
