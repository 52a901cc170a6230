"""The ways out of banks, each to its first device: whether that is near enough."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from wattproof.circuit import Circuit, Conductor, Terminal, is_overcurrent, is_relay
from wattproof.circuit.walk import cheapest, reached
from wattproof.codes import BodyOfRules
from wattproof.kept import kept
from wattproof.plan.converting import Converter
from wattproof.plan.power import Battery, Controller, Inverter, Load
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import POLES, input_port, output_port
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.positive_net import Devices
from wattproof.study.limits import over
from wattproof.study.protection.answers import GRAVEST_FIRST, WORST_FIRST, Reason, Verdict, names_of
from wattproof.study.protection.at_once import opens_at_once
from wattproof.study.protection.guards import Exit, Tie
from wattproof.study.protection.pack_fuses import PackFuse
from wattproof.study.protection.spans import span_of
from wattproof.study.site.climate import from_table
from wattproof.study.site.places import Placed
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value

LINK: Final = 1.0
"""Longest link between neighbours of a series that no fuse is asked for (m)."""
SIDE_BY_SIDE: Final = 0.5
"""Longest link between alike lead batteries in one box that none is asked for (m; common
practice)."""
ON_ENGINE: Final = 1.016
"""Longest sheathed cable between a starter's stud and an alternator that needs none (m): 40 in by
ABYC E-11 (11.10), common practice elsewhere."""
PACK_LEAD: Final = 3.0
"""Longest lead whose overload the device ahead may limit (m): IEC 60364-4-43 433.2.2, and 10 ft by
NEC 240.21(B)(1); both from memory."""


class Way(NamedTuple):
    """A way out of a bank as it is judged.

    verdict, reason: as of a stretch. most: how much conductor may come before a device (m); None
    where the body of rules has no figure. in_other_pole: devices that all ways back go through.
    is_cranking: True to a starter, between a lead battery and an alternator or, on the engine, the
    isolator behind it, and along the cable by which another bank starts the engine; may_be_makers:
    True where no controller charges that battery, where all consumers are on another one, or where
    it is on the engine itself, so that the vehicle's or the engine's maker may have made it.
    owners: banks that the device is nearer to, whose own it is, or of which it is as far as that of
    one of the two, wherever it sits. packs: the fuses of the packs of
    its bank, where it tells any.
    """

    exit: Exit
    verdict: Verdict
    reason: Reason | None
    most: Value | None
    in_other_pole: Devices = ()
    is_cranking: bool = False
    may_be_makers: bool = False
    owners: tuple[str, ...] = ()
    packs: PackFuse | None = None


class Ways:
    """The ways out of banks, to their first device: whether that is near enough."""

    def __init__(
        self,
        exits: tuple[Exit, ...],
        circuit: Circuit,
        code: BodyOfRules,
        placed: Iterable[Placed],
        wires: dict[str, WireStudy],
        pack_fuses: Iterable[PackFuse],
    ) -> None:
        self.circuit = circuit
        self.code = code
        self.wires = wires
        self.pack_fuses = {fuses.bank.name: fuses for fuses in pack_fuses}
        self._places = {each.component.name: each.place for each in placed}
        self._components = circuit.components
        self._exits = exits
        self.all = tuple(
            self._judged(way)._replace(packs=self.pack_fuses.get(way.bank.name)) for way in exits
        )

    @kept
    def through(self) -> dict[Conductor, Way]:
        """For each stretch before a first device, the way through it that is worst."""
        found: dict[Conductor, Way] = {}
        for way in self.all:
            for part in way.exit.conductors:
                if part not in found or rank_of(way) < rank_of(found[part]):
                    found[part] = way
        return found

    def _judged(self, way: Exit) -> Way:
        most = self._most(way)
        if way.around:
            return Way(way, "not allowed", "no device", most)
        beyond = self._beyond_packs(way)
        if beyond == ():
            return Way(way, "cleared", None, most)
        if way.device is not None and most is not None and self._is_last(beyond, way, most):
            return Way(way, "short enough", None, most)
        if way.device is None:
            return self._without(way, most)
        if way.tie is not None and self._bears_start(way, way.tie):
            return Way(way, "short enough", None, most, is_cranking=True)
        if most is None or way.span.is_within(most.number):
            return Way(way, "short enough", None, most)
        if self._can_only_be_shorted(way):
            return Way(way, "cleared", None, most)
        if not way.span.is_over(most.number):
            far = tuple(other.bank.name for other in self._too_far_from_one(way, most))
            if far:
                return Way(way, "not allowed", "at one end at most", most, owners=far)
            return Way(way, "not known", None, most)
        owners = tuple(
            other.bank.name
            for other in self._exits
            if other.device is way.device
            and other.bank.name != way.bank.name
            and other.tie is None
            and other.span.most < way.span.most
        )
        reason: Reason = "belongs to another source" if owners else "too far"
        return Way(way, "not allowed", reason, most, owners=owners)

    def _too_far_from_one(self, way: Exit, most: Value) -> Iterator[Exit]:
        """Ways from other banks to the same device, which cannot be near both wherever it sits.

        Of two of them the later one is told: at the other end it may sit as it should.
        """
        for other in self._exits:
            if other is way:
                return
            if other.device is not way.device or other.bank.name == way.bank.name or other.tie:
                continue
            allowed = self._most(other)
            apart = way.span.least + other.span.most
            if allowed is not None and over(apart, most.number + allowed.number):
                yield other

    def _bears_start(self, way: Exit, tie: Tie) -> bool:
        """True where no conductor on a way is thinner than one that starts an engine."""
        return all(self.wires[p.name].bears_start(tie.starter.current) for p in way.conductors)

    def _is_on_the_engine(self, way: Exit) -> bool:
        """True for a short sheathed cable from the stud of a starter: it comes with the engine."""
        first = way.conductors[0]
        ends = (self._components.get(t.component) for t in (first.start, first.end))
        short = way.span.is_within(ON_ENGINE)
        return short and way.enclosed and any(isinstance(each, Starter) for each in ends)

    def _serves_a_house(self, bank: BankStudy) -> bool:
        """True where a controller reaches a bank, and what the plan has of consumers.

        Without passing the post of another, or a relay that joins two while one is charged. A
        starting battery that a small module keeps full, beside one that serves the house, is still
        the vehicle's own.
        """
        start = Terminal(bank.name, "", "positive")

        def onward(here: Terminal) -> Iterator[Terminal]:
            if isinstance(self._components.get(here.component), Battery) and here != start:
                return iter(())
            return (there for part, there in self.circuit.ways(here) if not is_relay(part))

        near = reached([start], onward)
        outputs = (
            Terminal(name, output_port(component) or "", pole)
            for name, component in self._components.items()
            if isinstance(component, Controller)
            for pole in POLES
        )
        draws = [
            Terminal(name, input_port(component), "positive") in near
            for name, component in self._components.items()
            if isinstance(component, Load | Inverter | Converter)
        ]
        return (any(draws) or not draws) and not near.isdisjoint(outputs)

    def _beyond_packs(self, way: Exit) -> tuple[Conductor, ...] | None:
        """Conductors that the fuses of a bank's packs are too large for; None without such fuses.

        A wire of as many conductors as there are packs has one behind the fuse of each. A device
        that is bolted to the bar has no wire before it.
        """
        fuses = self.pack_fuses.get(way.bank.name)
        if fuses is None:
            return None
        beyond: list[Conductor] = []
        for part in way.conductors:
            wire = self.wires[part.name]
            is_lead = way.bank.name in wire.wire.components
            if is_lead and wire.parallel == way.bank.in_parallel:
                one, amps = wire.one_of_them, fuses.rating
            else:
                one, amps = wire, fuses.together
            guarded = part.length == 0.0 or one.is_protected_by(amps)
            beyond += () if guarded else (part,)
        return tuple(beyond)

    def _can_only_be_shorted(self, way: Exit) -> bool:
        """True for the lead of packs with a fuse each up to a device in it that protects it.

        That limits what lasts in it, and a short, which all packs drive, opens their fuses at once.
        """
        fuses, device = self.pack_fuses.get(way.bank.name), way.device
        wires = {part.name: self.wires[part.name] for part in way.conductors}
        if fuses is None or device is None or len(wires) != 1:
            return False
        if not way.span.is_within(PACK_LEAD):
            return False
        [wire] = wires.values()
        is_in_it = device.wire is wire.wire or device.wire is None  # in it, or at its end
        if not is_in_it or not wire.is_protected_by(device_rating(device)):
            return False
        short = float(way.bank.in_parallel) * fuses.share.number
        return opens_at_once(short, fuses.together.number, wire.area_mm2)

    @staticmethod
    def _is_last(beyond: tuple[Conductor, ...] | None, way: Exit, most: Value) -> bool:
        """True where only the last piece before a device is beyond such fuses, and is short."""
        if beyond is None or beyond != way.conductors[-len(beyond) :]:
            return False
        return beyond != way.conductors and span_of(beyond).is_within(most.number)

    def _without(self, way: Exit, most: Value | None) -> Way:
        """A way that ends without any device."""
        if way.end is None:
            return Way(way, "limited", None, most)  # the chassis, the water or the earth
        if way.tie is not None and self._bears_start(way, way.tie):
            return Way(way, "short enough", None, most, is_cranking=True)
        on_engine = self._is_on_the_engine(way)
        charging = way.to_alternator_of_lead or (way.to_isolator_of_lead and on_engine)
        if way.to_starter or charging:
            makers = on_engine or not self._serves_a_house(way.bank)
            return Way(way, "short enough", None, most, is_cranking=True, may_be_makers=makers)
        if self._joins_neighbours(way):
            return Way(way, "short enough", None, most)  # one bank of lead, joined post to post
        if way.to_bank and most is not None and not way.in_series:
            if way.span.is_within(most.number):
                return Way(way, "short enough", None, most)  # side by side, joined post to post
            if not way.span.is_over(most.number):
                return Way(way, "not known", None, most)
        if way.in_series and way.span.is_within(LINK):
            return Way(way, "short enough", None, most)  # what the fuse of the series protects
        other = self._in_negative(way)
        return Way(
            way, "not allowed", "only in the other pole" if other else "no device", most, other
        )

    @staticmethod
    def _joins_neighbours(way: Exit) -> bool:
        """True for a short link to another lead battery of the same kind."""
        if not (way.to_bank and way.bank.is_lead and way.span.is_within(SIDE_BY_SIDE)):
            return False
        other = way.end
        return isinstance(other, Battery) and other.chemistry == way.bank.battery.chemistry

    def _in_negative(self, way: Exit) -> Devices:
        """The devices that all ways back from where a bare way ends go through."""
        if way.in_series:
            return ()
        assert way.at is not None
        back = Terminal(way.at.component, way.at.port, "negative")
        start = Terminal(way.bank.parts[-1].name, "", "negative")
        passed = cheapest(start, back, self.circuit.ways, lambda p: float(is_overcurrent(p)))
        return tuple(part for part in passed or () if is_overcurrent(part))

    def _most(self, way: Exit) -> Value | None:
        """How much wire may come before the device (m): the most that its place allows."""
        sheathed = "enclosed" if way.branches_off else "battery-sheathed"
        kinds = [sheathed if way.enclosed else "open"]
        if self._outside_compartment(way):
            kinds.append("outside-compartment")
        allowed = [limit for kind in kinds if (limit := self.code.source_distance(kind))]
        return max((from_table(limit, "dmax") for limit in allowed), default=None)

    def _outside_compartment(self, way: Exit) -> bool:
        """True where the battery has a vented place apart from people, and its device another.

        Only the first wire leads out of that place: a device in a later one is somewhere in the
        room.
        """
        if way.device is None or len({c.wire.name for c in way.conductors}) > 1:
            return False
        battery = self._places.get(way.bank.battery.name)
        device = self._places.get(way.device.device.name)
        if battery is None or device is None or battery is device:
            return False
        told = way.conductors[0].wire.place
        if told is not None and device.name not in told:
            return False  # the wire never leads to where the device is said to be
        return bool(battery.vented) and not battery.living_space


def rank_of(way: Way) -> tuple[int, int, float]:
    grave = GRAVEST_FIRST.index(way.reason) if way.reason else len(GRAVEST_FIRST)
    return WORST_FIRST.index(way.verdict), grave, -way.exit.span.most


def words_of(way: Way) -> str:
    """What is said of a way."""
    exit_ = way.exit
    if way.verdict == "cleared":
        return f"the fuses of the packs of {exit_.bank.name} open"
    if way.is_cranking:
        return "a starting and charging cable of a lead battery may be without a device"
    if way.reason == "only in the other pole":
        return f"only {names_of(way.in_other_pole)} in the negative opens"
    if exit_.device is None and way.verdict == "short enough":
        return "batteries side by side, joined post to post"
    if exit_.device is None:
        return "nothing opens between the battery and this stretch"
    name = f"`{exit_.device.name}`"
    if way.verdict == "short enough":
        return f"nothing before {name}, which is near enough"
    if way.verdict == "not known":
        return f"nothing before {name}, and how far that is is not stated"
    if exit_.around:
        return f"it leads around {name}"
    if way.reason == "belongs to another source":
        return f"nothing before {name}, which is the device of another battery"
    if way.reason == "at one end at most":
        return f"nothing before {name}, which is too far from one of two batteries"
    return f"nothing before {name}, which is too far away"
