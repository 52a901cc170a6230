"""The operating states of one circuit: computed once, when asked for, shared by all rules."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING

from wattproof.circuit import Circuit, Conductor, Element, Passage, Source, Tree, leaves
from wattproof.codes import BodyOfRules, body
from wattproof.plan.amend import Addition
from wattproof.plan.array import String
from wattproof.plan.devices import Way
from wattproof.plan.fields import Named
from wattproof.plan.power import Controller
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name, resolve
from wattproof.source import Place, Text
from wattproof.study.alternators import (
    AlternatorLoad,
    LithiumOnAlternator,
    NoWayBack,
    WrongInput,
    alternator_loads,
    lithium_on_alternators,
    without_way_back,
    wrong_inputs,
)
from wattproof.study.arrays import ArrayStudy, Backflow, Branch, Chain, Joint, Link, device_rating
from wattproof.study.assumptions import Assumer
from wattproof.study.battery_side import BankStudy, BatterySide
from wattproof.study.body_returns import BodyReturn, body_returns
from wattproof.study.busbars import BusbarStudy, busbars
from wattproof.study.charging import Charging, charging
from wattproof.study.climate import Climate, from_table
from wattproof.study.compensation import Compensation, compensations
from wattproof.study.devices import DeviceStudy, rated
from wattproof.study.discharging import (
    Discharging,
    Drawn,
    LoadPort,
    discharging,
    drawn,
    load_ports,
)
from wattproof.study.drops import Path, array_path, battery_paths
from wattproof.study.fault_sweep import Fault, FaultSweep, Feed
from wattproof.study.grounding import (
    Ground,
    TiedPole,
    TiedPositive,
    grounds,
    is_grounded,
    tied_poles,
    tied_positives,
)
from wattproof.study.interrupts import Duties, Duty
from wattproof.study.joined_banks import (
    ChargedBanks,
    JoinedBanks,
    PackCount,
    Tap,
    charged_banks,
    joined_banks,
    pack_counts,
    taps,
)
from wattproof.study.label_coefficients import OddCoefficient, odd_coefficients
from wattproof.study.labels import (
    Contradiction,
    PowerGap,
    Slip,
    contradictions,
    fill_factor,
    is_nominal,
    odd_fill_factor,
    power_gap,
    slips,
    usual_vmp,
)
from wattproof.study.limits import exceeds, margin_below, spread
from wattproof.study.neighbours import Neighbourhood, Neighbours
from wattproof.study.noted import noted_of
from wattproof.study.panels import PanelStudy, panels
from wattproof.study.places import Placed, coldest_of, hottest_of, placed
from wattproof.study.proposals import (
    NEAR,
    Rearranged,
    distinct,
    fewer_in_series,
    fuse_in,
    fuse_that_breaks,
    in_series,
    labelled,
    moved,
    photovoltaic_fuse,
    switch_before,
    values_of,
)
from wattproof.study.protection import (
    Exit,
    Guard,
    PositiveNet,
    battery_feed,
    exits,
    guards,
    link_guards,
)
from wattproof.study.relays import SensedInSun, sensed_in_sun
from wattproof.study.series import Broken, broken_without_portable, in_series_with
from wattproof.study.sharing import Sharing, sharing
from wattproof.study.short_circuits import Banks
from wattproof.study.shunts import PastShunt, past_shunts
from wattproof.study.states import STATES, WORDS, State
from wattproof.study.strings import ModuleStudy, StringStudy
from wattproof.study.switching import (
    between_controller_and_banks,
    cut_off_by,
    is_unplugged,
)
from wattproof.study.terminal_fits import TerminalFit, terminal_fits
from wattproof.study.uncontrolled import StraightOn, straight_on
from wattproof.study.units import Cooled, Start, cooled, starts
from wattproof.study.window import Window
from wattproof.study.wires import Carrying, WireStudy, conductor_size
from wattproof.working import Assumption, Value, declared_places

if TYPE_CHECKING:
    from wattproof.study.connection_order import Stage
    from wattproof.study.curves import CurveStudy
    from wattproof.study.daily_use import DailyUse
    from wattproof.study.energy import EnergyStudy
    from wattproof.study.figures import Figure
    from wattproof.study.module_models import ModuleModel
    from wattproof.study.one_line import OneLine
    from wattproof.study.schedules import Schedules
    from wattproof.study.sun_hours import Lying, Sun, TooMuch
    from wattproof.study.taken import Readings

__all__ = [
    "STATES",
    "WORDS",
    "AlternatorLoad",
    "ArrayStudy",
    "Backflow",
    "BankStudy",
    "BodyReturn",
    "Branch",
    "Broken",
    "BusbarStudy",
    "Carrying",
    "Chain",
    "ChargedBanks",
    "Charging",
    "Compensation",
    "Contradiction",
    "Cooled",
    "DeviceStudy",
    "Discharging",
    "Drawn",
    "Duty",
    "Exit",
    "Fault",
    "FaultSweep",
    "Feed",
    "Ground",
    "Guard",
    "JoinedBanks",
    "Joint",
    "Link",
    "LithiumOnAlternator",
    "LoadPort",
    "ModuleStudy",
    "Neighbours",
    "NoWayBack",
    "OddCoefficient",
    "PackCount",
    "PanelStudy",
    "PastShunt",
    "Path",
    "Placed",
    "PowerGap",
    "Rearranged",
    "SensedInSun",
    "Sharing",
    "Slip",
    "Start",
    "State",
    "StraightOn",
    "StringStudy",
    "Study",
    "Tap",
    "TerminalFit",
    "TiedPole",
    "TiedPositive",
    "Window",
    "WireStudy",
    "WrongInput",
    "broken_without_portable",
    "contradictions",
    "device_rating",
    "distinct",
    "exceeds",
    "fewer_in_series",
    "fill_factor",
    "from_table",
    "fuse_in",
    "fuse_that_breaks",
    "in_series",
    "in_series_with",
    "is_nominal",
    "labelled",
    "margin_below",
    "moved",
    "odd_coefficients",
    "odd_fill_factor",
    "photovoltaic_fuse",
    "power_gap",
    "rated",
    "slips",
    "spread",
    "switch_before",
    "usual_vmp",
    "values_of",
]


class Study:
    """Everything that is computed of one circuit. Rules read it; it changes nothing."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.plan: Plan = circuit.plan
        self.code: BodyOfRules = _body_for(self.plan)
        self.assume = Assumer(self.plan)
        self.climate = Climate(self.plan, self.code, self.assume)

    @cached_property
    def modules(self) -> dict[str, ModuleStudy]:
        """The datasheets that strings use, by name."""
        sources = [e for e in self.circuit.elements if isinstance(e, Source)]
        used = {sheet.name: sheet for source in sources for sheet in source.modules}
        return {name: ModuleStudy(s, self.climate, self.assume) for name, s in used.items()}

    @cached_property
    def arrays(self) -> tuple[ArrayStudy, ...]:
        """One for each solar input that an array feeds."""
        found = []
        for array in self.circuit.arrays:
            sources = [
                leaf.element for leaf in leaves(array.tree) if isinstance(leaf.element, Source)
            ]
            strings = {s: StringStudy(s, self.climate, self.modules) for s in sources}
            feed = battery_feed(array, self._positive_net)
            leaks = array.controller.blocks_reverse is False
            maybe = _may_leak(array.controller)
            study = ArrayStudy(array, self.plan, self.climate, strings)
            study.feed, study.possible_feed = feed if leaks else None, feed if maybe else None
            found.append(study)
        return tuple(found)

    @cached_property
    def straight_on(self) -> tuple[StraightOn, ...]:
        """Strings that feed something with no controller between."""
        return tuple(straight_on(self.circuit, self.climate, self.modules, self.battery_side))

    @cached_property
    def models(self) -> dict[str, ModuleModel]:
        """The datasheets of `modules` as curves."""
        from wattproof.study.module_models import ModuleModel

        return {name: ModuleModel(m.sheet, self.assume) for name, m in self.modules.items()}

    @cached_property
    def curves(self) -> tuple[CurveStudy, ...]:
        """The curves of each array that can be drawn."""
        # Most checks need no curve, so the solver is only imported where one is asked for.
        from wattproof.study.curves import CurveStudy

        found = [CurveStudy(a, self.wires, self.models, self.window_of(a)) for a in self.arrays]
        return tuple(curves for curves in found if curves.drawable)

    def curve_of(self, array: ArrayStudy) -> CurveStudy | None:
        """The curves of an array; None where a label of it belongs to no curve."""
        return next((c for c in self.curves if c.array is array), None)

    @cached_property
    def readings(self) -> Readings:
        """What a meter showed once it was built."""
        from wattproof.study.taken import Readings

        return Readings(self)

    @cached_property
    def battery_side(self) -> BatterySide:
        """Banks, sources and loads."""
        return BatterySide(self.circuit, self.assume)

    @property
    def banks(self) -> tuple[BankStudy, ...]:
        """Every bank."""
        return tuple(self.battery_side.banks.values())

    @cached_property
    def wires(self) -> dict[str, WireStudy]:
        """Every wire by name."""
        parts: dict[str, list[Conductor]] = {}
        for element in self.circuit.elements:
            if isinstance(element, Conductor):
                parts.setdefault(element.name, []).append(element)
        on_arrays = self._on_arrays
        return {name: self._wire(conductors, on_arrays) for name, conductors in parts.items()}

    @cached_property
    def devices(self) -> dict[str, DeviceStudy]:
        """Every fuse, breaker, switch and panel way by name; ways of panels as `panel.way`."""
        parts: dict[str, list[Passage]] = {}
        for element in self.circuit.elements:
            if isinstance(element, Passage):
                parts.setdefault(_device_key(element), []).append(element)
        return {name: self._device(passages) for name, passages in parts.items()}

    @cached_property
    def paths(self) -> tuple[Path, ...]:
        """Whole paths of the current with their drop."""
        on_arrays = [array_path(array, self.wires) for array in self.arrays]
        on_batteries = battery_paths(self.circuit, self.battery_side, self.wires)
        return (*(path for path in on_arrays if path is not None), *on_batteries)

    @cached_property
    def exits(self) -> tuple[Exit, ...]:
        """Every way out of every bank, to its first overcurrent device."""
        return tuple(e for bank in self.banks for e in exits(bank, self.circuit))

    @cached_property
    def guards(self) -> tuple[Guard, ...]:
        """For every stretch of wire that banks feed, the overcurrent devices in between."""
        return tuple(guards(self._positive_net, self.wires))

    @cached_property
    def link_guards(self) -> tuple[Guard, ...]:
        """What limits the current in links between batteries in series."""
        return tuple(link_guards(self.battery_side, self.circuit, self.wires))

    @cached_property
    def fault_sweep(self) -> FaultSweep:
        """A short in every stretch of every wire."""
        banks = Banks(self.battery_side, self.circuit, self.wires, self.assume)
        return FaultSweep(self.arrays, self.guards, self.wires, self.battery_side, banks)

    @cached_property
    def duties(self) -> tuple[Duty, ...]:
        """What each overcurrent device of the battery side may have to break, and can."""
        banks = self.fault_sweep.banks
        return Duties(self.devices, self._neighbourhood, banks, self.assume).all()

    def fuse_at(
        self, wire: WireStudy, beside: str, bank: BankStudy, rating: float, limit: Value | None
    ) -> Addition | None:
        """A fuse added in a wire of the battery side beside one of the components that it joins.

        It breaks what the bank and those in parallel with it drive into a short there. rating: in
        A. limit: how far from that end it may be (m). None where no usual style does it.
        """
        ends = [end for part in wire.conductors for end in (part.start, part.end)]
        here = [e for e in ends if e.component == beside and e.pole == "positive"]
        if not here:
            return None
        banks, nominal = self.fault_sweep.banks, bank.nominal.number
        driven = [banks.at(b, here[0]) for b in self.battery_side.beside(bank)]
        amps = sum(each.number for each in driven if each is not None)
        volts = wire.volts.number if wire.volts is not None else nominal
        made = fuse_that_breaks(amps, nominal, volts, rating)
        if made is None:
            return None
        within = limit.number if limit is not None else NEAR
        return fuse_in(wire.wire, beside, rating, made, nominal, self.plan, within)

    @cached_property
    def busbars(self) -> tuple[BusbarStudy, ...]:
        """Every busbar that current passes through."""
        return tuple(busbars(self.circuit, self.battery_side, self.arrays))

    @cached_property
    def panels(self) -> tuple[PanelStudy, ...]:
        """Every panel of known rating."""
        return tuple(panels(self.plan, self.devices, self.guards))

    @cached_property
    def terminal_fits(self) -> tuple[TerminalFit, ...]:
        """Wires with the components that tell the largest conductor they take."""
        return tuple(terminal_fits(self.wires.values(), self.plan))

    @cached_property
    def starts(self) -> tuple[Start, ...]:
        """Inverters with the hardest start that is asked of them."""
        return tuple(starts(self.plan, self.assume))

    @cached_property
    def cooled(self) -> tuple[Cooled, ...]:
        """Controllers and inverters with the air around them, where their limit is told."""
        return tuple(cooled(self.plan, self.assume))

    @cached_property
    def body_returns(self) -> tuple[BodyReturn, ...]:
        """Lasting currents that go back through the chassis, the water or the earth."""
        around = self._neighbourhood
        return tuple(body_returns(self.circuit, around, self.battery_side, self.wires))

    def neighbours_of(self, element: Conductor | Passage) -> tuple[Neighbours, Neighbours] | None:
        """What lies on either side of a conductor or device of the battery side."""
        return self._neighbourhood.of(element)

    @cached_property
    def _neighbourhood(self) -> Neighbourhood:
        return Neighbourhood(self.circuit, self.battery_side)

    def switches_of(self, array: ArrayStudy, pole: str | None = None) -> tuple[Passage, ...]:
        """Switches and breakers that cut a whole array off its controller; empty without.

        pole: "positive" or "negative" where only what opens that pole counts.
        """
        return cut_off_by(array.tree, pole)

    def is_unplugged(self, array: ArrayStudy) -> bool:
        """True for a small array that is set up, plugged in, and taken away again."""
        return is_unplugged(array, self.plan.setting)

    def battery_switches_of(self, array: ArrayStudy) -> tuple[Passage, ...]:
        """Switches and breakers that part its controller from every bank; empty without."""
        return between_controller_and_banks(array.controller, self.circuit)

    @cached_property
    def _positive_net(self) -> PositiveNet:
        return PositiveNet(self.banks, self.circuit)

    def is_worked_flooded(self, bank: BankStudy) -> bool:
        """True for a flooded bank that the plan says is used every day."""
        if bank.battery.chemistry != "flooded":
            return False
        return any(bank in each.banks for each in self.energy if each.has_use)

    @cached_property
    def charging(self) -> tuple[Charging, ...]:
        """What charges each bank, all sources at once."""
        found = (charging(b, self.battery_side, self.circuit, self.arrays) for b in self.banks)
        return tuple(c for c in found if c is not None)

    @cached_property
    def joined_banks(self) -> tuple[JoinedBanks, ...]:
        """Every two banks that conductors join."""
        return tuple(joined_banks(self.battery_side, self.circuit))

    @cached_property
    def pack_counts(self) -> tuple[PackCount, ...]:
        """Batteries in series and in parallel, where their maker limits how many."""
        return tuple(pack_counts(self.battery_side, self.joined_banks))

    @cached_property
    def sensed_in_sun(self) -> tuple[SensedInSun, ...]:
        """Relays that sense voltage, with the solar controllers that raise it."""
        windows = (self.window_of(array) for array in self.arrays)
        return tuple(sensed_in_sun(self.joined_banks, windows, self.battery_side))

    @cached_property
    def compensations(self) -> tuple[Compensation, ...]:
        """Sources that say whether their voltage follows the temperature of a bank."""
        return tuple(compensations(self.battery_side, self.plan, self.climate))

    @cached_property
    def taps(self) -> tuple[Tap, ...]:
        """What hangs on the joint between banks in series."""
        return tuple(taps(self.battery_side, self.circuit))

    @cached_property
    def past_shunts(self) -> tuple[PastShunt, ...]:
        """What the shunts of battery monitors do not count."""
        return tuple(past_shunts(self.battery_side, self.circuit))

    @cached_property
    def charged_banks(self) -> tuple[ChargedBanks, ...]:
        """What every source charges."""
        return tuple(charged_banks(self.battery_side, self.circuit))

    @cached_property
    def load_ports(self) -> tuple[LoadPort, ...]:
        """What hangs on the load terminals of controllers."""
        return tuple(load_ports(self.battery_side, self.circuit))

    @cached_property
    def drawn(self) -> tuple[Drawn, ...]:
        """What is drawn when everything runs, from banks of known limit or not."""
        return tuple(drawn(self.battery_side, self.circuit, self.load_ports))

    @cached_property
    def discharging(self) -> tuple[Discharging, ...]:
        """What is drawn from banks when everything runs, where their limit can be told."""
        return tuple(discharging(self.drawn, self.battery_side))

    @cached_property
    def alternator_loads(self) -> tuple[AlternatorLoad, ...]:
        """What vehicle chargers draw from alternators."""
        return tuple(alternator_loads(self.battery_side, self.circuit))

    @cached_property
    def wrong_inputs(self) -> tuple[WrongInput, ...]:
        """Vehicle chargers that take their input from the wrong side."""
        return tuple(wrong_inputs(self.battery_side, self.circuit))

    @cached_property
    def lithium_on_alternators(self) -> tuple[LithiumOnAlternator, ...]:
        """Lithium banks that an alternator feeds without a charger."""
        banks = self.fault_sweep.banks
        return tuple(lithium_on_alternators(self.battery_side, self.circuit, banks))

    @cached_property
    def without_way_back(self) -> tuple[NoWayBack, ...]:
        """Alternators that return through the engine, to banks that are not tied to it."""
        return tuple(without_way_back(self.battery_side, self.circuit, self.grounds))

    @cached_property
    def sharing(self) -> tuple[Sharing, ...]:
        """How three or more banks in parallel share in what is drawn."""
        return tuple(sharing(self.battery_side, self.circuit, self.fault_sweep.banks))

    @cached_property
    def energy(self) -> tuple[EnergyStudy, ...]:
        """A day's balance of every bank; empty where the plan says nothing of its use."""
        if self._sun is None or self._use is None:
            return ()
        from wattproof.study.energy import EnergyBalances

        windows = {str(a.controller.name): self.window_of(a) for a in self.arrays}
        balances = EnergyBalances(
            self.circuit,
            self.battery_side,
            windows,
            self._sun,
            self._use,
            self.climate,
            self.assume,
        )
        return tuple(balances.all())

    @cached_property
    def too_much_sun(self) -> tuple[TooMuch, ...]:
        """Declared sun hours that no clear sky brings at the latitude."""
        if self._sun is None:
            return ()
        strings = [s for array in self.arrays for s in array.declared_strings]
        found = (self._sun.impossible(s, p) for p in self._sun.periods for s in strings)
        return tuple(each for each in found if each is not None)

    @cached_property
    def lying(self) -> tuple[Lying, ...]:
        """Strings that lie level where the winter sun is low, of a plan that tells its use."""
        if self._sun is None:
            return ()
        strings = [s for array in self.arrays for s in array.declared_strings]
        found = (self._sun.lying(string) for string in strings)
        return tuple(lying for lying in found if lying is not None)

    @cached_property
    def _sun(self) -> Sun | None:
        if self.plan.energy is None:
            return None
        from wattproof.study.sun_hours import Sun

        return Sun(self.plan, self.assume)

    @cached_property
    def _use(self) -> DailyUse | None:
        if self.plan.energy is None:
            return None
        from wattproof.study.daily_use import DailyUse

        return DailyUse(self.plan, self.battery_side, self.load_ports, self.assume)

    @cached_property
    def grounds(self) -> tuple[Ground, ...]:
        """Negatives of banks that are bonded."""
        return tuple(grounds(self.battery_side, self.circuit, self.wires))

    def is_grounded(self, array: ArrayStudy) -> bool:
        """True where a pole of an array is tied to the chassis, the water or the earth."""
        return is_grounded(array.controller, self.circuit)

    @cached_property
    def tied_positives(self) -> tuple[TiedPositive, ...]:
        """Positives of batteries and arrays that are tied to a ground."""
        return tuple(tied_positives(self.circuit))

    @cached_property
    def tied_poles(self) -> tuple[TiedPole, ...]:
        """Negatives of controllers with a common positive that are tied past them."""
        return tuple(tied_poles(self.circuit))

    @cached_property
    def placed(self) -> tuple[Placed, ...]:
        """Banks and what can make a spark, each in its place."""
        return tuple(placed(self.plan))

    def coldest_of(self, bank: BankStudy) -> Value:
        """Coldest air around a bank (°C)."""
        return coldest_of(bank.battery, self.plan, self.climate)

    def hottest_of(self, component: Named) -> Value | None:
        """Hottest air around a component (°C); None where the plan does not tell."""
        return hottest_of(component, self.plan, self.assume)

    def array_of(self, wire: WireStudy) -> ArrayStudy | None:
        """The array that a wire belongs to."""
        return next((found[0] for c in wire.conductors if (found := self._on_arrays.get(c))), None)

    def part_of(self, element: Conductor | Passage) -> tuple[ArrayStudy, Tree] | None:
        """The array that a conductor or device is in, and the part whose current it carries."""
        return self._on_arrays.get(element)

    def one_line(self, state: State) -> OneLine:
        """The parts and the wires between them, as a one-line diagram shows them."""
        from wattproof.study.one_line import one_line

        return one_line(self, state)

    def users_of(self, module: ModuleStudy) -> tuple[String, ...]:
        """The strings that use a module, in the order of the plan."""
        strings = self.plan.strings.values()
        return tuple(s for s in strings if module.name in (s.modules or (s.module,)))

    def array_at(self, reference: Text) -> ArrayStudy | None:
        """The array that a terminal named in the plan belongs to."""
        reached = resolve(reference, by_name(self.plan))
        for array in self.arrays:
            if reached.component == array.controller.name:
                if reached.port == array.array.port:
                    return array
                continue
            if reached.component in array.components:
                return array
        return None

    def window_of(self, array: ArrayStudy) -> Window:
        """What the array's controller needs of it."""
        ways = [p for p in self.paths if p.kind == "array" and p.target == array.controller.name]
        return Window(array, self.bank_of(array), ways[0].drop if ways else None, self.assume)

    def bank_of(self, array: ArrayStudy) -> BankStudy | None:
        """The bank that the array's controller charges."""
        name = array.controller.name
        for bank in self.banks:
            if any(source.name == name for source, _ in self.battery_side.charges(bank)):
                return bank
        return None

    @cached_property
    def doubtful(self) -> dict[Place, str]:
        """Places of label values that cannot all be true, with the module they belong to."""
        return {
            place: name
            for name, module in self.modules.items()
            for found in contradictions(module)
            for place in declared_places((found.power_point, found.limit))
        }

    @cached_property
    def noted(self) -> tuple[Assumption, ...]:
        """Assumptions that no number carries."""
        wires = self.wires.values()
        return tuple(noted_of(self.plan, self.code, wires, self._use, self._sun, self.assume))

    @cached_property
    def _on_arrays(self) -> dict[Element, tuple[ArrayStudy, Tree]]:
        """Conductors and devices of arrays, with the part whose current they carry."""
        return {
            leaf.element: (array, around)
            for array in self.arrays
            for leaf, around in array.carried()
        }

    def _wire(
        self, conductors: list[Conductor], on_arrays: dict[Element, tuple[ArrayStudy, Tree]]
    ) -> WireStudy:
        wire = conductors[0].wire
        sheet = self.plan.datasheets.cables[wire.cable]
        current: Value | None
        operating: Value | None
        volts: Value | None
        parts = [on_arrays[c] for c in conductors if c in on_arrays]
        if parts:
            brightest = [array.isc("bright", part) for array, part in parts]
            usual = [array.imp("standard", part) for array, part in parts]
            current = max(brightest, key=lambda v: v.number)
            operating = max(usual, key=lambda v: v.number)
            volts = parts[0][0].voc("coldest")
        else:
            flows = [f for c in conductors if (f := self.battery_side.flow(c)) is not None]
            current = operating = max(flows, key=lambda v: v.number, default=None)
            volts = self.battery_side.charge_voltage(conductors[0].start)
        return WireStudy(
            wire,
            sheet,
            conductor_size(sheet),
            "array" if parts else "battery",
            tuple(conductors),
            current,
            operating,
            volts,
            self.plan,
            self.code,
            self.assume,
        )

    def _device(self, passages: list[Passage]) -> DeviceStudy:
        first = passages[0]
        on_array = self._on_arrays.get(first)
        if on_array is not None:
            array, part = on_array
            current: Value | None = array.isc("bright", part)
            volts: Value | None = array.voc("coldest")
            return DeviceStudy(tuple(passages), "array", volts, current, array, self.assume)
        flows = [f for p in passages if (f := self.battery_side.flow(p)) is not None]
        current = max(flows, key=lambda v: v.number, default=None)
        volts = self.battery_side.charge_voltage(first.start)
        banks = self.battery_side.banks_of(first.start)
        return DeviceStudy(
            tuple(passages),
            "battery",
            volts,
            current,
            None,
            self.assume,
            self.plan.distribution.get(first.end.component),
            banks[0].nominal if banks else None,
        )

    def connection_order(self) -> tuple[Stage, ...]:
        """The order in which it is connected for the first time, and taken out of use."""
        from wattproof.study.connection_order import connection_order

        return connection_order(self)

    def figures(self) -> Iterator[Figure]:
        """Every computed quantity, in a fixed order."""
        from wattproof.study.figures import figures_of

        yield from figures_of(self)

    @cached_property
    def schedules(self) -> Schedules:
        """What a builder buys, cuts and labels from."""
        from wattproof.study.schedules import schedules_of

        return schedules_of(self)


def _may_leak(controller: Controller) -> bool:
    """True where the plan does not say whether battery current can pass it backwards.

    A tracker's converter passes none; of a pulse-width controller only its manual tells.
    """
    return controller.kind == "pwm" and controller.blocks_reverse is None


def _device_key(passage: Passage) -> str:
    """The name under which a device is known: ways of panels are named by their panel too."""
    if isinstance(passage.device, Way):
        return f"{passage.end.component}.{passage.end.port}"
    return passage.name


def _body_for(plan: Plan) -> BodyOfRules:
    """The plan's body of rules; without one, the strictest of those that fit its setting."""
    if plan.code is not None:
        return body(plan.code)
    return body(_STRICTEST[plan.setting])


_STRICTEST = {
    "vehicle": "nec-2023",
    "portable": "nec-2023",
    "cabin": "nec-2023",
    "boat": "abyc-e11",
}
"""The body with the lower capacities and the shorter distances, of those that fit a setting."""
