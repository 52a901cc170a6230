"""The coldest place of a lithium battery against the cold in which it may be charged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.rule import (
    Change,
    Clause,
    Edit,
    Located,
    Observation,
    Related,
    Remedy,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import Source
from wattproof.study.limits import exceeds
from wattproof.words import enumerated, quoted
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 62619",
        "2022",
        "the management system keeps each cell within its ranges of voltage, current and "
        "temperature",
        verified=True,
    ),
    "iso-13297": Clause(
        "ISO/TS 23625",
        "2021",
        "lithium batteries of small craft are not charged outside the temperatures that their "
        "maker gives",
        verified=False,
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
        "lithium iron phosphate is not charged below its lowest charge temperature, most often "
        "0 °C",
        verified=False,
    ),
}


@rule(
    id="charge-below-freezing",
    summary="Coldest place of a lithium battery against its lowest charge temperature.",
    covers=("Lithium charged below freezing",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="Charging a lithium cell pushes lithium into its carbon; below freezing it cannot "
    "get in fast enough and settles on top as metal. Nothing shows: the battery works on, with "
    "less capacity each time, until a needle of metal pierces the cell from inside. Only a "
    "cut-off in the battery itself, or in every single source that charges it, prevents it; the "
    "sun rises on the coldest morning too.",
    caution=warning(
        "A lithium battery that was charged in the cold can short inside and burn, long "
        "afterwards and without warning."
    ),
    since="0.1.0",
    sound=plan("van"),
    faulty=Edit("low_temperature_cutoff: true", "low_temperature_cutoff: false"),
)
def charge_below_freezing(study: Study) -> Iterator[Observation]:
    for bank in study.battery.banks:
        sources = study.battery.sources_of(bank)
        open_ones = [source for source in sources if not source.low_temperature_cutoff]
        by_module = [each.string for each in study.array.regulated_on if bank in each.banks]
        going_on: list[Located] = [*open_ones, *by_module]
        if bank.is_lead or bank.battery.low_temperature_cutoff or not going_on:
            continue
        coldest, lowest = study.battery.coldest_cells_of(bank), bank.lowest_charge
        if not exceeds(lowest - coldest, 0.0):
            yield from _unheated(study, bank, open_ones)
            continue
        if study.battery.may_stop_in_the_cold(bank, open_ones):
            continue
        names = enumerated(dict.fromkeys(f"`{source.name}`" for source in going_on))
        yield Observation(
            message=(
                f"`{bank.name}` may not be charged below {lowest} and gets as cold as "
                f"{coldest}; nothing stops {names} from charging it then"
            ),
            on=(bank,),
            values=(coldest, lowest),
            remedy=_remedy(bank, open_ones, names, by_module=bool(by_module)),
            related=tuple(Related(s.at, f"`{s.name}` charges it") for s in going_on),
        )
    for box, coldest, lowest in study.battery.boxes_in_the_cold:
        if exceeds(lowest - coldest, 0.0):
            yield Observation(
                message=f"`{box.name}` goes on charging in the cold and gets as cold as {coldest}; "
                f"lithium may not be charged below {lowest}",
                on=(box,),
                values=(coldest, lowest),
                remedy=f"keep `{box.name}` where it is at least {lowest} while the sun shines on "
                "its modules, and write that as the `coldest` of its `place`",
                level="warning",
            )


def _unheated(study: Study, bank: BankStudy, open_ones: Sequence[Source]) -> Iterator[Observation]:
    """One that its heater keeps warm enough, as long as no switch takes its power."""
    air, lowest = study.battery.coldest_of(bank), bank.lowest_charge
    if not exceeds(lowest - air, 0.0):
        return
    for cut in study.charging.left_cold:
        going_on = [source for source in cut.sources if source in open_ones]
        if (
            cut.bank is not bank
            or not going_on
            or study.battery.may_stop_in_the_cold(bank, open_ones)
        ):
            continue
        sources = quoted(source.name for source in going_on)
        heater, switch = cut.heater.name, cut.switch.name
        yield Observation(
            message=f"`{switch}` switches `{heater}` off, and nothing stops {sources} from "
            f"charging `{bank.name}` then, at {air}; it may not be charged below {lowest}",
            on=(bank, cut.switch, cut.heater),
            values=(air, lowest),
            remedy=f"lead `{heater}` to the battery past `{switch}`, through a fuse of its own; or "
            "use a battery that stops its charge in the cold, and write "
            "`low_temperature_cutoff: true` there",
            level=None if cut.by_itself else "warning",
            cause=str(switch),
        )


def _remedy(bank: BankStudy, charged: Sequence[Source], names: str, *, by_module: bool) -> Remedy:
    """A battery or chargers that stop it, or a warmer place; regulators on modules tell nothing."""
    key, lowest = "low_temperature_cutoff", f"{bank.lowest_charge.number:g} °C"
    stops = "use a battery that stops its charge in the cold"
    words = (
        f"{stops if by_module else f'{stops}, or let {names} stop it'}, and write "
        f"`{key}: true` there; or keep its place at `coldest: {lowest}` or more"
    )
    own = (Change(bank.name, key, "true"),)
    stopped = dict.fromkeys(Change(str(source.name), key, "true") for source in charged)
    warm = (Change(bank.name, "place.coldest", lowest),) if bank.battery.place is not None else ()
    return Remedy(words, (own, *(() if by_module else (tuple(stopped),)), warm))
