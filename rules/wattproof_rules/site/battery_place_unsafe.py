"""Whether a battery stands where its gas can harm no one."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, danger, rule
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.site.places import Placed
from wattproof.working import LookUp
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 480.10(A); NEC 552.10(D) for trailers",
        "2008-2023",
        "battery spaces are vented so that no explosive mixture gathers; in trailers batteries "
        "are in a space that is sealed from the living area and vented outside",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-10; 33 CFR 183.420(e)",
        "2022",
        "hydrogen that batteries give off, of whatever kind they are, is led out of the boat from "
        "the top of their box or space",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62485-2",
        "2010",
        "battery rooms are vented so that hydrogen stays under 4 % of the air",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3001.2 5.4",
        "2022",
        "a lead battery stands in the open or in a compartment sealed from where people live and "
        "vented outside at top and bottom; a lithium battery is not among people unless it is "
        "sealed off and vented outside",
        verified=False,
    ),
    "common practice": Clause(
        "label of the battery",
        "as supplied",
        "a flooded battery stands in a box that is vented outside, and no battery in a gas locker",
        verified=False,
    ),
}

MORE = """\
site:
  coldest: -18 °C
  hottest: 40 °C
  places:
    roof: {ambient: 65 °C}
    cabin: {ambient: 35 °C, living_space: true, vented: true}
controllers:
  regulator: {kind: pwm, max_input_voltage: 50 V, max_output_current: 20 A, charge_voltage: 14.4 V,
              blocks_reverse: true}
batteries:
  house: {chemistry: flooded, nominal: 12 V, capacity: 110 Ah, max_charge_current: 25 A,
          max_charge_voltage: 14.8 V, place: cabin}
"""


WHERE = LookUp(
    "where {names} stands, and whether its gas gets outside",
    "around it: a box with a vent, an engine space, a room where people sleep",
    "rarely",
)


@rule(
    id="battery-place-unsafe",
    summary="Batteries that gas, without a vent to the outside, and any in a gas locker.",
    covers=(
        "Gas of a battery in a living space, a battery with gas",
        "A battery that gasses, shut into a closed space",
    ),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="While it is charged a flooded lead battery splits water into hydrogen and oxygen, "
    "which is the most explosive mixture there is; four parts of hydrogen in a hundred of air are "
    "enough. It rises and gathers under the ceiling or in a closed box, and a relay or a loose "
    "clamp lights it. Acid mist comes along with it. A vent from the top of the box to the "
    "outside carries both away. A sealed or lithium battery gives off gas only when it fails, but "
    "then hot and much of it, so some codes want every battery shut off from where people sleep.",
    caution=danger(
        "Hydrogen that gathers in a cabin explodes at the first spark, and throws acid at whoever "
        "is near."
    ),
    since="0.1.0",
    sound=plan(
        "van",
        Edit("series: 3", "series: 1"),
        Edit("to: tracker.pv", "to: regulator.pv"),
        Edit("from: tracker.battery", "from: regulator.battery"),
        less=("controllers.tracker",),
        more=MORE,
    ),
    faulty=Edit("vented: true", "vented: false"),
)
def battery_place_unsafe(study: Study) -> Iterator[Observation]:
    banks = {bank.name: bank for bank in study.battery.banks}
    for placed in study.site.placed:
        bank = banks.get(str(placed.component.name))
        if bank is None:
            continue
        place = placed.place
        if place.gas_locker:
            yield Observation(
                message=f"`{bank.name}` is in `{place.name}`, a gas locker",
                on=(bank, place),
                remedy=f"move `{bank.name}` out of `{place.name}`",
            )
        elif _gasses(bank, study) and place.living_space and not study.site.is_vented(place):
            yield _among_people(bank, placed, study)
        elif _needs_air(bank, study) and _is_closed(bank, placed, study):
            yield _shut_in(bank, placed, study)
    for bank in banks.values():
        if bank.battery.place is None and bank.battery.chemistry == "flooded":
            yield Observation(
                message=f"`{bank.name}` is flooded, and gives off hydrogen wherever it stands",
                on=(bank,),
                asks=WHERE,
            )


def _is_closed(bank: BankStudy, placed: Placed, study: Study) -> bool:
    """True for a place that is told to have no vent; with flooded lead, where it may have none.

    Sun and rain come to a place outside, and air with them; an engine space breathes.
    """
    place = placed.place
    if place.vented is not None or bank.battery.chemistry != "flooded":
        return place.vented is False
    outside = place.sunlight or place.wet or place.engine_space
    return not outside and not study.site.is_vented(place)


def _needs_air(bank: BankStudy, study: Study) -> bool:
    """True for what gives off hydrogen at every charge, and for all lead on boats."""
    return bank.battery.chemistry == "flooded" or _on_a_boat(bank, study)


def _shut_in(bank: BankStudy, placed: Placed, study: Study) -> Observation:
    """In a space of its own, which is told to be closed: the gas gathers there."""
    place, flooded = placed.place, bank.battery.chemistry == "flooded"
    kind = "flooded" if flooded else f"{bank.battery.chemistry}, sealed lead whose valves open"
    when = "" if flooded else " when it is overcharged"
    return Observation(
        message=f"`{bank.name}` is {kind}{when}, in `{place.name}`, which has no vent",
        on=(bank, place),
        remedy=_in_a_box(bank, str(place.name), False, False),
        level=None if flooded and _on_a_boat(bank, study) else "warning",
    )


def _gasses(bank: BankStudy, study: Study) -> bool:
    """True for what is vented outside: by the body of rules, and all lead on boats."""
    kind = bank.battery.chemistry
    return kind in study.codes.battery.vented_outside or _on_a_boat(bank, study)


def _on_a_boat(bank: BankStudy, study: Study) -> bool:
    return study.plan.setting == "boat" and bank.is_lead


def _among_people(bank: BankStudy, placed: Placed, study: Study) -> Observation:
    """A flooded battery gasses at every charge; a sealed one only when it fails."""
    place = placed.place
    flooded = bank.battery.chemistry == "flooded"
    boat = _on_a_boat(bank, study)
    sealed_may = "agm" not in study.codes.battery.vented_outside and not boat
    if flooded:
        kind = "flooded"
    elif boat and bank.battery.chemistry not in study.codes.battery.vented_outside:
        kind = f"{bank.battery.chemistry}, sealed lead whose valves open when it is overcharged"
    else:
        kind = f"{bank.battery.chemistry}, which this code wants sealed off"
    return Observation(
        message=f"`{bank.name}` is {kind}, unvented in `{place.name}`, a living space",
        on=(bank, place),
        remedy=_in_a_box(bank, str(place.name), not flooded and not boat, sealed_may),
        level=None if flooded else "warning",
    )


def _in_a_box(bank: BankStudy, place: str, sealed_off: bool, sealed_may: bool) -> Remedy:
    box = (
        "vented outside from its top"
        if bank.is_lead and not sealed_off
        else "sealed from the room and vented outside"
    )
    words = f"put it in a box that is {box}, and write `vented: true` in `{place}`"
    vented = (Change(bank.name, "place.vented", "true"),)
    if not sealed_may:
        return Remedy(words, (vented,))
    sealed = (Change(bank.name, "chemistry", "agm"),)
    return Remedy(f"{words}; or use a sealed battery", (vented, sealed))
