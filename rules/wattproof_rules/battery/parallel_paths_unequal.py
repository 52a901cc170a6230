"""How packs in parallel share in the current, by the resistance of their leads."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below, spread
from wattproof.study.wiring.sharing import Sharing
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "packs in parallel have leads of one length and size to a common bar, or the load is taken "
        "off at opposite ends, so that none gives over a fifth more than another"
    ),
}

MORE = """\
datasheets:
  cables:
    bank-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
fuses:
  left-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  middle-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  right-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  left: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
         max_charge_current: 50 A, max_charge_voltage: 14.6 V,
         low_temperature_cutoff: true, internal_resistance: 3 mΩ}
  middle: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
           max_charge_current: 50 A, max_charge_voltage: 14.6 V,
           low_temperature_cutoff: true, internal_resistance: 3 mΩ}
  right: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true, internal_resistance: 3 mΩ}
wires:
  left-run: {from: left, to: bar, cable: bank-1, length: 60 cm, place: cabin,
            inline: [{left-fuse: {from_end: from, distance: 5 cm}}]}
  middle-run: {from: middle, to: bar, cable: bank-1, length: 60 cm, place: cabin,
              inline: [{middle-fuse: {from_end: from, distance: 5 cm}}]}
  right-run: {from: right, to: bar, cable: bank-1, length: 60 cm, place: cabin,
             inline: [{right-fuse: {from_end: from, distance: 5 cm}}]}
"""


@record
class Limits:
    """What a project may set."""

    apart: float = option(0.20, "Share by which the least may stay under the most.")
    on_one: float = option(
        0.05, "The same for what is wired to the posts of one battery, from which a note tells it."
    )


@rule(
    id="parallel-paths-unequal",
    summary="Share of each of the batteries in parallel in the current.",
    covers=("Packs in parallel that share unequally",),
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Batteries in parallel share the current by the resistance of their ways, and a "
    "battery has so little of its own that half a metre of cable counts. Where one is wired on "
    "behind the other and all is taken from the first, that one gives most, every day. It ages "
    "first, or its management opens first and the others get all of the load.",
    caution=notice("The battery with the shortest way wears out first and takes others with it."),
    fine="Where a clamp meter showed that the packs share well within what their maker allows, at "
    "the largest load.",
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
        "right-run: {from: right, to: bar, cable: bank-1, length: 60 cm",
        "right-run: {from: right, to: bar, cable: bank-1, length: 3 m",
    ),
    options=Limits,
)
def parallel_paths_unequal(study: Study, limits: Limits) -> Iterator[Observation]:
    for sharing in study.wiring.sharing:
        apart = spread(list(sharing.shares), "difference between the shares")
        on_one = sharing.posts_of is not None and exceeds(apart, limits.on_one)
        if not exceeds(apart, limits.apart) and not on_one:
            continue
        most = f"{limits.apart * 100:g} % is usual"
        if sharing.posts_of is not None:
            most = f"both poles are on the posts of `{sharing.posts_of.name}`"
        yield Observation(
            message=f"the batteries share the current at `{sharing.at.name}` unequally: "
            f"{_listed(sharing)}; the least is {apart} below the most, and {most}",
            on=sharing.banks,
            values=(apart, *sharing.shares),
            margin=margin_below(apart, limits.apart),
            level="note" if len(sharing.banks) == 2 else None,
            remedy="lead each battery to a common bar by cables of one length and size, in both "
            "poles; or take positive and negative off at opposite ends of the row",
        )


def _listed(sharing: Sharing) -> str:
    pairs = zip(sharing.banks, sharing.shares, strict=True)
    return ", ".join(f"`{bank.name}` gives {share}" for bank, share in pairs)
