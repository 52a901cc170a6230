"""Voltage at which a full battery is held, by its kind."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.finding import Level
from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.battery.joined import ChargedBanks
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof.working import Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "lead is held at 13.2 to 13.9 V for each 12 V at 25 °C; lithium is not held above 13.6 V, "
        "and needs no float at all"
    ),
}

LEAD_LEAST, LEAD_MOST = 13.2, 13.9
LITHIUM_LEAST, LITHIUM_MOST = 13.0, 13.8
LITHIUM_FULL = 14.4
"""Float voltages for each 12 V (V); the last, one that charges lithium full and goes on."""

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.4 V, blocks_reverse: true,
            compensates_temperature: true, float_voltage: 13.6 V}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_voltage: 14.7 V}
"""


@rule(
    id="float-voltage-wrong",
    summary="Float voltage of each source against what the battery stands for months.",
    covers=("Held at the wrong voltage when full",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Once a battery is full, a charger only holds it. What is right for an hour of "
    "charging is far too much for months: lead loses its water and its plates, sealed "
    "lead cannot get it back, and lithium ages fastest when it is held full. Too low, "
    "and lead slowly discharges itself and hardens.",
    caution=notice("A sealed lead battery that is held too high dries out, and can run hot."),
    fine="Where the battery's maker names this voltage, or the battery is never left on charge "
    "for days.",
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit("float_voltage: 13.6 V", "float_voltage: 14.4 V"),
)
def float_voltage_wrong(study: Study) -> Iterator[Observation]:
    for charged in study.battery.charged:
        written = charged.source.float_voltage
        if written is None:
            continue
        name = charged.source.name
        volts = declared(written, f"Ufloat({name})", f"float voltage of {name}")
        lead = all(bank.is_lead for bank in charged.banks)
        twelves = sum(bank.twelves for bank in charged.banks)
        most = _limit((LEAD_MOST if lead else LITHIUM_MOST) * twelves, "highest")
        least = _limit((LEAD_LEAST if lead else LITHIUM_LEAST) * twelves, "lowest")
        over = exceeds(volts, most)
        if not over and not exceeds(least, volts):
            continue
        names = quoted(bank.name for bank in charged.banks)
        limit = most if over else least
        right = f"at most {most}" if over else f"at least {least}"
        yield Observation(
            message=f"`{name}` holds {names} at {volts} when full; {right} is right",
            on=(charged.source, *charged.banks),
            values=(volts, limit),
            margin=margin_below(volts, most) if over else volts.number / least.number - 1.0,
            remedy=Remedy(
                f"set `float_voltage` of `{name}` to {limit}",
                ((Change(name, "float_voltage", f"{limit}"),),),
            ),
            level=_level(charged, volts, twelves) if over else "note",
        )


def _level(charged: ChargedBanks, volts: Value, twelves: float) -> Level | None:
    """Graver where it is over what the battery takes at all; a note for lithium below full."""
    caps = [bank.charge_voltage_limit for bank in charged.banks]
    if exceeds(volts, sum(cap.number for cap in caps)) and not any(c.assumptions for c in caps):
        return "error"
    if all(bank.is_lead for bank in charged.banks):
        return None
    return None if volts.number >= LITHIUM_FULL * twelves else "note"


def _limit(number: float, what: str) -> Value:
    return tabled(number, "V", "Ufloat", f"{what} float voltage", "common practice")
