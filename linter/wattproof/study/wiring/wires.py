"""Each wire: what it carries, what it may carry, and what is lost in it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import Any, Literal, TypeAlias

from wattproof.circuit import Conductor
from wattproof.codes import (
    Ampacity,
    BodyOfRules,
    NotTabulated,
    Surroundings,
    TableValue,
    material_factor,
    resistance,
)
from wattproof.kept import kept
from wattproof.physics import conductors as formulas
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge
from wattproof.plan import site
from wattproof.plan.amend import Change
from wattproof.plan.datasheets import CableSheet
from wattproof.plan.root import Plan
from wattproof.plan.wiring import Wire
from wattproof.quantities import Quantity, gauge_of, read_quantity
from wattproof.record import record
from wattproof.source import Place, Text
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.cables import (
    COLD_TEMPERATURE,
    DROP_TEMPERATURE,
    FOR_INDOORS,
    NO_CABLE_VOLTAGE,
    NO_INSULATION,
    NO_MATERIAL,
    NO_TERMINAL_MARK,
    NO_TERMINALS,
    NO_WIRE_RUN,
    NOT_FOR_BURIAL,
    NOT_FOR_OUTDOORS,
    RUN,
    SURE_COPPER,
    TINNED,
    UNSTATED,
)
from wattproof.study.assumptions.ratings import FUSE_BEARS
from wattproof.study.assumptions.supposed import label_of
from wattproof.study.limits import exceeds, exceeds_for_sure, over
from wattproof.study.site.climate import from_table
from wattproof.study.wiring.brief import Brief
from wattproof.study.wiring.lengths import places_in
from wattproof.study.wiring.loading import FindCurrents, Loading
from wattproof.working import (
    Supposed,
    Value,
    assumed,
    counted,
    declared,
    function,
    smallest,
    tabled,
)

Side: TypeAlias = Literal["array", "battery"]

COOL_AIR = 30.0
"""°C: the air for which the tables of capacity are made."""
TERMINALS = 75.0
"""Temperature (°C) that terminals stand, where nothing is printed (common practice)."""


_WHATEVER_ITS_SIZE = ("insulation", "rated_voltage", "length", "_ambients")
"""What is computed of a wire by its cable and its place, whatever its size and its current."""


@record
class Carrying:
    """What a conductor may carry.

    value: in its place and on its terminals (A). continuous_limit: what the lasting current times
    the body's continuous factor must stay within (A). device_limit: the largest overcurrent device
    that protects it (A). notes: how a table was read. refused: why it may not be there at all.
    """

    value: Value
    continuous_limit: Value
    device_limit: Value
    notes: tuple[str, ...]
    refused: str | None = None

    def bears(self, current: Value) -> bool:
        """True where it may carry a current (A) for long."""
        return not exceeds(current, self.value)

    def is_protected_by(self, rating: Value) -> bool:
        """True where devices of that rating (A), or of that sum of ratings, protect it."""
        return not exceeds(rating, self.device_limit)


@record
class WireStudy:
    """A wire, or a size of wire proposed in its place.

    proposed: its size, where that is not the one of its cable. loading: its currents and the
    voltage there. cooled: True where it is looked at as if it lay in
    cool air.
    """

    wire: Wire
    sheet: CableSheet
    proposed: ConductorSize | None
    side: Side
    conductors: tuple[Conductor, ...]
    loading: Loading
    plan: Plan
    code: BodyOfRules
    assume: Assumer
    cooled: bool = False

    @property
    def current(self) -> Value | None:
        """The largest lasting current (A), in bright sun on the array side; None without one."""
        return self.loading.currents.largest

    @property
    def operating(self) -> Value | None:
        """The current (A) at which drop is reckoned; None where nothing flows."""
        return self.loading.currents.operating

    @property
    def brief(self) -> Brief | None:
        """What of its current lasts, where the rest runs for minutes."""
        return self.loading.currents.brief

    @property
    def volts(self) -> Value | None:
        """The voltage there (V); None where nothing drives it."""
        return self.loading.volts

    def work_out(self) -> None:
        """Have worked out what it carries, and what its size follows from, whoever asks for it."""
        _ = self.volts, self.current, self.size
        if self.is_sized_by_current:
            _ = self.carrying

    @property
    def is_sized_by_current(self) -> bool:
        """True where nobody tells its size, and whoever laid it is taken to have looked."""
        told = self.sheet.size
        if self.proposed is not None or not isinstance(told, Supposed) or self.current is None:
            return False
        return self.assume.figure_of(label_of(told)) != "harsh"

    @property
    def is_loop(self) -> bool:
        """True where its ends are one terminal, or one device, so that it joins nothing."""
        if self.wire.start == self.wire.to:
            return True
        ends: dict[str, list[Conductor]] = {}
        for part in self.conductors:
            ends.setdefault(part.pole, []).append(part)
        return all(
            min(own, key=lambda c: c.first).start == max(own, key=lambda c: c.last).end
            for own in ends.values()
        )

    @property
    def name(self) -> str:
        """The wire's name."""
        return str(self.wire.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.wire.at

    def asks(self, current: Value) -> tuple[tuple[Value, Value], ...]:
        """What a lasting current (A) asks of it against what it may carry (A): two tests.

        With the allowance of the body of rules for what lasts, and as it is. Empty where no table
        says what it may carry.
        """
        may = self.carrying
        if isinstance(may, str):
            return ()
        current = self._as_lasting(current, may)
        factor = from_table(self.code.continuous_factor, "kcontinuous")
        words = f"lasting current of {self.name} with the allowance for long duration"
        lasting = (factor * current).named(f"Idesign({self.name})", words, "A")
        return (lasting, may.continuous_limit), (current, may.value)

    def fails(self, current: Value) -> tuple[tuple[Value, Value], ...]:
        """Those of the two that it does not pass."""
        return tuple(test for test in self.asks(current) if exceeds(*test))

    @property
    def is_overloaded(self) -> bool:
        """True where its lasting current is over what it may carry; False where nothing says."""
        may = self.carrying
        if self.current is None or isinstance(may, str):
            return False
        return not may.bears(self._as_lasting(self.current, may))

    @property
    def is_overloaded_for_sure(self) -> bool:
        """True where that is told, and not only asked for."""
        may = self.carrying
        if self.current is None or isinstance(may, str):
            return False
        return exceeds_for_sure(self._as_lasting(self.current, may), may.value)

    def _as_lasting(self, current: Value, may: Carrying) -> Value:
        """The lasting current (A) that warms it as much, where some of it runs for minutes."""
        if self.brief is None:
            return current
        area = self.area_mm2
        if self._metal_factors is not None:
            area *= formulas.ALUMINIUM_WITHSTAND
        limits = [self.insulation]
        if (marked := self._terminals) is not None:
            limits.append(Value(marked, "°C"))
        return self.brief.in_conductor(current, may.value, area, self.ambient, smallest(limits))

    @property
    def area_mm2(self) -> float:
        """Area of each pole (mm²), conductors in parallel together."""
        return self.size.area_mm2 * self.parallel

    def is_protected_by(self, rating: Value) -> bool:
        """True where devices of that rating (A) protect it; False where no table says."""
        may = self.carrying
        return isinstance(may, Carrying) and may.is_protected_by(rating)

    def bears_start(self, current: Quantity) -> bool:
        """True where a fuse that bears a starter's current (A) protects it; False without a table.

        It may then lead to a starter without one.
        """
        may = self.carrying
        return isinstance(may, Carrying) and not over(
            current.value, FUSE_BEARS * may.device_limit.number
        )

    @property
    def one_of_them(self) -> WireStudy:
        """One of its conductors in parallel, as a wire by itself."""
        one = self.wire.model_copy(update={"parallel": None})
        return replace(self, wire=one, proposed=self.size)

    def in_size(self, size: ConductorSize) -> WireStudy:
        """The same wire in another size of conductor."""
        return self._with(proposed=size)

    def larger_sizes(self) -> Iterator[WireStudy]:
        """The same wire in each larger size of the body's tables, ascending."""
        for size in self.code.conductor_sizes():
            if over(size.area_mm2, self.size.area_mm2):
                yield self.in_size(size)

    def insulated_for(self, celsius: float) -> WireStudy:
        """The same wire with insulation for another temperature (°C)."""
        text = Text.at(f"{celsius:g} °C", self.sheet.at)
        temperature = read_quantity(text, "temperature")
        sheet = self.sheet.model_copy(update={"insulation_temperature": temperature})
        return replace(self, sheet=sheet, proposed=self.size)

    @kept
    def size(self) -> ConductorSize:
        """The size of its conductor; where nobody tells it, large enough for what it carries.

        Whoever laid it looked at its current, if at nothing else. A harsh reading does not.
        """
        if self.proposed is not None:
            return self.proposed
        own = conductor_size(self.sheet)
        if not self.is_sized_by_current:
            return own
        current = self.current
        assert current is not None
        lasting = self.code.continuous_factor.value * current.number
        bare = self.in_size(own)
        for wire in chain((bare,), bare.larger_sizes()):
            may = wire.carrying
            if isinstance(may, str) or over(lasting, may.continuous_limit.number):
                continue
            if may.bears(current):
                return wire.size
        return own

    @property
    def as_change(self) -> Change:
        """What a plan holds where this size is used for the wire."""
        return Change(self.name, "cable.size", self.size.name)

    def carrying_currents(self, find: FindCurrents) -> WireStudy:
        """The same wire with its currents. find: works them out."""
        return self._with(loading=self.loading.with_currents(find))

    def carrying_current(self, operating: Value | None) -> WireStudy:
        """The same wire with another operating current (A)."""
        return self._with(loading=self.loading.at_operating(operating), proposed=self.size)

    def _with(self, **fields: Any) -> WireStudy:
        """The same wire in another size or with other currents."""
        other = replace(self, **fields)
        computed = vars(self)
        vars(other).update((k, computed[k]) for k in _WHATEVER_ITS_SIZE if k in computed)
        return other

    @property
    def parallel(self) -> int:
        """Conductors in parallel for each pole."""
        return int(self.wire.parallel or 1)

    @kept
    def insulation(self) -> Value:
        """Temperature rating of its insulation (°C)."""
        written = self.sheet.insulation_temperature
        if written is None:
            kind = self.sheet.kind
            return self.assume.value(
                NO_INSULATION,
                self.sheet.name,
                self.sheet.at,
                kind=kind or UNSTATED,
                sold=f"sold as {kind} cable" if kind else "of no stated kind",
            )
        return declared(written, "Ti", f"insulation temperature of {self.sheet.name}")

    @kept
    def rated_voltage(self) -> Value:
        """Rated voltage of its cable (V)."""
        written = self.sheet.voltage
        if written is None:
            kind = self.sheet.kind or UNSTATED
            return self.assume.value(NO_CABLE_VOLTAGE, self.sheet.name, self.sheet.at, kind=kind)
        return declared(written, "Ucable", f"rated voltage of {self.sheet.name}")

    @kept
    def made_for_outdoors(self) -> bool:
        """True where its cable is made for sun and rain, or is taken to be."""
        if self.sheet.outdoor is not None:
            return self.sheet.outdoor
        covered = self.wire.enclosed or self.wire.run == "conduit"
        bare = self.sheet.kind == "building" and not covered
        silence = FOR_INDOORS if bare else NOT_FOR_OUTDOORS
        made, _ = self.assume.is_so(silence, self.sheet.name, self.sheet.at, usual=not bare)
        return made

    @property
    def pv_type(self) -> str:
        """The type of PV cable that is sold in its system of sizes."""
        return "PV WIRE" if gauge_of(self.sheet.size) is not None else "H1Z2Z2-K"

    @kept
    def made_for_burial(self) -> bool:
        """True where its cable may lie in the ground without a pipe; taken as not."""
        if self.sheet.direct_burial is not None:
            return self.sheet.direct_burial
        made, _ = self.assume.is_so(NOT_FOR_BURIAL, self.sheet.name, self.sheet.at, usual=False)
        return made

    @kept
    def ambient(self) -> Value:
        """The hottest air on its way (°C)."""
        return max(self._ambients, key=lambda pair: pair[0].number)[0]

    @property
    def too_hot(self) -> bool:
        """True where the air around it is so hot that its insulation allows no current at all."""
        may = self.carrying
        nothing = isinstance(may, Carrying) and may.value.number <= 0.0
        return nothing or self.ambient >= self.insulation

    @property
    def in_bearable_air(self) -> WireStudy:
        """The same wire; where the air is too hot for its insulation, as if it lay in cool air.

        What is wrong with its size or its fuse even then must not be hidden by the heat.
        """
        return self._in_cool_air or self

    @kept
    def _in_cool_air(self) -> WireStudy | None:
        return replace(self, cooled=True, proposed=self.size) if self.too_hot else None

    @kept
    def carrying(self) -> Carrying | str:
        """What it may carry in the worst place on its way; words where no table says."""
        found: list[Carrying] = []
        for ambient, engine in self._ambients:
            carrying = self._carrying(ambient, engine)
            if isinstance(carrying, str):
                return carrying
            found.append(carrying)
        return min(found, key=lambda c: c.value.number)

    @property
    def refused(self) -> str | None:
        """Why a cable of its kind may not be in its place at all; None where it may."""
        return self.carrying.refused if isinstance(self.carrying, Carrying) else None

    @property
    def largest_fitting_device(self) -> float | None:
        """The largest standard rating (A) that protects it and bears its lasting current."""
        if isinstance(self.carrying, str):
            return None
        try:
            rating = self.code.previous_rating(self.carrying.device_limit.number)
        except NotTabulated:
            return None
        if self.current is None:
            return rating
        needed = self.code.continuous_factor.value * self.current.number
        return None if over(needed, rating) else rating

    @kept
    def _supposed_size(self) -> tuple[Value, ...]:
        """Its size (m²), where a plan does not tell it, so that what is read by it says so."""
        size = self.sheet.size
        if not isinstance(size, Supposed):
            return ()
        return (declared(size, f"A({self.name})", f"size of {self.name}"),)

    @kept
    def resistance_per_metre(self) -> Value:
        """Resistance of one conductor at full load (Ω/m)."""
        source = "assumed for drop: a conductor at full load, not above its insulation's rating"
        hot = min(DROP_TEMPERATURE.value, self.insulation.number)
        value = self._resistance_at(hot, source, tinned=self.sheet.kind in TINNED.value)
        if self._metal_factors is not None:
            value = value * self._metal_factors[0]
        return value.named(f"r({self.name})", f"resistance per metre of {self.name}, hot", "Ω/m")

    @kept
    def cold_resistance_per_metre(self) -> Value:
        """Resistance of one conductor when cold (Ω/m), for the largest fault current.

        A metal that is not stated counts as plain copper here, which gives the larger current.
        """
        value = self._resistance_at(
            COLD_TEMPERATURE.value, "a cold conductor has the largest current", tinned=False
        )
        if self._metal_factors is not None and self.sheet.material is not None:
            value = value * self._metal_factors[0]
        return value.named(f"r20({self.name})", f"resistance per metre of {self.name}, cold", "Ω/m")

    def _resistance_at(self, temperature: float, source: str, *, tinned: bool) -> Value:
        """Resistance of one copper conductor of its size at a temperature in °C (Ω/m)."""
        found, reference, coefficient = resistance(self.size, tinned=tinned)
        r = from_table(found, f"r{reference:g}")
        if self._supposed_size:
            read = function("table", r.number, r, *self._supposed_size)
            r = read.named(r.symbol, r.words, r.unit)
        if temperature == reference:
            return r
        return formulas.resistance_at(
            r,
            tabled(reference, "°C", "Tref", "temperature of the table", found.source),
            tabled(temperature, "°C", "Tcond", "conductor temperature", source),
            tabled(coefficient, "1/K", "a", "temperature coefficient of copper", found.source),
        )

    def cold_resistance_over(self, metres: float) -> Value:
        """Resistance of some length of one pole at 20 °C (Ω)."""
        way = self._over(self.cold_resistance_per_metre, metres)
        return way.named(f"Rcold({self.name})", f"cold resistance of {self.name}", "Ω")

    def hot_resistance_over(self, metres: float) -> Value:
        """Resistance of some length of one pole at full load (Ω)."""
        way = self._over(self.resistance_per_metre, metres)
        return way.named(f"Rhot({self.name})", f"hot resistance of {self.name}", "Ω")

    def _over(self, per_metre: Value, metres: float) -> Value:
        length = self.length
        if metres != length.number:
            part = function("stretch", metres, length, *places_in(self.wire))
            length = part.named("L", f"part of {self.name}", "m")
        return formulas.conductor_resistance(per_metre, length, *self._side_by_side)

    @property
    def _side_by_side(self) -> tuple[Value, ...]:
        """How many conductors are in parallel, where there are several."""
        n = self.wire.parallel
        if n is None:
            return self._as_many_as_needed
        if n == 1:
            return ()
        return (counted(n, n.text, n.place, "n", f"conductors in parallel in {self.name}"),)

    @kept
    def _as_many_as_needed(self) -> tuple[Value, ...]:
        """Conductors in parallel, where nobody tells its size and the largest alone is too small.

        Whoever laid a cable for more than one conductor carries laid several.
        """
        current = self.current
        if not self.is_sized_by_current or current is None:
            return ()
        may = self.in_size(self.size).carrying
        if isinstance(may, str) or not may.continuous_limit.number or not may.value.number:
            return ()  # it may carry nothing there, in whatever number
        lasting = self.code.continuous_factor.value * current.number
        share = max(lasting / may.continuous_limit.number, current.number / may.value.number)
        if not over(share, 1.0) or may.bears(current):
            return ()
        many = function("as many as needed", float(math.ceil(share)), *self._supposed_size)
        words = f"conductors in parallel in {self.name}, as many as its current needs"
        return (many.named("n", words, ""),)

    @kept
    def length(self) -> Value:
        """Length one way (m)."""
        return declared(self.wire.length, f"L({self.name})", f"length of {self.name}, one way")

    @kept
    def resistance(self) -> Value:
        """Resistance of one pole (Ω)."""
        own = self.resistance_per_metre, self.length, *self._side_by_side
        value = formulas.conductor_resistance(*own)
        return value.named(f"R({self.name})", f"resistance of one pole of {self.name}", "Ω")

    @kept
    def drop(self) -> Value | None:
        """Voltage lost in it, over the poles that it has (V)."""
        if self.operating is None:
            return None
        pole = self.operating * self.resistance
        whole = pole if self.poles == 1 else 2.0 * pole
        words = f"voltage drop in {self.name}, {'out and back' if self.poles == 2 else 'one pole'}"
        return whole.named(f"ΔU({self.name})", words, "V")

    def drop_by_body(self, kind: str) -> Value | None:
        """Voltage lost in it by the body's own formula (V), for a kind of way.

        None where nothing flows, or the body has no formula for that kind.
        """
        found = self.code.drop_resistance(kind, self.size)
        if self.operating is None or found is None:
            return None
        per_metre = from_table(found, f"rbody({self.name})")
        if self._metal_factors is not None:
            per_metre = per_metre * self._metal_factors[0]
        way = formulas.conductor_resistance(per_metre, self.length, *self._side_by_side)
        whole = self.operating * way if self.poles == 1 else 2.0 * (self.operating * way)
        words = f"voltage drop in {self.name} by the body's own formula"
        return whole.named(f"ΔUbody({self.name})", words, "V")

    @kept
    def loss(self) -> Value | None:
        """Heat in it at the operating current (W)."""
        if self.operating is None:
            return None
        pole = formulas.power_loss(self.operating, self.resistance)
        whole = pole if self.poles == 1 else 2.0 * pole
        return whole.named(f"Ploss({self.name})", f"power lost in {self.name}", "W")

    @property
    def poles(self) -> int:
        """Poles that it has: 2, or 1 for a single conductor."""
        return len({c.pole for c in self.conductors})

    @property
    def run(self) -> str:
        """How it is laid; in free air where the plan does not say."""
        return self.wire.run or RUN.value

    @property
    def loaded(self) -> int:
        """Loaded conductors that run together."""
        return int(self.wire.bundled or self.poles * self.parallel)

    @kept
    def _ambients(self) -> list[tuple[Value, bool]]:
        """Air temperature of each place on its way, and whether it is an engine space."""
        found: list[tuple[Value, bool]] = []
        if self.cooled:
            words, source = "air in which it carries its table's current", "the tables' 30 °C"
            return [(tabled(COOL_AIR, "°C", "Ta", words, source), False)]
        array_side = self.side == "array"
        for name in self.wire.place or ():
            place = self.plan.site.places[name]
            if place.ambient is not None:
                ambient = declared(place.ambient, "Ta", f"ambient of {name}")
            else:
                ambient = self.assume.ambient(array_side, place.engine_space, str(name), place.at)
            found.append((self._over_roof(ambient, place), place.engine_space))
        if not found:
            found.append((self.assume.ambient(array_side, False, self.name, self.at), False))
        return found

    def _over_roof(self, ambient: Value, place: site.Surroundings) -> Value:
        """The air around it (°C); in a pipe close over a roof in the sun, by the body's adder."""
        adder, height = self.code.roof_adder, place.over_roof
        if adder is None or height is None or self.run != "conduit" or height.value >= adder.under:
            return ambient
        written = self.plan.site.hottest
        air = (
            declared(written, "Thot", "hottest air")
            if written is not None
            else self.assume.hottest()
        )
        hot = (air + from_table(adder.adds, "ΔTroof")).named(
            "Troof", f"air around {self.name}, close over the roof in the sun", "°C"
        )
        return max((ambient, hot), key=lambda air: air.number)

    @kept
    def _metal_factors(self) -> tuple[Value, Value] | None:
        """Factors on resistance and ampacity where the metal is not surely copper."""
        material = self.sheet.material
        if material == "copper" or (material is None and self.sheet.kind in SURE_COPPER.value):
            return None
        if material is None:
            copper, doubt = self.assume.is_so(
                NO_MATERIAL, self.sheet.name, self.sheet.at, usual=True
            )
            if copper:
                return None
        on_resistance, on_ampacity = material_factor(material or "copper-clad-aluminium")
        if material is not None:
            return from_table(on_resistance, "kmetal"), from_table(on_ampacity, "kmetal")
        return (
            assumed(on_resistance.value, "", "k", on_resistance.what, doubt),
            assumed(on_ampacity.value, "", "k", on_ampacity.what, doubt),
        )

    def _carrying(self, ambient: Value, engine: bool) -> Carrying | str:
        around = Surroundings(
            ambient.number,
            engine_space=engine,
            free_air=self._in_free_air,
            surface=self.run == "surface" and not self._in_free_air,
            loaded_conductors=self.loaded,
            circuit_voltage=self.volts.number if self.volts is not None else 0.0,
        )
        try:
            found = self._in_table(around, self._terminals)
            if self._better_terminals(found):
                found = self._in_table(around, TERMINALS)
        except NotTabulated as missing:
            return str(missing)
        return self._traced(found, ambient)

    def _in_table(self, around: Surroundings, terminals: float | None) -> Ampacity:
        return self.code.ampacity(
            self.size,
            self.insulation.number,
            around,
            terminals,
            self.sheet.kind,
            below=not isinstance(self.sheet.size, Supposed),
        )

    def _better_terminals(self, found: Ampacity) -> bool:
        """True where terminals hold it back that may well be marked for more.

        That is asked only where it decides; what the body of rules takes for terminals without a
        mark is usual then.
        """
        limit = found.terminal_limit
        if limit is None or self.wire.terminal_temperature is not None or self.plan.code is None:
            return False
        if limit.value >= found.corrected:
            return False
        return self.assume.is_so(NO_TERMINAL_MARK, self.name, self.at, usual=False)[0]

    @kept
    def _terminals(self) -> float | None:
        """The temperature (°C) that its terminals stand; None for what the body of rules takes."""
        told = self.wire.terminal_temperature
        if told is not None:
            return told.value
        if self.plan.code is not None:
            return None  # the body of rules that the plan names has its own figure
        usual, _ = self.assume.is_so(NO_TERMINALS, self.name, self.at, usual=True)
        return TERMINALS if usual else None

    @kept
    def _in_free_air(self) -> bool:
        """True where it runs in free air, or is taken to."""
        if self.wire.run is not None:
            return self.wire.run == "free-air"
        return self.assume.is_so(NO_WIRE_RUN, self.name, self.at, usual=True)[0]

    def _traced(self, found: Ampacity, ambient: Value) -> Carrying:
        """A table reading as traced numbers, for all its conductors and its metal."""
        scale = [*self._side_by_side]
        if self._metal_factors is not None:
            scale.append(self._metal_factors[1])
        column = function("table", found.base.value, self.insulation, *self._supposed_size)
        base = column.named("Itable", f"{found.base.what}; {found.base.cited}", "A")
        factor = function("table", found.ambient_factor.value, ambient, self.insulation)
        source = f"{found.ambient_factor.what}; {found.ambient_factor.cited}"
        corrected = base * factor.named("kambient", source, "")
        corrected = corrected * from_table(found.bundling_factor, "kbundle")
        for each in scale:
            corrected = corrected * each
        corrected = corrected.named(f"Iz({self.name})", f"corrected ampacity of {self.name}", "A")
        value = limit = corrected
        if found.terminal_limit is not None:
            limit = from_table(found.terminal_limit, "Iterminal")
            for each in scale:
                limit = limit * each
            if scale:
                words = f"ampacity of all conductors of {self.name} on their terminals"
                limit = limit.named(f"Iterminal({self.name})", words, "A")
            value = smallest([corrected, limit])
            words = f"ampacity of {self.name} with its terminals"
            value = value.named(f"Iz({self.name})", words, "A")
        amps, why = self.code.largest_device(_scaled(found, scale))
        device = function("largest device", amps, value)
        device = device.named("Inmax", f"{why.what}; {why.cited}", "A")
        return Carrying(value, limit, device, found.notes, found.refused)


def _scaled(found: Ampacity, scale: list[Value]) -> Ampacity:
    """The reading for conductors in parallel and metals other than copper."""
    if not scale:
        return found
    factor = math.prod(each.number for each in scale)
    terminal = found.terminal_limit
    return found._replace(
        base=_times(found.base, factor),
        terminal_limit=_times(terminal, factor) if terminal is not None else None,
    )


def _times(value: TableValue, factor: float) -> TableValue:
    return value._replace(value=value.value * factor)


def conductor_size(sheet: CableSheet) -> ConductorSize:
    """The size of a cable's conductor as tables name it."""
    gauge = gauge_of(sheet.size)
    if gauge is not None:
        return conductor_of_gauge(gauge)
    return ConductorSize(round(sheet.size.value * 1e6, 6), None)
