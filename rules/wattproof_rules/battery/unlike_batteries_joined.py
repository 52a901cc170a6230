"""Batteries that conductors join, by kind and by capacity."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import of_capacity
from wattproof.rule import (
    Clause,
    Edit,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.assumptions.labels import NO_CAPACITY
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import JoinedBanks
from wattproof.study.limits import exceeds, margin_below, spread
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-10 and E-13",
        "2022-2025",
        "batteries in one bank are of one kind; lithium batteries are joined only as their maker "
        "says",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 3001.2 5.4 and Appendix C",
        "2022",
        "a notice at the battery asks that it be replaced by one of its own type only",
        verified=True,
    ),
    "common practice": practice(
        "batteries that are joined without a charger between them are of one kind and, within a "
        "tenth, of one capacity"
    ),
}

MORE = """\
datasheets:
  cables:
    bank-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
fuses:
  port-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  starboard-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
              max_charge_current: 50 A, max_charge_voltage: 14.6 V,
              low_temperature_cutoff: true}
  starboard-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
                   max_charge_current: 50 A, max_charge_voltage: 14.6 V,
                   low_temperature_cutoff: true}
wires:
  port-run: {from: port-pack, to: bar, cable: bank-1, length: 60 cm, place: cabin,
             inline: [{port-fuse: {from_end: from, distance: 5 cm}}]}
  starboard-run: {from: starboard-pack, to: bar, cable: bank-1, length: 60 cm, place: cabin,
                  inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]}
"""


@record
class Limits:
    """What a project may set."""

    capacity: float = option(0.10, "Share by which joined batteries may differ in capacity.")


@rule(
    id="unlike-batteries-joined",
    summary="Kind and capacity of batteries that are joined without a charger between them.",
    covers=("Batteries of unlike kind or size together",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="In parallel all batteries sit at one voltage, and each kind wants another: what "
    "fills one overcharges the next or leaves it half empty. At the moment of joining the fuller "
    "one pours into the emptier one with nothing but the cable to limit it. In series all carry "
    "one current, so the smallest is empty first and is then driven backwards, and full first and "
    "is then overcharged.",
    caution=warning(
        "Joining batteries of unlike kind or charge can drive hundreds of amperes through the "
        "cable, and a battery that is overcharged by its neighbour can burn."
    ),
    since="0.1.0",
    likeness=True,
    sound=plan(
        "van-inverter",
        less=(
            "datasheets.cables.bank-1-0",
            "fuses.bank-fuse",
            "batteries.house",
            "inverters",
            "wires.bank-run",
            "wires.inverter-run",
        ),
        more=MORE,
    ),
    faulty=Edit(
        "port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah",
        "port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 150 Ah",
    ),
    options=Limits,
)
def unlike_batteries_joined(study: Study, limits: Limits) -> Iterator[Observation]:
    for joined in study.battery.joined:
        if joined.first.battery.chemistry != joined.second.battery.chemistry:
            yield _unlike_kinds(joined, study)
        elif not _of_two_systems(joined, study):
            yield from _unlike_capacities(joined, limits, study)


def _of_two_systems(joined: JoinedBanks, study: Study) -> bool:
    """True for banks of which each serves something of its own, joined by a switch or relay.

    A bank for the engine and one for the house are of unlike size on purpose.
    """
    if joined.in_series or joined.selector is not None:
        return False  # a selector puts both on one and the same load
    return any(
        each.closes_above is not None or _parts(str(each.name), study) for each in joined.switches
    )


def _parts(switch: str, study: Study) -> bool:
    """True for a switch with a bank, and something that it serves or is charged by, either side."""
    device = study.wiring.devices.get(switch)
    sides = study.wiring.neighbours_of(device.passages[0]) if device is not None else None
    return sides is not None and all(s.banks and (s.sources or s.consumers) for s in sides)


def _unlike_kinds(joined: JoinedBanks, study: Study) -> Observation:
    """A switch between two kinds of lead is opened when the engine rests: that is milder.

    So is one to lithium that holds the current down, as relays that are made for it do.
    """
    first, second = joined.first, joined.second
    milder = joined.switch is not None and first.is_lead and second.is_lead
    held = joined.switch is not None and not milder and _is_held_down(joined, study)
    return Observation(
        message=f"`{first.name}` ({first.battery.chemistry}) and `{second.name}` "
        f"({second.battery.chemistry}) are joined in {_way(joined)}{_through(joined)}, without "
        "a charger between them",
        on=(first, second, *((joined.switch,) if joined.switch is not None else ())),
        remedy=f"use batteries of one kind in {_way(joined)}"
        if joined.in_series
        else f"charge the one from the other by a battery charger that is set for its kind, of at "
        f"most {_least_limit(first, second)}; or use batteries of one kind",
        level="warning" if milder else "note" if held else None,
        cause=_by(joined),
    )


def _is_held_down(joined: JoinedBanks, study: Study) -> bool:
    """True where the plan tells of every alternator that charges them what it is held to."""
    sources = [s for b in (joined.first, joined.second) for s in study.battery.sources_of(b)]
    alternators = [source for source in sources if source.kind == "alternator"]
    return bool(alternators) and all(source.limited_to is not None for source in alternators)


def _starts(joined: JoinedBanks, study: Study) -> bool:
    """True for banks on a selector through which an engine is started."""
    selector = joined.selector
    return selector is not None and any(selector in c.switches for c in study.charging.cranking)


def _through(joined: JoinedBanks) -> str:
    return f" through `{joined.switch.name}`" if joined.switch is not None else ""


def _by(joined: JoinedBanks) -> str:
    """What joins them: batteries wired together are another matter than two systems at a switch."""
    return str(joined.switch.name) if joined.switch is not None else ""


def _unlike_capacities(joined: JoinedBanks, limits: Limits, study: Study) -> Iterator[Observation]:
    """In parallel one battery stands against one: a bank of two is two of them beside the other.

    A selector that starts an engine has the engine's battery on it, which is smaller on purpose.
    """
    first, second = joined.first, joined.second
    one, other = (b.capacity if joined.in_series else b.capacity_of_one for b in (first, second))
    apart = spread([one, other], "difference in capacity")
    if not exceeds(apart, limits.capacity):
        return
    yield Observation(
        message=f"`{first.name}` ({one}) and `{second.name}` ({other}) are "
        f"joined in {_way(joined)}{_through(joined)} and differ by {apart} in capacity; "
        f"{limits.capacity * 100:g} % is the most",
        on=(first, second),
        values=(apart, one, other),
        margin=margin_below(apart, limits.capacity),
        remedy=_of_one_capacity(first, second),
        level=None if joined.in_series else "note" if _starts(joined, study) else "warning",
        asks=NO_CAPACITY.look_up if one.assumptions or other.assumptions else None,
        cause=_by(joined),
    )


def _of_one_capacity(first: BankStudy, second: BankStudy) -> Remedy:
    """The smaller made as large; a plan says it where each is one battery."""
    smaller, larger = sorted((first, second), key=lambda bank: bank.capacity_of_one.number)
    words = f"use batteries of {larger.capacity_of_one} for both, of one make and age"
    hours = larger.capacity_of_one.number / 3600.0
    return Remedy(words, ((of_capacity(smaller, hours, smaller.in_parallel),),))


def _way(joined: JoinedBanks) -> str:
    return "series" if joined.in_series else "parallel"


def _least_limit(first: BankStudy, second: BankStudy) -> str:
    """The lower of the two charge limits."""
    return str(min(first.charge_limit, second.charge_limit, key=lambda value: value.number))
