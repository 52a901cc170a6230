"""Bodies of rules: which figures and tables an installation is checked by."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from wattproof.codes import demands, devices, iec
from wattproof.codes.demands import (
    Ban,
    BodyNote,
    BuildingDemand,
    LeastSize,
    ParallelSize,
    RoofAdder,
)
from wattproof.codes.figures import figure
from wattproof.codes.grids import grid
from wattproof.codes.iec import installation_method_ampacity
from wattproof.codes.marine import engine_space_ampacity
from wattproof.codes.nec import small_conductor_cap, terminal_column_ampacity
from wattproof.codes.small import told_down
from wattproof.codes.styles import DeviceStyle
from wattproof.codes.tables import document, documents
from wattproof.codes.values import Ampacity, NotTabulated, Surroundings, TableValue
from wattproof.codes.voltage import voltage_factor
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge

AmpacityMethod = Callable[
    [Mapping[str, Any], ConductorSize, float, Surroundings, float | None, str | None], Ampacity
]

METHODS: Mapping[str, AmpacityMethod] = {
    "terminal-columns": terminal_column_ampacity,
    "engine-space": engine_space_ampacity,
    "installation-methods": installation_method_ampacity,
}

SMALLEST_ROWS = (
    conductor_of_gauge("18"),
    ConductorSize(1.0),
    ConductorSize(1.5),
    conductor_of_gauge("14"),
)
"""The smallest conductors of the tables, ascending; each body has one of them. 14 AWG is that of
the columns below 90 °C of the National Electrical Code."""
LEAST_AREA = 0.2
"""mm²: what is thinner is no conductor of an installation."""

DISTANCE_KINDS = ("open", "enclosed", "battery-sheathed", "outside-compartment")
DROP_KINDS = ("array", "charge", "critical", "other")


def _held(rules: Mapping[str, Any], found: Ampacity) -> Ampacity:
    """No more on its terminals than the cap of a small conductor, where the body has one."""
    name, limit = rules.get("small_conductor_table"), found.terminal_limit
    cap = small_conductor_cap(name, found.size_used) if name is not None else None
    if cap is None or limit is None or cap.value >= limit.value:
        return found
    return found._replace(terminal_limit=cap)


@dataclass(frozen=True)
class BodyOfRules:
    """One body of rules, for example the National Electrical Code.

    ``scope`` says to what it applies, ``local`` whom to ask on the spot, ``settings`` which
    settings of a plan it fits (vehicle, boat, cabin, portable), ``size_system`` how its tables
    name conductors ("awg" or "mm2"). Where it borrows the rules of another body, for example
    those for arrays on a boat, every such answer says so.
    """

    id: str
    title: str
    edition: str
    scope: str
    local: str
    settings: tuple[str, ...]
    size_system: str
    data: Mapping[str, Any] = field(repr=False, compare=False, hash=False)

    @property
    def battery_settings(self) -> tuple[str, ...]:
        """Settings of a plan whose battery side it fits, beside another body for the array."""
        return tuple(self.data.get("battery_settings", ()))

    @property
    def irradiance_factor(self) -> TableValue:
        """Factor on short-circuit current for irradiance above 1000 W/m²."""
        return figure(self.data["irradiance_factor"])

    @property
    def continuous_factor(self) -> TableValue:
        """Factor on a continuous current that the terminals must cover, else the conductor."""
        return figure(self.data["continuous_factor"])

    @property
    def rated_output(self) -> TableValue | None:
        """Share of a controller's rated output that counts as its current; None where none does."""
        entry = self.data.get("rated_output")
        return figure(entry) if entry is not None else None

    @property
    def string_fuses_in_both_poles(self) -> TableValue | None:
        """Poles in which strings of an array that is not earthed have a fuse; None for one."""
        entry = self.data.get("string_fuses_in_both_poles")
        return figure(entry) if entry is not None else None

    @property
    def least_array(self) -> tuple[TableValue, TableValue] | None:
        """Power (W) and open-circuit voltage (V) by its labels of an array that it covers.

        It says nothing of one that is under both; None where it covers each.
        """
        entry = self.data.get("least_array")
        return None if entry is None else (figure(entry["power"]), figure(entry["voltage"]))

    @property
    def reverse_current_factor(self) -> TableValue:
        """Factor on the short-circuit current that other strings drive into a faulty one."""
        return figure(self.data["reverse_current_factor"])

    @property
    def says_string_fuses(self) -> bool:
        """True where it says itself between which ratings a string fuse lies."""
        return "string_fuse" in self.data

    def string_fuse_window(self, isc: float) -> tuple[TableValue, TableValue | None]:
        """Factors on a module's short-circuit current between which its string fuse lies.

        ``isc`` in A, named in the words of the answer. The lower factor may be met by the NEC and
        must be exceeded by the IEC; the upper must be stayed under, and is None where there is
        none. The module's own maximum fuse rating holds besides.
        """
        window = self.data.get("string_fuse")
        if window is None:
            assert self._lender is not None, "a body has a string fuse window or borrows one"
            lower, upper = self._lender.string_fuse_window(isc)
            return self._borrowed(lower), self._borrowed(upper) if upper else None
        lower = _for_current(figure(window["lower"]), isc)
        return lower, _for_current(figure(window["upper"]), isc) if "upper" in window else None

    def voltage_factor(self, coldest: float) -> TableValue | None:
        """Factor on open-circuit voltage at the coldest temperature in °C, without coefficient.

        For crystalline silicon only. None below the table's last row.
        """
        entry = self.data.get("voltage_factor")
        if entry is not None:
            return voltage_factor(entry["table"], coldest)
        lent = self._lender and self._lender.voltage_factor(coldest)
        return self._borrowed(lent) if lent else None

    def standard_ratings(self) -> tuple[float, ...]:
        """Standard ratings of overcurrent devices in A, ascending."""
        entry = self.data["ratings"]
        return devices.ratings(entry["table"], tuple(entry.get("series", ())))

    def next_rating(self, amps: float) -> float:
        """The smallest standard rating in A not below ``amps``. Raises NotTabulated."""
        return devices.next_rating(self.standard_ratings(), amps)

    def previous_rating(self, amps: float) -> float:
        """The largest standard rating in A not above ``amps``. Raises NotTabulated."""
        return devices.previous_rating(self.standard_ratings(), amps)

    def conductor_sizes(self) -> tuple[ConductorSize, ...]:
        """The conductor sizes of the ampacity tables, ascending."""
        rules = self.data["ampacity"]
        if rules["method"] == "installation-methods":
            return iec.sizes(rules)
        return grid(rules["table"]).sizes

    def ampacity(
        self,
        size: ConductorSize,
        insulation_temperature: float,
        surroundings: Surroundings,
        terminal_temperature: float | None = None,
        cable_kind: str | None = None,
        *,
        below: bool = True,
    ) -> Ampacity:
        """What a copper conductor may carry, temperatures in °C.

        ``terminal_temperature`` is that of the weaker terminal, None where not declared.
        ``cable_kind`` is "pv" for photovoltaic cable. Sizes and insulation temperatures that a
        table lacks are read in the next lower row or column, with a note; nothing is interpolated.
        One below the smallest row is told down from it, as our own extension, so that a fuse on it
        can be judged; ``below`` is False where only what the tables say is wanted. Raises
        NotTabulated where no row or column may stand in.
        """
        rules = self.data["ampacity"]
        read = METHODS[rules["method"]]
        rest = (insulation_temperature, surroundings, terminal_temperature, cable_kind)
        try:
            return read(rules, size, *rest)
        except NotTabulated:
            for row in SMALLEST_ROWS if below else ():
                if LEAST_AREA <= size.area_mm2 < row.area_mm2:
                    try:
                        return _held(rules, told_down(read(rules, row, *rest), size))
                    except NotTabulated:
                        continue
            raise

    def largest_device(self, ampacity: Ampacity) -> tuple[float, TableValue]:
        """Largest rating in A of a device that protects a conductor of that ampacity, and why."""
        limit = devices.largest_device(self.data["device"], self.standard_ratings(), ampacity)
        return limit.value, limit

    @property
    def overload_share(self) -> TableValue | None:
        """Share of the ampacity that a device's conventional tripping current may reach.

        None where the body holds no such condition.
        """
        return self._figure("overload")

    def overload_rating(self, ampacity: float, made: DeviceStyle | None) -> TableValue | None:
        """Largest rating in A of a device of a style that trips in time for an ampacity in A.

        None where the body has no such condition, or the style none that is known.
        """
        share = self.overload_share
        return None if share is None or made is None else made.trips_within(share, ampacity)

    @property
    def roof_adder(self) -> RoofAdder | None:
        """What the sun on a roof adds to the air around a conduit; None where not stated."""
        return demands.roof_adder(self.data)

    def burial_depth(self, *, piped: bool) -> TableValue | None:
        """Least cover in m over a cable in the ground, or over its pipe; None where not stated."""
        return self._figure("burial_in_pipe" if piped else "burial")

    def equipment_grounding(self, amps: float) -> LeastSize | None:
        """The least equipment grounding conductor behind a device of a rating in A.

        None where the body holds no table, or the table ends below.
        """
        return demands.equipment_grounding(self.data, amps)

    def branch_breaker(self, amps: float, nominal: float) -> TableValue | None:
        """What a breaker behind a main device has to interrupt (A), on lead batteries alone.

        ``amps`` is what they drive into a short, ``nominal`` their voltage in V. None where the
        body holds no table for it: then the current of a short at the breaker counts.
        """
        return demands.branch_breaker(self.data, amps, nominal)

    def source_distance(self, kind: str) -> TableValue | None:
        """Largest distance in m of a device from the source that feeds a conductor.

        ``kind`` is one of :data:`DISTANCE_KINDS`: an open conductor, one in a sheath or enclosure,
        one in a sheath straight from a battery, or one whose device sits directly outside the
        battery's compartment. None where the body holds no figure.
        """
        return self._figure_of("source_distance", kind, DISTANCE_KINDS)

    def drop_limit(self, kind: str, *, public: bool = False) -> TableValue:
        """Largest voltage drop as a fraction; ``kind`` is one of :data:`DROP_KINDS`.

        ``public`` is True where the public grid feeds the installation, for which some bodies
        have a tighter figure.
        """
        if public and kind in self.data.get("drop_limit_public", {}):
            return figure(self.data["drop_limit_public"][kind])
        limit = self._figure_of("drop_limit", kind, DROP_KINDS)
        assert limit is not None, "every body has all limits"
        return limit

    def drop_resistance(self, kind: str, size: ConductorSize) -> TableValue | None:
        """Resistance in ohm/m by which the body itself reckons the drop that it limits.

        None where the limit of that kind is not the body's own or the body has no formula: then
        the resistance of the conductor standards at its operating temperature holds.
        """
        if kind not in DROP_KINDS:
            raise ValueError(f"{kind!r} is not one of {', '.join(DROP_KINDS)}")
        own = "by_formula" in self.data["drop_limit"][kind]
        return demands.drop_resistance(self.data, size) if own else None

    @property
    def vented_outside(self) -> tuple[str, ...]:
        """Chemistries of batteries that stand among people only where vented to the outside."""
        return tuple(self.data["battery_place"]["vented_outside"])

    @property
    def pack_device(self) -> TableValue | None:
        """Capacity in Ah of packs in parallel above which each has a device of its own."""
        return demands.pack_device(self.data)

    @property
    def parallel_size(self) -> ParallelSize | None:
        """The smallest conductor that is run in parallel; None where the body names none."""
        return demands.parallel_size(self.data)

    @property
    def building_demands(self) -> tuple[BuildingDemand, ...]:
        """What an array on a building must have."""
        return tuple(demands.building_demands(self.data))

    @property
    def arc_protection_from(self) -> TableValue | None:
        """Voltage from which an array on a building is protected against arcs; None for none."""
        asked = (d.from_volts for d in self.building_demands if d.against == "arcs")
        return next(asked, None)

    def thinnest_conductor(self, *, enclosed: bool) -> LeastSize | None:
        """The thinnest conductor for its strength; None where the body states none."""
        return demands.thinnest_conductor(self.data, enclosed=enclosed)

    def bond_size(self, setting: str, largest: float | None) -> LeastSize | None:
        """The least conductor to the chassis or the water; None where the body states none.

        ``largest`` is the copper (mm²) of the largest negative conductor, where there is one.
        """
        return demands.bond_size(self.data, self.conductor_sizes(), setting, largest)

    def ban(self, what: str) -> Ban:
        """Where something is forbidden outright; ``what`` is one of demands.FORBIDDABLE."""
        return demands.ban(self.data, what)

    def forbids(self, what: str, setting: str) -> bool:
        """True where it is forbidden outright in a setting of plans."""
        return setting in self.ban(what).settings

    def notes(self, setting: str, side: str) -> tuple[BodyNote, ...]:
        """What a result by this body should say of it, in a setting of plans and on a side.

        ``side`` is "array" or "battery": the one that is read by it.
        """
        return tuple(demands.notes(self.data, setting, side))

    def _figure(self, name: str) -> TableValue | None:
        entry = self.data.get(name)
        return None if entry is None else figure(entry)

    def _figure_of(self, name: str, kind: str, kinds: tuple[str, ...]) -> TableValue | None:
        if kind not in kinds:
            raise ValueError(f"{kind!r} is not one of {', '.join(kinds)}")
        entry = self.data[name].get(kind)
        return None if entry is None else figure(entry)

    @property
    def _lender(self) -> "BodyOfRules | None":
        name = self.data.get("borrows")
        return None if name is None else body(name)

    def _borrowed(self, lent: TableValue) -> TableValue:
        source = f"{lent.source}, as {self.title} states none"
        return TableValue(lent.value, lent.unit, lent.what, source, lent.verified, lent.own)


@cache
def body(name: str) -> BodyOfRules:
    """The body of rules with an id such as "nec-2023". Raises ValueError for an unknown one."""
    if name not in known():
        raise ValueError(f"{name!r} is not a known body of rules: {', '.join(known())}")
    data = document(name)
    return BodyOfRules(
        id=name,
        title=data["title"],
        edition=data["edition"],
        scope=data["scope"],
        local=data["local"],
        settings=tuple(data["settings"]),
        size_system=data["size_system"],
        data=data,
    )


def known() -> tuple[str, ...]:
    """Ids of all bodies of rules, sorted."""
    return documents()


def usual_for(setting: str, *, metric: bool) -> BodyOfRules:
    """The body to calculate by where a plan names none.

    metric: whether its conductors are told in mm², of which the tables of American bodies list
    none, so that each counts there as the next smaller gauge. Else it is the body with the lower
    capacities and the shorter distances of those that fit the setting.
    """
    if metric:
        return body("iso-13297" if setting == "boat" else "iec")
    return body("abyc-e11" if setting == "boat" else "nec-2023")


def for_setting(setting: str, *, beside: bool = False) -> tuple[str, ...]:
    """Ids of the bodies that fit a setting (vehicle, boat, cabin, portable), sorted.

    beside: those that fit its battery side alone, beside another for the array.
    """
    return tuple(
        name
        for name in known()
        if setting in (body(name).battery_settings if beside else body(name).settings)
    )


def _for_current(factor: TableValue, isc: float) -> TableValue:
    what = f"{factor.what}: {factor.value:g} x {isc:g} A = {factor.value * isc:.4g} A"
    return TableValue(factor.value, factor.unit, what, factor.source, factor.verified, factor.own)
