"""The readings of a plan, each with what it was taken at."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from wattproof.circuit import Circuit, Passage
from wattproof.kept import kept
from wattproof.plan.array import Combiner, String
from wattproof.plan.devices import Breaker, Busbar, Fuse, Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, is_alternator
from wattproof.plan.readings import Reading
from wattproof.source import Text
from wattproof.study.array import ArraySection
from wattproof.study.assumptions import Assumer
from wattproof.study.battery import BatterySection
from wattproof.study.charging import ChargingSection
from wattproof.study.curves import CurvesSection
from wattproof.study.limits import exceeds
from wattproof.study.site import SiteSection
from wattproof.study.site.places import in_sun
from wattproof.study.wiring import WiringSection
from wattproof.working import Value, declared, total

if TYPE_CHECKING:
    from wattproof.study.array.arrays import ArrayStudy
    from wattproof.study.battery.bank import BankStudy
    from wattproof.study.readings.again import Course, Fall, Place
    from wattproof.study.readings.alike import Alike, Quantity
    from wattproof.study.readings.at_arrays import ArrayReading
    from wattproof.study.readings.at_joints import JointReading
    from wattproof.study.readings.both_sides import BothSides
    from wattproof.study.readings.branches import Branches
    from wattproof.study.readings.conditions import Band
    from wattproof.study.readings.day import DayReading
    from wattproof.study.readings.expected import Expected
    from wattproof.study.readings.finds import Finds
    from wattproof.study.readings.of_charging import ChargeReading
    from wattproof.study.readings.packs import PacksRead
    from wattproof.study.readings.should_show import AtArray, AtBank, Sky
    from wattproof.study.readings.taken import Taken
    from wattproof.study.readings.ways import WayRead
    from wattproof.study.wiring.devices import DeviceStudy
    from wattproof.study.wiring.drops import Path

DEVICES = (Fuse, Breaker, Switch, Busbar, Combiner)


class ReadingsSection:
    """All readings of a plan, by what can be said of them.

    What computes with them is only imported where something was read that needs it.
    """

    def __init__(
        self,
        circuit: Circuit,
        assume: Assumer,
        site: SiteSection,
        battery: BatterySection,
        array: ArraySection,
        wiring: WiringSection,
        curves: CurvesSection,
        charging: ChargingSection,
    ) -> None:
        self._plan = circuit.plan
        self._ends = circuit.ends
        self._assume = assume
        self._site = site
        self._battery = battery
        self._array = array
        self._wiring = wiring
        self._curves = curves
        self._charging = charging

    @kept
    def at_arrays(self) -> tuple[ArrayReading, ...]:
        """Those at strings, joints and solar inputs."""
        return tuple(self._at_arrays())

    @kept
    def alike(self) -> tuple[Alike, ...]:
        """Strings that should agree in what was read at them."""
        if not self.at_arrays:
            return ()
        from wattproof.study.readings.alike import alike

        return tuple(alike(self.at_arrays))

    @kept
    def of_days(self) -> tuple[DayReading, ...]:
        """Yields of whole days at controllers that arrays of the plan feed."""
        read = [each for each in self._taken if each[0].day_yield is not None]
        if not read:
            return ()
        from wattproof.study.readings.day import DayReading

        return tuple(
            DayReading(reading, fed[0], self._plan.site, self._assume)
            for reading, part in read
            if len(fed := [a for a in self._array.arrays if a.controller is part]) == 1
        )

    @kept
    def falls(self) -> tuple[Fall, ...]:
        """What places gave that were read more than once, against what they gave before."""
        if not self._repeated:
            return ()
        from wattproof.study.readings.again import falls

        return tuple(falls(self._repeated))

    @kept
    def courses(self) -> tuple[Course, ...]:
        """What places gave that were read more than once: mean, worst, and change in a year."""
        if not self._repeated:
            return ()
        from wattproof.study.readings.again import courses

        return tuple(courses(self._repeated))

    @kept
    def _repeated(self) -> tuple[Place, ...]:
        """What was read at places, by quantity; empty where nothing can have been read twice."""
        if len(self.at_arrays) + len(self.of_days) < 2:
            return ()
        from wattproof.study.readings.again import places

        return tuple(places(self.at_arrays, self.of_days))

    @kept
    def ways(self) -> tuple[WayRead, ...]:
        """Voltages in operation that were read at once at both ends of a way."""
        if len(self.at_arrays) < 2:
            return ()
        from wattproof.study.readings.ways import ways_read

        return tuple(ways_read(self.at_arrays, self._wiring.wires))

    @kept
    def branches(self) -> tuple[Branches, ...]:
        """Currents where strings have met, read together with those of all of them."""
        if len(self.at_arrays) < 3:
            return ()
        from wattproof.study.readings.branches import branches_read

        return tuple(branches_read(self.at_arrays))

    def exchanged_with(self, reading: ArrayReading) -> ArrayReading | None:
        """The reading of another string that one changed places with; None where none did."""
        from wattproof.study.readings.exchanged import exchanged_with

        return exchanged_with(reading, self.at_arrays)

    def as_far_off(self, reading: ArrayReading, quantity: Quantity) -> tuple[ArrayReading, ...]:
        """Readings of like strings that are as far out of their bands as one, on its side."""
        from wattproof.study.readings.alike import as_far_off

        return as_far_off(reading, quantity, self.at_arrays)

    def without_lower_end(self, reading: ArrayReading) -> bool:
        """True where no voltage in operation was read further down together with a reading's."""
        from wattproof.study.readings.ways import has_lower_end

        return not has_lower_end(reading, self.at_arrays)

    def finds(self, reading: ArrayReading) -> tuple[Finds, ...]:
        """The smallest loss of each quantity that a reading would find, by label or by before."""
        from wattproof.study.readings.finds import Finds, finds_of

        alone = (f for f in self.falls if len(f.later) == 1)
        again = {f.quantity: f.found for f in alone if f.reading is reading}
        found = []
        for each in finds_of(reading):
            before = again.get(each.quantity)  # type: ignore[call-overload]
            less = before is not None and before.number < each.share.number
            found.append(Finds(each.quantity, before) if less and before is not None else each)
        return (*found, *self._finds_beside_like(reading, {each.quantity for each in found}))

    def _finds_beside_like(self, reading: ArrayReading, known: set[str]) -> Iterator[Finds]:
        """What is found beside like strings alone, where nothing tells the sun."""
        from wattproof.study.readings.alike import COMPARED, least_apart
        from wattproof.study.readings.finds import Finds

        for quantity in COMPARED:
            if quantity in known or self.without_partner(reading, quantity):
                continue
            share = least_apart(reading, quantity)
            if share is not None:
                yield Finds(quantity, share)

    def without_partner(self, reading: ArrayReading, quantity: Quantity) -> bool:
        """True where no other string was read that should agree in a quantity."""
        from wattproof.study.readings.alike import has_partner

        return not has_partner(reading, quantity, self.at_arrays)

    def is_end_of_a_way(self, reading: ArrayReading) -> bool:
        """True where what is lost between it and another reading is compared."""
        return any(reading in (way.upper, way.lower) for way in self.ways)

    def is_beside_a_reversed(self, reading: ArrayReading) -> bool:
        """True where a string beside it was read with it, and its current backwards."""
        words, array = reading.taken.reading.taken, reading.taken.array
        return words is not None and any(
            other.taken.reversed_currents
            and other.taken.at_string
            and other.taken.reading.taken == words
            and other.taken.array is array
            for other in self.at_arrays
        )

    def is_fed_back(self, reading: ArrayReading) -> bool:
        """True where the currents of all strings, each with its sign, add up to what flows.

        Then a reversed one is no clamp that was turned round.
        """
        if len(self.at_arrays) < 3:
            return False
        from wattproof.study.readings.branches import add_up_with_signs

        return add_up_with_signs(reading, self.at_arrays)

    @kept
    def at_joints(self) -> tuple[JointReading, ...]:
        """Drops and temperatures of devices and joints that carry current."""
        if not self._plan.readings:
            return ()
        from wattproof.study.readings.at_joints import JointReading
        from wattproof.study.readings.conditions import Conditions

        return tuple(
            JointReading(
                reading,
                part,
                self._full_current(part),
                Conditions(reading, self._site.climate, self._assume).zero_drift,
                in_sun(part, self._plan),
            )
            for reading, part in self._taken
            if isinstance(part, DEVICES)
            and (reading.drop is not None or reading.joint_temperature is not None)
        )

    @kept
    def of_charging(self) -> tuple[ChargeReading, ...]:
        """Those at the battery terminals of controllers, and at batteries."""
        return tuple(
            self._charge_reading(reading, part)
            for reading, part in self._taken
            if isinstance(part, Battery)
            or (isinstance(part, Controller) and self._port(reading) == "battery")
        )

    @kept
    def to_posts(self) -> tuple[ChargeReading, ...]:
        """Those of charging, with the posts of their battery where they were read beside them."""
        return tuple(self._with_posts(each) for each in self.of_charging)

    def _with_posts(self, charge: ChargeReading) -> ChargeReading:
        """A reading at a controller, with what was read at the posts of its bank at that moment."""
        own, bank = charge.reading, charge.bank
        if isinstance(charge.source, Battery) or bank is None:
            return charge
        if own.posts_voltage is not None or own.voltage is None or own.taken is None:
            return charge
        for reading, part in self._taken:
            whole = isinstance(part, Battery) and part.name == bank.name
            if whole and reading.taken == own.taken and reading.voltage is not None:
                beside = own.model_copy(update={"posts_voltage": reading.voltage})
                return replace(charge, reading=beside)
        return charge

    @kept
    def both_sides(self) -> tuple[BothSides, ...]:
        """What controllers took and gave, where both sides were read together."""
        if len(self._plan.readings) < 2:
            return ()
        from wattproof.study.readings.both_sides import both_sides

        fed = Counter(str(array.controller.name) for array in self._array.arrays)
        alone = [r for r in self.at_arrays if fed[str(r.taken.array.controller.name)] == 1]
        return tuple(both_sides(alone, self.of_charging, self._with_loads))

    @property
    def _with_loads(self) -> set[str]:
        """Controllers from whose load terminals something is drawn."""
        ends = (self._ends.of_wire(wire) for wire in self._plan.wires.values())
        reached = (end for each in ends for end in (each.start, each.to))
        return {str(end.component) for end in reached if end.port == "load"}

    @kept
    def of_packs(self) -> tuple[PacksRead, ...]:
        """Batteries in parallel that were read together."""
        if not self._plan.readings:
            return ()
        from wattproof.study.readings.packs import packs_read

        return tuple(packs_read(self.of_charging, self._battery.joined))

    @kept
    def loose(self) -> tuple[Reading, ...]:
        """Those at strings and joints that feed no controller of the plan."""
        return tuple(
            reading
            for reading, part in self._taken
            if isinstance(part, String | Combiner)
            and self._array.array_at(self._ends.readings[reading.name]) is None
        )

    def expected(self, sky: Sky) -> tuple[AtArray, ...]:
        """What a meter should show at each string, joint and solar input in some sun and heat."""
        from wattproof.study.readings.conditions import Conditions
        from wattproof.study.readings.expected import Expected
        from wattproof.study.readings.should_show import at_array, places, reading_for, told_cells
        from wattproof.study.readings.taken import Taken

        found = []
        for array in self._array.arrays:
            curves = self._curves.curve_of(array)
            for kind, part in places(array):
                port = f".{array.array.port}" if isinstance(part, Controller) else ""
                reading = reading_for(f"{part.name}{port}", part.at, sky)
                conditions = Conditions(reading, self._site.climate, self._assume, told_cells(sky))
                read = None if isinstance(part, Controller) else part
                taken = Taken(reading, read, array, conditions)
                shown = at_array(Expected(taken, curves, self._assume), kind, part)
                found.append(self._beside_earlier(shown, reading.at_terminal, array, sky))
        return tuple(found)

    def _beside_earlier(self, shown: AtArray, where: Text, array: ArrayStudy, sky: Sky) -> AtArray:
        """What should show at a place, with the fall that is found beside what was read there."""
        earlier = [r for r in self.at_arrays if r.where == where and r.taken.array is array]
        if not earlier or sky.sun is None:
            return shown
        from wattproof.study.readings.again import QUANTITIES, found_beside
        from wattproof.study.readings.at_arrays import array_reading
        from wattproof.study.readings.conditions import Conditions
        from wattproof.study.readings.expected import Expected
        from wattproof.study.readings.should_show import likely_of, reading_for, told_cells
        from wattproof.study.readings.taken import Taken

        reading = reading_for(where, shown.part.at, sky, **likely_of(shown))
        conditions = Conditions(reading, self._site.climate, self._assume, told_cells(sky))
        part = None if isinstance(shown.part, Controller) else shown.part
        taken = Taken(reading, part, array, conditions)
        next_one = array_reading(taken, Expected(taken, self._curves.curve_of(array), self._assume))
        found: dict[str, tuple[float, tuple[str, ...]]] = {}
        for quantity in QUANTITIES:
            if quantity != "power" and getattr(shown, quantity) is not None:
                beside = found_beside(quantity, next_one, earlier)
                if beside is not None:
                    found[quantity] = (beside[0], tuple(point.name for point in beside[1]))
        return shown.beside(found)

    def expected_at_banks(self, sky: Sky) -> tuple[AtBank, ...]:
        """What a meter should show at the posts of each bank."""
        from wattproof.study.readings.should_show import at_bank, reading_for

        found = []
        for battery in self._plan.batteries.values():
            charge = self._charge_reading(reading_for(battery.name, battery.at, sky), battery)
            if charge.bank is not None:
                found.append(at_bank(charge.bank, charge.allowed))
        return tuple(found)

    @property
    def _taken(self) -> Iterator[tuple[Reading, Named]]:
        for name, reading in self._plan.readings.items():
            yield reading, self._ends.components[self._ends.readings[name].component]

    def _port(self, reading: Reading) -> str:
        return self._ends.readings[reading.name].port

    def _at_arrays(self) -> Iterator[ArrayReading]:
        for reading, part in self._taken:
            array = self._array.array_at(self._ends.readings[reading.name])
            if array is None or not isinstance(part, String | Combiner | Controller):
                continue
            read = None if isinstance(part, Controller) else part
            yield self._at_array(reading, read, array)

    def _at_array(
        self, reading: Reading, part: String | Combiner | None, array: ArrayStudy
    ) -> ArrayReading:
        """A reading beside the array that it is of, in the sun that it or others tell."""
        from wattproof.study.readings.at_arrays import array_reading

        alone = self._alone(reading, part, array)
        sun = beside = None
        if reading.irradiance is None:
            sun, beside = self._sun_of(alone.taken)
        told = self._in_heat_beside(alone.taken)
        conditions = replace(alone.taken.conditions, reading=told, elsewhere=sun)
        taken = replace(alone.taken, conditions=conditions)
        return array_reading(taken, replace(alone, taken=taken, beside=beside))

    def _alone(
        self, reading: Reading, part: String | Combiner | None, array: ArrayStudy
    ) -> Expected:
        """What the curves give, by what the reading itself tells of sun and heat."""
        from wattproof.study.readings.conditions import Conditions
        from wattproof.study.readings.expected import Expected
        from wattproof.study.readings.taken import Taken

        conditions = Conditions(reading, self._site.climate, self._assume)
        below = self._is_below_full(reading, array.controller)
        taken = Taken(reading, part, array, conditions, below)
        return Expected(taken, self._curves.curve_of(array), self._assume)

    def _sun_of(self, taken: Taken) -> tuple[Band | None, Band | None]:
        """Sun (W/m²) of a reading without irradiance: by what tells it, and by a current beside.

        An irradiance that was read together with it, in the same plane, goes before a clear sky.
        """
        from wattproof.study.readings.clear_moment import clear_sun

        measured = by_current = None
        for other in self._taken_with(taken):
            if other.taken.conditions.sun_measured:
                measured = measured or other.taken.conditions.sun
            else:
                by_current = by_current or other.by_current
        strings = [string.source.string for string in taken.strings]
        sky = clear_sun(taken.reading, strings, self._plan, self._assume)
        return measured or sky, by_current

    def _in_heat_beside(self, taken: Taken) -> Reading:
        """A reading with the temperatures that one beside it tells, where it tells none itself."""
        own = taken.reading
        if taken.conditions.temperature_known:
            return own
        for other in self._taken_with(taken):
            beside = other.taken.reading
            if other.taken.conditions.temperature_known:
                back, air = beside.back_temperature, beside.air_temperature
                told = {"back_temperature": back, "air_temperature": own.air_temperature or air}
                return own.model_copy(update=told)
        return own

    def _taken_with(self, taken: Taken) -> Iterator[Expected]:
        """Other readings of arrays that were taken together with one, in the same plane."""
        from wattproof.study.readings.alike import plane

        words = taken.reading.taken
        if words is None:
            return
        for other, part in self._taken:
            array = self._array.array_at(self._ends.readings[other.name])
            if array is None or other is taken.reading or other.taken != words:
                continue
            if isinstance(part, String | Combiner | Controller):
                beside = self._alone(other, None if isinstance(part, Controller) else part, array)
                if plane(beside.taken) == plane(taken):
                    yield beside

    def _charge_reading(self, reading: Reading, part: Controller | Battery) -> ChargeReading:
        from wattproof.study.readings.conditions import Conditions
        from wattproof.study.readings.of_charging import ChargeReading

        conditions = Conditions(reading, self._site.climate, self._assume)
        if isinstance(part, Battery):
            bank = self._battery.side.banks.get(part.name)
            around = self._around(bank)
            given = self._given_by(bank, around[2])
            return ChargeReading(
                reading, part, bank, None, None, conditions, *around, given_by_all=given
            )
        ways, bank = self._charged_by(part)
        full = self._given.get(str(part.name), self._battery.side.output(part))
        way = ways[0] if ways else None
        fed = [array for array in self._array.arrays if array.controller is part]
        array = self._at_array(reading, None, fed[0]) if len(fed) == 1 else None
        below = self._is_below_full(reading, part)
        return ChargeReading(
            reading, part, bank, way, full, conditions, *self._around(bank), array, below
        )

    def _charged_by(self, controller: Controller) -> tuple[list[Path], BankStudy | None]:
        """Ways of a controller to what it charges, and the bank at the end of the first."""
        ways = [p for p in self._wiring.paths if p.kind == "charge" and p.origin == controller.name]
        wholes = {bank.name: bank for bank in self._battery.side.wholes}
        return ways, wholes.get(ways[0].target) if ways else None

    def _is_below_full(self, reading: Reading, controller: Controller) -> bool:
        """True where a voltage that was read with a reading shows that the bank was not full."""
        bank = self._charged_by(controller)[1] if reading.stage is None else None
        return bank is not None and any(
            exceeds(whole.not_full_below, volts.high) and exceeds(volts.low, whole.harmed_below)
            for other, part in self._taken
            if other is reading or (other.taken is not None and other.taken == reading.taken)
            for whole, volts in self._at_bank(other, part, controller, bank)
        )

    def _at_bank(
        self, reading: Reading, part: Named, controller: Controller, bank: BankStudy
    ) -> Iterator[tuple[BankStudy, Band]]:
        """Voltages (V) that a reading tells of a bank or of one battery in it, and of which."""
        from wattproof.study.readings.conditions import Conditions

        own = {each.name: each for each in bank.parts}.get(str(part.name))
        at_controller = part is controller and self._port(reading) == "battery"
        whole = own if isinstance(part, Battery) else bank if at_controller else None
        conditions = Conditions(reading, self._site.climate, self._assume)
        for written in (reading.voltage, reading.posts_voltage):
            if whole is not None and written is not None:
                shown = declared(written, f"U({reading.name})", f"voltage read at {part.name}")
                yield whole, conditions.volts(shown, written)

    def _given_by(
        self, bank: BankStudy | None, sources: tuple[Controller | Charger, ...]
    ) -> Value | None:
        """The most that all sources of a bank give together (A).

        None where an alternator charges it straight, which gives more when it is cold, and where
        another bank is joined to it, out of which more may flow.
        """
        if bank is None or not sources or len(self._battery.side.beside(bank)) > 1:
            return None
        if any(map(is_alternator, sources)):
            return None
        given = total([self._battery.side.output(source) for source in sources])
        return given.named(f"Iall({bank.name})", f"what all that charges {bank.name} gives", "A")

    def _around(
        self, bank: BankStudy | None
    ) -> tuple[Value | None, Value | None, tuple[Controller | Charger, ...]]:
        """Coldest and hottest air around a bank (°C), and all that charges it."""
        if bank is None:
            return None, None, ()
        own = set(bank.parts)
        sources = (c.source for c in self._battery.charged if not own.isdisjoint(c.banks))
        return self._battery.coldest_of(bank), self._battery.hottest_of(bank), tuple(sources)

    def _full_current(self, part: Named) -> Value | None:
        """The largest current (A) of a device or joint in operation; None where none is known."""
        if isinstance(part, Combiner):
            joints = [
                (a, j)
                for a in self._array.arrays
                for j in a.joints_of_each_pole
                if j.combiner is part
            ]
            return joints[-1][0].imp("standard", joints[-1][1].tree) if joints else None
        for array in self._array.arrays:
            for leaf, around in array.carried():
                if isinstance(leaf.element, Passage) and leaf.element.device is part:
                    return array.imp("standard", around)
        if isinstance(part, Busbar):
            return next((bar.through for bar in self._wiring.busbars if bar.busbar is part), None)
        device = self._wiring.devices.get(str(part.name))
        if device is None or device.current is None:
            return None
        return self._given_through(device, device.current)

    @kept
    def _given(self) -> dict[str, Value]:
        """What each source really gives (A), by its name: a small array less than its output."""
        return {str(s.name): amps for each in self._charging.of_banks for s, amps in each.sources}

    def _given_through(self, device: DeviceStudy, current: Value) -> Value:
        """The lasting current of a device (A), or what its source really gives, where less."""
        inside = {passage.wire.name for passage in device.passages if passage.wire is not None}
        for path in self._wiring.paths:
            given = self._given.get(path.origin) if path.kind == "charge" else None
            source = self._plan.controllers.get(path.origin)
            if given is None or source is None or not inside & {w.name for w in path.wires}:
                continue
            if self._wiring.network.output(source).number == current.number:
                return given
        return current
