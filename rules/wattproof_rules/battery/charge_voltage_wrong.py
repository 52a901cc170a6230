"""The charge voltage that a source is set to, against what the battery stands and needs."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Observation,
    Remedy,
    practice,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import ChargedBanks
from wattproof.study.charging.isolators import BehindDiode
from wattproof.study.limits import exceeds, margin_below, over, stated
from wattproof.words import quoted
from wattproof.working import LookUp, SupposedWord, Value, declared, tabled, total
from wattproof_rules.plans import plan

FULL_LEAD = 1.05
"""Voltage of a full lead battery at rest over its nominal one, 12.6 V of 12 V (common practice)."""
VEHICLE = 1.25
"""What an alternator's own regulator may hold over the nominal voltage, 15 V of 12 V, in cold and
while braking; starting batteries are made for that (common practice)."""

FOR_FLOODED = 14.8
"""What is set for flooded lead charges to, for each 12 V, and more to equalise (V; common
practice)."""
HOURS_OF_A_TRICKLE = 100.0
"""In how many hours a trickle would fill a battery at the least (h; common practice)."""
MADE_FOR_LEAD = ("shore", "pwm")
"""Kinds of sources that are mostly made for lead, many without another setting."""
MOST_SETTINGS = 14.2
"""What most that charges is set to at the least, for each 12 V, whatever the battery (V; common
practice)."""
SETTING = LookUp(
    "what {names} is set to charge to, and whether that equalises",
    "in its menu or manual, by the kind of battery that it is set for; write it as "
    "`charge_voltage`",
    "often",
)

BASIS = {
    "iec": Clause(
        "IEC 62619",
        "2022",
        "the management system keeps each cell within its ranges of voltage, current and "
        "temperature",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3001.2 5.4; AS IEC 62619",
        "2022",
        "lithium batteries meet AS IEC 62619, by which the management system keeps each cell "
        "within its ranges of voltage, current and temperature",
        verified=True,
    ),
    "common practice": practice(
        "the maker's charge voltage holds; without one, for each 12 V, at most 14.6 V for lithium "
        "iron phosphate, 14.8 V for flooded, 14.7 V for AGM, 14.4 V for gel, and not under 13.8, "
        "14.2, 14.0 and 13.8 V, at which they no longer get full"
    ),
}


@rule(
    id="charge-voltage-wrong",
    summary="Charge voltage of each source against what the battery stands and needs.",
    covers=("Charged to the wrong voltage",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="A charger pushes until the voltage it is set to is reached, so that setting "
    "decides how full the battery gets. A few tenths of a volt too high and a lead battery gases "
    "and dries out, a gel cracks, and a lithium cell is driven past what it can hold until its "
    "management, if it has one, cuts off. Too low and it never gets full: lead then hardens, and "
    "part of what was paid for is never used.",
    caution=warning(
        "An overcharged battery gives off gas that explodes, heats up, and can catch fire."
    ),
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("charge_voltage: 14.2 V", "charge_voltage: 15.2 V"),
)
def charge_voltage_wrong(study: Study) -> Iterator[Observation]:
    judged = [c for c in study.battery.charged if not any(b.contradicts_itself for b in c.banks)]
    for charged in judged:
        same = [each for each in judged if each.source is charged.source]
        yield from _too_high(charged, min(map(_limit, same), key=lambda volts: volts.number))
        yield from _untold(charged, study)
    for behind in study.charging.behind_diodes:
        yield from _too_high_behind(behind)
    together: dict[tuple[str, ...], list[ChargedBanks]] = {}
    for charged in judged:
        together.setdefault(tuple(b.name for b in charged.banks), []).append(charged)
    for same in together.values():
        idle = [charged for charged in same if _never_charges(charged)]
        for charged in idle:
            yield _idle(charged)
        yield from _too_low([charged for charged in same if charged not in idle])


def _too_high(charged: ChargedBanks, least: Value) -> Iterator[Observation]:
    """least: what all that its source charges may have (V)."""
    volts, limit = _set(charged), _limit(charged)
    if volts is None or not exceeds(volts, limit) or _is_of_a_vehicle(charged, volts):
        return
    yield Observation(
        message=(
            f"`{charged.source.name}` charges {_names(charged.banks)} to {volts}; "
            f"{stated(limit, 'the most allowed')}"
        ),
        on=(charged.source, *charged.banks),
        values=(volts, limit),
        margin=margin_below(volts, limit),
        remedy=_remedy(charged, f"{least}", " at most"),
    )


def _untold(charged: ChargedBanks, study: Study) -> Iterator[Observation]:
    """What tells no setting, and may well be set for flooded lead that the bank does not stand.

    What gives no more than a trickle harms none soon, and a vehicle's regulator is not set.
    """
    source, limit = charged.source, _limit(charged)
    if source.charge_voltage is not None or not any(
        _is_harmed(b, str(source.kind)) for b in charged.banks
    ):
        return
    given = study.battery.side.output(source)
    if given.number * HOURS_OF_A_TRICKLE * 3600.0 < charged.banks[0].capacity.number:
        return
    twelves = sum(bank.twelves for bank in charged.banks)
    words = "setting for flooded lead"
    lead = tabled(FOR_FLOODED * twelves, "V", "Uflooded", words, "common practice")
    yield Observation(
        message=f"what `{source.name}` is set to is not told: {_names(charged.banks)} may have "
        f"{limit}, and set for flooded lead it gives {lead} or more",
        on=(source,),
        values=(lead, limit),
        margin=margin_below(lead, limit),
        asks=SETTING,
    )


def _is_harmed(bank: BankStudy, source: str) -> bool:
    """True for gel, for lithium on a kind of source that is mostly made for lead, and by its label.

    Its label says so where it allows less than what most sources are set to.
    """
    battery = bank.battery
    if isinstance(battery.chemistry, SupposedWord) or source == "alternator":
        return False
    most = battery.max_charge_voltage
    if most is not None and over(MOST_SETTINGS * bank.twelves, bank.charge_voltage_limit.number):
        return True
    return battery.chemistry == "gel" or (not bank.is_lead and source in MADE_FOR_LEAD)


def _is_of_a_vehicle(charged: ChargedBanks, volts: Value) -> bool:
    """True for an alternator at a voltage that vehicles have, on lead whose label is not told."""
    nominal = sum(bank.nominal.number for bank in charged.banks)
    usual = all(
        bank.battery.chemistry in ("flooded", "agm") and bank.battery.max_charge_voltage is None
        for bank in charged.banks
    )
    alternator = charged.source.kind == "alternator"
    return alternator and usual and not over(volts.number, VEHICLE * nominal)


def _limit(charged: ChargedBanks) -> Value:
    return _over(charged, [bank.charge_voltage_limit for bank in charged.banks])


def _too_high_behind(behind: BehindDiode) -> Iterator[Observation]:
    """What is left behind a diode isolator, or all of it where the source makes up for the drop."""
    bank, source, left = behind.bank, behind.source, behind.left
    limit = bank.charge_voltage_limit
    if bank.contradicts_itself or not exceeds(left, limit):
        return
    yield Observation(
        message=f"`{source.name}` charges `{bank.name}` to {left} behind `{behind.isolator.name}`; "
        f"{stated(limit, 'the most allowed')}",
        on=(source, bank),
        values=(left, limit),
        margin=margin_below(left, limit),
        remedy=f"set `charge_voltage` of `{source.name}` to at most what `{bank.name}` may have, "
        "with what the isolator takes where it is not sensed",
    )


def _never_charges(charged: ChargedBanks) -> bool:
    """True where it is set no higher than what it charges has at rest when it is full."""
    volts = _set(charged)
    rest = sum((FULL_LEAD if b.is_lead else 1.0) * b.nominal.number for b in charged.banks)
    return volts is not None and volts.number < rest


def _idle(charged: ChargedBanks) -> Observation:
    volts = _set(charged)
    assert volts is not None
    nominal = _over(charged, [bank.nominal for bank in charged.banks])
    least = _over(charged, [bank.full_at for bank in charged.banks])
    return Observation(
        message=f"`{charged.source.name}` is set to {volts}, which never fills "
        f"{_names(charged.banks)} of {nominal}",
        on=(charged.source, *charged.banks),
        values=(volts, nominal),
        margin=volts.number / nominal.number - 1.0,
        remedy=_remedy(charged, f"{least}", "", " or a little more, if it can"),
        level="warning",
        hazard="lost-energy",
    )


def _too_low(same: list[ChargedBanks]) -> Iterator[Observation]:
    """All sources of a bank are set too low; an alternator alone is for starting, not filling."""
    set_to = [(volts, charged) for charged in same if (volts := _set(charged)) is not None]
    if len(set_to) < len(same) or all(c.source.kind == "alternator" for c in same):
        return
    volts, charged = max(set_to, key=lambda pair: pair[0].number)
    least = _over(charged, [bank.full_at for bank in charged.banks])
    if not exceeds(least, volts):
        return
    yield Observation(
        message=(
            f"{_names(charged.banks)} {'is' if len(charged.banks) == 1 else 'are'} charged to "
            f"{volts} at most; it takes {least} to fill "
            f"{'it' if len(charged.banks) == 1 else 'them'}"
        ),
        on=(charged.source, *charged.banks),
        values=(volts, least),
        margin=volts.number / least.number - 1.0,
        remedy=_remedy(charged, f"{least}", "", " or a little more"),
        level="warning",
        hazard="lost-energy",
    )


def _remedy(charged: ChargedBanks, volts: str, before: str, after: str = "") -> Remedy:
    name = charged.source.name
    words = f"set `charge_voltage` of `{name}` to{before} {volts}{after}"
    return Remedy(words, ((Change(name, "charge_voltage", volts),),))


def _set(charged: ChargedBanks) -> Value | None:
    source = charged.source
    if source.charge_voltage is None:
        return None
    words = f"charge voltage of {source.name}"
    return declared(source.charge_voltage, f"Ucharge({source.name})", words)


def _over(charged: ChargedBanks, each: list[Value]) -> Value:
    """A voltage over all banks in series."""
    if len(each) == 1:
        return each[0]
    return total(each).named(f"U({charged.source.name})", "over the banks in series", "V")


def _names(banks: tuple[BankStudy, ...]) -> str:
    return quoted(bank.name for bank in banks)
