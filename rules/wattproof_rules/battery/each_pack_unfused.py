"""Whether each of several lithium packs in parallel has a fuse or breaker of its own."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit.walk import reached
from wattproof.remedies.proposals import against_ignition, distinct, fuse_at
from wattproof.rule import Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.bank import BankStudy
from wattproof.study.limits import exceeds
from wattproof.study.protection.ways import Way
from wattproof.working import total
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11",
        "July 2025",
        "parallel banks above 500 Ah have a device for their interrupting capacity at each "
        "battery besides the main one",
        verified=False,
    ),
    "common practice": practice(
        "each lithium pack in parallel has a fuse of its own, so that a pack that shorts inside "
        "is not fed by all the others"
    ),
}

SECONDS = 3600.0  # C/Ah

MORE = """\
datasheets:
  cables:
    bank-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
batteries:
  port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
              max_charge_current: 50 A, max_charge_voltage: 14.6 V,
              low_temperature_cutoff: true}
  starboard-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
                   max_charge_current: 50 A, max_charge_voltage: 14.6 V,
                   low_temperature_cutoff: true}
wires:
  port-run: {from: port-pack, to: bar, cable: bank-1, length: 15 cm, place: cabin,
             inline: [{port-fuse: {from_end: from, distance: 5 cm}}]}
  starboard-run: {from: starboard-pack, to: bar, cable: bank-1, length: 15 cm, place: cabin,
                  inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]}
fuses:
  port-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  starboard-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
"""


@rule(
    id="each-pack-unfused",
    summary="Fuse or breaker at each of several lithium packs in parallel.",
    covers=("Packs in parallel without a fuse each",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="Packs joined post to post are one battery as far as a fault is concerned. If one "
    "of them shorts inside, all the others pour into it, and the main fuse sees nothing of that, "
    "because the current never reaches it. Only a fuse at each pack parts the faulty one from "
    "the rest.",
    caution=warning(
        "Lithium packs drive thousands of amperes each; a pack that shorts inside and is fed by "
        "its neighbours can burst and burn."
    ),
    since="0.1.0",
    sound=plan(
        "van-inverter",
        less=(
            "datasheets.cables.bank-1-0",
            "fuses",
            "batteries.house",
            "inverters",
            "wires.bank-run",
            "wires.inverter-run",
        ),
        more=MORE,
    ),
    faulty=Edit(
        """,
             inline: [{port-fuse: {from_end: from, distance: 5 cm}}]}
  starboard-run: {from: starboard-pack, to: bar, cable: bank-1, length: 15 cm, place: cabin,
                  inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]}
fuses:
  port-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  starboard-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
""",
        """}
  starboard-run: {from: starboard-pack, to: bar, cable: bank-1, length: 15 cm, place: cabin}
fuses:
""",
    ),
)
def each_pack_unfused(study: Study) -> Iterator[Observation]:
    yield from _short_forms(study)
    told: set[str] = set()
    for bank in study.battery.banks:
        if bank.name in told:
            continue
        bare = _joined_bare(bank, study)
        if len(bare) < 2:
            continue
        told.update(b.name for b in bare)
        capacity = total([b.capacity for b in study.battery.side.beside(bank)])
        capacity = capacity.named("C", "capacity in parallel", "C")
        most = study.codes.battery.pack_device
        grave = most is not None and exceeds(capacity, most.value * SECONDS)
        names = ", ".join(f"`{b.name}`" for b in bare)
        yield Observation(
            message=f"{names}, {capacity} of lithium in parallel, have no fuse or breaker each",
            on=tuple(bare),
            values=(capacity,),
            remedy=_remedy(bare, names, study),
            level=None if grave else "warning",
            absent="fuses",
        )


def _short_forms(study: Study) -> Iterator[Observation]:
    """Packs that the short form of one bank puts in parallel, with no fuse for each."""
    for bank in study.battery.banks:
        if bank.is_lead or bank.in_parallel < 2 or bank.battery.each_pack is not None:
            continue
        most = study.codes.battery.pack_device
        grave = most is not None and exceeds(bank.capacity, most.value * SECONDS)
        yield Observation(
            message=(
                f"the {bank.in_parallel} packs of `{bank.name}`, {bank.capacity} of lithium in "
                "parallel, have no fuse or breaker each"
            ),
            on=(bank,),
            values=(bank.capacity,),
            remedy="put a class T fuse, or another of its breaking capacity, on the post of each "
            "pack, declare it once under `fuses`, and write `each_pack: {fuse: …}` with its name",
            level=None if grave else "warning",
            absent="fuses",
        )


def _remedy(bare: list[BankStudy], names: str, study: Study) -> Remedy:
    """A fuse in the lead of each, where each has one lead only."""
    words = (
        f"put a class T fuse, or another of its breaking capacity, on the post of each of {names}"
    )
    added = []
    for bank in bare:
        leads = {
            way.conductors[0].name for way in study.protection.exits if way.bank.name == bank.name
        }
        wire = study.wiring.wires[next(iter(leads))]
        rating = wire.largest_fitting_device
        if len(leads) > 1 or rating is None:
            return Remedy(words)
        added.append(fuse_at(study, wire, bank.name, bank, rating, None))
    return Remedy(words + against_ignition(added), (distinct(added),))


def _joined_bare(bank: BankStudy, study: Study) -> list[BankStudy]:
    """Lithium banks that bare ways join, from one post to the next, a bank among them."""
    beside = {b.name: b for b in study.battery.side.beside(bank) if not b.is_lead}

    def onward(here: str) -> Iterator[str]:
        for way in study.protection.ways.all:
            if way.exit.bank.name == here and way.exit.end is not None and _short(way):
                yield from {str(way.exit.end.name)} & beside.keys()

    found = reached([bank.name], onward)
    return [b for name, b in beside.items() if name in found]


def _short(way: Way) -> bool:
    """True for a bare way between batteries that may be; others are a missing battery fuse."""
    return way.exit.device is None and way.exit.to_bank and way.verdict == "short enough"
