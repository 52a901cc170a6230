"""Fuses of the packs of a bank, by what the other packs drive into one that shorts inside."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, danger, practice, rule
from wattproof.study import Study
from wattproof.study.battery.side import in_the_cold
from wattproof.study.limits import breaks, exceeds, margin_below
from wattproof.study.protection.pack_fuses import PackFuse
from wattproof.study.site.climate import from_table
from wattproof.working import Value
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11",
        "July 2025",
        "the device at each battery breaks what the others drive into it",
        verified=False,
    ),
    "common practice": practice(
        "the fuse of a pack breaks what all other packs drive, and carries the pack's share"
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
fuses:
  pack-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
          arrangement: 3p, each_pack: {fuse: pack-fuse, distance: 5 cm}}
"""


@rule(
    id="pack-fuse-unfit",
    summary="Breaking capacity, rating and place of the fuse that each pack has.",
    covers=("Fuses of packs that cannot break a shorted one",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="When one pack of a bank shorts inside, all the others pour into it, through its "
    "fuse and backwards. That fuse has to break their whole current, thousands of "
    "amperes with no wire worth mentioning between. One that cannot goes on burning "
    "as an arc, at the posts of the battery. Rated under the pack's share it opens in "
    "use instead, and the next one follows.",
    caution=danger("A fuse that bursts on a lithium pack leaves an arc that nothing puts out."),
    since="0.2.0",
    sound=plan("van-two-modules", more=MORE),
    faulty=Edit(
        "pack-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA",
        "pack-fuse: {rating: 100 A, voltage: 32 V, style: bolt-down, interrupt: 2 kA",
    ),
)
def pack_fuse_unfit(study: Study) -> Iterator[Observation]:
    for each in study.protection.pack_fuses:
        name, bank = each.device.name, each.bank
        if exceeds(each.driven, each.breaks):
            yield Observation(
                message=(
                    f"if one pack of `{bank.name}` shorts inside, the others drive "
                    f"{each.driven} into it through `{name}`, which {breaks(each.breaks)}"
                ),
                on=(each.device, bank),
                values=(each.driven, each.breaks),
                margin=margin_below(each.driven, each.breaks),
                remedy=f"use a class T fuse of {each.rating}, or another that breaks "
                f"{each.driven} at {bank.nominal}",
            )
        yield from _of_the_wrong_kind(each)
        if each.distance is not None:
            yield from _too_far(each, each.distance, study)
        yield from _under_its_share(each, study)


def _under_its_share(each: PackFuse, study: Study) -> Iterator[Observation]:
    """Fuses that open in use, one after the other: on what is drawn, or on what charges."""
    bank = each.bank
    drawn = [(g.current, "drawn from") for g in study.wiring.drawn if g.banks == (bank,)]
    charged = [(c.current, "charged into") for c in study.charging.of_banks if c.bank == bank]
    current, doing = max(drawn + charged, key=lambda pair: pair[0].number, default=(None, ""))
    if current is None or not exceeds(current, each.together):
        return
    yield Observation(
        message=f"{current} is {doing} `{bank.name}`, and the fuses of its packs carry "
        f"{each.together} together",
        on=(each.device, bank),
        values=(current, each.together),
        margin=margin_below(current, each.together),
        remedy="use larger fuses where packs and wires stand them, or less current",
        level="warning",
    )


def _too_far(each: PackFuse, distance: Value, study: Study) -> Iterator[Observation]:
    """More bare wire between a post and its fuse than a body of rules allows."""
    limit = study.codes.battery.source_distance("open")
    if limit is None:
        return
    most = from_table(limit, "dmax")
    if not exceeds(distance, most):
        return
    name = each.device.name
    yield Observation(
        message=f"`{name}` is {distance} from the post of each pack of `{each.bank.name}`; "
        f"{most} is the most allowed: a pack burns what comes before it",
        on=(each.device, each.bank),
        values=(distance, most),
        margin=margin_below(distance, most),
        remedy=Remedy(
            f"bolt `{name}` to the post of each pack",
            ((Change(each.bank.name, "each_pack.distance", "0 cm"),),),
        ),
        cause="distance",
    )


def _of_the_wrong_kind(each: PackFuse) -> Iterator[Observation]:
    """One that direct current of the bank's voltage burns on in, or that does not exist."""
    name, bank, charged = each.device.name, each.bank, each.reaches
    right = f"use a class T fuse of {each.rating}, or another for at least {charged} DC"
    low, largest = each.too_low, each.largest
    if each.only_for_ac or low is not None:
        why = "is for alternating current only" if low is None else f"is rated {low} DC"
        yield Observation(
            message=f"`{name}`, the fuse of each pack of `{bank.name}`, {why}; charging brings it "
            f"to {charged}{in_the_cold(charged)}",
            on=(each.device, bank),
            values=(charged,) if low is None else (charged, low),
            remedy=right,
            cause="voltage",
        )
    elif each.made_for_ac:
        yield Observation(
            message=f"`{name}`, the fuse of each pack of `{bank.name}`, is a {each.made_for_ac}, "
            "which is made for alternating current; nothing says that it breaks direct current",
            on=(each.device, bank),
            values=(each.rating,),
            remedy=f"write `dc: true` if its label says so; else {right}",
            level="warning",
            cause="voltage",
        )
    if largest is not None:
        yield Observation(
            message=f"`{name}` of the packs of `{bank.name}` is told as {each.rating}; its style "
            f"is made up to {largest}",
            on=(each.device, bank),
            values=(each.rating, largest),
            margin=margin_below(each.rating, largest),
            remedy="read style and rating from its body; a larger rating needs a larger style",
            level="warning",
            cause="style",
        )
