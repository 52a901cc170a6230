"""The current of all sources that can charge a bank at once, against what it stands."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, notice, option, record, rule
from wattproof.study import Study
from wattproof.study.charging.sources import Charging
from wattproof.study.limits import exceeds, margin_below, stated
from wattproof.words import stood
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 706.33",
        "2020-2023",
        "the charging of an energy storage system is controlled, within the maker's limits",
        verified=False,
    ),
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
    "common practice": Clause(
        "label of the battery",
        "as supplied",
        "all sources together stay within the charge current that the maker allows; without a "
        "label 1 A for each Ah of lithium iron phosphate, 0.4 A of AGM, 0.2 A of other lead",
        verified=False,
    ),
}

MORE = """\
strings:
  roof-string: {module: rigid-200, series: 3, mounting: roof-gap}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
"""


@record
class Limits:
    """What a project may set."""

    wrong: float = option(1.25, "Times the battery's limit from which it is an error.")


@rule(
    id="charge-current-over-battery",
    summary="Charge current of all sources at once against what the bank stands.",
    covers=("Charged too hard by all sources at once",),
    level="error",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Sun, alternator and shore charger do not know of each other: each gives what it "
    "can, and the battery gets the sum. Pushed faster than it can take it, a lead battery boils "
    "and a lithium battery plates metal where it should store it, or its management cuts it off "
    "in the middle of charging. What a source gives is its rated output, a lower limit that is "
    "set in it, or what its array can deliver, whichever is least.",
    caution=notice(
        "Charging above the maker's limit ages the battery fast and voids its warranty."
    ),
    fine="Where the battery limits its sources by a data line, or the sources are set so that "
    "their sum stays below: write the limit down.",
    since="0.1.0",
    sound=plan(
        "two-strings",
        Edit("rating: 40 A", "rating: 30 A"),
        Edit("charge_voltage: 28.4 V", "charge_voltage: 14.2 V"),
        Edit("from: roof-joint", "from: roof-string"),
        Edit("cable: pv-8", "cable: pv-10"),
        less=(
            "datasheets.cables.pv-8",
            "strings",
            "combiners",
        ),
        more=MORE,
    ),
    faulty=Edit("max_charge_current: 50 A", "max_charge_current: 29 A"),
    options=Limits,
)
def charge_current_over_battery(study: Study, limits: Limits) -> Iterator[Observation]:
    for each in study.charging.of_banks:
        charging = each.alone or each
        bank, current = charging.bank, charging.current
        if not exceeds(current, bank.charge_limit):
            continue
        grave = exceeds(current, limits.wrong * bank.charge_limit)
        listed = ", ".join(f"`{source.name}` {amps}" for source, amps in charging.sources)
        share = " as its share" if len(study.battery.side.beside(bank)) > 1 else ""
        if charging.selectors or charging.opened:
            share = f" {stood(charging.selectors, charging.opened)}"
        yield Observation(
            message=(
                f"`{bank.name}` gets {current}{share} when all charge at once ({listed}); "
                f"{stated(bank.charge_limit, 'the most that it may get')}"
            ),
            on=(bank, *(source for source, _ in charging.sources)),
            values=(current, bank.charge_limit),
            margin=margin_below(current, bank.charge_limit),
            remedy=_remedy(charging, study),
            level=None if grave else "warning",
        )


def _remedy(charging: Charging, study: Study) -> Remedy:
    """The limit to set in a controller, or the bank that would do."""
    bank, gets = charging.bank, charging.current.number
    too_much = (gets - bank.charge_limit.number) * charging.whole.number / gets
    stands = math.ceil(gets - 1e-9)
    larger = f"a bank that may be charged with at least {stands} A"
    each = math.ceil(stands / bank.in_parallel - 1e-9)
    other = (Change(bank.name, "max_charge_current", f"{each} A"),)
    for source, amps in sorted(charging.sources, key=lambda pair: -pair[1].number):
        left = math.floor(amps.number - too_much + 1e-9)
        if source.name in study.plan.controllers and left >= 1:
            words = (
                f"set `{source.name}` to at most {left} A and write `limited_to: {left} A`, or use "
                f"{larger} for `{bank.name}`"
            )
            return Remedy(words, ((Change(str(source.name), "limited_to", f"{left} A"),), other))
    use = f"use {larger} for `{bank.name}`"
    less = "; or put a vehicle charger between it and its alternator"
    by_less = less if charging.by_alternator else ""
    return Remedy(f"{_fewer_at_once(charging)}{use}{by_less}", (other,))


def _fewer_at_once(charging: Charging) -> str:
    """That sources charge in turn, where none of them gives too much by itself."""
    share = charging.current.number / charging.whole.number
    most = max(amps.number for _, amps in charging.sources)
    in_turn = len(charging.sources) > 1 and most * share <= charging.bank.charge_limit.number
    return "let them charge one at a time, or " if in_turn else ""
