"""A battery's label against itself: values of another battery, another unit or the whole bank."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.side import BankStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the values of a battery in a plan are those of one battery's label: for each 12 V it is "
        "charged to at most some 16 V; lithium iron phosphate is charged from 0 °C on, down to "
        "−10 °C where its maker allows it; batteries stand 40 °C and more; lead is charged with a "
        "fraction of its capacity in an hour, and a short draws many times that"
    ),
}

MOST_PER_12_V = 16.5  # V, above what equalises flooded lead
TWELVE_OF_ONE = 13.0  # V, nominal voltage up to which a battery is one of 12 V
COLDEST_OF_LITHIUM = -10.0  # °C
WARMEST_LEAST = 10.0  # °C
COOLEST_MOST = 25.0  # °C
HOTTEST_MOST = 75.0  # °C
MOST_CHARGE = {"lithium-iron-phosphate": 4.0, "flooded": 1.0, "agm": 5.0, "gel": 1.0}
"""Times its capacity in an hour that a battery is charged with, at the very most."""
MOST_DISCHARGE = {"lithium-iron-phosphate": 8.0, "flooded": 20.0, "agm": 20.0, "gel": 20.0}
"""Times the same, drawn from it for long; those that start engines among them."""
LEAST_OF_LITHIUM = 0.05  # of its capacity in an hour: its charge; and its discharge at least twice
LEAST_SHORT = 3.0  # times the same, which is a slip of the unit; not only another figure


@rule(
    id="battery-label-odd",
    summary="Voltages, temperatures and currents of a battery's label against what it can have.",
    covers=(
        "A bank's value written for one battery, or °F for °C",
        "A battery's current told a thousandfold too large or too small",
    ),
    level="warning",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="Everything that charges a battery is held to the limits of its label, so a wrong "
    "limit makes a wrong charger look right. Some slips are common: the value of the whole bank, "
    "which stands in its manual, is written for each battery, and a temperature in degrees "
    "Fahrenheit is written as one in Celsius, or the other way round.",
    caution=warning("A battery that is held to a limit that is not its own can gas, vent or burn."),
    fine="Where the label of the very battery says so: look at it again, and keep a picture of "
    "it. It is rare.",
    since="0.2.0",
    sound=plan("van"),
    faulty=Edit("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
)
def battery_label_odd(study: Study) -> Iterator[Observation]:
    for bank in study.battery.banks:
        yield from _voltage(bank)
        yield from _temperatures(bank)
        yield from _currents(bank)


def _voltage(bank: BankStudy) -> Iterator[Observation]:
    """The highest charge voltage of one battery against its nominal voltage."""
    written = bank.battery.max_charge_voltage
    if written is None:
        return
    one = declared(bank.battery.nominal, "Unom", f"nominal voltage of one battery of {bank.name}")
    volts = declared(written, "Umax", f"highest charge voltage of one battery of {bank.name}")
    if bank.contradicts_itself:
        yield _contradicts(bank, one, volts)
        return
    words = "highest charge voltage that any battery of it has"
    per_volt = tabled(MOST_PER_12_V / 12.0, "", "k", "of it for each volt", "common practice")
    most = (per_volt * one).named("Umost", words, "V")
    if not exceeds(volts, most):
        return
    times = round(volts.number / (14.6 / 12.8 * one.number))
    right = f"{volts.number / times:.3g} V"
    yield Observation(
        message=(
            f"`{bank.name}` is {one} for each battery, yet may be charged to {volts}: that is "
            f"right for {times} in series, and would destroy one"
        ),
        on=(bank,),
        values=(volts, one, most),
        margin=margin_below(volts, most),
        remedy=Remedy(
            f"write the value of one battery: {right} for each of {times}, if the label of the "
            "bank gives this; or write the nominal voltage of the whole battery",
            ((Change(bank.name, "max_charge_voltage", right),),),
        ),
        level="error",
        cause="voltage",
    )


def _currents(bank: BankStudy) -> Iterator[Observation]:
    """Currents that no battery of this capacity has: A for kA, or of a whole bank, or a slip."""
    battery = bank.battery
    rate = battery.capacity.value / 3600.0  # A that empty it in an hour
    chemistry = "lithium" if not bank.is_lead else str(battery.chemistry)
    for key, most, what in (
        ("max_charge_current", MOST_CHARGE[battery.chemistry], "charged"),
        ("max_discharge_current", MOST_DISCHARGE[battery.chemistry], "drained"),
    ):
        written = getattr(battery, key)
        if written is None or not written.value > most * rate * (1.0 + 1e-9):
            continue
        amps = declared(written, f"I({bank.name})", f"{key} of one battery of {bank.name}")
        yield Observation(
            message=(
                f"`{bank.name}` may be {what} with {amps} by its label, "
                f"{amps.number / rate:.3g} times its capacity in an hour; {chemistry} takes "
                f"{most:g} times at the very most"
            ),
            on=(bank,),
            values=(amps,),
            margin=1.0 - amps.number / (most * rate),
            remedy=f"look at its label, for one battery, and write `{key}` in A",
            cause="current",
        )
    yield from _short(bank, rate)
    yield from _energy(bank, rate)


def _energy(bank: BankStudy, rate: float) -> Iterator[Observation]:
    """Watt hours written as ampere hours: a capacity that nothing else on its label goes with."""
    battery = bank.battery
    told = [c for c in (battery.max_charge_current, battery.max_discharge_current) if c is not None]
    limit = max(told, key=lambda amps: amps.value, default=None)
    if bank.is_lead or limit is None or limit.value >= LEAST_OF_LITHIUM * len(told) * rate:
        return
    hours = rate / battery.nominal.value
    capacity = bank.capacity_of_one
    yield Observation(
        message=(
            f"`{bank.name}` is told to have {capacity} and to take or give {limit.text} at most, "
            f"{100.0 * limit.value / rate:.2g} % of it an hour: is {rate:.4g} its energy in Wh, "
            f"{hours:.4g} Ah at {battery.nominal.text}?"
        ),
        on=(bank,),
        values=(capacity,),
        margin=limit.value / (LEAST_OF_LITHIUM * len(told) * rate) - 1.0,
        level=None if len(told) > 1 else "note",
        remedy=f"read `capacity` again in Ah; {rate:.4g} Wh are {hours:.4g} Ah",
        cause="capacity",
    )


def _short(bank: BankStudy, rate: float) -> Iterator[Observation]:
    amps, told = bank.told_short, bank.battery.short_circuit_current
    if amps is None or not bank.short_is_odd:
        return
    key, said = "short_circuit_current", f"{amps} into a short"
    if told is None:
        key, ohms = "internal_resistance", bank.battery.internal_resistance
        said = f"{amps} into a short, by its internal resistance of {ohms}"
    least = bank.least_short
    yield Observation(
        message=(
            f"`{bank.name}` gives {said}, and batteries of its capacity give {least:.3g} A and "
            "more: what a fuse can break is not judged by that"
        ),
        on=(bank,),
        values=(amps,),
        margin=amps.number / least - 1.0,
        level="note" if amps.number >= LEAST_SHORT * rate else None,
        remedy=f"look up `{key}`, which is thousands of amperes and thousandths of an ohm; what "
        "is told is often the most that the resistance can be, or the current that the management "
        "lets out. Or leave it out, so that it is reckoned from the capacity",
        cause="short",
    )


def _contradicts(bank: BankStudy, one: Value, volts: Value) -> Observation:
    """Charged to less than it has: one of the two values is that of another battery."""
    times = max(2, round(one.number / (volts.number / 14.6 * 12.8)))
    whole = f"{volts.number * times:.3g} V"
    return Observation(
        message=(
            f"`{bank.name}` is {one} nominal and may be charged to {volts} at most, which is "
            "less: one of the two belongs to another battery"
        ),
        on=(bank,),
        values=(one, volts),
        margin=volts.number / one.number - 1.0,
        remedy=Remedy(
            f"read both on its label, and charge it with nothing before that; if {one} is right, "
            f"it is charged to some {whole}, if {volts} is right, its nominal voltage is some "
            f"{one.number / times:.3g} V",
            (
                (Change(bank.name, "max_charge_voltage", whole),),
                (Change(bank.name, "nominal", f"{one.number / times:.3g} V"),),
            ),
        ),
        level="error",
        cause="voltage",
    )


def _temperatures(bank: BankStudy) -> Iterator[Observation]:
    battery = bank.battery
    lowest, highest = battery.min_charge_temperature, battery.max_temperature
    if lowest is not None:
        least = declared(lowest, f"Tmin({bank.name})", f"lowest charge temperature of {bank.name}")
        if not bank.is_lead and least.number < COLDEST_OF_LITHIUM:
            why = "lithium iron phosphate is harmed by charge below freezing"
            yield _odd(bank, "min_charge_temperature", least, f"{least}, and {why}", "0 °C")
        elif least.number > WARMEST_LEAST:
            why = "no battery has to be that warm"
            yield _odd(bank, "min_charge_temperature", least, f"{least}, and {why}", "0 °C")
    if highest is not None:
        most = declared(highest, f"Tmax({bank.name})", f"highest temperature of {bank.name}")
        if not COOLEST_MOST <= most.number <= HOTTEST_MOST:
            why = "batteries stand 40 to 60 °C"
            yield _odd(bank, "max_temperature", most, f"at most {most}, and {why}", "")


def _odd(bank: BankStudy, key: str, value: Value, told: str, usual: str) -> Observation:
    number = value.number
    other = f"{number:g} °F would be {(number - 32.0) / 1.8:.0f} °C"
    backward = f"{number:.0f} °C is {number * 1.8 + 32.0:.0f} °F"
    what = "may be charged from" if key == "min_charge_temperature" else "may be used at"
    return Observation(
        message=f"`{bank.name}` {what} {told}; {backward}, and {other}",
        on=(bank,),
        values=(value,),
        remedy=Remedy(
            f"look at its label, in which unit it tells this, and write `{key}` with that unit",
            ((Change(bank.name, key, usual),),),
        ),
        cause="temperature",
    )
