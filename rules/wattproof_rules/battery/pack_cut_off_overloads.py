"""What the other packs' fuses and leads carry once one of several packs has cut off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.circuit import Part
from wattproof.codes import NotTabulated
from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.lasting import CutOff
from wattproof.study.wiring.wires import Carrying, WireStudy
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "packs in parallel are fused and wired so that the rest bears the load when one of them "
        "cuts off"
    ),
}

MORE = """\
fuses:
  port-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  starboard-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  mains-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
              max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
              low_temperature_cutoff: true}
  starboard-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
                   max_charge_current: 50 A, max_discharge_current: 100 A,
                   max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  port-run: {from: port-pack, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{port-fuse: {from_end: from, distance: 5 cm}}]}
  starboard-run: {from: starboard-pack, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
                  inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]}
  inverter-run: {from: bar, to: mains, cable: bank-1-0, length: 60 cm, place: cabin,
                 inline: [{mains-fuse: {from_end: from, distance: 5 cm}}]}
"""


@rule(
    id="pack-cut-off-overloads",
    summary="Fuses and leads of the other packs when one of several in parallel cuts off.",
    covers=("One pack that cuts off takes the others with it",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Packs in parallel share the load, and fuses and leads of each are often chosen "
    "for that share. But a pack leaves the others alone now and then: its management opens in the "
    "cold or when a cell is full, its fuse blows, someone turns its switch. Then the rest carries "
    "all of it, the next fuse opens, and in a moment everything is dark.",
    caution=notice("All lights and instruments can fail together, one pack after another."),
    fine="Where the loads are cut as soon as one pack leaves, by a management that is common to "
    "all.",
    since="0.2.0",
    sound=plan(
        "van-inverter",
        less=("fuses.bank-fuse", "batteries.house", "wires.bank-run", "wires.inverter-run"),
        more=MORE,
    ),
    faulty=Edit("port-fuse: {rating: 100 A", "port-fuse: {rating: 60 A"),
)
def pack_cut_off_overloads(study: Study) -> Iterator[Observation]:
    packs = _packs(study)
    for device in study.wiring.devices.values():
        if device.side != "battery" or not device.is_overcurrent:
            continue
        worst = _worst(device.passages, packs, study)
        if worst is None or not exceeds(worst.current, device.rating):
            continue
        if device.is_overloaded:
            continue  # too small for its share already, which is said elsewhere
        yield Observation(
            message=(
                f"if {_parted(worst, study)}, {device.kind} `{device.name}` ({device.rating}) "
                f"has to carry {worst.current}, and opens as well"
            ),
            on=(device,),
            values=(worst.current, device.rating),
            margin=margin_below(worst.current, device.rating),
            remedy=_larger_fuse(study, device, worst.current),
        )
    for wire in study.wiring.wires.values():
        worst = _worst(wire.conductors, packs, study)
        may = wire.carrying
        if worst is None or not isinstance(may, Carrying) or study.protection.is_cleared(wire):
            continue
        if wire.is_sized_by_current:
            continue  # nobody tells its size, and whoever laid it may have reckoned with that too
        if not may.bears(worst.current) and not wire.is_overloaded_for_sure:
            yield Observation(
                message=(
                    f"if {_parted(worst, study)}, `{wire.name}` ({wire.size.name}) has to carry "
                    f"{worst.current}; {may.value} is the most allowed"
                ),
                on=(wire,),
                values=(worst.current, may.value),
                margin=margin_below(worst.current, may.value),
                remedy=_larger_wire(wire, worst.current),
            )


def _worst(parts: Iterable[Part], packs: frozenset[str], study: Study) -> CutOff | None:
    """Most that flows in one of some parts when one of the packs has gone."""
    cut = (each for part in parts for each in study.wiring.network.when_cut_off(part))
    own = (each for each in cut if each.name in packs)
    return max(own, key=lambda each: each.current.number, default=None)


def _parted(cut: CutOff, study: Study) -> str:
    """What parts a pack: its management, or of lead, which has none, its fuse or switch."""
    leads = {bank.name for bank in study.battery.side.wholes if bank.is_lead}
    return f"`{cut.name}` is parted" if cut.name in leads else f"`{cut.name}` cuts off"


def _packs(study: Study) -> frozenset[str]:
    """Banks that are joined to others by more than relays by voltage, and ties that are most open.

    One that is not is a bank of its own: its consumers do not count on the others.
    """
    ties = study.wiring.ties
    return frozenset(
        name
        for joined in study.battery.joined
        if joined.switch is None or joined.switch.closes_above is None
        if not any(switch in ties for switch in joined.switches)
        for name in (joined.first.name, joined.second.name)
    )


def _larger_fuse(study: Study, device: DeviceStudy, current: Value) -> Remedy:
    """The rating that would bear it."""
    try:
        rating = study.codes.battery.next_rating(current.number)
    except NotTabulated:
        return Remedy("use more packs, or draw less")
    words = (
        f"use {rating:g} A for `{device.name}`, with a lead that it protects; or more packs, or "
    )
    return Remedy(f"{words}draw less", ((Change(device.name, "rating", f"{rating:g} A"),),))


def _larger_wire(wire: WireStudy, current: Value) -> Remedy:
    """The smallest size that would bear it."""
    for proposed in wire.larger_sizes():
        may = proposed.carrying
        if isinstance(may, Carrying) and may.bears(current):
            words = f"use {proposed.size.name} for `{wire.name}`; or more packs, or draw less"
            return Remedy(words, ((proposed.as_change,),))
    return Remedy("use more packs, or draw less")
