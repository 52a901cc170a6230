"""What an inverter takes for itself in a day against all that is used."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.energy.balance import Balance
    from wattproof.study.energy.daily_use import Taken

BASIS = {
    "common practice": practice(
        "an inverter is switched off when nothing runs on it, or left in its search mode; what it "
        "takes for itself stays a small part of the day's use"
    ),
}

MORE = """\
inverters:
  mains: {power: 300 W, nominal: 12 V, efficiency: 90 %, idle_power: 10 W, low_voltage: 11 V}
energy:
  uses:
    mains: {energy: 100 Wh, switched_on: 1 h}
"""


@record
class Limits:
    """What a project may set."""

    share: float = option(0.15, "Share of the day's use that an inverter may take for itself.")


@rule(
    id="inverter-idle",
    summary="Idle energy of an inverter against all that is used in a day.",
    covers=("An inverter that idles a day's sun away",),
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="An inverter that is switched on keeps its transformer and fan alive even with "
    "nothing plugged in. Ten watts look like nothing, but in a day and a night they are as much as "
    "a small refrigerator takes. The larger the inverter, the more it takes for itself.",
    fine="Where it runs only while something is plugged in, or it has a saving mode: write down "
    "what it takes then.",
    since="0.1.0",
    sound=plan(
        "van-refrigerator",
        Edit("rating: 15 A", "rating: 40 A"),
        Edit("to: refrigerator", "to: mains"),
        Edit("length: 2 m", "length: 1 m"),
        Edit("winter: 1.5 h, ", ""),
        less=(
            "loads",
            "energy.uses",
        ),
        more=MORE,
    ),
    faulty=Edit("switched_on: 1 h", "switched_on: 24 h"),
    options=Limits,
)
def inverter_idle(study: Study, limits: Limits) -> Iterator[Observation]:
    for energy in study.energy.balances:
        found = [
            (_share(taken, taken.idle, balance), taken, balance)
            for balance in energy.balances
            for taken in balance.taken
            if taken.idle is not None and taken.idle.number
        ]
        for name in dict.fromkeys(str(taken.consumer.name) for _, taken, _ in found):
            own = [each for each in found if each[1].consumer.name == name]
            share, taken, balance = max(own, key=lambda each: each[0].number)
            if not exceeds(share, limits.share):
                continue
            yield Observation(
                message=f"`{name}` takes {taken.idle} a day for itself {balance.period.when}, "
                f"{share} of all that is used",
                on=(taken.consumer, energy.serving[0]),
                values=(share,),
                margin=margin_below(share, limits.share),
                remedy=_remedy(name, [(t, b) for _, t, b in own], limits.share),
            )


def _share(taken: Taken, idle: Value, balance: Balance) -> Value:
    words = f"share of the use that {taken.consumer.name} takes for itself"
    return (idle / balance.used).named(f"share({taken.consumer.name})", words, "%")


def _remedy(name: str, days: list[tuple[Taken, Balance]], share: float) -> Remedy:
    """For how long it may be on, so that its idle energy is within the share in every period."""
    hours = min(_hours(taken, balance, share) for taken, balance in days)
    tenths = math.floor(hours * 10.0 + 1e-9) / 10.0
    otherwise = "; or use its search mode, or a smaller inverter"
    if not tenths:
        return Remedy(f"switch it on only while something runs on it{otherwise}")
    text = f"{tenths:g} h"
    return Remedy(
        f"switch it on at most {text} a day, and write `switched_on: {text}`{otherwise}",
        ((Change(name, "use.switched_on", text),),),
    )


def _hours(taken: Taken, balance: Balance, share: float) -> float:
    """Hours a day for which its idle energy is that share of the use."""
    assert taken.idle is not None
    assert taken.idle_power is not None
    others = balance.used.number - taken.idle.number
    return share * others / (1.0 - share) / taken.idle_power.number / 3600.0
