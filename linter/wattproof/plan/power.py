"""The battery side: controllers, batteries, chargers, inverters, loads."""

from typing import Annotated, ClassVar, Self, TypeGuard

from pydantic import Field, model_validator

from wattproof.plan.charging import Charging
from wattproof.plan.fields import (
    BatteryTemperature,
    Charge,
    Current,
    Duration,
    Flag,
    Name,
    Named,
    Power,
    Resistance,
    Share,
    Voltage,
    VoltageDifference,
    Whole,
    Words,
    needed,
    one_of,
)
from wattproof.plan.inputs import SolarInput
from wattproof.plan.layouts import Arrangement
from wattproof.plan.packs import EachPack
from wattproof.plan.repeated import (
    ColdCutoff,
    DeratesAbove,
    Feeds,
    IgnitionProtected,
    InPlace,
    LargestConductor,
    LeastInput,
    NominalVoltage,
    UsableInput,
)
from wattproof.plan.site import refuse_above
from wattproof.quantities import Mistake, Quantity
from wattproof.source import Text

LONGEST_SHORT_DUTY = 3600.0
"""Longest time (s) that counts as short: the conventional time of small fuses."""
_HOUR = 3600.0
OWN_PORTS = ("battery", "load", "alternator")
CHEMISTRIES = ("lithium-iron-phosphate", "flooded", "agm", "gel")
_IRON_PHOSPHATE = (
    *("LiFePO4", "lifepo4", "LiFePo4", "LifePO4", "LIFEPO4", "Lifepo4", "LiFePO₄"),
    *("LFP", "lfp", "Lfp"),
)
AS_PRINTED = {
    **dict.fromkeys(_IRON_PHOSPHATE, CHEMISTRIES[0]),
    "AGM": "agm",
    "Gel": "gel",
    "GEL": "gel",
    "Flooded": "flooded",
}
KINDS_AS_PRINTED = {"MPPT": "mppt", "PWM": "pwm"}


def refuse_over_whole(efficiency: Quantity | None) -> None:
    """Raise Mistake where a unit would give more than it takes, or nothing."""
    if efficiency is not None and not 0.0 < efficiency.value <= 1.0:
        message = f"nothing gives {efficiency.text} of what it takes"
        raise Mistake(message, "write a share up to 100 %, as its maker states", efficiency.place)


class Controller(Charging):
    """A charge controller. Terminals: `pv`, `battery`, `load`; some have `alternator`."""

    MAY_BE_OPEN = ("max_input_voltage", "max_output_current")
    sealed: ClassVar[bool] = False
    """True where its battery is inside it, and nothing behind its solar input is told."""

    kind: Annotated[Text, one_of("mppt", "pwm", "vehicle-charger", same=KINDS_AS_PRINTED)] = needed(
        description="Tracker, pulse-width controller, or vehicle charger, which charges from an "
        "alternator and may have a solar input as well.",
        examples=["mppt"],
    )
    max_input_voltage: Voltage | None = Field(
        None,
        description="Highest voltage that the array may ever show it. A vehicle charger without "
        "a solar input has none.",
        examples=["100 V"],
    )
    min_input_voltage: LeastInput = None
    max_input_current: Current | None = Field(
        None,
        description="Short-circuit current limit of the solar input, where stated.",
        examples=["35 A"],
    )
    usable_input_current: UsableInput = None
    max_input_power: Power | None = Field(
        None, description="Most power that its solar input takes, where stated.", examples=["440 W"]
    )
    inputs: dict[str, SolarInput] = Field(
        default_factory=dict,
        description="Its solar inputs, where it has several: each is a terminal of that name "
        "instead of `pv`.",
    )
    max_output_current: Current = needed(description="Rated output current.", examples=["30 A"])
    limited_to: Current | None = Field(
        None, description="Output current set in its menu, below its rating.", examples=["20 A"]
    )
    load_current: Current | None = Field(
        None, description="Rated current of its load terminals.", examples=["15 A"]
    )
    start_above_battery: VoltageDifference | None = Field(
        None, description="Array voltage above battery voltage needed to start.", examples=["5 V"]
    )
    run_above_battery: VoltageDifference | None = Field(
        None, description="Array voltage above battery voltage needed to go on.", examples=["1 V"]
    )
    nominal: Voltage | None = Field(
        None, description="Nominal battery voltage, where only one is possible.", examples=["12 V"]
    )
    boost: Flag | None = Field(
        None, description="True where it can raise the voltage of the array.", examples=[False]
    )
    blocks_reverse: Flag | None = Field(
        None, description="True where no battery current can flow to the array.", examples=[True]
    )
    low_temperature_cutoff: ColdCutoff = False
    isolated: Flag = Field(
        False, description="True where input and output share no pole.", examples=[False]
    )
    common: Annotated[Text, one_of("positive", "negative")] | None = Field(
        None,
        description="The pole that its terminals share inside, as its manual says.",
        examples=["negative"],
    )
    holds_without_battery: Flag = Field(
        False,
        description="True where its maker states that it holds the voltage at its loads when the "
        "battery disconnects, false where it states that it does not.",
        examples=[True],
    )
    ground_fault_protection: Flag | None = Field(
        None,
        description="True where it, or a device beside it, cuts an array with a fault to earth "
        "off.",
        examples=[True],
    )
    arc_fault_protection: Flag | None = Field(
        None,
        description="True where it notices an arc in the array's circuit and breaks it.",
        examples=[True],
    )
    max_conductor: LargestConductor = None
    derates_above: DeratesAbove = None
    place: InPlace = None
    ignition_protected: IgnitionProtected = None
    feeds: Feeds = None

    called: ClassVar[str] = "controller"
    """What messages call it."""

    @property
    def input_limit(self) -> Quantity:
        """Highest voltage of a solar input to which an array is led."""
        assert self.max_input_voltage is not None
        return self.max_input_voltage

    @property
    def one_input_current(self) -> bool:
        """True where its label has one input current: what it stands, or what it takes at most.

        So have boxes and vehicle chargers; others tell the limit for a short circuit.
        """
        alone = self.max_input_current is not None and self.usable_input_current is None
        return alone and (self.sealed or self.kind == "vehicle-charger")

    @model_validator(mode="after")
    def _names_of_its_inputs(self) -> Self:
        for each in self.inputs.values():
            if each.name in OWN_PORTS:
                message = f"`{each.name}` is a terminal of every controller"
                raise Mistake(message, "name its solar inputs `pv-1`, `pv-2`", each.at)
        return self


class Battery(Named):
    """A battery, or a bank of identical ones; the values are those of one battery's label."""

    MAY_BE_OPEN = ("capacity",)

    chemistry: Annotated[Text, one_of(*CHEMISTRIES, same=AS_PRINTED)] = needed(
        description="Kind of battery.", examples=["lithium-iron-phosphate"]
    )
    nominal: Voltage = needed(
        description="Nominal voltage of one battery; `4s` of it have four times as much.",
        examples=["12.8 V"],
    )
    capacity: Charge = needed(
        description="Rated capacity of one battery; `4p` of it have four times as much.",
        examples=["200 Ah"],
    )
    bank_capacity: Charge | None = Field(
        None,
        description="Capacity of all its batteries together, in place of `capacity`, of one: `4p` "
        "of 100 Ah have 400 Ah.",
        examples=["400 Ah"],
    )
    arrangement: Arrangement | None = Field(
        None, description="Identical batteries in one bank.", examples=["2p"]
    )
    each_pack: EachPack | None = Field(
        None,
        description="The fuse that each battery has, or each series of them, where `arrangement` "
        "puts several in parallel.",
        examples=[{"fuse": "pack-fuse"}],
    )
    max_charge_current: Current | None = Field(
        None, description="Largest charge current.", examples=["100 A"]
    )
    max_discharge_current: Current | None = Field(
        None, description="Largest continuous discharge current.", examples=["100 A"]
    )
    max_charge_voltage: Voltage | None = Field(
        None, description="Highest charge voltage.", examples=["14.6 V"]
    )
    min_charge_temperature: BatteryTemperature | None = Field(
        None, description="Lowest temperature at which it may be charged.", examples=["0 °C"]
    )
    max_temperature: BatteryTemperature | None = Field(
        None, description="Highest temperature at which it may be used.", examples=["55 °C"]
    )
    max_series: Whole | None = Field(
        None, description="Most batteries in series that its maker allows.", examples=[1]
    )
    max_parallel: Whole | None = Field(
        None, description="Most batteries in parallel that its maker allows.", examples=[4]
    )
    low_temperature_cutoff: Flag = Field(
        False,
        description="True where its own management stops charging when cold.",
        examples=[True],
    )
    depth_of_discharge: Share | None = Field(
        None,
        description="Share of its capacity that may be taken out.",
        examples=["80 %"],
    )
    short_circuit_current: Current | None = Field(
        None, description="Short-circuit current, where the maker states it.", examples=["8 kA"]
    )
    internal_resistance: Resistance | None = Field(
        None, description="Internal resistance, where the maker states it.", examples=["3 mΩ"]
    )
    equaliser: Current | None = Field(
        None,
        description="Rating of the equaliser that keeps it even with the lead batteries in series "
        "with it.",
        examples=["10 A"],
    )
    removable: Flag = Field(
        False,
        description="True where it is unplugged and taken away at times; the plan is checked with "
        "and without it.",
        examples=[True],
    )
    shunt: Name | None = Field(
        None,
        description="The wire in whose negative the shunt of its monitor sits.",
        examples=["bank-run"],
    )
    place: InPlace = None

    @model_validator(mode="after")
    def _one_capacity(self) -> Self:
        one, bank, layout = self.capacity, self.bank_capacity, self.arrangement
        if one is not None and bank is not None:
            count = layout.in_parallel if layout is not None else 1
            message = "`capacity` is that of one battery, `bank_capacity` that of all, and both are"
            if abs(one.value * count - bank.value) > max(count * one.resolution, bank.resolution):
                whole = one.value * count / _HOUR
                message = f"`bank_capacity: {bank.text}` contradicts `capacity: {one.text}`"
                message += f" of one battery, of which {count} in parallel have {whole:g} Ah; both"
                message += " are"
            raise Mistake(f"{message} told", "keep one of the two", bank.place)
        return self

    @model_validator(mode="after")
    def _colder_than_hot(self) -> Self:
        low, high = self.min_charge_temperature, self.max_temperature
        refuse_above(low, high, "min_charge_temperature", "max_temperature")
        return self

    @model_validator(mode="after")
    def _some_of_it(self) -> Self:
        taken = self.depth_of_discharge
        if taken is not None and not 0.0 < taken.value <= 1.0:
            message = f"a battery cannot give {taken.text} of its capacity"
            raise Mistake(message, "write a share up to 100 %, as its maker states it", taken.place)
        own = self.each_pack
        if own is not None and (self.arrangement is None or self.arrangement.in_parallel == 1):
            message = "`each_pack` is for a bank of several batteries in parallel"
            instead = "write `arrangement: 2p` or the like, or put the fuse in the battery's wire"
            raise Mistake(message, instead, own.fuse.place if own.fuse is not None else None)
        return self


class Charger(Charging):
    """Another source that charges: an alternator, a charger on shore power, a wind generator."""

    kind: Annotated[Text, one_of("alternator", "shore", "wind")] = Field(
        description="What it is: an alternator on an engine, a charger on shore power or on a "
        "generator of mains voltage, or a wind or water generator with its regulator.",
        examples=["alternator"],
    )
    max_output_current: Current = needed(description="Rated output current.", examples=["90 A"])
    limited_to: Current | None = Field(
        None,
        description="Output current to which its regulator or its menu holds it, below its rating.",
        examples=["60 A"],
    )
    regulator: Annotated[Text, one_of("internal", "external")] | None = Field(
        None,
        description="What holds an alternator's voltage: the regulator inside it, or one beside "
        "it that is set for the battery.",
        examples=["external"],
    )
    senses_heat: Flag | None = Field(
        None,
        description="True where its regulator measures how hot the alternator is, and gives less "
        "before that harms it.",
        examples=[True],
    )
    nominal: NominalVoltage = None
    never_with: Name | None = Field(
        None,
        description="A charger or controller that never works at the same time.",
        examples=["tracker"],
    )
    low_temperature_cutoff: ColdCutoff = False
    place: InPlace = None
    ignition_protected: IgnitionProtected = None
    feeds: Feeds = None


def is_alternator(component: object) -> TypeGuard[Charger]:
    """True for an alternator on an engine."""
    return isinstance(component, Charger) and component.kind == "alternator"


class Inverter(Named):
    """An inverter: mains voltage from the battery. Its AC side is outside the plan."""

    power: Power = needed(description="Continuous output power.", examples=["1500 W"])
    surge: Power | None = Field(
        None, description="Output power for the seconds of a start.", examples=["3000 W"]
    )
    largest_start: Power | None = Field(
        None,
        description="Power that the hardest start asks of it, with what runs then.",
        examples=["1800 W"],
    )
    nominal: Voltage | None = Field(None, description="Nominal input voltage.", examples=["12 V"])
    efficiency: Share | None = Field(
        None, description="Efficiency at full power.", examples=["88 %"]
    )
    idle_power: Power | None = Field(
        None,
        description="What it takes when it is switched on and nothing runs on it.",
        examples=["12 W"],
    )
    low_voltage: Voltage | None = Field(
        None, description="Input voltage at which it switches off.", examples=["10.5 V"]
    )
    max_conductor: LargestConductor = None
    derates_above: DeratesAbove = None
    place: InPlace = None
    ignition_protected: IgnitionProtected = None

    @model_validator(mode="after")
    def _gives_no_more_than_it_takes(self) -> Self:
        refuse_over_whole(self.efficiency)
        return self


class Load(Named):
    """A consumer on direct current. Give its current, or its power."""

    current: Current | None = Field(None, description="Rated current.", examples=["4 A"])
    power: Power | None = Field(None, description="Rated power.", examples=["45 W"])
    nominal: NominalVoltage = None
    max_voltage: Voltage | None = Field(
        None,
        description="Highest voltage that it stands, where its label or manual tells one: of a "
        "pump or fan that modules drive without a battery.",
        examples=["30 V"],
    )
    critical: Flag = Field(
        False,
        description="True where low voltage endangers: pumps, navigation lights.",
        examples=[False],
    )
    short_duty: Duration | None = Field(
        None,
        description="Longest time for which it runs, where that is minutes and not hours: a "
        "windlass, a thruster, a winch. What warms up slowly is then judged by that time.",
        examples=["2 min"],
    )
    note: Words | None = Field(None, description="What it is.", examples=["refrigerator"])

    @model_validator(mode="after")
    def _short(self) -> Self:
        lasts = self.short_duty
        if lasts is not None and lasts.value > LONGEST_SHORT_DUTY:
            message = f"what runs for {lasts.text} is no short duty: cables are as hot by then"
            raise Mistake(message, "leave it out for what runs longer than an hour", lasts.place)
        return self

    @model_validator(mode="after")
    def _current_or_power(self) -> Self:
        if self.current is not None and self.power is not None:
            raise Mistake(
                "a load gives its current or its power, one of the two",
                "keep the one that its label prints",
            )
        return self
