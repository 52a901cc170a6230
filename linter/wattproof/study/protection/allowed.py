"""The one judge of protection: what feeds each stretch of wire, and whether that is allowed.

A stretch is one conductor between ends and devices of its wire. Each source that feeds it, from
each side, is judged by itself: it cannot exceed what the conductor carries, or a device opens at a
rating that protects it, or the stretch is short enough to be without; else one of a closed list of
reasons says why not. The device that is named, and mended, is the stretch's own: a wire's own fuse
before the one behind the busbar. Only overcurrent devices end an unprotected stretch. An unknown
distance is not known, and never nothing.

The fault sweep, the rules, the schedules, the diagram and the page read these answers and add
nothing to them.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from wattproof.circuit import (
    Circuit,
    Conductor,
    Passage,
    Terminal,
    is_overcurrent,
    other_end,
)
from wattproof.codes import Bodies, style
from wattproof.kept import KeptEach, kept
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, is_alternator
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import output_port
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy, Inflow
from wattproof.study.assumptions.devices import MANY_IN_RINGS
from wattproof.study.assumptions.ratings import amps_of, device_rating
from wattproof.study.battery.positive_net import (
    Devices,
    Fed,
    rating_of,
)
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import exceeds, over
from wattproof.study.protection.answers import (
    Allowed,
    Kind,
    Reason,
    names_of,
    told_of,
)
from wattproof.study.protection.asked import Asked, own_before
from wattproof.study.protection.at_once import opens_at_once
from wattproof.study.protection.guards import (
    ENDS,
    Guard,
    first_devices,
    let_through,
)
from wattproof.study.protection.interrupts import Duty
from wattproof.study.protection.outlets import outlets
from wattproof.study.protection.returns import Returns
from wattproof.study.protection.spans import span_of
from wattproof.study.protection.ways import Ways, rank_of, words_of
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value, function, smallest


@record
class Judge:
    """Judges every stretch of every wire."""

    circuit: Circuit
    codes: Bodies
    wires: dict[str, WireStudy]
    devices: dict[str, DeviceStudy]
    arrays: tuple[ArrayStudy, ...]
    battery_side: BatterySide
    network: Network
    guards: tuple[Guard, ...]
    link_guards: tuple[Guard, ...]
    ways: Ways
    duties: tuple[Duty, ...]

    def all(self) -> Iterator[Allowed]:
        """Every answer, stretch by stretch in the order of the guards, then those of arrays."""
        for guard in self.guards:
            for side in guard.sides:
                yield self._from_banks(guard, side)
            yield from self._from_outputs(guard)
        yield from self._from_outlets()
        for array in self.arrays:
            for inflow in array.inflows:
                yield from self._on_array(array, inflow)
        yield from Returns(
            self.circuit,
            self.wires,
            self.battery_side,
            self.network,
            self.guards,
            self.ways,
            frozenset(self._cranked),
        ).all()

    # What banks drive.

    def _from_banks(self, guard: Guard, side: Fed) -> Allowed:
        wire, part = guard.wire.in_bearable_air, guard.part
        names = tuple(bank.name for bank in side.banks)
        words = f"ratings of the devices that feed {wire.name}, together"
        lasting = rating_of(side.limiting, words, wire.name)
        if side.is_bounded and side.limiting:
            untried = wire.assume.value(MANY_IN_RINGS, wire.name, wire.at)
            bounded = function("first devices", lasting.number, lasting, untried)
            lasting = bounded.named(f"In({wire.name})", words, "A")
        may = wire.carrying
        most = may.device_limit if isinstance(may, Carrying) else None
        link = self._links.get(part)
        own = own_before(part, side.end, self.circuit)
        asked = Asked(part, wire, "bank", names, side.end, lasting, most, guard)
        if link is not None and not side.limiting:
            lasting, limiting = link.rating, link.limiting
            asked = asked._replace(lasting=lasting)
            return self._by_rating(asked, limiting, limiting)
        if not side.limiting:
            return self._bare(asked)
        return self._by_rating(asked, side.limiting, own or side.limiting)

    def _bare(self, asked: Asked) -> Allowed:
        """A stretch that a bank reaches before any device."""
        way = self.ways.through.get(asked.part)
        if way is None:
            own = [w for w in self.ways.all if w.exit.bank.name in asked.sources]
            way = min(own, key=rank_of, default=None)
        if way is None:
            return asked.answer("not allowed", "no device", (), "nothing opens")
        near = way.exit.device if not way.is_cranking else None
        devices = (near,) if near is not None else way.in_other_pole
        words = words_of(way)
        return asked.answer(
            way.verdict, way.reason, devices, words, way.exit.span, way.most, way.exit
        )

    def _by_rating(self, asked: Asked, limiting: Devices, named: Devices) -> Allowed:
        """A stretch behind devices: whether they suit the conductor, or its own one near does."""
        most, wire = asked.most, asked.wire
        if most is None:
            return asked.answer("not known", None, named, str(wire.carrying))
        if not exceeds(asked.lasting, most):
            unable = [device for device in limiting if self._cannot_break(device)]
            if unable:
                why = f"{told_of(unable, 'opens')} in time, and cannot break what a short drives"
                return asked.answer("not allowed", "cannot break it", tuple(unable), why)
            late = self._opens_in_time_up_to(limiting, wire)
            why = f"{told_of(limiting, 'opens')}; {asked.lasting} protects up to {most}"
            if late is not None:
                why += f", and surely opens in time up to {late} only"
            return asked._replace(in_time=late, limited_by=limiting).answer(
                "cleared", None, named, why
            )
        return self._tapped(asked, most, named)

    def _opens_in_time_up_to(self, limiting: Devices, wire: WireStudy) -> Value | None:
        """The largest rating (A) that surely opens in time, where one device is larger than that.

        By the current at which a device of its style surely operates, where the body of rules asks
        for that too; else None.
        """
        if len(limiting) != 1 or wire.cooled or not isinstance(wire.carrying, Carrying):
            return None
        [device] = limiting
        named = getattr(device.device, "style", None)
        if named is None:
            return None
        found = wire.code.overload_rating(wire.carrying.value.number, style(named))
        most = from_table(found, "Intrip") if found is not None else None
        return most if most is not None and exceeds(device_rating(device), most) else None

    def _tapped(self, asked: Asked, most: Value, named: Devices) -> Allowed:
        """A stretch that what feeds it does not protect, before a device that does."""
        wire, part = asked.wire, asked.part
        if self._cranks(part, asked.end):
            why = f"{told_of(named, 'opens')} on a short; a starting cable may be without a device"
            return asked.answer("cleared", None, named, why)
        ahead = first_devices(part, asked.end, self.circuit)
        too_large = (
            f"{told_of(named, 'lets')} {asked.lasting} last, and at most {most} protects it"
            if named
            else f"{asked.lasting} is more than at most {most}, and nothing opens"
        )
        reason: Reason = "too large" if named else "no device"
        if not ahead:
            bare = self.ways.through.get(part)
            unfused = bare is not None and bare.reason is not None
            if unfused and all(map(self._is_of_a_bank, named)) and self._can_only_be_shorted(asked):
                why = "the fuse that its own battery lacks limits what lasts in it"
                return asked.answer("not known", None, named, why)
            return asked.answer("not allowed", reason, named, too_large)
        devices = tuple(device for device, _ in ahead)
        lasts = let_through(devices, asked.end, self.circuit)
        fits = not over(sum(map(amps_of, lasts)), most.number)
        is_own = devices[0].wire is wire.wire  # ahead in a wire there is one alone
        if fits and all(map(self._is_of_a_bank, devices)) and self._can_only_be_shorted(asked):
            why = f"{told_of(named, 'opens')} at once, and {told_of(devices, 'limits')} what lasts"
            return asked.answer("cleared", None, named, why)
        if not fits and (not is_own or any(d.wire is wire.wire for d in named)):
            return asked.answer("not allowed", reason, named, too_large)
        before = self._since.get(asked.end, ())
        ways = [(*before, part, *beyond) for _, beyond in ahead]
        enclosed = all(p.wire.enclosed for way in ways for p in way)
        figure = self.codes.battery.source_distance("enclosed" if enclosed else "open")
        limit = from_table(figure, "dmax") if figure is not None else None
        span = max((span_of(way) for way in ways), key=lambda s: (s.least, s.most))
        near = limit is None or all(span_of(way).is_within(limit.number) for way in ways)
        far = limit is not None and any(span_of(way).is_over(limit.number) for way in ways)
        if not fits and not (far and is_own):
            ratings = rating_of(devices, f"ratings of the devices of {wire.name}", wire.name)
            why = f"{told_of(devices, 'lets')} {ratings} last, and at most {most} protects it"
            return asked._replace(lasting=ratings).answer(
                "not allowed", "too large", devices, why, span, limit
            )
        at_bar = asked.end.component in self.circuit.plan.busbars
        if fits and before and at_bar and limit is not None and not near:
            own = (span_of((part, *beyond)) for _, beyond in ahead)
            near = all(each.is_within(limit.number) for each in own)  # the rest is said of that
        if not near and (any(map(self._is_of_a_bank, devices)) or (far and not is_own)):
            return asked.answer("not allowed", reason, named, too_large)
        if near:
            why = f"nothing smaller before {names_of(devices)}, which is near enough"
            return asked.answer("short enough", None, devices, why, span, limit)
        if far:
            why = f"nothing smaller before {names_of(devices)}, which is too far away"
            return asked.answer("not allowed", "too far", devices, why, span, limit)
        why = f"nothing smaller before {names_of(devices)}, and how far that is is not stated"
        return asked.answer("not known", None, devices, why, span, limit)

    def _cranks(self, part: Conductor, end: Terminal) -> bool:
        """True for a cable to a starter, fed from one of its ends: it needs no device at all.

        So is that of the engine's own battery, where another bank feeds it from its far end.
        """
        there = other_end(part, end)
        starters = self._cranked.get(there, ())
        wire = self.wires[part.name]
        if not starters or not all(wire.bears_start(each.current) for each in starters):
            return False
        bare = self.circuit.walk(there, passes=lambda p: p is not part and not is_overcurrent(p))
        return any(isinstance(self._component(t), Starter | Battery) for t in bare)

    def _component(self, terminal: Terminal) -> Named | None:
        return self.circuit.components.get(terminal.component)

    @kept
    def _cranked(self) -> dict[Terminal, tuple[Starter, ...]]:
        """Positives between devices that lead to starters, their batteries and alternators alone.

        Each with its starters.
        """
        found: dict[Terminal, tuple[Starter, ...]] = {}
        for name, starter in self.circuit.plan.starters.items():
            start = Terminal(name, "", "positive")
            here = set(self.circuit.walk(start, passes=lambda part: not is_overcurrent(part)))
            components = (self.circuit.components.get(t.component) for t in here)
            ends = [each for each in components if isinstance(each, ENDS)]
            if all(isinstance(each, Starter | Battery) or is_alternator(each) for each in ends):
                found.update({each: (*found.get(each, ()), starter) for each in here})
        return found

    def _can_only_be_shorted(self, asked: Asked) -> bool:
        """True where packs beside one feed its lead from the far end, and open at once on a short.

        What lasts passes the pack's own fuse, which protects the lead.
        """
        short = self.network.short_along(asked.part)
        banks = short.banks if short is not None else ()
        amps = sum(part.number for bank, part in banks if bank.name in asked.sources)
        return opens_at_once(amps, asked.lasting.number, asked.wire.area_mm2)

    def _is_of_a_bank(self, device: Passage) -> bool:
        """True for a device that is the first of some bank, on the bank's own way out."""
        return any(way.exit.device is device for way in self.ways.all)

    @kept
    def _since(self) -> dict[Terminal, tuple[Conductor, ...]]:
        """The conductor before each terminal that what feeds it does not protect."""
        found: dict[Terminal, tuple[Conductor, ...]] = {}
        parts = {guard.part: guard for guard in self.guards if len(guard.sides) == 1}
        for guard in parts.values():
            end = guard.sides[0].end
            fits = guard.wire.is_protected_by(guard.rating) or self._cranks(guard.part, end)
            here = () if fits or not guard.limiting else (*found.get(end, ()), guard.part)
            there = other_end(guard.part, end)
            found[there] = here
            for element in self.circuit.around.get(there, ()):
                if isinstance(element, Passage) and not is_overcurrent(element):
                    found.setdefault(other_end(element, there), here)
        return found

    def _cannot_break(self, passage: Passage) -> bool:
        """True for a device that is for alternating current, or below its voltage or its short."""
        return id(passage.device) in self._unable

    @kept
    def _unable(self) -> set[int]:
        found: set[int] = set()
        for device in self.devices.values():
            if not device.is_overcurrent:
                continue
            over = device.side == "battery" and device.is_over_voltage
            if device.dc is False or over:
                found.add(id(device.device))
        for duty in self.duties:
            if duty.too_low and duty.placed and not duty.backed_by:
                found.add(id(duty.device.device))
        return found

    @kept
    def _links(self) -> dict[Conductor, Guard]:
        return {guard.part: guard for guard in self.link_guards}

    # What controllers and chargers give.

    def _from_outputs(self, guard: Guard) -> Iterator[Allowed]:
        for component, _ in self.battery_side.charges(guard.bank):
            assert isinstance(component, Controller | Charger)
            reached = self._devices_from(component).get(guard.part)
            if reached is not None:
                end, devices = reached
                output = self.network.output(component)
                fed = _Fed(guard.part, guard.wire, end, devices, guard)
                yield self._of_output(str(component.name), output, fed)

    def _from_outlets(self) -> Iterator[Allowed]:
        """Outputs with no bank on their net: nothing but their own rating limits what they give."""
        guarded = {guard.part for guard in self.guards}
        for start, amps in outlets(self.battery_side):
            for part, (end, devices) in _devices_on_the_way(start, self.circuit).items():
                if part not in guarded:
                    fed = _Fed(part, self.wires[part.name], end, devices, None)
                    yield self._of_output(start.component, amps, fed)

    def _of_output(self, name: str, amps: Value, fed: _Fed) -> Allowed:
        """A source that gives no more than its own current."""
        guard, end, devices = fed.guard, fed.end, fed.devices
        wire = fed.wire.in_bearable_air
        asked = Asked(fed.part, wire, "output", (name,), end, amps, None, guard, amps)
        may = wire.carrying
        if isinstance(may, str):
            return asked.answer("not known", None, devices, str(may))
        asked = asked._replace(most=may.value)
        if may.bears(amps):
            why = f"{amps} at most, and the wire carries {may.value}"
            return asked.answer("limited", None, devices, why)
        asked = asked._replace(most=may.device_limit)
        first = min(devices, key=amps_of, default=None)
        if first is not None:
            rating = device_rating(first)
            asked = asked._replace(lasting=amps if amps < rating else rating)
            if may.is_protected_by(rating):
                why = f"`{first.name}` opens; {rating} protects up to {may.device_limit}"
                return asked.answer("cleared", None, (first,), why)
        way = self.ways.through.get(fed.part)
        if way is not None and guard is not None and not guard.limiting:
            why = words_of(way)  # as of the bank, which drives more
            own = (way.exit.device,) if way.exit.device is not None else way.in_other_pole
            span = way.exit.span
            return asked.answer(way.verdict, way.reason, own, why, span, way.most, way.exit)
        return self._tapped(asked, may.device_limit, (first,) if first is not None else ())

    def _devices_from(
        self, source: Controller | Charger
    ) -> dict[Conductor, tuple[Terminal, Devices]]:
        """For each stretch on a source's net, where it comes in, and the devices on the way."""
        name = str(source.name)
        start = Terminal(name, output_port(source) or "", "positive")
        return self._from_each.of(name, lambda: _devices_on_the_way(start, self.circuit))

    @kept
    def _from_each(self) -> KeptEach[str, dict[Conductor, tuple[Terminal, Devices]]]:
        return KeptEach()

    # What strings give, and what the rest of the array pushes back.

    @kept
    def _arrays_on(self) -> Counter[Conductor]:
        """How many arrays each of their conductors is in."""
        each = ({inflow.part for inflow in array.inflows} for array in self.arrays)
        return Counter(part for parts in each for part in parts)

    def _on_array(self, array: ArrayStudy, inflow: Inflow) -> Iterator[Allowed]:
        wire, part = self.wires[inflow.part.name].in_bearable_air, inflow.part
        may, own = wire.carrying, array.isc("bright", inflow.behind)
        if self._arrays_on[part] > 1 and wire.current is not None:
            own = wire.current  # of all arrays that come back over it
        name = array.name_of(inflow.behind)
        asked = Asked(part, wire, "string", (name,), part.start, own, None, None, own)
        if isinstance(may, str):
            yield asked.answer("not known", None, (), str(may))
        elif wire.cooled and wire.insulation.assumptions:
            yield asked.answer("limited", None, (), "")  # said of its insulation
        elif not may.bears(own):
            why = f"{own} is more than the wire carries ({may.value}), and nothing opens"
            yield asked._replace(most=may.value).answer("not allowed", "no device", (), why)
        else:
            why = f"{own} at most, and the wire carries {may.value}"
            yield asked._replace(most=may.value).answer("limited", None, (), why)
        if inflow.sustained is not None:
            assert inflow.unlimited is not None
            yield self._backwards(array, inflow, inflow.sustained, inflow.unlimited)

    def _backwards(
        self, array: ArrayStudy, inflow: Inflow, sustained: Value, unlimited: Value
    ) -> Allowed:
        wire = self.wires[inflow.part.name].in_bearable_air
        may = wire.carrying
        source = f"other branches at {inflow.joint or 'the controller'}"
        finite = unlimited if math.isfinite(unlimited.number) else None
        flow = array.backflow_by_lead.get(inflow.part)
        kind: Kind = "siblings" if flow is not None else "array"
        asked = Asked(
            inflow.part, wire, kind, (source,), inflow.part.end, sustained, None, None, finite
        )
        if isinstance(may, str):
            return asked.answer("not known", None, inflow.devices, str(may))
        asked = asked._replace(most=may.value)
        if may.bears(unlimited):
            why = f"{unlimited} at most, and the wire carries {may.value}"
            return asked.answer("limited", None, inflow.devices, why)
        devices = inflow.devices
        if not devices and may.bears(sustained):
            why = f"{sustained} can last, and the wire carries {may.value}"
            return asked.answer("limited", None, devices, why)
        if not devices and not array.behind_devices.isdisjoint(wire.conductors):
            return self._before_its_fuse(asked)
        if not devices and flow is not None:
            devices = flow.devices  # in the other pole of the string
        if not devices:
            why = f"{sustained} can last, and the wire carries {may.value}"
            return asked.answer("not allowed", "no device", (), why)
        rating = smallest([device_rating(device) for device in devices])
        if len(devices) > 1:
            rating = rating.named(f"In({wire.name})", f"smallest rating in {wire.name}", "A")
        if may.is_protected_by(rating) or may.bears(sustained):
            least = rating if rating < sustained else sustained  # in the other pole it counts too
            why = f"{told_of(devices, 'opens')} above {least}"
            return asked._replace(lasting=least).answer("cleared", None, devices, why)
        asked = asked._replace(lasting=rating, most=may.device_limit)
        why = (
            f"{told_of(devices, 'lets')} {rating} last, and at most {may.device_limit} protects it"
        )
        return asked.answer("not allowed", "too large", devices, why)

    def _before_its_fuse(self, asked: Asked) -> Allowed:
        """The stretch between a joint and the lead's own device may be short."""
        wire, span = asked.wire, span_of((asked.part,))
        figure = self.codes.array.source_distance("enclosed" if wire.wire.enclosed else "open")
        limit = from_table(figure, "dmax") if figure is not None else None
        if limit is None or span.is_within(limit.number):
            why = "its own device is near enough"
            return asked.answer("short enough", None, (), why, span, limit)
        if span.is_over(limit.number):
            why = "its own device is too far away"
            return asked.answer("not allowed", "too far", (), why, span, limit)
        why = "how far its own device sits is not stated"
        return asked.answer("not known", None, (), why, span, limit)


class _Fed(NamedTuple):
    """A stretch that an output feeds, where from, and what is on the way there."""

    part: Conductor
    wire: WireStudy
    end: Terminal
    devices: Devices
    guard: Guard | None


def _devices_on_the_way(
    start: Terminal, circuit: Circuit
) -> dict[Conductor, tuple[Terminal, Devices]]:
    """For each conductor, where a terminal's current comes in, and the devices on the way."""
    walk = circuit.walk(start)
    opens: Devices = ()
    devices = walk.carried(opens, lambda d, s: (*d, s.way) if is_overcurrent(s.way) else d)
    found: dict[Conductor, tuple[Terminal, Devices]] = {}
    for here in walk:
        for part, _ in circuit.ways(here):
            if isinstance(part, Conductor):
                found.setdefault(part, (here, devices[here]))
    return found
