"""What a meter showed of the charging of a battery."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from wattproof.kept import kept
from wattproof.plan.power import Battery, Charger, Controller
from wattproof.plan.readings import HELD_BACK, Reading
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.assumptions.readings import REGULATED
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.compensation import rise_in, rise_of_lead
from wattproof.study.battery.freezing import flat_freezes
from wattproof.study.limits import exceeds
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import NOTHING, Band, Conditions, half_digit, overlap
from wattproof.study.readings.part_load import (
    LEAST_LOAD,
    larger_of,
    share_to_full,
    too_little_flows,
)
from wattproof.study.readings.read_at import ReadAt
from wattproof.study.readings.slips import by_its_point, in_operation, meant
from wattproof.study.readings.standing import DEAD
from wattproof.study.wiring.drops import Path
from wattproof.working import Value, declared, largest, tabled

SAGS: Final = 0.03
"""Share by which loads and a cloud may pull a voltage down that is called absorption still."""
SMALLEST_BANK: Final = 12.0
"""Least nominal voltage (V) of it: half of 12 V is a battery that is worn out."""
OTHER_BANKS: Final = (0.5, 2.0, 0.25, 4.0)
"""How many times its nominal voltage another bank may have that was read in its place."""
BAD_WAY: Final = 0.08
"""Share of a charge voltage that bad joints and thin wires may take before the posts."""


@record
class Under:
    """A voltage of a bank that is under the least that it has where it was read.

    shown: as read (V). most: what it may truly be at most (V). least: the least of the bank (V).
    meant: what fits where the prefix was misread (V). in_series: how many of its batteries in
    series have so much; None where no fewer do. nothing: True where hardly any of it arrives.
    as_bank_of: nominal voltage of a bank that has so much (V); None where none does. by_point: what
    fits where the decimal point stands elsewhere (V).
    """

    shown: Value
    most: Value
    least: Value
    meant: Value | None
    in_series: int | None
    nothing: bool
    as_bank_of: Value | None = None
    by_point: Value | None = None


@record
class ChargeReading(ReadAt):
    """Voltages read at a controller's battery terminals and at the battery's posts.

    path: the wires between the two; None where they are not joined. full: the most that the
    controller gives with its array (A). coldest, hottest: air around the bank (°C). sources: all
    that charges it. array: the array of the controller at that moment; None of a battery, or where
    several or none feed it. below_full: True where a voltage of the bank that was read then is
    under that of a full one at rest. given_by_all: the most that all that charges a battery gives
    (A); None where that is not told, or more may flow out of another bank.
    """

    reading: Reading
    source: Controller | Battery
    bank: BankStudy | None
    path: Path | None
    full: Value | None
    conditions: Conditions
    coldest: Value | None = None
    hottest: Value | None = None
    sources: tuple[Controller | Charger, ...] = ()
    array: ArrayReading | None = None
    below_full: bool = False
    given_by_all: Value | None = None

    @property
    def may_be_full(self) -> bool:
        """True where neither a stage nor a voltage tells whether the battery took all."""
        return self.reading.stage is None and not self.below_full

    @kept
    def charge(self) -> Band | None:
        """Charge current (A) as read, or by the power on the display; None where neither was."""
        written, watts = self.reading.current, self.reading.power
        if self.current is not None and written is not None:
            return self.conditions.amps(self.current, written)
        if watts is None or self.voltage is None:
            return None
        return self._by_power(self.voltage)

    @property
    def true_power(self) -> Band | None:
        """What the power on the display may truly be (W); None where it was not read."""
        watts = self.reading.power
        if watts is None:
            return None
        return self.conditions.watts(declared(watts, f"P({self.name})", "power read"), watts)

    def _by_power(self, volts: Value) -> Band | None:
        read = self.true_power
        if read is None or not volts.number > 0.0:
            return None
        band = Band(read.low / volts, read.expected / volts, read.high / volts)
        return band.named(f"I({self.name})", f"charge current read at {self.where}", "A")

    @property
    def is_power_alone(self) -> bool:
        """True where a display's power was read, and neither a voltage nor a current."""
        return self.reading.power is not None and self.voltage is None and self.current is None

    @property
    def compared_at(self) -> Value | None:
        """Voltage (V) at which charge is compared with what the array gives.

        As read; of a power alone that of a full bank at rest, of which it hangs little.
        """
        if self.voltage is None and self.is_power_alone and self.bank is not None:
            return self.bank.resting_voltage
        return self.voltage

    @kept
    def compared(self) -> Band | None:
        """Charge current (A) to compare with what the array gives; None where none was read."""
        if self.charge is not None or self.compared_at is None:
            return self.charge
        return self._by_power(self.compared_at)

    @property
    def rated(self) -> Value | None:
        """Rated output current of the controller (A); None of a battery, or where none is told."""
        source = self.source
        if isinstance(source, Battery) or source.max_output_current is None:
            return None
        words = f"rated output current of {source.name}"
        return declared(source.max_output_current, f"Iout({source.name})", words)

    @property
    def is_charging(self) -> bool:
        """True where the current flows into the battery: by a controller, or by the voltage of the
        posts, above what a full battery at rest has."""
        if not isinstance(self.source, Battery):
            return True
        volts = self.voltage
        return (
            self.bank is not None
            and volts is not None
            and volts.number > self.bank.resting_voltage.number
        )

    @property
    def is_held_back(self) -> bool:
        """True where current or power was read while the battery took less than there may be."""
        return (
            self.array is not None
            and self.compared is not None
            and (self.reading.stage in HELD_BACK)
        )

    @property
    def tells_of_the_sun(self) -> bool:
        """True where the sun was written too, as who asks what the array gives writes it."""
        return self.array is not None and self.array.expected.sun_is_told

    @property
    def tells_of_the_sun_at_a_battery(self) -> bool:
        """True where the sun was written beside a current that loads share."""
        told = self.reading.irradiance is not None or self.reading.sky is not None
        return told and isinstance(self.source, Battery) and self.current is not None

    @kept
    def given(self) -> Band | None:
        """Charge current (A) that the array should give; None where that cannot be told."""
        if self.array is None or self.compared_at is None or self.compared is None:
            return None
        return self.array.expected.output(self.compared_at)

    @property
    def least_charge(self) -> Value | None:
        """Charge current (A) under which too little is told, where the battery takes it all.

        As of power at the solar input. None where nothing can be told of it.
        """
        array, given = self.array, self.given
        if array is None or given is None or self.flows_back:
            return None
        if not array.stands.power_is_decidable:
            return None
        return array.stands.least_told(given.expected, given.low)

    @property
    def charge_is_low(self) -> bool:
        """True where less arrives than that, whatever the meter's error, and is not held back."""
        return not self.holds_its_setting and self._little_arrives

    @property
    def is_little_at_its_setting(self) -> bool:
        """True where so little arrives at the voltage that is set, whatever stage is written."""
        return self.holds_its_setting and self._little_arrives

    @property
    def _little_arrives(self) -> bool:
        least, read = self.least_charge, self.compared
        return least is not None and read is not None and exceeds(least, read.high)

    @property
    def holds_its_setting(self) -> bool:
        """True where a controller is at the charge voltage that is set in it: it gives no more."""
        source = self.source
        if isinstance(source, Battery) or source.charge_voltage is None or self.voltage is None:
            return False
        words = f"charge voltage that is set in {source.name}"
        off = tabled(REGULATED.value, "%", "toff", "of a set voltage", REGULATED.source)
        least = declared(source.charge_voltage, f"Uset({source.name})", words) * (1.0 - off)
        return not exceeds(least, self.voltage)

    @property
    def meant_charge(self) -> Value | None:
        """What fits where the prefix of the charge current or power was misread (A)."""
        if self.compared is None or self.given is None:
            return None
        return meant(self.compared, in_operation(self.given.high))

    @property
    def meant_posts(self) -> Value | None:
        """The same of the voltage at the posts (V)."""
        if self.true_posts is None or self._of_bank is None:
            return None
        return meant(self.true_posts, self._of_bank)

    @property
    def _of_bank(self) -> Band | None:
        """What the bank may have that is neither harmed nor overcharged (V)."""
        if self.bank is None or self.allowed is None:
            return None
        return Band(self.bank.harmed_below, self.allowed, self.allowed)

    @property
    def posts_under(self) -> Under | None:
        """Posts below what harms the battery; None where they are not, or read reversed."""
        return None if self.bank is None else self._under(self.true_posts, self.bank.harmed_below)

    @property
    def controller_under(self) -> Under | None:
        """A controller's battery terminals under that and what a bad way may lose; likewise."""
        written, bank = self.reading.voltage, self.bank
        if isinstance(self.source, Battery) or bank is None:
            return None
        if written is None or self.voltage is None:
            return None
        words = f"least at {self.where}, with all that a bad way may lose"
        least = (bank.harmed_below * (1.0 - BAD_WAY)).named(f"Umin({self.where})", words, "V")
        return self._under(self.conditions.volts(self.voltage, written), least)

    def _under(self, true: Band | None, least: Value) -> Under | None:
        bank, whole = self.bank, self._of_bank
        if true is None or bank is None or whole is None or self.reversed_voltages:
            return None
        if not exceeds(least, true.high):
            return None
        fewer = (
            n for n in range(1, bank.in_series) if overlap(true, whole.times(n / bank.in_series))
        )
        nothing = true.high.number < DEAD * least.number
        in_series = next(fewer, None)
        other = self._other_bank(true) if in_series is None else None
        slip, point = meant(true, whole), by_its_point(true, whole)
        return Under(true.expected, true.high, least, slip, in_series, nothing, other, point)

    @property
    def over_as_bank_of(self) -> Value | None:
        """Nominal voltage of a bank that would have what is over this one's (V); else None."""
        written = self.reading.voltage
        if self.true_posts is not None:
            return self._other_bank(self.true_posts)
        if self.voltage is None or written is None:
            return None
        return self._other_bank(self.conditions.volts(self.voltage, written))

    def _other_bank(self, true: Band) -> Value | None:
        """Nominal voltage of another bank that is sold, and has what was read (V); else None."""
        bank, whole = self.bank, self._of_bank
        if bank is None or whole is None:
            return None
        for times in OTHER_BANKS:
            nominal = times * bank.nominal
            if nominal.number >= SMALLEST_BANK and overlap(true, whole.times(times)):
                return nominal.named("Uother", "nominal voltage of another bank", "V")
        return None

    @kept
    def most_charge(self) -> Value | None:
        """The most charge current (A) that the sun can give at the voltage that was read."""
        volts = self.voltage
        most = self.array.expected.most_power if self.array is not None else None
        if most is None or volts is None or not volts.number > 0.0:
            return None
        words = f"most that the sun can give at {self.where}"
        return (most / volts).named(f"Isun({self.where})", words, "A")

    @property
    def charge_is_over(self) -> bool:
        """True where more arrives than the sun can give."""
        read, most = self.charge, self.most_charge
        return read is not None and most is not None and exceeds(read.low, most)

    @kept
    def posts(self) -> Value | None:
        """Voltage at the posts of the battery (V)."""
        if self.reading.posts_voltage is None:
            return self.voltage if isinstance(self.source, Battery) else None
        words = "voltage at the battery's posts"
        return declared(self.reading.posts_voltage, f"Uposts({self.name})", words)

    @property
    def _written_at_posts(self) -> Quantity | None:
        return (
            self.reading.voltage
            if isinstance(self.source, Battery)
            else (self.reading.posts_voltage)
        )

    @property
    def reversed_voltages(self) -> tuple[Value, ...]:
        """What was read with a minus that is more than nothing (V)."""
        shown = dict.fromkeys((self.voltage, self.posts))
        return tuple(v for v in shown if v is not None and v.number < -NOTHING)

    @property
    def flows_back(self) -> bool:
        """True where a current out of the battery was read at a controller, beyond a drift."""
        drift = self.conditions.zero_drift.number
        at_controller = not isinstance(self.source, Battery)
        return at_controller and self.current is not None and self.current.number < -drift

    @property
    def true_posts(self) -> Band | None:
        """What the voltage at the posts may truly be (V)."""
        written = self._written_at_posts
        if self.posts is None or written is None:
            return None
        return self.conditions.volts(self.posts, written)

    @kept
    def flat_at_rest(self) -> tuple[Value, Value] | None:
        """What the posts of a lead bank may have at most, where it is flat at rest, and the least.

        Both in V; None where it is not, or where a current was read that is drawn.
        """
        bank, posts, drift = self.bank, self.true_posts, self.conditions.zero_drift.number
        if bank is None or posts is None or not bank.is_lead:
            return None
        if self.current is not None and self.current.number < -drift:
            return None
        rest = bank.flat_at_rest
        return (posts.high, rest) if exceeds(rest, posts.high) else None

    @property
    def frost(self) -> Value | None:
        """Air (°C) at the reading in which lead freezes that is flat; None where nothing tells."""
        bank, air = self.bank, self._told_air
        if bank is None or air is None or not bank.is_lead or exceeds(air, flat_freezes(bank)):
            return None
        return air

    @property
    def frost_to_come(self) -> Value | None:
        """The coldest that it gets by the plan (°C), where lead freezes in it that is flat."""
        bank, air = self.bank, self.coldest
        if bank is None or air is None or air.assumptions or not bank.is_lead:
            return None
        return air if exceeds(flat_freezes(bank), air) else None

    @kept
    def allowed(self) -> Value | None:
        """The most that the posts may have (V): of lead, by the air where the reading tells it."""
        return self._allowed_in(self._told_air)

    @property
    def _told_air(self) -> Value | None:
        written = self.reading.air_temperature
        return None if written is None else declared(written, "Tair", f"air at {self.name}")

    @kept
    def allowed_in_cold(self) -> Value | None:
        """The same in the coldest air; None where the air is told or the voltage follows none."""
        if self._is_fixed or self.reading.air_temperature is not None:
            return None
        return self._allowed_in(self.coldest)

    @property
    def _is_fixed(self) -> bool:
        """True where all that charges it says that its voltage does not follow temperature."""
        return all(source.compensates_temperature is False for source in self.sources)

    @property
    def is_equalising(self) -> bool:
        """True where it was read while a lead battery is charged above its charge voltage."""
        return self.reading.stage == "equalise"

    def _allowed_in(self, air: Value | None) -> Value | None:
        if self.bank is None:
            return None
        limit = self.bank.charge_voltage_limit
        equalised = self.bank.equalise_limit if self.is_equalising else None
        if equalised is not None and exceeds(equalised, limit):
            limit = equalised
        if air is None or not self.bank.is_lead:
            return limit
        rise = rise_of_lead(self.bank, air)
        if rise.number <= 0.0:
            return limit
        return (limit + rise).named("Umaxcold", f"most at the posts of {self.bank.name}", "V")

    @property
    def is_overcharged(self) -> bool:
        """True where the posts have more than they may, or the controller more than explains."""
        return self.posts_over_allowed is not None or self.over_all_that_is_lost is not None

    @property
    def posts_over_allowed(self) -> tuple[Value, Value] | None:
        """The least that the posts may have, and the most that they are allowed (V).

        None where it is not over, and where the posts were not read.
        """
        true, allowed = self.true_posts, self.allowed
        if true is None or allowed is None:
            return None
        return (true.low, allowed) if exceeds(true.low, allowed) else None

    @property
    def over_all_that_is_lost(self) -> tuple[Value, Value] | None:
        """Voltage at a controller that is over what its battery may have and a bad way may take.

        The least that it may truly be, and the most then (V); None where it is not over, and
        where the posts were read.
        """
        written, allowed = self.reading.voltage, self.allowed_in_cold or self.allowed
        if self.posts is not None or self.voltage is None or written is None or allowed is None:
            return None
        words = f"most at {self.where}, with all that a bad way may lose"
        most = (allowed * (1.0 + BAD_WAY)).named(f"Umax({self.where})", words, "V")
        least = self.conditions.volts(self.voltage, written).low
        return (least, most) if exceeds(least, most) else None

    def _own_setting(self, source: Controller | Charger) -> Quantity | None:
        """What a source holds its terminals at, in the stage that the reading tells of it."""
        is_read = source is self.source or len(self.sources) == 1
        floats = self.reading.stage == "float" and is_read and source.float_voltage is not None
        return source.float_voltage if floats else source.charge_voltage

    @kept
    def under_its_setting(self) -> tuple[Value, Value] | None:
        """Voltage under the charge voltage at which a controller says that it holds the bank.

        The most that it may truly be, and the least then (V): of lead, in the hottest air that the
        reading or the plan tells. In the cold it holds more where it says that it follows it. None
        where it is not under, and outside of absorption.
        """
        written, bank, source = self.reading.voltage, self.bank, self.source
        if self.voltage is None or written is None or bank is None or self.reversed_voltages:
            return None
        if isinstance(source, Battery) or source.charge_voltage is None:
            return None
        if self.reading.stage != "absorption" or self.controller_under is not None:
            return None
        words = f"charge voltage that is set in {source.name}"
        least = declared(source.charge_voltage, f"Uset({source.name})", words) * (1.0 - SAGS)
        air = self._told_air or (None if self._is_fixed else self.hottest)
        if bank.is_lead and air is not None:
            rise = rise_in(source, bank, air)
            follows = rise.number < 0.0 or source.compensates_temperature
            least = least + rise if follows else least
        most = self.conditions.volts(self.voltage, written).high
        least = least.named(f"Uheld({self.where})", f"least that is held at {self.where}", "V")
        return (most, least) if exceeds(least, most) else None

    @kept
    def over_its_setting(self) -> tuple[Value, Value] | None:
        """Voltage over the highest charge voltage that the plan sets for what charges the bank.

        The least that it may truly be, and the most then (V): of lead, by the air where the reading
        tells it, else in the coldest. None where it is not over, where something that charges the
        bank does not tell its charge voltage, and while lead is equalised that may be.
        """
        written, bank = self.reading.voltage, self.bank
        told = [self._own_setting(source) for source in self.sources]
        if self.voltage is None or written is None or bank is None:
            return None
        if self.is_equalising and bank.equalise_limit is not None:
            return None
        if self.is_parted or not told or None in told:
            return None
        words = "highest charge voltage that is set"
        highest = largest([declared(volts, "Uset", words) for volts in told if volts is not None])
        off = tabled(REGULATED.value, "%", "toff", "of a set voltage", REGULATED.source)
        most = highest * (1.0 + off)
        air = self._told_air or (None if self._is_fixed else self.coldest)
        if bank.is_lead and air is not None:
            rise = rise_of_lead(bank, air)
            most = most + rise if rise.number > 0.0 else most
        least = self.conditions.volts(self.voltage, written).low
        most = most.named(f"Uset({self.where})", f"most that is set at {self.where}", "V")
        return (least, most) if exceeds(least, most) else None

    @property
    def is_as_of_the_array(self) -> bool:
        """True where the voltage would be right at the solar input of the controller."""
        if self.array is None or self.voltage is None:
            return False
        array = self.array.taken.array
        return array.vmp("hottest").number <= self.voltage.number <= array.voc("coldest").number

    @property
    def too_little_load(self) -> bool:
        """True where nothing can be said of full current: none written, or very little."""
        return too_little_flows(self.current, self.full, LEAST_LOAD)

    @kept
    def lost(self) -> Value | None:
        """Voltage lost on the way, at least (V): at full current, else as read."""
        written, at_posts = self.reading.voltage, self.reading.posts_voltage
        if self.voltage is None or self.posts is None or written is None or at_posts is None:
            return None
        if self.reversed_voltages or self.meant_posts is not None or self._is_cut_off:
            return None
        under = self.posts_under
        if under is not None and (under.nothing or under.in_series or under.as_bank_of):
            return None
        words = f"lost between {self.source.name} and the battery, at least"
        hidden = half_digit(written) + half_digit(at_posts)
        shown = (self.voltage - self.posts - hidden).named(f"ΔU({self.name})", words, "V")
        ratio = share_to_full(self.current, self.full)
        if ratio is None or self.too_little_load:
            return shown
        return (shown * ratio).named(f"ΔUfull({self.name})", f"{words}, at full current", "V")

    @kept
    def is_parted(self) -> bool:
        """True where a controller has far more than its battery, and no current flows between."""
        written, allowed, posts = self.reading.voltage, self.allowed, self.true_posts
        if isinstance(self.source, Battery) or self.voltage is None or written is None:
            return False
        if posts is None or allowed is None or self.reversed_voltages or self.meant_posts:
            return False
        if self.current is not None and abs(self.current.number) > NOTHING:
            return False
        far = posts.high + BAD_WAY * allowed
        return exceeds(self.conditions.volts(self.voltage, written).low, far)

    @property
    def posts_are_over(self) -> bool:
        """True where the posts read more than the controller that charges them, meters allowed."""
        written, drawn = self.reading.voltage, self.current
        if self.voltage is None or self.true_posts is None or written is None:
            return False
        if self.reading.posts_voltage is None or self.reversed_voltages or self._is_cut_off:
            return False
        if drawn is not None and not drawn.number > 0.0:
            return False
        return exceeds(self.true_posts.low, self.conditions.volts(self.voltage, written).high)

    @property
    def _is_cut_off(self) -> bool:
        """True where the controller has far less or more than its battery, and nothing flows."""
        return self.is_parted or (self.controller_under is not None and self.posts_under is None)

    @kept
    def by_wires(self) -> Value | None:
        """What the wires alone lose of it at most, warm as they are at full load (V)."""
        current = larger_of(self.current, self.full)
        if self.path is None or current is None:
            return None
        wires = tuple(wire.carrying_current(current) for wire in self.path.wires)
        return replace(self.path, wires=wires).drop

    @kept
    def heat_at_joints(self) -> Value | None:
        """Heat at full current where it is not the wires that lose it (W).

        None where that current or the wires are not known.
        """
        current = larger_of(self.current, self.full)
        if self.lost is None or self.by_wires is None or current is None or self.too_little_load:
            return None
        words = f"heat beside the wires between {self.source.name} and the battery"
        return ((self.lost - self.by_wires) * current).named(f"Pjoint({self.name})", words, "W")

    def larger_wire(self, limit: Value) -> tuple[str, str] | None:
        """A wire of the way and the size of it that brings the wires under a limit (V)."""
        current = larger_of(self.current, self.full)
        if self.path is None or current is None:
            return None
        worst = max(self.path.wires, key=lambda w: w.resistance.number)
        for proposed in worst.larger_sizes():
            if _drop_on(self.path.in_size((worst,), proposed.size), current) <= limit.number:
                return worst.name, proposed.size.name
        return None


def _drop_on(path: Path, current: Value) -> float:
    """Voltage lost on a way at a current (V)."""
    wires = tuple(wire.carrying_current(current) for wire in path.wires)
    drop = replace(path, wires=wires).drop
    return drop.number if drop is not None else 0.0
