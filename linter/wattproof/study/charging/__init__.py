"""What charges the banks, and what stands between a source and what it feeds."""

from __future__ import annotations

from wattproof.circuit import Circuit
from wattproof.kept import kept
from wattproof.plan.beside import beside
from wattproof.plan.power import Controller, Load, is_alternator
from wattproof.study.array import ArraySection
from wattproof.study.assumptions import Assumer
from wattproof.study.battery import BatterySection
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import Tap
from wattproof.study.charging.alternators import (
    AlternatorLoad,
    LithiumOnAlternator,
    NoWayBack,
    Ring,
    WrongInput,
    alternator_loads,
    lithium_on_alternators,
    rings,
    without_way_back,
    wrong_inputs,
)
from wattproof.study.charging.at_rest import AtRest, StartingDrawn, at_rest, starting_drawn
from wattproof.study.charging.converters import Converted, converted
from wattproof.study.charging.cranking import Cranking, cranking
from wattproof.study.charging.cut_offs import (
    CutOff,
    LostBattery,
    LowSwitch,
    RelayVoltage,
    critical_on_load_terminals,
    cut_offs,
    lost_batteries,
    low_switches,
    relay_voltages,
)
from wattproof.study.charging.isolators import (
    BehindDiode,
    Isolated,
    Unparted,
    behind_diodes,
    isolated,
    unparted,
)
from wattproof.study.charging.relays import SensedInSun, sensed_in_sun
from wattproof.study.charging.shut_off import (
    LeftCold,
    NeverFilled,
    PastManagement,
    Source,
    left_cold,
    never_filled,
    past_management,
    unmanaged,
)
from wattproof.study.charging.sources import Charging, charging, most_of
from wattproof.study.charging.switched import Unswitched, unswitched
from wattproof.study.charging.units import Cooled, Start, cooled, starts
from wattproof.study.charging.without_battery import (
    LeftInSun,
    UnpluggedInSun,
    left_in_sun,
    unplugged_in_sun,
)
from wattproof.study.curves import CurvesSection
from wattproof.study.protection import ProtectionSection
from wattproof.study.wiring import WiringSection
from wattproof.working import Value


class ChargingSection:
    """Sources of the battery side, inverters and controllers as units."""

    def __init__(
        self,
        circuit: Circuit,
        assume: Assumer,
        battery: BatterySection,
        array: ArraySection,
        wiring: WiringSection,
        protection: ProtectionSection,
        curves: CurvesSection,
    ) -> None:
        self._circuit = circuit
        self._assume = assume
        self._battery = battery
        self._array = array
        self._wiring = wiring
        self._protection = protection
        self._curves = curves

    @kept
    def of_banks(self) -> tuple[Charging, ...]:
        """What charges each bank, all sources at once."""
        side, arrays, regulated = self._battery.side, self._array.arrays, self._array.regulated_on
        network = self._wiring.network
        found = (charging(b, side, self._circuit, arrays, regulated, network) for b in side.wholes)
        return tuple(c for c in found if c is not None)

    def given_to_half(self, tap: Tap) -> Value:
        """What a source gives to one battery of a series (A), no more than its array does."""
        name = tap.component.name
        arrays = [array for array in self._array.arrays if array.controller.name == name]
        return most_of(tap.component, tap.current, tap.bank, arrays, self._circuit)

    @kept
    def sensed_in_sun(self) -> tuple[SensedInSun, ...]:
        """Relays that sense voltage, with the solar controllers that raise it."""
        windows = (self._curves.window_of(array) for array in self._array.arrays)
        return tuple(sensed_in_sun(self._battery.joined, windows, self._battery.side))

    @kept
    def alternator_loads(self) -> tuple[AlternatorLoad, ...]:
        """What vehicle chargers draw from alternators."""
        return tuple(alternator_loads(self._battery.side, self._circuit))

    @kept
    def wrong_inputs(self) -> tuple[WrongInput, ...]:
        """Vehicle chargers that take their input from the wrong side."""
        return tuple(wrong_inputs(self._battery.side, self._circuit))

    @kept
    def rings(self) -> tuple[Ring, ...]:
        """Chargers that pump in a circle between two batteries."""
        return tuple(rings(self._circuit))

    @kept
    def lithium_on_alternators(self) -> tuple[LithiumOnAlternator, ...]:
        """Lithium banks that an alternator feeds without a charger."""
        return tuple(lithium_on_alternators(self._wiring.network))

    @kept
    def without_way_back(self) -> tuple[NoWayBack, ...]:
        """Alternators that return through the engine, to banks that are not tied to it."""
        return tuple(without_way_back(self._battery.side, self._circuit, self._wiring.grounds))

    @kept
    def cranking(self) -> tuple[Cranking, ...]:
        """Starter motors and what they get of their battery's voltage."""
        wiring = self._wiring
        return tuple(cranking(wiring.network, self._protection.exits, wiring.only_tie))

    @kept
    def of_engines(self) -> frozenset[str]:
        """Banks that start an engine, or to which an alternator's own cable leads."""
        plan = self._circuit.plan
        alternators = {n for n, c in plan.chargers.items() if is_alternator(c)}
        engines, wires_at = {*alternators, *plan.starters}, self._circuit.ends.wires_at
        joined = {
            name
            for engine in engines
            for name in beside(engine, lambda at: wires_at.get(at, ()), plan.in_the_way)
        }
        return frozenset(joined & plan.batteries.keys() | self._cranked)

    @kept
    def _cranked(self) -> frozenset[str]:
        """Banks that start an engine."""
        return frozenset(each.bank.name for each in self.cranking if each.nearest)

    @kept
    def at_rest(self) -> tuple[AtRest, ...]:
        """What is drawn from banks for long, with no engine running."""
        drawn, side = self._wiring.drawn, self._battery.side
        return tuple(at_rest(drawn, self.of_engines, side, self._circuit))

    @kept
    def starting_drawn(self) -> tuple[StartingDrawn, ...]:
        """Batteries that start an engine and that something goes on drawing from."""
        drawn, side = self._wiring.drawn, self._battery.side
        engines = self.of_engines, self._cranked
        return tuple(starting_drawn(drawn, *engines, side, self._circuit))

    @kept
    def unswitched(self) -> tuple[Unswitched, ...]:
        """Banks with consumers that nothing parts by hand."""
        return tuple(unswitched(self._battery.side, self._circuit))

    @kept
    def cut_offs(self) -> tuple[CutOff, ...]:
        """Switches that take all batteries from a critical load."""
        return tuple(cut_offs(self._battery.side, self._circuit))

    @kept
    def critical_on_load_terminals(self) -> tuple[tuple[Load, Controller], ...]:
        """Loads that must not stop, on load terminals that switch off by themselves."""
        return tuple(critical_on_load_terminals(self._circuit))

    @kept
    def lost_batteries(self) -> tuple[LostBattery, ...]:
        """Alternators whose batteries can be taken away while they run."""
        return tuple(lost_batteries(self._battery.side, self._circuit, self._wiring.arrested))

    @kept
    def unplugged_in_sun(self) -> tuple[UnpluggedInSun, ...]:
        """Sole banks of controllers that can be unplugged while an array feeds these."""
        left = {each.array.name for each in self.left_in_sun}  # of which a rule of its own tells
        found = unplugged_in_sun(self._array.arrays, self._battery.side, self._wiring.ties)
        return tuple(each for each in found if each.array.name not in left)

    @kept
    def left_in_sun(self) -> tuple[LeftInSun, ...]:
        """Consumers left on the array where a battery is taken from a pulse-width controller."""
        return tuple(left_in_sun(self._array.arrays, self._battery.side, self._wiring.ties))

    @kept
    def low_switches(self) -> tuple[LowSwitch, ...]:
        """Switches that open at low voltage, and the banks that they save."""
        return tuple(low_switches(self._battery.side, self._circuit, self._battery.joined))

    @kept
    def never_filled(self) -> tuple[NeverFilled, ...]:
        """Sources that charge a bank through the switch that saves it when it is empty."""
        return tuple(never_filled(self._battery.side, self._circuit))

    @kept
    def left_cold(self) -> tuple[LeftCold, ...]:
        """Heaters of batteries that a switch stops while something charges on."""
        return tuple(left_cold(self._battery.side, self._circuit))

    @kept
    def past_management(self) -> tuple[PastManagement, ...]:
        """What is led past the relay that a bank's management opens."""
        return tuple(past_management(self._battery.side, self._circuit))

    @kept
    def unmanaged(self) -> tuple[tuple[BankStudy, tuple[Source, ...]], ...]:
        """Bare cells that nothing parts from what charges them."""
        return tuple(unmanaged(self._battery.side, self._circuit, self._assume))

    @kept
    def relay_voltages(self) -> tuple[RelayVoltage, ...]:
        """Relays that close by voltage, with a bank that they join to another."""
        return tuple(relay_voltages(self._battery.side, self._circuit, self._battery.joined))

    @kept
    def converted(self) -> tuple[Converted, ...]:
        """DC converters that feed consumers, and what these draw."""
        return tuple(converted(self._wiring.network))

    @kept
    def unparted(self) -> tuple[Unparted, ...]:
        """Banks that diode isolators do not keep apart."""
        return tuple(unparted(self._circuit.plan, self._battery.side, self._circuit))

    @kept
    def isolated(self) -> tuple[Isolated, ...]:
        """Diode isolators and what passes through them."""
        return tuple(isolated(self._circuit.plan, self._battery.side))

    @kept
    def behind_diodes(self) -> tuple[BehindDiode, ...]:
        """Banks behind diode isolators, and the voltage that is left for them."""
        return tuple(behind_diodes(self._circuit.plan, self._battery.side))

    @kept
    def starts(self) -> tuple[Start, ...]:
        """Inverters with the hardest start that is asked of them."""
        return tuple(starts(self._circuit.plan, self._assume))

    @kept
    def cooled(self) -> tuple[Cooled, ...]:
        """Controllers and inverters with the air around them and the most that they stand."""
        return tuple(cooled(self._circuit.plan, self._assume))
