"""Lead that is drawn down in frost, against the temperature at which it freezes then."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.freezing import LeadInFrost
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "the acid of lead batteries freezes at about -60 °C when they are full, at -20 °C to "
        "-25 °C when they are half full, and at -7 °C or so when they are flat, by handbooks; they "
        "are kept charged in frost"
    ),
}

MORE = """\
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_current: 60 A,
          max_charge_voltage: 14.7 V, depth_of_discharge: 50 %, place: cabin}
"""


@rule(
    id="discharged-lead-freezes",
    summary="The coldest that a lead battery gets, against when it freezes as it is drawn down.",
    covers=("A lead battery that freezes and bursts",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="In a lead battery the acid is used up as it gives its charge, and what is left is "
    "nearly water. A full one bears any frost; half empty it freezes in a hard winter, and flat it "
    "freezes in any frost. Ice bends its plates and bursts its case, and acid runs out when it "
    "thaws. A frozen battery takes no charge, and gas can drive it apart when one is forced in.",
    caution=warning(
        "A frozen battery can burst while it is charged or jumped, and acid burns skin and eyes."
    ),
    fine="Where it stands full through the frost, or is taken inside for it.",
    since="0.12.0",
    sound=plan("van", Edit("cabin: {", "cabin: {coldest: -15 °C, "), more=MORE),
    faulty=Edit("depth_of_discharge: 50 %", "depth_of_discharge: 80 %"),
)
def discharged_lead_freezes(study: Study) -> Iterator[Observation]:
    for found in study.battery.in_frost:
        bank = found.bank
        runs_down = _runs_down(study, bank)
        if not found.may_freeze or (bank.battery.depth_of_discharge is None and not runs_down):
            continue
        taken = bank.depth_of_discharge
        yield Observation(
            message=f"`{bank.name}` gets as cold as {found.coldest}, and with {taken} taken out "
            f"of it, as {runs_down or 'the plan has it'}, it freezes at about {found.freezes}",
            on=(bank,),
            values=(found.coldest, found.freezes),
            remedy=_remedy(found),
        )


def _runs_down(study: Study, bank: BankStudy) -> str:
    """In which part of the year the sun covers less than is used and nothing else charges."""
    for energy in study.energy.balances:
        if any(each.name == bank.name for each in energy.serving) and not energy.others:
            for balance in energy.balances:
                cold = balance.period.season in ("", "winter")
                if cold and energy.lasts(balance) is not None:
                    return f"happens where it runs down {balance.period.when}"
    return ""


def _remedy(found: LeadInFrost) -> Remedy:
    """Less taken out, or a warmer place."""
    bank, warm = found.bank, _whole(found.freezes)
    words = f"keep `{bank.name}` where it stays above {warm}, with that as `coldest` of its place"
    warmer = (Change(bank.name, "place.coldest", warm),) if bank.battery.place else ()
    bears = found.bears
    share = math.floor(bears * 100.0 + 1e-9) if bears is not None else 0
    if share < 1:
        return Remedy(words, (warmer,))
    return Remedy(
        f"take out {share} % at most in frost, by a switch that opens by itself before it is lower,"
        f" and write `depth_of_discharge: {share} %`; or {words}",
        ((Change(bank.name, "depth_of_discharge", f"{share} %"),), warmer),
    )


def _whole(temperature: Value) -> str:
    return f"{math.ceil(temperature.number - 1e-9)} °C"
