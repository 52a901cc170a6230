"""Sources that equalise, by the kind of battery that they charge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import Source
from wattproof.study.limits import exceeds
from wattproof.words import enumerated, quoted
from wattproof.working import Value, declared, total
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "only flooded lead is equalised, at some 15 to 16 V for each 12 V; sealed lead only where "
        "its maker says so, lithium never"
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.6 V, blocks_reverse: true,
            compensates_temperature: true, equalise_voltage: 15.5 V}
batteries:
  house: {chemistry: flooded, nominal: 12 V, capacity: 200 Ah, max_charge_voltage: 14.8 V}
"""


@rule(
    id="equalised-though-sealed",
    summary="Equalising voltage of each source against the kind of its battery.",
    covers=("Equalised though it is sealed",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="Equalising means to overcharge on purpose: flooded cells then gas, mix their "
    "acid and even out, and water is filled up afterwards. Gel and glass mat have no "
    "water to spare, and it bursts their valves. In lithium the fullest cell is "
    "driven past what it holds, and only its management, if it has one, stands in the "
    "way.",
    caution=warning(
        "Overcharged sealed batteries burst or burn; flooded ones give off gas that explodes."
    ),
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit("chemistry: flooded", "chemistry: gel"),
)
def equalised_though_sealed(study: Study) -> Iterator[Observation]:
    for charged in study.battery.charged:
        yield from _equalised(charged.source, charged.banks)
    for behind in study.charging.behind_diodes:
        drop = None if behind.sensed else behind.drop
        yield from _equalised(behind.source, (behind.bank,), drop)


def _equalised(
    source: Source, banks: Sequence[BankStudy], drop: Value | None = None
) -> Iterator[Observation]:
    """drop: what is lost in a diode isolator on the way (V)."""
    written = source.equalise_voltage
    sealed = [bank for bank in banks if bank.battery.chemistry != "flooded"]
    if written is None:
        return
    name = source.name
    volts = declared(written, f"Ueq({name})", f"equalising voltage of {name}")
    if drop is not None:
        volts = (volts - drop).named(f"Ueq({banks[0].name})", f"left for {banks[0].name}", "V")
    limits = [bank.charge_voltage_limit for bank in banks]
    limit = limits[0] if len(limits) == 1 else total(limits)
    if sealed and not exceeds(volts, limit):
        return  # no more than it is charged with anyway
    stood = [most for bank in banks if (most := bank.equalise_limit) is not None]
    most = limit if sealed else total(stood)
    if not sealed and not exceeds(volts, most):
        return
    names = quoted(bank.name for bank in banks)
    kinds = enumerated(dict.fromkeys(str(b.battery.chemistry) for b in sealed))
    why = f"{kinds} must never be equalised" if sealed else f"{most} is the most"
    agm = bool(sealed) and all(bank.battery.chemistry == "agm" for bank in sealed)
    yield Observation(
        message=f"`{name}` equalises {names} at {volts}; {why}",
        on=(source, *banks),
        values=(volts, most),
        remedy=Remedy(
            f"switch equalising off in `{name}`, and leave `equalise_voltage` out",
            ((Change(name, "equalise_voltage", ""),),),
        ),
        level="warning" if agm or not sealed else None,
    )
